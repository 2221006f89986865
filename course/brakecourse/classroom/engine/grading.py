"""Grade modules for a class: student by student, several at a time, each stored as soon as it is done."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from contextlib import nullcontext

from brakecourse.classroom.engine.farm import Done, Farm, LocalFarm
from brakecourse.classroom.engine.history import look_again
from brakecourse.classroom.engine.kept import finish_killed_runs
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.ledger import Ledger
from brakecourse.classroom.engine.plan import Plan, read_plan
from brakecourse.classroom.engine.report import GradeReport, GradeRow
from brakecourse.classroom.engine.to_do import ToDo, all_done, chosen_students, sorted_out
from brakecourse.classroom.engine.write import store
from brakecourse.classroom.folder import ClassFolder, Progress

__all__ = ["GradeReport", "GradeRow", "grade", "grade_modules"]


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
    farm: Farm | None = None,
) -> GradeReport:
    """Grade what was handed in for one module; see `grade_modules`."""
    (report,) = grade_modules(
        cls,
        (module,),
        students,
        trust_files,
        progress,
        force=force,
        workers=workers,
        limits=limits,
        farm=farm,
    )
    return report


def grade_modules(
    cls: ClassFolder,
    modules: Sequence[str],
    students: Sequence[str] | None = None,
    trust_files: bool = False,
    progress: Progress | None = None,
    *,
    force: bool = False,
    workers: int = 2,
    limits: Limits | None = None,
    farm: Farm | None = None,
) -> tuple[GradeReport, ...]:
    """Grade what was handed in for some modules, in one go.

    A submission that was graded before is graded again only when it changed. When only the answer key changed
    its marks stay, and its row says so (see `preview`). Marks given by hand stay always. One submission that
    can't be graded never stops the others.

    Args:
        cls: the class.
        modules: the modules' names.
        students: only these; None for everybody in the roster.
        trust_files: run the notebooks even where nothing shuts them in.
        progress: told how far the work is; first of all how the notebooks are shut in.
        force: grade again what has not changed, too.
        workers: how many submissions are run at a time, when no farm is given.
        limits: how much one submission may use; None for the class's settings.
        farm: where submissions are run; None for worker processes on this computer.

    Returns:
        A report for each module, with one row a student.

    Raises:
        CourseError: a module or a student is unknown, nothing shuts strangers' code in, or the gradebook
            can't be written. What was stored before stays.
    """
    started = time.monotonic()
    plans = {module: read_plan(cls, module) for module in modules}
    chosen = {module: chosen_students(cls, module, students) for module in modules}
    place = farm or LocalFarm(workers)
    shut_in = place.protection(trust_files)
    limits = limits or Limits(cell_s=cls.settings.cell_timeout_s)
    tell = _teller(progress, sum(map(len, chosen.values())))
    with Ledger(cls) as ledger, nullcontext() if farm else place:
        tell(0, shut_in.words)
        rows: dict[str, dict[str, GradeRow]] = {module: {} for module in modules}
        to_do: list[ToDo] = []
        for module, plan in plans.items():
            finish_killed_runs(cls, ledger, module)
            look_again(ledger, plan)
            settled, waiting = sorted_out(cls, ledger, plan, chosen[module], force)
            to_do += waiting
            for row in settled:
                rows[module][row.student_id] = row
                tell(1, row.words)
        jobs = (one.job(cls, plans[one.module], limits, trust_files) for one in to_do)
        slow = ""
        for done in all_done(jobs, place):
            if done.worked is not None and done.worked.slow != slow:
                slow = done.worked.slow
                tell(0, f"Each notebook is given an interpreter of its own, which is slower, because {slow}.")
            row = _stored(cls, ledger, plans[done.module], done)
            rows[done.module][row.student_id] = row
            tell(1, row.words)
    seconds = time.monotonic() - started
    return tuple(
        GradeReport(module, tuple(rows[module][student] for student in chosen[module]), shut_in, seconds)
        for module in modules
    )


def _stored(cls: ClassFolder, ledger: Ledger, plan: Plan, done: Done) -> GradeRow:
    """Store what became of one submission, and return its row."""
    record = done.record
    store(cls, ledger, plan, record, done.worked)
    return GradeRow(record.student_id, record.status, record.why, record.healed, True, record.duration_s)


def _teller(progress: Progress | None, total: int) -> Callable[[int, str], None]:
    done = 0

    def tell(more: int, words: str) -> None:
        nonlocal done
        done += more
        if progress:
            progress(done, total, words)

    return tell
