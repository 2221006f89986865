"""What a simulated student writes to the customer. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking import rotor_answers
from brakecourse.marking.rotor_values import Measured
from brakecourse.marking.sealed import SealedCase
from brakecourse.views.words import mm

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the full explanation, or at least what is to be done and why."""

_DONE = {
    "keep": "The rotor can stay in use",
    "machine": "The rotor has to be machined true",
    "replace": "The rotor has to be replaced, with the one on the other side of the axle",
}

_NEXT = {
    "keep": "I will measure it again at the next service.",
    "machine": "That takes the pulsing out, and enough metal is left for safe use afterwards.",
    "replace": "Please do not drive the vehicle until that is done: a rotor this thin can overheat or crack.",
}


def customer_words(ability: float, case: SealedCase, own: Measured) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    rotor = case.rotor
    found = rotor_answers.finding(own, rotor.spec, rotor.instruments, rotor.confidence)
    done = f"{_DONE[found.action]}."
    if ability < SHORT_FROM:
        return done
    measured = (
        f"At its thinnest place it is {mm(own.smallest)}, and the limit is {mm(rotor.spec.discard_mm)}."
    )
    if ability < FULL_FROM:
        return f"{done} {measured}"
    return (
        f"I measured the front rotor at eight places. {measured} Its thickness varies by {mm(own.variation)} and "
        f"it runs out by {mm(own.run_out)}. {done} {_NEXT[found.action]}"
    )
