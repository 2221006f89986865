"""Run a notebook's cells one after the other, in as many lives of an interpreter as it takes.

A cell that runs too long is interrupted and the rest goes on. A cell that can't be interrupted, or that ends
the interpreter, is left out: a new one runs the cells before it again and goes on after it. So one bad cell
costs a student that cell, not the exercise.
"""

from __future__ import annotations

import math
import threading
import time
from collections.abc import Callable
from contextlib import AbstractContextManager
from typing import Protocol

from nbformat import NotebookNode

from brakecourse.classroom.engine.kernel import Limits

_MOST_LIVES = 3


class KernelTrouble(Exception):
    """The interpreter could not be started: this machine's fault, not the student's."""


class CellEnded(Exception):
    """The interpreter is gone, or no longer fit to be used. The message goes on after "The cell …"."""


class Life(Protocol):
    """One interpreter that runs cells, from its start to its end."""

    def run(self, place: int, seconds: float, recording: bool) -> bool:
        """Run the cell at a place of the notebook.

        Args:
            place: where the cell stands.
            seconds: how long it may take; then it is interrupted.
            recording: whether what it puts out is kept. A cell that an earlier life ran is only run again
                for what the later ones need.

        Returns:
            Whether it had to be interrupted.

        Raises:
            CellEnded: the cell ended this life.
        """
        ...


class Lives:
    """Runs one notebook.

    Attributes:
        notes: what went wrong, a sentence each.
    """

    def __init__(self, limits: Limits, stop: threading.Event | None = None) -> None:
        """Make a run.

        Args:
            limits: how much it may use.
            stop: set from outside when the whole grading is to end.
        """
        self.notes: list[str] = []
        self._limits = limits
        self._stop = stop
        self._deadline = math.inf
        self._second_chance: set[int] = set()

    def run(self, nb: NotebookNode, begin: Callable[[], AbstractContextManager[Life]]) -> None:
        """Run every code cell, in order.

        Args:
            nb: the notebook; the lives fill in its outputs.
            begin: starts a new life.
        """
        self._deadline = time.monotonic() + self._limits.total_s
        order = [
            place for place, cell in enumerate(nb.cells) if cell.cell_type == "code" and cell.source.strip()
        ]
        left_out: set[int] = set()
        first = lives = 0
        while lives < _MOST_LIVES:
            chances = len(self._second_chance)
            with begin() as life:
                first = self._one_life(life, nb, order, first, left_out)
            if first >= len(order) or self._no_time_left():
                break
            lives += len(self._second_chance) == chances
        self._note_what_did_not_run(nb, order[first:])

    def _one_life(
        self, life: Life, nb: NotebookNode, order: list[int], first: int, left_out: set[int]
    ) -> int:
        """Run cells in one life; return the place in the order where the next one goes on."""
        for at, place in enumerate(order):
            if place in left_out:
                continue
            if self._no_time_left():
                return max(at, first)
            seconds = max(0.1, min(self._limits.cell_s, self._deadline - time.monotonic()))
            try:
                interrupted = life.run(place, seconds, recording=at >= first)
            except CellEnded as ended:
                if str(ended) == ENDED_THE_PROGRAM and place not in self._second_chance:
                    # The machine can have ended it (no memory left, an operator): it is not held against the
                    # student before it has happened twice.
                    self._second_chance.add(place)
                    return max(at, first)
                left_out.add(place)
                self.notes.append(f"{_name(nb.cells[place])} {ended}; the notebook was run without it.")
                return max(at + 1, first)
            if interrupted:
                left_out.add(place)
                self.notes.append(
                    f"{_name(nb.cells[place])} was stopped after {self._limits.cell_s:g} seconds."
                )
        return len(order)

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


def not_interrupted(limits: Limits) -> str:
    """Say that a cell could not be interrupted."""
    return f"ran longer than {limits.cell_s:g} seconds and could not be interrupted"


ENDED_THE_PROGRAM = "ended the program that runs the notebook"
UPSET_THE_PROGRAM = "upset the program that runs the notebook"


def _name(cell: NotebookNode) -> str:
    first = next((line.strip() for line in cell.source.splitlines() if line.strip()), "")
    shown = first if len(first) <= 40 else first[:40] + "…"
    return f"The cell that begins “{shown}”" if shown else "A cell"
