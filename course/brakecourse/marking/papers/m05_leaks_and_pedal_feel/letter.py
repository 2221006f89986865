"""What a simulated student writes to the customer. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.truth import DiagnosisTruth
from brakecourse.views.units import both

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the full explanation, or at least what was found."""

_FOUND = {
    "hose_leak": "One of the rubber brake hoses leaks",
    "fitting_leak": "The fitting where the brake hose meets the caliper leaks",
    "caliper_seal_leak": "The seal of a caliper's piston leaks at one wheel",
    "primary_seal_leak": "The master cylinder, the pump that your foot works, leaks into the booster behind "
    "it, where nobody sees it",
    "internal_bypass": "The master cylinder, the pump that your foot works, lets fluid slip past inside",
}
_OTHERWISE = "The cause of the sinking pedal is not certain yet"
_MEANS = "While you hold the pedal, it sinks. It can reach the floor, and then part of the brakes is gone."
_UNTIL_THEN = (
    "Until then the vehicle must not be moved, not even across the yard: please leave the key with us."
)


def customer_words(_truth: DiagnosisTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    found = f"{_FOUND.get(given.picked('5.3'), _OTHERWISE)}."
    if ability < SHORT_FROM:
        return found
    rate = f"About {both(given.number('5.2'), 'mL', 1)} leave in each minute of braking."
    if ability < FULL_FROM:
        return f"{found} {rate} {_UNTIL_THEN}"
    air = (
        f"After the repair there were still {both(given.number('5.9'), 'mL', 1)} of air in the lines, so the "
        "pedal was soft. We bleed the brakes again, hold the pedal for a minute, and give the vehicle back "
        "only when it is firm and stays."
    )
    return f"{found} {rate} {_MEANS} {air} {_UNTIL_THEN}"
