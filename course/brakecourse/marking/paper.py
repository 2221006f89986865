"""One module's exercise: what is drawn, how each answer follows, what the student gets to see.

Every module has a package ``brakecourse.marking.papers.mNN_subject`` with one ``PAPER`` in it. The sealing,
the judging, the work order and the simulated students know nothing of any module: they ask its paper.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from brakecourse.bench.situations import Difficulty
from brakecourse.marking.catalogue import check_module
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.sealed import Truth


@dataclass(frozen=True)
class Drawn:
    """One drawing for the work order.

    Attributes:
        svg: the drawing; no reading stands in it as a number.
        caption: where and how it was taken.
    """

    svg: str
    caption: str


@dataclass(frozen=True)
class Sheet:
    """What a student gets to see of the vehicle.

    Attributes:
        facts: label and text of what the maker states and of the gauges, SI and US units side by side.
        notes: sentences on how things were measured.
        drawings: by short name.
        shown: for each question, the drawings that belong to it.
        labels: for each table, what its places are called, the first words of the captions of their drawings.
        steps: for each sequence, the words of its steps in the order in which they are listed.
    """

    facts: tuple[tuple[str, str], ...]
    notes: tuple[str, ...] = ()
    drawings: Mapping[str, Drawn] = field(default_factory=dict)
    shown: Mapping[str, Sequence[str]] = field(default_factory=dict)
    labels: Mapping[str, Sequence[str]] = field(default_factory=dict)
    steps: Mapping[str, Sequence[str]] = field(default_factory=dict)


@dataclass(frozen=True)
class Paper:
    """One module's exercise.

    Attributes:
        module: e.g. ``"08_rotor_measurement"``.
        truth: the record of what is true of its vehicle.
        draw: draws a vehicle from a seed, at a difficulty, in a situation (None: drawn by ``shares``). The
            same arguments give the same one everywhere.
        key: how the right answer to each question follows, questions marked by a person left out.
        sheet: what the student gets to see.
        letter: what a good student writes to a written question: from the truth, from the student's own
            answers, with an ability from 0 to 1. By question.
        worked: the values that the solved notebook is worked with, as Python text by name.
        must_show: mistakes that must give another answer than the right one, on every vehicle, by question.
            A vehicle on which one of them would be right is drawn again.
        shares: how often each situation is drawn at normal difficulty; they add up to 1.
    """

    module: str
    truth: type[Truth]
    draw: Callable[[int, Difficulty, str | None], Truth]
    key: Mapping[str, Answer]
    sheet: Callable[[Any], Sheet]
    letter: Mapping[str, Callable[[Any, Given, float], str]]
    worked: Callable[[Any, Given], Mapping[str, str]]
    must_show: Mapping[str, tuple[str, ...]]
    shares: Mapping[str, float]

    def read_truth(self, data: Mapping[str, Any]) -> Truth:
        """Return the record of what is true, from its plain data."""
        return self.truth.model_validate(data)


@cache
def paper(module: str) -> Paper:
    """Return a module's paper.

    Raises:
        CourseError: there is no exercise of that name.
    """
    check_module(module)
    found = importlib.import_module(f"brakecourse.marking.papers.m{module}")
    assert isinstance(found.PAPER, Paper)
    return found.PAPER
