"""What a simulated student writes to the driver. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m04_pedal_to_pad.truth import ForceTruth
from brakecourse.views.force_tables import speed_words
from brakecourse.views.units import both

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the full explanation, or at least what is to be done and why."""

_MEANS = {
    "fits": "So the pedal, the booster and the master cylinder do their work.",
    "low": "The booster, which helps your foot, adds nothing. You have to push much harder than before.",
    "high": (
        "The brakes bite harder than the maker meant, so a wheel may lock early. "
        "One part, or our gauge, is not as it should be."
    ),
}
_DONE = {
    "fits": "Nothing has to be repaired here; we go on looking for what you felt.",
    "low": "We look at the booster, its hose and its vacuum, and mend what has failed.",
    "high": "We check the gauge, then compare pedal, booster and master cylinder with the maker's data.",
}
_UNTIL_THEN = {
    "fits": "You may drive as usual; come back at once if the pedal feels different.",
    "low": "Please leave the vehicle with us until that is done.",
    "high": "Please leave the vehicle with us until that is done.",
}


def driver_words(push: ForceTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    found = given.picked("4.3")
    found = "low" if found.startswith("low") else "high" if found.startswith("high") else "fits"
    if ability < SHORT_FROM:
        return _DONE[found]
    measured = (
        f"With the pedal held, our gauge showed {both(given.number('4.2'), 'MPa', 1)} in the brake lines. "
        f"That push should make {both(given.number('4.1'), 'MPa')}."
    )
    if ability < FULL_FROM:
        return f"{measured} {_DONE[found]}"
    way = (
        f"From {speed_words(push.speed_kmh)} the way to a stop is now about "
        f"{both(given.number('4.8'), 'm', 0)}, your reaction included."
    )
    return f"{measured} {_MEANS[found]} {way} {_DONE[found]} {_UNTIL_THEN[found]}"
