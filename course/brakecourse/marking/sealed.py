"""A student's case as it is kept in the class folder: enough to mark it, whatever changes later.

The vehicle was drawn, the right answers were worked out, and every named mistake was given its value on
the day of the handing out. All of that is written down here. Marking reads it and never draws again, so a
later version of the course marks old work by the old truth.
"""

from __future__ import annotations

import copy
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from brakecourse.trade.rotor import Instruments, RotorSpec

FORMAT: Literal[1] = 1

Finite = Annotated[float, Field(allow_inf_nan=False)]
Row = tuple[Finite, ...]


class Record(BaseModel):
    """What all the stored records share: no unknown field, nothing changed after it was made."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class SealedMistake(Record):
    """The value that one named mistake gives on this vehicle.

    Attributes:
        mistake: its name.
        value: the answer that it leads to: a number, or a choice's words.
        tolerance: how near an answer must come to be recognised, in the unit of the answer; 0 for words.
        place: for a table, the place (1 is the first) where it gives that value; else None.
    """

    mistake: str
    value: Finite | str
    tolerance: Finite = Field(default=0.0, ge=0)
    place: int | None = Field(default=None, ge=1)


class SealedQuestion(Record):
    """The answer to one question.

    Attributes:
        id, kind, unit, points: as in the tables on the day of the draw.
        lesson: part of the lesson to read again.
        carries_from: earlier questions whose answers this one may be worked from.
        expected: the right answer: a number, a row of numbers, the words of a choice; None when a person
            marks it.
        shown: for a table, what the gauge shows at each place, between its lines; a value may lie as far
            from it as the tolerance says.
        accepted: for a choice, every choice that is right (its words); else empty.
        tolerance: how far from the expected value an answer may lie when it is judged on its own.
        tolerance_carried: how far, when it is worked from earlier answers of the same student.
        mistakes: the named mistakes, each with the value that it gives here, the likeliest first.
    """

    id: str
    kind: Literal["table", "number", "choice", "written"]
    unit: str
    points: Finite = Field(ge=0)
    lesson: str
    carries_from: tuple[str, ...] = ()
    expected: Finite | Row | str | None
    shown: Row = ()
    accepted: tuple[str, ...] = ()
    tolerance: Finite = Field(default=0.0, ge=0)
    tolerance_carried: Finite = Field(default=0.0, ge=0)
    mistakes: tuple[SealedMistake, ...] = ()


class SealedChoice(Record):
    """One choice as it stood in the tables on the day of the draw."""

    question: str
    text: str
    action: str
    reason: str
    mistake: str | None


class SealedGauge(Record):
    """A gauge as it was on the day: its name, its scale and how far it may err, all in mm."""

    name: str
    resolution_mm: Finite = Field(gt=0)
    error_limit_mm: Finite = Field(ge=0)
    repeatability_mm: Finite = Field(ge=0)
    low_mm: Finite
    high_mm: Finite


class SealedRotor(Record):
    """The rotor behind a case of the module `08_rotor_measurement`.

    Attributes:
        situation: what the bench drew, e.g. that the rotor must be replaced; for the instructor.
        spec: the rotor's limits.
        instruments: standard uncertainties of the gauges, as printed on the work order.
        confidence: probability of a right decision that the guard band is made for.
        micrometer, dial: the gauges.
        thickness_mm: what the micrometer shows at the eight places, between the lines.
        ridge_mm: what it shows on the outer ridge.
        dial_seated_mm, dial_loose_mm: what the dial shows, with all wheel nuts snug and with none.
        readings_mm, ridge_reading_mm, dial_readings_mm, loose_readings_mm: the same, to the nearest line.
    """

    situation: str
    spec: RotorSpec
    instruments: Instruments
    confidence: Finite = Field(ge=0.5, lt=1)
    micrometer: SealedGauge
    dial: SealedGauge
    thickness_mm: Row
    ridge_mm: Finite
    dial_seated_mm: Row
    dial_loose_mm: Row
    readings_mm: Row
    ridge_reading_mm: Finite
    dial_readings_mm: Row
    loose_readings_mm: Row


class SealedCase(Record):
    """One student's case in one module.

    Attributes:
        format: version of this record.
        course_version: version of the course that drew it.
        module, student, attempt: whose case it is.
        redraws: how often the draw was repeated because a mistake would have given the right answer.
        rotor: the rotor behind it.
        questions: the answers.
        choices: the choices of every question that has some.
        order: what the student gets, answers left out.
    """

    format: Literal[1] = FORMAT
    course_version: str
    module: str
    student: str
    attempt: int = Field(ge=1)
    redraws: int = Field(ge=0)
    rotor: SealedRotor
    questions: tuple[SealedQuestion, ...]
    choices: tuple[SealedChoice, ...]
    order: dict[str, Any]

    def work_order(self) -> dict[str, Any]:
        """Return what may be given out: the vehicle, the drawings and the questions, with no answer in it."""
        return copy.deepcopy(self.order)

    def question(self, question_id: str) -> SealedQuestion | None:
        """Return one question's answer, or None when the case has no such question."""
        return next((one for one in self.questions if one.id == question_id), None)
