"""Simulated students: they read the same drawings as a real one, and make the usual mistakes.

**The model** (an assumption, no source). A student has an ability from 0 to 1 and some habits. A habit is a
misunderstanding, named like the mistake that it leads to; its owner makes that mistake whenever the question
invites it. Gauges are read through the bench's misreading model, which slips the more the lower the ability.
Besides, a student slips in arithmetic, or leaves a question empty, with shares that fall as ability rises.
Everything else is done as the lesson teaches it, on the student's own readings.
"""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.marking.sealed import SealedCase
from brakecourse.marking.simulated_sitting import Sitting, Work

__all__ = ["HABITS", "Student", "Work"]

HABITS: tuple[str, ...] = (
    "half_millimetre_line",
    "half_of_total",
    "mean_for_minimum",
    "machine_to_for_discard",
    "discard_for_machine_to",
    "on_the_ridge",
    "nuts_not_seated",
    "ignored_uncertainty",
    "inches_for_millimetres",
    "one_face_only",
    "largest_for_smallest",
    "probability_of_failing",
    "expanded_for_standard",
    "ten_times",
    "wrong_sign",
    "fraction_for_percent",
)
"""Every habit that a student can have here."""


@dataclass(frozen=True)
class Student:
    """One simulated student.

    Args:
        ability: 0 to 1.
        habits: names of mistakes, out of :data:`HABITS`.

    Raises:
        ValueError: the ability is outside its range, or a habit is unknown.
    """

    ability: float
    habits: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        if isinstance(self.ability, bool) or not 0 <= self.ability <= 1:
            raise ValueError(f"A student's ability must be from 0 to 1, but it was {self.ability!r}.")
        unknown = sorted(self.habits - set(HABITS))
        if unknown:
            raise ValueError(f"A student's habits must be named mistakes, but found {', '.join(unknown)}.")

    def answers(self, case: SealedCase, draw: Draw) -> dict[str, object]:
        """Return the student's answer to every question, as a notebook would hand it in.

        Args:
            case: the student's own case.
            draw: where chance comes from.
        """
        return self.work(case, draw).answers

    def work(self, case: SealedCase, draw: Draw) -> Work:
        """Return the answers together with what went wrong, so that tests can compare."""
        return Sitting(self.ability, self.habits, case, draw).work()
