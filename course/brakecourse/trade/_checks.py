"""Refuse an argument that cannot be a measured quantity.

Every public function of the trade passes its arguments through here, so that a wrong one is
refused in one place and in one voice: the quantity, what was expected, what was found.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from numbers import Real

LARGEST = 1e60
"""No quantity of this trade is larger. The bound keeps squares and products finite."""

SMALLEST = 1e-60
"""No quantity that must be above zero is smaller. The bound keeps squares above zero and quotients finite."""


def _refuse(quantity: str, expected: str, found: object) -> ValueError:
    shown = repr(found)
    if len(shown) > 60:
        shown = shown[:57] + "..."
    return ValueError(f"{quantity} must be {expected}, but it was {shown}.")


def number(value: object, quantity: str) -> float:
    """Return the value as a plain float, or refuse it.

    Args:
        value: what was given. Whole numbers, fractions and numpy's numbers are numbers; True and "3" are not.
        quantity: its name with the unit, for the sentence, e.g. ``"discard thickness in mm"``.

    Raises:
        ValueError: the value is no number, not finite, or beyond any quantity of this trade.
    """
    if type(value) is float and -LARGEST <= value <= LARGEST:
        return value  # the short way for what is asked a thousand times
    if type(value) is int and -LARGEST <= value <= LARGEST:
        return float(value)
    if isinstance(value, bool) or not isinstance(value, Real):
        raise _refuse(quantity, "a number", value)
    try:
        plain = float(value)
    except OverflowError:
        plain = math.inf
    if not math.isfinite(plain):
        raise _refuse(quantity, "a finite number", value)
    if abs(plain) > LARGEST:
        raise _refuse(quantity, f"a number between {-LARGEST:g} and {LARGEST:g}", value)
    return plain


def positive(value: object, quantity: str) -> float:
    """Return the value as a float above zero, or refuse it.

    Raises:
        ValueError: the value is no finite number above zero.
    """
    if type(value) is float and SMALLEST <= value <= LARGEST:
        return value  # the short way, as in number
    plain = number(value, quantity)
    if plain <= 0:
        raise _refuse(quantity, "above 0", value)
    if plain < SMALLEST:
        raise _refuse(quantity, f"at least {SMALLEST:g}", value)
    return plain


def not_negative(value: object, quantity: str) -> float:
    """Return the value as a float of zero or more, or refuse it.

    Raises:
        ValueError: the value is no finite number of zero or more.
    """
    if type(value) is float and 0 <= value <= LARGEST:
        return value  # the short way, as in number
    plain = number(value, quantity)
    if plain < 0:
        raise _refuse(quantity, "0 or more", value)
    return plain


def between(value: object, quantity: str, low: float, below: float) -> float:
    """Return the value as a float with ``low <= value < below``, or refuse it.

    Raises:
        ValueError: the value is no number in that range.
    """
    plain = number(value, quantity)
    if not low <= plain < below:
        raise _refuse(quantity, f"at least {low:g} and below {below:g}", value)
    return plain


def within(value: object, quantity: str, low: float, high: float) -> float:
    """Return the value as a float with ``low <= value <= high``, or refuse it.

    Raises:
        ValueError: the value is no number in that range.
    """
    plain = number(value, quantity)
    if not low <= plain <= high:
        raise _refuse(quantity, f"from {low:g} to {high:g}", value)
    return plain


def one_of(value: object, quantity: str, allowed: tuple[str, ...]) -> str:
    """Return the word if it is one of the allowed ones, or refuse it.

    Raises:
        ValueError: the value is none of the allowed words.
    """
    if not isinstance(value, str) or value not in allowed:
        raise _refuse(quantity, " or ".join(repr(word) for word in allowed), value)
    return value


def numbers(values: object, quantity: str, at_least: int = 1) -> tuple[float, ...]:
    """Return a row of readings as plain floats, or refuse it.

    Args:
        values: a list, tuple, array or the like. A set has no order and a text is no row of readings.
        quantity: name of one reading with its unit, e.g. ``"dial reading in mm"``.
        at_least: how many readings the calculation needs.

    Raises:
        ValueError: not a row, too few readings, or a reading that is no finite number (its place is told).
    """
    found = row(values, quantity, at_least)
    return tuple(number(value, f"{quantity}, place {place},") for place, value in enumerate(found, start=1))


def positives(values: object, quantity: str, at_least: int = 1) -> tuple[float, ...]:
    """Return a row of readings as floats above zero, or refuse it.

    Raises:
        ValueError: as for :func:`numbers`, or a reading of zero or less.
    """
    found = row(values, quantity, at_least)
    return tuple(positive(value, f"{quantity}, place {place},") for place, value in enumerate(found, start=1))


def row(values: object, quantity: str, at_least: int) -> list[object]:
    """Return what was given as a list, its members unlooked at, or refuse it.

    Raises:
        ValueError: not a row, or too few members.
    """
    expected = f"given as a row of at least {at_least} number{'s' if at_least > 1 else ''}"
    unordered = isinstance(values, (str, bytes, bytearray, Mapping, AbstractSet))
    # A length is asked for because a stream of readings could be endless or already used up.
    if unordered or not hasattr(values, "__len__") or not hasattr(values, "__iter__"):
        raise _refuse(quantity, expected, values)
    try:
        found = list(values)
    except TypeError:  # an array without axes has the attribute but no length
        raise _refuse(quantity, expected, values) from None
    if len(found) < at_least:
        raise _refuse(quantity, expected, values)
    return found


def record(value: object, quantity: str, kind: type) -> None:
    """Refuse a value that is no such record.

    Raises:
        ValueError: the value is of another type.
    """
    if not isinstance(value, kind):
        raise _refuse(quantity, f"a {kind.__name__} record", value)
