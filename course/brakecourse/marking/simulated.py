"""Simulated students, for the tests and the demonstration. Nothing here marks anything.

The model, an assumption without a source: a student has an ability from 0 (guesses) to 1 (slips never), and
habits. A habit is a named mistake: the student makes it whenever the question invites it, and works on with
what came of it. Besides, a student misreads a gauge by a line, slips in arithmetic, or leaves a question
empty, with shares that fall as ability rises. Everything else is done as the lesson teaches it, on the
student's own earlier answers, and rounded as the question asks.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from brakecourse.bench.draw import Draw
from brakecourse.marking.basis import ARROW, Basis
from brakecourse.marking.given import Given
from brakecourse.marking.mistakes import mistakes
from brakecourse.marking.paper import paper
from brakecourse.marking.sealed import SealedCase, SealedMistake, SealedQuestion

MOST_EMPTY = 0.10
"""A student of ability 0 leaves this share of the questions empty; one of ability 1 none."""

MOST_SLIPS = 0.20
"""A student of ability 0 slips in this share of the values; one of ability 1 never."""

NEXT_LINE_SHARE = 0.15
"""So often anybody takes the other one of the two lines between which a gauge stands. That is no slip."""

SLIP_SHARES = (-0.3, -0.12, 0.12, 0.3)
"""By which share of itself a value is off when somebody slipped."""


@dataclass(frozen=True)
class Work:
    """What a student did.

    Attributes:
        answers: the answer to each question, None where it was left empty; plain JSON data.
        committed: for each question the habits that changed the answer.
        slipped: the questions where chance went wrong.
    """

    answers: dict[str, object]
    committed: dict[str, tuple[str, ...]]
    slipped: frozenset[str]


@dataclass(frozen=True)
class Student:
    """One simulated student.

    Args:
        ability: 0 to 1.
        habits: names of mistakes, out of the course's table.

    Raises:
        ValueError: the ability is outside its range, or a habit is unknown.
    """

    ability: float
    habits: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        if isinstance(self.ability, bool) or not 0 <= self.ability <= 1:
            raise ValueError(f"A student's ability must be from 0 to 1, but it was {self.ability!r}.")
        unknown = sorted(self.habits - set(mistakes()))
        if unknown:
            raise ValueError(f"A student's habits must be named mistakes, but found {', '.join(unknown)}.")

    def answers(self, case: SealedCase, draw: Draw) -> dict[str, object]:
        """Return the student's answer to every question, as a notebook would hand it in.

        Args:
            case: the student's own case.
            draw: where chance comes from.
        """
        return self.work(case, draw).answers

    def work(self, case: SealedCase, draw: Draw) -> Work:
        """Return the answers together with what went wrong, so that tests can compare."""
        return _Sitting(self, case, draw).work()


@dataclass
class _Sitting:
    """One student at one case. Answers are worked in order, each on the student's own earlier ones."""

    student: Student
    case: SealedCase
    draw: Draw
    answers: dict[str, object] = field(default_factory=dict)
    committed: dict[str, tuple[str, ...]] = field(default_factory=dict)
    slipped: set[str] = field(default_factory=set)

    def work(self) -> Work:
        asks = paper(self.case.module)
        truth = asks.read_truth(self.case.truth)
        handed: dict[str, object] = {}
        for question in self.case.questions:
            given = Given(truth, asks.key, self.case.choices, self.answers, self.case.questions)
            if question.kind == "task":  # shown on a real vehicle: nothing is handed in
                handed[question.id] = None
                continue
            if question.kind == "written":
                answer: object = asks.letter[question.id](truth, given, self.student.ability)
            else:
                answer = self._answer(question, given.basis(question.id))
            self.answers[question.id] = answer
            empty = self.draw.child(f"{question.id} empty").uniform()
            handed[question.id] = None if empty < MOST_EMPTY * (1 - self.student.ability) else answer
        return Work(handed, dict(self.committed), frozenset(self.slipped))

    def _answer(self, question: SealedQuestion, right: Basis) -> object:
        if question.kind == "choice":
            return self._choice(question, right)
        if question.kind == "sequence":
            return self._sequence(question, right)
        if isinstance(right.expected, tuple):
            places = range(1, len(right.expected) + 1)
            return [self._number(question.id, right, right.expected[place - 1], place) for place in places]
        assert isinstance(right.expected, float)
        return self._number(question.id, right, right.expected, 1)

    def _habit(self, right: Basis, place: int) -> SealedMistake | None:
        offered = (one for one in right.mistakes if one.place in (None, place))
        return next((one for one in offered if one.mistake in self.student.habits), None)

    def _note(self, question: str, habit: str) -> None:
        before = self.committed.get(question, ())
        if habit not in before:
            self.committed[question] = (*before, habit)

    def _number(self, question: str, right: Basis, expected: float, place: int) -> float:
        draw = self.draw.child(f"{question} place {place}")
        found = self._habit(right, place)
        if found is not None:
            self._note(question, found.mistake)
            return float(found.value) if right.shown else _rounded(float(found.value), right, found.tolerance)
        if draw.child("slip").uniform() < MOST_SLIPS * (1 - self.student.ability):
            off = self._slip(right, expected, place, draw.child("how far"))
            if off != round(expected, right.places):
                self.slipped.add(question)
            return off
        if right.shown and draw.child("line").uniform() < NEXT_LINE_SHARE:
            return self._other_line(right, expected, place)
        return round(expected, right.places)

    @staticmethod
    def _slip(right: Basis, expected: float, place: int, draw: Draw) -> float:
        if right.shown:
            return round(expected + draw.choice((-5, -2, 2, 5)) * right.near(place=place), 6)
        return round(expected * (1 + draw.choice(SLIP_SHARES)), right.places)

    @staticmethod
    def _other_line(right: Basis, expected: float, place: int) -> float:
        """Return the line on the other side of the pointer."""
        division = right.near(place=place)
        side = 1 if right.shown[place - 1] > expected else -1
        other = round(expected + side * division, 6)
        return other if right.is_right(other, place=place) else expected

    def _choice(self, question: SealedQuestion, right: Basis) -> str:
        found = self._habit(right, 1)
        if found is not None:
            self._note(question.id, found.mistake)
            return str(found.value)
        draw = self.draw.child(f"{question.id} choice")
        if draw.uniform() < MOST_SLIPS * (1 - self.student.ability):
            texts = [one.text for one in self.case.choices if one.question == question.id]
            picked = draw.choice(texts)
            if not right.is_right(picked):
                self.slipped.add(question.id)
            return picked
        return str(right.expected)

    def _sequence(self, question: SealedQuestion, right: Basis) -> list[str]:
        steps = str(right.expected).split(ARROW)
        broken = next((one for one in right.rules if one.mistake in self.student.habits), None)
        wrong = self._habit(right, 1)
        if broken is not None and broken.mistake is not None:
            self._note(question.id, broken.mistake)
            steps.remove(broken.after)
            steps.insert(steps.index(broken.before), broken.after)
        elif wrong is not None:
            self._note(question.id, wrong.mistake)
            steps = str(wrong.value).split(ARROW)
        draw = self.draw.child(f"{question.id} order")
        if draw.uniform() < MOST_SLIPS * (1 - self.student.ability):
            at = draw.integer(0, len(steps) - 2)
            steps[at], steps[at + 1] = steps[at + 1], steps[at]
            self.slipped.add(question.id)
        return steps


def _rounded(value: float, right: Basis, width: float) -> float:
    """Round a value as the question asks, unless that would lose it, as with inches for millimetres."""
    asked = round(value, right.places)
    return asked if abs(asked - value) <= width else round(value, right.places + 3)
