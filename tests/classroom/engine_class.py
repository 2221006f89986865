"""A small class for the tests of grading: it was set the module, its students hand in what a test wants."""

from __future__ import annotations

import atexit
import json
import re
import shutil
import tempfile
from collections.abc import Mapping
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any

import nbformat
from brakecourse import marking
from brakecourse.classroom.engine import grade, prepare_assignment
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from nbformat import NotebookNode
from nbgrader.api import Gradebook

from tests.classroom.shared_farm import shared_farm

MODULE = "08_rotor_measurement"
SECRET = bytes(range(32))
HANDED_IN = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


@cache
def _template(students: int) -> Path:
    """A class that was set the module, made once for all tests."""
    folder = Path(tempfile.mkdtemp(prefix="class-for-tests-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return make_class(folder, students).root


def fresh_class(folder: Path, students: int = 3) -> ClassFolder:
    """A class of its own for one test."""
    # A blank and an umlaut in the path, as on many a teacher's computer.
    return open_class(Path(shutil.copytree(_template(students), folder / "Klasse für Bremsen")))


def make_class(folder: Path, students: int = 3, **settings: Any) -> ClassFolder:
    """Make a class of s01, s02 … that was set the module. Names and numbers are invented."""
    roster = folder / "roster.csv"
    rows = [f"s{n:02},Amara{n},Quillstone,s{n:02}@class.example" for n in range(1, students + 1)]
    roster.write_text("\n".join(["student_id,first_name,last_name,email", *rows]) + "\n", encoding="utf-8")
    cls = new_class(folder / "class", roster, name="Evening class", secret=SECRET, **settings)
    for student in cls.student_ids:
        path = cls.case_file(MODULE, student)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(_drawn(student), encoding="utf-8")
    prepare_assignment(cls, MODULE)
    return cls


@cache
def _drawn(student: str) -> str:
    """A student's sealed case, the same in every class of the tests: drawing is slow."""
    return marking.draw_sealed_case(MODULE, student, SECRET).model_dump_json()


def case_of(cls: ClassFolder, student: str) -> marking.SealedCase:
    return marking.SealedCase.model_validate_json(cls.case_file(MODULE, student).read_text(encoding="utf-8"))


def released(cls: ClassFolder) -> NotebookNode:
    return nbformat.read(cls.release_notebook(MODULE), as_version=4)


def right_answers(cls: ClassFolder, student: str) -> dict[str, Any]:
    """The right answer to every question a machine marks."""
    case = case_of(cls, student)
    return {
        question.id: list(question.expected) if isinstance(question.expected, tuple) else question.expected
        for question in case.questions
        if question.kind != "written"
    }


def cell_of(notebook: NotebookNode, grade_id: str) -> NotebookNode:
    return next(c for c in notebook.cells if c.metadata.get("nbgrader", {}).get("grade_id") == grade_id)


def answer_cell(notebook: NotebookNode, question: str) -> NotebookNode:
    """The cell that holds a question's answer: the last one to fill in before its hand-in cell."""
    hand_in = notebook.cells.index(cell_of(notebook, "q" + question.replace(".", "_")))
    before = [c for c in notebook.cells[:hand_in] if c.metadata.get("nbgrader", {}).get("solution")]
    return before[-1]


def filled(notebook: NotebookNode, answers: Mapping[str, Any], letter: str | None = None) -> NotebookNode:
    """Fill answers in as a student would, in the place of None. A text that starts with '=' is code."""
    for question, value in answers.items():
        code = value[1:] if isinstance(value, str) and value.startswith("=") else repr(value)
        cell = answer_cell(notebook, question)
        cell.source, many = re.subn(r"= None\b", lambda _: f"= {code}", cell.source, count=1)  # noqa: B023
        assert many == 1, f"no '= None' to fill in for question {question}: {cell.source!r}"
    if letter is not None:
        cell_of(notebook, "q8_9").source = letter
    return notebook


def hand_in(
    cls: ClassFolder,
    student: str,
    content: NotebookNode | bytes,
    when: datetime = HANDED_IN,
    name: str = MODULE,
) -> Path:
    """Put a notebook where collecting puts it."""
    path = cls.submitted_notebook(MODULE, student).with_name(f"{name}.ipynb")
    path.parent.mkdir(parents=True, exist_ok=True)
    # Not through nbformat: what students hand in is not always a proper notebook.
    path.write_bytes(content if isinstance(content, bytes) else json.dumps(content).encode("utf-8"))
    stamp = when.astimezone(UTC).strftime("%Y-%m-%d %H:%M:%S.%f UTC")
    path.with_name("timestamp.txt").write_text(stamp + "\n", encoding="utf-8")
    return path


STORY = ("right", "some wrong", "empty", "broken", "loop", "deleted", "copied", "missing")


def hand_in_story(cls: ClassFolder) -> dict[str, str]:
    """Let s01 to s08 hand in one submission of each sort; return who did what."""
    who = dict(zip(STORY, cls.student_ids, strict=True))
    letter = "The rotor is worn. We fit a new one today."
    hand_in(cls, who["right"], filled(released(cls), right_answers(cls, who["right"]), letter))
    wrong = right_answers(cls, who["some wrong"])
    wrong |= {
        "8.1": [value + 0.5 for value in wrong["8.1"][:4]] + wrong["8.1"][4:],
        "8.4": wrong["8.4"] / 2,
        "8.7": "much",
    }
    # Worked rightly from readings that are wrong.
    wrong["8.3"] = round(max(wrong["8.1"]) - min(wrong["8.1"]), 2)
    hand_in(cls, who["some wrong"], filled(released(cls), wrong))
    hand_in(cls, who["empty"], released(cls))
    hand_in(cls, who["broken"], b'{"cells": [')
    loop = filled(released(cls), right_answers(cls, who["loop"]))
    answer_cell(loop, "8.3").source = "variation_mm = 0\nwhile True:\n    pass"
    hand_in(cls, who["loop"], loop)
    deleted = filled(released(cls), right_answers(cls, who["deleted"]))
    deleted.cells.remove(cell_of(deleted, "q8_4"))
    hand_in(cls, who["deleted"], deleted)
    copied = filled(released(cls), right_answers(cls, who["copied"]))
    old = answer_cell(copied, "8.2")
    copied.cells.append({**old, "id": "copy", "source": "smallest_mm = 1.0"})
    copied.cells.append({**cell_of(copied, "q8_2"), "id": "copy-of-copy"})
    hand_in(cls, who["copied"], copied)
    return who


def points_in_gradebook(cls: ClassFolder) -> dict[tuple[str, str], float | None]:
    """What nbgrader's own library reads: the automatic points of each graded cell of each student."""
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        return {
            (submission.student.id, grade.name): grade.auto_score
            for submission in book.assignment_submissions(MODULE)
            for notebook in submission.notebooks
            for grade in notebook.grades
        }


@cache
def _graded() -> Path:
    root = _template(len(STORY)).parent / "graded"
    cls = open_class(Path(shutil.copytree(_template(len(STORY)), root)))
    hand_in_story(cls)
    grade(cls, MODULE, limits=Limits(cell_s=2), farm=shared_farm())
    return root


def graded_class(folder: Path) -> tuple[ClassFolder, dict[str, str]]:
    """A class whose submissions of every sort were graded, for one test; and who did what."""
    cls = open_class(Path(shutil.copytree(_graded(), folder / "Klasse für Bremsen")))
    return cls, dict(zip(STORY, cls.student_ids, strict=True))
