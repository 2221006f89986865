"""Pedals that go too far or sink, as a rule beside them shows, and what follows from the readings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from brakecourse.bench.draw import Draw
from brakecourse.bench.pedal import fluid_sent_ml, line_pressure_mpa, pedal_travel_mm
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import (
    AirInCircuit,
    CaliperSealLeak,
    FittingLeak,
    HoseLeak,
    InternalBypass,
    PrimarySealLeak,
)
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.leaks import air_ml_from_travel, air_travel_mm, leak_ml_per_min_from_sink
from brakecourse.views.drawings import pedal_svg
from brakecourse.views.units import both
from brakecourse.views.words import mm

SINKING = (HoseLeak, CaliperSealLeak, FittingLeak, PrimarySealLeak, InternalBypass)
HOLD_S: dict[Difficulty, int] = {"easy": 60, "normal": 40, "hard": 30}
"""How long the foot holds the pedal, in s."""
RULE_LINE_MM = 1.0


@dataclass(frozen=True)
class SinkingPedal:
    """A pedal that sinks while it is held.

    Attributes:
        case: the vehicle.
        hold_s: how long the foot holds it.
    """

    case: VehicleCase
    hold_s: int

    def travel_mm(self, time_s: float) -> float:
        """Return how far the pedal stands from rest after a time."""
        pedal = self.case.condition.pedal
        sunk = pedal.travel_mm + pedal.sink_engine_running_mm_per_min * time_s / 60
        return min(self.case.vehicle.hydraulics.pedal_room_mm, sunk)

    @cached_property
    def read_mm(self) -> tuple[int, int]:
        """What the rule shows at the start and at the end, to the nearest line."""
        return round(self.travel_mm(0)), round(self.travel_mm(self.hold_s))

    @property
    def sink_mm_per_min(self) -> float:
        """How fast it sinks, from the two readings."""
        first, last = self.read_mm
        return (last - first) * 60 / self.hold_s

    @property
    def leak_ml_per_min(self) -> float:
        """What leaves, from the two readings."""
        system = self.case.vehicle.hydraulics
        return leak_ml_per_min_from_sink(self.sink_mm_per_min, system.master_bore_mm, system.pedal_ratio)

    def seconds_for_mm(self, sunk_mm: float) -> float:
        """Return how long it takes to sink so far, s."""
        return sunk_mm / self.case.condition.pedal.sink_engine_running_mm_per_min * 60

    def picture(self, time_s: float, uid: str) -> str:
        """Return the pedal and the stopwatch after a time."""
        return pedal_svg(
            self.travel_mm(time_s),
            room_mm=self.case.vehicle.hydraulics.pedal_room_mm,
            uid=uid,
            title="Held pedal and stopwatch",
            force_n=self.case.condition.pedal.force_n,
            stopwatch_s=time_s,
        )


def sinking_pedal(draw: Draw, difficulty: Difficulty) -> SinkingPedal:
    """Draw a vehicle whose pedal sinks by some lines of the rule."""
    for again in range(20):
        case = draw_vehicle(draw.child(f"seed {again}").integer(0, 10**9), 1, difficulty, SINKING)
        pedal = SinkingPedal(case, HOLD_S[difficulty])
        if pedal.read_mm[1] - pedal.read_mm[0] >= 4:
            break
    return pedal


@dataclass(frozen=True)
class SoftPedal:
    """A pedal that goes too far because there is air in a circuit.

    Attributes:
        case: the vehicle.
        light_mpa: the line pressure of a light push.
    """

    case: VehicleCase
    light_mpa: float

    @property
    def read_mm(self) -> int:
        """What the rule shows, to the nearest line."""
        return round(self.case.condition.pedal.travel_mm)

    @property
    def usual_mm(self) -> int:
        """What the same brake shows without air."""
        return round(self.case.sound.pedal.travel_mm)

    @property
    def extra_mm(self) -> int:
        """How much further the pedal goes."""
        return self.read_mm - self.usual_mm

    @property
    def pressure_mpa(self) -> float:
        """The line pressure at that push, as told to the learner."""
        return round(self.case.condition.pedal.pressure_mpa, 1)

    @property
    def air_ml(self) -> float:
        """How much air there is, from the readings."""
        return self.air_from(self.extra_mm)

    def air_from(self, travel_mm: float) -> float:
        """How much air a travel would tell."""
        system = self.case.vehicle.hydraulics
        return air_ml_from_travel(travel_mm, self.pressure_mpa, system.master_bore_mm, system.pedal_ratio)

    @property
    def told_air_ml(self) -> float:
        """The air as told to the learner for the light push."""
        return round(self.air_ml, 1)

    @property
    def light_mm(self) -> float:
        """What that air does at a light push."""
        return self.light_from(self.light_mpa)

    def light_from(self, pressure_mpa: float) -> float:
        """What that air does at a pressure."""
        system = self.case.vehicle.hydraulics
        return air_travel_mm(self.told_air_ml, pressure_mpa, system.master_bore_mm, system.pedal_ratio)

    def picture(self, uid: str) -> str:
        """Return the pressed pedal."""
        return pedal_svg(
            self.case.condition.pedal.travel_mm,
            room_mm=self.case.vehicle.hydraulics.pedal_room_mm,
            uid=uid,
            title="Pressed pedal",
            force_n=self.case.condition.pedal.force_n,
        )


def soft_pedal(draw: Draw, difficulty: Difficulty) -> SoftPedal:
    """Draw a vehicle with air in a circuit."""
    case = draw_vehicle(draw.child("seed").integer(0, 10**9), 1, difficulty, (AirInCircuit,))
    return SoftPedal(case, round(draw.child("light push").between(0.15, 0.25), 2))


def volume_mistakes(right: float, pedal_ratio: float) -> dict[str, float]:
    """Return the usual mistakes on the way from travel to volume, and what each would give."""
    ratio, radius = right * pedal_ratio, right * 4
    thousand = {"Your number is in cubic millimetres. Divide by 1000 for millilitres.": right * 1000}
    if abs(ratio - radius) < 0.08 * radius:  # the two numbers cannot be told apart
        told = "About four times too much: divide by the pedal ratio, and halve the bore to get its radius"
        return {f"{told}.": ratio, f"{told} first.": radius} | thousand
    return {
        "You forgot the pedal ratio: the push rod moves less than the foot. Divide by it.": ratio,
        "You took the bore as a radius. Halve it before you square it.": radius,
    } | thousand


def pedal_facts(vehicle: Vehicle) -> list[tuple[str, ...]]:
    """Return the vehicle's data that turn travel into volume."""
    system = vehicle.hydraulics
    return [
        ("Fact", "Value"),
        ("Pedal ratio", f"{system.pedal_ratio:g}"),
        ("Master cylinder's bore", mm(system.master_bore_mm, 1)),
    ]


def travel_words(vehicle: Vehicle, force_n: float, air_ml: float) -> tuple[float, float, float]:
    """Return pressure (MPa), sound travel and travel with air (mm, held by the floor) at a push."""
    system = vehicle.hydraulics
    pressure = line_pressure_mpa(vehicle, force_n)
    sound = pedal_travel_mm(vehicle, fluid_sent_ml(vehicle, pressure))
    soft = sound + air_travel_mm(air_ml, pressure, system.master_bore_mm, system.pedal_ratio)
    room = system.pedal_room_mm
    return pressure, min(sound, room), min(soft, room)


def whose(case: VehicleCase) -> str:
    """Say whose pedal it is."""
    return (
        f"This is the pedal of the {case.vehicle.name}, {case.vehicle.fleet_number}. The foot pushes with "
        f"{both(case.condition.pedal.force_n, 'N')}, engine running."
    )
