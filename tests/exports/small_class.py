"""A small class that was graded in two modules, made once for the tests of badges, records and privacy."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from functools import cache
from pathlib import Path

from brakecourse.classroom.engine.ledger import Ledger
from brakecourse.classroom.folder import ClassFolder, open_class
from nbgrader.api import Grade, SubmittedAssignment, SubmittedNotebook
from sqlalchemy import select

from tests.exports.big_class import make_big_class

MODULES = ("07_pad_wear", "08_rotor_measurement")
ABLE, WEAK, ABSENT, WAITING = "s001", "s002", "s003", "s004"


@cache
def _template() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="small-class-for-tests-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    cls = make_big_class(folder, 4, MODULES, all_cases=True)
    _everything_right(cls, ABLE)
    _nothing_right(cls, WEAK)
    _waits(cls, WAITING)
    shutil.rmtree(cls.root / "submitted" / ABSENT)
    return cls.root


def small_class(folder: Path) -> ClassFolder:
    """Return a class: s001 has everything right, s002 nothing, s003 handed in nothing, s004 waits."""
    return open_class(Path(shutil.copytree(_template(), folder / "class")))


def _grades(student: str) -> object:
    return (
        select(Grade)
        .join(SubmittedNotebook, Grade.notebook_id == SubmittedNotebook.id)
        .join(SubmittedAssignment, SubmittedNotebook.assignment_id == SubmittedAssignment.id)
        .where(SubmittedAssignment.student_id == student)
    )


def _everything_right(cls: ClassFolder, student: str) -> None:
    with Ledger(cls) as ledger, ledger.transaction() as book:
        for grade in book.db.scalars(_grades(student)):
            by_hand = grade.auto_score is None
            grade.auto_score = None if by_hand else grade.max_score
            grade.manual_score = grade.max_score if by_hand else None
            grade.needs_manual_grade = False


def _nothing_right(cls: ClassFolder, student: str) -> None:
    with Ledger(cls) as ledger, ledger.transaction() as book:
        for grade in book.db.scalars(_grades(student)):
            grade.auto_score, grade.manual_score, grade.needs_manual_grade = 0.0, None, False


def _waits(cls: ClassFolder, student: str) -> None:
    with Ledger(cls) as ledger, ledger.transaction() as book:
        for grade in book.db.scalars(_grades(student)):
            if grade.name == "q8_9":
                grade.auto_score, grade.manual_score, grade.needs_manual_grade = None, None, True
