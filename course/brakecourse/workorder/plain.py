"""Turn what a learner typed into plain data, or into a sentence that says why it cannot be."""

from __future__ import annotations

import math
import re
from decimal import Decimal
from numbers import Real

MOST_SHOWN = 40

_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]*)?|[+-]?\.[0-9]+", re.ASCII)
_WITH_COMMA = re.compile(r"[+-]?[0-9]+,[0-9]+", re.ASCII)
_WITH_UNIT = re.compile(r"[+-]?[0-9]*[.,]?[0-9]+\s*[^0-9\s.,].*", re.ASCII)
_OTHER_MINUS = "\N{MINUS SIGN}\N{EN DASH}"


class NotAnAnswer(Exception):
    """What was typed is no answer of the wanted kind; the text tells what to do."""


def is_empty(value: object) -> bool:
    """Tell whether nothing was filled in: None, three dots, a blank text, a list of nothing."""
    if value is None or value is Ellipsis:
        return True
    if isinstance(value, str):
        return not value.strip()
    return isinstance(value, (list, tuple)) and all(is_empty(one) for one in value)


def number(value: object) -> float:
    """Return a typed number. A text that is nothing but a number will do.

    Raises:
        NotAnAnswer: it is no finite number; the text says what to type.
    """
    value = unboxed(value)
    if isinstance(value, bool):
        raise NotAnAnswer(f"you gave {value}; type the number itself")
    if isinstance(value, str):
        return _number_in(value)
    if isinstance(value, (list, tuple)):
        if len(value) == 2 and all(isinstance(part, int) and not isinstance(part, bool) for part in value):
            raise NotAnAnswer(f"you gave {value[0]},{value[1]}; use a decimal point, not a comma")
        raise NotAnAnswer("you gave a list; type one number, without brackets")
    if not isinstance(value, (Real, Decimal)):
        raise NotAnAnswer(f"you gave something of the kind '{type(value).__name__}'; type the number itself")
    try:
        found = float(value)
    except (OverflowError, ValueError):
        found = math.inf
    if not math.isfinite(found):
        raise NotAnAnswer("you gave no finite number; type the number that you worked out")
    return found


def row(value: object) -> list[object]:
    """Return a typed list as a plain list, whatever is in it.

    Raises:
        NotAnAnswer: it is no list.
    """
    value = unboxed(value)
    if isinstance(value, (list, tuple)):
        return list(value)
    found = f"the text '{clipped(value)}'" if isinstance(value, str) else f"'{clipped(value)}'"
    raise NotAnAnswer(f"you gave {found}; put the numbers between square brackets, with commas between them")


def clipped(value: object) -> str:
    """Return a value in few letters, fit to be shown back, whatever it is."""
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) >= 10**MOST_SHOWN:
        return "a number with very many digits"
    try:
        text = str(value)
    except Exception:  # somebody's own class may do anything
        text = type(value).__name__
    letters = (letter if letter.isprintable() else " " for letter in text[: 4 * MOST_SHOWN])
    text = " ".join("".join(letters).split())
    return text if len(text) <= MOST_SHOWN else text[:MOST_SHOWN] + "…"


def as_data(value: object, depth: int = 2) -> object:
    """Return a value as JSON data, so that even a wrong answer reaches the instructor as it was typed."""
    value = unboxed(value)
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, int):
        return int(value) if abs(value) < 10**15 else clipped(value)
    if isinstance(value, (Real, Decimal)):
        try:
            found = float(value)
        except (OverflowError, ValueError):
            return clipped(value)
        return found if math.isfinite(found) else clipped(value)
    if isinstance(value, (list, tuple)) and depth > 0:
        return [as_data(one, depth - 1) for one in value[:100]]
    return clipped(value)


def _number_in(text: str) -> float:
    tidy = text.strip()
    for dash in _OTHER_MINUS:
        tidy = tidy.replace(dash, "-")
    if _NUMBER.fullmatch(tidy) and len(tidy) <= MOST_SHOWN:
        return float(tidy)
    if _WITH_COMMA.fullmatch(tidy):
        raise NotAnAnswer(f"you gave '{clipped(text)}'; use a decimal point, not a comma")
    if _WITH_UNIT.fullmatch(tidy):
        raise NotAnAnswer(f"you gave '{clipped(text)}'; type only the number, without unit and quotes")
    raise NotAnAnswer(f"you gave the text '{clipped(text)}'; type a number, without quotes")


def unboxed(value: object) -> object:
    """Return numpy's and pandas's numbers and rows as plain ones."""
    if isinstance(value, (bool, int, float, str, list, tuple)) or not hasattr(value, "tolist"):
        return value
    try:
        return value.tolist()
    except Exception:  # somebody's own class may do anything
        return value
