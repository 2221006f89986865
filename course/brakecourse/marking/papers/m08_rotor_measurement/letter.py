"""What a simulated student writes to the customer. It is for demonstrations: a person still marks it."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m08_rotor_measurement.truth import RotorTruth
from brakecourse.views.words import mm

FULL_FROM, SHORT_FROM = 0.75, 0.4
"""From this ability on a student writes the full explanation, or at least what is to be done and why."""

_MEANS = {
    "all": "Every measurement keeps its limit, so the rotor is safe to use.",
    "variation": "That unevenness makes the pedal pulse, and it gets worse with every mile.",
    "run-out": "That wobble lets the pads touch once in each turn, and with time it makes the pedal pulse.",
    "thickness": "A rotor as thin as that gets too hot and may crack, so it may not stay on the vehicle.",
    "machining": "It could be turned true again only by making it thinner than is allowed.",
}
_DONE = {
    "keep": "The rotors can stay on",
    "machine": "Both front rotors have to be turned true on a lathe, and there is metal enough for that",
    "replace": "Both front rotors have to be replaced, so that the vehicle brakes straight",
}
_UNTIL_THEN = {
    "keep": "Drive as usual, and have them measured again at the next service.",
    "machine": "Until then brake early and gently, and come at once if the pedal goes soft or low.",
    "replace": "Please leave the vehicle with us until that is done.",
}


def customer_words(rotor: RotorTruth, given: Given, ability: float) -> str:
    """Return a few sentences, the fuller the higher the ability, worked from the student's own values."""
    thinnest, varies, swing = given.number("8.2"), given.number("8.3"), given.number("8.4")
    found = rotor.finding(thinnest, varies, swing)
    done = f"{_DONE[found.action]}."
    if ability < SHORT_FROM:
        return done
    measured = (
        "At its thinnest place the front rotor, the disc that the brake pads grip, is "
        f"{mm(thinnest)} thick; it may never get thinner than {mm(rotor.spec.discard_mm)}."
    )
    if ability < FULL_FROM:
        return f"{measured} {done}"
    uneven = f"Its thickness varies by {mm(varies)}, and it wobbles by {mm(swing)}."
    means = _MEANS["all" if found.action == "keep" else found.deciding.check]
    return f"{measured} {uneven} {means} {done}. {_UNTIL_THEN[found.action]}".replace("..", ".")
