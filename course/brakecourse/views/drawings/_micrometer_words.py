"""What a micrometer's picture shows, in words: which lines, never the reading.

Who cannot see the picture gets the same lines to count, and does the same sum.
"""

from __future__ import annotations

ORDINALS = ("numbered", "first", "second", "third", "fourth")
COUNTS = ("no", "one", "two", "three", "four")


def describe(reading: float, start: float) -> str:
    """Return the description for a screen reader."""
    halves = int((reading - start + 0.005) / 0.5 + 1e-9)
    whole, half_shows = divmod(halves, 2)
    numbered, further = whole // 5 * 5, whole % 5
    lines = "line" if further == 1 else "lines"
    return (
        f"A metric micrometer for {start:g} to {start + 25:g} millimetres. One turn of the thimble is half a "
        f"millimetre, in fifty divisions. On the sleeve, above the datum line, the last numbered line that shows is "
        f"{start + numbered:g}, with {COUNTS[further]} whole-millimetre {lines} after it. Below the datum line, the "
        f"half-millimetre line after the last whole one {'shows' if half_shows else 'does not show'}. "
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
