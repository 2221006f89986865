"""Run a healed notebook in a child of a warm interpreter, and bring back what each cell put out.

The interpreter (`warm_start`) lives as long as the process that grades and has loaded everything; a child of
it starts in milliseconds and is shut in like an ordinary kernel. Whatever a child sends is data from a
stranger: it is read as JSON of bounded size, and can end its own run, nobody else's.
"""

from __future__ import annotations

import base64
import contextlib
import json
import math
import select
import socket
import subprocess
import threading
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from nbformat import NotebookNode

from brakecourse.classroom.engine.kernel import Limits, threads_now
from brakecourse.classroom.engine.lives import (
    ENDED_THE_PROGRAM,
    UPSET_THE_PROGRAM,
    CellEnded,
    KernelTrouble,
    Lives,
    not_interrupted,
)
from brakecourse.classroom.engine.nodes import new_output
from brakecourse.classroom.engine.outputs import Kept
from brakecourse.classroom.engine.sandbox import environment, shown_in_tmp, warm_command

_HOME = Path("/tmp/work")
_START_S = 60.0
_ANSWER_S = 10.0
_LOOK_EVERY_S = 0.2
_INTERRUPTED_S = 2.0
_STILL_READ_S = 1.0
_BIGGEST_FRAME_BYTES = 16_000_000
_READ_BYTES = 1 << 18
_OPEN_FILES = 256


class NotWarm(Exception):
    """A warm interpreter can't be had on this machine; the message says why."""


class WarmServer:
    """One warm interpreter, shut in. It serves one notebook at a time."""

    def __init__(self, tool: str, hidden: Sequence[Path]) -> None:
        """Start it.

        Args:
            tool: path of bubblewrap.
            hidden: folders that must not be seen, wherever they lie.

        Raises:
            NotWarm: it does not start, or can't shut its children in.
        """
        ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        with theirs:
            self._process = subprocess.Popen(
                [
                    *warm_command(tool, hidden),
                    str(theirs.fileno()),
                    json.dumps(shown_in_tmp()),
                    str(threads_now() + 256),
                ],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.PIPE,
                pass_fds=(theirs.fileno(),),
                env=environment(_HOME),
            )
        self.control = ours
        self.child_is_gone = False
        try:
            said = self._said(_START_S)
        except OSError:
            self._process.kill()
            why = self._last_words()
            self.end()
            raise NotWarm(why) from None
        if not said.get("ready"):
            self.end()
            raise NotWarm(str(said.get("why")))

    @property
    def alive(self) -> bool:
        """Whether it can take a notebook."""
        return self.control.fileno() >= 0 and self._process.poll() is None

    def begin(self) -> socket.socket:
        """Fork a child; return the grader's end of the child's socket."""
        ours, theirs = socket.socketpair()
        self.child_is_gone = False
        with theirs:
            socket.send_fds(self.control, [b"run"], [theirs.fileno()])
        return ours

    def order(self, words: bytes) -> None:
        """Give an order about the child that lives."""
        self.control.send(words)

    def usage(self) -> tuple[int, int]:
        """Return how many processes the child has, and their memory in bytes."""
        self.order(b"usage")
        count, memory = self._answer("usage")
        return count, memory

    def end_child(self) -> None:
        """Kill the child with all that it started. An interpreter that can't do that is ended itself."""
        try:
            self.order(b"end")
            self._answer("ended")
        except OSError:
            self.end()

    def end(self) -> None:
        """End the interpreter, with whatever runs in it."""
        self.control.close()
        self._process.kill()
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._process.wait(_ANSWER_S)  # the system can be slow to take a sandbox down
        if self._process.stderr is not None:
            self._process.stderr.close()

    def _answer(self, to: str) -> Any:
        until = time.monotonic() + _ANSWER_S
        while True:
            said = self._said(until - time.monotonic())
            self.child_is_gone |= "dead" in said
            if to in said:
                return said[to]

    def _said(self, seconds: float) -> dict[str, Any]:
        self.control.settimeout(max(0.001, seconds))
        said = self.control.recv(65_536)
        self.control.settimeout(None)
        if not said:
            raise ConnectionError("the warm interpreter is gone")
        return dict(json.loads(said))

    def _last_words(self) -> str:
        assert self._process.stderr is not None
        lines = self._process.stderr.read(20_000).decode("utf-8", "replace").split("\n")
        return next((line.strip()[:300] for line in reversed(lines) if line.strip()), "it ended at once")


class WarmServers:
    """The warm interpreter of one thread, started when it is first wanted and again when it has ended.

    It belongs to a thread because the system ends it with the thread that started it.
    """

    def __init__(self, tool: str, hidden: Sequence[Path]) -> None:
        """Start the first one.

        Args:
            tool: path of bubblewrap.
            hidden: folders that must not be seen, wherever they lie.
        """
        self._tool, self._hidden = tool, tuple(hidden)
        self._server: WarmServer | None = None
        self.why_not: str | None = None
        try:
            self._server = WarmServer(tool, self._hidden)
        except NotWarm as error:
            self.why_not = str(error)

    def one(self) -> WarmServer:
        """Return a warm interpreter that is alive.

        Raises:
            KernelTrouble: none can be started any more.
        """
        if self._server is None or not self._server.alive:
            self.end()
            try:
                self._server = WarmServer(self._tool, self._hidden)
            except NotWarm as error:
                raise KernelTrouble(str(error)) from error
        return self._server

    def end(self) -> None:
        """End it."""
        if self._server is not None:
            self._server.end()


_of_thread = threading.local()


def warm_servers(tool: str, hidden: Sequence[Path]) -> WarmServers:
    """Return this thread's warm interpreter for a set of hidden folders."""
    key = (tool, tuple(hidden))
    held: tuple[object, WarmServers] | None = getattr(_of_thread, "held", None)
    if held is None or held[0] != key:
        end_warm_servers()
        held = _of_thread.held = (key, WarmServers(tool, hidden))
    return held[1]


def end_warm_servers() -> None:
    """End this thread's warm interpreter, if it has one."""
    held: tuple[object, WarmServers] | None = getattr(_of_thread, "held", None)
    if held is not None:
        held[1].end()
        del _of_thread.held


class WarmRun:
    """Runs notebooks in children of a warm interpreter.

    Attributes:
        notes: what went wrong, a sentence each.
    """

    def __init__(
        self,
        server: Callable[[], WarmServer],
        files: Mapping[str, bytes],
        limits: Limits,
        stop: threading.Event | None = None,
    ) -> None:
        """Make a run.

        Args:
            server: gives a warm interpreter that is alive.
            files: what lies in the working folder, by plain file name.
            limits: how much the notebook may use.
            stop: set from outside when the whole grading is to end.
        """
        self.notes: list[str] = []
        self._server = server
        self._files = files
        self._limits = limits
        self._stop = stop

    def preprocess(self, nb: NotebookNode) -> None:
        """Run every code cell of a notebook, in order, and fill in its outputs.

        Raises:
            KernelTrouble: no child could be started.
        """
        kept = Kept(self._limits.output_bytes)
        lives = Lives(self._limits, self._stop)
        lives.run(nb, lambda: self._one_child(nb, kept))
        self.notes = lives.notes

    @contextmanager
    def _one_child(self, nb: NotebookNode, kept: Kept) -> Iterator[_ChildLife]:
        server = self._server()
        try:
            own = server.begin()
        except OSError:
            # It ended since it was looked at, or its last child took it along.
            server.end()
            server = self._server()
            own = server.begin()
        with own:
            try:
                life = _ChildLife(server, own, nb, kept, self._limits, self._stop)
                life.begin(self._files)
                yield life
            finally:
                server.end_child()


class _ChildLife:
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
        self._server, self._own, self._nb, self._kept = server, own, nb, kept
        self._limits, self._stop = limits, stop
        self._read = bytearray()
        self._unsent = memoryview(b"")
        self._dead = False
        self._looked = 0.0
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
            kind, content = self._frame(time.monotonic() + _START_S)
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
                raise CellEnded(ENDED_THE_PROGRAM)
            self._read += more
        elif self._server.child_is_gone or self._server.control.fileno() in ready:
            # Everything that the child said before its end has been read.
            raise CellEnded(ENDED_THE_PROGRAM)

    def _look(self) -> None:
        """Look how much the child uses, and end it when it is too much."""
        if self._stop is not None and self._stop.is_set():
            raise CellEnded("was ended because grading was stopped")
        if time.monotonic() > self._deadline:
            raise CellEnded("was ended because it took too long altogether")
        try:
            processes, memory = self._server.usage()
        except OSError:
            raise CellEnded(ENDED_THE_PROGRAM) from None
        if processes > self._limits.processes:
            raise CellEnded(f"was ended because it started more than {self._limits.processes} processes")
        if memory > self._limits.memory_bytes:
            gigabytes = self._limits.memory_bytes / 1e9
            raise CellEnded(f"was ended because it used more than {gigabytes:g} GB of memory")


def _said(body: bytes) -> tuple[object, object]:
    """Read one frame of the child's."""
    try:
        kind, content = json.loads(body)
    except (ValueError, TypeError, RecursionError):
        raise CellEnded(UPSET_THE_PROGRAM) from None
    return kind, content
