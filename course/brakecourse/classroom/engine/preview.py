"""Grade again, but look first: work everything out, show what would change, store it when a person agrees.

Nothing is written until `accept`, and then exactly what was shown: a student whose work or marks changed in
between is left as they are.
"""

from __future__ import annotations

import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, field

from nbgrader.api import Gradebook

from brakecourse.classroom.engine.farm import Done, Farm, LocalFarm
from brakecourse.classroom.engine.history import look
from brakecourse.classroom.engine.kept import finish_killed_runs
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.ledger import Ledger, Outcome
from brakecourse.classroom.engine.plan import Plan, read_plan
from brakecourse.classroom.engine.report import GradeReport, GradeRow
from brakecourse.classroom.engine.sandbox import Protection
from brakecourse.classroom.engine.standing import Standing, standings
from brakecourse.classroom.engine.submissions import find_submission
from brakecourse.classroom.engine.to_do import all_done, chosen_students, sorted_out
from brakecourse.classroom.engine.write import ChangedSince, new_standings, store
from brakecourse.classroom.folder import ClassFolder, Progress

CHANGED_SINCE = "It changed after it was looked at, so it was left as it is; grade it again."


@dataclass(frozen=True)
class Change:
    """One mark that would be another one, or a mark by hand that stays.

    Attributes:
        student_id: whose.
        question_id: which question; empty where it is about the whole work.
        old: the points now; None where a person is waited for or nothing was graded.
        new: the points then.
        out_of: what it is worth.
        by_hand: whether the points then are a person's.
        why: in words.
    """

    student_id: str
    question_id: str
    old: float | None
    new: float | None
    out_of: float
    by_hand: bool
    why: str


@dataclass(frozen=True)
class Preview:
    """What grading again would change.

    Attributes:
        module: the module's name.
        changes: the marks that would be others.
        stays: the marks given by hand that stay.
        first: students whose work was never graded; all of it would be new.
        left: students of whom nothing would be stored: excused, nothing handed in, or this machine's trouble.
        protection: how the notebooks were shut in.
    """

    module: str
    changes: tuple[Change, ...]
    stays: tuple[Change, ...]
    first: tuple[str, ...]
    left: tuple[GradeRow, ...]
    protection: Protection
    results: tuple[Result, ...] = field(repr=False)


@dataclass(frozen=True)
class Result:
    """One submission that was worked out, and how its questions stood then."""

    done: Done
    seen: Mapping[str, Standing]


def preview(
    cls: ClassFolder,
    module: str,
    students: Sequence[str] | None = None,
    trust_files: bool = False,
    progress: Progress | None = None,
    *,
    workers: int = 2,
    limits: Limits | None = None,
    farm: Farm | None = None,
) -> Preview:
    """Work out what grading everything again would change. No mark is written.

    Args:
        cls: the class.
        module: the module's name.
        students: only these; None for everybody in the roster.
        trust_files: run the notebooks even where nothing shuts them in.
        progress: told how far the work is; first of all how the notebooks are shut in.
        workers: how many submissions are run at a time, when no farm is given.
        limits: how much one submission may use; None for the class's settings.
        farm: where submissions are run; None for worker processes on this computer.

    Raises:
        CourseError: as for `grade`.
    """
    plan = read_plan(cls, module)
    chosen = chosen_students(cls, module, students)
    place = farm or LocalFarm(workers)
    shut_in = place.protection(trust_files)
    limits = limits or Limits(cell_s=cls.settings.cell_timeout_s)
    with Ledger(cls) as ledger, nullcontext() if farm else place:
        left, to_do = sorted_out(cls, ledger, plan, chosen, force=True)
        total = len(to_do)
        if progress:
            progress(0, total, shut_in.words)
        results: dict[str, Result] = {}
        for done in all_done((one.job(cls, plan, limits, trust_files) for one in to_do), place):
            student = done.record.student_id
            with ledger.reading() as book:
                seen = standings(book, plan, [student])[student]
            results[student] = Result(done, seen)
            if progress:
                progress(len(results), total, f"{student}: {done.record.status}")
        with ledger.reading() as book:
            return _compared(book, plan, [results[s] for s in chosen if s in results], left, shut_in)


def accept(cls: ClassFolder, looked_at: Preview, progress: Progress | None = None) -> GradeReport:
    """Store what was looked at. Nothing is run again.

    Args:
        cls: the class.
        looked_at: what `preview` found.
        progress: told how far the work is.

    Returns:
        One row a student; those that changed in between are not fresh, and say so.

    Raises:
        CourseError: the gradebook can't be written. What was stored before stays.
    """
    started = time.monotonic()
    plan = read_plan(cls, looked_at.module)
    rows = {row.student_id: row for row in looked_at.left}
    with Ledger(cls) as ledger:
        finish_killed_runs(cls, ledger, plan.module)
        for number, result in enumerate(looked_at.results, start=1):
            row = _accepted(cls, ledger, plan, result)
            rows[row.student_id] = row
            if progress:
                progress(number, len(looked_at.results), row.words)
    ordered = tuple(rows[student] for student in cls.taking(plan.module) if student in rows)
    return GradeReport(plan.module, ordered, looked_at.protection, time.monotonic() - started)


def _compared(
    book: Gradebook, plan: Plan, results: Sequence[Result], left: Sequence[GradeRow], shut_in: Protection
) -> Preview:
    changes: list[Change] = []
    stays: list[Change] = []
    first: list[str] = []
    failed: list[GradeRow] = []
    kept: list[Result] = []
    for result in results:
        record, worked = result.done.record, result.done.worked
        before = book.db.get(Outcome, (plan.module, record.student_id))
        if before is not None and record.machines_fault:
            failed.append(GradeRow(record.student_id, before.status, record.why))
            continue
        kept.append(result)
        if before is None:
            first.append(record.student_id)
            continue
        if before.status != record.status:
            why = f"{before.status} before, now {record.status}. {record.why}".strip()
            changes.append(Change(record.student_id, "", None, None, plan.max_score, False, why))
        after = new_standings(book, plan, record.student_id, look(book, plan, record.student_id), worked)
        for change in _changes(plan, result, after):
            (stays if change.by_hand and change.old == change.new else changes).append(change)
    return Preview(
        plan.module,
        tuple(changes),
        tuple(stays),
        tuple(first),
        (*left, *failed),
        shut_in,
        tuple(kept),
    )


def _changes(plan: Plan, result: Result, after: Mapping[str, Standing]) -> Iterator[Change]:
    worked = result.done.worked
    words = {one.question.id: one.mark.words if one.mark else "" for one in worked.judged} if worked else {}
    for question in plan.questions:
        old, new = result.seen.get(question.id, Standing()), after[question.id]
        if old.mark == new.mark and not new.by_hand:
            continue
        why = words.get(question.id, result.done.record.why)
        if new.by_hand:
            machine = "nothing" if new.auto is None else f"{new.auto:g}"
            why = f"A person gave it; the machine gives {machine}."
        elif new.manual is not None:
            why = "A person gave it for another answer, so it waits to be looked at again."
        yield Change(
            result.done.record.student_id,
            question.id,
            old.points,
            new.points,
            question.points,
            new.by_hand,
            why,
        )


def _accepted(cls: ClassFolder, ledger: Ledger, plan: Plan, result: Result) -> GradeRow:
    record = result.done.record
    submission = find_submission(cls, plan, record.student_id)
    stale = GradeRow(record.student_id, record.status, CHANGED_SINCE)
    if submission is None or record.submission_sha256 not in ("", submission.sha256):
        return stale
    try:
        store(cls, ledger, plan, record, result.done.worked, seen=result.seen)
    except ChangedSince:
        return stale
    return GradeRow(record.student_id, record.status, record.why, record.healed, True, record.duration_s)
