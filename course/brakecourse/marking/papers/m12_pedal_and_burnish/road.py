"""The road test: how it is drawn, and which choice its worst sign leads to."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.reference import PAD_LIMIT_C
from brakecourse.bench.road_test import Action, Sign, worst_sign
from brakecourse.bench.road_test_cases import APART_C, RoadTest, driven
from brakecourse.bench.shop_gauges import infrared_thermometer
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicle_faults import (
    AirInCircuit,
    BeddingSkipped,
    CollapsedHose,
    ContaminatedPads,
    DirtyHub,
    GlazedPads,
    HoseLeak,
    InternalBypass,
    ThicknessVariation,
    UnderTorqued,
    VehicleFault,
)
from brakecourse.bench.vehicles import Vehicle
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m12_pedal_and_burnish.truth import BurnishTruth, RoadSigns
from brakecourse.marking.readings import seal_reading
from brakecourse.views.units import both

SHARES: dict[str, float] = {
    "no trouble found": 0.2,
    "braked too often": 0.2,
    "trouble, not yet danger": 0.3,
    "danger ahead": 0.3,
}
"""How often each is what the road test shows."""

ACTIONS: dict[str, Action] = dict(zip(SHARES, ("go on", "cool", "back", "stop"), strict=True))
MILDEST_FIRST: tuple[Action, ...] = ("go on", "cool", "back", "stop")
CLEAR_C = 10.0
"""No rotor is nearer to the limit, and no pair nearer to 'much hotter', than this: three standard
uncertainties of the thermometer."""
TWO_FAULTS_SHARE = 0.3
SMOKE_SHARE = 0.35
"""So often danger is looked for in a brake that drags, after brakings in quick succession."""
MOST_TRIES = 200

_BACK: tuple[type[VehicleFault], ...] = (ContaminatedPads, ThicknessVariation, DirtyHub, CollapsedHose)
_STOP: tuple[type[VehicleFault], ...] = (
    AirInCircuit,
    InternalBypass,
    HoseLeak,
    UnderTorqued,
    CollapsedHose,
)
_KINDS: dict[str, tuple[type[VehicleFault], ...]] = {
    "no trouble found": (GlazedPads, BeddingSkipped),
    "braked too often": (),
    "trouble, not yet danger": _BACK,
    "danger ahead": _STOP,
}
_SIGN_WORDS: dict[Sign, str] = {
    "pedal": "The pedal is not firm and high any more, and the next stop may not work.",
    "loose": "Something clunks or rattles: it is loose, and may come off.",
    "smoke": "One wheel smokes. Its rotor is above the limit and much hotter than its partner.",
    "pull": "It pulls to one side: the two sides do not brake alike.",
    "pulse": "The pedal beats: a rotor is uneven, or it does not sit flat.",
    "one hotter": "One rotor is much hotter than its partner, though below the limit.",
    "rubbing": "Something grinds, scrapes or rubs where it should not.",
    "both hot": "Rotors are above the limit, and the two sides are alike: the brakings came too fast.",
    "squeal": "It only squeals. Pads that are not bedded in yet may do so.",
    "none": "There is no sign of trouble.",
}


def draw_road(wanted: str, difficulty: Difficulty, vehicle: Vehicle, draw: Draw) -> RoadSigns:
    """Draw a road test of a vehicle that asks for what is wanted, beyond any doubt of the thermometer."""
    for again in range(MOST_TRIES):
        chance = draw.child(f"test {again}")
        test = _drive(wanted, difficulty, vehicle, chance)
        if worst_sign(test.signs)[0] == ACTIONS[wanted] and _is_clear(test):
            return _sealed(test)
    raise RuntimeError(f"No road test with '{wanted}' was found for the {vehicle.name}; please report this.")


def _drive(wanted: str, difficulty: Difficulty, vehicle: Vehicle, draw: Draw) -> RoadTest:
    """Draw one road test; whether it shows what is wanted is seen afterwards."""
    severe: Difficulty = "easy" if difficulty == "normal" else difficulty
    smokes = wanted == "danger ahead" and draw.child("smoke").uniform() < SMOKE_SHARE
    kinds: tuple[type[VehicleFault], ...] = (CollapsedHose,) if smokes else _KINDS[wanted]
    faults = min(len(kinds), 1)
    if wanted == "no trouble found":
        faults = draw.child("squeal").integer(0, 1)
    elif len(kinds) > 1 and draw.child("two").uniform() < TWO_FAULTS_SHARE:
        kinds, faults = (*dict.fromkeys(kinds + _BACK),), 2
    car = draw_vehicle(draw.seed, faults, severe, kinds or _BACK, vehicle)
    return driven(car, draw.child("thermometer"), too_fast=smokes or wanted == "braked too often")


def _is_clear(test: RoadTest) -> bool:
    shown = test.shown_c
    apart = (abs(shown[0] - shown[1]), abs(shown[2] - shown[3]))
    return all(abs(one - PAD_LIMIT_C) >= CLEAR_C for one in shown) and all(
        abs(one - APART_C) >= CLEAR_C for one in apart
    )


def _sealed(test: RoadTest) -> RoadSigns:
    pull = test.condition.road.pull
    gauge = infrared_thermometer("painted")
    return RoadSigns(
        brakings=test.brakings,
        pedal=test.pedal,
        noises=test.condition.noises,
        steering="runs straight" if pull == "neither" else f"pulls to the {pull} when braking",
        pulls=pull != "neither",
        pulses=test.pulses,
        smoke=test.smoke,
        rotors=tuple(seal_reading(gauge, shown) for shown in test.shown_c),
        apart_c=APART_C,
    )


def what_now(truth: BurnishTruth, given: Given) -> Basis:
    """12.9: go on, cool, turn back or stop, with the sign that decides."""
    action, sign = worst_sign(truth.signs)
    at = MILDEST_FIRST.index(action)
    listed = given.choices("12.9")
    right = next(one.key for one in listed if (one.action, one.reason) == (action, sign))
    places = {one.key: MILDEST_FIRST.index(one.action) for one in listed if one.reason}
    pairs = [("sign_played_down", key) for key, place in places.items() if place < at]
    pairs += [("more_than_the_signs_ask", key) for key, place in places.items() if place > at]
    rotors = ", ".join(both(one.reading, "°C") for one in truth.road.rotors)
    how = f"The worst sign decides. {_SIGN_WORDS[sign]} The four rotors, front left first: {rotors}."
    return given.choice("12.9", (right,), pairs, how=how)
