"""Make sense of what was handed in. Nothing here trusts it, and nothing here raises."""

from __future__ import annotations

import math
from collections.abc import Sequence

MOST_SHOWN = 200
"""No more letters of an answer than this are shown back."""

MOST_READ = 1000
"""No text longer than this is looked at."""


def number(answer: object) -> float | None:
    """Return the answer as a finite number, or None when it is none. True and text are no numbers."""
    if isinstance(answer, bool) or not isinstance(answer, (int, float)):
        return None
    try:
        value = float(answer)
    except OverflowError:
        return None
    return value if math.isfinite(value) else None


def row(answer: object, count: int) -> list[float | None] | None:
    """Return a table's values, each a number or None; or None when it is no row of that many values."""
    if not isinstance(answer, (list, tuple)) or len(answer) != count:
        return None
    return [number(value) for value in answer]


def full_row(answer: object, count: int) -> tuple[float, ...] | None:
    """Return a table's values when every one of them is a number, else None."""
    values = row(answer, count)
    if values is None:
        return None
    found = tuple(value for value in values if value is not None)
    return found if len(found) == count else None


def plain(text: str) -> str:
    """Return words without what does not matter: capital letters, spaces, the full stop at the end."""
    return " ".join(text[:MOST_READ].casefold().split()).rstrip(". ")


def chosen(answer: object, choices: Sequence[str]) -> str | None:
    """Return the choice that the answer names, or None."""
    if not isinstance(answer, str) or len(answer) > MOST_READ:
        return None
    return next((choice for choice in choices if plain(choice) == plain(answer)), None)


def sequence(answer: object, steps: Sequence[str]) -> tuple[str, ...] | None:
    """Return the steps in the order in which the answer names them, each once, or None."""
    if not isinstance(answer, (list, tuple)) or len(answer) != len(steps):
        return None
    found = [chosen(one, steps) for one in answer]
    named = tuple(step for step in found if step is not None)
    return named if set(named) == set(steps) and len(named) == len(steps) else None


def is_empty(answer: object) -> bool:
    """Tell whether nothing was answered: None, a blank text, a row of nothing."""
    if answer is None:
        return True
    if isinstance(answer, str):
        return not answer[:MOST_READ].strip() and len(answer) <= MOST_READ
    return isinstance(answer, (list, tuple)) and all(value is None for value in answer[:MOST_READ])


def shown(answer: object) -> str:
    """Return the answer in a few letters, fit to be shown back."""
    if answer is None:
        return "nothing"
    if isinstance(answer, bool):
        return str(answer)
    if isinstance(answer, str):
        text = answer[: MOST_SHOWN + 1]
    elif isinstance(answer, int):
        text = str(answer) if abs(answer) < 10**MOST_SHOWN else "a number with very many digits"
    elif isinstance(answer, float):
        text = f"{answer:.6g}"
    elif isinstance(answer, (list, tuple)):
        text = ", ".join(_one(value) for value in answer[:12]) + (", …" if len(answer) > 12 else "")
    else:
        text = f"something of the kind '{type(answer).__name__}'"
    text = "".join(letter if letter.isprintable() else " " for letter in text)
    return text if len(text) <= MOST_SHOWN else text[:MOST_SHOWN] + "…"


def _one(value: object) -> str:
    if isinstance(value, (list, tuple, dict)):
        return "a list" if not isinstance(value, dict) else "a record"
    return shown(value)[:16]
