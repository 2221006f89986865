"""One child of a warm interpreter, seen from outside: cells go in, what they put out comes back.

Whatever a child sends is data from a stranger: it is read as JSON of bounded size, and can end its own run,
nobody else's.
"""

from __future__ import annotations

import base64
import contextlib
import json
import math
import select
import socket
import threading
import time
from collections.abc import Mapping

from nbformat import NotebookNode

from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.lives import (
    ENDED_THE_PROGRAM,
    UPSET_THE_PROGRAM,
    CellEnded,
    KernelTrouble,
    not_interrupted,
)
from brakecourse.classroom.engine.nodes import new_output
from brakecourse.classroom.engine.outputs import Kept
from brakecourse.classroom.engine.warm_server import WarmServer

_BEGIN_S = 60.0
_LOOK_EVERY_S = 0.2
_INTERRUPTED_S = 2.0
_STILL_READ_S = 1.0
_BIGGEST_FRAME_BYTES = 16_000_000
_READ_BYTES = 1 << 18
_OPEN_FILES = 256


class ChildLife:
    """One child's life, from its start to its end."""

    def __init__(
        self,
        server: WarmServer,
        own: socket.socket,
        nb: NotebookNode,
        kept: Kept,
        limits: Limits,
        stop: threading.Event | None,
    ) -> None:
        """Take over the grader's end of a child's socket."""
        self._server, self._own, self._nb, self._kept = server, own, nb, kept
        self._limits, self._stop = limits, stop
        self._read = bytearray()
        self._unsent = memoryview(b"")
        self._looked = time.monotonic()  # adding its memory up takes longer than most cells
        self._deadline = time.monotonic() + limits.total_s + 15

    def begin(self, files: Mapping[str, bytes]) -> None:
        """Give the child its files and limits, and wait until it is shut in."""
        limits = self._limits
        self._order(
            {
                "files": {name: base64.b64encode(content).decode("ascii") for name, content in files.items()},
                "scratch_bytes": limits.scratch_bytes,
                "output_bytes": limits.output_bytes,
                "cpu_s": int(limits.total_s) + 30,
                "memory_bytes": 2 * limits.memory_bytes,
                "file_bytes": limits.file_bytes,
                "open_files": _OPEN_FILES,
            }
        )
        try:
            kind, content = self._frame(time.monotonic() + _BEGIN_S)
        except CellEnded as ended:
            raise KernelTrouble(f"its child {ended}") from ended
        if kind != "begun":
            raise KernelTrouble(str(content))

    def run(self, place: int, seconds: float, recording: bool) -> bool:
        """Run a cell; see `lives.Life.run`."""
        cell = self._nb.cells[place]
        self._order({"source": cell.source})
        until, interrupted = time.monotonic() + seconds, False
        while True:
            try:
                kind, content = self._frame(until)
            except TimeoutError:
                if interrupted:
                    raise CellEnded(not_interrupted(self._limits)) from None
                self._server.order(b"interrupt")
                until, interrupted = time.monotonic() + _INTERRUPTED_S, True
                continue
            if kind == "done":
                if isinstance(content, dict) and content.get("asked_to_end") is True:
                    raise CellEnded(ENDED_THE_PROGRAM)
                return interrupted
            if recording:
                self._put_out(cell, place, kind, content)

    def _put_out(self, cell: NotebookNode, place: int, kind: object, content: object) -> None:
        if kind not in ("stream", "display_data", "execute_result", "error"):
            return
        kept = self._kept.content(str(kind), content, cell, place)
        if kept is None:
            return
        last = cell.outputs[-1] if cell.outputs else None
        if kind == "stream" and last and last.output_type == "stream" and last.name == kept["name"]:
            last.text += kept["text"]
            return
        if kind == "display_data":
            del kept["execution_count"]
        cell.outputs.append(new_output(str(kind), **kept))

    def _order(self, order: object) -> None:
        body = json.dumps(order).encode()
        self._unsent = memoryview(len(body).to_bytes(4, "big") + body)

    def _frame(self, until: float) -> tuple[object, object]:
        """Return the next thing that the child says.

        Raises:
            TimeoutError: it says nothing more in time.
            CellEnded: it is gone, takes too much, or talks nonsense.
        """
        while True:
            now = time.monotonic()
            if now - self._looked > _LOOK_EVERY_S:
                self._look()
                self._looked = now
            size = int.from_bytes(self._read[:4], "big") if len(self._read) >= 4 else 0
            if size > _BIGGEST_FRAME_BYTES:
                raise CellEnded(UPSET_THE_PROGRAM)
            whole = len(self._read) >= 4 and len(self._read) >= 4 + size
            # What has come in counts, but a child that never stops talking gets no more time than another.
            if now >= until + _STILL_READ_S or (now >= until and not whole):
                raise TimeoutError
            if whole:
                body = bytes(self._read[4 : 4 + size])
                del self._read[: 4 + size]
                return _said(body)
            self._wait(min(until - now, _LOOK_EVERY_S))

    def _wait(self, seconds: float) -> None:
        """Wait until something comes in, or can be sent on."""
        poll = select.poll()
        poll.register(self._own, select.POLLIN | (select.POLLOUT if self._unsent else 0))
        poll.register(self._server.control, select.POLLIN)
        ready = dict(poll.poll(math.ceil(seconds * 1000)))
        if ready.get(self._own.fileno(), 0) & select.POLLOUT and self._unsent:
            with contextlib.suppress(OSError):
                # Never waits: the child may not be reading.
                self._unsent = self._unsent[self._own.send(self._unsent, socket.MSG_DONTWAIT) :]
        if ready.get(self._own.fileno(), 0) & ~select.POLLOUT:
            try:
                more = self._own.recv(_READ_BYTES, socket.MSG_DONTWAIT)
            except BlockingIOError:
                return
            except OSError:
                more = b""
            if not more:
                raise self._gone()
            self._read += more
        elif self._server.child_is_gone or self._server.control.fileno() in ready:
            # Everything that the child said before its end has been read.
            raise self._gone()

    def _look(self) -> None:
        """Look how much the child uses, and end it when it is too much."""
        if self._stop is not None and self._stop.is_set():
            raise CellEnded("was ended because grading was stopped")
        if time.monotonic() > self._deadline:
            raise CellEnded("was ended because it took too long altogether")
        try:
            crowded, memory = self._server.usage()
        except OSError:
            raise CellEnded(ENDED_THE_PROGRAM) from None
        if crowded:
            raise self._gone()
        if memory > self._limits.memory_bytes:
            gigabytes = self._limits.memory_bytes / 1e9
            raise CellEnded(f"was ended because it used more than {gigabytes:g} GB of memory")

    def _gone(self) -> CellEnded:
        """Say why the child is gone."""
        with contextlib.suppress(OSError):
            if self._server.usage()[0]:
                most = self._limits.processes
                return CellEnded(f"was ended because it started more than {most} processes")
        return CellEnded(ENDED_THE_PROGRAM)


def _said(body: bytes) -> tuple[object, object]:
    """Read one frame of the child's."""
    try:
        kind, content = json.loads(body)
    except (ValueError, TypeError, RecursionError):
        raise CellEnded(UPSET_THE_PROGRAM) from None
    return kind, content
