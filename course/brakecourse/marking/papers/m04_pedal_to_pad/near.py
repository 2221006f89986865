"""How near an answer must come: every tolerance is rounding, carried through the sum.

Three things are rounded on the way, and nothing else: the answer itself, the answers it is worked from, and
the two that anybody with a calculator and the lesson beside them rounds: 3.14 for pi, and an area to whole
square millimetres, as the lesson writes it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from brakecourse.marking import slips
from brakecourse.marking.sealed import SealedMistake
from brakecourse.trade.conformity import combine, expanded, rectangular
from brakecourse.trade.fluid import piston_area_mm2

PI_SHARE = 1 - 3.14 / math.pi
"""How far off an area is, as a share of it, that was worked with 3.14."""


def half_place(places: int) -> float:
    """Return half of the last decimal place, the most that rounding to it moves a value.

    Example:
        >>> half_place(2)
        0.005
    """
    return 0.5 * 10.0**-places


def area_shares(bore_mm: float) -> tuple[float, float]:
    """Return how far off an area may be, as shares of it: worked with 3.14, and written in whole mm²."""
    return PI_SHARE, half_place(0) / piston_area_mm2(bore_mm)


def near(places: int, *bounds: float) -> float:
    """Return the tolerance of an answer: the expanded uncertainty (k = 2) of everything that was rounded.

    Args:
        places: decimal places that are asked for.
        bounds: how far each rounding on the way may move the answer, either way, in the answer's unit.

    Source:
        JCGM 100:2008 (GUM), 4.3.7 for a rounded value and 5.1.2 for independent ones.

    Example:
        Only the answer is rounded, to a hundredth:

        >>> round(near(2), 4)
        0.0058
    """
    return expanded(combine(*(rectangular(bound) for bound in (half_place(places), *bounds))))


def named(
    right: float, tolerance: float, places: int, found: Iterable[tuple[str, float]]
) -> tuple[SealedMistake, ...]:
    """Return named mistakes, each recognised as near, as a share of its value, as the right answer."""
    return tuple(
        slips.slip(name, value, max(half_place(places), tolerance * abs(value / right)))
        for name, value in found
    )
