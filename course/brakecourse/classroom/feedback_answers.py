"""One question as the page that goes back shows it: what was given beside what was expected."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from brakecourse import marking
from brakecourse.classroom.engine.judging import WAITING
from brakecourse.classroom.results import QuestionResult, StudentResult
from brakecourse.marking import reading_answers, say
from brakecourse.marking.sealed import SealedQuestion

# Each way an answer can fare has its own word and its own mark; the colour only goes with them.
_LOOKS = {
    "right": "right",
    "partly right": "partly",
    "wrong": "wrong",
    "no answer": "empty",
    "not readable": "unreadable",
    WAITING: "waiting",
}

_LONGEST_WORDS = 300


@dataclass(frozen=True)
class Place:
    """One value of a table.

    Attributes:
        label: what the place is called.
        given, expected: what was given and what was expected, with the unit.
        near: how far off it might be, where the places differ in that; else empty.
        right: it earned its marks.
        read: it is read from a gauge, and not worked out.
        drawing: the drawing it was read from, or None.
    """

    label: str
    given: str
    expected: str
    near: str
    right: bool
    read: bool
    drawing: Drawing | None


@dataclass(frozen=True)
class Drawing:
    """A drawing of the student's own work order. It comes from the sealed case, never from the submission."""

    svg: Markup
    caption: str


@dataclass(frozen=True)
class Answer:
    """One question as the page shows it.

    Attributes:
        result: everything about the answer.
        look: which mark and colour go with how it fared.
        given, tolerance: as words.
        places: a table's values, else empty.
        steps: a sequence as it was given and one right order of it, each step on a line; else empty.
        drawings: those that belong to no place.
    """

    result: QuestionResult
    look: str
    given: str
    tolerance: str
    places: tuple[Place, ...]
    steps: tuple[tuple[str, ...], tuple[str, ...]] | tuple[()]
    drawings: tuple[Drawing, ...]

    @property
    def drawn_places(self) -> bool:
        """Tell whether the table's values stand beside their drawings."""
        return any(place.drawing is not None for place in self.places)

    @property
    def places_differ(self) -> bool:
        """Tell whether each value of the table has a tolerance of its own."""
        return any(place.near for place in self.places)


def answers(result: StudentResult, case: marking.SealedCase | None, order: Mapping[str, Any]) -> list[Answer]:
    """Return every question of a student's work as the page shows it.

    Args:
        result: everything about the work.
        case: the student's sealed case, or None when it cannot be read any more.
        order: the student's work order; empty without a case.
    """
    given = {one.question.id: one.mark.answer for one in result.questions if one.mark is not None}
    return [_answer(one, case, order, given) for one in result.questions]


def _answer(
    result: QuestionResult,
    case: marking.SealedCase | None,
    order: Mapping[str, Any],
    given: Mapping[str, object],
) -> Answer:
    questions: list[dict[str, Any]] = order.get("questions", [])
    asked = next((one for one in questions if one["id"] == result.question.id), {})
    drawings = _drawings(asked, order)
    sealed = case.question(result.question.id) if case is not None else None
    places = _places(case, sealed, asked, drawings, given) if case is not None and sealed is not None else ()
    paired = {place.drawing for place in places}
    return Answer(
        result,
        _LOOKS[result.status],
        _given(result),
        _tolerance(result, sealed),
        places,
        _steps(result, sealed),
        tuple(drawing for drawing in drawings if drawing not in paired),
    )


def _given(result: QuestionResult) -> str:
    """What was given, in full where it is words: the marking keeps only their beginning."""
    if result.mark is None:
        return ""
    answer = result.mark.answer
    return answer if isinstance(answer, str) and len(answer) <= _LONGEST_WORDS else result.mark.given


def _tolerance(result: QuestionResult, sealed: SealedQuestion | None) -> str:
    """How near a number had to come, as a sentence. Words are chosen or not: nothing to say there."""
    if result.mark is None or not result.mark.tolerance or (sealed is not None and sealed.kind == "choice"):
        return ""
    return f"{result.mark.tolerance[0].upper()}{result.mark.tolerance[1:]}."


def _drawings(asked: Mapping[str, Any], order: Mapping[str, Any]) -> tuple[Drawing, ...]:
    all_of_them = order.get("drawings", {})
    return tuple(
        # Safe as it is: the course drew it and sealed it in the class folder.
        Drawing(Markup(all_of_them[name]["svg"]), all_of_them[name]["caption"])
        for name in asked.get("drawings", ())
        if name in all_of_them
    )


def _steps(
    result: QuestionResult, sealed: SealedQuestion | None
) -> tuple[tuple[str, ...], tuple[str, ...]] | tuple[()]:
    """Set a sequence as it was given beside one right order of it."""
    if sealed is None or sealed.kind != "sequence" or result.mark is None:
        return ()
    given = reading_answers.sequence(result.mark.answer, sealed.steps)
    return () if given is None else (given, sealed.steps)


def _places(
    case: marking.SealedCase,
    sealed: SealedQuestion,
    asked: Mapping[str, Any],
    drawings: tuple[Drawing, ...],
    given: Mapping[str, object],
) -> tuple[Place, ...]:
    """Set a table's values side by side with what was expected and with their drawings."""
    own, labels = given.get(sealed.id), asked.get("labels", ())
    if not isinstance(sealed.expected, tuple) or not isinstance(own, list):
        return ()
    if not len(labels) == len(sealed.expected) == len(own):
        return ()
    earlier = {one: answer for one, answer in given.items() if one != sealed.id}
    right = marking.right_places(case, sealed.id, own, earlier)
    near = sealed.tolerance if isinstance(sealed.tolerance, tuple) else ()
    return tuple(
        Place(
            label=label,
            given="" if own[at] is None else f"{_shown(own[at])} {sealed.unit}".strip(),
            expected=f"{sealed.expected[at]:.{sealed.places}f} {sealed.unit}".strip(),
            near=say.width(near[at], sealed) if len(set(near)) > 1 else "",
            right=right[at],
            read=bool(sealed.shown),
            drawing=next(
                (one for one in drawings if one.caption.casefold().startswith(f"{label},".casefold())), None
            ),
        )
        for at, label in enumerate(labels)
    )


def _shown(value: object) -> str:
    return f"{value:.6g}" if isinstance(value, float) else str(value)[:20]
