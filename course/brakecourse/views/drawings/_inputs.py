"""Refuse what cannot be drawn, in one sentence."""

from __future__ import annotations

import math
from collections.abc import Sequence
from numbers import Real

LARGEST = 1e9
"""Nothing that is drawn here is larger, and a coordinate of more digits would not be read by a browser."""


def finite(value: object, quantity: str) -> float:
    """Return the value as a float.

    Args:
        value: what was given.
        quantity: its name with the unit, e.g. ``"micrometer reading in mm"``.

    Raises:
        ValueError: it is no finite number. True and "3" are no numbers.
    """
    try:
        found = float(value) if not isinstance(value, bool) and isinstance(value, Real) else math.nan
    except OverflowError:  # a whole number too long for a float
        found = math.inf
    if not math.isfinite(found) or abs(found) > LARGEST:
        raise ValueError(f"The {quantity} must be a finite number, but it was {str(value)[:40]!r}.")
    return found


def within(value: object, quantity: str, low: float, high: float) -> float:
    """Return the value as a float from low to high, both allowed.

    Raises:
        ValueError: it is no number, or it lies out of the range.
    """
    found = finite(value, quantity)
    if not low <= found <= high:
        raise ValueError(f"The {quantity} must be from {low:g} to {high:g}, but it was {found:g}.")
    return found


def above_zero(value: object, quantity: str) -> float:
    """Return the value as a float above zero.

    Raises:
        ValueError: it is no number, or it is zero or less.
    """
    found = finite(value, quantity)
    if found <= 0:
        raise ValueError(f"The {quantity} must be above 0, but it was {found:g}.")
    return found


def pairs(angles_deg: object, readings: object, quantity: str) -> list[tuple[float, float]]:
    """Return readings beside their angles, in the order of the angles.

    Raises:
        ValueError: not two rows of the same length, fewer than three, a member that is no finite number,
            an angle out of 0 to below 360, or an angle twice.
    """
    angles, values = _row(angles_deg, "angle in degrees"), _row(readings, quantity)
    if len(angles) != len(values):
        raise ValueError(f"Every angle needs one {quantity}, but there were {len(angles)} and {len(values)}.")
    if len(angles) < 3:
        raise ValueError(f"At least three places round the rotor are needed, but there were {len(angles)}.")
    for angle in angles:
        if not 0 <= angle < 360:
            raise ValueError(f"An angle in degrees must be at least 0 and below 360, but it was {angle:g}.")
    if len(set(angles)) != len(angles):
        raise ValueError("Every angle may stand once only, but one was given twice.")
    return sorted(zip(angles, values, strict=True))


def _row(values: object, quantity: str) -> list[float]:
    if isinstance(values, (str, bytes)) or not hasattr(values, "__len__") or not hasattr(values, "__iter__"):
        raise ValueError(
            f"A row of numbers was expected for the {quantity}, but it was {str(values)[:40]!r}."
        )
    row: Sequence[object] = list(values)
    return [finite(value, f"{quantity}, place {place},") for place, value in enumerate(row, start=1)]
