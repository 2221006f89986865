"""Read the wear of a pair of pads: the pattern, the part that caused it, and how far they still go.

Pads are replaced as an axle set: both wheels, never one. Treat their dust as hazardous: wet or enclosed
cleaning, never dry air. The maker's limit and the local law come first.
"""

from __future__ import annotations

from typing import Literal, get_args

from brakecourse import published
from brakecourse.trade import _checks
from brakecourse.trade._pad_life import RemainingDistance, remaining_km, worn_mm
from brakecourse.trade._pad_records import Evidence, PadLimits, PadReading, WearFinding
from brakecourse.trade._pad_shape import (
    Along,
    corners,
    pair_difference,
    signed_taper,
    sum_of_corners,
    thin_side,
)
from brakecourse.trade._pad_wear import evidence_of, finding_from

__all__ = [
    "Evidence",
    "PadLimits",
    "PadReading",
    "RemainingDistance",
    "WearFinding",
    "archard_wear_mm",
    "classify_wear",
    "inspection_minimum_mm",
    "mean_lining_mm",
    "pair_difference_mm",
    "remaining_km",
    "smallest_lining_mm",
    "taper_mm",
    "thin_end",
    "wear_rate_mm_per_1000km",
]

Fixing = Literal["bonded", "riveted"]

_FIXINGS: dict[str, str] = {
    "bonded": "inspect_lining_bonded_min",
    "riveted": "inspect_lining_over_fastener_min",
}


def smallest_lining_mm(reading: PadReading) -> float:
    """Return the lining thickness that counts against the minimum: the smallest corner, never the mean.

    Args:
        reading: the pad's corners, mm.

    Returns:
        The smallest corner, mm.

    Raises:
        ValueError: ``reading`` is no such record.

    Source:
        Common practice, no source: the minimum holds at every place of the pad.

    Example:
        >>> smallest_lining_mm(PadReading(6.2, 6.0, 4.9, 4.8))
        4.8
    """
    return min(corners(reading))


def mean_lining_mm(reading: PadReading) -> float:
    """Return the mean lining thickness of a pad.

    Args:
        reading: the pad's corners, mm.

    Returns:
        Mean of the four corners, mm.

    Raises:
        ValueError: ``reading`` is no such record.

    Source:
        Common practice, no source.

    Example:
        >>> mean_lining_mm(PadReading(6.2, 6.0, 5.0, 4.8))
        5.5
    """
    return sum_of_corners(reading) / 4


def taper_mm(reading: PadReading, along: Along) -> float:
    """Return the taper of a pad.

    Args:
        reading: the pad's corners, mm.
        along: ``"length"`` compares the leading with the trailing end, ``"height"`` the outer with the
            inner edge.

    Returns:
        The larger of the two differences, mm, 0 or more. Each is taken along one edge or at one end.

    Raises:
        ValueError: ``reading`` is no such record, or ``along`` another word.

    Source:
        Common practice, no source.

    Example:
        >>> pad = PadReading(6.2, 6.0, 5.0, 4.8)
        >>> taper_mm(pad, "length"), taper_mm(pad, "height")
        (1.2, 0.2)
    """
    return abs(signed_taper(reading, along))


def thin_end(reading: PadReading, along: Along) -> str:
    """Return which end or edge of a pad is the thin one.

    Args:
        reading: the pad's corners, mm.
        along: ``"length"`` or ``"height"``, as for :func:`taper_mm`.

    Returns:
        ``"leading"`` or ``"trailing"``, ``"outer"`` or ``"inner"``; empty when there is no taper.

    Raises:
        ValueError: ``reading`` is no such record, or ``along`` another word.

    Source:
        Common practice, no source.

    Example:
        >>> thin_end(PadReading(6.2, 6.0, 5.0, 4.8), "length")
        'trailing'
    """
    return thin_side(reading, along)


def pair_difference_mm(inner: PadReading, outer: PadReading) -> float:
    """Return how differently the two pads of a wheel have worn.

    Args:
        inner: corners of the inner pad (the piston's), mm.
        outer: corners of the outer pad, mm.

    Returns:
        Difference of the two mean thicknesses, mm, 0 or more.

    Raises:
        ValueError: an argument is no such record.

    Source:
        Common practice, no source.

    Example:
        >>> pair_difference_mm(PadReading(4.0, 4.0, 4.2, 4.2), PadReading(6.0, 6.0, 6.2, 6.2))
        2.0
    """
    return pair_difference(inner, outer)[0]


def classify_wear(
    inner: PadReading, outer: PadReading, limits: PadLimits, confidence: float = 0.95
) -> WearFinding:
    """Name the wear pattern of a pair of pads, and the parts that may have caused it.

    Each check is decided with the gauge's uncertainty. A pattern is named when its limit is proven to be
    passed. A lining that is not proven to keep its minimum is replaced.

    Args:
        inner: corners of the inner pad (the piston's), mm.
        outer: corners of the outer pad, mm.
        limits: the pads' limits, from the maker's service information, and the gauge's uncertainty.
        confidence: wanted probability of a right decision, 0.5 up to below 1.

    Returns:
        Patterns, causes, every check made, and the action.

    Raises:
        ValueError: an argument is another thing, or the confidence is out of its range.

    Source:
        Patterns and causes: common practice, no source. Each check: ISO 14253-1:2017 and JCGM 106:2012.

    Example:
        >>> limits = PadLimits(3.0, 1.0, 1.5, 0.5, 0.05, 0.07)
        >>> worn = PadReading(3.9, 3.8, 4.0, 3.9)
        >>> finding = classify_wear(worn, PadReading(6.4, 6.3, 6.5, 6.4), limits)
        >>> finding.pattern, finding.action
        ('uneven inner and outer', 'find the cause')
        >>> finding.causes[0].partition(":")[0]
        'slide pins dry, seized or packed with grease'
    """
    _checks.record(limits, "limits", PadLimits)
    return finding_from(evidence_of(inner, outer, limits, confidence))


def inspection_minimum_mm(fixing: Fixing) -> float:
    """Return the least lining thickness of a published vehicle inspection rule.

    The vehicle maker's limit comes first. It is often the thicker one.

    Args:
        fixing: ``"bonded"`` (thickness over the backing plate) or ``"riveted"`` (over the fastener).

    Returns:
        The thickness, mm.

    Raises:
        ValueError: ``fixing`` is another word.

    Source:
        49 CFR 570.59(c), for vehicles over 10 000 lb. The rule for lighter ones is from memory the same.

    Example:
        >>> round(inspection_minimum_mm("bonded"), 1)
        1.6
    """
    row = published.value(_FIXINGS[_checks.one_of(fixing, "fixing", get_args(Fixing))])
    return published.convert(row.value, row.unit, "mm")


def wear_rate_mm_per_1000km(new_mm: float, now_mm: float, distance_km: float) -> float:
    """Return how fast a lining has worn.

    Args:
        new_mm: lining thickness when new, mm, above 0.
        now_mm: lining thickness now, mm, 0 or more, below the new one.
        distance_km: distance driven between the two, km, above 0.

    Returns:
        Wear in mm for each 1000 km.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        Wear in proportion to distance: assumption, no source.

    Example:
        >>> wear_rate_mm_per_1000km(11.0, 6.0, 40_000.0)
        0.125
    """
    _, worn = worn_mm(new_mm, now_mm)
    return worn / _checks.positive(distance_km, "distance in km") * 1000


def archard_wear_mm(
    coefficient: float, force_n: float, sliding_m: float, hardness_mpa: float, area_mm2: float
) -> float:
    """Return how deep a lining wears by Archard's law.

    Args:
        coefficient: Archard's wear constant, a plain number, 0 or more.
        force_n: force that presses the lining, N, 0 or more.
        sliding_m: distance slid, m, 0 or more.
        hardness_mpa: hardness of the softer surface, MPa, above 0.
        area_mm2: area of the lining, mm2, above 0.

    Returns:
        Depth worn off, mm.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        Archard's wear law, textbook: volume = constant x force x distance / hardness.

    Example:
        >>> round(archard_wear_mm(1e-6, 4000.0, 500_000.0, 200.0, 5000.0), 4)
        2.0
    """
    wear = _checks.not_negative(coefficient, "Archard's constant")
    force = _checks.not_negative(force_n, "force in N")
    sliding = _checks.not_negative(sliding_m, "sliding distance in m")
    hardness = _checks.positive(hardness_mpa, "hardness in MPa")
    return wear * (force / hardness) * (1000 * sliding / _checks.positive(area_mm2, "lining area in mm2"))
