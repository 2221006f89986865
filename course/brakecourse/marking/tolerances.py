"""How near an answer must come. Every tolerance follows from the gauge's scale or from the calculation.

No percentage is guessed. *One division* is the distance between two lines of the gauge (0.01 mm).
"""

from __future__ import annotations

import math

from brakecourse.marking.inches import to_inches
from brakecourse.trade.conformity import combine

INCH_ROUNDING_IN = 0.0005
"""Half of the last place of inches written to three places, in inches."""

PERCENT_ROUNDING = 0.5
"""A probability is asked in whole percent, so an answer may be off by half of one."""

Z_TABLE_ROUNDING = 0.005
"""A printed table of the normal distribution is entered with two decimal places."""

U_ROUNDING_MM = 0.00005
"""The work order prints an uncertainty to four decimal places of a millimetre."""

CLEAR_MM = 0.002
"""The bench never stops a gauge nearer than this to the middle between two lines."""

FUZZ = 1e-9
"""Only the last digits of the arithmetic: two numbers this near are the same."""


def reading(resolution_mm: float) -> float:
    """Return the tolerance of one reading, mm, about what the gauge shows.

    Half a division because the reading goes to the nearest line, and half a division because the eye may
    take the neighbouring line when the gauge stands between two: together one division.

    Source: common practice, no source.

    Example:
        >>> reading(0.01)
        0.01
    """
    return resolution_mm / 2 + resolution_mm / 2


def difference(resolution_mm: float) -> float:
    """Return the tolerance of a difference of two readings, mm, when the readings themselves were not given.

    Each of the two readings has its own tolerance, independent of the other: the root of the sum of squares.

    Source: JCGM 100:2008 (GUM), 5.1.2, for independent contributions.

    Example:
        >>> round(difference(0.01), 4)
        0.0141
    """
    return combine(reading(resolution_mm), reading(resolution_mm))


def carried(resolution_mm: float) -> float:
    """Return the tolerance of one value taken from the learner's own readings, mm.

    The readings are known then, so only rounding to the nearest line is left to forgive. It moves a value by
    at most half a division, less the clearance that the bench keeps from the middle between two lines.

    Source: common practice, no source; the clearance is the bench's own.

    Example:
        >>> round(carried(0.01), 4)
        0.003
    """
    return resolution_mm / 2 - CLEAR_MM


def carried_difference(resolution_mm: float) -> float:
    """Return the tolerance of a difference of two of the learner's own readings, mm.

    Source: as :func:`difference`, with the rounding of :func:`carried` in each of the two.

    Example:
        >>> round(carried_difference(0.01), 4)
        0.0042
    """
    return combine(carried(resolution_mm), carried(resolution_mm))


def rounded(resolution_mm: float) -> float:
    """Return how near an answer must come to be recognised as a value that had to be rounded, mm.

    A mean or a half does not fall on a line; rounded to the nearest one it moves by up to half a division.

    Example:
        >>> rounded(0.01)
        0.005
    """
    return resolution_mm / 2


def percent(margin_mm: float, standard_uncertainty_mm: float) -> float:
    """Return the tolerance of a probability in percent.

    With ``z = margin / u`` and the height of the normal curve ``phi(z)``: half a percent for rounding the
    answer, and ``100 * phi(z)`` for each unit that z may be off: 0.005 because a printed table has two
    decimal places, and ``|z| * 0.00005 / u`` because the work order rounds u.

    Args:
        margin_mm: distance from the limit, mm.
        standard_uncertainty_mm: standard uncertainty of the measured value, mm, 0 or more.

    Source: first-order propagation, JCGM 100:2008 (GUM), 5.1.

    Example:
        >>> round(percent(0.0, 0.008), 2), round(percent(1.0, 0.008), 2)
        (0.7, 0.5)
    """
    if standard_uncertainty_mm == 0:
        return PERCENT_ROUNDING
    z = margin_mm / standard_uncertainty_mm
    off = Z_TABLE_ROUNDING + abs(z) * U_ROUNDING_MM / standard_uncertainty_mm
    return PERCENT_ROUNDING + 100 * off * math.exp(-z * z / 2) / math.sqrt(2 * math.pi)


def inches(tolerance_mm: float) -> float:
    """Return how near an answer must come to be recognised as inches, in inches.

    Example:
        >>> round(inches(0.01), 4)
        0.0009
    """
    return INCH_ROUNDING_IN + to_inches(tolerance_mm)


def near(value: float, target: float, tolerance: float) -> bool:
    """Tell whether a value lies within the tolerance, the arithmetic's last digits let pass.

    Example:
        >>> near(23.42, 23.41, 0.01), near(23.43, 23.41, 0.01)
        (True, False)
    """
    return abs(value - target) <= tolerance + FUZZ
