"""What a simulated student writes to the customer. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m10_hub_and_rotor_fit.decisions import verdict
from brakecourse.marking.papers.m10_hub_and_rotor_fit.truth import FitTruth
from brakecourse.views.words import mm

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the full explanation, or at least what was found and what is done."""

_DONE = {
    "leave": "We cleaned both faces, and now the rotor runs true. No part has to be bought",
    "index": "We cleaned both faces and turned the rotor on to the position where it runs true. No part has "
    "to be bought",
    "hub": "The hub, the part that the wheel and the rotor are bolted to, is bent and has to be renewed",
    "rotor": "The rotor itself does not run true. Both rotors of the axle have to be machined or renewed",
}
_UNTIL_THEN = {
    "leave": "You may drive as usual. Come back if the beat comes back.",
    "index": "You may drive as usual. Whoever takes the rotor off again finds our paint mark and puts it "
    "back the same way.",
    "hub": "Until then drive gently, leave more room, and come at once if the pedal goes low.",
    "rotor": "Until then drive gently, leave more room, and come at once if the pedal goes low.",
}


def customer_words(truth: FitTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    found, clean = given.number("10.2"), given.number("10.6")
    least = min(truth.positions_mm(clean, given.row("10.7")))
    right = verdict(truth, clean, least)
    done = f"{_DONE[right]}."
    if ability < SHORT_FROM:
        return done
    measured = (
        f"The {truth.wheel} brake rotor, the disc that the pads grip, wobbled by {mm(found)} in each turn; "
        f"no more than {mm(truth.limit_mm)} is allowed."
    )
    if ability < FULL_FROM:
        return f"{measured} {done}"
    why = (
        "A flake of rust, about as thick as a sheet of paper, lay between the rotor and the hub behind it. A "
        "rotor that wobbles wears uneven, and you feel that as a beat in the pedal."
    )
    return f"{measured} {why} Clean, it wobbles by {mm(clean)}. {done} {_UNTIL_THEN[right]}"
