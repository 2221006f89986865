"""What a micrometer's picture shows, in words: which lines, never the reading.

Who cannot see the picture gets the same lines to count, and does the same sum.
"""

from __future__ import annotations

ORDINALS = ("numbered", "first", "second", "third", "fourth")
COUNTS = ("no", "one", "two", "three", "four")


def halves_shown(reading: float, start: float) -> int:
    """Return how many half-millimetre steps of the sleeve have come out from under the thimble.

    A line comes out when the nearest thimble line says so: half a division early. That is well within
    the width of a line, as on a real gauge.
    """
    return int((reading - start + 0.005) / 0.5 + 1e-9)


def describe(reading: float, start: float) -> str:
    """Return the description for a screen reader."""
    whole, half_shows = divmod(halves_shown(reading, start), 2)
    numbered, further = whole // 5 * 5, whole % 5
    lines = "line" if further == 1 else "lines"
    half = "shows" if half_shows else "does not show"
    return (
        f"A metric micrometer for {start:g} to {start + 25:g} millimetres. "
        "One turn of the thimble is half a millimetre, in fifty divisions. "
        f"On the sleeve, above the datum line, the last numbered line that shows is {start + numbered:g}, "
        f"with {COUNTS[further]} whole-millimetre {lines} after it. "
        f"Below the datum line, the half-millimetre line after the last whole one {half}. "
        f"On the thimble, {_at_datum(reading)}."
    )


def _at_datum(reading: float) -> str:
    divisions = reading % 0.5 / 0.01
    nearest = round(divisions)
    if abs(divisions - nearest) <= 0.1:
        return f"the datum line meets {_thimble_line(nearest)}"
    lower = int(divisions)
    return (
        f"the datum line stands between {_thimble_line(lower)} and {_thimble_line(lower + 1)}, "
        f"nearer {'the first' if nearest == lower else 'the second'} of the two"
    )


def _thimble_line(division: int) -> str:
    numbered, further = divmod(division % 50, 5)
    if further == 0:
        return f"the line numbered {numbered * 5}"
    return f"the {ORDINALS[further]} line after number {numbered * 5}"
