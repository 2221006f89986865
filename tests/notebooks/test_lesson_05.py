"""Lesson 05: what its prose says is what its cells show, part by part."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import nbformat
from brakecourse.tables import read_table
from brakecourse.views.plan import plan
from brakecourse.views.words import MAKER_FIRST

LESSON = Path(__file__).resolve().parents[2] / "course" / "lessons" / "05_leaks_and_pedal_feel.ipynb"
NOTEBOOK: Any = nbformat.read(LESSON, as_version=4)
PROSE = {cell.id: cell.source for cell in NOTEBOOK.cells if cell.cell_type == "markdown"}
NAMES = [cell.id for cell in NOTEBOOK.cells]
PARTS = [row for row in read_table("course/lesson_parts.csv") if row["module"] == LESSON.stem]
LIVE = "(Run this cell to use it.)"


def shown() -> dict[str, str]:
    """Return the words that each code cell's stored output shows, with plain spaces."""
    texts = {}
    for cell in NOTEBOOK.cells:
        outputs = cell.get("outputs", [])
        words = (output.get("text", "") or output.get("data", {}).get("text/plain", "") for output in outputs)
        texts[cell.id] = "\n".join(words).replace("\xa0", " ")
    return texts


SHOWN = shown()


def test_the_bold_numbers_in_the_prose_are_those_that_the_cells_show() -> None:
    everything, checked = "\n".join(SHOWN.values()), 0
    for name, text in PROSE.items():
        for number in re.findall(r"\*\*(\d[^*]*)\*\*", text):
            if not number.endswith("minutes") or name == "part-5-worked":
                assert number.replace("\xa0", " ") in everything, f"{name}: {number}"
                checked += 1
    assert checked == 13


def test_the_readings_in_the_prose_are_those_of_the_pictures() -> None:
    first, last = re.findall(r"from (\d+) mm to (\d+) mm", PROSE["part-1-worked"])[0]
    assert f"After 60 s the rule shows {last} mm" in SHOWN["part-1-held"]
    assert f"Sinking in a minute: {int(last) - int(first)} mm" in SHOWN["part-1-leak"]
    soft, sound = re.findall(
        r"shows (\d+) mm. Without air this brake shows (\d+) mm", PROSE["part-4-worked"]
    )[0]
    assert f"The rule shows {soft} mm" in SHOWN["part-4-soft"]
    assert f"Without air it would be {sound} mm" in SHOWN["part-4-soft"]
    assert f"Extra travel: {int(soft) - int(sound)} mm" in SHOWN["part-4-air"]


def test_the_sums_in_the_prose_add_up() -> None:
    text = PROSE["part-1-worked"]
    rod, area, leak = (float(one) for one in re.findall(r"= \**([\d.]+)", text)[1:])
    assert round(rod * area / 1000, 2) == leak and round(22 / 3.8, 2) == rod
    text = PROSE["part-4-worked"]
    assert round(21 / 3.8 * 445 / 1000, 2) == float(re.findall(r"1000 = ([\d.]+) mL", text)[0])
    share = float(re.findall(r"0\.101\) = ([\d.]+)", text)[0])
    assert round(5.1 / 5.201, 3) == share and round(2.46 / share, 2) == 2.51
    before, times, odds = map(int, re.findall(r"(\d+) × (\d+) = (\d+) to 98", PROSE["part-2-worked"])[0])
    assert before * times == odds and round(100 * odds / (odds + 98)) == 18
    assert f"{times} times as likely" in SHOWN["part-2-update"]
    assert f"Before any check | {before} in 100" in SHOWN["part-2-update"]
    for bits, minutes, worth in re.findall(r"> ([\d.]+) ÷ (\d+) = \*\*([\d.]+) bit", PROSE["part-3-worked"]):
        assert f"| {minutes} | {bits} bit | {worth} bit" in SHOWN["part-3-first"]
        assert round(float(bits) / int(minutes), 3) == float(worth)


def test_the_minutes_of_the_parts_add_up() -> None:
    (whole,) = re.findall(r"\*\*Time:\*\* about (\d+) minutes", PROSE["title"])
    parts = [int(one) for text in PROSE.values() for one in re.findall(r"^\*(\d+) minutes\*$", text, re.M)]
    assert len(parts) == len(PARTS) + 1 and sum(parts) == int(whole) <= 45


def test_the_headings_are_the_parts_that_the_feedback_sends_a_learner_to() -> None:
    headings = re.findall(r"^## (Part \d: .+)$", "\n".join(PROSE.values()), re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in PARTS]


def test_every_part_goes_from_the_reason_over_an_example_to_practice() -> None:
    rows = [(one.activity, one.part) for one in plan() if one.lesson == LESSON.stem]
    assert [name for name in NAMES if LIVE in SHOWN.get(name, "")] == [activity for activity, _ in rows]
    for activity, part in rows:
        number = part.removeprefix("Part ")
        begin, worked = NAMES.index(f"part-{number}"), NAMES.index(f"part-{number}-worked")
        assert begin < worked < NAMES.index(activity) and "reason" in PROSE[f"part-{number}"]


def test_the_safety_box_names_each_hazard_and_ends_with_the_maker() -> None:
    box = PROSE["safety"]
    for hazard in (
        "A pedal that sinks, or is low or soft",
        "First movement",
        "Brake fluid",
        "Raised vehicle",
        "Hot parts",
        "Dust",
        "Test drives",
    ):
        assert f"**{hazard}.**" in box, hazard
    assert box.endswith(MAKER_FIRST)


def test_the_recap_mirrors_the_outcomes() -> None:
    outcomes, recap = (re.findall(r"^- ", PROSE[name], re.M) for name in ("outcomes", "recap"))
    assert len(outcomes) == len(recap) == 6


def test_the_published_checks_name_a_source_and_how_it_is_known() -> None:
    checks = {name: text for name, text in SHOWN.items() if name.startswith("check-")}
    assert set(checks) == {"check-boyle", "check-hold", "check-travel"}
    assert all("Source: " in text and "How it is known: read" in text for text in checks.values())
    assert "they agree" in checks["check-boyle"] and "570.55(b)" in checks["check-hold"]
