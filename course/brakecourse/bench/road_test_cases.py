"""What is found on a road test: signs that follow from a vehicle's hidden condition."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import count

from brakecourse.bench.condition import VehicleCondition
from brakecourse.bench.draw import Draw
from brakecourse.bench.reference import PAD_LIMIT_C, SPECIFIC_HEAT_J_KGK
from brakecourse.bench.road_test import Signs
from brakecourse.bench.shop_gauges import infrared_thermometer
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import WHEELS, axle_of
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
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
from brakecourse.trade.burnish import BurnishVehicle, Schedule, burnish_schedule, simulate

HEAT, PULL, PULSE, NOISE, PEDAL = "heat and smoke", "pulling", "pulsing", "noises", "the pedal"
TOPICS = (HEAT, PULL, PULSE, NOISE, PEDAL)

APART_C = 60.0
"""From here on one rotor is much hotter than its partner. Assumption, no source."""
SMELL_C = 220.0
"""From here on new pads smell. Assumption, no source."""

_KINDS: dict[str, tuple[type[VehicleFault], ...]] = {
    HEAT: (CollapsedHose,),
    PULL: (ContaminatedPads,),
    PULSE: (ThicknessVariation, DirtyHub),
    NOISE: (GlazedPads, UnderTorqued, BeddingSkipped),
    PEDAL: (AirInCircuit, InternalBypass, HoseLeak),
}
_SOUND_SHARE = 0.25  # how often nothing is the matter, so that "go on" is a real answer
_TOO_FAST_SHARE = 0.4  # how often, about heat, only the pauses were too short
_PAUSE_S, _SHORT_PAUSE_S = 60.0, 10.0
_STEADY_BRAKINGS, _MOST_BRAKINGS = 4, 60
_PULSES = "pulses"


@dataclass(frozen=True)
class RoadTest:
    """What is found on the road test.

    Attributes:
        case: the vehicle, its hidden condition included.
        brakings: how many slowdowns it has had.
        shown_c: what the thermometer shows at each wheel, on a dull spot, in the order of ``WHEELS``.
    """

    case: VehicleCase
    brakings: int
    shown_c: tuple[float, ...]

    @property
    def vehicle(self) -> Vehicle:
        """Which one."""
        return self.case.vehicle

    @property
    def condition(self) -> VehicleCondition:
        """What is true of it."""
        return self.case.condition

    @property
    def pedal(self) -> tuple[str, ...]:
        """What is wrong with the pedal's height or firmness; empty when it is firm."""
        return tuple(word for word in self.condition.pedal.words if word not in ("firm", _PULSES))

    @property
    def pulses(self) -> bool:
        """Whether the pedal beats."""
        return _PULSES in self.condition.pedal.words

    @property
    def smoke(self) -> str:
        """What is smelt and seen at the wheels, in words."""
        seen = {"smoke": self.signs.smoking, "a light haze": self.signs.hazy}
        told = [
            f"{what} at the {' and the '.join(WHEELS[place] for place in places)}"
            for what, places in seen.items()
            if places
        ]
        if told:
            return ", ".join(told)
        return "a smell of hot, new pads" if max(self.shown_c) >= SMELL_C else "none"

    @property
    def signs(self) -> Signs:
        """Everything that decides what to do."""
        return Signs(
            self.pedal,
            self.condition.noises,
            self.condition.road.pull != "neither",
            self.pulses,
            self.shown_c,
            PAD_LIMIT_C,
            APART_C,
        )


def road_test(topic: str, difficulty: Difficulty, draw: Draw) -> RoadTest:
    """Return a road test about a topic.

    Args:
        topic: one of ``TOPICS``.
        difficulty: hard ones bring a second fault, so that the worst sign has to be found.
        draw: chance.
    """
    chance = draw.child("what").uniform()
    too_fast = topic == HEAT and chance < _TOO_FAST_SHARE
    sound = not too_fast and chance >= 1 - _SOUND_SHARE
    faults = 0 if too_fast or sound else 2 if difficulty == "hard" else 1
    severe = difficulty == "easy" or (topic == HEAT and faults < 2)  # a slight one would not be noticed
    others = [kind for kinds in _KINDS.values() for kind in kinds]
    for number in count():
        seed = draw.child(f"vehicle {number}").integer(0, 10**9)
        kinds = _KINDS[topic] if faults < 2 else others
        case = draw_vehicle(seed, faults, "easy" if severe else "normal", kinds)
        found = driven(case, draw.child("thermometer"), too_fast=too_fast)
        if faults == 0 or _SHOWS[topic](found):
            return found
    raise AssertionError("unreachable")


_SHOWS: dict[str, Callable[[RoadTest], bool]] = {
    HEAT: lambda one: one.signs.much_hotter is not None,
    PULL: lambda one: one.condition.road.pull != "neither",
    PULSE: lambda one: one.pulses,
    NOISE: lambda one: bool(one.condition.noises),
    PEDAL: lambda one: bool(one.pedal),
}


def driven(case: VehicleCase, draw: Draw, *, too_fast: bool) -> RoadTest:
    """Return the vehicle after some slowdowns: few with long pauses, or many with hardly any."""
    gauge = infrared_thermometer("painted")
    brakings, pause = (1, _SHORT_PAUSE_S) if too_fast else (_STEADY_BRAKINGS, _PAUSE_S)
    true_c = _rotors_c(case, brakings, pause)
    while too_fast and min(true_c[:2]) < PAD_LIMIT_C + 20 and brakings < _MOST_BRAKINGS:
        brakings += 1
        true_c = _rotors_c(case, brakings, pause)
    shown = tuple(gauge.reading(gauge.indicate(heat, draw)) for heat in true_c)
    return RoadTest(case, brakings, shown)


def _rotors_c(case: VehicleCase, brakings: int, pause_s: float) -> tuple[float, ...]:
    """Return each rotor's temperature after some slowdowns that follow the drive to the test road.

    A dragging brake's heat is in what the rotor begins with; during the short test it is left out
    (assumption, no source).
    """
    slowdowns = replace(burnish_schedule("road").series[-1], count=brakings, gap_s=pause_s)
    schedule = Schedule(
        "road test", (slowdowns,), "The road schedule's slowdowns; the pause is an assumption."
    )
    whole_nm = sum(wheel.brake_torque_nm for wheel in case.condition.wheels)
    found = []
    for wheel in case.condition.wheels:
        brake = case.vehicle.axle(axle_of(wheel.wheel))
        lump = BurnishVehicle(
            case.vehicle.mass_kg,
            min(1.0, 2 * wheel.brake_torque_nm / whole_nm),  # the trade's rotor takes half of an axle's share
            brake.rotor_mass_kg,
            SPECIFIC_HEAT_J_KGK,
            brake.cooling_time_constant_s,
            case.roots.air_c,
        )
        found.append(simulate(schedule, lump, wheel.rotor_c)[-1].end_c)
    return tuple(found)
