"""The lesson on the fluid's level: its numbers, parts, minutes and hazards agree with one another."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import nbformat
from brakecourse.tables import table_path
from brakecourse.views.plan import plan

PATH = Path(__file__).resolve().parents[2] / "course" / "lessons" / "02_master_cylinder.ipynb"
CELLS = nbformat.read(PATH, as_version=4).cells
PROSE = {cell.id: cell.source.replace("\xa0", " ") for cell in CELLS if cell.cell_type == "markdown"}
NAMES = [cell.id for cell in CELLS]


def shown() -> str:
    told = []
    for cell in CELLS:
        for output in cell.get("outputs", []):
            told.append(output.get("data", {}).get("text/plain", "") or output.get("text", ""))
    return "\n".join(told).replace("\xa0", " ")


def test_the_numbers_in_the_worked_prose_are_those_that_the_cells_show() -> None:
    told, checked = shown(), 0
    for name, text in PROSE.items():
        for number in re.findall(r"\*\*([−\d.]+ \S+ \([−\d.]+ \S+\))\*\*", text):
            assert number in told, f"{name}: {number}"
            checked += 1
    assert checked >= 14


def test_every_sum_in_the_worked_prose_comes_out() -> None:
    checked = 0
    for name, text in PROSE.items():
        for line in re.findall(r"^> (.+)$", text, re.M) if name.endswith("-worked") else []:
            left, found, right = line.rpartition(" = ")
            number = re.match(r"\**([\d.]+)", right)
            if not found or not number:
                continue
            left = left.rpartition(": ")[2].rpartition(" = ")[2].replace(" mL", "").replace("π", "3.14159265")
            left = re.sub(r"([\d.]+)²", r"\1**2", left).replace("√", "").strip()
            value = eval(left.translate(str.maketrans("−×÷", "-*/")), {"__builtins__": {}})
            value = value**0.5 if "√" in line else value
            # The terms are rounded, so the last figure may be one out.
            decimals = len(number[1].partition(".")[2])
            assert abs(value - float(number[1])) < 1.1 * 10**-decimals, line
            checked += 1
    assert checked >= 10


def test_headings_are_the_parts_that_the_feedback_sends_a_learner_to() -> None:
    with table_path("course/lesson_parts.csv").open(encoding="utf-8", newline="") as handle:
        rows = [row for row in csv.DictReader(handle) if row["module"] == PATH.stem]
    headings = re.findall(r"^## (Part \d: .+)$", "\n".join(PROSE.values()), re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in rows]


def test_the_minutes_add_up() -> None:
    minutes = [int(n) for n in re.findall(r"^\*(\d+) minutes\*$", "\n".join(PROSE.values()), re.M)]
    total = re.search(r"\*\*Time:\*\* about (\d+) minutes", PROSE["title"])
    assert total and sum(minutes) == int(total[1]) and 30 <= sum(minutes) <= 45
    halves = [int(n) for n in re.findall(r"take (\d+)", PROSE["title"])]
    assert sum(halves) == sum(minutes) and halves[0] == sum(minutes[:4])


def test_each_part_goes_from_reason_to_worked_example_to_practice() -> None:
    rows = {(one.activity, one.part) for one in plan() if one.lesson == PATH.stem}
    assert len(rows) == 6
    for part in range(1, 7):
        begin, worked = NAMES.index(f"part-{part}"), NAMES.index(f"part-{part}-worked")
        end = NAMES.index(f"part-{part + 1}") if part < 6 else NAMES.index("published-check")
        practice = [NAMES.index(activity) for activity, place in rows if place == f"Part {part}"]
        assert practice and all(begin < worked < one < end for one in practice), part
        text = PROSE[f"part-{part}"]
        formula = text.find("\n> ")
        reason = text.index("**The shop's reason.**")
        assert formula < 0 or reason < formula, part


def test_the_box_names_each_hazard_of_this_step() -> None:
    box = PROSE["safety"]
    hazards = ("Brake fluid", "Dirt and water", "The right fluid", "Engine bay", "On the ground", "Dust")
    for hazard in (*hazards, "First movement"):
        assert f"**{hazard}" in box, hazard
    assert "does not move until the leak is found" in box


def test_the_published_checks_name_a_source_and_how_it_is_known() -> None:
    for cell in CELLS:
        if cell.id.startswith("check-"):
            text = cell.outputs[0].data["text/plain"]
            assert "Source: " in text and "How it is known: " in text
    assert "check-rule" in NAMES and "check-area" in NAMES


def test_the_recap_has_a_line_for_each_outcome() -> None:
    assert PROSE["recap"].count("\n- ") == PROSE["outcomes"].count("\n- ")
