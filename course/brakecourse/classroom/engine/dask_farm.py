"""A farm of other computers: the workers of a Dask scheduler do the jobs, this process stores the results.

A job travels as bytes and so does its result; workers need no class folder, no gradebook and no shared disk.
Dask carries the work and tells who is there. Which worker has which job is decided here, because only so can
it be told who was at work when a worker died. The traffic is pickled: whoever can speak to the scheduler can
run programs on every worker. So it belongs on a network that is trusted, or under `tls://`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Self

from brakecourse.classroom.engine.dask_workers import Workers, first_line
from brakecourse.classroom.engine.farm import Done, Job, do
from brakecourse.classroom.engine.prepare import SOLUTIONS
from brakecourse.classroom.engine.sandbox import Protection
from brakecourse.classroom.engine.write import COULD_NOT, RunRecord

if TYPE_CHECKING:
    from distributed import Future

_WAIT_S = 1.0
_RESULT_WAIT_S = 60
_JOBS_A_THREAD = 2  # one is done, one waits beside it
_LAST_CHANCES = 2
_WORKERS_DIED = "Each worker that ran it died, so it was given up; look at the notebook, then grade again."


def do_there(job: Job, work_by: Callable[[Job], Done]) -> Done:
    """Do a job on the worker that it came to. Its own copy of the solutions must not be seen either."""
    return work_by(replace(job, hidden=(*job.hidden, SOLUTIONS)))


class DaskFarm:
    """The workers of a Dask scheduler."""

    def __init__(self, address: str, trust_files: bool = False, work_by: Callable[[Job], Done] = do) -> None:
        """Make a farm. The connection is made when it is entered.

        Args:
            address: the scheduler's, such as "tcp://192.168.1.20:8786", or "tls://…" by Dask's own settings.
            trust_files: also use workers on which nothing shuts notebooks in.
            work_by: what does a job; a function that the workers can import.
        """
        self._address = address
        self._trust_files = trust_files
        self._work_by = work_by
        self._entered: Workers | None = None

    def __enter__(self) -> Self:
        """Connect, and look at the workers.

        Raises:
            CourseError: the package is missing, the scheduler can't be reached, or its workers can't be used.
        """
        self._entered = Workers(self._address, self._trust_files)
        return self

    def __exit__(self, *exc: object) -> None:
        self._workers.close()
        self._entered = None

    @property
    def words(self) -> str:
        """Where the work is done, and which workers are left out."""
        return self._workers.words

    def protection(self, trust_files: bool) -> Protection:
        """Return what stands between students' code and the workers' computers, or refuse to do without."""
        return self._workers.protection(trust_files)

    def run(self, jobs: Iterable[Job]) -> Iterator[Done]:
        """Do jobs and yield what became of each, as soon as it is known.

        A worker's death gives its jobs back. They are done again at the end, each with a worker of its own,
        so that one that kills workers shows. When the block is left early, what runs on a worker ends by its
        limits of time, and its result goes nowhere.
        """
        blamed: list[Job] = []
        yield from self._settled(iter(jobs), blamed)
        for _ in range(_LAST_CHANCES):
            again, blamed = blamed, []
            yield from self._settled(iter(again), blamed, alone=True)
        yield from (_could_not(job, _WORKERS_DIED) for job in blamed)

    def _settled(self, jobs: Iterator[Job], blamed: list[Job], alone: bool = False) -> Iterator[Done]:
        """Send jobs out and yield their results; those that were with a worker when it died are blamed."""
        flying: dict[Future, tuple[Job, str]] = {}
        try:
            while True:
                places = self._free_places([address for _, address in flying.values()], alone)
                for address, job in zip(places, jobs, strict=False):
                    flying[self._sent(job, address)] = job, address
                if not flying:
                    return
                for job, done in self._landed(flying):
                    if done is None:
                        blamed.append(job)
                    else:
                        yield done
        finally:
            with suppress(Exception):
                self._workers.client.cancel(list(flying), force=True)

    def _free_places(self, busy: Sequence[str], alone: bool) -> list[str]:
        """Return the workers that can take a job, idle ones first; one with room for two is named twice."""
        self._workers.look()
        most = {name: 1 if alone else _JOBS_A_THREAD * many for name, many in self._workers.fit.items()}
        load = Counter(busy)
        return [
            name for level in range(max(most.values())) for name in most if load[name] <= level < most[name]
        ]

    def _sent(self, job: Job, address: str) -> Future:
        with self._workers.trouble():
            return self._workers.client.submit(do_there, job, self._work_by, workers=[address], pure=False)

    def _landed(self, flying: dict[Future, tuple[Job, str]]) -> list[tuple[Job, Done | None]]:
        """Wait a moment, and take out what is done, and what was with a worker that is gone."""
        from distributed import wait

        landed: list[tuple[Job, Done | None]] = []
        with self._workers.trouble():
            with suppress(TimeoutError), self._workers.client.as_current():
                wait(list(flying), timeout=_WAIT_S, return_when="FIRST_COMPLETED")
            for future, (job, address) in list(flying.items()):
                if future.done():
                    landed.append((job, _result(future, job)))
                elif self._workers.gone(address):
                    future.cancel()
                    landed.append((job, None))
                else:
                    continue
                del flying[future]
        return landed

    @property
    def _workers(self) -> Workers:
        if self._entered is None:
            raise RuntimeError("the farm was not entered")
        return self._entered


def _result(future: Future, job: Job) -> Done | None:
    """Return a job's result, or None when the worker died over it."""
    from distributed.scheduler import KilledWorker

    if future.status == "finished":
        try:
            done = future.result(timeout=_RESULT_WAIT_S)
        except TimeoutError:
            return None  # the worker went before it could hand the result over
        assert isinstance(done, Done)
        return done
    error = future.exception(timeout=_RESULT_WAIT_S)
    if isinstance(error, KilledWorker):
        return None
    why = f"Grading on another computer met something unforeseen ({first_line(error)})."
    return _could_not(job, why)


def _could_not(job: Job, why: str) -> Done:
    # Without a fingerprint nothing counts as unchanged: it is tried again.
    return Done(job.plan.module, RunRecord(job.student_id, COULD_NOT, why, job.notes))
