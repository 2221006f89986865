"""The values that a solved notebook is worked with, as Python text, taken from a sealed case.

They stand typed in the notebook, as an instructor would type them from the drawings. This module is how
they come from the case and not from a keyboard.
"""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.paper import Paper, paper
from brakecourse.marking.sealed import SealedCase

BEST = 1.0
"""Ability of whoever writes the letters of a solved notebook."""


def worked_values(case: SealedCase) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    asks, given = _open(case)
    return dict(asks.worked(given.truth, given))


def worked_letters(case: SealedCase) -> dict[str, str]:
    """Return, for each written question, what a good student writes."""
    asks, given = _open(case)
    return {question: letter(given.truth, given, BEST) for question, letter in asks.letter.items()}


def _open(case: SealedCase) -> tuple[Paper, Given]:
    asks = paper(case.module)
    truth = asks.read_truth(case.truth)
    return asks, Given(truth, asks.key, case.choices, {}, case.questions)
