"""One student's work in one module as the instructor sees it: key, answers, drawings. HTML text."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import tzinfo
from html import escape
from typing import Any

from markupsafe import Markup

from brakecourse.classroom.assign import read_case
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import GradeRecord, MarkChange
from brakecourse.classroom.results import QuestionResult, StudentResult
from brakecourse.desks.parts import table
from brakecourse.desks.plain import in_desk_words
from brakecourse.marking import SealedCase
from brakecourse.marking.catalogue import question
from brakecourse.marking.sealed import SealedQuestion


def summary(record: GradeRecord) -> str:
    """Return how a student's work stands, in a line or two."""
    words = [
        f"{record.first_name} {record.last_name} ({record.student_id}), {record.module}: {record.status}."
    ]
    if record.raw_score is not None:
        words.append(f"Points so far: {record.raw_score:g} of {record.max_score:g}.")
    if record.late_penalty:
        words.append(f"{record.days_late} days late: {record.late_penalty:g} points are taken off.")
    if record.final_score is not None:
        words.append(f"What counts: {record.final_score:g}.")
    words += [in_desk_words(record.why), *record.healed]
    return f"<p>{escape(' '.join(filter(None, words)))}</p>"


def key_and_answers(cls: ClassFolder, result: StudentResult) -> str:
    """Return the answer key of a student's own case, with what the student answered.

    Raises:
        CourseError: the sealed case is damaged.
    """
    record = result.record
    case = read_case(cls, record.module, record.student_id)
    answers = {one.question.id: one for one in result.questions}
    rows = [_row(case, sealed, answers.get(sealed.id)) for sealed in case.questions]
    order = case.order
    story = (
        f"<p><strong>{escape(str(order.get('title', '')))}.</strong> "
        f"{escape(str(order.get('complaint', '')))}</p>"
    )
    headings = [
        "Question",
        "Right answer",
        "Given",
        ">Points",
        ">Out of",
        "How it fared",
        "How the answer follows",
    ]
    return story + table(f"Key and answers of {record.student_id}", headings, rows)


def _row(case: SealedCase, sealed: SealedQuestion, answer: QuestionResult | None) -> Sequence[object]:
    asked = question(case.module, sealed.id)
    given, points, fared = "", "", ""
    if answer is not None:
        given = "" if answer.mark is None else _in_short(answer.mark.given)
        points = "" if answer.points is None else f"{answer.points:g}"
        fared = answer.status + (", by hand" if answer.hand_points is not None else "")
        if answer.mark is not None and answer.mark.words and answer.hand_points is None:
            same = answer.mark.words.rstrip(".").casefold() == answer.status
            fared = answer.status if same else f"{answer.status}: {answer.mark.words}"
    label = Markup("<strong>{}</strong> {}").format(sealed.id, asked.short)
    return label, right_answer(sealed), given, points, f"{sealed.points:g}", fared, sealed.how


def right_answer(sealed: SealedQuestion) -> str:
    """Return a question's right answer in words, with its unit."""
    if sealed.expected is None:
        return "a person decides"
    if isinstance(sealed.expected, tuple):
        return f"{'; '.join(f'{one:.{sealed.places}f}' for one in sealed.expected)} {sealed.unit}".strip()
    if isinstance(sealed.expected, float):
        return f"{sealed.expected:.{sealed.places}f} {sealed.unit}".strip()
    return " / ".join(sealed.accepted) if len(sealed.accepted) > 1 else sealed.expected


def drawings(case: SealedCase) -> str:
    """Return the drawings of a student's own work order. They come from the sealed case."""
    found: dict[str, Any] = case.order.get("drawings", {})
    figures = (
        f'<figure class="bc-drawing">{one["svg"]}<figcaption>{escape(one["caption"])}</figcaption></figure>'
        for one in found.values()
    )
    all_of_them = "".join(figures)
    if not all_of_them:
        return "<p>This work order has no drawings.</p>"
    return f'<div class="bc-drawings">{all_of_them}</div>'


def history(changes: Sequence[MarkChange], zone: tzinfo) -> str:
    """Return every change of a student's marks, the newest first."""
    if not changes:
        return "<p>No mark was given yet.</p>"
    rows = [
        (
            f"{one.at.astimezone(zone):%Y-%m-%d %H:%M}",
            one.question_id or "the whole work",
            one.kind,
            "" if one.old_points is None else f"{one.old_points:g}",
            "" if one.new_points is None else f"{one.new_points:g}",
            one.why,
        )
        for one in reversed(changes)
    ]
    return table("Changes of marks", ["When", "Question", "What", ">Before", ">After", "Why"], rows)


def written(answer: QuestionResult) -> str:
    """Return what a student wrote, in full, as plain text."""
    text = "" if answer.mark is None else answer.mark.answer
    words = text if isinstance(text, str) and text else "" if answer.mark is None else answer.mark.given
    if not words:
        return "<p>There is nothing written; what was shown on a vehicle stands on the page ‘Shop floor’.</p>"
    return f'<p class="bc-given">{escape(str(words))}</p>'


def _in_short(text: str, most: int = 160) -> str:
    return text if len(text) <= most else f"{text[:most]}…"
