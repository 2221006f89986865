"""Values as Python text, as they stand typed in a solved notebook."""

from __future__ import annotations

from collections.abc import Sequence


def row(values: Sequence[float], places: int = 2) -> str:
    """Return a row of numbers as Python text.

    >>> row([22.4, 22.41])
    '[22.40, 22.41]'
    """
    return "[" + ", ".join(f"{value:.{places}f}" for value in values) + "]"
