"""Lengths in inches, by the unit library, which is asked once for the factor and not for every value."""

from __future__ import annotations

from functools import cache

from brakecourse.published import convert


@cache
def mm_per_inch() -> float:
    """Return how many millimetres an inch has."""
    return convert(1.0, "in", "mm")


def to_inches(value_mm: float) -> float:
    """Return a length in inches.

    Example:
        >>> to_inches(25.4)
        1.0
    """
    return value_mm / mm_per_inch()


def to_millimetres(value_in: float) -> float:
    """Return a length in millimetres.

    Example:
        >>> round(to_millimetres(0.945), 3)
        24.003
    """
    return value_in * mm_per_inch()
