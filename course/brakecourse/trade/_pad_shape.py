"""What the corners of a pad say of its shape, subtracted as on paper."""

from __future__ import annotations

from typing import Literal, get_args

from brakecourse.trade import _checks
from brakecourse.trade._decimals import difference, total
from brakecourse.trade._pad_records import PadReading

Along = Literal["length", "height"]


def corners(reading: PadReading) -> tuple[float, float, float, float]:
    """Return the four corners as plain floats, or refuse what is no pad reading.

    Raises:
        ValueError: ``reading`` is no such record.
    """
    _checks.record(reading, "pad reading", PadReading)
    first, second, third, fourth = (float(corner) for corner in reading.corners_mm)
    return first, second, third, fourth


def sum_of_corners(reading: PadReading) -> float:
    """Return the sum of the four corners, in mm."""
    first, second, third, fourth = corners(reading)
    return total(total(first, second), total(third, fourth))


def signed_taper(reading: PadReading, along: Along) -> float:
    """Return the larger of the two differences, above 0 when the trailing end or inner edge is thinner."""
    _checks.one_of(along, "along", get_args(Along))
    leading_outer, leading_inner, trailing_outer, trailing_inner = corners(reading)
    if along == "length":
        pairs = ((leading_outer, trailing_outer), (leading_inner, trailing_inner))
    else:
        pairs = ((leading_outer, leading_inner), (trailing_outer, trailing_inner))
    return max((difference(first, second) for first, second in pairs), key=abs)


def thin_side(reading: PadReading, along: Along) -> str:
    """Return the word for the thin end or edge; empty when there is none."""
    taper = signed_taper(reading, along)
    first, second = ("leading", "trailing") if along == "length" else ("outer", "inner")
    if taper == 0:
        return ""
    return second if taper > 0 else first


def pair_difference(inner: PadReading, outer: PadReading) -> tuple[float, str]:
    """Return the difference of the mean thicknesses in mm, and the thinner pad; empty when there is none."""
    more_on_outer = difference(sum_of_corners(outer), sum_of_corners(inner)) / 4
    if more_on_outer == 0:
        return 0.0, ""
    return abs(more_on_outer), "inner" if more_on_outer > 0 else "outer"
