"""What a simulated student writes to the customer. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m02_master_cylinder.truth import LevelTruth
from brakecourse.views.units import both

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the full explanation, or at least what was found."""

_MEANS = {
    "explained": "That fits the wear of the brake pads: as they get thinner, fluid follows the pistons out.",
    "leak": "Worn brake pads explain only a part of that, so fluid is probably leaking out somewhere. A leak "
    "can take away half of the brakes.",
    "too-close": "Worn brake pads may explain that, but a small leak may as well. We cannot tell from above.",
    "added": "That is too little for pads as worn as these: somebody has added fluid. That can hide a leak.",
}
_DONE = {
    "explained": "We go on with the brake job, and look for wet places as we always do",
    "leak": "We look at every hose, fitting and caliper until we have found the leak",
    "too-close": "We look for a leak as if there were one, at every hose, fitting and caliper",
    "added": "We look for a leak, and take some fluid out before the new pads go in. Please ask who added it",
}
_UNTIL_THEN = {
    "explained": "Until then drive gently, and come at once if the pedal sinks or the warning lamp comes on.",
    "leak": "Until then the vehicle must not be moved: please leave the key with us.",
    "too-close": "Please leave the vehicle with us until we know, and do not add any fluid.",
    "added": "Please leave the vehicle with us until we know, and do not add any more fluid.",
}


def customer_words(_truth: LevelTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    told = given.picked("2.7")
    done = f"{_DONE[told]}."
    if ability < SHORT_FROM:
        return done
    measured = (
        f"The container for your brake fluid is short of {both(given.number('2.2'), 'mL')}; the wear of the "
        f"brakes asks for {both(given.number('2.5'), 'mL')}."
    )
    if ability < FULL_FROM:
        return f"{measured} {done}"
    return f"{measured} {_MEANS[told]} {done} {_UNTIL_THEN[told]}"
