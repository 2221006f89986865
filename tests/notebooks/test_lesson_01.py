"""Lesson 01: what its prose says is what its cells show, part by part."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse.tables import read_table
from brakecourse.views.plan import plan
from brakecourse.views.words import MAKER_FIRST

LESSON = Path(__file__).resolve().parents[2] / "course" / "lessons" / "01_job_order.ipynb"
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
        for number in re.findall(r"\*\*(\d+ kg \(\d+ lb\))\*\*", text):
            assert number in everything, f"{name}: {number}"
            checked += 1
    assert checked == 4


@pytest.mark.parametrize(
    ("cell", "words"),
    [
        ("why", r"counts (\d+) steps"),
        ("rules-in-words", r"has (\d+) steps"),
        ("part-5", r"keeps (\d+) steps"),
    ],
)
def test_the_count_of_steps_is_the_trades(cell: str, words: str) -> None:
    (many,) = re.findall(words, PROSE[cell])
    assert f"Steps of the whole job: {many}" in SHOWN["count-rules"]


def test_the_count_of_rules_is_the_trades() -> None:
    (rules,) = re.findall(r"and (\d+) rules", PROSE["rules-in-words"])
    (safety,) = re.findall(r"rules, (\d+) guard", PROSE["rules-in-words"])
    assert (
        f"Rules of what comes first: {rules}\nRules whose breach can hurt someone: {safety}"
        in SHOWN["count-rules"]
    )


def test_the_worked_formula_gives_its_own_result() -> None:
    (mass, base, back, again, result) = re.findall(
        r"front axle: (\d+) × \((\d+) − (\d+)\) ÷ (\d+) = \*\*(\d+) kg", PROSE["part-2-worked"]
    )[0]
    assert base == again
    assert round(int(mass) * (int(base) - int(back)) / int(base)) == int(result)
    for number in (mass, base, back):
        assert re.search(rf"\b{number} (kg|mm)", SHOWN["show-vehicle"])
    halves = re.findall(r"one stand: (\d+) ÷ 2 = \*\*(\d+) kg", PROSE["part-2-worked"])
    ratings = re.findall(r"rating: ([\d.]+) × (\d+) = \*\*(\d+) kg", PROSE["part-2-worked"])
    assert all(int(whole) / 2 == int(half) for whole, half in halves) and halves
    assert all(round(float(margin) * int(load)) == int(need) for margin, load, need in ratings) and ratings


def test_the_minutes_add_up() -> None:
    (total,) = re.findall(r"about (\d+) minutes", PROSE["title"])
    minutes = [
        int(found) for text in PROSE.values() for found in re.findall(r"^\*(\d+) minutes\*$", text, re.M)
    ]
    assert sum(minutes) == int(total) and 30 <= int(total) <= 45
    first = [int(re.findall(r"\*(\d+) minutes\*", PROSE[f"part-{n}"])[0]) for n in (1, 2, 3)]
    assert f"Parts 1 to 3 take {sum(first)} minutes" in PROSE["title"]


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


def test_the_safety_box_names_each_hazard_of_the_job_and_ends_with_the_maker() -> None:
    box = PROSE["safety"]
    for hazard in (
        "Raised vehicle",
        "Dust",
        "Brake fluid",
        "Cleaners",
        "Hot parts",
        "Springs and pinch points",
        "First movement",
    ):
        assert f"**{hazard}.**" in box, hazard
    assert box.endswith(MAKER_FIRST)


def test_the_common_slips_are_shown_with_their_reasons() -> None:
    for cell, reason in (
        ("show-nuts-slip", "A hard pull can bring a raised vehicle down."),
        ("show-dust-slip", "Dust that is wet does not fly when parts are moved."),
        ("show-bleeder-slip", "A shut bleeder sends old fluid and dirt into the ABS unit."),
        ("show-pedal-slip", "Until the pedal is firm there is no brake."),
    ):
        assert reason in SHOWN[cell]
    assert "Never brush it dry" in PROSE["safety"]


def test_the_published_checks_name_a_source_and_how_it_is_known() -> None:
    checks = {name: text for name, text in SHOWN.items() if text.startswith("What: ")}
    assert set(checks) == {"check-wet-first", "check-jack", "check-dust-week"}
    assert all("Source: " in text and "How it is known: read" in text for text in checks.values())
    for yes in ("check-wet-first", "check-jack"):
        assert "Published: yes\n" in checks[yes] and "1 = yes" not in checks[yes]
    assert (
        "29 CFR 1910.1001 App F" in checks["check-dust-week"]
        and "it stays below" in checks["check-dust-week"]
    )
