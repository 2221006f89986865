"""Giving back: one page for each student, with every answer, what was expected, and what to read again.

The page is a single file without scripts. Whatever a student wrote is shown as text and never as HTML.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from brakecourse import marking
from brakecourse.classroom.engine.judging import WAITING
from brakecourse.classroom.engine.plan import read_case
from brakecourse.classroom.engine.reading import Unreadable
from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.folder import ClassFolder, Progress
from brakecourse.classroom.results import NOT_GRADED_YET, QuestionResult, StudentResult, student_results
from brakecourse.errors import CourseError
from brakecourse.marking.tolerances import near

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
    """One value of a table: what was given, what was expected, and the drawing it was read from."""

    label: str
    given: str
    expected: str
    right: bool
    drawing: Drawing | None


@dataclass(frozen=True)
class Drawing:
    """A drawing of the student's own work order. It comes from the sealed case, never from the submission."""

    svg: Markup
    caption: str


@dataclass(frozen=True)
class Answer:
    """One question as the page shows it."""

    result: QuestionResult
    look: str
    given: str
    tolerance: str
    places: tuple[Place, ...]
    drawings: tuple[Drawing, ...]


def give_back(cls: ClassFolder, module: str, progress: Progress | None = None) -> list[Path]:
    """Write the page of everyone whose work was graded, or could not be.

    Args:
        cls: the class.
        module: the module's name.
        progress: told how far the work is.

    Returns:
        The pages, in the roster's order.

    Raises:
        CourseError: the module is unknown, nothing was graded yet, or the pages can't be written.
    """
    results = [result for result in student_results(cls, module) if _has_page(result)]
    if not results:
        raise CourseError(
            f"No work of module {module} was graded yet; collect it and give "
            f"'brakecourse grade {cls.root} {module}' first."
        )
    pages: list[Path] = []
    with reporting_disk_trouble(f"write the pages in {cls.root / 'feedback'}"):
        for done, result in enumerate(results, start=1):
            path = cls.feedback_page(module, result.record.student_id)
            write_text_whole(path, page(cls, result))
            pages.append(path)
            if progress:
                progress(done, len(results), result.record.student_id)
    return pages


def _has_page(result: StudentResult) -> bool:
    record = result.record
    return record.status not in ("not handed in", "excused") and record.why != NOT_GRADED_YET


def page(cls: ClassFolder, result: StudentResult) -> str:
    """Return one student's page.

    Args:
        cls: the class.
        result: everything about the student's work.
    """
    record = result.record
    try:
        case: marking.SealedCase | None = read_case(cls, record.module, record.student_id).case
    except Unreadable:
        case = None
    order = case.work_order() if case is not None else {}
    pages = Environment(
        loader=PackageLoader("brakecourse.classroom"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    pages.filters["points"] = _points
    zone = cls.settings.zone
    due = cls.settings.due_utc(record.module)
    return pages.get_template("feedback.html.j2").render(
        settings=cls.settings,
        record=record,
        number=record.module.split("_")[0],
        title=order.get("title", record.module),
        complaint=order.get("complaint", ""),
        answers=[_answer(one, case, order) for one in result.questions] if _shows_answers(result) else [],
        waiting_points=sum(one.question.points for one in result.questions if one.points is None),
        handed_in=_when(record.handed_in_at, zone),
        due=_when(due, zone),
    )


def _shows_answers(result: StudentResult) -> bool:
    return result.record.status in ("graded", "waiting for hand-grading")


def _answer(result: QuestionResult, case: marking.SealedCase | None, order: Mapping[str, Any]) -> Answer:
    questions: list[dict[str, Any]] = order.get("questions", [])
    asked = next((one for one in questions if one["id"] == result.question.id), {})
    drawings = _drawings(asked, order)
    places = _places(result, case, asked, drawings)
    paired = {place.drawing for place in places}
    return Answer(
        result,
        _LOOKS[result.status],
        _given(result),
        _tolerance(result, case),
        places,
        tuple(drawing for drawing in drawings if drawing not in paired),
    )


def _given(result: QuestionResult) -> str:
    """What was given, in full where it is words: the marking keeps only their beginning."""
    if result.mark is None:
        return ""
    answer = result.mark.answer
    return answer if isinstance(answer, str) and len(answer) <= _LONGEST_WORDS else result.mark.given


def _tolerance(result: QuestionResult, case: marking.SealedCase | None) -> str:
    """How near a number had to come, as a sentence. Words are chosen or not: nothing to say there."""
    sealed = case.question(result.question.id) if case is not None else None
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


def _places(
    result: QuestionResult,
    case: marking.SealedCase | None,
    asked: Mapping[str, Any],
    drawings: tuple[Drawing, ...],
) -> tuple[Place, ...]:
    """Set a table's values side by side with what was expected and with their drawings."""
    sealed = case.question(result.question.id) if case is not None else None
    given = result.mark.answer if result.mark is not None else None
    labels = asked.get("labels", ())
    if sealed is None or not isinstance(sealed.expected, tuple) or not isinstance(given, list):
        return ()
    if not len(labels) == len(sealed.expected) == len(given):
        return ()
    return tuple(
        Place(
            label=label,
            given="" if value is None else f"{_shown(value)} {sealed.unit}",
            expected=f"{expected:.2f} {sealed.unit}",
            right=_near(value, exact, sealed.tolerance),
            drawing=next((one for one in drawings if one.caption.casefold().startswith(f"{label},")), None),
        )
        for label, value, expected, exact in zip(labels, given, sealed.expected, sealed.shown, strict=True)
    )


def _near(value: object, exact: float, tolerance: float) -> bool:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return False
    return near(float(value), exact, tolerance)


def _shown(value: object) -> str:
    return f"{value:.6g}" if isinstance(value, float) else str(value)[:20]


def _points(value: float | None) -> str:
    return "–" if value is None else f"{value:g}"


def _when(moment: Any, zone: Any) -> str:
    return "" if moment is None else f"{moment.astimezone(zone):%d %B %Y, %H:%M}".lstrip("0")
