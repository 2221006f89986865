"""Refuse what is not a number in the allowed range, in one sentence."""

from __future__ import annotations

import math

from brakecourse.trade import _checks


def number(name: str, value: object, low: float = -math.inf, high: float = math.inf) -> float:
    """Return ``value`` as a float when it is a finite number from ``low`` to ``high``.

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
    if type(value) is float and low <= value <= high and -_checks.LARGEST <= value <= _checks.LARGEST:
        return value  # the short way for what is asked a thousand times
    found = _checks.number(value, name)
    if not low <= found <= high:
        expected = f"{low:g} or more" if high == math.inf else f"from {low:g} to {high:g}"
        raise ValueError(f"{name} must be {expected}, but it was {found:g}.")
    return found


def whole(name: str, value: object, low: int, high: int | None = None) -> int:
    """Return ``value`` when it is a whole number (an int, not a bool) from ``low`` to ``high``.

    Raises:
        ValueError: not an int, or outside the range.

    >>> whole("studs", 5, low=3, high=10)
    5
    """
    if type(value) is int and low <= value and (high is None or value <= high):
        return value  # the short way, as in number
    expected = f"{low} or more" if high is None else f"from {low} to {high}"
    fits = isinstance(value, int) and not isinstance(value, bool) and value >= low
    if not fits or (high is not None and isinstance(value, int) and value > high):
        raise ValueError(f"{name} must be a whole number, {expected}, but it was {value!r}.")
    assert isinstance(value, int)
    return value
