"""What a right answer is, worked from one set of values, with the mistakes that could be made on them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from brakecourse.marking import tolerances
from brakecourse.marking.sealed import SealedMistake, SealedQuestion


@dataclass(frozen=True)
class Basis:
    """A right answer and what belongs to it.

    Attributes:
        expected: the right answer: a number, or the words of a choice.
        tolerance: how far from it a number may lie.
        accepted: for a choice, every choice that is right.
        mistakes: the named mistakes and the values they give, the likeliest first. None of them is right.
    """

    expected: float | str
    tolerance: float = 0.0
    accepted: tuple[str, ...] = ()
    mistakes: tuple[SealedMistake, ...] = ()

    def is_right(self, answer: float | str) -> bool:
        """Tell whether the answer is right on this basis."""
        if isinstance(answer, str):
            return answer in self.accepted
        return isinstance(self.expected, float) and tolerances.near(answer, self.expected, self.tolerance)

    def named(self, answer: float | str) -> tuple[str, ...]:
        """Return every named mistake that gives the answer, the best match first; of equals the likelier."""
        found = [one for one in self.mistakes if matches(one, answer)]
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


def sealed(question: SealedQuestion, carried: bool) -> Basis:
    """Return the basis that was sealed with the case.

    Args:
        question: the sealed answer.
        carried: the learner's own earlier values are known, so only rounding is left to forgive.
    """
    expected = question.expected
    if not isinstance(expected, (float, str)):
        raise TypeError(f"Question {question.id} has no single answer.")  # a table or a written answer
    tolerance = question.tolerance_carried if carried else question.tolerance
    return Basis(expected, tolerance, question.accepted, question.mistakes)


def number(expected: float, tolerance: float, candidates: Iterable[SealedMistake]) -> Basis:
    """Return a basis for a number; a mistake that would give the right answer is left out."""
    right = Basis(expected, tolerance)
    return Basis(expected, tolerance, (), tuple(one for one in candidates if not right.is_right(one.value)))


def choice(accepted: tuple[str, ...], candidates: Iterable[tuple[str, str]]) -> Basis:
    """Return a basis for a choice from ``(mistake, words)`` pairs; a right choice is never a mistake."""
    found = (SealedMistake(mistake=name, value=words) for name, words in candidates if words not in accepted)
    return Basis(accepted[0], 0.0, accepted, tuple(found))
