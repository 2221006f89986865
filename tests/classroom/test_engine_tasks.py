"""Tasks on a real vehicle: nothing is handed in, a person's marks count, and the observer's sheet names them.

Outside checks: nbgrader's own library and its plain ``autograde`` command leave the same points; an HTML
parser of the general kind (Beautiful Soup) reads the pages as a browser would.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse import marking
from brakecourse.classroom.engine import grade, prepare_assignment, set_hand_mark
from brakecourse.classroom.engine.hand import take_back_hand_mark
from brakecourse.classroom.engine.healing import heal
from brakecourse.classroom.engine.plan import read_plan
from brakecourse.classroom.engine.reading import submitted_cells
from brakecourse.classroom.feedback import give_back
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.classroom.observer_sheet import observed_tasks, write_observer_sheet
from brakecourse.classroom.records import grade_records
from brakecourse.classroom.results import student_results
from brakecourse.cli import main
from brakecourse.errors import CourseError
from bs4 import BeautifulSoup
from nbgrader.api import Gradebook

from tests.classroom.shared_farm import shared_farm

MODULE = "13_whole_job"
TASKS = ("13.17", "13.18", "13.19")
WRITTEN = "13.16"
SECRET = bytes(range(32))
LETTER = "One wheel rubbed. The caliper is renewed."

sandbox = pytest.mark.sandbox


def _source(cls: ClassFolder) -> Any:
    return nbformat.reads(cls.source_notebook(MODULE).read_text(encoding="utf-8"), as_version=4)


def _notebook(cls: ClassFolder) -> Any:
    return nbformat.read(cls.release_notebook(MODULE), as_version=4)


def _cell(notebook: Any, question: str) -> Any:
    name = "q" + question.replace(".", "_")
    return next(one for one in notebook.cells if one.metadata.get("nbgrader", {}).get("grade_id") == name)


def _hand_in(cls: ClassFolder, student: str, notebook: Any) -> None:
    path = cls.submitted_notebook(MODULE, student)
    path.parent.mkdir(parents=True, exist_ok=True)
    nbformat.write(notebook, path)
    path.with_name("timestamp.txt").write_text("2026-03-02 09:00:00.000000 UTC\n", encoding="utf-8")


@cache
def _made(folder: Path) -> Path:
    roster = folder / "roster.csv"
    rows = [f"s{n:02},Amara{n},Quillstone,s{n:02}@class.example" for n in range(1, 3)]
    roster.write_text("\n".join(["student_id,first_name,last_name,email", *rows]) + "\n", encoding="utf-8")
    cls = new_class(folder / "class", roster, name="Evening class", secret=SECRET)
    for student in cls.student_ids:
        path = cls.case_file(MODULE, student)
        path.parent.mkdir(parents=True, exist_ok=True)
        case = marking.draw_sealed_case(MODULE, student, SECRET)
        path.write_text(case.model_dump_json(), encoding="utf-8")
    prepare_assignment(cls, MODULE)
    return cls.root


@pytest.fixture(scope="module")
def assigned(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    """A class that was set the module; no test changes it."""
    return open_class(_made(tmp_path_factory.mktemp("tasks")))


@pytest.fixture(scope="module")
def graded(assigned: ClassFolder, tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    """The same with two submissions: one as it was handed out, one with a letter and a spoiled task cell."""
    cls = open_class(Path(shutil.copytree(assigned.root, tmp_path_factory.mktemp("graded") / "class")))
    _hand_in(cls, "s01", _notebook(cls))
    written = _notebook(cls)
    _cell(written, WRITTEN).source = LETTER
    _cell(written, "13.17").source = "I did it, give me the points."
    _hand_in(cls, "s02", written)
    grade(cls, MODULE, farm=shared_farm())
    return cls


def _copy(cls: ClassFolder, folder: Path) -> ClassFolder:
    return open_class(Path(shutil.copytree(cls.root, folder / "class")))


def _scores(cls: ClassFolder) -> dict[tuple[str, str], tuple[float | None, float | None]]:
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        return {
            (one.student.id, row.name): (row.auto_score, row.manual_score)
            for one in book.assignment_submissions(MODULE)
            for notebook in one.notebooks
            for row in notebook.grades
        }


def test_the_plan_knows_the_tasks_and_their_marks(assigned: ClassFolder) -> None:
    plan = read_plan(assigned, MODULE)
    assert plan.max_score == 60
    assert [one.id for one in plan.questions if one.task] == list(TASKS)
    assert all(one.by_hand for one in plan.questions if one.task)
    assert [one.id for one in plan.questions if one.by_hand and not one.task] == [WRITTEN]


def test_nbgrader_enters_them_as_tasks_and_takes_the_marking_scheme_out(assigned: ClassFolder) -> None:
    with Gradebook(f"sqlite:///{assigned.gradebook_file}") as book:
        (notebook,) = book.find_assignment(MODULE).notebooks
        assert {one.name: one.max_score for one in notebook.task_cells} == {
            "q13_17": 2.0,
            "q13_18": 2.0,
            "q13_19": 2.0,
        }
        assert notebook.max_score == 60
    text = assigned.release_notebook(MODULE).read_text(encoding="utf-8")
    assert "MARK SCHEME" not in text and "Half a mark" not in text
    assert "lowers the vehicle onto the stands, pushes it firmly" not in text


def test_a_changed_task_cell_is_put_back_and_a_lost_one_too(assigned: ClassFolder) -> None:
    plan = read_plan(assigned, MODULE)
    notebook = _notebook(assigned)
    handed_out = _cell(notebook, "13.17").source
    _cell(notebook, "13.17").source = "Done."
    notebook.cells.remove(_cell(notebook, "13.18"))
    cells, _ = submitted_cells(notebook)
    healed = heal(cells, plan.template, plan.kernelspec)
    assert _cell(healed.notebook, "13.17").source == handed_out
    assert _cell(healed.notebook, "13.18").metadata["nbgrader"]["task"] is True
    assert not [note for note in healed.notes if "hand-in cell" in note]


@sandbox
def test_a_task_waits_for_a_person_whatever_was_handed_in(graded: ClassFolder) -> None:
    records = {one.student_id: one for one in grade_records(graded, MODULE)}
    assert {one.status for one in records.values()} == {"waiting for hand-grading"}
    # Nothing was written by s01, so only the tasks wait; s02's letter waits as well.
    assert records["s01"].waiting_questions == TASKS
    assert records["s02"].waiting_questions == (WRITTEN, *TASKS)
    told = [
        one.mark
        for result in student_results(graded, MODULE)
        for one in result.questions
        if one.question.task
    ]
    assert {(mark.status, mark.words) for mark in told if mark} == {("waiting for hand-grading", "")}
    stored = _scores(graded)
    assert {stored[student, f"q13_{n}"] for student in ("s01", "s02") for n in (17, 18, 19)} == {(None, None)}


@sandbox
def test_marks_by_hand_count_and_stay_when_it_is_graded_again(graded: ClassFolder, tmp_path: Path) -> None:
    cls = _copy(graded, tmp_path)
    for question, points in zip(TASKS, (2, 1.5, 0), strict=True):
        set_hand_mark(cls, MODULE, "s01", question, points, "Seen on the grey van.")
    for forced in (False, True):
        grade(cls, MODULE, force=forced, farm=shared_farm())
        (record,) = [one for one in grade_records(cls, MODULE) if one.student_id == "s01"]
        assert (record.status, record.hand_points, record.waiting_questions) == ("graded", 3.5, ())
    with pytest.raises(CourseError, match=r"from 0 to 2 were expected for question 13\.18"):
        set_hand_mark(cls, MODULE, "s01", "13.18", 2.5)
    take_back_hand_mark(cls, MODULE, "s01", "13.18")
    (record,) = [one for one in grade_records(cls, MODULE) if one.student_id == "s01"]
    assert record.waiting_questions == ("13.18",)


@sandbox
def test_the_feedback_page_shows_the_tasks(graded: ClassFolder, tmp_path: Path) -> None:
    cls = _copy(graded, tmp_path)
    set_hand_mark(cls, MODULE, "s01", "13.17", 1.5, "The stand's rating was not read.")
    give_back(cls, MODULE)
    page: Any = BeautifulSoup(cls.feedback_page(MODULE, "s01").read_text(encoding="utf-8"), "html.parser")
    marked, waiting = (
        " ".join(page.select_one(f'[id="q{one}"]').get_text(" ").split()) for one in ("13.17", "13.18")
    )
    assert "Partly right, 1.5 of 2 points" in marked
    assert "Your instructor gave 1.5 of 2 points. The stand's rating was not read." in marked
    assert "Waiting for hand-grading" in waiting
    assert "Show it on a real vehicle. Your instructor watches and gives the points." in waiting
    assert "Nothing was written" not in marked + waiting


@sandbox
@pytest.mark.slow
def test_plain_nbgrader_gives_the_same_points_and_the_tasks_still_wait(
    graded: ClassFolder, tmp_path: Path
) -> None:
    cls = _copy(graded, tmp_path)
    set_hand_mark(cls, MODULE, "s02", "13.19", 2)
    ours = _scores(cls)
    shutil.rmtree(cls.root / "autograded")
    done = subprocess.run(
        [Path(sys.executable).with_name("nbgrader"), "autograde", MODULE],
        cwd=cls.root,
        capture_output=True,
        text=True,
        env=dict(os.environ),
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert _scores(cls) == ours
    waiting = {
        one.record.student_id: [two.question.id for two in one.questions if two.waiting]
        for one in student_results(cls, MODULE)
    }
    assert waiting["s01"] == list(TASKS)
    assert waiting["s02"] == [WRITTEN, "13.17", "13.18"]


# --- the observer's sheet ----------------------------------------------------------------------------


def test_the_sheet_has_a_line_for_each_student_and_two_boxes_for_each_point(
    assigned: ClassFolder, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cls = _copy(assigned, tmp_path)
    assert main(["observer-sheet", str(cls.root), MODULE]) == 0
    path = cls.exports / f"{MODULE}_observer_sheet.html"
    assert f"Written: {path}" in capsys.readouterr().out.replace("\n", "")
    page: Any = BeautifulSoup(path.read_text(encoding="utf-8"), "html.parser")
    rows = page.select("tbody tr")
    assert [row.th.get_text(" ", strip=True) for row in rows] == [
        "Amara1 Quillstone (s01)",
        "Amara2 Quillstone (s02)",
    ]
    tasks = observed_tasks(MODULE, _source(cls))
    points = sum(len(one.points) for one in tasks)
    assert points == 12
    for row in rows:
        boxes = [box.get_text() for box in row.select(".box")]
        assert boxes == ["seen", "not yet"] * points
        assert len(row.select("td")) == points + 2  # and the date and the observer
    words = page.get_text(" ")
    assert all(name in words and told in words for one in tasks for name, told in one.points)
    assert not page.select("script, img, link") and "http" not in str(page.style)


@pytest.mark.slow
def test_a_large_class_gets_as_many_sheets_as_it_needs(tmp_path: Path) -> None:
    roster = tmp_path / "roster.csv"
    rows = [f"s{n:02},A<b>{n}</b>,Quillstone,a{n}@class.example" for n in range(1, 27)]
    roster.write_text("\n".join(["student_id,first_name,last_name,email", *rows]) + "\n", encoding="utf-8")
    cls = new_class(tmp_path / "class", roster, name="Evening class", secret=SECRET)
    prepare_assignment(cls, MODULE)
    html = write_observer_sheet(cls, MODULE).read_text(encoding="utf-8")
    page = BeautifulSoup(html, "html.parser")
    assert [len(one.select("tbody tr")) for one in page.select(".sheet")] == [12, 12, 2]
    assert "<b>1</b>" not in html and "A&lt;b&gt;1&lt;/b&gt;" in html


def test_a_module_without_tasks_or_not_handed_out_has_no_sheet(assigned: ClassFolder, tmp_path: Path) -> None:
    cls = _copy(assigned, tmp_path)
    with pytest.raises(CourseError, match="was not handed out to this class yet"):
        write_observer_sheet(cls, "08_rotor_measurement")
    prepare_assignment(cls, "08_rotor_measurement")
    with pytest.raises(CourseError, match="has no task on a real vehicle"):
        write_observer_sheet(cls, "08_rotor_measurement")


def test_a_task_without_points_is_refused(assigned: ClassFolder) -> None:
    notebook = _source(assigned)
    _cell(notebook, "13.18").source = "## 13.18 Measure (2 marks)\n\nNothing to observe."
    with pytest.raises(CourseError, match=r"Question 13\.18 should have a task cell"):
        observed_tasks(MODULE, notebook)
