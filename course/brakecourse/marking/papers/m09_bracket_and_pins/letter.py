"""What a simulated student writes to the new helper. A person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers import units_text as both
from brakecourse.marking.papers.m09_bracket_and_pins.truth import BracketTruth
from brakecourse.views.words import mm

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student explains everything, or at least the amount of grease and its reason."""

_CLIPS = (
    "The old clips come off, and the bracket is cleaned to bare metal before new ones go in: rust under a "
    "clip lifts it, and the pad binds."
)
_KIND = "Only the grease that the maker names touches a pin: petroleum grease swells the rubber of the boots."


def to_the_helper(truth: BracketTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    most = f"Put in a thin film, at most {both.millilitres(given.number('9.5'))} in each bore."
    if ability < SHORT_FROM:
        return most
    pressed, gap = both.millilitres(truth.pressed_in_ml), mm(given.number("9.6"), 1)
    why = (
        f"With {pressed} no air is left that could give way: the pin stops {gap} short of its seat and works "
        "like a pump."
    )
    if ability < FULL_FROM:
        return f"{most} {why}"
    return f"{most} {why} {_CLIPS} {_KIND}"
