"""Seal a student's case: draw a vehicle, work out the answers, name what each mistake would give."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from functools import cache

from brakecourse import __version__
from brakecourse.bench.situations import Difficulty
from brakecourse.errors import CourseError
from brakecourse.marking import catalogue
from brakecourse.marking.basis import Basis
from brakecourse.marking.catalogue import Question
from brakecourse.marking.given import Given
from brakecourse.marking.order import work_order
from brakecourse.marking.paper import Paper
from brakecourse.marking.sealed import (
    BY_HAND,
    Answers,
    SealedCase,
    SealedChoice,
    SealedQuestion,
    right_answers,
)

MOST_REDRAWS = 1000


def seal(
    asks: Paper,
    student: str,
    attempt: int,
    seed: Callable[[int], int],
    difficulty: Difficulty,
    unlike: Collection[Answers] = (),
) -> SealedCase:
    """Draw vehicles until one tells every important mistake from the right answer, and seal it.

    Args:
        asks: the module's exercise.
        student, attempt: whose case it is.
        seed: gives the seed of the first draw for 0, of the first repeat for 1, and so on.
        difficulty: how near the limits the vehicle may lie.
        unlike: the right answers of other cases; this one's must differ from each in at least one answer.

    Raises:
        CourseError: no such vehicle was found.
    """
    situation = None  # it stays as first drawn, so that drawing again changes no situation's share
    for redraws in range(MOST_REDRAWS):
        truth = asks.draw(seed(redraws), difficulty, situation)
        situation = truth.situation
        given = Given(truth, asks.key, choices(asks.module))
        if not all(_shows(given.basis(question), wanted) for question, wanted in asks.must_show.items()):
            continue
        questions = _questions(asks, given)
        if right_answers(questions) not in unlike:
            return SealedCase(
                course_version=__version__,
                module=asks.module,
                student=student,
                attempt=attempt,
                redraws=redraws,
                truth=truth.model_dump(mode="json"),
                questions=questions,
                choices=choices(asks.module),
                order=work_order(asks, truth, student, attempt),
            )
    raise CourseError(
        "A vehicle that tells every mistake from the right answer and is like no classmate's was expected, "
        f"but {MOST_REDRAWS} draws for {student} in {asks.module} gave none; this is a fault of the course, "
        "so tell its maintainers."
    )


def _questions(asks: Paper, given: Given) -> tuple[SealedQuestion, ...]:
    """Work out the right answers and the named mistakes of every question."""
    return tuple(
        _written(asked) if asked.kind in BY_HAND else _sealed(asked, given.basis(asked.id))
        for asked in catalogue.questions(asks.module)
    )


@cache
def choices(module: str) -> tuple[SealedChoice, ...]:
    """Return the choices of every question of a module, as they stand in the tables."""
    return tuple(
        SealedChoice(
            question=asked.id,
            key=one.key,
            text=one.text,
            action=one.action,
            reason=one.reason,
            mistake=one.mistake,
        )
        for asked in catalogue.questions(module)
        for one in asked.choices
    )


def _written(asked: Question) -> SealedQuestion:
    return SealedQuestion(
        id=asked.id,
        kind=asked.kind,
        unit=asked.unit,
        points=asked.points,
        lesson=catalogue.lesson(asked.module, asked.lesson_part),
        expected=None,
    )


def _sealed(asked: Question, right: Basis) -> SealedQuestion:
    return SealedQuestion(
        id=asked.id,
        kind=asked.kind,
        unit=asked.unit,
        points=asked.points,
        lesson=catalogue.lesson(asked.module, asked.lesson_part),
        carries_from=asked.carries_from,
        expected=right.expected,
        how=right.how,
        places=right.places,
        shown=right.shown,
        accepted=right.accepted,
        rules=right.rules,
        steps=right.steps,
        tolerance=right.tolerance,
        tolerance_carried=right.carried,
        reach=right.reach,
        mistakes=right.mistakes,
    )


def _shows(right: Basis, wanted: Sequence[str]) -> bool:
    """Tell whether each mistake that must show gives another answer than the right one, at every place."""
    if not isinstance(right.expected, tuple):
        return set(wanted) <= {one.mistake for one in right.mistakes}
    return all(
        set(wanted) <= {one.mistake for one in right.mistakes if one.place == place}
        for place in range(1, len(right.expected) + 1)
    )
