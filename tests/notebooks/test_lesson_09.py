"""Lesson 09: what its prose says is what its cells show, part by part."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import nbformat
from brakecourse.tables import read_table
from brakecourse.views.plan import plan
from brakecourse.views.words import MAKER_FIRST

LESSON = Path(__file__).resolve().parents[2] / "course" / "lessons" / "09_bracket_and_pins.ipynb"
NOTEBOOK: Any = nbformat.read(LESSON, as_version=4)
PROSE = {cell.id: cell.source for cell in NOTEBOOK.cells if cell.cell_type == "markdown"}
NAMES = [cell.id for cell in NOTEBOOK.cells]
LIVE = "(Run this cell to use it.)"
PARTS = [row for row in read_table("course/lesson_parts.csv") if row["module"] == LESSON.stem]


def shown() -> dict[str, str]:
    """Return the words that each code cell's stored output shows, with plain spaces."""
    texts = {}
    for cell in NOTEBOOK.cells:
        outputs = cell.get("outputs", [])
        words = (output.get("text", "") or output.get("data", {}).get("text/plain", "") for output in outputs)
        texts[cell.id] = "\n".join(words).replace("\xa0", " ")
    return texts


SHOWN = shown()


def test_the_numbers_in_the_worked_prose_are_those_that_the_cells_show() -> None:
    everything, checked = "\n".join(SHOWN.values()), 0
    for name, text in PROSE.items():
        for number in re.findall(r"\*\*([\d.]+(?: (?:mm|mL|N) \([\d.]+ (?:in³|in|lbf)\))?)\*\*", text):
            assert number in everything, f"{name}: {number}"
            checked += 1
    assert checked == 12


def test_plain_numbers_of_the_worked_prose_are_shown_too() -> None:
    everything = "\n".join(SHOWN.values())
    text = " ".join(PROSE[name] for name in PROSE if name.endswith("-worked"))
    for number in re.findall(r"[\d.]+ (?:mm|mL|N|MPa) \([\d.]+ (?:in³|in|lbf|psi)\)", text):
        assert number in everything, number
    assert (
        f"is {re.findall(r'Inner over outer . ([0-9.]+)', SHOWN['worn-off'])[0]}." in PROSE["part-1-worked"]
    )


def test_the_worked_sums_give_their_own_results() -> None:
    sums = " ".join(PROSE.values())
    for first, second, result in re.findall(r"([\d.]+) − ([\d.]+) = \**([\d.]+)", sums):
        assert abs(float(first) - float(second) - float(result)) < 0.0051, (first, second, result)
    for first, second, result in re.findall(r"([\d.]+) ÷ ([\d.]+) = \**([\d.]+)", sums):
        places = len(result.partition(".")[2])
        assert abs(float(first) / float(second) - float(result)) <= 0.51 * 10**-places, (
            first,
            second,
            result,
        )
    for diameter, area in re.findall(r"π ÷ 4 × ([\d.]+)² = ([\d.]+) mm²", sums):
        assert round(math.pi / 4 * float(diameter) ** 2, 1) == float(area)
        assert f"{area} mm²" in SHOWN["show-sizes"]
    assert round(83.32 * 56 - 78.54 * 47) == 975 and "83.32 × 56 − 78.54 × 47 = 975" in sums
    assert 25**2 - 24**2 == 7**2


def test_the_minutes_add_up() -> None:
    (total,) = re.findall(r"about (\d+) minutes", PROSE["title"])
    minutes = [
        int(found) for text in PROSE.values() for found in re.findall(r"^\*(\d+) minutes\*$", text, re.M)
    ]
    assert sum(minutes) == int(total) and 30 <= int(total) <= 45
    first = [int(re.findall(r"\*(\d+) minutes\*", PROSE[f"part-{n}"])[0]) for n in (1, 2)]
    assert f"Parts 1 and 2 take {sum(first)} minutes" in PROSE["title"]
    assert f"take {int(total) - sum(first)} more" in PROSE["title"]


def test_the_parts_are_those_that_the_feedback_sends_a_learner_to() -> None:
    headings = re.findall(r"^## (Part \d: .+)$", "\n".join(PROSE.values()), re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in PARTS]


def test_each_part_goes_from_example_to_practice_and_the_plan_knows_it() -> None:
    practice = {one.activity: one.part for one in plan() if one.lesson == LESSON.stem}
    drawn = [name for name, words in SHOWN.items() if LIVE in words]
    assert drawn == list(practice)
    for name, part in practice.items():
        number = part.removeprefix("Part ")
        begin, example = NAMES.index(f"part-{number}"), NAMES.index(f"part-{number}-worked")
        assert begin < example < NAMES.index(name) and "reason" in PROSE[f"part-{number}"]


def test_the_safety_box_names_each_hazard_of_the_step_and_ends_with_the_maker() -> None:
    box = PROSE["safety"]
    for hazard in (
        "Raised vehicle",
        "Dust",
        "Eyes",
        "Sharp edges and pinch points",
        "Hot parts",
        "The caliper",
        "Cleaners",
        "Grease",
        "First movement",
    ):
        assert f"**{hazard}.**" in box, hazard
    assert box.endswith(MAKER_FIRST)


def test_the_rules_that_are_quoted_are_the_trades() -> None:
    assert "Rust under a clip lifts it, and the pad binds." in SHOWN["show-rules"]
    assert "Fresh grease over rust and old grease does not free a pin." in SHOWN["show-rules"]


def test_the_published_check_names_a_source_and_how_it_is_known() -> None:
    checks = {name: text for name, text in SHOWN.items() if text.startswith("What: ")}
    assert set(checks) == {"check-volume"}
    assert all("Source: " in text and "How it is known: read" in text for text in checks.values())
    assert "230.90706" in checks["check-volume"] and "they agree" in checks["check-volume"]
