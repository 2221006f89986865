"""The sums between a reservoir's level and the wear: missing fluid, its uncertainty, a piston's way."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

from brakecourse.bench._inspection_fluid import WEAR_U_MM
from brakecourse.bench._rotor_fitted import ROTOR_WEAR_SHARE
from brakecourse.bench.checks import number
from brakecourse.bench.length_gauges import LevelRule, level_rule
from brakecourse.bench.specification import WHEELS, AxleBrake, Hydraulics, axle_of
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.fluid import WheelWear, explain_level, piston_area_mm2

SEEN_WEAR_U_MM = WEAR_U_MM
"""How surely a wheel's wear is told through the caliper's window, mm: the same everywhere on the bench."""

_TENTH_MM = 0.1


def missing_ml(hydraulics: Hydraulics, level_mm: float) -> float:
    """Return how much is missing below MAX at a level, mL; below 0 when it stands above.

    Args:
        hydraulics: the system with its reservoir.
        level_mm: level above the reservoir's bottom, mm.

    >>> from brakecourse.bench import motor_pool
    >>> missing_ml(motor_pool()["library_van"].hydraulics, 20)
    108.0
    """
    return (hydraulics.reservoir_max_mm - number("level_mm", level_mm)) * hydraulics.reservoir_area_mm2 / 1000


def level_uncertainty_ml(vehicle: Vehicle, level_u_mm: float) -> float:
    """Return the standard uncertainty of missing fluid and wear together, mL.

    Args:
        vehicle: which one: a wide reservoir tells less.
        level_u_mm: standard uncertainty of the level's reading, mm, 0 or more.

    Source:
        JCGM 100: independent parts add as squares. How surely wear is told: assumption, no source.
    """
    level_ml = number("level_u_mm", level_u_mm, low=0) * vehicle.hydraulics.reservoir_area_mm2 / 1000
    wear_ml = [vehicle.axle(axle_of(wheel)).wear(SEEN_WEAR_U_MM).volume_ml for wheel in WHEELS]
    return math.hypot(level_ml, *wear_ml)


def piston_travel_mm(brake: AxleBrake, pad_wear_mm: float, rotor_wear_mm: float = 0.0) -> float:
    """Return how far each piston of a caliper has come out to follow the wear, mm.

    Args:
        brake: the axle's brake.
        pad_wear_mm: wear of one pad, mm.
        rotor_wear_mm: thickness that the rotor has lost, both faces together, mm.

    >>> from brakecourse.bench import motor_pool
    >>> round(piston_travel_mm(motor_pool()["library_van"].front, 4.0, 0.2), 6)
    8.2
    """
    wear = brake.wear(pad_wear_mm, rotor_wear_mm)
    return 1000 * wear.volume_ml / (wear.pistons * piston_area_mm2(wear.piston_bore_mm))


def rotor_wear_mm(pad_wear_mm: float) -> float:
    """Return what the rotor loses while each of its pads wears so much, both faces together, mm, to a tenth.

    >>> rotor_wear_mm(5.0)
    0.3
    """
    return to_tenth_mm(ROTOR_WEAR_SHARE * 2 * number("pad_wear_mm", pad_wear_mm, low=0))


def first_telling_mm(vehicle: Vehicle, wear: Sequence[WheelWear], level_u_mm: float) -> float | None:
    """Return the highest line of the rule at which a leak must be suspected, mm; None when there is none.

    Args:
        vehicle: which one.
        wear: what has worn at each wheel.
        level_u_mm: standard uncertainty of the level's reading, mm.
    """
    u_ml = level_uncertainty_ml(vehicle, level_u_mm)
    for line in range(int(vehicle.hydraulics.reservoir_max_mm), -1, -1):
        if explain_level(missing_ml(vehicle.hydraulics, line), wear, u_ml).verdict == "suspect a leak":
            return float(line)
    return None


@cache
def rule_of(vehicle: Vehicle) -> LevelRule:
    """Return the scale on a vehicle's reservoir."""
    return level_rule(vehicle.hydraulics.reservoir_min_mm, vehicle.hydraulics.reservoir_max_mm)


def to_tenth_mm(value_mm: float) -> float:
    """Return a length to a tenth of a millimetre, as it is told, mm."""
    return round(_TENTH_MM * round(value_mm / _TENTH_MM), 1)
