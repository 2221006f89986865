"""A Dask scheduler and workers of the tests' own, on loopback; and jobs done without a kernel."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from brakecourse.classroom.engine.farm import Done, Job
from brakecourse.classroom.engine.write import COULD_NOT, RunRecord

_TOP = Path(__file__).resolve().parents[2]
_PROGRAM = [sys.executable, "-m", "distributed.cli.dask_worker"]


@dataclass
class OwnFarm:
    """A running scheduler.

    Attributes:
        address: where it listens.
        workers: the processes of its workers, in the order they were started.
    """

    address: str
    folder: Path
    process: subprocess.Popen[bytes]
    workers: list[subprocess.Popen[bytes]] = field(default_factory=list)

    def new_worker(self, **environment: str) -> subprocess.Popen[bytes]:
        """Start a worker: one process without a guard that would start it again."""
        options = ["--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1"]
        # It loads what the jobs need before the first one comes.
        options += ["--preload", "brakecourse.classroom.engine.farm"]
        process = _started([*_PROGRAM, self.address, *options], self.folder, environment)
        self.workers.append(process)
        return process

    def kill(self, process: subprocess.Popen[bytes]) -> None:
        """Kill a worker as a power cut would."""
        process.kill()
        process.wait()


@contextmanager
def own_farm(folder: Path, workers: int = 0) -> Iterator[OwnFarm]:
    """Start a scheduler and workers, and end them again."""
    told = folder / "scheduler.json"
    options = ["--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(told)]
    process = _started([sys.executable, "-m", "distributed.cli.dask_scheduler", *options], folder, {})
    farm = OwnFarm("", folder, process)
    try:
        farm.address = _address(told, process)
        for _ in range(workers):
            farm.new_worker()
        yield farm
    finally:
        for one in (*farm.workers, process):
            one.kill()
            one.wait()


def _started(command: list[str], folder: Path, environment: dict[str, str]) -> subprocess.Popen[bytes]:
    with (folder / "farm.log").open("ab") as log:
        return subprocess.Popen(
            command,
            cwd=folder,
            stdout=log,
            stderr=log,
            # The workers find the functions of this file, and leave their files in the test's folder.
            env={
                **os.environ,
                "PYTHONPATH": str(_TOP),
                "DASK_TEMPORARY_DIRECTORY": str(folder),
                **environment,
            },
        )


def _address(told: Path, process: subprocess.Popen[bytes]) -> str:
    import json

    until = time.monotonic() + 60
    while time.monotonic() < until and process.poll() is None:
        if told.is_file() and (text := told.read_text(encoding="utf-8")):
            return str(json.loads(text)["address"])
        time.sleep(0.05)
    raise RuntimeError("the scheduler did not start")


# --- what workers do in the tests: a job's content says what happens ----------------------------------


def play(job: Job) -> Done:
    """Do what the content says: wait, fail, or kill the worker. Write down that it was done here."""
    what, _, rest = job.content.decode("utf-8").partition(" ")
    if what == "die":
        os.kill(os.getpid(), signal.SIGKILL)
    if what == "fail":
        raise ZeroDivisionError(rest)
    if what == "wait":
        time.sleep(float(rest))
    return Done(job.plan.module, RunRecord(job.student_id, COULD_NOT, f"done by {os.getpid()}"))
