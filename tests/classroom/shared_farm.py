"""One worker for all tests of a process, so that it and its warm interpreter are started once.

For tests of what becomes of marks, where a real interpreter must run the notebook but how a worker starts
does not matter. `farm.py`, `warm.py` and the attacks have tests of their own.
"""

from __future__ import annotations

import atexit
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from brakecourse.classroom.engine.farm import Done, Job, LocalFarm


class SharedFarm(LocalFarm):
    """A farm of one worker that outlives the block it is used in."""

    def __init__(self) -> None:
        super().__init__(1)

    def __exit__(self, *_: object) -> None:
        return None

    def end(self) -> None:
        """End the worker."""
        super().__exit__(None, None, None)

    def run(self, jobs: Iterable[Job]) -> Iterator[Done]:
        """Do jobs. A test's class lies in the temporary folder, where a notebook sees nothing anyway.

        It need not be hidden once more, and a warm interpreter serves only one set of hidden folders.
        """
        temporary = Path(tempfile.gettempdir()).resolve()
        for job in jobs:
            hidden = tuple(one for one in job.hidden if not one.resolve().is_relative_to(temporary))
            yield from super().run([replace(job, hidden=hidden)])


@cache
def shared_farm() -> SharedFarm:
    """Return this process's farm."""
    farm = SharedFarm()
    atexit.register(farm.end)
    return farm
