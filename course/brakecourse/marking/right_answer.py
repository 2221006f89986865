"""One right answer with its tolerance, and the named mistakes that could be made in its place."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.marking import tolerances
from brakecourse.marking.sealed import SealedMistake, SealedQuestion, SealedRule

Value = float | tuple[float, ...] | str
Near = float | tuple[float, ...]

ARROW = " → "
"""Stands between the steps of a sequence that is written as one text."""


@dataclass(frozen=True)
class Basis:
    """A right answer and what belongs to it.

    Attributes:
        expected: the right answer: a number, a row of numbers, the words of a choice, a sequence as text.
        how: how it follows, in sentences.
        places: decimal places that are asked for.
        shown: for readings, what the gauge shows between its lines, one value for each; else empty.
        tolerance: how far from what is right a number may lie, judged alone; a row for a table.
        carried: the same when it is worked from the learner's own values, so that only rounding is forgiven.
        accepted: every choice or sequence that is right.
        rules, steps: of a sequence that is scored by what must come first.
        reach: how far off an own value may lie to be built on.
        mistakes: the named mistakes and the values they give, the likeliest first. None of them is right.
    """

    expected: Value
    how: str = ""
    places: int = 2
    shown: tuple[float, ...] = ()
    tolerance: Near = 0.0
    carried: Near = 0.0
    accepted: tuple[str, ...] = ()
    rules: tuple[SealedRule, ...] = ()
    steps: tuple[str, ...] = ()
    reach: float = 0.0
    mistakes: tuple[SealedMistake, ...] = ()

    def is_right(self, answer: float | str, own: bool = False, place: int = 1) -> bool:
        """Tell whether an answer is right on this basis.

        Args:
            answer: a number or words.
            own: it was worked from the learner's own values.
            place: for a table, which of its values; 1 is the first.
        """
        if isinstance(answer, str):
            return answer in self.accepted
        target = self.target(place)
        return target is not None and tolerances.near(answer, target, self.near(own, place))

    def is_all_right(self, answer: Value) -> bool:
        """Tell whether an answer is right, at every place when it is a row; judged alone."""
        if isinstance(answer, tuple):
            return all(self.is_right(value, place=place) for place, value in enumerate(answer, start=1))
        return self.is_right(answer)

    def target(self, place: int = 1) -> float | None:
        """Return what a number is compared with: what the gauge shows, or what was worked out."""
        if self.shown:
            return self.shown[place - 1]
        if isinstance(self.expected, tuple):
            return self.expected[place - 1]
        return None if isinstance(self.expected, str) else self.expected

    def near(self, own: bool = False, place: int = 1) -> float:
        """Return the tolerance of one value."""
        allowed = self.carried if own else self.tolerance
        return allowed[place - 1] if isinstance(allowed, tuple) else allowed

    def named(self, answer: float | str, place: int | None = None) -> tuple[str, ...]:
        """Return every named mistake that gives the answer, the best match first; of equals the likelier."""
        found = [one for one in self.mistakes if one.place in (None, place) and matches(one, answer)]
        found.sort(key=lambda one: distance(one, answer))
        return tuple(dict.fromkeys(one.mistake for one in found))


def matches(mistake: SealedMistake, answer: float | str) -> bool:
    """Tell whether the answer is what the mistake gives."""
    if isinstance(answer, str) or isinstance(mistake.value, str):
        return answer == mistake.value
    return tolerances.near(answer, mistake.value, mistake.tolerance)


def distance(mistake: SealedMistake, answer: float | str) -> float:
    """Return how far an answer lies from what the mistake gives, to a millionth; 0 for words."""
    if isinstance(answer, str) or isinstance(mistake.value, str):
        return 0.0
    return round(abs(answer - mistake.value), 6)


def sealed(question: SealedQuestion) -> Basis:
    """Return the basis that was sealed with the case.

    Raises:
        TypeError: a person marks the question.
    """
    if question.expected is None:
        raise TypeError(f"Question {question.id} is marked by a person.")
    return Basis(
        expected=question.expected,
        how=question.how,
        places=question.places,
        shown=question.shown,
        tolerance=question.tolerance,
        carried=question.tolerance_carried,
        accepted=question.accepted,
        rules=question.rules,
        steps=question.steps,
        reach=question.reach,
        mistakes=question.mistakes,
    )
