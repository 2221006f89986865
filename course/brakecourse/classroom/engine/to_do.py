"""What has to be graded of a module, and how it gets to whoever grades it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import select

from brakecourse.classroom.engine.farm import Done, Farm, Job
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.ledger import Ledger, Outcome
from brakecourse.classroom.engine.plan import Plan, case_bytes, case_in
from brakecourse.classroom.engine.prepare import SOLUTIONS
from brakecourse.classroom.engine.reading import Unreadable
from brakecourse.classroom.engine.reasons import key_changes
from brakecourse.classroom.engine.report import NOT_HANDED_IN, GradeRow
from brakecourse.classroom.engine.submissions import Submission, find_submission
from brakecourse.classroom.engine.write import COULD_NOT, EXCUSED, GRADED, RunRecord
from brakecourse.classroom.folder import ClassFolder


@dataclass(frozen=True)
class ToDo:
    """A submission that has to be graded. Its bytes are read when its turn comes."""

    module: str
    student_id: str

    def job(self, cls: ClassFolder, plan: Plan, limits: Limits, trust_files: bool) -> Job | Done:
        """Return the job, or what became of it when there is nothing that could be run."""
        submission = find_submission(cls, plan, self.student_id)
        notes = submission.notes if submission else ()
        try:
            if submission is None:
                raise Unreadable("The file that was handed in is gone; take it in again, then grade again.")
            case = case_bytes(cls, plan.module, self.student_id)
            if submission.trouble:
                raise Unreadable(submission.trouble)
        except Unreadable as error:
            return Done(plan.module, RunRecord(self.student_id, COULD_NOT, str(error), notes))
        return Job(
            self.student_id,
            plan,
            submission.content,
            submission.sha256,
            case,
            notes,
            limits,
            (cls.root, SOLUTIONS),
            trust_files,
        )


def all_done(jobs: Iterator[Job | Done], farm: Farm) -> Iterator[Done]:
    """Let the farm do the jobs; what needs none comes out as it is."""
    settled: list[Done] = []

    def for_the_farm() -> Iterator[Job]:
        for one in jobs:
            if isinstance(one, Job):
                yield one
            else:
                settled.append(one)

    for done in farm.run(for_the_farm()):
        yield from _taken(settled)
        yield done
    yield from _taken(settled)


def _taken(settled: list[Done]) -> list[Done]:
    taken, settled[:] = settled[:], []
    return taken


def chosen_students(cls: ClassFolder, module: str, students: Sequence[str] | None) -> tuple[str, ...]:
    """Return whom to look at, in the roster's order.

    Raises:
        CourseError: one of them is not in the class.
    """
    taking = cls.taking(module)
    if students is None:
        return taking
    for student in students:
        cls.student(student)
    return tuple(student for student in taking if student in set(students))


def sorted_out(
    cls: ClassFolder, ledger: Ledger, plan: Plan, students: Sequence[str], force: bool = False
) -> tuple[list[GradeRow], list[ToDo]]:
    """Tell the students for whom nothing has to be run from the submissions to grade.

    Work that was graded keeps its marks as long as it does not change itself. When only the answer key has
    changed (the sealed case, the handed-out notebook, the course), its row says so.

    Args:
        cls: the class.
        ledger: its gradebook.
        plan: what the module asks.
        students: whom to look at.
        force: grade whatever was handed in.
    """
    with ledger.reading() as book:
        rows = book.db.scalars(select(Outcome).where(Outcome.module == plan.module))
        stored: Mapping[str, Outcome] = {row.student_id: row for row in rows}
    settled: list[GradeRow] = []
    to_do: list[ToDo] = []
    for student in students:
        known = stored.get(student)
        submission = find_submission(cls, plan, student)
        row: GradeRow | None = None
        if known is not None and known.status == EXCUSED:
            row = GradeRow(student, EXCUSED, known.why)
        elif submission is None:
            row = GradeRow(student, NOT_HANDED_IN)
        elif known is not None and not force:
            row = _as_it_was(cls, plan, submission, known)
        if row is not None:
            settled.append(row)
        else:
            to_do.append(ToDo(plan.module, student))
    return settled, to_do


def _as_it_was(cls: ClassFolder, plan: Plan, submission: Submission, known: Outcome) -> GradeRow | None:
    """Return the row of a submission that stays as it was graded, or None when it has to be graded."""
    if known.submission_sha256 != submission.sha256:
        return None
    changes = key_changes(known, plan, _case_version(cls, plan, known))
    if changes and known.status != GRADED:
        return None  # it has no marks that could change
    return GradeRow(known.student_id, known.status, known.why, tuple(known.healed), held=" ".join(changes))


def _case_version(cls: ClassFolder, plan: Plan, known: Outcome) -> str:
    """Return the version of a student's sealed case now, or nothing when it can't be read."""
    try:
        content = case_bytes(cls, plan.module, known.student_id)
        if known.case_version.endswith(hashlib.sha256(content).hexdigest()[:16]):
            return known.case_version  # the very same file
        return case_in(content, plan.module, known.student_id).version
    except Unreadable:
        return ""
