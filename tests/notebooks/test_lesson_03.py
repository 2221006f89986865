"""Lesson 03: its parts, its minutes, and the numbers of its prose, which the cells must show."""

from __future__ import annotations

import csv
import re
from pathlib import Path
from typing import Any

import nbformat
from brakecourse.tables import table_path
from brakecourse.views.plan import plan
from brakecourse.views.words import MAKER_FIRST

LESSON = Path(__file__).resolve().parents[2] / "course" / "lessons" / "03_brake_fluid.ipynb"
CELLS: list[Any] = nbformat.read(LESSON, as_version=4).cells
PROSE = {
    cell.id: cell.source.replace("\N{NO-BREAK SPACE}", " ") for cell in CELLS if cell.cell_type == "markdown"
}
NAMES = [cell.id for cell in CELLS]
SIGNS = str.maketrans({"÷": "/", "×": "*", "−": "-"})
LIVE = "(Run this cell to use it.)"


def shown() -> dict[str, str]:
    """Return the words that each cell's stored output shows."""
    told: dict[str, str] = {}
    for cell in CELLS:
        if cell.cell_type == "code":
            texts = [one.get("text") or one.data["text/plain"] for one in cell.outputs]
            told[cell.id] = "\n".join(texts).replace("\N{NO-BREAK SPACE}", " ")
    return told


SHOWN = shown()


def test_the_numbers_in_the_prose_are_those_that_the_cells_show() -> None:
    text, checked = "\n".join(words for words in SHOWN.values() if LIVE not in words), 0
    for name, source in PROSE.items():
        if name in {"safety", "title"}:
            continue
        for number in re.findall(r"\*\*(−?\d[\d.]*(?: [^*]+)?)\*\*", source):
            assert re.search(rf"(?<![\d.]){re.escape(number)}(?!\.?\d)", text), f"{name}: {number}"
            checked += 1
    assert checked >= 22


def test_a_worked_number_stands_in_both_units() -> None:
    for name, source in PROSE.items():
        if name.endswith("-worked"):
            for number in re.findall(r"\*\*(−?[\d.]+ [^*]+)\*\*", source):
                assert number.endswith(("%", ")")), f"{name}: {number}"


def test_the_sums_in_the_worked_examples_come_out() -> None:
    """Each sum is worked out again, by plain arithmetic, from the numbers that stand in it."""
    checked = 0
    for name, source in PROSE.items():
        for sides, value in re.findall(r"> ([\d.÷×+−() ]+) = \*\*(−?[\d.]+)", source):
            found = eval(sides.translate(SIGNS), {"__builtins__": {}})  # digits and signs only
            places = len(value.partition(".")[2])
            off = abs(found - float(value.translate(SIGNS)))
            assert off <= 0.52 * 10**-places, f"{name}: {sides} = {value}, not {found}"
            checked += 1
    assert checked >= 10


def test_the_minutes_add_up() -> None:
    minutes = [
        int(found) for source in PROSE.values() for found in re.findall(r"^\*(\d+) minutes?\*", source, re.M)
    ]
    (told,) = re.findall(r"\*\*Time:\*\* about (\d+) minutes", PROSE["title"])
    assert sum(minutes) == int(told) and 30 <= int(told) <= 45


def test_the_parts_are_those_that_the_feedback_sends_a_learner_to() -> None:
    with table_path("course/lesson_parts.csv").open(encoding="utf-8", newline="") as handle:
        rows = [row for row in csv.DictReader(handle) if row["module"] == LESSON.stem]
    headings = re.findall(r"^## (Part \d: .+)$", "\n".join(PROSE.values()), re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in rows]


def test_each_part_goes_from_reason_to_worked_example_to_practice() -> None:
    order = ["outcomes", "safety", "why", "show-truck", "part-1", "part-7", "published-check", "recap"]
    assert [name for name in NAMES if name in order] == order
    activities = [(one.activity, one.part) for one in plan() if one.lesson == LESSON.stem]
    for part in range(1, 8):
        begin, worked = NAMES.index(f"part-{part}"), NAMES.index(f"part-{part}-worked")
        end = NAMES.index(f"part-{part + 1}") if part < 7 else NAMES.index("published-check")
        practice = [NAMES.index(activity) for activity, place in activities if place == f"Part {part}"]
        assert "**The shop's reason.**" in PROSE[f"part-{part}"]
        assert practice and all(begin < worked < one < end for one in practice), part


def test_the_progress_page_knows_the_activities() -> None:
    live = [cell.id for cell in CELLS if LIVE in SHOWN.get(cell.id, "")]
    assert live == [one.activity for one in plan() if one.lesson == LESSON.stem]


def test_the_safety_box_fits_the_lesson_and_ends_with_the_maker() -> None:
    box = PROSE["safety"]
    hazards = ("Brake fluid", "Hot parts", "Fire", "Wrong fluid", "Old fluid", "ABS unit", "First movement")
    for hazard in hazards:
        assert f"**{hazard}.**" in box
    assert box.rstrip().endswith(MAKER_FIRST)


def test_the_published_checks_name_a_source_and_how_it_is_known() -> None:
    checks = {name: text for name, text in SHOWN.items() if name.startswith("check-")}
    assert set(checks) == {"check-dry", "check-wet", "check-51-dry", "check-51-wet", "check-curve"}
    assert all("Source: " in text and "How it is known: " in text for text in checks.values())


def test_the_recap_has_a_line_for_each_outcome() -> None:
    outcomes, recap = (len(re.findall(r"^- ", PROSE[name], re.M)) for name in ("outcomes", "recap"))
    assert recap >= outcomes == 7
