"""Judge one answer against a sealed case.

Whatever comes in, a mark comes out: text, lists in lists, numbers beyond all bounds, nothing at all. The
answer is only looked at as data; nothing in it is run.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from brakecourse.errors import CourseError
from brakecourse.marking import basis, reading_answers, rotor_case, rotor_how, rotor_values, say, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.marks import Mark, Status
from brakecourse.marking.mistakes import mistake, mistakes
from brakecourse.marking.sealed import SealedCase, SealedQuestion

RIGHT_ACTION_SHARE = 0.5
"""Share of the marks for the right action with a reason that does not hold."""

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
    question = case.question(question_id)
    if question is None:
        names = ", ".join(one.id for one in case.questions)
        raise CourseError(f"One of the questions {names} was expected, but found {question_id!r}.")
    if question.kind == "written":
        raise CourseError(
            f"Question {question_id} is answered in words, so a person marks it; "
            "use 'brakecourse hand-mark' to give its points."
        )
    if reading_answers.is_empty(answer):
        return _mark(case, question, answer, _Outcome("no answer", 0.0, say.NO_ANSWER))
    if question.kind == "table":
        return _mark(case, question, answer, _table(question, answer))
    value = _understood(case, question, answer)
    if value is None:
        return _mark(case, question, answer, _Outcome("not readable", 0.0, say.not_readable(question)))
    return _mark(case, question, answer, _single(case, question, value, earlier))


@dataclass(frozen=True)
class _Outcome:
    status: Status
    share: float
    words: str
    mistake: str | None = None
    carried: bool = False
    own: rotor_values.Measured | None = None


def _understood(case: SealedCase, question: SealedQuestion, answer: object) -> float | str | None:
    if question.kind == "number":
        return reading_answers.number(answer)
    texts = [one.text for one in case.choices if one.question == question.id]
    return reading_answers.chosen(answer, texts)


def _single(
    case: SealedCase, question: SealedQuestion, value: float | str, earlier: Mapping[str, object]
) -> _Outcome:
    own = rotor_values.own_values(case.rotor, question.carries_from, earlier)
    truth = basis.sealed(question, carried=own is not None)
    if truth.is_right(value):
        return _Outcome("right", 1.0, say.RIGHT)
    bases = [truth]
    if own is not None:
        from_own = rotor_case.basis(case.rotor, question.id, own, question.tolerance_carried, case.choices)
        if from_own.is_right(value):
            return _Outcome("right", 1.0, say.carried(question), carried=True, own=own)
        bases.insert(0, from_own)
    named = _named(case, question, value, bases, earlier)
    carried = own is not None and bases[0].expected != truth.expected
    share = _share(case, question, value, named, bases)
    status: Status = "partly right" if share > 0 else "wrong"
    words = say.wrong(named, partly=share > 0, action_right=_action_right(case, value, bases))
    return _Outcome(status, share, words, named, carried, own if carried else None)


def _named(
    case: SealedCase,
    question: SealedQuestion,
    value: float | str,
    bases: list[Basis],
    earlier: Mapping[str, object],
) -> str | None:
    """Name the mistake. Where an answer fits two, the one that an earlier answer shows as well is named."""
    found = next((names for one in bases if (names := one.named(value))), ())
    if len(found) < 2:
        return found[0] if found else None
    before = case.questions[: case.questions.index(question)]
    shown = {_first_named(case, one, earlier.get(one.id)) for one in before}
    return next((name for name in found if name in shown), found[0])


def _first_named(case: SealedCase, question: SealedQuestion, answer: object) -> str | None:
    if question.kind not in ("number", "choice"):
        return None
    value = _understood(case, question, answer)
    truth = basis.sealed(question, carried=False)
    names = () if value is None or truth.is_right(value) else truth.named(value)
    return names[0] if names else None


def _share(
    case: SealedCase, question: SealedQuestion, value: float | str, named: str | None, bases: list[Basis]
) -> float:
    if question.kind == "choice":
        return RIGHT_ACTION_SHARE if _action_right(case, value, bases) else 0.0
    return _mistake_share(named)


def _mistake_share(named: str | None) -> float:
    # A case may be older than the table of mistakes: a name that is gone earns nothing, and stops nothing.
    return mistake(named).share if named in mistakes() and named is not None else 0.0


def _action_right(case: SealedCase, value: float | str, bases: list[Basis]) -> bool:
    actions = {one.text: one.action for one in case.choices if one.action}
    return actions.get(str(value)) is not None and any(
        actions.get(str(value)) == actions.get(str(one.expected)) for one in bases
    )


def _table(question: SealedQuestion, answer: object) -> _Outcome:
    expected = question.expected
    assert isinstance(expected, tuple)
    values = reading_answers.row(answer, len(expected))
    if values is None:
        return _Outcome("not readable", 0.0, say.not_readable(question))
    shares: list[float] = []
    found: dict[int, str | None] = {}
    for place, value in enumerate(values, start=1):
        named = _place_mistake(question, place, value)
        right = value is not None and tolerances.near(value, question.shown[place - 1], question.tolerance)
        shares.append(1.0 if right else _mistake_share(named))
        if not right:
            found[place] = named
    share = sum(shares) / len(expected)
    if not found:
        return _Outcome("right", 1.0, say.RIGHT)
    named_all = Counter(name for name in found.values() if name is not None)
    commonest = named_all.most_common(1)[0][0] if named_all else None
    return _Outcome("partly right" if share > 0 else "wrong", share, say.table(found, values), commonest)


def _place_mistake(question: SealedQuestion, place: int, value: float | None) -> str | None:
    if value is None:
        return None
    here = (one for one in question.mistakes if one.place == place)
    return next((one.mistake for one in here if basis.matches(one, value)), None)


def _mark(case: SealedCase, question: SealedQuestion, answer: object, outcome: _Outcome) -> Mark:
    points = round(min(1.0, max(0.0, outcome.share)) * question.points, PLACES_OF_POINTS)
    lesson = "" if outcome.status == "right" else question.lesson
    if outcome.mistake in mistakes() and outcome.mistake is not None:
        lesson = mistake(outcome.mistake).lesson
    return Mark(
        question_id=question.id,
        points=min(points, question.points),
        out_of=question.points,
        status=outcome.status,
        given=say.given(question, answer),
        expected=say.expected(question),
        tolerance=say.tolerance(question, outcome.own is not None),
        how=rotor_how.how(case.rotor, question.id, outcome.own),
        mistake=outcome.mistake,
        words=outcome.words,
        lesson=lesson,
        carried_forward=outcome.carried,
    )
