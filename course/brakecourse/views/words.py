"""The one set of words and number formats that a learner meets on the screen."""

from __future__ import annotations

import math
from functools import lru_cache
from numbers import Real

from brakecourse.published import convert
from brakecourse.trade.conformity import Verdict

VERDICT_WORDS: dict[Verdict, str] = {
    "within": "within",
    "too close to call": "too close to call",
    "outside": "outside",
}
"""What a limit decision is called, the same words everywhere."""

VERDICT_SENTENCES: dict[Verdict, str] = {
    "within": "The reading keeps the limit, and the gauge is good enough to say so.",
    "too close to call": "The gauge cannot tell: its uncertainty reaches over the limit.",
    "outside": "The reading breaks the limit, and the gauge is good enough to say so.",
}

ACTION_WORDS: dict[str, str] = {
    "keep": "Keep the rotor",
    "machine": "Machine the rotor",
    "replace": "Replace the rotor",
}

MAKER_FIRST = (
    "The maker's service information and local law come first. Work on a road vehicle's brakes belongs under "
    "a licensed or qualified person's supervision. The vehicles and limits of this course are invented and "
    "fit no real car."
)
"""The last words of every safety box."""

_MINUS = "\N{MINUS SIGN}"
_NO_BREAK = "\N{NO-BREAK SPACE}"


def number(value: float, places: int = 2) -> str:
    """Write a number with a fixed count of decimal places.

    Args:
        value: the number.
        places: decimal places, 0 to 6.

    Returns:
        The number in words that line up: a true minus sign, and never a negative zero.

    Raises:
        ValueError: the value is no finite number, or the places are not 0 to 6.

    Source:
        Common practice, no source.

    Example:
        >>> number(24), number(-0.001)
        ('24.00', '0.00')
    """
    finite = _finite(value)
    if isinstance(places, bool) or not isinstance(places, int) or not 0 <= places <= 6:
        raise ValueError(f"Decimal places must be a whole number from 0 to 6, but they were {places!r}.")
    text = f"{finite:.{places}f}"
    negative = text.startswith("-") and any(digit in text for digit in "123456789")
    return (_MINUS if negative else "") + text.lstrip("-")


def inches(value_mm: float, places: int = 3) -> str:
    """Write a length given in millimetres in inches.

    Args:
        value_mm: the length in mm.
        places: decimal places of the inches.

    Returns:
        For example ``"0.945 in"``.

    Raises:
        ValueError: as for :func:`number`.

    Source:
        Conversion by :func:`brakecourse.published.convert`.

    Example:
        >>> inches(24.0)
        '0.945 in'
    """
    number(value_mm, places)  # refuses what is no number in this module's words
    return f"{number(_mm_to_inches(float(value_mm)), places)} in"


def mm(value: float, places: int = 2) -> str:
    """Write a length in millimetres with the inches beside it.

    Args:
        value: the length in mm.
        places: decimal places of the millimetres. The inches get one place more, and below one
            millimetre two more: a hundredth of a millimetre is 0.0004 in.

    Returns:
        For example ``"24.00 mm (0.945 in)"``.

    Raises:
        ValueError: as for :func:`number`.

    Source:
        Conversion by :func:`brakecourse.published.convert`.

    Example:
        >>> mm(24.0)
        '24.00 mm (0.945 in)'
        >>> mm(0.03)
        '0.03 mm (0.0012 in)'
    """
    written = number(value, places)
    inch_places = min(6, places + (2 if abs(value) < 1 else 1))
    return f"{written} mm ({inches(value, inch_places)})"


def percent(fraction: float, places: int = 0) -> str:
    """Write a share of one as a percentage.

    Args:
        fraction: the share, 0 to 1 (more is allowed, e.g. for growth).
        places: decimal places of the percentage.

    Returns:
        For example ``"97 %"``, with a space that does not break.

    Raises:
        ValueError: as for :func:`number`.

    Source:
        Common practice, no source.

    Example:
        >>> percent(0.975, 1).replace(chr(160), " ")
        '97.5 %'
    """
    number(fraction, places)
    return f"{number(100 * fraction, places)}{_NO_BREAK}%"


def _finite(value: object) -> float:
    try:
        found = float(value) if not isinstance(value, bool) and isinstance(value, Real) else math.nan
    except OverflowError:  # a whole number too long for a float
        found = math.inf
    if not math.isfinite(found):
        raise ValueError(f"A finite number was expected to be written out, but it was {str(value)[:40]!r}.")
    return found


@lru_cache(maxsize=4096)
def _mm_to_inches(value_mm: float) -> float:
    return convert(value_mm, "mm", "in")
