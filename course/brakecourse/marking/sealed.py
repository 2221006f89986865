"""A student's case as it is kept in the class folder: enough to mark it, whatever changes later.

The vehicle was drawn, the right answers were worked out, and every named mistake was given its value on
the day of the handing out. All of that is written down here. Marking reads it and never draws again, so a
later version of the course marks old work by the old truth.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

FORMAT: Literal[2] = 2

Finite = Annotated[float, Field(allow_inf_nan=False)]
Row = tuple[Finite, ...]
Answers = tuple[tuple[str, float | Row | str | None], ...]
"""The right answers of a case, each with its question."""
Kind = Literal["table", "number", "choice", "sequence", "written", "task"]
BY_HAND: frozenset[Kind] = frozenset({"written", "task"})
"""Kinds that a person marks: what is written, and what is shown on a real vehicle."""


class Record(BaseModel):
    """What all the stored records share: no unknown field, nothing changed after it was made."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class SealedMistake(Record):
    """The value that one named mistake gives on this vehicle.

    Attributes:
        mistake: its name.
        value: the answer that it leads to: a number, a choice's words, or a sequence's steps in one text.
        tolerance: how near an answer must come to be recognised, in the unit of the answer; 0 for words.
        place: for a table, the place (1 is the first) where it gives that value; else None.
    """

    mistake: str
    value: Finite | str
    tolerance: Finite = Field(default=0.0, ge=0)
    place: int | None = Field(default=None, ge=1)


class SealedRule(Record):
    """What must come first in a sequence, by the words of the steps.

    Attributes:
        before, after: the words of the two steps.
        reason: why, in a sentence.
        critical: the wrong order can hurt someone; it fails the question.
        mistake: the named mistake that breaking the rule shows, or None.
    """

    before: str
    after: str
    reason: str
    critical: bool = False
    mistake: str | None = None


class SealedQuestion(Record):
    """The answer to one question.

    Attributes:
        id, kind, unit, points: as in the tables on the day of the draw.
        lesson: part of the lesson to read again.
        carries_from: earlier questions whose answers this one may be worked from.
        expected: the right answer: a number, a row of numbers, the words of a choice, one right order of
            steps in one text; None when a person marks it.
        how: how it follows from this vehicle, in sentences.
        places: decimal places that are asked for.
        shown: for readings, what the gauge shows between its lines: one value for each one of the answer.
            An answer may lie as far from it as the tolerance says. Empty when the answer is worked out.
        accepted: for a choice or a sequence, every answer that is right (its words); else empty.
        rules: for a sequence, what must come first; empty when only the accepted orders are right.
        steps: for a sequence, the words of its steps.
        tolerance: how far from the expected value an answer may lie when it is judged on its own.
        tolerance_carried: how far, when it is worked from earlier answers of the same student.
        reach: how far from the right value an own value may lie to be built on further down.
        mistakes: the named mistakes, each with the value that it gives here, the likeliest first.
    """

    id: str
    kind: Kind
    unit: str
    points: Finite = Field(ge=0)
    lesson: str
    carries_from: tuple[str, ...] = ()
    expected: Finite | Row | str | None
    how: str = ""
    places: int = Field(default=2, ge=0, le=6)
    shown: Row = ()
    accepted: tuple[str, ...] = ()
    rules: tuple[SealedRule, ...] = ()
    steps: tuple[str, ...] = ()
    tolerance: Finite | Row = 0.0
    tolerance_carried: Finite | Row = 0.0
    reach: Finite = Field(default=0.0, ge=0)
    mistakes: tuple[SealedMistake, ...] = ()


class SealedChoice(Record):
    """One choice as it stood in the tables on the day of the draw."""

    question: str
    key: str
    text: str
    action: str
    reason: str
    mistake: str | None


class Truth(Record):
    """What is true of the vehicle behind a case. Each module adds what its questions rest on.

    Attributes:
        situation: what the bench drew, e.g. that the rotor must be replaced; for the instructor.
        vehicle: name of the vehicle.
        fleet_number: its number in the motor pool.
        complaint: what the customer says.
    """

    situation: str
    vehicle: str
    fleet_number: str
    complaint: str


def right_answers(questions: Iterable[SealedQuestion]) -> Answers:
    """Return the right answer of each question, in order."""
    return tuple((one.id, one.expected) for one in questions)


class SealedCase(Record):
    """One student's case in one module.

    Attributes:
        format: version of this record.
        course_version: version of the course that drew it.
        module, student, attempt: whose case it is.
        redraws: how often the draw was repeated because a mistake would have given the right answer.
        truth: what is true of the vehicle, as plain data; the module's paper knows its record.
        questions: the answers.
        choices: the choices of every question that has some.
        order: what the student gets, answers left out.
    """

    format: Literal[2] = FORMAT
    course_version: str
    module: str
    student: str
    attempt: int = Field(ge=1)
    redraws: int = Field(ge=0)
    truth: dict[str, Any]
    questions: tuple[SealedQuestion, ...]
    choices: tuple[SealedChoice, ...]
    order: dict[str, Any]

    def work_order(self) -> dict[str, Any]:
        """Return what may be given out: the vehicle, the drawings and the questions, with no answer in it."""
        return copy.deepcopy(self.order)

    @property
    def answers(self) -> Answers:
        """The right answers, to tell whether two cases ask for the same."""
        return right_answers(self.questions)

    def question(self, question_id: str) -> SealedQuestion | None:
        """Return one question's answer, or None when the case has no such question."""
        return next((one for one in self.questions if one.id == question_id), None)
