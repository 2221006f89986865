"""What to do about the signs of a road test: one rule, the worst sign first, and the reason in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from brakecourse.bench.road_test import LOOSE, RUBBING, Action, Sign, worst_sign
from brakecourse.bench.road_test_cases import RoadTest
from brakecourse.bench.specification import WHEELS
from brakecourse.views.burnish_plans import LIMIT_C
from brakecourse.views.units import both

GO_ON = "go on as planned"
COOL = "drive on without braking until it is cool, then go on with longer pauses"
BACK = "break off: drive back slowly, then find the cause"
STOP = "stop at the next safe place, and do not drive on"
ACTIONS = (GO_ON, COOL, BACK, STOP)
"""The mildest first."""
_ORDER: tuple[Action, ...] = get_args(Action)

_PEDAL = {
    "goes to the floor": "The pedal goes to the floor",
    "low": "The pedal is low",
    "spongy": "The pedal is spongy",
    "sinks": "The pedal sinks while it is held",
}
_WHY = {
    STOP: "The next stop may not work, or a part may come off. No workshop is near enough to risk that.",
    BACK: "More braking makes it worse and rubs away what would show the cause.",
    COOL: "Both sides are alike, so nothing drags: the brakings came too fast one after another.",
    GO_ON: "The pedal is firm, it runs straight, and both sides are alike and below the limit.",
}


@dataclass(frozen=True)
class Advice:
    """What to do, and why.

    Attributes:
        action: one of ``ACTIONS``.
        sign: the sign that decides, in a sentence.
        why: what it means.
    """

    action: str
    sign: str
    why: str


def advice(test: RoadTest) -> Advice:
    """Return what to do: the worst sign decides.

    Source: common practice, no source.
    """
    action, sign = worst_sign(test.signs)
    return _advice(ACTIONS[_ORDER.index(action)], _sign_words(test, sign))


def _sign_words(test: RoadTest, sign: Sign) -> str:
    signs = test.signs
    if sign == "pedal":
        return f"{_PEDAL[test.pedal[0]]}."
    if sign in ("loose", "rubbing"):
        heard = next(noise for noise in signs.noises if noise in (LOOSE if sign == "loose" else RUBBING))
        if sign == "loose":
            return f"You hear a {heard}: something is loose."
        return f"You hear {heard}: metal or a pad rubs where it should not."
    told = {
        "smoke": "It smokes, so that brake drags and may burn.",
        "one hotter": "The two sides do not share the work, or one drags.",
    }
    if sign in told:
        assert signs.much_hotter is not None  # that is what both mean
        return f"{_apart(test, signs.much_hotter)} {told[sign]}"
    return {
        "pull": f"It pulls to the {test.condition.road.pull}: the two sides do not brake alike.",
        "pulse": "The pedal pulses: a rotor is uneven, or it does not sit flat on its hub.",
        "both hot": (
            f"The rotors are at up to {both(max(test.shown_c), '°C')}; the limit is {both(LIMIT_C, '°C')}."
        ),
        "squeal": "It squeals, and that is all. Pads not bedded in yet may do so; listen again at the end.",
        "none": "No sign of trouble.",
    }[sign]


def reasons(test: RoadTest) -> dict[str, str]:
    """Return for each action why it is right or wrong here."""
    told = advice(test)
    right = ACTIONS.index(told.action)
    because = f"{told.sign} {told.why}"
    return {
        action: because
        if place == right
        else f"That is not enough. {because}"
        if place < right
        else f"The signs do not ask for that much. {because}"
        for place, action in enumerate(ACTIONS)
    }


def evidence(test: RoadTest) -> tuple[tuple[str, ...], ...]:
    """Return what the driver and the thermometer find, as a table."""
    road = test.condition.road
    rows = [
        ("Sign", "What you find"),
        ("Pedal", ", ".join(test.pedal) or "firm and high"),
        ("Beat in the pedal", "it pulses at a gentle stop" if test.pulses else "none"),
        ("Steering", "runs straight" if road.pull == "neither" else f"pulls to the {road.pull} when braking"),
        ("Noise", ", ".join(test.condition.noises) or "none"),
        ("Smell and smoke", test.smoke),
        ("Front rotors, left and right", _pair(test, 0)),
        ("Rear rotors, left and right", _pair(test, 2)),
        ("The pad maker's limit", both(LIMIT_C, "°C")),
    ]
    return tuple(rows)


def _pair(test: RoadTest, place: int) -> str:
    left, right = (both(shown, "°C") for shown in test.shown_c[place : place + 2])
    return f"{left} and {right}"


def _apart(test: RoadTest, hot: int) -> str:
    return (
        f"The {WHEELS[hot]} rotor is at {both(test.shown_c[hot], '°C')}, its partner at "
        f"{both(test.shown_c[hot ^ 1], '°C')}."
    )


def _advice(action: str, sign: str) -> Advice:
    return Advice(action, sign, _WHY[action])
