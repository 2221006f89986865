"""What a simulated student tells the colleague. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m01_job_order.truth import OrderTruth
from brakecourse.views.units import both

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes everything, or at least what holds the vehicle."""

_NONE = "none"
_NEVER = (
    "Never pull at a tight nut once it is up, for a hard pull can bring it down. Never push a piston back "
    "before the bleeder is open, for old fluid and dirt would go into the ABS unit. And do not move it "
    "before the pedal is firm, for until then there is no brake."
)


def hand_over(truth: OrderTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    taken, rated = given.picked("1.4"), both(given.number("1.3"), "kg", 0)
    if taken == _NONE:
        held = (
            "No set on the shelf is strong enough, so the vehicle stays on its wheels until there are stands."
        )
    else:
        held = (
            f"The {truth.axle} end goes on set {taken.upper()}. Nobody works on it while only a jack holds."
        )
    if ability < SHORT_FROM:
        return held
    load = f"Each stand carries {both(given.number('1.2'), 'kg', 0)} and must be rated for {rated}."
    if ability < FULL_FROM:
        return f"{load} {held}"
    chocks = f"Chock a {truth.other} wheel before and behind, before you loosen the nuts."
    dust = "Wet the dust and wipe it off before you move a part, for everybody breathes it."
    return f"{load} {held} {chocks} {dust} {_NEVER}"
