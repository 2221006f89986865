"""Refuse what is not a plain finite number in the allowed range, in one sentence."""

from __future__ import annotations

import math


def number(name: str, value: object, low: float = -math.inf, high: float = math.inf) -> float:
    """Return ``value`` as a float when it is a finite number between ``low`` and ``high``.

    Args:
        name: the quantity's name with its unit, for the message.
        value: what was given.
        low: smallest value allowed.
        high: largest value allowed.

    Raises:
        ValueError: text, a bool, NaN, infinity, or outside the range.

    >>> number("wear_mm", 0.4, low=0)
    0.4
    """
    allowed = f"a number from {low:g} to {high:g}"
    if isinstance(value, (bool, str, bytes)) or value is None:
        raise ValueError(f"{name} must be {allowed}, but {value!r} was given.")
    try:
        result = float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError, OverflowError):
        raise ValueError(f"{name} must be {allowed}, but {value!r} was given.") from None
    if not (math.isfinite(result) and low <= result <= high):
        raise ValueError(f"{name} must be {allowed}, but {value!r} was given.")
    return result


def whole(name: str, value: object, low: int, high: int | None = None) -> int:
    """Return ``value`` when it is a whole number (an int, not a bool) from ``low`` up to ``high``.

    Raises:
        ValueError: not an int, or outside the range.

    >>> whole("studs", 5, low=3, high=10)
    5
    """
    upward = "or more" if high is None else f"to {high}"
    if isinstance(value, bool) or not isinstance(value, int) or value < low or (high is not None and value > high):
        raise ValueError(f"{name} must be a whole number, {low} {upward}, but {value!r} was given.")
    return value
