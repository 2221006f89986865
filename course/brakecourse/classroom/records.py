"""What is known of everyone's work, as a coordinator needs it: points, who is waited for, and days late.

The gradebook holds what was found out; whatever follows from it and the class's settings (days late, the
penalty, who has handed in nothing) is worked out here, each time anew.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Literal

from brakecourse.classroom.folder import ClassFolder

Status = Literal["graded", "waiting for hand-grading", "could not be graded", "not handed in", "excused"]


@dataclass(frozen=True)
class GradeRecord:
    """One student's result in one module.

    Attributes:
        student_id, first_name, last_name: who.
        module: which module.
        status: graded; waiting for hand-grading (the points so far are there, but no score yet); could not be
            graded; not handed in; excused.
        why: what a teacher should know, in words.
        auto_points: points of the machine-marked answers; None when there are none.
        hand_points: points given by hand to written answers; None while one of them waits.
        waiting_questions: the questions that wait for a person.
        raw_score: all points before any penalty; the points so far while an answer waits; else None.
        max_score: what the module is worth.
        days_late: days begun after the due time; 0 when in time or no due time was set.
        late_penalty: points taken off for lateness; None unless graded.
        final_score: what counts; None unless graded.
        healed: what was put right in the notebook before it was run.
        handed_in_at: when it was handed in, in UTC.
    """

    student_id: str
    first_name: str
    last_name: str
    module: str
    status: Status
    why: str
    auto_points: float | None
    hand_points: float | None
    waiting_questions: tuple[str, ...]
    raw_score: float | None
    max_score: float
    days_late: int
    late_penalty: float | None
    final_score: float | None
    healed: tuple[str, ...]
    handed_in_at: datetime | None = None


@dataclass(frozen=True)
class QuestionRecord:
    """One student's result in one question.

    Attributes:
        student_id: who.
        question_id: which question.
        points: points that count, None while a person is waited for.
        out_of: what the question is worth.
        status: right, partly right, wrong, no answer, not readable, or waiting for hand-grading.
        mistake: the named mistake that the answer shows, or None.
        by_hand: whether the points were given by a person.
    """

    student_id: str
    question_id: str
    points: float | None
    out_of: float
    status: str
    mistake: str | None
    by_hand: bool = False


def grade_records(cls: ClassFolder, module: str | None = None) -> list[GradeRecord]:
    """Return everyone's results.

    Args:
        cls: the class.
        module: one module; None for every module that was handed out.

    Returns:
        One record a student and module: by module, then in the roster's order.

    Raises:
        CourseError: the module is unknown or was not handed out, or the gradebook can't be read.
    """
    from brakecourse.classroom.results import student_results

    modules = (module,) if module is not None else cls.assigned
    return [result.record for name in modules for result in student_results(cls, name)]


def question_records(cls: ClassFolder, module: str) -> list[QuestionRecord]:
    """Return everyone's results question by question, for those whose work was graded.

    Raises:
        CourseError: the module is unknown or was not handed out, or the gradebook can't be read.
    """
    return list(module_records(cls, module).questions)


@dataclass(frozen=True)
class ModuleRecords:
    """Everyone's results in one module and in each of its questions, from one reading of the gradebook."""

    module: str
    grades: tuple[GradeRecord, ...]
    questions: tuple[QuestionRecord, ...]


def module_records(cls: ClassFolder, module: str) -> ModuleRecords:
    """Return everyone's results in a module, as a whole and question by question.

    Raises:
        CourseError: the module is unknown or was not handed out, or the gradebook can't be read.
    """
    from brakecourse.classroom.results import student_results

    results = student_results(cls, module)
    questions = (
        QuestionRecord(
            result.record.student_id,
            one.question.id,
            one.points,
            one.question.points,
            one.status,
            one.mark.mistake if one.mark is not None else None,
            one.hand_points is not None,
        )
        for result in results
        for one in result.questions
    )
    return ModuleRecords(module, tuple(result.record for result in results), tuple(questions))


def class_records(cls: ClassFolder) -> tuple[ModuleRecords, ...]:
    """Return everything about every module that was handed out. A big class's tables all start from this.

    Raises:
        CourseError: the gradebook can't be read.
    """
    return tuple(module_records(cls, module) for module in cls.assigned)


@dataclass(frozen=True)
class MarkChange:
    """One change of one mark, as the history keeps it for good.

    Attributes:
        at: when it was written down, in UTC. A change made in nbgrader is seen at the course's next grading.
        module, student_id: which work.
        question_id: which question; empty where it is about the whole work (excused, could not be graded).
        kind: what happened, e.g. "graded", "graded again", "mark by hand", "excused".
        case_version, course_version: the answer key it was marked by.
        old_points: before; None where there were none or a person was waited for.
        new_points: after.
        by_hand: whether the points after are a person's.
        why: in words.
    """

    at: datetime
    module: str
    student_id: str
    question_id: str
    kind: str
    case_version: str
    course_version: str
    old_points: float | None
    new_points: float | None
    by_hand: bool
    why: str


def mark_history(cls: ClassFolder, module: str | None = None, student: str | None = None) -> list[MarkChange]:
    """Return every change of a mark, the oldest first.

    Args:
        cls: the class.
        module: one module; None for all.
        student: one student, also one who has left the roster; None for all.

    Raises:
        CourseError: nobody of that id is or was in the class, or the gradebook can't be read.
    """
    from sqlalchemy import select

    from brakecourse.classroom.engine.history_table import HistoryRow
    from brakecourse.classroom.engine.ledger import Ledger

    query = select(HistoryRow).order_by(HistoryRow.id)
    if module is not None:
        query = query.where(HistoryRow.module == module)
    if student is not None:
        query = query.where(HistoryRow.student_id == student)
    with Ledger(cls) as ledger, ledger.reading() as book:
        rows = book.db.scalars(query).all()
        if student is not None and not rows:
            cls.student(student)
        return [
            MarkChange(
                at=row.at.replace(tzinfo=UTC),
                module=row.module,
                student_id=row.student_id,
                question_id=row.question_id,
                kind=row.kind,
                case_version=row.case_version,
                course_version=row.course_version,
                old_points=row.old_points,
                new_points=row.new_points,
                by_hand=row.by_hand,
                why=row.why,
            )
            for row in rows
        ]
