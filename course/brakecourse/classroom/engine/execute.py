"""Run a healed notebook in a kernel that is shut in, and bring back what each cell put out.

A cell that runs too long is interrupted and the rest goes on. A cell that can't be interrupted, or that ends
the kernel, is left out: a new kernel runs the cells before it again and goes on after it. So one bad cell
costs a student that cell, not the exercise.
"""

from __future__ import annotations

import copy
import json
import math
import threading
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from nbclient.client import NotebookClient
from nbclient.exceptions import CellTimeoutError, DeadKernelError
from nbformat import NotebookNode
from nbgrader.preprocessors import Execute

from brakecourse.classroom.engine.kernel import KernelManager, Limits, Watch
from brakecourse.classroom.engine.sandbox import Protection, Scratch, scratch

ANSWER_MIME = "application/vnd.brakecourse.answer+json"

_MOST_KERNELS = 3
_MOST_ANSWERS = 20
_STORED_DATA = ("text/plain", "image/png")
_LONGEST_TRACEBACK = 40


class KernelTrouble(Exception):
    """The kernel could not be started: this machine's fault, not the student's."""


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
        self._deadline = math.inf
        self._kept_bytes: dict[int, int] = {}
        self._recording = True
        self._timed_out = False
        self._asked_to_end = False
        self.timeout_func = self._seconds_for_cell

    def preprocess(
        self, nb: NotebookNode, resources: dict[str, Any] | None = None, km: object = None
    ) -> tuple[NotebookNode, dict[str, Any]]:
        """Run every code cell of a notebook, in order, and fill in its outputs.

        Raises:
            KernelTrouble: no kernel could be started.
        """
        resources = resources if resources is not None else {}
        self.notes = []
        self._kept_bytes = {}
        self._deadline = time.monotonic() + self._limits.total_s
        order = [
            index for index, cell in enumerate(nb.cells) if cell.cell_type == "code" and cell.source.strip()
        ]
        left_out: set[int] = set()
        first = 0
        for _ in range(_MOST_KERNELS):
            first = self._one_kernel(nb, resources, order, first, left_out)
            if first >= len(order) or self._no_time_left():
                break
        self._note_what_did_not_run(nb, order[first:])
        return nb, resources

    def _one_kernel(
        self, nb: NotebookNode, resources: dict[str, Any], order: list[int], first: int, left_out: set[int]
    ) -> int:
        """Run cells in one kernel's life; return the place in the order where the next life goes on."""
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
                    return self._run_cells(nb, order, first, left_out, watch)
            finally:
                self._cleanup_kernel()

    def _run_cells(
        self, nb: NotebookNode, order: list[int], first: int, left_out: set[int], watch: Watch
    ) -> int:
        for place, index in enumerate(order):
            if index in left_out:
                continue
            if self._no_time_left():
                return max(place, first)
            # A cell that an earlier kernel ran already is only run for what the later ones need.
            self._recording = place >= first
            self._timed_out = False
            cell = self.nb.cells[index]
            try:
                self.execute_cell(cell, index, store_history=True)
                if self._asked_to_end:
                    # The kernel goes a moment later, and would take a cell with it that has done nothing.
                    raise DeadKernelError
            except Exception as error:
                # Also what a kernel sends that is no proper message: it can end its own run, nobody else's.
                left_out.add(index)
                self._note_end(cell, error, watch)
                return max(place + 1, first)
            finally:
                if self._recording:
                    nb.cells[index] = cell
            if self._timed_out:
                left_out.add(index)
                self.notes.append(f"{_name(cell)} was stopped after {self._limits.cell_s:g} seconds.")
        return len(order)

    def _note_end(self, cell: NotebookNode, error: Exception, watch: Watch) -> None:
        if watch.reason:
            why = f"was ended because {watch.reason}"
        elif isinstance(error, CellTimeoutError):
            why = f"ran longer than {self._limits.cell_s:g} seconds and could not be interrupted"
        elif isinstance(error, DeadKernelError):
            why = "ended the program that runs the notebook"
        else:
            why = "upset the program that runs the notebook"
        self.notes.append(f"{_name(cell)} {why}; the notebook was run without it.")

    def _note_what_did_not_run(self, nb: NotebookNode, places: list[int]) -> None:
        if not places:
            return
        many = f"the last {len(places)} code cells" if len(places) > 1 else "the last code cell"
        why = (
            f"the notebook took longer than {self._limits.total_s:g} seconds"
            if self._no_time_left()
            else "too many cells had to be ended"
        )
        self.notes.append(f"{many[0].upper()}{many[1:]} did not run: {why}.")

    def _no_time_left(self) -> bool:
        stopped = self._stop is not None and self._stop.is_set()
        return stopped or time.monotonic() >= self._deadline

    def _seconds_for_cell(self, _: NotebookNode) -> float:
        return max(0.1, min(self._limits.cell_s, self._deadline - time.monotonic()))

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
        content = _stored(kind, msg["content"])
        if content is None or not self._fits(content, cell, cell_index):
            return None
        return self.output(cell.outputs, {**msg, "content": content}, "", cell_index)

    def _fits(self, content: Mapping[str, Any], cell: NotebookNode, cell_index: int) -> bool:
        if ANSWER_MIME in content.get("data", {}):
            # Answers have their own share: a flood of print can't push one out.
            held = sum(ANSWER_MIME in output.get("data", {}) for output in cell.outputs)
            return held < _MOST_ANSWERS
        size = self._kept_bytes.get(cell_index, 0) + len(json.dumps(content, default=str))
        if size > self._limits.output_bytes:
            return False
        self._kept_bytes[cell_index] = size
        return True


def _stored(kind: str, content: object) -> dict[str, Any] | None:
    """Return the part of an output that is kept: plain text, pictures in dots, and handed-in answers.

    Everything else (HTML, scripts, drawings as text) could act on the teacher's screen later.
    """
    if not isinstance(content, Mapping):
        return None
    if kind == "stream":
        name, text = content.get("name"), content.get("text")
        return (
            {"name": name, "text": text} if name in ("stdout", "stderr") and isinstance(text, str) else None
        )
    if kind == "error":
        lines = content.get("traceback")
        lines = [str(line) for line in lines[-_LONGEST_TRACEBACK:]] if isinstance(lines, list) else []
        return {"ename": str(content.get("ename")), "evalue": str(content.get("evalue")), "traceback": lines}
    data = content.get("data")
    if not isinstance(data, Mapping):
        return None
    kept: dict[str, Any] = {mime: data[mime] for mime in _STORED_DATA if isinstance(data.get(mime), str)}
    if ANSWER_MIME in data:
        kept[ANSWER_MIME] = data[ANSWER_MIME]
    if not kept:
        return None
    return {"data": kept, "metadata": {}, "execution_count": content.get("execution_count")}


def _name(cell: NotebookNode) -> str:
    first = next((line.strip() for line in cell.source.splitlines() if line.strip()), "")
    shown = first if len(first) <= 40 else first[:40] + "…"
    return f"The cell that begins “{shown}”" if shown else "A cell"


def _last_words(place: Scratch) -> str:
    try:
        lines = place.log.read_text(encoding="utf-8", errors="replace").split("\n")
    except OSError:
        return ""
    return next((line.strip()[:300] for line in reversed(lines) if line.strip()), "")
