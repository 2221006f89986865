"""Lesson 11: what its prose says is what its cells show, part by part."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import nbformat
from brakecourse.published import convert
from brakecourse.tables import read_table
from brakecourse.views.plan import plan

LESSON = Path(__file__).resolve().parents[2] / "course" / "lessons" / "11_reassembly_and_torque.ipynb"
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


def test_the_numbers_in_the_prose_are_those_that_the_cells_show() -> None:
    everything, checked = "\n".join(SHOWN.values()), 0
    for name, text in PROSE.items():
        for number in re.findall(r"\*\*(\d[\d.]* (?:N·m|lbf·ft|lbf·in|kN|%)[^*]*)\*\*", text):
            assert number in everything, f"{name}: {number}"
            checked += 1
    assert checked == 18


def test_numbers_in_plain_words_are_shown_too() -> None:
    clamp, shares, band = SHOWN["show-clamp"], SHOWN["show-shares"], SHOWN["show-tolerance"]
    assert "27.8 ÷ 53.4" in PROSE["part-5-worked"] and "Proof load 53.4 kN" in clamp
    others = [int(found) for found in re.findall(r"\| (\d+) % \| yes", shares)]
    assert f"{min(others)} % to {max(others)} %" in PROSE["part-6-worked"]
    assert "from 115.2 to 124.8 N·m" in PROSE["part-6-worked"] and "115.2 to 124.8 N·m" in band
    assert "guard band is 0.8 N·m" in PROSE["part-6-worked"] and "too close to call | 0.8 N·m" in band


def test_lengths_in_inches_are_those_of_the_millimetres() -> None:
    found = re.findall(r"([\d.]+) mm \(([\d.]+) in\)", "\n".join(PROSE.values()))
    assert len(found) >= 6
    for millimetres, inches in found:
        places = len(inches.partition(".")[2])
        assert f"{convert(float(millimetres), 'mm', 'in'):.{places}f}" == inches, millimetres


def test_the_minutes_add_up() -> None:
    (total, early) = map(int, re.findall(r"(\d+) minutes", PROSE["title"]))
    parts = {
        name: int(found[1])
        for name, text in PROSE.items()
        if (found := re.search(r"^\*(\d+) min", text, re.M))
    }
    assert sum(parts.values()) == total <= 45
    assert early == sum(minutes for name, minutes in parts.items() if name in ("part-1", "part-2", "part-3"))


def test_each_part_has_its_reason_its_example_and_its_practice_in_this_order() -> None:
    headings = re.findall(r"^## (Part \d: .+)$", "\n".join(PROSE.values()), re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in PARTS]
    for row in PARTS:
        begin = NAMES.index(f"part-{row['part']}")
        following = f"part-{int(row['part']) + 1}"
        end = NAMES.index(following if following in NAMES else "published-check")
        worked = NAMES.index(f"part-{row['part']}-worked")
        listed = [one for one in plan() if one.lesson == LESSON.stem and one.part == f"Part {row['part']}"]
        assert "**The shop's reason.**" in PROSE[f"part-{row['part']}"]
        assert listed and all(begin < worked < NAMES.index(one.activity) < end for one in listed)


def test_the_table_of_activities_lists_what_the_lesson_shows() -> None:
    live = {name for name, text in SHOWN.items() if LIVE in text}
    assert live == {one.activity for one in plan() if one.lesson == LESSON.stem}


def test_the_safety_box_names_the_hazards_of_this_step() -> None:
    for hazard in (
        "Raised vehicle",
        "Your hands",
        "A pipe",
        "Pinch points",
        "The wheel",
        "Dust",
        "First movement",
    ):
        assert f"**{hazard}" in PROSE["safety"], hazard


def test_the_published_checks_name_a_source() -> None:
    checks = [text for name, text in SHOWN.items() if name.startswith("check-") and text]
    assert len(checks) == 4
    assert all(
        "Source: " in text and "How it is known: read" in text and "they agree" in text for text in checks
    )


def test_the_recap_mirrors_the_outcomes() -> None:
    outcomes, recap = (PROSE[name].count("\n- ") for name in ("outcomes", "recap"))
    assert outcomes == recap == 6
