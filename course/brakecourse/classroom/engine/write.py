"""Store what became of one submission: nbgrader's grades and the course's records, both or neither."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from nbgrader.api import (
    Assignment,
    BaseCell,
    Comment,
    Grade,
    Gradebook,
    MissingEntry,
    Notebook,
    Student,
    SubmittedAssignment,
    SubmittedNotebook,
)
from nbgrader.utils import parse_utc
from sqlalchemy import bindparam, delete, insert, select, update

import brakecourse
from brakecourse.classroom.engine.history import (
    Key,
    Seen,
    look,
    marked_answers,
    notice_one,
    record_changes,
    record_status,
)
from brakecourse.classroom.engine.history_table import COULD_NOT, EXCUSED, GRADED
from brakecourse.classroom.engine.judging import Judged
from brakecourse.classroom.engine.kept import keeping
from brakecourse.classroom.engine.ledger import Ledger, Outcome, QuestionMark
from brakecourse.classroom.engine.plan import Plan
from brakecourse.classroom.engine.reasons import why_graded
from brakecourse.classroom.engine.standing import Standing
from brakecourse.classroom.engine.work import Worked
from brakecourse.classroom.files import reporting_disk_trouble
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError

__all__ = ["COULD_NOT", "EXCUSED", "GRADED", "ChangedSince", "RunRecord", "new_standings", "store"]


Change = tuple[str, dict[str, object]]
"""A row's id, and its new values by the columns' names."""


class ChangedSince(Exception):
    """A student's marks are no longer those that the new ones were held against."""


@dataclass(frozen=True)
class RunRecord:
    """How one submission was graded.

    Attributes:
        student_id: whose it is.
        status: graded, or could not be graded.
        why: for a teacher, in words: why not, or what went wrong while it ran.
        healed: what was put right before it was run.
        submission_sha256: of the notebook's bytes; empty when it has to be graded once more.
        case_version: the sealed case it was marked by.
        shut_in: whether its code was shut in.
        duration_s: seconds it took.
    """

    student_id: str
    status: str
    why: str = ""
    healed: tuple[str, ...] = ()
    submission_sha256: str = ""
    case_version: str = ""
    shut_in: bool = True
    duration_s: float = 0.0

    @property
    def machines_fault(self) -> bool:
        """Whether it was this machine that could not grade it, so that nothing is known of the work."""
        return self.status == COULD_NOT and not self.submission_sha256


def store(
    cls: ClassFolder,
    ledger: Ledger,
    plan: Plan,
    record: RunRecord,
    worked: Worked | None = None,
    seen: Mapping[str, Standing] | None = None,
) -> None:
    """Store one submission's outcome, and every change of a mark in the history.

    Args:
        cls: the class.
        ledger: its gradebook.
        plan: what the module asks.
        record: how it went.
        worked: the judged notebook, which is also kept in `autograded/` for a person to look at; None when
            the submission could not be graded.
        seen: how the questions stood, by id, when a person agreed to the change.

    Raises:
        CourseError: the gradebook or the folder can't be written; then nothing of this submission is stored.
        ChangedSince: the questions stand otherwise than they were seen; nothing is stored.
    """
    student = record.student_id
    judged = worked.judged if worked else ()
    with (
        reporting_disk_trouble(f"store the grades of student {student}"),
        keeping(cls, plan.module, student, worked.text if worked else None) as kept,
        ledger.transaction() as book,
    ):
        found = look(book, plan, student)
        if seen is not None and found.now != seen:
            raise ChangedSince(student)
        # First what was changed elsewhere, so that it does not show as a change of this run.
        found = notice_one(book, plan, student, found)
        before = book.db.get(Outcome, (plan.module, student))
        if before is not None and before.submission_sha256 and record.machines_fault:
            return  # what is known of the work stays; it is tried again
        why = why_graded(before, plan, record.submission_sha256, record.case_version)
        after = new_standings(book, plan, student, found, worked)
        stored = _store_grades(book, plan, _submitted_notebook(cls, book, plan, student), after, worked)
        store_records(book, plan, record, judged)
        kept.note(book)
        _store_history(book, plan, record, judged, why, Seen(stored, found.known))


def new_standings(
    book: Gradebook, plan: Plan, student: str, found: Seen, worked: Worked | None
) -> dict[str, Standing]:
    """Return how a student's questions will stand when an outcome is stored. Nothing is changed.

    Args:
        book: the gradebook.
        plan: what the module asks.
        student: whose.
        found: how they stand.
        worked: the judged notebook, or None when the submission could not be graded.
    """
    now = found.now
    if worked is None:
        return {question.id: now.get(question.id, Standing()).cleared() for question in plan.questions}
    by_hand = any(one.manual is not None for one in now.values())
    marked = marked_answers(book, plan, student, found) if by_hand else {}
    return {
        one.question.id: now.get(one.question.id, Standing()).graded(
            worked.scores[one.question.grade_id].points, marked.get(one.question.id) == one.answer
        )
        for one in worked.judged
    }


def _submitted_notebook(cls: ClassFolder, book: Gradebook, plan: Plan, student_id: str) -> str:
    """Return the id of nbgrader's row for a student's notebook, made or brought up to date.

    nbgrader makes it. But its way of bringing one up to date asks for the same things again and again, so
    what is there already is compared first.
    """
    values = cls.student(student_id).gradebook_values
    known = book.db.get(Student, student_id)
    if known is None or any(getattr(known, name) != value for name, value in values.items()):
        book.update_or_create_student(student_id, **values)
    stamp = handed_in_at(cls, plan.module, student_id)
    naive = stamp.replace(tzinfo=None) if stamp else None
    row = _submission_row(book, plan.module, student_id)
    if row is None:
        try:
            book.add_submission(plan.module, student_id, timestamp=naive)
        except MissingEntry as error:
            raise CourseError(
                f"The gradebook does not know module {plan.module}; "
                f"give 'brakecourse assign {cls.root} {plan.module}' again."
            ) from error
        row = _submission_row(book, plan.module, student_id)
        assert row is not None
    assignment_id, notebook_id, timestamp = row
    if timestamp != naive:
        table: Any = SubmittedAssignment.__table__
        book.db.execute(update(table).where(table.c.id == assignment_id).values(timestamp=naive))
    return notebook_id


def _submission_row(book: Gradebook, module: str, student_id: str) -> Any:
    return book.db.execute(_SUBMISSION, {"module": module, "student": student_id}).one_or_none()


# Statements are put together once: that takes longer than asking.
_SUBMISSION = (
    select(SubmittedAssignment.id, SubmittedNotebook.id, SubmittedAssignment.timestamp)
    .join(Assignment, SubmittedAssignment.assignment_id == Assignment.id)
    .join(SubmittedNotebook, SubmittedNotebook.assignment_id == SubmittedAssignment.id)
    .join(Notebook, SubmittedNotebook.notebook_id == Notebook.id)
    .where(Assignment.name == bindparam("module"), SubmittedAssignment.student_id == bindparam("student"))
    .where(Notebook.name == bindparam("module"))
)


def _cell_rows(table: Any, *columns: Any) -> Any:
    """Return the question for a notebook's rows: the id, the name of the cell, and some columns."""
    query = select(table.id, BaseCell.name, *columns).join(BaseCell, table.cell_id == BaseCell.id)
    return query.where(table.notebook_id == bindparam("notebook"))


_GRADES = _cell_rows(Grade, Grade.auto_score, Grade.needs_manual_grade)
_COMMENTS = _cell_rows(Comment, Comment.auto_comment)


def handed_in_at(cls: ClassFolder, module: str, student_id: str) -> datetime | None:
    """Return when a submission was handed in, in UTC, or None when that was not written down."""
    path = cls.submitted_notebook(module, student_id).with_name("timestamp.txt")
    try:
        text = path.read_text(encoding="utf-8").strip()
        stamp = _usual_time(text) or parse_utc(text)
    except (OSError, ValueError, OverflowError):
        return None
    return stamp.replace(tzinfo=UTC)


def _usual_time(text: str) -> datetime | None:
    """Read a time as the course writes it. Whatever else somebody wrote takes far longer to read."""
    try:
        return datetime.strptime(text, "%Y-%m-%d %H:%M:%S.%f UTC")
    except ValueError:
        return None


def _store_grades(
    book: Gradebook, plan: Plan, notebook_id: str, after: Mapping[str, Standing], worked: Worked | None
) -> dict[str, Standing]:
    """Write how the questions stand into nbgrader's tables; return those that have a row there."""
    question_of = {question.grade_id: question.id for question in plan.questions}
    stored: dict[str, Standing] = {}
    changes: list[Change] = []
    for row_id, name, auto, waiting in book.db.execute(_GRADES, {"notebook": notebook_id}):
        standing = stored[question_of[name]] = after[question_of[name]]
        if (auto, waiting) != (standing.auto, standing.waiting):
            changes.append((row_id, {"auto_score": standing.auto, "needs_manual_grade": standing.waiting}))
    _update(book, Grade, changes)
    if worked is not None:
        comments: list[Change] = []
        for row_id, name, words in book.db.execute(_COMMENTS, {"notebook": notebook_id}):
            score = worked.scores.get(name)
            new = "No response." if score is None or score.empty else None
            if words != new:
                comments.append((row_id, {"auto_comment": new}))
        _update(book, Comment, comments)
    return stored


def _update(book: Gradebook, table: Any, changes: Sequence[Change]) -> None:
    if changes:
        rows = table.__table__
        values: dict[str, Any] = {name: bindparam(name) for name in changes[0][1]}
        statement = update(rows).where(rows.c.id == bindparam("row_id")).values(values)
        book.db.connection().execute(statement, [{"row_id": row_id, **new} for row_id, new in changes])


def _store_history(
    book: Gradebook, plan: Plan, record: RunRecord, judged: Sequence[Judged], why: str, after: Seen
) -> None:
    if record.machines_fault:
        return  # nothing was found out about the work
    key, student = Key(record.case_version), record.student_id
    why = f"{why} {record.why}".strip()
    words = {one.question.id: f"{why} {one.mark.words if one.mark else ''}".strip() for one in judged}
    record_status(book, plan, student, record.status, why, key, after.known)
    record_changes(book, plan, student, record.status, words or why, key, after)


def store_records(book: Gradebook, plan: Plan, record: RunRecord, judged: Sequence[Judged]) -> None:
    """Write the course's own records of one submission, in a transaction that is already begun."""
    key = {"module": plan.module, "student_id": record.student_id}
    book.db.merge(
        Outcome(
            **key,
            status=record.status,
            why=record.why,
            healed=list(record.healed),
            submission_sha256=record.submission_sha256,
            case_version=record.case_version,
            template_sha256=plan.sha256,
            course_version=brakecourse.__version__,
            shut_in=record.shut_in,
            graded_at=datetime.now(UTC).replace(tzinfo=None),
            duration_s=round(record.duration_s, 3),
        )
    )
    book.db.execute(
        delete(QuestionMark).where(
            QuestionMark.module == plan.module, QuestionMark.student_id == record.student_id
        )
    )
    if judged:
        book.db.execute(insert(QuestionMark), [{**key, **_mark_row(one)} for one in judged])


_NO_MARK: dict[str, object] = {
    "expected": "",
    "tolerance": "",
    "how": "",
    "mistake": None,
    "words": "",
    "lesson": "",
    "carried_forward": False,
}


def _mark_row(one: Judged) -> dict[str, object]:
    question, mark = one.question, one.mark
    row: dict[str, object] = {
        "question_id": question.id,
        "out_of": question.points,
        "status": one.status,
        "answer": one.answer,
        "points": None,
    }
    if mark is None:
        return row | _NO_MARK | {"given": str(one.answer)}
    return row | {
        "points": mark.points,
        "given": mark.given,
        "expected": mark.expected,
        "tolerance": mark.tolerance,
        "how": mark.how,
        "mistake": mark.mistake,
        "words": mark.words,
        "lesson": mark.lesson,
        "carried_forward": mark.carried_forward,
    }
