"""Samples of brake fluid and what the two testers show of them: the bench's fluid, read. Pure functions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import cast

from brakecourse.bench.draw import Draw
from brakecourse.bench.fluid_gauges import BoilingTester, MoistureTester, boiling_tester, moisture_tester
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import OldFluid, VehicleFault
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.conformity import guard_band
from brakecourse.trade.fluid import (
    Grade,
    MixingGrade,
    boiling_minima_c,
    boiling_point_c,
    wet_water_percent,
)

LESSON = "03_brake_fluid"
RUNNING = "street_lighting_truck"
"""The vehicle that the lesson follows."""
RUNNING_SEED = 4
MIXING: tuple[MixingGrade, ...] = ("DOT 3", "DOT 4", "DOT 5.1")
"""The grades made of glycol, which mix with water and with each other."""
GRADES: tuple[Grade, ...] = ("DOT 3", "DOT 4", "DOT 5", "DOT 5.1")
_TRIES = 400


@cache
def water_tester() -> MoistureTester:
    """Return the lesson's water tester."""
    return moisture_tester()


@cache
def heat_tester() -> BoilingTester:
    """Return the lesson's boiling-point tester."""
    return boiling_tester()


@dataclass(frozen=True)
class Sample:
    """A sample from a vehicle's reservoir, and what the testers show of it.

    Attributes:
        case: the vehicle, its hidden condition included.
        water_shown: where the water tester's needle stands, %.
        boiling_shown_c: what the boiling-point tester found, °C.
    """

    case: VehicleCase
    water_shown: float
    boiling_shown_c: float

    @property
    def vehicle(self) -> Vehicle:
        """Which one."""
        return self.case.vehicle

    @property
    def grade(self) -> MixingGrade:
        """The grade that the maker asks for."""
        return cast(MixingGrade, self.vehicle.hydraulics.fluid_grade)

    @property
    def water_percent(self) -> float:
        """The reading of the water tester."""
        return water_tester().reading(self.water_shown)

    @property
    def boiling_c(self) -> float:
        """The reading of the boiling-point tester."""
        return heat_tester().reading(self.boiling_shown_c)

    @property
    def hottest_c(self) -> float:
        """How hot the fluid gets on the long hill, to the degree, as the job sheet says."""
        return float(round(self.case.condition.fluid.hottest_c))

    @property
    def wet_c(self) -> float:
        """The wet minimum of the maker's grade."""
        return boiling_minima_c(self.grade)[1]

    @property
    def margin_c(self) -> float:
        """The reading less the hottest fluid."""
        return self.boiling_c - self.hottest_c

    @property
    def boiling_u_c(self) -> float:
        """Standard uncertainty of the boiling-point reading."""
        return heat_tester().standard_uncertainty_at(self.boiling_c)

    @property
    def guard_c(self) -> float:
        """How far a boiling-point reading must be from a limit to decide."""
        return guard_band(self.boiling_u_c)


def sample_of(case: VehicleCase, draw: Draw) -> Sample:
    """Return what the testers show of a vehicle's fluid, clear of the middle between two lines."""
    fluid = case.condition.fluid
    water = water_tester().indicate_clear(fluid.water_percent, draw.child("water"))
    return Sample(case, water, heat_tester().indicate_clear(fluid.boiling_c, draw.child("boiling")))


def draw_sample(
    draw: Draw,
    difficulty: Difficulty = "normal",
    faults: int = 1,
    kinds: Sequence[type[VehicleFault]] = (OldFluid,),
) -> Sample:
    """Return a sample of a vehicle of the motor pool.

    Args:
        draw: chance.
        difficulty: of the bench: easy ones have much water.
        faults: 0 for sound fluid, else 1.
        kinds: what the fault is drawn from.
    """
    seed = draw.child("vehicle").integer(0, 10**9)
    return sample_of(draw_vehicle(seed, faults, difficulty, kinds), draw.child("testers"))


def on_scale(draw: Draw, difficulty: Difficulty = "normal") -> Sample:
    """Return a sample, of old or of sound fluid, whose needle stands between the ends of its scale."""
    for number in range(_TRIES):
        one = draw.child(f"sample {number}")
        found = draw_sample(one, difficulty, one.child("old or not").integer(0, 1))
        if 0.15 <= found.water_shown <= 3.85:
            return found
    raise AssertionError("unreachable")


@cache
def running() -> Sample:
    """Return the lesson's own truck and its fluid.

    >>> running().grade
    'DOT 4'
    """
    case = draw_vehicle(RUNNING_SEED, 1, "hard", (OldFluid,), motor_pool()[RUNNING])
    return sample_of(case, Draw(RUNNING_SEED).child("testers"))


@cache
def curve(grade: MixingGrade, to_percent: float = 6.0) -> tuple[tuple[float, float], ...]:
    """Return points of a grade's boiling curve, water in % and °C."""
    last = round(10 * to_percent)
    return tuple((place / 10, boiling_point_c(grade, place / 10)) for place in range(last + 1))


def straight_c(grade: MixingGrade, water_percent: float) -> float:
    """Return what a straight line from the dry to the wet minimum would promise, °C: a usual mistake."""
    dry, wet = boiling_minima_c(grade)
    return dry + (wet - dry) * water_percent / wet_water_percent()


def water_without_margin(grade: MixingGrade, hottest_c: float) -> float | None:
    """Return the water, %, at which a fluid that just keeps its grade boils as hot as it gets.

    None when it is not reached with 6 % of water, where the curve ends.

    >>> round(water_without_margin("DOT 4", 160), 1)
    3.1
    """
    low, high = 0.0, 6.0
    if boiling_point_c(grade, high) > hottest_c:
        return None
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if boiling_point_c(grade, middle) > hottest_c else (low, middle)
    return high


def fact_vehicle(vehicle: Vehicle) -> tuple[str, str]:
    """Return the row that names the vehicle."""
    return "Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"
