"""The words of a mark: what was given, what was expected, what to say about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.marking import reading_answers
from brakecourse.marking.mistakes import mistake_words, mistakes
from brakecourse.marking.sealed import SealedQuestion
from brakecourse.views import words

NO_ANSWER = "There was no answer. An honest try earns something: next time fill in what you have."
RIGHT = "Right."


def number(value: float, unit: str) -> str:
    """Write an answer with its unit, millimetres with inches beside them."""
    if unit == "mm":
        return words.mm(value, 2)
    if unit == "%":
        return f"{words.number(value, 1)} %"
    return f"{words.number(value, 2)} {unit}".strip()


def given(question: SealedQuestion, answer: object) -> str:
    """Write what was handed in, as it came, with the unit that it was taken for."""
    shown = reading_answers.shown(answer)
    is_number = question.kind == "number" and reading_answers.number(answer) is not None
    is_row = question.kind == "table" and isinstance(answer, (list, tuple)) and len(answer) > 0
    return f"{shown} {question.unit}".strip() if is_number or is_row else shown


def expected(question: SealedQuestion) -> str:
    """Write the right answer."""
    right = question.expected
    if isinstance(right, tuple):
        return ", ".join(words.number(value, 2) for value in right) + f" {question.unit}"
    if isinstance(right, str):
        return " or: ".join(question.accepted)
    return "marked by your instructor" if right is None else number(right, question.unit)


def tolerance(question: SealedQuestion, carried: bool) -> str:
    """Write how near an answer has to come."""
    allowed = question.tolerance_carried if carried else question.tolerance
    if question.kind == "choice":
        return "the words of one choice"
    if question.kind == "table":
        return f"each value may be off by {words.mm(allowed, 2)}, one division of the gauge"
    if question.unit == "mm":
        return f"it may be off by {words.mm(allowed, 3)}"
    return f"it may be off by {words.number(allowed, 1)} {question.unit}".strip()


def not_readable(question: SealedQuestion) -> str:
    """Say that the answer has the wrong kind, and which kind was asked."""
    if question.kind == "table":
        count = len(question.expected) if isinstance(question.expected, tuple) else 0
        asked = f"a list of {count} numbers in {question.unit}"
    elif question.kind == "number":
        asked = f"one number in {question.unit}" if question.unit != "%" else "one number in percent"
    else:
        asked = "one of the listed choices, in its own words"
    return f"The answer could not be read: {asked} was asked. Next time run the cell and read what it says."


def carried(question: SealedQuestion) -> str:
    """Say that the answer follows rightly from an earlier one that was off."""
    earlier = " and ".join(question.carries_from)
    return (
        f"Right, worked from your own answer to {earlier}: the step itself is sound, so it earns its marks "
        "although the value before it was off."
    )


def wrong(named: str | None, partly: bool, action_right: bool) -> str:
    """Say what likely happened, and what to do next time."""
    opening = "The action is right, but the reason does not hold here." if action_right else ""
    if named in mistakes() and named is not None:
        told = mistake_words(named)
    elif action_right:
        told = "Next time go through the checks in order: thickness, variation, run-out, metal left."
    else:
        told = (
            "This does not follow from the readings, and it is none of the usual mistakes. "
            "Work through it again with the lesson beside you."
        )
    closing = "It earns a part of the marks." if partly else ""
    return " ".join(part for part in (opening, told, closing) if part)


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
            parts.append(where + "the value is off. Read the thimble line at the datum line once more.")
    return " ".join(parts)


def _places(places: Sequence[int]) -> str:
    if len(places) == 1:
        return f"place {places[0]}"
    return f"places {', '.join(str(place) for place in places[:-1])} and {places[-1]}"
