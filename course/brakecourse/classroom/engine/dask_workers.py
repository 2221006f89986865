"""The workers of a Dask scheduler: who is there, and who of them can grade."""

from __future__ import annotations

import logging
import re
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import CancelledError
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

import brakecourse
from brakecourse.classroom.engine.sandbox import MISSING_WITHOUT_SANDBOX, Protection, protection
from brakecourse.errors import CourseError

if TYPE_CHECKING:
    from distributed import Client

CONNECT_WAIT_S = 10
WORKERS_WAIT_S = 30.0
_LOOK_EVERY_S = 1.0
# A notebook of many megabytes is no trouble.
_QUIET = {"distributed.admin.large-graph-warning-threshold": "1 GB"}


@dataclass(frozen=True)
class Worker:
    """A worker as it describes itself.

    Attributes:
        version: the course's version there; nothing where it has none, or one that knows no farm.
        tool: what shuts notebooks in there, or None.
    """

    version: str = ""
    tool: str | None = None


def look_at_yourself() -> Worker:
    """Tell what matters of this computer. Workers run it."""
    return Worker(brakecourse.__version__, protection().tool)


class Workers:
    """The workers of one scheduler, looked at once a second."""

    def __init__(self, address: str, trust_files: bool) -> None:
        """Connect, and look at them.

        Args:
            address: the scheduler's.
            trust_files: also use workers on which nothing shuts notebooks in.

        Raises:
            CourseError: the package is missing, the scheduler can't be reached, or its workers can't be used.
        """
        self._address = address
        self._trust_files = trust_files
        self._threads: dict[str, int] = {}
        self._known: dict[str, Worker] = {}
        self._looked = 0.0
        self.client = _connected(address)
        try:
            self._look_at_scheduler()
            self._look()
            self._refuse_other_versions()
            if not self.fit:
                raise CourseError(self._why_none())
        except BaseException:
            self.close()
            raise

    def close(self) -> None:
        """End the connection."""
        with suppress(Exception):
            self.client.close(timeout=5)

    @property
    def fit(self) -> dict[str, int]:
        """The addresses of the workers that can be used, and how many jobs each does at a time."""
        return {
            address: many
            for address, many in self._threads.items()
            if address in self._known
            and self._known[address].version == brakecourse.__version__
            and (self._trust_files or self._known[address].tool)
        }

    @property
    def words(self) -> str:
        """How many there are, and which are left out."""
        fit, naked = self.fit, self._unprotected()
        many = "1 worker" if len(fit) == 1 else f"{len(fit)} workers"
        words = (
            f"Notebooks are graded by {many} of the scheduler at {self._address}, "
            f"{sum(fit.values())} at a time."
        )
        if naked and self._trust_files:
            return f"{words} NO PROTECTION on {_names(naked)}: bubblewrap is not at work there."
        if naked:
            return f"{words} Left out, because bubblewrap is not at work there: {_names(naked)}."
        return words

    def protection(self, trust_files: bool) -> Protection:
        """Return what stands between students' code and the computers that are used.

        Raises:
            CourseError: nothing does on one of them, and the files are not trusted.
        """
        tools = [self._known[address].tool for address in self.fit]
        if all(tools):
            return Protection(tools[0])
        if not trust_files:
            raise CourseError(self._why_none())
        return Protection(None, MISSING_WITHOUT_SANDBOX)

    def look(self) -> None:
        """Look who is there, unless that was a moment ago; wait for a worker when there is none.

        Raises:
            CourseError: the scheduler is gone, or no worker comes.
        """
        until = time.monotonic() + WORKERS_WAIT_S
        while time.monotonic() - self._looked > _LOOK_EVERY_S or not self.fit:
            self._look()
            if self.fit:
                return
            if time.monotonic() > until:
                raise CourseError(f"{self._why_none()} What was graded is stored.")
            time.sleep(_LOOK_EVERY_S / 2)

    def gone(self, address: str) -> bool:
        """Tell whether a worker was no longer there at the last look."""
        return address not in self._threads

    @contextmanager
    def trouble(self) -> Iterator[None]:
        """Turn a lost connection into one sentence."""
        try:
            yield
        except (OSError, CancelledError) as error:
            raise CourseError(
                f"The scheduler at {self._address} can't be reached any more ({first_line(error)}); start it "
                "again and give the same command again. What was graded is stored."
            ) from error

    def _look_at_scheduler(self) -> None:
        """Jobs pass through the scheduler, which has to know what they are made of."""
        with self.trouble():
            try:
                self._known[self._address] = self.client.run_on_scheduler(look_at_yourself)
            except (ImportError, AttributeError):
                self._known[self._address] = Worker()

    def _look(self) -> None:
        with self.trouble():
            info = self.client.scheduler_info()
            if self.client.status != "running":
                raise OSError("the connection was closed")  # what it tells then is what it knew before
            there = info["workers"]
            self._threads = {address: int(about["nthreads"]) for address, about in there.items()}
            self._looked = time.monotonic()
            new = [address for address in there if address not in self._known]
            said = self.client.run(look_at_yourself, workers=new, on_error="return") if new else {}
        for address, worker in said.items():
            if isinstance(worker, Worker):
                self._known[address] = worker
            elif isinstance(worker, (ImportError, AttributeError)):
                self._known[address] = Worker()

    def _unprotected(self) -> list[str]:
        there = (name for name in self._threads if name in self._known)
        return [name for name in there if self._known[name].version and not self._known[name].tool]

    def _refuse_other_versions(self) -> None:
        for address, worker in self._known.items():
            if worker.version != brakecourse.__version__:
                found = f"version {worker.version}" if worker.version else "none that can grade"
                raise CourseError(
                    f"Version {brakecourse.__version__} of the course was expected on every computer, but "
                    f"the one at {address} has {found}; install the same version there, then start its "
                    "scheduler or worker again."
                )

    def _why_none(self) -> str:
        if naked := self._unprotected():
            return (
                "Notebooks that were handed in are other people's programs, and no worker can shut them in "
                f"because bubblewrap is not at work on {_names(naked)}; install bubblewrap there, or give "
                "--i-trust-these-files if you know every file."
            )
        return (
            f"The scheduler at {self._address} has no worker that could grade; start some on each computer "
            f"with 'dask worker {self._address} --nthreads 1 --nworkers 2', then give the command again."
        )


def _connected(address: str) -> Client:
    if not re.fullmatch(r"(tcp|tls)://\S+:\d+", address):
        raise CourseError(
            f"A scheduler's address such as tcp://192.168.1.20:8786 was expected, but '{address}' was found; "
            "give the one that 'dask scheduler' prints."
        )
    try:
        import dask.config

        dask.config.set(_QUIET)
        from distributed import Client, Security
    except ImportError as error:
        raise CourseError(
            "Grading on other computers needs the package 'distributed', which is missing here; give "
            "\"pip install 'brakecourse[farm]'\", then the same command again."
        ) from error
    for name in ("distributed", "distributed.client"):
        # What Dask would tell on the screen is told in one sentence.
        logging.getLogger(name).setLevel(logging.CRITICAL)
    if address.startswith("tls://") and not Security().get_connection_args("client").get("ssl_context"):
        raise CourseError(
            f"For {address} this computer needs certificates, and Dask's configuration names none; put the "
            "files under 'distributed.comm.tls' in ~/.config/dask/, or give a tcp:// address on a network "
            "that you trust."
        )
    try:
        return Client(address, timeout=CONNECT_WAIT_S, set_as_default=False)
    except OSError as error:
        raise CourseError(
            f"No scheduler answers at {address} ({first_line(error)}); start one with 'dask scheduler', "
            "give the address that it prints (tcp://HOST:PORT), and check that this computer can reach it."
        ) from error


def first_line(error: BaseException | None) -> str:
    """Return what an error says, short."""
    words = str(error).strip().split("\n")[0][:200].rstrip(".")
    return words or type(error).__name__


def _names(addresses: Sequence[str]) -> str:
    return ", ".join(sorted(addresses))
