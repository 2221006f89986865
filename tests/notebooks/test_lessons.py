"""What nbval cannot see in a stored lesson: an unrun cell, a missing picture, prose that no longer fits."""

from __future__ import annotations

import ast
import csv
import importlib
import json
import pkgutil
import re
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import brakecourse.views
import nbformat
import pytest
from brakecourse.tables import table_path
from brakecourse.views.activity import Activity
from brakecourse.views.drawings import dial_svg, micrometer_svg
from brakecourse.views.plan import plan
from brakecourse.views.words import MAKER_FIRST
from brakecourse.workorder.order import load

LESSONS = Path(__file__).resolve().parents[2] / "course" / "lessons"
NOTEBOOKS = sorted(LESSONS.glob("*.ipynb"))
LESSON_08 = LESSONS / "08_rotor_measurement.ipynb"
WIDGET = "application/vnd.jupyter.widget-view+json"
LIVE = "(Run this cell to use it.)"
PLAIN_CALLS = (ast.Import, ast.ImportFrom, ast.Expr, ast.Assign)

# Pages that go with the lessons: to read or to print, with no practice and no rhythm of their own.
PAGES = {"glossary", "job_sheet"}

each_page = pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
each_lesson = pytest.mark.parametrize(
    "path", [path for path in NOTEBOOKS if path.stem not in PAGES], ids=lambda path: path.stem
)


def read(path: Path) -> Any:
    return nbformat.read(path, as_version=4)


def code_cells(path: Path) -> list[Any]:
    return [cell for cell in read(path).cells if cell.cell_type == "code"]


def prose(path: Path) -> list[Any]:
    return [cell for cell in read(path).cells if cell.cell_type == "markdown"]


def bundles(path: Path) -> Iterator[tuple[str, dict[str, str]]]:
    for cell in code_cells(path):
        for output in cell.outputs:
            if "data" in output:
                yield cell.id, output.data


def shown_text(path: Path) -> str:
    """Return all words that the stored outputs show."""
    texts = [data["text/plain"] for _, data in bundles(path)]
    texts += [output.text for cell in code_cells(path) for output in cell.outputs if "text" in output]
    return "\n".join(texts)


def kinds(base: type[Activity]) -> set[type[Activity]]:
    """Return every kind of activity, also those that have another kind as their base."""
    return {kind for one in base.__subclasses__() for kind in {one} | kinds(one)}


def activities() -> set[str]:
    for module in pkgutil.iter_modules(brakecourse.views.__path__):
        importlib.import_module(f"brakecourse.views.{module.name}")
    return {kind.__name__ for kind in kinds(Activity)}


def test_there_are_lessons() -> None:
    assert {path.stem for path in NOTEBOOKS} >= {"00_start_here", "08_rotor_measurement"}


@each_page
def test_every_code_cell_ran_once_and_in_order_without_a_complaint(path: Path) -> None:
    cells = code_cells(path)
    assert [cell.execution_count for cell in cells] == list(range(1, len(cells) + 1))
    for output in (output for cell in cells for output in cell.outputs):
        assert output.output_type != "error"
        assert output.get("name") != "stderr"


@each_page
def test_what_is_stored_is_the_same_on_every_machine(path: Path) -> None:
    notebook = read(path)
    assert notebook.metadata.kernelspec.name == "python3"
    assert "widgets" not in notebook.metadata
    assert "version" not in notebook.metadata.language_info
    assert all(WIDGET not in data for _, data in bundles(path))
    stored = path.read_text(encoding="utf-8")
    assert not re.search(r"/(tmp|home|root|Users)/|0x[0-9a-f]{8}", stored)


@each_page
def test_cells_have_readable_names_that_stand_once(path: Path) -> None:
    names = [cell.id for cell in read(path).cells]
    assert all(re.fullmatch(r"[a-z][a-z0-9-]{2,40}", name) for name in names), names
    assert max(Counter(names).values()) == 1


@each_page
def test_code_cells_import_and_call_and_nothing_else(path: Path) -> None:
    for cell in code_cells(path):
        assert 1 <= len([line for line in cell.source.splitlines() if line.strip()]) <= 5, cell.id
        assert all(isinstance(node, PLAIN_CALLS) for node in ast.parse(cell.source).body), cell.id
        assert not re.search(r"\bOutput\(|interact|clear_output|\bPlay\(|seed=None", cell.source), cell.id


@each_lesson
def test_an_activity_shows_its_picture_and_words_without_a_kernel(path: Path) -> None:
    kinds, found = activities(), 0
    for cell in code_cells(path):
        last = ast.parse(cell.source).body[-1]
        called = getattr(last, "value", None)
        if not isinstance(called, ast.Call) or getattr(called.func, "id", "") not in kinds:
            continue
        (output,) = cell.outputs
        found += 1
        assert LIVE in output.data["text/plain"], cell.id
        assert LIVE in output.data["text/html"] and "<figcaption>" in output.data["text/html"], cell.id
        assert output.data["image/svg+xml"].startswith("<svg"), cell.id
        assert 'src="data:image/svg+xml' in output.data["text/html"], cell.id
    assert found == sum(LIVE in data["text/plain"] for _, data in bundles(path)) > 0


@each_lesson
def test_drawings_are_sound_named_and_do_not_share_ids(path: Path) -> None:
    ids: Counter[str] = Counter()
    for name, data in bundles(path):
        if "image/svg+xml" in data:
            root = ET.fromstring(data["image/svg+xml"])
            own = {element.get("id") for element in root.iter()} - {None}
            assert set((root.get("aria-labelledby") or "none").split()) <= own, name
            ids.update(str(one) for one in own)
    assert ids and max(ids.values()) == 1


@each_page
def test_links_lead_to_files_that_are_there(path: Path) -> None:
    targets = [
        target for cell in prose(path) for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", cell.source)
    ]
    assert targets
    assert all((LESSONS / target).is_file() for target in targets), targets


@each_lesson
def test_only_the_learners_own_record_is_let_off_the_comparison(path: Path) -> None:
    tagged = {cell.id: cell.metadata.tags for cell in read(path).cells if "tags" in cell.metadata}
    assert all(name == "my-progress" and tags == ["nbval-ignore-output"] for name, tags in tagged.items())


@each_lesson
def test_a_lesson_keeps_the_rhythm_and_states_its_minutes(path: Path) -> None:
    text = "\n".join(cell.source for cell in prose(path))
    places = [text.index(f"## {heading}") for heading in ("What you will be able to do", "Safety first")]
    places.append(text.index("## What to remember"))
    assert places == sorted(places)
    assert re.search(r"\*\*Time:\*\* (about )?\d+ minutes", text)
    assert MAKER_FIRST in text


def test_lesson_08_names_each_hazard_of_its_step() -> None:
    (box,) = (cell.source for cell in prose(LESSON_08) if cell.id == "safety")
    for hazard in ("Dust", "Raised vehicle", "Hot parts", "Pinch points", "Brake fluid", "First movement"):
        assert f"**{hazard}" in box, hazard
    assert "Never blow it off with air" in box and "stands" in box and "chlorinated" in box


def test_lesson_08_has_the_parts_that_the_feedback_sends_a_learner_to() -> None:
    with table_path("course/lesson_parts.csv").open(encoding="utf-8", newline="") as handle:
        rows = [row for row in csv.DictReader(handle) if row["module"] == LESSON_08.stem]
    headings = re.findall(r"^## (Part \d: .+)$", "\n".join(cell.source for cell in prose(LESSON_08)), re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in rows]


def test_lesson_08_goes_from_example_to_practice_to_published_check() -> None:
    names = [cell.id for cell in read(LESSON_08).cells]
    order = ["outcomes", "safety", "why", "show-limits", "part-1", "part-8", "published-check", "recap"]
    assert [name for name in names if name in order] == order
    rotor = [(one.activity, one.part) for one in plan() if one.lesson == LESSON_08.stem]
    for part in range(1, 9):
        begin = names.index(f"part-{part}")
        end = names.index(f"part-{part + 1}") if part < 8 else names.index("published-check")
        worked = names.index(f"part-{part}-worked") if part != 6 else names.index("part-6-guard")
        practice = [names.index(activity) for activity, place in rotor if place == f"Part {part}"]
        assert practice and all(begin < worked < one < end for one in practice), part


def test_the_progress_page_knows_the_activities_of_lesson_08() -> None:
    drawn = {
        data["image/svg+xml"].split('aria-labelledby="', 1)[1].split("-title", 1)[0] for _, data in LIVE_ONES
    }
    assert drawn == {one.activity for one in plan() if one.lesson == LESSON_08.stem}


LIVE_ONES = [(name, data) for name, data in bundles(LESSON_08) if LIVE in data["text/plain"]]


def test_the_numbers_in_the_worked_prose_are_those_that_the_cells_show() -> None:
    shown, checked = shown_text(LESSON_08), 0
    for cell in prose(LESSON_08):
        if cell.id.endswith("-worked"):
            for number in re.findall(r"\*\*([−\d.]+ mm \([−\d.]+ in\))\*\*", cell.source):
                assert number in shown, f"{cell.id}: {number}"
                checked += 1
    assert checked >= 8


def test_the_published_checks_name_a_source_and_how_it_is_known() -> None:
    checks = {name: data["text/plain"] for name, data in bundles(LESSON_08) if name.startswith("check-")}
    assert set(checks) == {"check-guard-band", "check-spread"}
    assert all("Source: " in text and "How it is known: " in text for text in checks.values())


def test_the_practice_work_order_is_drawn_by_the_present_drawings() -> None:
    order = load(LESSONS / "00_practice_order.json")
    expected = {"m1": micrometer_svg(7.32, uid="practice-m1")}
    expected |= {f"d{n}": dial_svg(mm, uid=f"practice-d{n}") for n, mm in enumerate((0.02, -0.03, 0.05), 1)}
    assert {key: drawing.svg for key, drawing in order.drawings.items()} == expected
    assert set(order.questions) == {"0.1", "0.2", "0.3"}
    assert "answer" not in json.loads((LESSONS / "00_practice_order.json").read_text(encoding="utf-8"))
