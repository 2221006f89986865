"""The reservoir's level and the fluid's condition.

Worn pads let the pistons out, and fluid follows them: a low level is a first sign of worn pads, or of a
leak. Brake fluid takes up water from the air, and water lets it boil. The vehicle maker's service
information says which grade goes in, and when it is changed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import cast

from brakecourse.trade import _checks
from brakecourse.trade._decimals import difference, total
from brakecourse.trade._fluid_boiling import (
    MOST_WATER_PERCENT,
    Grade,
    MixingGrade,
    boiling_minima_c,
    boiling_point_c,
    moist_boiling_c,
    vapour_margin_c,
    wet_water_percent,
)
from brakecourse.trade._fluid_records import (
    CaliperKind,
    CaliperTravel,
    LevelFinding,
    LevelVerdict,
    WheelWear,
    volume_ml,
)
from brakecourse.trade.conformity import decide

__all__ = [
    "LEAST_LEAK_ML",
    "MOST_WATER_PERCENT",
    "CaliperKind",
    "CaliperTravel",
    "Grade",
    "LevelFinding",
    "LevelVerdict",
    "MixingGrade",
    "WheelWear",
    "boiling_minima_c",
    "boiling_point_c",
    "explain_level",
    "judge_level",
    "level_drop_mm",
    "moist_boiling_c",
    "piston_area_mm2",
    "required_reservoir_ml",
    "vapour_margin_c",
    "wear_volume_ml",
    "wet_water_percent",
]

LEAST_LEAK_ML = 10.0
"""Loss that a level which "wear explains" must rule out, mL: assumption, no source (two teaspoons)."""


def piston_area_mm2(bore_mm: float) -> float:
    """Return the area that the fluid pushes on.

    Args:
        bore_mm: diameter of the piston, mm, above 0. The diameter, not the radius.

    Returns:
        Area, mm².

    Raises:
        ValueError: the bore is no number above 0.

    Source:
        Geometry of the circle.

    Example:
        >>> round(piston_area_mm2(54.0))
        2290
    """
    return math.pi / 4 * _checks.positive(bore_mm, "bore in mm") ** 2


def wear_volume_ml(
    piston_bore_mm: float,
    pistons: int,
    lining_wear_mm: float,
    rotor_wear_mm: float = 0,
    caliper: CaliperKind = "floating",
) -> float:
    """Return how much fluid follows the pistons of one caliper as pads and rotor wear.

    In a floating caliper every piston follows the wear of both pads. In a fixed caliper the pistons of each
    side follow their own pad, so each goes half as far.

    Args:
        piston_bore_mm: diameter of one piston, mm, above 0.
        pistons: how many pistons the caliper has, both sides together; even in a fixed caliper.
        lining_wear_mm: wear of one pad, mm, 0 or more; the mean of inner and outer pad when they differ.
        rotor_wear_mm: thickness that the rotor has lost, both faces together, mm, 0 or more.
        caliper: ``"floating"`` or ``"fixed"``.

    Returns:
        Volume, mL.

    Raises:
        ValueError: a value is outside its range, or a fixed caliper has an odd number of pistons.

    Source:
        Geometry of the cylinder; which piston follows which pad: common practice, no source.

    Example:
        One 54 mm piston, both pads worn by 7 mm, the rotor by 1 mm:

        >>> round(wear_volume_ml(54.0, 1, 7.0, 1.0), 1)
        34.4
    """
    return volume_ml(piston_bore_mm, pistons, lining_wear_mm, rotor_wear_mm, caliper)


def level_drop_mm(volume_ml: float, reservoir_area_mm2: float) -> float:
    """Return how far the level falls when fluid leaves the reservoir.

    Args:
        volume_ml: volume that left, mL, 0 or more.
        reservoir_area_mm2: area of the fluid's surface in the reservoir, mm², above 0.

    Returns:
        Fall of the level, mm.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Geometry: volume over area, for upright walls.

    Example:
        >>> level_drop_mm(34.0, 4000.0)
        8.5
    """
    volume = _checks.not_negative(volume_ml, "volume in mL")
    return 1000 * volume / _checks.positive(reservoir_area_mm2, "reservoir area in mm²")


def explain_level(
    observed_drop_ml: float, per_wheel_wear: Sequence[WheelWear], uncertainty_ml: float
) -> LevelFinding:
    """Decide whether wear explains a fallen level, or fluid is missing.

    Fluid that is proven missing (by the guard band at 95 percent) means: suspect a leak. A level that fell
    less than the wear asks, by that much, means that someone added fluid. "Wear explains it" is only said
    when a loss of 10 mL can be ruled out; a poorer measurement is too close to call. Even then, a wet
    place anywhere on the hydraulic system is a leak.

    Args:
        observed_drop_ml: how much is missing below the mark, mL; below 0 when the level is above it.
        per_wheel_wear: a :class:`WheelWear` for each wheel that the reservoir feeds, at least one.
        uncertainty_ml: standard uncertainty of the observed drop and the wear together, mL, 0 or more.

    Returns:
        The expected and the unexplained volume, and the verdict.

    Raises:
        ValueError: a value is no number in its range, or the wear is no row of such records.

    Source:
        Guard band: ISO 14253-1:2017. Comparing the level with the wear: common practice, no source.

    Example:
        >>> wheel = WheelWear(54.0, 1, 7.0, 1.0)
        >>> explain_level(70.0, [wheel, wheel], 3.0).verdict
        'wear explains it'
        >>> explain_level(95.0, [wheel, wheel], 3.0).verdict
        'suspect a leak'
    """
    wheels = _checks.row(per_wheel_wear, "wear of each wheel", at_least=1)
    expected = math.fsum(_volume(wheel, "wear of a wheel", WheelWear) for wheel in wheels)
    return judge_level(observed_drop_ml, expected, uncertainty_ml)


def judge_level(observed_drop_ml: float, expected_ml: float, uncertainty_ml: float) -> LevelFinding:
    """Decide as :func:`explain_level` does, where the wear's volume has been worked out already.

    Args:
        observed_drop_ml: how much is missing below the mark, mL; below 0 when the level is above it.
        expected_ml: how much the wear asks for, mL, 0 or more.
        uncertainty_ml: standard uncertainty of the two together, mL, 0 or more.

    Returns:
        The expected and the unexplained volume, and the verdict.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        As :func:`explain_level`.

    Example:
        >>> judge_level(90.0, 76.3, 3.44).verdict
        'suspect a leak'
    """
    observed = _checks.number(observed_drop_ml, "observed drop in mL")
    expected = _checks.not_negative(expected_ml, "volume that the wear asks for in mL")
    u = _checks.not_negative(uncertainty_ml, "uncertainty in mL")
    verdict: LevelVerdict = "too close to call"
    if decide(observed, expected, "maximum", u).verdict == "outside":
        verdict = "suspect a leak"
    elif decide(observed, expected, "minimum", u).verdict == "outside":
        verdict = "fluid was added"
    elif decide(observed, total(expected, LEAST_LEAK_ML), "maximum", u).verdict == "within":
        verdict = "wear explains it"
    return LevelFinding(expected, difference(observed, expected), verdict)


def required_reservoir_ml(calipers: Sequence[CaliperTravel]) -> float:
    """Return how much fluid a reservoir must hold for the calipers that it feeds.

    The rule: the reservoir covers what all pistons take from new linings, fully drawn back, to fully worn
    linings, fully applied.

    Args:
        calipers: a :class:`CaliperTravel` for every caliper that the reservoir feeds, at least one.

    Returns:
        Volume, mL.

    Raises:
        ValueError: no caliper, or one that is no such record.

    Source:
        49 CFR 571.135, S5.4.2, as a government letter quotes the same rule from 571.105.

    Example:
        >>> front = CaliperTravel(54.0, 1, 11.0, 2.0, rotor_wear_mm=2.0, clearance_mm=0.2)
        >>> round(required_reservoir_ml([front, front]), 1)
        93.4
    """
    served = _checks.row(calipers, "calipers that the reservoir feeds", at_least=1)
    return math.fsum(_volume(caliper, "caliper", CaliperTravel) for caliper in served)


def _volume(value: object, quantity: str, kind: type[WheelWear] | type[CaliperTravel]) -> float:
    _checks.record(value, quantity, kind)
    return cast(WheelWear | CaliperTravel, value).volume_ml
