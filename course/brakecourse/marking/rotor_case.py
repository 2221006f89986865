"""Seal a case of `08_rotor_measurement`: draw the rotor, work out the answers, draw the gauges."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from brakecourse import __version__
from brakecourse.bench.cases import RotorCase, draw_case
from brakecourse.bench.gauges import Gauge
from brakecourse.bench.situations import Difficulty
from brakecourse.errors import CourseError
from brakecourse.marking import catalogue, rotor_answers, rotor_order, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.catalogue import Question
from brakecourse.marking.rotor_values import Measured, true_values
from brakecourse.marking.sealed import (
    SealedCase,
    SealedChoice,
    SealedGauge,
    SealedMistake,
    SealedQuestion,
    SealedRotor,
)
from brakecourse.trade.rotor import Instruments

MODULE = "08_rotor_measurement"
CONFIDENCE = 0.95
MOST_REDRAWS = 1000
U_PLACES = 4  # decimal places of an uncertainty on the work order, in mm

# On every vehicle these mistakes must give another answer than the right one, or it is drawn again.
# The others are left out where they happen to be right: on a vehicle far from every limit it does no harm
# to forget the guard band.
MUST_SHOW = {
    "8.1": ("half_millimetre_line", "on_the_ridge"),
    "8.2": ("on_the_ridge", "largest_for_smallest", "mean_for_minimum"),
    "8.3": ("on_the_ridge", "half_of_total"),
    "8.4": ("nuts_not_seated", "half_of_total"),
}


def seal(student: str, attempt: int, seed: Callable[[int], int], difficulty: Difficulty) -> SealedCase:
    """Draw rotors until one tells every important mistake from the right answer, and seal it.

    Args:
        student, attempt: whose case it is.
        seed: gives the seed of the first draw for 0, of the first repeat for 1, and so on.
        difficulty: how near the limits the readings may lie.

    Raises:
        CourseError: no such rotor was found.
    """
    case = draw_case(seed(0), MODULE, difficulty)
    situation = case.situation
    for redraws in range(MOST_REDRAWS):
        if redraws:
            case = draw_case(seed(redraws), MODULE, difficulty)
        rotor = seal_rotor(case)
        if case.situation != situation or not _action_survives_rounding(case, rotor):
            continue
        questions = seal_questions(case, rotor)
        if all(_shows_its_mistakes(question) for question in questions):
            return SealedCase(
                course_version=__version__,
                module=MODULE,
                student=student,
                attempt=attempt,
                redraws=redraws,
                rotor=rotor,
                questions=questions,
                choices=_choices(),
                order=rotor_order.work_order(case, rotor, student, attempt),
            )
    raise CourseError(
        f"A rotor that tells every mistake from the right answer was expected, but {MOST_REDRAWS} draws for "
        f"{student} gave none; this is a fault of the course, so tell its maintainers."
    )


def seal_questions(case: RotorCase, rotor: SealedRotor) -> tuple[SealedQuestion, ...]:
    """Work out the right answers and the named mistakes of every question."""
    values, choices = true_values(rotor), _choices()
    return tuple(_seal_question(asked, case, rotor, values, choices) for asked in catalogue.questions(MODULE))


def _choices() -> tuple[SealedChoice, ...]:
    return tuple(
        SealedChoice(
            question=asked.id, text=one.text, action=one.action, reason=one.reason, mistake=one.mistake
        )
        for asked in catalogue.questions(MODULE)
        for one in asked.choices
    )


def _action_survives_rounding(case: RotorCase, rotor: SealedRotor) -> bool:
    """Tell whether the uncertainties, rounded as they are printed, leave the action as it was."""
    found = rotor_answers.finding(true_values(rotor), rotor.spec, rotor.instruments, rotor.confidence)
    return found.action == case.finding.action


def seal_rotor(case: RotorCase) -> SealedRotor:
    """Write down what the bench drew, with the uncertainties as the work order prints them."""
    exact = case.instruments
    return SealedRotor(
        situation=case.situation,
        spec=case.spec,
        instruments=Instruments(
            round(exact.thickness_u_mm, U_PLACES),
            round(exact.thickness_difference_u_mm, U_PLACES),
            round(exact.dial_difference_u_mm, U_PLACES),
        ),
        confidence=CONFIDENCE,
        micrometer=_seal_gauge(case.micrometer, case.micrometer.low_mm, case.micrometer.high_mm),
        dial=_seal_gauge(case.dial, 0.0, 0.0),
        thickness_mm=case.thickness_mm,
        ridge_mm=case.ridge_mm,
        dial_seated_mm=case.dial_seated_mm,
        dial_loose_mm=case.dial_loose_mm,
        readings_mm=tuple(case.readings_mm),
        ridge_reading_mm=case.micrometer.reading(case.ridge_mm),
        dial_readings_mm=tuple(case.dial_readings_mm),
        loose_readings_mm=tuple(case.dial.reading(value) for value in case.dial_loose_mm),
    )


def _seal_gauge(gauge: Gauge, low_mm: float, high_mm: float) -> SealedGauge:
    return SealedGauge(
        name=gauge.name,
        resolution_mm=gauge.resolution_mm,
        error_limit_mm=gauge.error_limit_mm,
        repeatability_mm=gauge.repeatability_mm,
        low_mm=low_mm,
        high_mm=high_mm,
    )


@dataclass(frozen=True)
class _Key:
    expected: float | tuple[float, ...] | str | None
    shown: tuple[float, ...] = ()
    accepted: tuple[str, ...] = ()
    tolerance: float = 0.0
    carried: float = 0.0
    mistakes: tuple[SealedMistake, ...] = ()


def _seal_question(
    asked: Question, case: RotorCase, rotor: SealedRotor, values: Measured, choices: tuple[SealedChoice, ...]
) -> SealedQuestion:
    if asked.kind == "written":
        key = _Key(None)
    elif asked.kind == "table":
        key = _table_key(case, rotor)
    else:
        key = _single_key(asked.id, rotor, values, choices)
    return SealedQuestion(
        id=asked.id,
        kind=asked.kind,
        unit=asked.unit,
        points=asked.points,
        lesson=catalogue.lesson(MODULE, asked.lesson_part),
        carries_from=asked.carries_from,
        expected=key.expected,
        shown=key.shown,
        accepted=key.accepted,
        tolerance=key.tolerance,
        tolerance_carried=key.carried,
        mistakes=key.mistakes,
    )


def _table_key(case: RotorCase, rotor: SealedRotor) -> _Key:
    near = tolerances.reading(rotor.micrometer.resolution_mm)
    mistakes = _table_mistakes(case, rotor)
    return _Key(rotor.readings_mm, rotor.thickness_mm, (), near, near, mistakes)


def _single_key(
    question_id: str, rotor: SealedRotor, values: Measured, choices: tuple[SealedChoice, ...]
) -> _Key:
    alone, carried = question_tolerances(rotor, question_id)
    found = basis(rotor, question_id, values, carried, choices)
    # A probability brings its own tolerance; it follows from the margin.
    alone = max(alone, found.tolerance)
    return _Key(found.expected, (), found.accepted, alone, found.tolerance, found.mistakes)


def basis(
    rotor: SealedRotor,
    question_id: str,
    values: Measured,
    tolerance: float,
    choices: tuple[SealedChoice, ...],
) -> Basis:
    """Return the right answer to one question, worked from the values given."""
    if question_id == "8.8":
        return rotor_answers.action(rotor, values, [one for one in choices if one.question == question_id])
    return rotor_answers.ANSWERS[question_id](rotor, values, tolerance)


def question_tolerances(rotor: SealedRotor, question_id: str) -> tuple[float, float]:
    """Return the tolerances of a question: judged alone, and worked from the learner's own readings."""
    micrometer, dial = rotor.micrometer.resolution_mm, rotor.dial.resolution_mm
    return {
        "8.2": (tolerances.reading(micrometer), tolerances.carried(micrometer)),
        "8.3": (tolerances.difference(micrometer), tolerances.carried_difference(micrometer)),
        # The dial readings are never handed in, so the run-out is always judged alone.
        "8.4": (tolerances.difference(dial), tolerances.difference(dial)),
        "8.6": (tolerances.reading(micrometer), tolerances.carried(micrometer)),
    }.get(question_id, (0.0, 0.0))


def _table_mistakes(case: RotorCase, rotor: SealedRotor) -> tuple[SealedMistake, ...]:
    tolerance = tolerances.rounded(rotor.micrometer.resolution_mm)
    return tuple(
        mistake
        for place, indication in enumerate(case.thickness_mm, start=1)
        for mistake in rotor_answers.place_mistakes(
            rotor, place, case.micrometer.misreadings(indication), tolerance
        )
    )


def _shows_its_mistakes(question: SealedQuestion) -> bool:
    wanted = MUST_SHOW.get(question.id, ())
    if question.kind != "table":
        return set(wanted) <= {one.mistake for one in question.mistakes}
    assert isinstance(question.expected, tuple)
    places = range(1, len(question.expected) + 1)
    return all(
        set(wanted) <= {one.mistake for one in question.mistakes if one.place == place} for place in places
    )
