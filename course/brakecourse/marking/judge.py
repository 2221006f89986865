"""Judge answers against a sealed case.

Whatever comes in, a mark comes out: text, lists in lists, numbers beyond all bounds, nothing at all. The
answers are only looked at as data; nothing in them is run.
"""

from __future__ import annotations

from collections.abc import Mapping

from brakecourse.errors import CourseError
from brakecourse.marking import reading_answers, say, score
from brakecourse.marking.given import Given
from brakecourse.marking.marks import Mark
from brakecourse.marking.mistakes import mistake, mistakes
from brakecourse.marking.paper import paper
from brakecourse.marking.score import Outcome, Own
from brakecourse.marking.sealed import BY_HAND, SealedCase, SealedQuestion

PLACES_OF_POINTS = 2


def judge(case: SealedCase, question_id: str, answer: object, earlier: Mapping[str, object]) -> Mark:
    """Judge one answer.

    Args:
        case: the student's sealed case.
        question_id: e.g. ``"8.2"``.
        answer: what was handed in, as plain JSON data; not trusted.
        earlier: the same student's other answers by question, as plain JSON data; not trusted.

    Returns:
        The mark. Any answer at all gets one, with 0 up to ``out_of`` points.

    Raises:
        CourseError: the case has no such question, or a person marks it.
    """
    return _judged(case, _question(case, question_id), answer, earlier, _given(case, earlier))


def judge_all(case: SealedCase, answers: Mapping[str, object]) -> dict[str, Mark]:
    """Judge all answers of one student that a machine marks, as :func:`judge` would one by one.

    What follows from the student's own values is worked out once, so this is several times as quick.

    Args:
        case: the student's sealed case.
        answers: by question, as plain JSON data; not trusted. What is missing counts as not answered.

    Returns:
        The marks by question, in the case's order.
    """
    given = _given(case, answers)
    return {
        one.id: _judged(case, one, answers.get(one.id), answers, given)
        for one in case.questions
        if one.kind not in BY_HAND
    }


def right_places(
    case: SealedCase, question_id: str, answer: object, earlier: Mapping[str, object]
) -> tuple[bool, ...]:
    """Tell for each value of a table's answer whether it earned its marks; empty when it cannot be read.

    Args:
        case, question_id, answer, earlier: as for :func:`judge`.

    Raises:
        CourseError: the case has no such question, or a person marks it.
    """
    question = _question(case, question_id)
    count = len(question.expected) if isinstance(question.expected, tuple) else 0
    values = reading_answers.row(answer, count)
    return (
        () if values is None else score.right_places(question, values, _own(question, _given(case, earlier)))
    )


def _question(case: SealedCase, question_id: str) -> SealedQuestion:
    question = case.question(question_id)
    if question is None:
        names = ", ".join(one.id for one in case.questions)
        raise CourseError(f"One of the questions {names} was expected, but found {question_id!r}.")
    if question.kind in BY_HAND:
        how = "is answered in words" if question.kind == "written" else "is shown on a real vehicle"
        raise CourseError(
            f"Question {question_id} {how}, so a person marks it; "
            "use 'brakecourse hand-mark' to give its points."
        )
    return question


def _given(case: SealedCase, answers: Mapping[str, object]) -> Given:
    asks = paper(case.module)
    return Given(asks.read_truth(case.truth), asks.key, case.choices, answers, case.questions)


def _own(question: SealedQuestion, given: Given) -> Own | None:
    """Return the right answer as it follows from the learner's own earlier ones; None without any."""
    if not question.carries_from or not given.own:
        return None
    found = given.basis(question.id)
    used = given.used(question.id)
    return Own(found, used, given.off(question.id)) if used else None


def _judged(
    case: SealedCase, question: SealedQuestion, answer: object, earlier: Mapping[str, object], given: Given
) -> Mark:
    own = None if reading_answers.is_empty(answer) else _own(question, given)
    return _mark(case, question, answer, score.score(case, question, answer, own, earlier))


def _mark(case: SealedCase, question: SealedQuestion, answer: object, outcome: Outcome) -> Mark:
    points = round(min(1.0, max(0.0, outcome.share)) * question.points, PLACES_OF_POINTS)
    return Mark(
        question_id=question.id,
        points=min(points, question.points),
        out_of=question.points,
        status=outcome.status,
        given=say.given(question, answer),
        expected=say.expected(question),
        tolerance=say.tolerance(question, outcome.carried),
        how=say.how(question, outcome.carried),
        mistake=outcome.mistake,
        words=outcome.words,
        lesson="" if outcome.status == "right" else _lesson(case, question, outcome.mistake),
        carried_forward=outcome.carried is not None,
    )


def _lesson(case: SealedCase, question: SealedQuestion, named: str | None) -> str:
    """Return what to read again: where the mistake is treated, if that is this module's own lesson."""
    if named in mistakes() and named is not None and mistake(named).module == case.module:
        return mistake(named).lesson
    return question.lesson
