"""Store what became of one submission: nbgrader's grades and the course's records, both or neither."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from nbformat import NotebookNode
from nbgrader.api import (
    BaseCell,
    Comment,
    Grade,
    Gradebook,
    MissingEntry,
    SubmittedAssignment,
    SubmittedNotebook,
)
from nbgrader.utils import compute_checksum, determine_grade, is_task, parse_utc
from sqlalchemy import delete, select

import brakecourse
from brakecourse.classroom.engine.history import (
    Key,
    last_known,
    marked_answers,
    notice,
    record_changes,
    record_status,
)
from brakecourse.classroom.engine.history_table import COULD_NOT, EXCUSED, GRADED
from brakecourse.classroom.engine.judging import Judged
from brakecourse.classroom.engine.kept import keeping
from brakecourse.classroom.engine.ledger import Ledger, Outcome, QuestionMark
from brakecourse.classroom.engine.plan import Plan
from brakecourse.classroom.engine.reasons import why_graded
from brakecourse.classroom.engine.standing import Standing, standings
from brakecourse.classroom.files import reporting_disk_trouble
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError

__all__ = ["COULD_NOT", "EXCUSED", "GRADED", "ChangedSince", "RunRecord", "new_standings", "store"]


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
    judged: Sequence[Judged] = (),
    notebook: NotebookNode | None = None,
    seen: Mapping[str, Standing] | None = None,
) -> None:
    """Store one submission's outcome, and every change of a mark in the history.

    Args:
        cls: the class.
        ledger: its gradebook.
        plan: what the module asks.
        record: how it went.
        judged: the questions' outcomes; empty when it could not be graded.
        notebook: the judged notebook, kept in `autograded/` for a person to look at.
        seen: how the questions stood, by id, when a person agreed to the change.

    Raises:
        CourseError: the gradebook or the folder can't be written; then nothing of this submission is stored.
        ChangedSince: the questions stand otherwise than they were seen; nothing is stored.
    """
    student = record.student_id
    with (
        reporting_disk_trouble(f"store the grades of student {student}"),
        keeping(cls, plan.module, student, notebook) as kept,
        ledger.transaction() as book,
    ):
        if seen is not None and standings(book, plan, [student])[student] != seen:
            raise ChangedSince(student)
        # First what was changed elsewhere, so that it does not show as a change of this run.
        notice(book, plan, [student])
        before = book.db.get(Outcome, (plan.module, student))
        if before is not None and before.status == GRADED and record.machines_fault:
            return  # the marks that are there stay; it is tried again
        why = why_graded(before, plan, record.submission_sha256, record.case_version)
        submission = _submission(cls, book, plan.module, student)
        _store_grades(book, plan, submission, notebook, judged)
        store_records(book, plan, record, judged)
        kept.note(book)
        _store_history(book, plan, record, judged, why)


def new_standings(
    book: Gradebook, plan: Plan, student: str, notebook: NotebookNode | None, judged: Sequence[Judged]
) -> dict[str, Standing]:
    """Return how a student's questions will stand when an outcome is stored. Nothing is changed."""
    now = standings(book, plan, [student])[student]
    if notebook is None:
        return {question.id: now.get(question.id, Standing()).cleared() for question in plan.questions}
    marked = marked_answers(book, plan, student, now, last_known(book, plan, [student])[student])
    cells = _cells(notebook)
    return {
        one.question.id: now.get(one.question.id, Standing()).graded(
            _auto_score(cells[one.question.grade_id]), marked.get(one.question.id) == one.answer
        )
        for one in judged
    }


def _submission(cls: ClassFolder, book: Gradebook, module: str, student_id: str) -> SubmittedAssignment:
    entry = cls.student(student_id)
    book.update_or_create_student(student_id, **entry.gradebook_values)
    stamp = handed_in_at(cls, module, student_id)
    try:
        return book.update_or_create_submission(
            module, student_id, timestamp=stamp.replace(tzinfo=None) if stamp else None
        )
    except MissingEntry as error:
        raise CourseError(
            f"The gradebook does not know module {module}; "
            f"give 'brakecourse assign {cls.root} {module}' again."
        ) from error


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
    book: Gradebook,
    plan: Plan,
    submission: SubmittedAssignment,
    notebook: NotebookNode | None,
    judged: Sequence[Judged],
) -> None:
    after = new_standings(book, plan, submission.student.id, notebook, judged)
    by_cell = {question.grade_id: after[question.id] for question in plan.questions}
    submitted = next(one for one in submission.notebooks if one.name == plan.module)
    for grade, name in _with_names(book, Grade, submitted):
        grade.auto_score = by_cell[name].auto
        grade.needs_manual_grade = by_cell[name].waiting
    if notebook is None:
        return
    cells = _cells(notebook)
    for comment, name in _with_names(book, Comment, submitted):
        cell = cells.get(name)
        empty = cell is None or (
            cell.metadata["nbgrader"].get("checksum") == compute_checksum(cell) and not is_task(cell)
        )
        comment.auto_comment = "No response." if empty else None


def _with_names(book: Gradebook, table: type[Any], submitted: SubmittedNotebook) -> Iterable[tuple[Any, str]]:
    """Return a notebook's rows with the names of their cells, asked for at once and not one by one."""
    query = select(table, BaseCell.name).join(BaseCell, table.cell_id == BaseCell.id)
    return [(row, name) for row, name in book.db.execute(query.where(table.notebook_id == submitted.id))]


def _cells(notebook: NotebookNode) -> dict[str | None, NotebookNode]:
    return {cell.metadata.get("nbgrader", {}).get("grade_id"): cell for cell in notebook.cells}


def _auto_score(cell: NotebookNode) -> float | None:
    return None if is_task(cell) else determine_grade(cell)[0]


def _store_history(
    book: Gradebook, plan: Plan, record: RunRecord, judged: Sequence[Judged], why: str
) -> None:
    key, student = Key(record.case_version), record.student_id
    why = f"{why} {record.why}".strip()
    words = {one.question.id: f"{why} {one.mark.words if one.mark else ''}".strip() for one in judged}
    record_status(book, plan, student, record.status, why, key)
    record_changes(book, plan, student, record.status, words or why, key)


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
    book.db.add_all(QuestionMark(**key, **_mark_row(one)) for one in judged)


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
        return row | {"given": str(one.answer)}
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
