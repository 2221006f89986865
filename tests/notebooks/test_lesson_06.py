"""Lesson 06: what its prose says is what its cells show, part by part."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import nbformat
from brakecourse.tables import read_table
from brakecourse.views.plan import plan
from brakecourse.views.words import MAKER_FIRST

LESSON = Path(__file__).resolve().parents[2] / "course" / "lessons" / "06_caliper_off.ipynb"
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
        for number in re.findall(r"(?:\*\*)?([\d.]+ (?:mm|mm²|mL) \([\d.]+ (?:in|in²|in³)\))", text):
            assert number in everything, f"{name}: {number}"
            checked += 1
    assert checked >= 9


def test_the_worked_formulas_give_their_own_results() -> None:
    text = PROSE["part-2-worked"]
    new, inner, _, outer, way = re.findall(
        r"\(([\d.]+) − ([\d.]+)\) \+ \(([\d.]+) − ([\d.]+)\) = \*\*([\d.]+) mm", text
    )[0]
    assert round(2 * float(new) - float(inner) - float(outer), 1) == float(way)
    bore, again, area = re.findall(r"π ÷ 4 × (\d+) × (\d+) = \*\*(\d+) mm²", text)[0]
    assert bore == again and round(math.pi / 4 * int(bore) ** 2) == int(area)
    fluid_area, fluid_way, fluid = re.findall(r"fluid: (\d+) × ([\d.]+) ÷ 1000 = \*\*([\d.]+) mL", text)[0]
    assert (fluid_area, fluid_way) == (area, way)
    assert round(int(area) * float(way) / 1000, 1) == float(fluid)
    rise_of, surface, rise = re.findall(r"([\d.]+) × 1000 ÷ (\d+) = \*\*([\d.]+) mm", text)[0]
    assert rise_of == fluid and round(float(fluid) * 1000 / int(surface), 1) == float(rise)
    air_area, gap, air = re.findall(
        r"air: (\d+) × ([\d.]+) ÷ 1000 = \*\*([\d.]+) mL", PROSE["part-3-worked"]
    )[0]
    assert air_area == area and round(int(air_area) * float(gap) / 1000, 2) == float(air)


def test_the_minutes_add_up() -> None:
    (total,) = re.findall(r"about (\d+) minutes", PROSE["title"])
    minutes = [
        int(found) for text in PROSE.values() for found in re.findall(r"^\*(\d+) minutes\*$", text, re.M)
    ]
    assert sum(minutes) == int(total) and 30 <= int(total) <= 45


def test_the_parts_are_those_that_the_feedback_sends_a_learner_to() -> None:
    headings = re.findall(r"^## (Part \d: .+)$", "\n".join(PROSE.values()), re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in PARTS]


def test_each_part_goes_from_example_to_practice_and_the_plan_knows_it() -> None:
    practice = {one.activity: one.part for one in plan() if one.lesson == LESSON.stem}
    drawn = [name for name, words in SHOWN.items() if LIVE in words]
    assert drawn == list(practice)
    for name, part in practice.items():
        number = part.removeprefix("Part ")
        begin, worked = NAMES.index(f"part-{number}"), NAMES.index(f"part-{number}-worked")
        assert begin < worked < NAMES.index(name) and "reason" in PROSE[f"part-{number}"]


def test_the_safety_box_names_each_hazard_of_the_step_and_ends_with_the_maker() -> None:
    box = PROSE["safety"]
    for hazard in (
        "Raised vehicle",
        "Dust",
        "Brake fluid",
        "Pinch points",
        "Springs",
        "Hot parts",
        "The caliper",
        "Parking brake",
        "First movement",
    ):
        assert f"**{hazard}" in box, hazard
    assert box.endswith(MAKER_FIRST)


def test_the_three_mistakes_are_shown_with_their_reasons() -> None:
    assert "through the ABS unit into the reservoir" in SHOWN["part-1-shut"]
    assert "too late" in SHOWN["part-3-late"] and "still open" in SHOWN["part-3-picture"]
    assert "A hose that carries the caliper is damaged inside" in SHOWN["part-4-hose-slip"]
    assert "Nothing but the hose carries it" in SHOWN["part-6-hose"]


def test_the_published_check_names_its_source_and_how_it_is_known() -> None:
    checks = {name: text for name, text in SHOWN.items() if text.startswith("What: ")}
    assert set(checks) == {"check-volume"}
    text = checks["check-volume"]
    assert "351.858" in text and "they agree" in text and "How it is known: read" in text
    assert "worked example" in text


def test_the_recap_mirrors_the_outcomes() -> None:
    told = re.findall(r"^- ", PROSE["outcomes"], re.M), re.findall(r"^- ", PROSE["recap"], re.M)
    assert len(told[0]) == len(told[1]) == 6
