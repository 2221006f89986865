"""Where a dial's needle stands, in words: which lines, never the reading."""

from __future__ import annotations

import math

ORDINALS = ("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")


def describe(reading: float) -> str:
    """Return the description for a screen reader."""
    return (
        "A dial indicator. One turn of the needle is one millimetre, in a hundred divisions. "
        "Black numbers go clockwise, for a plunger pushed in; small numbers with a minus sign go "
        f"anticlockwise, for a plunger let out. Going clockwise, {_needle(reading)}. "
        f"On the small counter of whole turns, {_counter(reading)}."
    )


def _needle(reading: float) -> str:
    divisions = reading * 100 % 100
    nearest = round(divisions)
    if abs(divisions - nearest) <= 0.1:
        return f"the needle stands on {_line(nearest)}"
    lower = math.floor(divisions)
    side = "first" if nearest == lower else "second"
    return f"the needle stands between {_line(lower)} and {_line(lower + 1)}, nearer the {side} of the two"


def _line(division: int) -> str:
    numbered, further = divmod(division % 100, 10)
    if further == 0:
        return f"the line numbered {numbered * 10}"
    return f"the {ORDINALS[further]} line after number {numbered * 10}"


def _counter(reading: float) -> str:
    turns = reading % 10
    nearest = round(turns)
    if abs(turns - nearest) <= 0.002:
        return f"the hand stands on {nearest % 10}"
    return f"the hand stands between {math.floor(turns) % 10} and {(math.floor(turns) + 1) % 10}"
