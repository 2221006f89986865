"""Grade a module for a class: student by student, several at a time, each stored as soon as it is done."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from dataclasses import dataclass

from sqlalchemy import select

import brakecourse
from brakecourse.classroom.engine.execute import KernelTrouble
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.ledger import Ledger, Outcome
from brakecourse.classroom.engine.plan import Plan, read_case, read_plan
from brakecourse.classroom.engine.prepare import SOLUTIONS
from brakecourse.classroom.engine.reading import Unreadable
from brakecourse.classroom.engine.sandbox import Protection, require_protection
from brakecourse.classroom.engine.submissions import Submission, find_submission
from brakecourse.classroom.engine.work import Setting, Worked, work
from brakecourse.classroom.engine.write import COULD_NOT, EXCUSED, GRADED, RunRecord, store
from brakecourse.classroom.folder import ClassFolder, Progress

NOT_HANDED_IN = "not handed in"


@dataclass(frozen=True)
class GradeRow:
    """What became of one student in a grading run.

    Attributes:
        student_id: who.
        status: graded, could not be graded, not handed in, or excused.
        why: what went wrong, in words.
        healed: what was put right in the notebook, a sentence each.
        fresh: graded in this run; False when nothing had changed since the last one.
        seconds: what it took.
    """

    student_id: str
    status: str
    why: str = ""
    healed: tuple[str, ...] = ()
    fresh: bool = False
    seconds: float = 0.0


@dataclass(frozen=True)
class GradeReport:
    """A grading run: one row for each student asked for, in the roster's order."""

    module: str
    rows: tuple[GradeRow, ...]
    protection: Protection
    seconds: float

    def count(self, status: str) -> int:
        """How many students have a status."""
        return sum(row.status == status for row in self.rows)

    @property
    def fresh(self) -> int:
        """How many submissions were graded in this run."""
        return sum(row.fresh for row in self.rows)


def grade(
    cls: ClassFolder,
    module: str,
    students: Sequence[str] | None = None,
    trust_files: bool = False,
    progress: Progress | None = None,
    *,
    force: bool = False,
    workers: int = 2,
    limits: Limits | None = None,
) -> GradeReport:
    """Grade what was handed in for a module.

    A submission that was graded before is graded again only when it, its sealed case or the course changed.
    Marks given by hand stay. One submission that can't be graded never stops the others.

    Args:
        cls: the class.
        module: the module's name.
        students: only these; None for everybody in the roster.
        trust_files: run the notebooks even where nothing shuts them in.
        progress: told how far the work is; first of all how the notebooks are shut in.
        force: grade again what has not changed, too.
        workers: how many submissions are run at a time.
        limits: how much one submission may use; None for the class's settings.

    Returns:
        One row a student.

    Raises:
        CourseError: the module or a student is unknown, nothing shuts strangers' code in, or the gradebook
            can't be written. What was stored before stays.
    """
    started = time.monotonic()
    plan = read_plan(cls, module)
    chosen = _chosen(cls, module, students)
    shut_in = require_protection(trust_files)
    setting = Setting(
        shut_in,
        limits or Limits(cell_s=cls.settings.cell_timeout_s),
        (cls.root, SOLUTIONS),
        threading.Event(),
    )
    with Ledger(cls) as ledger:
        rows, to_do = _sorted_out(cls, ledger, plan, chosen, force)
        tell = _teller(progress, len(chosen))
        tell(0, shut_in.words)
        for row in rows.values():
            tell(1, _words(row))
        for row in _run(cls, ledger, plan, to_do, setting, workers):
            rows[row.student_id] = row
            tell(1, _words(row))
    ordered = tuple(rows[student] for student in chosen)
    return GradeReport(module, ordered, shut_in, time.monotonic() - started)


def _chosen(cls: ClassFolder, module: str, students: Sequence[str] | None) -> tuple[str, ...]:
    taking = cls.taking(module)
    if students is None:
        return taking
    for student in students:
        cls.student(student)
    return tuple(student for student in taking if student in set(students))


def _sorted_out(
    cls: ClassFolder, ledger: Ledger, plan: Plan, students: Sequence[str], force: bool
) -> tuple[dict[str, GradeRow], list[Submission]]:
    """Tell the students for whom nothing has to be run from the submissions to grade."""
    with ledger.reading() as book:
        rows = book.db.scalars(select(Outcome).where(Outcome.module == plan.module))
        stored = {row.student_id: row for row in rows}
    settled: dict[str, GradeRow] = {}
    to_do: list[Submission] = []
    for student in students:
        known = stored.get(student)
        submission = find_submission(cls, plan, student)
        if known is not None and known.status == EXCUSED:
            settled[student] = GradeRow(student, EXCUSED, known.why)
        elif submission is None:
            settled[student] = GradeRow(student, NOT_HANDED_IN)
        elif known is not None and not force and _unchanged(cls, plan, submission, known):
            settled[student] = GradeRow(student, known.status, known.why, tuple(known.healed))
        else:
            to_do.append(submission)
    return settled, to_do


def _unchanged(cls: ClassFolder, plan: Plan, submission: Submission, known: Outcome) -> bool:
    try:
        version = read_case(cls, plan.module, submission.student_id).version
    except Unreadable:
        return False
    return (submission.sha256, version, plan.sha256, brakecourse.__version__) == (
        known.submission_sha256,
        known.case_version,
        known.template_sha256,
        known.course_version,
    )


def _run(
    cls: ClassFolder,
    ledger: Ledger,
    plan: Plan,
    submissions: Sequence[Submission],
    setting: Setting,
    workers: int,
) -> Iterator[GradeRow]:
    """Run submissions several at a time and store each as soon as it is done."""
    with ThreadPoolExecutor(max(1, workers), "brakecourse-grade") as pool:
        waiting = [pool.submit(_one, cls, plan, submission, setting) for submission in submissions]
        try:
            for future in as_completed(waiting):
                record, worked = future.result()
                if worked is None:
                    store(cls, ledger, plan, record)
                else:
                    store(cls, ledger, plan, record, worked.judged, worked.notebook)
                yield GradeRow(
                    record.student_id, record.status, record.why, record.healed, True, record.duration_s
                )
        finally:
            # Also on Ctrl-C: no kernel is left running, and what was stored stays.
            setting.stop.set()
            pool.shutdown(wait=True, cancel_futures=True)


def _one(
    cls: ClassFolder, plan: Plan, submission: Submission, setting: Setting
) -> tuple[RunRecord, Worked | None]:
    """Grade one submission. Whatever is wrong with it becomes its own status, in words."""
    started = time.monotonic()
    version = digest = ""
    worked: Worked | None = None
    try:
        case = read_case(cls, plan.module, submission.student_id)
        version = case.version
        if submission.trouble:
            raise Unreadable(submission.trouble)
        digest = submission.sha256
        worked = work(submission.content, plan, case, setting, submission.notes)
        why = " ".join(worked.troubles)
    except Unreadable as error:
        why = str(error)
    except KernelTrouble as error:
        # Without a fingerprint nothing counts as unchanged: what this machine could not do is tried again.
        digest, why = "", f"The program that runs notebooks did not start ({error}); grade again."
    except Exception as error:
        # A submission nobody thought of must not stop the class; a teacher sees what to report.
        digest, why = "", f"Grading met something unforeseen ({type(error).__name__}: {str(error)[:200]})."
    record = RunRecord(
        student_id=submission.student_id,
        status=GRADED if worked else COULD_NOT,
        why=why,
        healed=worked.healed if worked else submission.notes,
        submission_sha256=digest,
        case_version=version,
        shut_in=not setting.shut_in.missing,
        duration_s=time.monotonic() - started,
    )
    return record, worked


def _teller(progress: Progress | None, total: int) -> Callable[[int, str], None]:
    done = 0

    def tell(more: int, words: str) -> None:
        nonlocal done
        done += more
        if progress:
            progress(done, total, words)

    return tell


def _words(row: GradeRow) -> str:
    return f"{row.student_id}: {row.status}" + (
        "" if row.fresh or row.status != GRADED else " before, unchanged"
    )
