"""The values that an answer is worked from: the true ones, or the learner's own where there are some.

An own value is built on when an honest learner could have come to it: it is right, or a named mistake's,
or not far off. The rest earns nothing further down, and the true value stands in its place.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from functools import cached_property
from typing import Any

from brakecourse.marking import basis as right_answers
from brakecourse.marking import reading_answers
from brakecourse.marking.basis import Basis, Value
from brakecourse.marking.inches import to_millimetres
from brakecourse.marking.sealed import SealedChoice, SealedQuestion

Answer = Callable[[Any, "Given"], Basis]
"""How one question's right answer follows: from the case's truth and from what is given before it."""


class Given:
    """Answers to earlier questions, as a later question needs them.

    Args:
        truth: the module's own record of what is true.
        key: how each question's right answer follows.
        choices: the choices of every question.
        own: the learner's answers by question, not trusted; empty for the true values.
        questions: the sealed answers, where there are some already: they are believed before anything is
            worked out again, so that old work keeps its truth.
    """

    def __init__(
        self,
        truth: Any,
        key: Mapping[str, Answer],
        choices: Sequence[SealedChoice],
        own: Mapping[str, object] | None = None,
        questions: Sequence[SealedQuestion] = (),
    ) -> None:
        self.truth, self.key, self.own = truth, key, own or {}
        self._choices, self._questions = choices, questions
        self._sealed = {one.id: one for one in questions if one.expected is not None}
        self._kept: dict[str, Basis] = {}
        self._own_values: dict[str, Value | None] = {}
        self._asked: defaultdict[str, set[str]] = defaultdict(set)
        self._used: defaultdict[str, dict[str, bool]] = defaultdict(dict)
        self._working = [""]  # the questions that are being worked out, the innermost last

    @cached_property
    def true(self) -> Given:
        """The same without the learner's answers."""
        return Given(self.truth, self.key, self._choices, None, self._questions) if self.own else self

    def basis(self, question: str) -> Basis:
        """Return the right answer to a question, worked from what is given before it."""
        if question not in self._kept:
            self._kept[question] = self._work_out(question)
        return self._kept[question]

    def asked(self, question: str) -> frozenset[str]:
        """Return the earlier questions that working out this one asked for."""
        return frozenset(self._asked[question])

    def used(self, question: str) -> tuple[str, ...]:
        """Return the earlier questions whose own answers this one was built on, in their order."""
        return tuple(sorted(self._used[question], key=self._place))

    def off(self, question: str) -> tuple[str, ...]:
        """Return those of :meth:`used` whose own answers were not right."""
        return tuple(one for one in self.used(question) if self._used[question][one])

    def number(self, question: str) -> float:
        """Return the number given as an earlier answer."""
        value = self._value(question)
        if not isinstance(value, float):
            raise TypeError(f"Question {question} is not answered by a number.")
        return value

    def row(self, question: str) -> tuple[float, ...]:
        """Return the row of numbers given as an earlier answer."""
        value = self._value(question)
        if not isinstance(value, tuple):
            raise TypeError(f"Question {question} is not answered by a row of numbers.")
        return value

    def words(self, question: str) -> str:
        """Return the words given as an earlier answer."""
        value = self._value(question)
        if not isinstance(value, str):
            raise TypeError(f"Question {question} is not answered in words.")
        return value

    def picked(self, question: str) -> str:
        """Return the short name of the choice given as an earlier answer."""
        text = self.words(question)
        return next(one.key for one in self.choices(question) if one.text == text)

    def choices(self, question: str) -> tuple[SealedChoice, ...]:
        """Return the choices of a question."""
        return tuple(one for one in self._choices if one.question == question)

    def choice(
        self,
        question: str,
        right: Collection[str],
        mistakes: Iterable[tuple[str, str]] = (),
        *,
        how: str,
    ) -> Basis:
        """Return a basis for a choice, by the short names of the choices.

        A choice that the tables give to a named mistake shows that mistake wherever it is not right.

        Args:
            question: which one.
            right: short names of the right choices, the one to be shown first.
            mistakes: pairs of a named mistake and the short name of the choice that it leads to.
            how: how the right choice follows, in sentences.
        """
        text = {one.key: one.text for one in self.choices(question)}
        own_words = [(one.mistake, one.text) for one in self.choices(question) if one.mistake is not None]
        pairs = [(name, text[key]) for name, key in mistakes]
        return right_answers.choice([text[key] for key in right], [*pairs, *own_words], how=how)

    def _work_out(self, question: str) -> Basis:
        known = self._sealed.get(question)
        if known is not None and not (self.own and known.carries_from):
            return right_answers.sealed(known)
        self._working.append(question)
        try:
            return self.key[question](self.truth, self)
        except (ArithmeticError, LookupError, ValueError):
            # Own values that the trade's own functions refuse are no values to build on.
            if not self.own:
                raise
            self._used[question].clear()
            return self.true.basis(question)
        finally:
            self._working.pop()

    def _value(self, question: str) -> Value:
        working = self._working[-1]
        self._asked[working].add(question)
        right = self.basis(question)
        if question not in self._own_values:
            self._own_values[question] = self._own(question, right, self.true.basis(question))
        found = self._own_values[question]
        if found is None:
            self._used[working] |= self._used[question]
            return right.expected
        self._used[working][question] = not self.true.basis(question).is_all_right(found)
        return found

    def _place(self, question: str) -> int:
        return next((at for at, one in enumerate(self._questions) if one.id == question), 0)

    def _own(self, question: str, right: Basis, true: Basis) -> Value | None:
        """Return the learner's own value when an honest learner could have come to it."""
        answer = self.own.get(question)
        if isinstance(right.expected, tuple):
            return _own_row(answer, (right, true))
        if isinstance(right.expected, str):
            texts = [one.text for one in self.choices(question)]
            return reading_answers.chosen(answer, texts)
        value = reading_answers.number(answer)
        return None if value is None else _meant(value, (right, true), 1)


def _own_row(answer: object, bases: tuple[Basis, Basis]) -> tuple[float, ...] | None:
    """Return a row of which every value is a number and half of them at least could honestly be read."""
    assert isinstance(bases[0].expected, tuple)
    values = reading_answers.full_row(answer, len(bases[0].expected))
    if values is None:
        return None
    meant = [_meant(value, bases, place) for place, value in enumerate(values, start=1)]
    honest = sum(value is not None for value in meant)
    if honest * 2 < len(values):
        return None
    return tuple(own if own is not None else value for own, value in zip(meant, values, strict=True))


def _meant(value: float, bases: tuple[Basis, Basis], place: int) -> float | None:
    """Return a value to build on, inches taken as the millimetres they mean; None when it was made up."""
    for one in bases:
        names = one.named(value, place)
        if "inches_for_millimetres" in names and not one.is_right(value, place=place):
            return to_millimetres(value)
    return value if any(_honest(value, one, place) for one in bases) else None


def _honest(value: float, right: Basis, place: int) -> bool:
    target = right.target(place)
    if target is None:
        return False
    near = abs(value - target) <= max(right.reach, right.near(False, place))
    return near or bool(right.named(value, place))
