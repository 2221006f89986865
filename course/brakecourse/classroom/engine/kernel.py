"""The kernel that runs one submission: an ordinary ipykernel, started shut in and watched from outside."""

from __future__ import annotations

import contextlib
import os
import sys
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psutil  # type: ignore[import-untyped]
import zmq
from jupyter_client.kernelspec import KernelSpec
from jupyter_client.manager import AsyncKernelManager

from brakecourse.classroom.engine.sandbox import Protection, Scratch, environment, wrapped

_POLL_S = 0.2
_BIGGEST_MESSAGE_BYTES = 16_000_000
_MESSAGES_KEPT = 50


@dataclass(frozen=True)
class Limits:
    """How much one submission may use.

    Attributes:
        cell_s: seconds one cell may run; then it is interrupted.
        total_s: seconds the whole notebook may take; then it is ended.
        memory_bytes: memory of all its processes together.
        processes: how many processes it may have at a time.
        file_bytes: size of one file.
        scratch_bytes: size of all its files.
        output_bytes: output kept of one cell; the rest is dropped.
    """

    cell_s: float = 20.0
    total_s: float = 180.0
    memory_bytes: int = 2_000_000_000
    processes: int = 48
    file_bytes: int = 32_000_000
    scratch_bytes: int = 128_000_000
    output_bytes: int = 300_000


class KernelManager(AsyncKernelManager):
    """Starts a kernel in a scratch folder, shut in, over unix sockets where there are any."""

    def __init__(
        self, place: Scratch, shut_in: Protection, limits: Limits, hidden: Sequence[Path], **kwargs: Any
    ) -> None:
        super().__init__(**kwargs)
        # Sockets made of this context never take in more than a bounded amount of what a kernel sends.
        self.context.setsockopt(zmq.MAXMSGSIZE, _BIGGEST_MESSAGE_BYTES)
        self.context.setsockopt(zmq.RCVHWM, _MESSAGES_KEPT)
        if sys.platform != "win32":
            self.transport = "ipc"
            self.ip = str(place.sockets / "k")
        self.connection_file = str(place.sockets / "connection.json")
        self.shutdown_wait_time = 1.0
        self._spec = KernelSpec(
            argv=wrapped(_start_command(place, limits, shut_in), place, shut_in, hidden),
            display_name="Python 3",
            language="python",
            # A signal would end the sandbox and the kernel with it; a message only stops the cell.
            interrupt_mode="message",
        )
        self._place = place

    @property
    def kernel_spec(self) -> KernelSpec:
        """The kernel to start. What a notebook asks for does not count."""
        return self._spec

    @property
    def process(self) -> psutil.Process:
        """The process to watch. It knows when it began: another one with its number is never taken for it."""
        return psutil.Process(getattr(self.provisioner, "pid", None))

    async def _async_start_kernel(self, **_: Any) -> None:
        # What the process itself prints goes to a file: on the terminal it could pass for the grader's words.
        with self._place.log.open("wb") as log:
            await super()._async_start_kernel(
                cwd=str(self._place.work),
                env=environment(self._place.work),
                stdout=log,
                stderr=log,
                extra_arguments=["--HistoryManager.hist_file=:memory:"],
            )

    start_kernel = _async_start_kernel


class Watch:
    """Watches a kernel from outside and ends it, with all it started, when it takes too much."""

    def __init__(
        self, process: psutil.Process, place: Scratch, limits: Limits, stop: threading.Event | None
    ) -> None:
        self.reason = ""
        self._process = process
        self._place = place
        self._limits = limits
        self._cancelled = stop
        self._deadline = time.monotonic() + limits.total_s + 15
        self._done = threading.Event()
        self._thread = threading.Thread(target=self._run, daemon=True, name="brakecourse-watch")

    def __enter__(self) -> Watch:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._done.set()
        self._thread.join()
        # Whatever it left running goes too.
        _end(self._process)

    def _run(self) -> None:
        while not self._done.wait(_POLL_S):
            self.reason = self._too_much()
            if self.reason:
                _end(self._process)
                return

    def _too_much(self) -> str:
        if self._cancelled is not None and self._cancelled.is_set():
            return "grading was stopped"
        if time.monotonic() > self._deadline:
            return "it took too long altogether"
        processes = _family(self._process)
        if len(processes) > self._limits.processes:
            return f"it started more than {self._limits.processes} processes"
        if sum(_memory(process) for process in processes) > self._limits.memory_bytes:
            return f"it used more than {self._limits.memory_bytes / 1e9:g} GB of memory"
        if _size(self._place.root) > self._limits.scratch_bytes:
            return f"it wrote more than {self._limits.scratch_bytes / 1e6:g} MB of files"
        return ""


def _start_command(place: Scratch, limits: Limits, shut_in: Protection) -> list[str]:
    cpu_s, address_space = int(limits.total_s) + 30, 2 * limits.memory_bytes
    walls = int(shut_in.tool is not None)
    values = (cpu_s, address_space, limits.file_bytes, 256, threads_now() + 256, walls)
    return [sys.executable, str(place.start), *map(str, values), "-f", "{connection_file}"]


def threads_now() -> int:
    """Count the threads this user has: before Linux 5.14 the limit on processes counts all of them."""
    if not sys.platform.startswith("linux"):
        return 0
    own, total = os.getuid(), 0
    for process in psutil.process_iter(["uids", "num_threads"]):
        uids = process.info["uids"]
        if uids is not None and uids.real == own:
            total += process.info["num_threads"] or 0
    return total


def _family(parent: psutil.Process) -> list[psutil.Process]:
    try:
        return [parent, *parent.children(recursive=True)]
    except psutil.Error:
        return []


def _memory(process: psutil.Process) -> int:
    try:
        return int(process.memory_info().rss)
    except psutil.Error:
        return 0


def _end(parent: psutil.Process) -> None:
    for process in _family(parent):
        with contextlib.suppress(psutil.Error):
            process.kill()


def _size(folder: Path) -> int:
    total = 0
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            with contextlib.suppress(OSError):
                if entry.is_dir(follow_symlinks=False):
                    total += _size(Path(entry.path))
                else:
                    total += entry.stat(follow_symlinks=False).st_size
    return total
