"""What a simulated student tells the helper. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m03_brake_fluid.truth import FluidTruth

_FLUID = (
    "Wear eye protection and gloves: brake fluid harms eyes, skin and paint. Rinse a splash off with plenty "
    "of water at once."
)
_HOT = "We wait until the brakes are cold, because hot fluid sprays out of a bleeder and can catch fire."
_PEDAL = "Press slowly when I say so, and hold the pedal down until I say that the bleeder is shut."
_AFTER = (
    "The old fluid goes into its own waste can. Nobody moves the vehicle before the pedal is firm and I have "
    "looked for wet places."
)
_SENTENCES = (_FLUID, _PEDAL, _AFTER, _HOT)


def helper_words(_truth: FluidTruth, _given: Given, ability: float) -> str:
    """Return a few sentences, the more the higher the ability."""
    many = 1 + min(3, int(4 * ability))
    return " ".join(_SENTENCES[:many])
