"""Refuse an argument that is no whole number of things: studs, or places round a hub."""

from __future__ import annotations

from brakecourse.trade import _checks

FEWEST_STUDS = 3
MOST_STUDS = 10


def whole(value: object, quantity: str, low: int, high: int) -> int:
    """Return the value as a plain whole number from ``low`` to ``high``, or refuse it.

    Args:
        value: what was given. 5 and 5.0 are whole; 4.5, True and "5" are not.
        quantity: its name, for the sentence, e.g. ``"number of studs"``.
        low: least allowed number.
        high: largest allowed number.

    Raises:
        ValueError: the value is no whole number in that range.

    >>> whole(5.0, "number of studs", 3, 10)
    5
    """
    plain = _checks.number(value, quantity)
    if plain != int(plain) or not low <= plain <= high:
        raise ValueError(f"{quantity} must be a whole number from {low} to {high}, but it was {plain:g}.")
    return int(plain)


def studs_of(value: object) -> int:
    """Return a number of wheel studs, or refuse it.

    Raises:
        ValueError: the value is no whole number from 3 to 10.
    """
    return whole(value, "number of studs", FEWEST_STUDS, MOST_STUDS)
