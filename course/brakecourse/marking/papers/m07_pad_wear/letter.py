"""What a simulated student writes to the colleague who goes on. A person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m07_pad_wear.truth import PadTruth
from brakecourse.views.words import mm

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the whole note, or at least what was found and what is to be done."""

_DONE = {
    "keep": "The pads stay",
    "measure again": "Measure the pads again, with a finer gauge if there is one",
    "find the cause": "The pads stay for now, but the cause is put right before the vehicle goes out",
    "replace": "New pads go in at both wheels of the axle, never at one alone",
}
_FLUID = (
    "Worn pads have let the fluid sink: the pistons stand farther out, and fluid has followed them. Look at "
    "the reservoir before you push the pistons back, push slowly, and let nothing run over: the level comes "
    "up again. Do not top it up first."
)


def handover(truth: PadTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    asked = {one.key: one for one in given.choices("7.9")}
    done = f"{_DONE.get(asked[given.picked('7.9')].action, 'Look at the pads once more')}."
    if ability < SHORT_FROM:
        return done
    least = mm(given.number("7.2"), 1)
    found = (
        f"{truth.wheel.capitalize()} wheel: the thinnest corner of the lining is {least}, where "
        f"{mm(truth.limits.minimum_mm, 1)} is the least. The pattern: {given.words('7.6')}."
    )
    if ability < FULL_FROM:
        return f"{found} {done}"
    return f"{found} Behind it: {given.words('7.7')}. {done} {_FLUID}"
