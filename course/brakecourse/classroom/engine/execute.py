"""Run a healed notebook in an ordinary kernel that is shut in, and bring back what each cell put out.

This is how notebooks run where the warm interpreter (`warm`) can't, and under plain nbgrader commands.
"""

from __future__ import annotations

import copy
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from nbclient.client import NotebookClient
from nbclient.exceptions import CellTimeoutError, DeadKernelError
from nbformat import NotebookNode
from nbgrader.preprocessors import Execute

from brakecourse.classroom.engine.kernel import KernelManager, Limits, Watch
from brakecourse.classroom.engine.lives import (
    ENDED_THE_PROGRAM,
    UPSET_THE_PROGRAM,
    CellEnded,
    KernelTrouble,
    Lives,
    not_interrupted,
)
from brakecourse.classroom.engine.outputs import ANSWER_MIME, Kept
from brakecourse.classroom.engine.sandbox import Protection, Scratch, scratch

__all__ = ["ANSWER_MIME", "KernelTrouble", "NotebookRun"]


class NotebookRun(Execute):
    """nbgrader's executor, run shut in and within limits."""

    def __init__(
        self,
        files: Mapping[str, bytes],
        shut_in: Protection,
        limits: Limits,
        hidden: Sequence[Path] = (),
        stop: threading.Event | None = None,
        **kwargs: Any,
    ) -> None:
        super().__init__(**kwargs)
        self.shutdown_kernel = "immediate"
        self.startup_timeout = 60
        self.notes: list[str] = []
        self._files = files
        self._shut_in = shut_in
        self._limits = limits
        self._hidden = tuple(hidden)
        self._stop = stop
        self._kept = Kept(limits.output_bytes)
        self._recording = True
        self._timed_out = False
        self._asked_to_end = False
        self._seconds = limits.cell_s
        self.timeout_func = lambda _: self._seconds

    def preprocess(
        self, nb: NotebookNode, resources: dict[str, Any] | None = None, km: object = None
    ) -> tuple[NotebookNode, dict[str, Any]]:
        """Run every code cell of a notebook, in order, and fill in its outputs.

        Raises:
            KernelTrouble: no kernel could be started.
        """
        resources = resources if resources is not None else {}
        self._kept = Kept(self._limits.output_bytes)
        lives = Lives(self._limits, self._stop)
        lives.run(nb, lambda: self._one_kernel(nb, resources))
        self.notes = lives.notes
        return nb, resources

    @contextmanager
    def _one_kernel(self, nb: NotebookNode, resources: dict[str, Any]) -> Iterator[_KernelLife]:
        # The executor works on a copy, because a later life runs cells again whose outputs are already taken.
        NotebookClient.__init__(self, copy.deepcopy(nb))
        self.resources = resources
        self._asked_to_end = False
        with scratch(self._files) as place:
            self.km = KernelManager(place, self._shut_in, self._limits, self._hidden, log=self.log)
            try:
                self.start_new_kernel()
                self.start_new_kernel_client()
            except Exception as error:
                raise KernelTrouble(_last_words(place) or str(error)) from error
            try:
                with Watch(self.km.process, place, self._limits, self._stop) as watch:
                    yield _KernelLife(self, nb, watch)
            finally:
                self._cleanup_kernel()

    def run_cell(self, nb: NotebookNode, place: int, seconds: float, recording: bool, watch: Watch) -> bool:
        """Run one cell in the kernel that is alive; see `lives.Life.run`."""
        self._recording, self._seconds, self._timed_out = recording, seconds, False
        cell = self.nb.cells[place]
        try:
            self.execute_cell(cell, place, store_history=True)
            if self._asked_to_end:
                # The kernel goes a moment later, and would take a cell with it that has done nothing.
                raise DeadKernelError
        except Exception as error:
            # Also what a kernel sends that is no proper message: it can end its own run, nobody else's.
            raise CellEnded(self._why(error, watch)) from error
        finally:
            if recording:
                nb.cells[place] = cell
        return self._timed_out

    def _why(self, error: Exception, watch: Watch) -> str:
        if watch.reason:
            return f"was ended because {watch.reason}"
        if isinstance(error, CellTimeoutError):
            return not_interrupted(self._limits)
        return ENDED_THE_PROGRAM if isinstance(error, DeadKernelError) else UPSET_THE_PROGRAM

    def on_cell_executed(self, **kwargs: Any) -> None:
        """Also see whether the cell asked the kernel to end, as `exit()` does."""
        super().on_cell_executed(**kwargs)
        payload = kwargs["execute_reply"]["content"].get("payload")
        wishes = payload if isinstance(payload, list) else []
        self._asked_to_end = any(
            isinstance(wish, dict) and wish.get("source") == "ask_exit" for wish in wishes
        )

    async def _async_handle_timeout(self, timeout: float, cell: NotebookNode | None = None) -> Any:
        self._timed_out = True
        return await super()._async_handle_timeout(timeout, cell)

    def process_message(
        self, msg: dict[str, Any], cell: NotebookNode, cell_index: int
    ) -> NotebookNode | None:
        """Take over a kernel's message if it is an output of this cell, of a stored kind and not too much.

        Widgets, display updates and clearing are passed over: they could change another cell's outputs.
        """
        kind = msg["msg_type"]
        if kind == "status":
            return super().process_message(msg, cell, cell_index)
        if kind not in ("stream", "display_data", "execute_result", "error") or not self._recording:
            return None
        content = self._kept.content(kind, msg["content"], cell, cell_index)
        return (
            None
            if content is None
            else self.output(cell.outputs, {**msg, "content": content}, "", cell_index)
        )


class _KernelLife:
    """One kernel's life."""

    def __init__(self, by: NotebookRun, nb: NotebookNode, watch: Watch) -> None:
        self._by, self._nb, self._watch = by, nb, watch

    def run(self, place: int, seconds: float, recording: bool) -> bool:
        """Run a cell; see `lives.Life.run`."""
        return self._by.run_cell(self._nb, place, seconds, recording, self._watch)


def _last_words(place: Scratch) -> str:
    try:
        lines = place.log.read_text(encoding="utf-8", errors="replace").split("\n")
    except OSError:
        return ""
    return next((line.strip()[:300] for line in reversed(lines) if line.strip()), "")
