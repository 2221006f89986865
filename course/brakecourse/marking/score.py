"""Score one answer: how it fared, its share of the marks, and the words that go with it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile

from brakecourse.marking import basis, reading_answers, say
from brakecourse.marking.basis import Basis
from brakecourse.marking.marks import Status
from brakecourse.marking.mistakes import mistake, mistakes
from brakecourse.marking.sealed import SealedCase, SealedQuestion

RIGHT_ACTION_SHARE = 0.5
"""Share of the marks for the right action with a reason that does not hold."""

LOST_PER_RULE = 0.25
"""Share of the marks that each rule costs that a sequence breaks, if none of them is dangerous."""


@dataclass(frozen=True)
class Own:
    """The right answer as it follows from the learner's own earlier ones.

    Attributes:
        basis: that answer.
        used: the earlier questions it was built on.
        off: those of them whose own answers were not right.
    """

    basis: Basis
    used: tuple[str, ...]
    off: tuple[str, ...]


@dataclass(frozen=True)
class Outcome:
    """How one answer fared.

    Attributes:
        status, words, mistake: as in a mark.
        share: share of the marks, 0 to 1.
        carried: worked from the learner's own values, where they lead elsewhere; else None.
    """

    status: Status
    share: float
    words: str
    mistake: str | None = None
    carried: Basis | None = None


def score(
    case: SealedCase,
    question: SealedQuestion,
    answer: object,
    own: Own | None,
    earlier: Mapping[str, object],
) -> Outcome:
    """Score an answer that a machine marks.

    Args:
        case, question: what was asked.
        answer: what was handed in; not trusted.
        own: the right answer from the learner's own earlier ones, or None.
        earlier: the learner's other answers; not trusted.
    """
    if reading_answers.is_empty(answer):
        return Outcome("no answer", 0.0, say.NO_ANSWER)
    if question.kind == "sequence":
        return _sequence(question, answer)
    if question.kind == "table":
        return _table(question, answer, own)
    value = _understood(case, question, answer)
    if value is None:
        return _not_readable(question)
    return _single(case, question, value, own, earlier)


def right_places(
    question: SealedQuestion, values: Sequence[float | None], own: Own | None
) -> tuple[bool, ...]:
    """Tell for each value of a table whether it is right."""
    bases = _bases(question, own)
    return tuple(
        value is not None and any(one.is_right(value, own is not None, place) for one in bases)
        for place, value in enumerate(values, start=1)
    )


def _bases(question: SealedQuestion, own: Own | None) -> list[Basis]:
    truth = basis.sealed(question)
    return [truth] if own is None else [own.basis, truth]


def _not_readable(question: SealedQuestion) -> Outcome:
    return Outcome("not readable", 0.0, say.not_readable(question))


def _elsewhere(question: SealedQuestion, own: Own | None) -> Basis | None:
    return own.basis if own is not None and own.basis.expected != question.expected else None


def _failed(share: float, words: str, named: str | None, carried: Basis | None = None) -> Outcome:
    return Outcome("partly right" if share > 0 else "wrong", share, words, named, carried)


def _understood(case: SealedCase, question: SealedQuestion, answer: object) -> float | str | None:
    if question.kind == "number":
        return reading_answers.number(answer)
    texts = [one.text for one in case.choices if one.question == question.id]
    return reading_answers.chosen(answer, texts)


def _single(
    case: SealedCase,
    question: SealedQuestion,
    value: float | str,
    own: Own | None,
    earlier: Mapping[str, object],
) -> Outcome:
    if basis.sealed(question).is_right(value, own=own is not None):
        return Outcome("right", 1.0, say.RIGHT)
    if own is not None and own.basis.is_right(value, own=True):
        return Outcome("right", 1.0, say.carried(own.off), carried=own.basis)
    bases = _bases(question, own)
    named = _named(case, question, value, bases, earlier)
    action_right = _action_right(case, question, value, bases)
    share = _share(question, named, action_right)
    words = say.wrong(named, partly=share > 0, action_right=action_right)
    return _failed(share, words, named, _elsewhere(question, own))


def _named(
    case: SealedCase,
    question: SealedQuestion,
    value: float | str,
    bases: Sequence[Basis],
    earlier: Mapping[str, object],
) -> str | None:
    """Name the mistake. Where an answer fits two, the one that an earlier answer shows as well is named."""
    found = next((names for one in bases if (names := one.named(value))), ())
    if len(found) < 2:
        return found[0] if found else None
    before = takewhile(lambda one: one.id != question.id, case.questions)
    shown = {_first_named(case, one, earlier.get(one.id)) for one in before}
    return next((name for name in found if name in shown), found[0])


def _first_named(case: SealedCase, question: SealedQuestion, answer: object) -> str | None:
    if question.kind not in ("number", "choice"):
        return None
    value = _understood(case, question, answer)
    truth = basis.sealed(question)
    names = () if value is None or truth.is_right(value) else truth.named(value)
    return names[0] if names else None


def _share(question: SealedQuestion, named: str | None, action_right: bool) -> float:
    if question.kind == "choice" and action_right:
        return RIGHT_ACTION_SHARE
    return _mistake_share(named) if question.kind != "choice" else 0.0


def _mistake_share(named: str | None) -> float:
    # A case may be older than the table of mistakes: a name that is gone earns nothing, and stops nothing.
    return mistake(named).share if named in mistakes() and named is not None else 0.0


def _action_right(
    case: SealedCase, question: SealedQuestion, value: float | str, bases: Sequence[Basis]
) -> bool:
    actions = {one.text: one.action for one in case.choices if one.question == question.id and one.action}
    chosen = actions.get(str(value))
    return chosen is not None and any(chosen == actions.get(str(one.expected)) for one in bases)


def _table(question: SealedQuestion, answer: object, own: Own | None) -> Outcome:
    assert isinstance(question.expected, tuple)
    values = reading_answers.row(answer, len(question.expected))
    if values is None:
        return _not_readable(question)
    carried, right = _elsewhere(question, own), right_places(question, values, own)
    if all(right):
        return Outcome("right", 1.0, say.RIGHT if own is None else say.carried(own.off), carried=carried)
    bases = _bases(question, own)
    found = {
        place: _place_mistake(bases, place, values[place - 1])
        for place, good in enumerate(right, start=1)
        if not good
    }
    share = (sum(right) + sum(_mistake_share(name) for name in found.values())) / len(values)
    named_all = Counter(name for name in found.values() if name is not None)
    commonest = named_all.most_common(1)[0][0] if named_all else None
    return _failed(share, say.table(found, values), commonest, carried)


def _place_mistake(bases: Sequence[Basis], place: int, value: float | None) -> str | None:
    if value is None:
        return None
    return next((names[0] for one in bases if (names := one.named(value, place))), None)


def _sequence(question: SealedQuestion, answer: object) -> Outcome:
    steps = reading_answers.sequence(answer, question.steps)
    if steps is None:
        return _not_readable(question)
    text = basis.ARROW.join(steps)
    if text in question.accepted:
        return Outcome("right", 1.0, say.RIGHT)
    if question.rules:
        return _by_rules(question, steps)
    named = next(iter(basis.sealed(question).named(text)), None)
    share = _mistake_share(named)
    return _failed(share, say.wrong(named, partly=share > 0, action_right=False), named)


def _by_rules(question: SealedQuestion, steps: tuple[str, ...]) -> Outcome:
    """Score a sequence by the rules it breaks. A dangerous order fails the question."""
    place = {step: number for number, step in enumerate(steps)}
    broken = [one for one in question.rules if place[one.before] > place[one.after]]
    if not broken:
        return Outcome("right", 1.0, say.RIGHT)
    broken.sort(key=lambda one: not one.critical)
    named = next((one.mistake for one in broken if one.mistake is not None), None)
    share = 0.0 if broken[0].critical else max(0.0, 1 - len(broken) * LOST_PER_RULE)
    return _failed(share, say.sequence(broken, named, partly=share > 0), named)
