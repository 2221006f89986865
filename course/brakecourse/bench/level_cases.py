"""A vehicle whose fluid level is compared with its pads' wear: what is read, and what follows from it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import get_args

from brakecourse.bench._rotor_fitted import ROTOR_WEAR_SHARE
from brakecourse.bench.draw import Draw
from brakecourse.bench.length_gauges import LevelRule
from brakecourse.bench.level_sums import (
    SEEN_WEAR_U_MM,
    level_uncertainty_ml,
    missing_ml,
    rule_of,
    to_tenth_mm,
)
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import WHEELS, AxleBrake, Wheel, axle_of
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import (
    CaliperSealLeak,
    FittingLeak,
    HoseLeak,
    PrimarySealLeak,
    VehicleFault,
    WornPads,
)
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.conformity import guard_band
from brakecourse.trade.fluid import (
    LEAST_LEAK_ML,
    LevelFinding,
    LevelVerdict,
    WheelWear,
    explain_level,
)

LEAKS: tuple[type[VehicleFault], ...] = (HoseLeak, CaliperSealLeak, FittingLeak, PrimarySealLeak)
VERDICTS: tuple[LevelVerdict, ...] = get_args(LevelVerdict)
# How often each verdict is drawn. Assumption, no source.
SHARES: Mapping[LevelVerdict, float] = {
    "wear explains it": 0.3,
    "suspect a leak": 0.35,
    "too close to call": 0.25,
    "fluid was added": 0.1,
}
# How far the missing fluid lies from where the verdict changes, mL, from and to: so far that an honest
# rounding on the way never changes it. Assumption, no source.
CLEAR_ML: Mapping[Difficulty, tuple[float, float]] = {
    "easy": (1.5, 100.0),
    "normal": (0.6, 100.0),
    "hard": (0.3, 6.0),
}
# How much of what is missing somebody pours in who tops up. Assumption, no source.
POURED_SHARE = (0.1, 1.0)
_SAME_VEHICLE = 6  # looks at one vehicle before another comes


@dataclass(frozen=True)
class WheelSeen:
    """What is seen of one wheel's wear.

    Attributes:
        wheel: which one.
        brake: what it is made of.
        pad_wear_mm: wear of one pad, mm, the mean of inner and outer one, told through the caliper's window.
        rotor_wear_mm: thickness that the rotor has lost since the pads were new, both faces together, mm.
    """

    wheel: Wheel
    brake: AxleBrake
    pad_wear_mm: float
    rotor_wear_mm: float

    @property
    def wear(self) -> WheelWear:
        """The same as the fluid's level feels it."""
        return self.brake.wear(self.pad_wear_mm, self.rotor_wear_mm)


@dataclass(frozen=True)
class LevelCase:
    """One vehicle's level, as it is read, beside its wear, as it is seen.

    Attributes:
        car: the vehicle with its hidden condition.
        poured_ml: what somebody has topped up since, hidden too.
        rule: the scale on the reservoir's wall.
        indication_mm: where the flat of the fluid stands on it, above the bottom.
        wheels: what is seen of the four wheels, in the order of ``WHEELS``.
    """

    car: VehicleCase
    poured_ml: float
    rule: LevelRule
    indication_mm: float
    wheels: tuple[WheelSeen, ...]

    @property
    def vehicle(self) -> Vehicle:
        """Which vehicle it is."""
        return self.car.vehicle

    @property
    def reading_mm(self) -> float:
        """The right reading: the nearest line."""
        return self.rule.reading(self.indication_mm)

    @property
    def missing_ml(self) -> float:
        """What is missing below MAX by the reading, mL; below 0 when the level is above it."""
        return missing_ml(self.vehicle.hydraulics, self.reading_mm)

    @property
    def uncertainty_ml(self) -> float:
        """Standard uncertainty of the missing fluid and of the wear together, mL."""
        return level_uncertainty_ml(self.vehicle, self.rule.standard_uncertainty_at(self.reading_mm))

    @property
    def guard_ml(self) -> float:
        """How far the two must lie apart to prove something, mL."""
        return guard_band(self.uncertainty_ml)

    @cached_property
    def finding(self) -> LevelFinding:
        """What reading and wear lead to."""
        return explain_level(self.missing_ml, [one.wear for one in self.wheels], self.uncertainty_ml)

    @property
    def back_mm(self) -> float:
        """How far the level rises when all pistons go back to where new pads put them, mm."""
        return 1000 * self.finding.expected_ml / self.vehicle.hydraulics.reservoir_area_mm2


def look_at_level(car: VehicleCase, draw: Draw, poured_ml: float = 0.0) -> LevelCase:
    """Return what one look at a vehicle's reservoir and pads gives.

    Args:
        car: the vehicle with its hidden condition.
        draw: where the chance of the look comes from.
        poured_ml: what somebody has topped up, mL.

    >>> van = draw_vehicle(3)
    >>> look_at_level(van, Draw(1)) == look_at_level(van, Draw(1))
    True
    """
    rule = rule_of(car.vehicle)
    rise_mm = 1000 * poured_ml / car.vehicle.hydraulics.reservoir_area_mm2
    true_mm = min(car.condition.fluid.level_mm + rise_mm, rule.scale.end)
    indication = rule.indicate_clear(true_mm, draw.child("level"))
    wheels = tuple(_seen(car, wheel, draw.child(wheel)) for wheel in WHEELS)
    return LevelCase(car, poured_ml, rule, indication, wheels)


def _seen(car: VehicleCase, wheel: Wheel, draw: Draw) -> WheelSeen:
    pads = car.condition.wheel(wheel).pads
    both_mm = pads.inner_worn_mm + pads.outer_worn_mm
    told_mm = max(0.0, both_mm / 2 + draw.normal(0.0, SEEN_WEAR_U_MM))
    brake = car.vehicle.axle(axle_of(wheel))
    return WheelSeen(wheel, brake, to_tenth_mm(told_mm), to_tenth_mm(ROTOR_WEAR_SHARE * both_mm))


def draw_level_case(
    draw: Draw,
    difficulty: Difficulty = "normal",
    verdict: LevelVerdict | None = None,
    vehicle: Vehicle | None = None,
) -> LevelCase:
    """Draw a vehicle whose level leads to a verdict.

    Args:
        draw: where the chance comes from.
        difficulty: ``"easy"``, ``"normal"`` or ``"hard"``: how severe the leak, how close the numbers.
        verdict: what it leads to; drawn by ``SHARES`` when left out.
        vehicle: which vehicle; drawn when left out.

    Raises:
        ValueError: an argument is not one of these.

    >>> draw_level_case(Draw(5), verdict="suspect a leak").finding.verdict
    'suspect a leak'
    """
    if verdict is not None and verdict not in VERDICTS:
        raise ValueError(f"verdict must be one of {', '.join(VERDICTS)}, but it was {verdict!r}.")
    if difficulty not in CLEAR_ML:
        raise ValueError(f"difficulty must be one of {', '.join(CLEAR_ML)}, but it was {difficulty!r}.")
    wanted: LevelVerdict = draw.child("verdict").weighted(SHARES) if verdict is None else verdict
    return next(case for case in _looks(draw, difficulty, wanted, vehicle) if fits(case, wanted, difficulty))


def level_case(
    seed: int, vehicle: str, verdict: LevelVerdict, difficulty: Difficulty = "normal"
) -> LevelCase:
    """Return one vehicle of the motor pool whose level leads to a verdict.

    Args:
        seed: fixes the case.
        vehicle: the vehicle's key.
        verdict, difficulty: as for :func:`draw_level_case`.

    Raises:
        ValueError: an argument is not one of these.

    >>> level_case(1, "library_van", "wear explains it").vehicle.name
    'library van'
    """
    pool = motor_pool()
    if vehicle not in pool:
        raise ValueError(f"vehicle must be one of {', '.join(pool)}, but it was {vehicle!r}.")
    return draw_level_case(Draw(seed), difficulty, verdict, pool[vehicle])


def _looks(
    draw: Draw, difficulty: Difficulty, wanted: LevelVerdict, vehicle: Vehicle | None
) -> Iterator[LevelCase]:
    """Yield looks at vehicles that may lead to the verdict, without end."""
    tries = 0
    while True:
        here = draw.child(f"vehicle {tries}")
        tries += 1
        leaks = wanted == "suspect a leak" or (wanted != "wear explains it" and here.uniform() < 0.5)
        kinds = LEAKS if leaks else (WornPads,)
        faults = 1 if leaks else here.integer(0, 1)
        car = draw_vehicle(here.seed, faults, difficulty, kinds, vehicle)
        share = here.between(*POURED_SHARE) if wanted == "fluid was added" else 0.0
        for look in range(_SAME_VEHICLE):
            yield look_at_level(car, here.child(f"look {look}"), share * car.condition.fluid.drop_ml)


def fits(case: LevelCase, verdict: LevelVerdict, difficulty: Difficulty) -> bool:
    """Tell whether a case leads to a verdict, as clearly as its difficulty asks.

    Args:
        case: the vehicle's level and wear.
        verdict: the wanted one.
        difficulty: how near to another verdict it may and must lie.
    """
    low, high = CLEAR_ML[difficulty]
    guard, gap = case.guard_ml, case.finding.unexplained_ml
    distance = min(abs(gap - edge) for edge in (-guard, LEAST_LEAK_ML - guard, guard))
    top_mm = case.vehicle.hydraulics.reservoir_max_mm + 3
    seen = 2 <= case.reading_mm <= top_mm
    return seen and case.finding.verdict == verdict and low <= distance <= high
