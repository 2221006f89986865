"""Lesson 13: what its prose says is what its cells show, and its parts are those of the table."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import nbformat
from brakecourse.tables import read_table
from brakecourse.views.plan import plan

LESSON = Path(__file__).resolve().parents[2] / "course" / "lessons" / "13_whole_job.ipynb"
NOTEBOOK: Any = nbformat.read(LESSON, as_version=4)
PROSE = {cell.id: cell.source for cell in NOTEBOOK.cells if cell.cell_type == "markdown"}
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
        for number in re.findall(r"\*\*(\d[\d.]* (?:mm|N·m|°C|minutes) ?[^*]*)\*\*", text):
            if name == "title" or (name == "part-1-worked" and number == "3 minutes"):
                continue
            assert number in everything, f"{name}: {number}"
            checked += 1
    assert checked == 11


def test_numbers_in_plain_words_are_shown_too() -> None:
    checks, readings, job = SHOWN["show-checks"], SHOWN["show-readings"], SHOWN["show-job"]
    minutes = [int(found) for found in re.findall(r"\| (\d+) \|", checks)]
    assert " + ".join(map(str, minutes)) in PROSE["part-1-worked"] and f"{sum(minutes)} minutes" in checks
    assert "9 in 100" in checks and "52 in 100" in checks
    stop = next(line for line in checks.splitlines() if "brake gently" in line)
    assert "| 3 |" in stop and stop.endswith("52 in 100")
    assert "at most 0.035 mm" in readings and "Thickness variation | 0.10 mm" in readings
    assert "Total run-out | 0.08 mm" in readings and "Smallest thickness | 29.57 mm" in readings
    assert "Machine-to thickness | 28.40 mm (1.118 in)" in job
    assert readings.count("outside") == 1
    wanted = "170 N·m (125 lbf·ft)"
    assert wanted in job and wanted in PROSE["part-3-worked"] and wanted in SHOWN["torque-numbers"]


def test_the_minutes_add_up() -> None:
    total, early, fourth, fifth, check = map(int, re.findall(r"(?:about |take |takes )(\d+)", PROSE["title"]))
    parts = {
        name: int(found[1])
        for name, text in PROSE.items()
        if (found := re.search(r"^\*(\d+) min", text, re.M))
    }
    assert sum(parts.values()) == total == early + fourth + fifth + check <= 45
    assert early == parts["part-1"] + parts["part-2"] + parts["part-3"]
    assert (fourth, fifth, check) == (parts["part-4"], parts["part-5"], parts["published-check"])


def test_each_part_has_its_reason_and_stands_in_the_table() -> None:
    headings = re.findall(r"^## (Part \d: .+)$", "\n".join(PROSE.values()), re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in PARTS]
    assert all("**The shop's reason.**" in PROSE[f"part-{row['part']}"] for row in PARTS)


def test_the_table_of_activities_lists_what_the_lesson_shows() -> None:
    live = {name for name, text in SHOWN.items() if LIVE in text}
    assert live == {one.activity for one in plan() if one.lesson == LESSON.stem}


def test_the_safety_box_names_the_hazards_of_the_job() -> None:
    for hazard in ("Before a drive", "Raised vehicle", "Dust", "Hot parts", "Brake fluid", "First movement"):
        assert f"**{hazard}" in PROSE["safety"], hazard


def test_the_published_checks_name_a_source() -> None:
    checks = {name: text for name, text in SHOWN.items() if name.startswith("check-") and text}
    assert set(checks) == {"check-lower-limit", "check-gauge"}
    assert all("Source: " in text and "they agree" in text for text in checks.values())
    assert "from memory" in checks["check-lower-limit"]


def test_the_recap_mirrors_the_outcomes() -> None:
    outcomes, recap = (PROSE[name].count("\n- ") for name in ("outcomes", "recap"))
    assert outcomes == recap == 6
