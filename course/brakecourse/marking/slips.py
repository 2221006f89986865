"""Mistakes that can be made with any number: the point slipped, the wrong unit, half of it, the sign lost."""

from __future__ import annotations

from brakecourse.marking import tolerances
from brakecourse.marking.inches import to_inches
from brakecourse.marking.sealed import SealedMistake


def slip(mistake: str, value: float, tolerance: float) -> SealedMistake:
    """Return a named mistake with the number that it gives."""
    return SealedMistake(mistake=mistake, value=value, tolerance=tolerance)


def decimal_point(value: float, tolerance: float) -> tuple[SealedMistake, ...]:
    """The decimal point slipped by one place, either way."""
    return (
        slip("ten_times", 10 * value, 10 * tolerance),
        slip("ten_times", value / 10, tolerance / 10),
    )


def inches(value_mm: float, tolerance_mm: float) -> SealedMistake:
    """The length given in inches."""
    return slip("inches_for_millimetres", to_inches(value_mm), tolerances.inches(tolerance_mm))


def of_any_length(value_mm: float, tolerance_mm: float) -> tuple[SealedMistake, ...]:
    """Wrong unit and slipped point: the mistakes that any length can meet."""
    return (inches(value_mm, tolerance_mm), *decimal_point(value_mm, tolerance_mm))
