"""One warm interpreter, seen from outside: it is started shut in, and forks a child for each notebook."""

from __future__ import annotations

import contextlib
import json
import socket
import subprocess
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from brakecourse.classroom.engine.kernel import threads_now
from brakecourse.classroom.engine.sandbox import environment, shown_in_tmp, warm_command

_HOME = Path("/tmp/work")
_START_S = 60.0
_ANSWER_S = 10.0


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

    def begin(self, processes: int) -> socket.socket:
        """Fork a child that may have so many processes; return the grader's end of its socket."""
        ours, theirs = socket.socketpair()
        self.child_is_gone = False
        with theirs:
            socket.send_fds(self.control, [str(processes).encode()], [theirs.fileno()])
        return ours

    def order(self, words: bytes) -> None:
        """Give an order about the child that lives."""
        self.control.send(words)

    def usage(self) -> tuple[bool, int]:
        """Return whether the child was ended for its many processes, and the memory of all in bytes."""
        self.order(b"usage")
        crowded, memory = self._answer("usage")
        return crowded, memory

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
