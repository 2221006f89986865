"""Run a healed notebook in a child of a warm interpreter, and bring back what each cell put out.

The interpreter (`warm_start`) lives as long as the process that grades and has loaded everything; a child of
it starts in milliseconds and is shut in like an ordinary kernel.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from nbformat import NotebookNode

from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.lives import KernelTrouble, Lives
from brakecourse.classroom.engine.outputs import Kept
from brakecourse.classroom.engine.warm_life import ChildLife
from brakecourse.classroom.engine.warm_server import NotWarm, WarmServer

__all__ = ["NotWarm", "WarmRun", "WarmServer", "WarmServers", "end_warm_servers", "warm_servers"]


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
    def _one_child(self, nb: NotebookNode, kept: Kept) -> Iterator[ChildLife]:
        server = self._server()
        try:
            own = server.begin(self._limits.processes)
        except OSError:
            # It ended since it was looked at, or its last child took it along.
            server.end()
            server = self._server()
            own = server.begin(self._limits.processes)
        with own:
            try:
                life = ChildLife(server, own, nb, kept, self._limits, self._stop)
                life.begin(self._files)
                yield life
            finally:
                server.end_child()
