"""What is true of the reservoir and the wear behind a case, and how they are drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from pydantic import Field

from brakecourse.bench.draw import Draw
from brakecourse.bench.level_cases import SHARES, VERDICTS, LevelCase, draw_level_case
from brakecourse.bench.level_sums import SEEN_WEAR_U_MM, to_tenth_mm
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import AxleBrake
from brakecourse.marking.readings import SealedReading, seal_reading
from brakecourse.marking.sealed import Finite, Truth
from brakecourse.trade.conformity import combine, guard_band
from brakecourse.trade.fluid import CaliperTravel, LevelVerdict, WheelWear, judge_level

MODULE = "02_master_cylinder"
CONFIDENCE = 0.95
U_PLACES = 2
"""Decimal places of an uncertainty on the work order, in mL."""

LEAST_WEAR_MM = 0.5
"""Each wheel has worn so much at least, so that every wheel has a volume to work out."""

CLEAR_OF_MARKS_MM = 2.0
"""The fluid stands so far above MIN and below MAX: outside the marks other rules come first."""

DARK_FROM_PERCENT = 2.2
"""Fluid with that much water is drawn dark, as in the lesson. Colour proves nothing."""

_MOST_TRIES = 2000


class LevelTruth(Truth):
    """The reservoir and the wear behind a case.

    Attributes:
        max_mm, min_mm: the marks above the floor of the reservoir.
        area_mm2: area of the fluid's surface.
        height_mm: inside height of the reservoir, for its drawing.
        look: how the fluid looks.
        level: the rule at the reservoir's wall.
        calipers: the whole travel of one caliper of the front and one of the rear axle.
        wheels: what has worn at the four wheels: front left, front right, rear left, rear right.
        km: distance since the pads were new and the reservoir was full.
        level_u_ml, front_u_ml, rear_u_ml: standard uncertainties of the level and of one front and one rear
            wheel's wear, as fluid, as printed on the work order.
        confidence: probability of a right decision that the guard band is made for.
    """

    max_mm: Finite
    min_mm: Finite
    area_mm2: Finite
    height_mm: Finite
    look: Literal["clear", "dark"]
    level: SealedReading
    calipers: tuple[CaliperTravel, CaliperTravel]
    wheels: tuple[WheelWear, WheelWear, WheelWear, WheelWear]
    km: Finite
    level_u_ml: Finite
    front_u_ml: Finite
    rear_u_ml: Finite
    confidence: Finite = Field(ge=0.5, lt=1)

    @property
    def contributions_ml(self) -> tuple[float, ...]:
        """The standard uncertainties that come together: the level, and the wear of the four wheels."""
        return self.level_u_ml, self.front_u_ml, self.front_u_ml, self.rear_u_ml, self.rear_u_ml

    @property
    def uncertainty_ml(self) -> float:
        """Standard uncertainty of the missing fluid and the wear together."""
        return combine(*self.contributions_ml)

    @property
    def guard_ml(self) -> float:
        """How far the two must lie apart to prove something."""
        return guard_band(self.uncertainty_ml, self.confidence)

    def missing_ml(self, level_mm: float) -> float:
        """Return what is missing below MAX at a level, mL."""
        return (self.max_mm - level_mm) * self.area_mm2 / 1000

    def verdict(self, level_mm: float, wheels: Sequence[WheelWear]) -> LevelVerdict:
        """Return what a level and a wear lead to."""
        expected = sum(one.volume_ml for one in wheels)
        return judge_level(self.missing_ml(level_mm), expected, self.uncertainty_ml).verdict


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> LevelTruth:
    """Draw a vehicle whose level leads to a verdict that no reading's own uncertainty changes."""
    root = Draw(seed)
    wanted: LevelVerdict = next(
        (one for one in VERDICTS if one == situation), root.child("verdict").weighted(SHARES)
    )
    for again in range(_MOST_TRIES):
        truth = _truth(draw_level_case(root.child(f"level {again}"), difficulty, wanted))
        if _fits(truth):
            return truth
    raise RuntimeError(f"No level that stays {wanted!r} was found for seed {seed}; please report this.")


def _fits(truth: LevelTruth) -> bool:
    inside = truth.min_mm + CLEAR_OF_MARKS_MM <= truth.level.reading <= truth.max_mm - CLEAR_OF_MARKS_MM
    worn = all(one.lining_wear_mm >= LEAST_WEAR_MM for one in truth.wheels)
    return inside and worn and is_stable(truth)


def is_stable(truth: LevelTruth) -> bool:
    """Tell whether the verdict stays when any reading moves by its own standard uncertainty.

    "Too close to call" need not: there the uncertainty is the answer.
    """
    level, u = truth.level.reading, truth.level.u
    found = truth.verdict(level, truth.wheels)
    if found != truth.situation:  # rounding the uncertainties, as printed, has changed it
        return False
    if found == "too close to call":
        return True
    moved = [truth.verdict(level + off, truth.wheels) for off in (-u, u)]
    for place, one in enumerate(truth.wheels):
        for off in (-SEEN_WEAR_U_MM, SEEN_WEAR_U_MM):
            wheels = list(truth.wheels)
            wheels[place] = replace(one, lining_wear_mm=one.lining_wear_mm + off)
            moved.append(truth.verdict(level, wheels))
    return set(moved) == {found}


def _truth(case: LevelCase) -> LevelTruth:
    vehicle, system = case.vehicle, case.vehicle.hydraulics
    level = seal_reading(case.rule, case.indication_mm)
    front_ml, rear_ml = (one.wear(SEEN_WEAR_U_MM).volume_ml for one in (vehicle.front, vehicle.rear))
    front_left, front_right, rear_left, rear_right = (one.wear for one in case.wheels)
    return LevelTruth(
        situation=case.finding.verdict,
        vehicle=vehicle.name,
        fleet_number=vehicle.fleet_number,
        complaint=case.car.complaint,
        max_mm=system.reservoir_max_mm,
        min_mm=system.reservoir_min_mm,
        area_mm2=system.reservoir_area_mm2,
        height_mm=case.rule.scale.end,
        look="dark" if case.car.condition.fluid.water_percent >= DARK_FROM_PERCENT else "clear",
        level=level,
        calipers=(_travel(vehicle.front), _travel(vehicle.rear)),
        wheels=(front_left, front_right, rear_left, rear_right),
        km=round(case.car.km),
        level_u_ml=round(level.u * system.reservoir_area_mm2 / 1000, U_PLACES),
        front_u_ml=round(front_ml, U_PLACES),
        rear_u_ml=round(rear_ml, U_PLACES),
        confidence=CONFIDENCE,
    )


def _travel(brake: AxleBrake) -> CaliperTravel:
    # The rotor's wear is a difference of two decimals: only its tenths are meant.
    return replace(brake.travel, rotor_wear_mm=to_tenth_mm(brake.travel.rotor_wear_mm))
