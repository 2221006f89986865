"""How far a lining still goes, and how sure that is."""

from __future__ import annotations

import math
import statistics
from typing import NamedTuple

from brakecourse.trade import _checks
from brakecourse.trade._decimals import difference


class RemainingDistance(NamedTuple):
    """How far a lining still goes before it reaches its minimum, in km.

    Attributes:
        likely_km: the best estimate; 0 when it is at its minimum or below.
        low_km: lower end of the interval.
        high_km: upper end; infinite when the wear so far is not proven to be above 0.
    """

    likely_km: float
    low_km: float
    high_km: float


def worn_mm(new_mm: float, now_mm: float) -> tuple[float, float]:
    """Return the thickness now and how much has worn off, in mm, or refuse them.

    Raises:
        ValueError: a value is no number, or the lining is no thinner than when new.
    """
    new = _checks.positive(new_mm, "lining thickness when new in mm")
    now = _checks.not_negative(now_mm, "lining thickness now in mm")
    if now >= new:
        raise ValueError(
            f"lining thickness now in mm must be below the new one's {new:g}, but it was {now:g}; "
            "without wear there is no rate."
        )
    return now, difference(new, now)


def remaining_km(
    new_mm: float,
    now_mm: float,
    minimum_mm: float,
    distance_km: float,
    thickness_u_mm: float,
    confidence: float = 0.95,
) -> RemainingDistance:
    """Return how far a lining still goes before it reaches its minimum, with its interval.

    Args:
        new_mm: lining thickness when new, mm, above 0.
        now_mm: smallest lining thickness now, mm, 0 or more, below the new one.
        minimum_mm: least permitted lining thickness, mm, above 0, below the new one.
        distance_km: distance driven between the two, km, above 0.
        thickness_u_mm: standard uncertainty of each thickness, mm, 0 or more.
        confidence: probability that the interval holds the true distance, 0.5 up to below 1.

    Returns:
        ``(likely_km, low_km, high_km)``, km. The high end is infinite when too little has worn to tell.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        Wear in proportion to distance: assumption, no source (the driving stays the same). Interval:
        Fieller's theorem for the ratio of two normal quantities, textbook statistics.

    Example:
        A lining of 11 mm has worn to 6 mm in 40 000 km. The minimum is 3 mm.

        >>> [round(km, -2) for km in remaining_km(11.0, 6.0, 3.0, 40_000.0, 0.1)]
        [24000.0, 21400.0, 26800.0]
    """
    now, worn = worn_mm(new_mm, now_mm)
    minimum = _checks.between(minimum_mm, "least lining thickness in mm", 0.0, float(new_mm))
    _checks.positive(minimum, "least lining thickness in mm")
    distance = _checks.positive(distance_km, "distance in km")
    u = _checks.not_negative(thickness_u_mm, "standard uncertainty of a thickness in mm")
    level = _checks.between(confidence, "confidence", 0.5, 1.0)
    left = difference(now, minimum)
    low, high = _fieller(left, worn, u, statistics.NormalDist().inv_cdf((1 + level) / 2))
    return RemainingDistance(
        max(0.0, distance * (left / worn)), max(0.0, distance * low), max(0.0, distance * high)
    )


def _fieller(left: float, worn: float, u: float, z: float) -> tuple[float, float]:
    """Bounds of left / worn: both hang on today's reading, so they move against each other."""
    spread = (z * u) ** 2
    a = worn * worn - 2 * spread
    b = left * worn + spread
    c = left * left - spread
    # b * b - a * c, multiplied out: with u = 0 it must be 0, and never rounding below it.
    inside = spread * ((left + worn) ** 2 + left * left - spread)
    if inside < 0:  # the readings exclude no distance at all
        return 0.0, math.inf
    root = math.sqrt(inside)
    # The other form of (b - root) / a: it stays exact when a is small, and right when a is below 0.
    low = c / (b + root) if b + root > 0 else 0.0
    return low, (b + root) / a if a > 0 else math.inf
