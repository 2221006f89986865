"""Torque: set it, apply it in the right order, and know what it buys.

The maker's torque holds for the threads as the maker means them: usually clean and dry. An impact wrench
is no torque wrench. A bolt that is tightened into stretch is used once.
"""

from __future__ import annotations

import math

from brakecourse import published
from brakecourse.trade import _checks
from brakecourse.trade._bolts import (
    PreloadRange,
    lubricated_scatter,
    nut_factor,
    preload_n,
    preload_range_n,
    proof_fraction,
    tensile_stress_area_mm2,
)
from brakecourse.trade._stud_order import STEP_SHARES, tightening_order
from brakecourse.trade.conformity import Decision, decide

__all__ = [
    "IMPACT_TOLERANCE",
    "STEP_SHARES",
    "PreloadRange",
    "in_tolerance",
    "lubricated_scatter",
    "nut_factor",
    "preload_n",
    "preload_range_n",
    "proof_fraction",
    "tensile_stress_area_mm2",
    "tightening_order",
    "tightening_steps_nm",
    "wrench_setting_nm",
    "wrench_tolerance",
]

IMPACT_TOLERANCE = 0.5
"""How far an impact wrench may miss a torque, as a share. Assumption, no source: nothing on it measures."""


def wrench_setting_nm(
    target_nm: float, wrench_length_mm: float, extension_mm: float, angle_deg: float = 0.0
) -> float:
    """Return what to set on a torque wrench that carries an extension.

    Args:
        target_nm: wanted torque at the fastener, N·m, above 0.
        wrench_length_mm: from the wrench's square to the middle of its grip, mm, above 0.
        extension_mm: from the wrench's square to the fastener, mm, 0 or more.
        angle_deg: angle of the extension to the wrench, degrees: 0 straight on (longer), 90 across (no
            change), 180 folded back (shorter); -180 to 180.

    Returns:
        The setting, N·m: ``target * L / (L + E cos(angle))``.

    Raises:
        ValueError: a value is no number or out of its range, or the fastener would lie under the grip or
            behind it.

    Source:
        Textbook statics: moment of the hand's force, square to the wrench, about the fastener.

    Example:
        110 N·m (81 lbf·ft) with a 400 mm wrench and a 50 mm extension straight on.

        >>> round(wrench_setting_nm(110.0, 400.0, 50.0), 1)
        97.8
        >>> round(wrench_setting_nm(110.0, 400.0, 50.0, 90.0), 1)
        110.0
    """
    target = _checks.positive(target_nm, "target torque in N·m")
    length = _checks.positive(wrench_length_mm, "length of the wrench in mm")
    extension = _checks.not_negative(extension_mm, "length of the extension in mm")
    angle = _checks.number(angle_deg, "angle of the extension in degrees")
    if abs(angle) > 180:
        raise ValueError(f"angle of the extension in degrees must be from -180 to 180, but it was {angle:g}.")
    arm = length + extension * math.cos(math.radians(angle))
    if arm <= 0:
        raise ValueError(
            "length of the extension in mm must be less than the wrench's when it is folded back, "
            f"but it was {extension:g} against {length:g}."
        )
    return target * (length / arm)


def wrench_tolerance(largest_nm: float) -> float:
    """Return how far a torque wrench may be off by its standard, as a share of the torque.

    Args:
        largest_nm: largest torque of the wrench, N·m, above 0.

    Returns:
        0.04 means plus or minus 4 percent.

    Raises:
        ValueError: the torque is no number above 0.

    Source:
        ISO 6789-1:2017 as stated by a calibration service; up to 10 N·m a tool manual's summary.

    Example:
        >>> wrench_tolerance(200.0)
        0.04
    """
    largest = _checks.positive(largest_nm, "largest torque of the wrench in N·m")
    row = published.value("torque_wrench_tol_to_10" if largest <= 10 else "torque_wrench_tol_above_10")
    return row.value / 100


def in_tolerance(
    applied_nm: float,
    target_nm: float,
    tolerance: float,
    standard_uncertainty_nm: float = 0.0,
    confidence: float = 0.95,
) -> Decision:
    """Decide whether an applied torque keeps its target.

    Args:
        applied_nm: the torque that was measured, N·m, 0 or more.
        target_nm: the wanted torque, N·m, above 0.
        tolerance: permitted miss to either side as a share of the target, e.g. 0.04; 0 up to below 1.
        standard_uncertainty_nm: standard uncertainty of the measured torque, N·m, 0 or more.
        confidence: wanted probability of a right decision, 0.5 up to below 1.

    Returns:
        The decision against the nearer end; the probability counts both ends.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        ISO 14253-1:2017 and JCGM 106:2012, an interval of two limits.

    Example:
        >>> decision = in_tolerance(107.0, 110.0, 0.04)
        >>> decision.verdict, round(decision.margin, 1)
        ('within', 1.4)
    """
    applied = _checks.not_negative(applied_nm, "applied torque in N·m")
    target = _checks.positive(target_nm, "target torque in N·m")
    share = _checks.between(tolerance, "tolerance as a share of the target", 0.0, 1.0)
    low = decide(applied, target * (1 - share), "minimum", standard_uncertainty_nm, confidence)
    high = decide(applied, target * (1 + share), "maximum", standard_uncertainty_nm, confidence)
    nearer = low if low.margin <= high.margin else high
    both = low.probability_conforming + high.probability_conforming - 1
    return Decision(nearer.verdict, nearer.margin, nearer.guard_band, max(0.0, both))


def tightening_steps_nm(target_nm: float) -> tuple[float, ...]:
    """Return the torques of each round of tightening, in the order of :func:`tightening_order`.

    Args:
        target_nm: the final torque, N·m, above 0.

    Returns:
        A third, two thirds and the whole, N·m. Last, go round once more at the whole.

    Raises:
        ValueError: the torque is no number above 0.

    Source:
        Common practice, no source (:data:`STEP_SHARES`).

    Example:
        >>> tightening_steps_nm(120.0)
        (40.0, 80.0, 120.0)
    """
    target = _checks.positive(target_nm, "target torque in N·m")
    return tuple(target * share for share in STEP_SHARES)
