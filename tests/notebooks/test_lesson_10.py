"""Lesson 10: what its prose says is what its cells show, part by part."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse.tables import read_table
from brakecourse.views import mating_worked
from brakecourse.views.plan import plan
from brakecourse.views.words import MAKER_FIRST, mm

LESSON = Path(__file__).resolve().parents[2] / "course" / "lessons" / "10_hub_and_rotor_fit.ipynb"
NOTEBOOK: Any = nbformat.read(LESSON, as_version=4)
PROSE = {cell.id: cell.source for cell in NOTEBOOK.cells if cell.cell_type == "markdown"}
NAMES = [cell.id for cell in NOTEBOOK.cells]
PARTS = [row for row in read_table("course/lesson_parts.csv") if row["module"] == LESSON.stem]
ESTATE = mating_worked.estate()


def shown() -> dict[str, str]:
    """Return the words that each code cell's stored output shows, with plain spaces."""
    texts = {}
    for cell in NOTEBOOK.cells:
        outputs = cell.get("outputs", [])
        words = (output.get("text", "") or output.get("data", {}).get("text/plain", "") for output in outputs)
        texts[cell.id] = "\n".join(words).replace("\xa0", " ")
    return texts


SHOWN = shown()


def test_the_numbers_in_the_prose_are_those_that_the_cells_show() -> None:
    everything, checked = "\n".join(SHOWN.values()), 0
    for name, text in PROSE.items():
        for number in re.findall(r"[\d.]+ mm \([\d.]+ in\)", text):
            assert number in everything, f"{name}: {number}"
            checked += 1
    assert checked >= 12


def test_every_number_of_the_prose_in_millimetres_is_the_estates() -> None:
    fit = ESTATE
    known = {fit.total_mm, fit.cleaned().total_mm, fit.limit_mm, fit.own.debris_mm, fit.radius_mm}
    known |= {fit.seat_mm, fit.best[1], fit.flake_run_out_mm}
    known |= {fit.hub.total_mm, fit.own.flange_run_out_mm, fit.limit_mm * fit.seat_mm / fit.radius_mm}
    told = {f"{value:.{places}f}" for value in known for places in (0, 2, 3)} | {"80"}
    for name, text in PROSE.items():
        for number in re.findall(r"(?<![\d.])([\d.]+) mm\b", text):
            assert number in told, f"{name}: {number}"


def test_the_worked_sums_give_their_own_results() -> None:
    sums = [
        one
        for text in PROSE.values()
        for one in re.findall(r"([\d.]+) × (\d+) ÷ (\d+) = \*\*([\d.]+) mm", text)
    ]
    assert len(sums) == 3
    for first, times, over, result in sums:
        places = len(result.partition(".")[2])
        assert f"{float(first) * float(times) / float(over):.{places}f}" == result


def test_the_worked_arrows_give_their_own_result() -> None:
    text = PROSE["part-4-worked"]
    a, b, again_a, again_b, apart, result = re.findall(
        r"√\(([\d.]+)² \+ ([\d.]+)² \+ 2 × ([\d.]+) × ([\d.]+) × cos (\d+)°\) = \*\*([\d.]+) mm", text
    )[0]
    assert (a, b) == (again_a, again_b)
    total = math.sqrt(
        float(a) ** 2 + float(b) ** 2 + 2 * float(a) * float(b) * math.cos(math.radians(float(apart)))
    )
    assert f"{total:.2f}" == result and f"{result} mm" in mm(ESTATE.best[1])
    begin, more, step, end = map(int, re.findall(r"from (\d+)° to \d+ \+ (\d+) × (\d+) = (\d+)°", text)[0])
    assert begin == ESTATE.rotor.high_deg and more == ESTATE.best[0] and step == 360 / ESTATE.studs
    assert begin + more * step == end
    assert abs((end - ESTATE.hub.high_deg + 180) % 360 - 180) == float(apart)
    assert f"at {end % 360}°" in SHOWN["show-turned"] and f"stays at {ESTATE.hub.high_deg:.0f}°" in text


def test_the_lean_of_the_published_check_is_computed() -> None:
    (lean,) = re.findall(r"leaned by ([\d.]+)°", PROSE["published-check"])
    assert f"Lean of the estate's rotor: {lean}°" in SHOWN["check-small-angle"]


def test_the_published_checks_name_a_source_and_how_it_is_known() -> None:
    for name, outcome in (("check-small-angle", "they agree"), ("check-fitted", "it stays below")):
        text = SHOWN[name]
        assert outcome in text and "Source: " in text
        assert "How it is known: read in the source, or in a copy of it" in text


def test_the_minutes_of_the_parts_add_up() -> None:
    minutes = [int(one) for text in PROSE.values() for one in re.findall(r"^\*(\d+) minutes\*$", text, re.M)]
    (told,) = re.findall(r"about (\d+) minutes", PROSE["title"])
    first, rest = map(int, re.findall(r"take (\d+)(?: minutes|\b more)", PROSE["title"]))
    assert sum(minutes) == int(told) == first + rest
    assert sum(minutes[:3]) == first and 30 <= int(told) <= 45


def test_the_headings_are_those_that_the_feedback_sends_a_learner_to() -> None:
    headings = re.findall(r"^## (Part \d: .+)$", "\n".join(PROSE.values()), re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in PARTS]


@pytest.mark.parametrize("number", range(1, 6))
def test_each_part_goes_from_its_reason_to_an_example_to_practice(number: int) -> None:
    assert "**The shop's reason.**" in PROSE[f"part-{number}"]
    begin, worked = NAMES.index(f"part-{number}"), NAMES.index(f"part-{number}-worked")
    end = NAMES.index(f"part-{number + 1}") if number < 5 else NAMES.index("published-check")
    planned = [one.activity for one in plan() if (one.lesson, one.part) == (LESSON.stem, f"Part {number}")]
    places = [NAMES.index(activity) for activity in planned]
    assert planned and all(begin < worked < place < end for place in places)


def test_the_safety_box_names_each_hazard_of_its_step_and_ends_with_the_maker() -> None:
    box = PROSE["safety"]
    for hazard in (
        "Eyes",
        "Dust",
        "Raised vehicle",
        "heavy",
        "Hot parts",
        "Pinch points",
        "caliper",
        "Cleaners",
    ):
        assert hazard in box, hazard
    assert "Never blow it off with air" in box and "rated stands" in box and "chlorinated" in box
    assert box.rstrip().endswith(MAKER_FIRST)


def test_the_friction_face_is_spared_in_the_text_and_in_the_recap() -> None:
    assert "Never strike the friction face" in re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", PROSE["part-1"])
    assert "Never strike the friction face" in PROSE["recap"]


def test_the_recap_mirrors_the_outcomes() -> None:
    outcomes = re.findall(r"^- ", PROSE["outcomes"], re.M)
    recap = re.findall(r"^- ", PROSE["recap"], re.M)
    assert len(outcomes) == len(PARTS) and len(recap) >= len(outcomes)
    for word in ("Clean", "flake", "Outwards", "arrows", "index"):
        assert word in PROSE["recap"]
