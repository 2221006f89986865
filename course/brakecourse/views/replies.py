"""What the course replies to a practice answer: pure functions, words out.

A reply to a wrong answer names the mistake that gives exactly that number, where there is one.
The exercises are marked elsewhere, by the instructor's side; here the learner only practises.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from brakecourse.views.units import both
from brakecourse.views.words import mm

MISTAKES: dict[str, str] = {
    "half_millimetre_line": (
        "You are half a millimetre out. Look below the datum line: when the edge of the thimble has passed "
        "a half-millimetre line, add 0.50; when it has not, add nothing."
    ),
    "ten_times": "Your decimal point slipped: each small line is one hundredth of a millimetre, 0.01 mm.",
    "inches_for_millimetres": "That is the size in inches. The answer was asked in millimetres.",
    "half_of_total": (
        "That is half of it. The answer is the whole distance from the smallest to the largest reading."
    ),
    "nuts_not_seated": (
        "That is the swing of a rotor that hangs loose. Fit all the wheel nuts first: they seat it."
    ),
    "highest_alone": "That is the highest reading alone. Subtract the lowest from it; mind its sign.",
    "mean_for_minimum": (
        "You used the mean. The thinnest place decides, because the limit holds at every place."
    ),
    "largest_for_smallest": "You used the thickest place. The thinnest place decides.",
    "on_the_ridge": "That was read on the rust ridge. The pads never touch it. Measure mid-track.",
    "discard_for_machine_to": (
        "You used the discard thickness. A cut must stop earlier, at the machine-to thickness."
    ),
    "one_face_only": "You counted one face only. Both faces count together.",
    "wrong_sign": "The size is right, but you subtracted the wrong way round.",
    "run_out_forgotten": "You took off the variation. The run-out has to come off too.",
    "variation_forgotten": "You took off the run-out. The variation has to come off too.",
}


@dataclass(frozen=True)
class Reply:
    """Whether an answer is right, and what to say."""

    right: bool
    words: str


def value_reply(
    answer_mm: float,
    expected_mm: float,
    mistakes: Mapping[str, float],
    *,
    because: str,
    hint: str,
    tolerance_mm: float = 0.004,
) -> Reply:
    """Judge a practice answer in millimetres.

    Args:
        answer_mm: what the learner typed.
        expected_mm: the right value.
        mistakes: for each mistake's name, the value that it would have given.
        because: how the right value comes about, said after a right answer.
        hint: where to look again, said after a wrong answer that matches no known mistake.
        tolerance_mm: how far off still counts as right.

    Returns:
        The reply. An answer within the tolerance is right even if a mistake gives the same number.

    >>> value_reply(0.03, 0.06, {"half_of_total": 0.03}, because="", hint="").words[:27]
    'Not yet. That is half of it'
    """
    if near(answer_mm, expected_mm, tolerance_mm):
        return Reply(True, f"Right: {mm(expected_mm)}. {because}")
    for mistake, value in mistakes.items():
        if near(answer_mm, value, min(tolerance_mm, 0.005, abs(value) / 4)):
            return Reply(False, f"Not yet. {MISTAKES[mistake]}")
    side = "too large" if answer_mm > expected_mm else "too small"
    return Reply(False, f"Not yet: {mm(answer_mm)} is {side}. {hint}")


def number_reply(
    answer: float,
    expected: float,
    mistakes: Mapping[str, float],
    *,
    unit: str,
    tolerance: float,
    because: str,
    hint: str,
    places: int | None = None,
) -> Reply:
    """Judge a practice answer in any unit.

    Args:
        answer: what the learner typed, in the unit.
        expected: the right value.
        mistakes: for each mistake, told to the learner in a sentence, the value that it would have given.
            The nearest that fits is named.
        unit: the symbol, one of :data:`brakecourse.views.units.UNITS`.
        tolerance: how far off still counts as right, in the unit.
        because: how the right value comes about, said after a right answer.
        hint: where to look again, said after a wrong answer that matches no known mistake.
        places: decimal places to write values with; by default those of the unit.

    Returns:
        The reply. An answer within the tolerance is right even if a mistake gives the same number.

    >>> number_reply(900, 450, {"You counted both feet.": 900},
    ...     unit="N", tolerance=5, because="", hint="").words
    'Not yet. You counted both feet.'
    """
    if near(answer, expected, tolerance):
        return Reply(True, f"Right: {both(expected, unit, places)}. {because}".strip())
    fits = {
        abs(answer - value): sentence
        for sentence, value in reversed(list(mistakes.items()))
        if near(answer, value, _reach(value, expected, tolerance))
    }
    if fits:
        return Reply(False, f"Not yet. {fits[min(fits)]}")
    side = "too large" if answer > expected else "too small"
    return Reply(False, f"Not yet: {both(answer, unit, places)} is {side}. {hint}".strip())


def _reach(value: float, expected: float, tolerance: float) -> float:
    """Return how near a mistake's value an answer must lie to be put down to it.

    A mistake that gives a larger number is rounded more coarsely. But a wide tolerance must not blame it for
    a number that merely lies in its neighbourhood.
    """
    scaled = tolerance * max(1.0, abs(value / expected)) if expected else tolerance
    return min(scaled, abs(value) / 4, abs(value - expected) / 2)


def near(answer: float, value: float, tolerance: float) -> bool:
    """Return whether two numbers are equal to within a tolerance, rounding dust apart."""
    return abs(answer - value) <= tolerance + 1e-9
