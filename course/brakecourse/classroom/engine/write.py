"""Store what became of one submission: nbgrader's grades and the course's records, both or neither."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime

import nbformat
from nbformat import NotebookNode
from nbgrader.api import Gradebook, MissingEntry, SubmittedAssignment, SubmittedNotebook
from nbgrader.utils import compute_checksum, determine_grade, is_task, parse_utc
from sqlalchemy import delete, select

import brakecourse
from brakecourse.classroom.engine.judging import Judged
from brakecourse.classroom.engine.ledger import HandMark, Ledger, Outcome, QuestionMark
from brakecourse.classroom.engine.plan import Plan
from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError

GRADED = "graded"
COULD_NOT = "could not be graded"
EXCUSED = "excused"


@dataclass(frozen=True)
class RunRecord:
    """How one submission was graded.

    Attributes:
        student_id: whose it is.
        status: graded, or could not be graded.
        why: for a teacher, in words: why not, or what went wrong while it ran.
        healed: what was put right before it was run.
        submission_sha256: of the notebook's bytes.
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


def store(
    cls: ClassFolder,
    ledger: Ledger,
    plan: Plan,
    record: RunRecord,
    judged: Sequence[Judged] = (),
    notebook: NotebookNode | None = None,
) -> None:
    """Store one submission's outcome.

    Args:
        cls: the class.
        ledger: its gradebook.
        plan: what the module asks.
        record: how it went.
        judged: the questions' outcomes; empty when it could not be graded.
        notebook: the judged notebook, kept in `autograded/` for a person to look at.

    Raises:
        CourseError: the gradebook or the folder can't be written; then nothing of this submission is stored.
    """
    with (
        reporting_disk_trouble(f"store the grades of student {record.student_id}"),
        _kept_notebook(cls, plan.module, record.student_id, notebook),
        ledger.transaction() as book,
    ):
        submission = _submission(cls, book, plan.module, record.student_id)
        if notebook is not None:
            _store_grades(book, plan, submission, notebook, judged)
        else:
            _clear_grades(submission)
        store_records(book, plan, record, judged)


def _submission(cls: ClassFolder, book: Gradebook, module: str, student_id: str) -> SubmittedAssignment:
    entry = cls.student(student_id)
    book.update_or_create_student(
        student_id, first_name=entry.first_name, last_name=entry.last_name, email=entry.email or None
    )
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
        stamp = parse_utc(path.read_text(encoding="utf-8").strip())
    except (OSError, ValueError, OverflowError):
        return None
    return stamp.replace(tzinfo=UTC)


def _store_grades(
    book: Gradebook,
    plan: Plan,
    submission: SubmittedAssignment,
    notebook: NotebookNode,
    judged: Sequence[Judged],
) -> None:
    cells = {cell.metadata.get("nbgrader", {}).get("grade_id"): cell for cell in notebook.cells}
    answers = {one.question.grade_id: one.answer for one in judged}
    seen = _seen_by_hand(book, plan, submission.student.id)
    submitted = _submitted_notebook(submission, plan.module)
    for grade in submitted.grades:
        cell = cells[grade.name]
        grade.auto_score = None if is_task(cell) else determine_grade(cell)[0]
        if grade.manual_score is None:
            grade.needs_manual_grade = grade.auto_score is None
        else:
            # A mark given by hand stays. It needs another look only when it was given for another answer.
            grade.needs_manual_grade = seen.get(grade.name) != answers[grade.name]
    for comment in submitted.comments:
        cell = cells.get(comment.name)
        empty = cell is None or (
            cell.metadata["nbgrader"].get("checksum") == compute_checksum(cell) and not is_task(cell)
        )
        comment.auto_comment = "No response." if empty else None


def _clear_grades(submission: SubmittedAssignment) -> None:
    """A submission that could not be graded has no points, rather than nought or those of an earlier one."""
    for notebook in submission.notebooks:
        for grade in notebook.grades:
            grade.auto_score = None
            grade.needs_manual_grade = True


def _submitted_notebook(submission: SubmittedAssignment, name: str) -> SubmittedNotebook:
    return next(notebook for notebook in submission.notebooks if notebook.name == name)


def _seen_by_hand(book: Gradebook, plan: Plan, student_id: str) -> Mapping[str, object]:
    rows = book.db.scalars(
        select(HandMark).where(HandMark.module == plan.module, HandMark.student_id == student_id)
    )
    return {plan.question(row.question_id).grade_id: row.answer for row in rows}


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


@contextmanager
def _kept_notebook(
    cls: ClassFolder, module: str, student_id: str, notebook: NotebookNode | None
) -> Iterator[None]:
    """Put the judged notebook into `autograded/` when, and only when, the block goes well.

    It is written aside first: a full disk shows before anything is stored, and the rest is a change of name.
    """
    if notebook is None:
        yield
        return
    folder = cls.root / "autograded" / student_id / module
    aside, target = folder / f".{module}.part", folder / f"{module}.ipynb"
    try:
        write_text_whole(aside, nbformat.writes(notebook))
        yield
        os.replace(aside, target)
    finally:
        aside.unlink(missing_ok=True)
    stamp = cls.submitted_notebook(module, student_id).with_name("timestamp.txt")
    if stamp.is_file():
        # nbgrader compares the two times to see whether a submission is newer than what was graded.
        write_text_whole(folder / "timestamp.txt", stamp.read_text(encoding="utf-8"))
