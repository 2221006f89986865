"""The words of a mark: what was given, what was expected, what to say about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.marking import reading_answers
from brakecourse.marking.basis import ARROW, Basis
from brakecourse.marking.mistakes import mistake_words, mistakes
from brakecourse.marking.sealed import SealedQuestion, SealedRule
from brakecourse.views import units, words

NO_ANSWER = "There was no answer. An honest try earns something: next time fill in what you have."
RIGHT = "Right."
PARTLY = "It earns a part of the marks."
MOST_RULES = 3
"""No more broken rules than this are told at once."""


def number(value: float, unit: str, places: int = 2) -> str:
    """Write a value with its unit, the US unit beside it."""
    if unit == "mm":
        return words.mm(value, places)
    if unit in units.UNITS:
        return units.both(value, unit, places)
    return f"{words.number(value, places)} {unit}".strip()


def given(question: SealedQuestion, answer: object) -> str:
    """Write what was handed in, as it came, with the unit that it was taken for."""
    steps = reading_answers.sequence(answer, question.steps) if question.kind == "sequence" else None
    if steps is not None:
        return ARROW.join(steps)
    shown = reading_answers.shown(answer)
    is_number = question.kind == "number" and reading_answers.number(answer) is not None
    is_row = question.kind == "table" and isinstance(answer, (list, tuple)) and len(answer) > 0
    return f"{shown} {question.unit}".strip() if is_number or is_row else shown


def expected(question: SealedQuestion) -> str:
    """Write the right answer."""
    right = question.expected
    if isinstance(right, tuple):
        row = ", ".join(words.number(value, question.places) for value in right)
        return f"{row} {question.unit}".strip()
    if isinstance(right, str):
        return right if question.kind == "sequence" else " or: ".join(question.accepted)
    return "marked by your instructor" if right is None else number(right, question.unit, question.places)


def tolerance(question: SealedQuestion, carried: Basis | None) -> str:
    """Write how near an answer has to come, from the learner's own values where it was marked on them."""
    if question.kind == "choice":
        return "the words of one choice"
    if question.kind == "sequence":
        return _orders(question)
    allowed = question.tolerance if carried is None else carried.carried
    widest = max(allowed) if isinstance(allowed, tuple) else allowed
    if widest == 0:
        return "no other value will do"
    if question.kind != "table":
        return f"it may be off by {width(widest, question)}"
    if isinstance(allowed, tuple) and len(set(allowed)) > 1:
        return "each value has its own tolerance"
    each = f"each value may be off by {width(widest, question)}"
    return f"{each}, one division of the gauge" if question.shown else each


def _orders(question: SealedQuestion) -> str:
    if question.rules:
        return "any order that keeps the rules"
    return "this order" if len(question.accepted) == 1 else f"one of {len(question.accepted)} sound orders"


def width(value: float, question: SealedQuestion) -> str:
    """Write how far off a value may be."""
    # A tolerance is told with one place more than the answer; one division of a gauge needs none more.
    places = question.places if question.shown and question.kind == "table" else min(question.places + 1, 6)
    unit = "°C rise" if question.unit == "°C" else question.unit
    return number(value, unit, places)


def how(question: SealedQuestion, carried: Basis | None) -> str:
    """Write how the right answer follows, from the learner's own values where it was marked on them."""
    if carried is not None and carried.how:
        return f"From your own earlier values: {carried.how}"
    return question.how


def not_readable(question: SealedQuestion) -> str:
    """Say that the answer has the wrong kind, and which kind was asked."""
    unit = "percent" if question.unit == "%" else question.unit
    if question.kind == "table":
        count = len(question.expected) if isinstance(question.expected, tuple) else 0
        asked = f"a list of {count} numbers in {unit}" if unit else f"a list of {count} numbers"
    elif question.kind == "number":
        asked = f"one number in {unit}" if unit else "one number"
    elif question.kind == "sequence":
        asked = f"the numbers of the {len(question.steps)} listed steps, each once"
    else:
        asked = "one of the listed choices, in its own words"
    return (
        f"The answer could not be read: the question asks for {asked}. "
        "Next time run the hand-in cell and read what it says."
    )


def carried(off: Sequence[str]) -> str:
    """Say that the answer follows rightly from earlier ones, and which of those were off."""
    if not off:
        return RIGHT
    answers, were = (
        ("answers", "values before it were") if len(off) > 1 else ("answer", "value before it was")
    )
    return (
        f"Right, worked from your own {answers} to {_and(off)}: the step itself is sound, so it earns its "
        f"marks although the {were} off."
    )


def wrong(named: str | None, partly: bool, action_right: bool) -> str:
    """Say what likely happened, and what to do next time."""
    opening = "The action is right, but the reason does not hold here." if action_right else ""
    if named in mistakes() and named is not None:
        told = mistake_words(named)
    elif action_right:
        told = "Next time go through every check in its order before you choose the reason."
    else:
        told = (
            "This does not follow from the work order, and it is none of the usual mistakes. "
            "Work through it again with the lesson beside you."
        )
    closing = PARTLY if partly else ""
    return " ".join(part for part in (opening, told, closing) if part)


def sequence(broken: Sequence[SealedRule], named: str | None, partly: bool) -> str:
    """Say which rules a sequence breaks, the dangerous ones first, each with its reason."""
    told = [
        f"'{one.before.rstrip('.')}' must come before '{one.after.rstrip('.')}'. {one.reason}"
        for one in broken[:MOST_RULES]
    ]
    more = len(broken) - len(told)
    if broken[0].critical:
        told.insert(0, "This order is dangerous, so it earns no marks.")
    if more > 0:
        told.append(f"It breaks {more} more {'rule' if more == 1 else 'rules'}.")
    if named in mistakes() and named is not None:
        told.append(mistakes()[named].next_time)
    return " ".join([*told, PARTLY] if partly else told)


def table(found: Mapping[int, str | None], values: Sequence[float | None]) -> str:
    """Say how many values are right, and what likely happened at the others, mistake by mistake."""
    right = len(values) - len(found)
    parts = [f"{right} of {len(values)} values are right."]
    by_mistake: dict[str | None, list[int]] = {}
    for place, name in found.items():
        by_mistake.setdefault(name if name in mistakes() else None, []).append(place)
    for name, places in by_mistake.items():
        where = f"At {_places(places)}: "
        if name is not None:
            parts.append(where + mistake_words(name))
        elif all(values[place - 1] is None for place in places):
            parts.append(where + "there is no number.")
        else:
            parts.append(where + "the value is off. Go through it once more with the lesson beside you.")
    return " ".join(parts)


def _places(places: Sequence[int]) -> str:
    return f"place{'s' if len(places) > 1 else ''} {_and([str(place) for place in places])}"


def _and(names: Sequence[str]) -> str:
    return " and ".join(filter(None, [", ".join(names[:-1]), *names[-1:]]))
