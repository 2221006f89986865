"""Where a student's answer stands in nbgrader's own grading pages, for a notebook server that has them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

import nbformat
from nbgrader.api import Assignment, SubmittedAssignment, SubmittedNotebook
from sqlalchemy import select

from brakecourse.classroom.engine.ledger import Ledger
from brakecourse.classroom.engine.plan import grade_id_of
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError

_IN_THE_HEAD = 1
"""So many stops for the Tab key come before the first cell: the link to the next submission."""


@dataclass(frozen=True)
class GradingPage:
    """Two addresses under the notebook server, without its own part.

    Attributes:
        choose_class: asked for first, it points nbgrader's pages at this class.
        answer: the student's page, at the answer.
    """

    choose_class: str
    answer: str


def grading_page(cls: ClassFolder, module: str, student: str, question: str) -> GradingPage:
    """Return where nbgrader shows a student's answer.

    Raises:
        CourseError: nothing of this student was graded, or the graded notebook is not there.
    """
    query = (
        select(SubmittedNotebook.id)
        .join(SubmittedAssignment, SubmittedAssignment.id == SubmittedNotebook.assignment_id)
        .join(Assignment, Assignment.id == SubmittedAssignment.assignment_id)
        .where(Assignment.name == module, SubmittedAssignment.student_id == student)
    )
    with Ledger(cls) as ledger, ledger.reading() as book:
        found = book.db.scalars(query).first()
    path = cls.root / "autograded" / student / module / f"{module}.ipynb"
    if found is None or not path.is_file():
        raise CourseError(
            f"A graded notebook of student {student} for module {module} was expected, but there is none; "
            f"give 'brakecourse grade {cls.root} {module}' first."
        )
    grade_id = grade_id_of(question)
    stop = stop_of(nbformat.read(path, as_version=4).cells, grade_id)
    return GradingPage(
        f"formgrader?path={quote(str(cls.root), safe='')}",
        f"formgrader/submissions/{found}/?index={stop}#{grade_id}",
    )


def stop_of(cells: Sequence[Mapping[str, Any]], grade_id: str) -> int:
    """Return which stop of the Tab key a cell's points are on nbgrader's page, the first being 0.

    Each graded cell and each task has two (points, extra points); each answer and each task one for a
    comment.
    """
    stop = _IN_THE_HEAD
    for cell in cells:
        marks = cell["metadata"].get("nbgrader", {})
        if marks.get("grade_id") == grade_id:
            return stop
        stop += 2 * bool(marks.get("grade") or marks.get("task"))
        stop += bool(marks.get("solution") or marks.get("task"))
    return _IN_THE_HEAD
