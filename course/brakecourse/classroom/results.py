"""Everyone's work for a module, put together from the gradebook, the submissions and the class's settings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from nbgrader.api import (
    Assignment,
    BaseCell,
    Comment,
    Grade,
    Gradebook,
    SubmittedAssignment,
    SubmittedNotebook,
)
from sqlalchemy import Row, Select, inspect, select

from brakecourse.classroom.engine.judging import WAITING
from brakecourse.classroom.engine.ledger import HandMark, Ledger, Outcome, QuestionMark
from brakecourse.classroom.engine.plan import Plan, PlannedQuestion, read_plan
from brakecourse.classroom.engine.submissions import find_submission
from brakecourse.classroom.engine.write import EXCUSED, GRADED, handed_in_at
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.lateness import days_late, penalty_share
from brakecourse.classroom.records import GradeRecord, Status
from brakecourse.classroom.roster import RosterEntry

NOT_GRADED_YET = "It was handed in, but not graded yet; give 'brakecourse grade'."
CHANGED_SINCE = "Something newer was handed in since it was graded; give 'brakecourse grade' again."


@dataclass(frozen=True)
class QuestionResult:
    """Everything about one answer, as the page for the student shows it; its mark a row of `QuestionMark`."""

    question: PlannedQuestion
    mark: Row[Any] | None
    auto_points: float | None
    hand_points: float | None
    comment: str
    waiting: bool

    @property
    def points(self) -> float | None:
        """The points that count. A person's word goes before the machine's."""
        if self.waiting:
            return None
        if self.hand_points is not None:
            return self.hand_points
        return self.auto_points

    @property
    def status(self) -> str:
        """How the answer fared, in words. Points given by hand go before what the machine found."""
        points, out_of = self.points, self.question.points
        if points is None:
            return WAITING
        if self.hand_points is None and self.mark is not None:
            return self.mark.status
        return "right" if points >= out_of else "partly right" if points > 0 else "wrong"


@dataclass(frozen=True)
class StudentResult:
    """Everything about one student's work for one module."""

    record: GradeRecord
    questions: tuple[QuestionResult, ...]


def student_results(cls: ClassFolder, module: str) -> list[StudentResult]:
    """Return everything about everyone's work for a module, in the roster's order.

    Raises:
        CourseError: the module is unknown or was not handed out, or the gradebook can't be read.
    """
    plan = read_plan(cls, module)
    with Ledger(cls) as ledger, ledger.reading() as book:
        stored = _Stored(book, plan)
        taking = set(cls.taking(module))
        return [
            _student_result(cls, plan, stored, entry) for entry in cls.roster if entry.student_id in taking
        ]


class _Stored:
    """What the gradebook holds for one module, read at once: a query a table, however big the class."""

    def __init__(self, book: Gradebook, plan: Plan) -> None:
        self._plan = plan
        rows = book.db.scalars(select(Outcome).where(Outcome.module == plan.module))
        self.outcomes = {row.student_id: row for row in rows}
        # Plain rows: a big class has thousands, and objects that could be changed would take twice as long.
        columns = inspect(QuestionMark).columns
        marks = book.db.execute(select(*columns).where(QuestionMark.module == plan.module))
        self.marks = {(row.student_id, row.question_id): row for row in marks}
        hands = book.db.scalars(select(HandMark).where(HandMark.module == plan.module))
        self.hands = {(row.student_id, row.question_id): row for row in hands}
        self.extensions: dict[str, timedelta | None] = {
            student: extension
            for student, extension in book.db.execute(
                select(SubmittedAssignment.student_id, SubmittedAssignment.extension)
                .join(Assignment, Assignment.id == SubmittedAssignment.assignment_id)
                .where(Assignment.name == plan.module)
            )
        }
        # A cell's name is nbgrader's, and its grade and comment hang on it; a row is told by both.
        self._grades = {
            (row.student_id, row.name): row
            for row in book.db.execute(
                _of_module(plan, Grade, Grade.auto_score, Grade.manual_score, Grade.needs_manual_grade)
            )
        }
        self._comments = {
            (row.student_id, row.name): row.manual_comment
            for row in book.db.execute(_of_module(plan, Comment, Comment.manual_comment))
        }

    def questions(self, student_id: str) -> tuple[QuestionResult, ...]:
        if student_id not in self.extensions:
            return ()
        return tuple(self._question(student_id, question) for question in self._plan.questions)

    def _question(self, student_id: str, question: PlannedQuestion) -> QuestionResult:
        hand = self.hands.get((student_id, question.id))
        cell = (student_id, question.grade_id)
        grade, comment = self._grades[cell], self._comments.get(cell)
        return QuestionResult(
            question=question,
            mark=self.marks.get((student_id, question.id)),
            # Points come from nbgrader's own table alone; the course's table holds the words.
            auto_points=grade.auto_score,
            hand_points=grade.manual_score,
            # A comment can also have been written in nbgrader's form grader.
            comment=comment or (hand.comment if hand is not None else ""),
            # nbgrader's own autograde leaves a task without points and without this sign.
            waiting=bool(grade.needs_manual_grade) or grade.auto_score is grade.manual_score is None,
        )


def _of_module(plan: Plan, kind: type[Grade] | type[Comment], *columns: Any) -> Select[Any]:
    """Select columns of everybody's grades or comments of a module, with whose and which cell's they are."""
    return (
        select(SubmittedAssignment.student_id, BaseCell.name, *columns)
        .select_from(kind)
        .join(BaseCell, BaseCell.id == kind.cell_id)
        .join(SubmittedNotebook, SubmittedNotebook.id == kind.notebook_id)
        .join(SubmittedAssignment, SubmittedAssignment.id == SubmittedNotebook.assignment_id)
        .join(Assignment, Assignment.id == SubmittedAssignment.assignment_id)
        .where(Assignment.name == plan.module)
    )


def _student_result(cls: ClassFolder, plan: Plan, stored: _Stored, entry: RosterEntry) -> StudentResult:
    submission = find_submission(cls, plan, entry.student_id)
    outcome = stored.outcomes.get(entry.student_id)
    when = handed_in_at(cls, plan.module, entry.student_id) if submission is not None else None
    extension = stored.extensions.get(entry.student_id)
    late = days_late(when, cls.settings.due_utc(plan.module), extension)
    shared = _Shared(entry, plan, late, when, tuple(outcome.healed) if outcome is not None else ())
    if outcome is not None and outcome.status == EXCUSED:
        return StudentResult(shared.record("excused", outcome.why), ())
    if submission is None:
        return StudentResult(shared.record("not handed in", ""), ())
    if outcome is None:
        return StudentResult(shared.record("could not be graded", NOT_GRADED_YET), ())
    questions = stored.questions(entry.student_id)
    notes = [outcome.why]
    if outcome.submission_sha256 and outcome.submission_sha256 != submission.sha256:
        notes.append(CHANGED_SINCE)
    why = " ".join(filter(None, notes))
    return StudentResult(shared.scored(cls, outcome, why, questions), questions)


@dataclass(frozen=True)
class _Shared:
    """What every record of a student has, whatever became of the work."""

    entry: RosterEntry
    plan: Plan
    days_late: int
    handed_in_at: datetime | None
    healed: tuple[str, ...]

    def record(self, status: Status, why: str) -> GradeRecord:
        """Return a record without any points."""
        return GradeRecord(
            student_id=self.entry.student_id,
            first_name=self.entry.first_name,
            last_name=self.entry.last_name,
            module=self.plan.module,
            status=status,
            why=why,
            auto_points=None,
            hand_points=None,
            waiting_questions=(),
            raw_score=None,
            max_score=self.plan.max_score,
            days_late=self.days_late,
            late_penalty=None,
            final_score=None,
            healed=self.healed,
            handed_in_at=self.handed_in_at,
        )

    def scored(
        self, cls: ClassFolder, outcome: Outcome, why: str, questions: Sequence[QuestionResult]
    ) -> GradeRecord:
        """Return a record with the points that are there."""
        waiting = tuple(one.question.id for one in questions if one.points is None)
        if outcome.status != GRADED and waiting:
            return self.record("could not be graded", why)
        with_points = replace(
            self.record("waiting for hand-grading" if waiting else "graded", why),
            auto_points=_sum(one.points for one in questions if not one.question.by_hand),
            hand_points=_sum(one.points for one in questions if one.question.by_hand),
            waiting_questions=waiting,
            raw_score=_rounded(sum(one.points or 0.0 for one in questions)),
        )
        # Also a notebook that could not be run is graded once a person has marked every question of it.
        return with_points if waiting else _with_penalty(with_points, cls)


def _with_penalty(record: GradeRecord, cls: ClassFolder) -> GradeRecord:
    rules = cls.settings
    share = penalty_share(
        record.days_late, rules.late_penalty_percent_per_day, rules.late_penalty_cap_percent
    )
    penalty = _rounded((record.raw_score or 0.0) * share)
    return replace(record, late_penalty=penalty, final_score=_rounded((record.raw_score or 0.0) - penalty))


def _sum(points: Iterable[float | None]) -> float | None:
    total = 0.0
    for value in points:
        if value is None:
            return None
        total += value
    return _rounded(total)


def _rounded(points: float) -> float:
    """Take off the dust of binary fractions, and no more: points are rounded once, where they are shown."""
    return round(points, 6)
