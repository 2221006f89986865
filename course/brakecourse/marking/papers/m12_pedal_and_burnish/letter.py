"""What a simulated student writes as the record. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m12_pedal_and_burnish.truth import BurnishTruth
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the full record, or at least what was proven and measured."""


def record_words(truth: BurnishTruth, given: Given, ability: float) -> str:
    """Return the record, the fuller the higher the ability, worked from the student's own values."""
    strokes, level, plan = given.number("12.1"), given.number("12.3"), given.row("12.8")
    heat, hottest = truth.heat, max(plan)
    pedal = (
        f"Pedal: {number(strokes, 0)} strokes reckoned. {given.words('12.2')} "
        f"Level: {mm(level, 1)} when the gaps are filled, then fresh fluid to MAX."
    )
    if ability < SHORT_FROM:
        return pedal
    count = 3 * truth.round_count
    if hottest > heat.limit_c:
        verdict = "that is over the limit, so plan longer pauses or fewer slowdowns in a round"
    elif hottest < heat.working_c:
        verdict = "that is too cool, so plan shorter pauses or more slowdowns in a round"
    else:
        verdict = f"it passes, between {both(heat.working_c, '°C')} and {both(heat.limit_c, '°C')}"
    planned = f"Plan: {count} slowdowns, hottest {both(hottest, '°C')}; {verdict}."
    if ability < FULL_FROM:
        return f"{pedal} {planned}"
    rotors = ", ".join(both(one.reading, "°C") for one in truth.road.rotors)
    tested = (
        f"Road test: {truth.road.brakings} slowdowns. On the dull hats, front left first: {rotors}. "
        f"{given.words('12.9')}"
    )
    return f"{pedal} {planned} {tested}"
