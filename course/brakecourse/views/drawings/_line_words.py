"""Say between which lines of a scale a hand stands, without saying the reading."""

from __future__ import annotations

_ORDER = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")
_ON = 0.04  # of a line's distance: nearer than this, an eye sees the hand on the line


def stands(reading: float, line: float, lines_per_number: int, first: float = 0.0) -> str:
    """Return words for a place on a scale.

    Args:
        reading: what the hand points at, in the scale's unit.
        line: value from one line to the next, in the same unit.
        lines_per_number: lines from one numeral to the next, 1 to 10. Numerals stand at whole multiples.
        first: value of the scale's first line. A line before the first numeral is counted from there.

    Returns:
        For example ``"between the third line after number 40 and the fourth line after number 40, nearer
        the first of the two"``.

    Example:
        >>> stands(4.6, 0.2, 10)
        'on the third line after number 4'
    """
    places = reading / line
    lower = int(places + 1e-9)
    start = round(first / line)
    part = places - lower
    if part < _ON:
        return f"on {_line(lower, line, lines_per_number, start)}"
    if part > 1 - _ON:
        return f"on {_line(lower + 1, line, lines_per_number, start)}"
    earlier, later = (_line(place, line, lines_per_number, start) for place in (lower, lower + 1))
    nearer = "halfway" if abs(part - 0.5) < _ON else f"nearer the {'first' if part < 0.5 else 'second'}"
    return f"between {earlier} and {later}, {nearer}{' of the two' if nearer != 'halfway' else ''}"


def _line(place: int, line: float, per_number: int, start: int) -> str:
    number, after = place // per_number * per_number, place % per_number
    if not after:
        return f"the line of number {number * line:g}"
    if number < start:
        return f"the {_ORDER[place - start]} line of the scale"
    return f"the {_ORDER[after - 1]} line after number {number * line:g}"
