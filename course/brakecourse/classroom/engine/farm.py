"""Where submissions are graded: a farm takes jobs and gives back what became of each.

A job holds all that grading one submission needs, and nothing else is looked up: no class folder, no
gradebook. So it can be done by another process or on another computer. `do` does one; only the caller of a
farm, who gets the results, ever writes to the gradebook.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Protocol, Self, cast

from brakecourse.classroom.engine.execute import KernelTrouble
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.plan import Plan, StudentCase, case_in
from brakecourse.classroom.engine.reading import Unreadable
from brakecourse.classroom.engine.sandbox import Protection, require_protection
from brakecourse.classroom.engine.warm import end_warm_servers
from brakecourse.classroom.engine.work import Setting, Worked, work
from brakecourse.classroom.engine.write import COULD_NOT, GRADED, RunRecord
from brakecourse.errors import CourseError

_END_S = 5.0
_MOST_TRIES = 2


@dataclass(frozen=True)
class Job:
    """One submission to grade, with all that is needed for it. It can be pickled.

    Attributes:
        student_id: whose it is.
        plan: what the module asks.
        content: the submitted notebook's bytes, as they came.
        submission_sha256: their fingerprint.
        case_json: the student's sealed case, the file's bytes.
        notes: what is already known to be odd about the submission, a sentence each.
        limits: how much it may use.
        hidden: folders of this computer that its code must not see, wherever they lie.
        trust_files: run it even where nothing shuts it in.
    """

    student_id: str
    plan: Plan
    content: bytes
    submission_sha256: str
    case_json: bytes
    notes: tuple[str, ...] = ()
    limits: Limits = field(default_factory=Limits)
    hidden: tuple[Path, ...] = ()
    trust_files: bool = False


@dataclass(frozen=True)
class Done:
    """What became of one job. It can be pickled.

    Attributes:
        module: the module's name; with the record's student id it tells which job this was.
        record: how it went, ready to be stored.
        worked: the judged notebook; None when the submission could not be graded.
    """

    module: str
    record: RunRecord
    worked: Worked | None = None


class Farm(Protocol):
    """Does jobs, somewhere. It is a context manager: what it started is gone when the block ends.

    `run` takes jobs from the iterable only as it has room for them, so that a class of thousands is never
    held in memory at once, and yields each result as soon as it is there, in no special order; exactly one
    for every job. Trouble with one job is its own `Done` with a status in words, never an exception: an
    exception out of `run` means that the farm as a whole can't go on. Leaving the block early (Ctrl-C) ends
    what is running.
    """

    @property
    def words(self) -> str:
        """Where the work is done, in one sentence for a person."""
        ...

    def protection(self, trust_files: bool) -> Protection:
        """Return what stands between students' code and the computers that work, or refuse to do without.

        Raises:
            CourseError: nothing does, and the files are not said to be trusted.
        """
        ...

    def run(self, jobs: Iterable[Job]) -> Iterator[Done]:
        """Do jobs and yield what became of each, as soon as it is known."""
        ...

    def __enter__(self) -> Self: ...

    def __exit__(self, *exc: object) -> None: ...


def do(job: Job) -> Done:
    """Grade one submission here and now. Whatever is wrong with it becomes its own status, in words."""
    started = time.monotonic()
    version = ""
    digest = job.submission_sha256
    worked: Worked | None = None
    shut_in = True
    try:
        case = case_in(job.case_json, job.plan.module, job.student_id)
        version = case.version
        found = require_protection(job.trust_files)
        shut_in = not found.missing
        worked = _worked(job, case, Setting(found, job.limits, job.hidden))
        why = " ".join(worked.troubles)
    except Unreadable as error:
        why = str(error)
    except CourseError as error:
        # Without a fingerprint nothing counts as unchanged: what this machine could not do is tried again.
        digest, why = "", str(error)
    except KernelTrouble as error:
        digest, why = "", f"The program that runs notebooks did not start ({error}); grade again."
    except Exception as error:
        # A submission nobody thought of must not stop the class; a teacher sees what to report.
        digest, why = "", f"Grading met something unforeseen ({type(error).__name__}: {str(error)[:200]})."
    record = RunRecord(
        student_id=job.student_id,
        status=GRADED if worked else COULD_NOT,
        why=why,
        healed=worked.healed if worked else job.notes,
        submission_sha256=digest,
        case_version=version,
        shut_in=shut_in,
        duration_s=time.monotonic() - started,
    )
    return Done(job.plan.module, record, worked)


def _worked(job: Job, case: StudentCase, setting: Setting) -> Worked:
    try:
        return work(job.content, job.plan, case, setting, job.notes)
    except KernelTrouble:
        # A machine that is very busy can miss one start.
        return work(job.content, job.plan, case, setting, job.notes)


class LocalFarm:
    """Worker processes on this computer, each with one job at a time.

    Processes and not threads: healing and judging are Python, and only one thread at a time runs that.
    """

    def __init__(self, workers: int = 2, work_by: Callable[[Job], Done] = do) -> None:
        """Make a farm. Processes start when there is work for them.

        Args:
            workers: how many jobs are done at a time.
            work_by: what does a job.
        """
        self._most = max(1, workers)
        self._work_by = work_by
        self._workers: list[_Worker] = []

    @property
    def words(self) -> str:
        """How many programs work, on this computer."""
        many = "one program" if self._most == 1 else f"{self._most} programs at a time"
        return f"Notebooks are graded on this computer by {many}."

    def protection(self, trust_files: bool) -> Protection:
        """Return what stands between students' code and this computer, or refuse to do without."""
        return require_protection(trust_files)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *exc: object) -> None:
        for worker in self._workers:
            worker.end(at_once=exc[0] is not None)
        self._workers.clear()

    def run(self, jobs: Iterable[Job]) -> Iterator[Done]:
        """Do jobs and yield what became of each, as soon as it is known.

        A job whose worker was ended (no memory left, an operator) is given to another one, once.
        """
        waiting = ((job, 1) for job in jobs)
        again: list[tuple[Job, int]] = []
        idle = list(self._workers)
        busy: dict[Connection, _Worker] = {}

        def begin_next(worker: _Worker | None = None) -> bool:
            following = again.pop() if again else next(waiting, None)
            if following is None:
                return False
            worker = worker or (idle.pop() if idle else self._new_worker())
            worker.take(*following)
            busy[worker.pipe] = worker
            return True

        while True:
            while len(busy) < self._most and begin_next():
                pass
            if not busy:
                return
            finished = []
            for pipe in cast("list[Connection]", wait(list(busy))):
                worker = busy.pop(pipe)
                done = worker.result()
                if done is None:
                    self._workers.remove(worker)
                    if worker.tries < _MOST_TRIES:
                        again.append((worker.job, worker.tries + 1))
                    else:
                        finished.append(_not_done(worker.job))
                    continue
                finished.append(done)
                # It gets its next job before anybody looks at this one's result.
                if not begin_next(worker):
                    idle.append(worker)
            yield from finished

    def _new_worker(self) -> _Worker:
        worker = _Worker(self._work_by)
        self._workers.append(worker)
        return worker


def _not_done(job: Job) -> Done:
    why = "The program that graded it ended of itself; grade again."
    return Done(job.plan.module, RunRecord(job.student_id, COULD_NOT, why, job.notes))


class _Worker:
    """One worker process, seen from outside."""

    def __init__(self, work_by: Callable[[Job], Done]) -> None:
        context = _context()
        self.pipe, theirs = context.Pipe()
        self.process: BaseProcess = context.Process(
            target=_serve, args=(theirs, work_by), daemon=True, name="brakecourse-grade"
        )
        self.process.start()
        theirs.close()
        self._knows: set[str] = set()

    def take(self, job: Job, tries: int) -> None:
        self.job, self.tries = job, tries
        # If it is gone, its end of the pipe says so as soon as its result is asked for.
        with contextlib.suppress(OSError):
            # A plan is far bigger than the rest of a job, and the same for a whole class.
            if job.plan.key not in self._knows:
                self.pipe.send(job.plan)
                self._knows.add(job.plan.key)
            self.pipe.send({**vars(job), "plan": job.plan.key})

    def result(self) -> Done | None:
        """What became of its job, or None when the worker is gone."""
        try:
            return cast("Done", self.pipe.recv())
        except (EOFError, OSError):
            self.end(at_once=True)
            return None

    def end(self, at_once: bool) -> None:
        self.pipe.close()
        if at_once:
            self.process.terminate()
        self.process.join(_END_S)
        if self.process.is_alive():
            self.process.kill()
            self.process.join()


def _context():  # type: ignore[no-untyped-def]
    """Return how processes are started: never by copying this one, which may have threads."""
    if sys.platform == "win32":
        return get_context("spawn")
    context = get_context("forkserver")
    context.set_forkserver_preload(["brakecourse.classroom.engine.farm"])
    return context


def _serve(pipe: Connection, work_by: Callable[[Job], Done]) -> None:
    """Do jobs, one after the other, until there are no more: a worker process's whole life."""
    # Ctrl-C goes to every program of the terminal; the one that reads results decides what happens.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    threading.Thread(target=_end_with_parent, daemon=True).start()
    plans: dict[str, Plan] = {}
    try:
        while True:
            got = pipe.recv()
            if isinstance(got, Plan):
                plans[got.key] = got
            else:
                pipe.send(work_by(Job(**{**got, "plan": plans[got["plan"]]})))
    except (EOFError, OSError):
        return
    finally:
        end_warm_servers()


def _end_with_parent() -> None:
    """End this process when the one that wants its results is gone, be it in the middle of a notebook."""
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os.kill(os.getpid(), signal.SIGTERM)
