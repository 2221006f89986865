"""Look at an answer before it is handed in: has it the right kind, the right unit's range, a listed word?

Never whether it is right. That is not known here.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from dataclasses import dataclass

from brakecourse.views.words import number as written
from brakecourse.workorder import plain
from brakecourse.workorder.order import Question
from brakecourse.workorder.plain import NotAnAnswer

EMPTY = "{} is still empty: fill in the cell above, run it, then run this one again."
HANDED_IN = "{} is handed in: {}. You may change it and run both cells again."

FEW = 4
"""So many choices at most are said again in a sentence."""

LARGEST_WRITTEN = 1e9
"""Numbers larger than this are written with a power of ten."""

MOST_COMPARED = 500
"""No more letters than this are compared with the listed words."""

_UNITS = {"mm": "millimetres", "%": "percent"}
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True)
class Look:
    """What was seen of an answer.

    Attributes:
        answer: it as plain JSON data; None when nothing was filled in.
        problem: one sentence when its kind or range is not right, else None.
        words: what to show the learner.
    """

    answer: object
    problem: str | None
    words: str


def look_at(question: Question, value: object) -> Look:
    """Look at an answer's kind and range.

    Args:
        question: what was asked.
        value: whatever the learner's variable holds.

    Returns:
        What to hand in and what to say. Nothing is raised, whatever the value.
    """
    if plain.is_empty(value):
        return Look(None, None, EMPTY.format(question.id))
    try:
        answer, shown = _READERS[question.kind](question, value)
    except NotAnAnswer as found:
        problem = f"{question.id} asks for {_asked(question)}; {found}."
        return Look(plain.as_data(value), problem, problem)
    return Look(answer, None, HANDED_IN.format(question.id, shown))


def _number(question: Question, value: object) -> tuple[object, str]:
    found = plain.number(value)
    _check_range(question, found)
    return found, f"{_shown(found, question.unit)} {question.unit}".strip()


def _table(question: Question, value: object) -> tuple[object, str]:
    values = plain.row(value)
    if len(values) != question.count:
        raise NotAnAnswer(f"you gave {_count(len(values))}")
    found: list[float | None] = []
    for label, one in zip(question.labels, values, strict=True):
        if plain.is_empty(one):
            found.append(None)
            continue
        try:
            number = plain.number(one)
            _check_range(question, number)
        except NotAnAnswer as reason:
            raise NotAnAnswer(f"at {label} {reason}") from None
        found.append(number)
    empty = [label for label, one in zip(question.labels, found, strict=True) if one is None]
    shown = ", ".join("–" if one is None else _shown(one, question.unit) for one in found)
    nothing = f", with nothing yet at {', '.join(empty)}" if empty else ""
    return found, f"{f'{shown} {question.unit}'.strip()}{nothing}"


def _choice(question: Question, value: object) -> tuple[object, str]:
    value = plain.unboxed(value)
    if isinstance(value, int) and not isinstance(value, bool):
        if 1 <= value <= len(question.choices):
            return question.choices[value - 1], question.choices[value - 1].rstrip(".")
        raise NotAnAnswer(f"you gave {plain.clipped(value)}; the list goes from 1 to {len(question.choices)}")
    if not isinstance(value, str):
        raise NotAnAnswer(f"you gave '{plain.clipped(value)}'; type its words between quotes")
    for choice in question.choices:
        if _tidy(choice) == _tidy(value):
            return choice, choice.rstrip(".")
    tidy = {_tidy(choice): choice for choice in question.choices}
    near = difflib.get_close_matches(_tidy(value[:MOST_COMPARED]), tidy, 1, 0.5)
    if near:
        raise NotAnAnswer(
            f"you gave '{plain.clipped(value)}'; the nearest one is '{tidy[near[0]].rstrip('.')}', "
            "so type that if you mean it"
        )
    raise NotAnAnswer(f"you gave '{plain.clipped(value)}', which is none of them")


def _sequence(question: Question, value: object) -> tuple[object, str]:
    """Read the order of the listed steps: their numbers in the list, each once."""
    count = len(question.choices)
    numbers = [_step(place, one, count) for place, one in enumerate(plain.row(value), start=1)]
    twice = next((one for one in numbers if numbers.count(one) > 1), None)
    if twice is not None:
        raise NotAnAnswer(f"you gave {twice} more than once; give each step once")
    missing = [str(one) for one in range(1, count + 1) if one not in numbers]
    if missing:
        raise NotAnAnswer(
            f"you gave {len(numbers)} of them; {_and(missing)} {'is' if len(missing) == 1 else 'are'} missing"
        )
    return [question.choices[one - 1] for one in numbers], ", ".join(str(one) for one in numbers)


def _step(place: int, value: object, count: int) -> int:
    """Return the number of one step."""
    if plain.is_empty(value):
        raise NotAnAnswer(f"place {place} of your list is still empty")
    try:
        number = plain.number(value)
    except NotAnAnswer as reason:
        raise NotAnAnswer(f"at place {place} of your list {reason}") from None
    if number not in range(1, count + 1):
        raise NotAnAnswer(f"you gave {number:g}; the steps are numbered from 1 to {count}")
    return int(number)


def _written(question: Question, value: object) -> tuple[object, str]:
    raise NotAnAnswer("write it in its own cell; it is not handed in here")


def _task(question: Question, value: object) -> tuple[object, str]:
    raise NotAnAnswer("show it on a real vehicle; it is not handed in here")


_READERS: dict[str, Callable[[Question, object], tuple[object, str]]] = {
    "number": _number,
    "table": _table,
    "choice": _choice,
    "sequence": _sequence,
    "written": _written,
    "task": _task,
}


def _check_range(question: Question, value: float) -> None:
    low, high = question.low, question.high
    if (low is not None and value < low) or (high is not None and value > high):
        given = _shown(value, question.unit)
        raise NotAnAnswer(f"you gave {given}, which lies outside that range; look at the unit and the point")


def _asked(question: Question) -> str:
    if question.kind == "choice" and len(question.choices) <= FEW:
        return "one of the words " + ", ".join(f"'{choice}'" for choice in question.choices)
    if question.kind == "choice":
        return f"one of the listed sentences or its number, 1 to {len(question.choices)}"
    if question.kind == "sequence":
        count = len(question.choices)
        return f"the numbers of all {count} listed steps, each once, in the order of work"
    if question.kind == "written":
        return "an answer in your own words"
    if question.kind == "task":
        return "work on a real vehicle, before your instructor's eyes"
    unit = f" in {_UNITS.get(question.unit, question.unit)}" if question.unit else ""
    low, high = question.low, question.high
    span = "" if low is None or high is None else f" from {low:g} to {high:g}"
    each = ", each" if unit or span else ""
    what = "one number" if question.kind == "number" else f"a list of {question.count} numbers{each}"
    return f"{what}{unit}{span} ({question.short})"


def _and(names: list[str]) -> str:
    return " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))


def _count(many: int) -> str:
    word = _COUNTS[many] if many < len(_COUNTS) else str(many)
    return f"{word} value" if many == 1 else f"{word} values"


def _shown(value: float, unit: str) -> str:
    for places in range(2 if unit == "mm" else 0, 7):
        if abs(value) < LARGEST_WRITTEN and round(value, places) == value:
            return written(value, places)
    return f"{value:.6g}"


def _tidy(text: str) -> str:
    return " ".join(text.casefold().split()).rstrip(".")
