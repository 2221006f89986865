"""The three calls of an exercise notebook: open the work order, show a question, hand in an answer.

They speak in sentences and never end in an error message, so that a slip of the keyboard costs nothing.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from IPython.display import display

from brakecourse.errors import CourseError
from brakecourse.workorder import page, plain
from brakecourse.workorder.answers import Look, look_at
from brakecourse.workorder.order import FILE_NAME, Question, WorkOrder, load

ANSWER_MIME = "application/vnd.brakecourse.answer+json"

_open: WorkOrder | None = None


def open_work_order(path: str | Path | None = None) -> None:
    """Open the work order that lies beside the notebook, and show it.

    Args:
        path: another file or folder, if it lies elsewhere.
    """
    global _open
    _open = None  # an order that cannot be opened must not leave another one's questions behind
    try:
        _open = load(_place(path))
    except CourseError as problem:
        _show(str(problem), page.reply(str(problem), "look"))
        return
    _show(page.order_text(_open), page.order(_open))


def show(question_id: str) -> None:
    """Show one question with its drawings or its choices.

    Args:
        question_id: e.g. ``"8.1"``.
    """
    try:
        sheet = _sheet()
        asked = _question(sheet, question_id)
    except CourseError as problem:
        _show(str(problem), page.reply(str(problem), "look"))
        return
    _show(page.question_text(sheet, asked), page.question(sheet, asked))


def hand_in(question_id: str, answer: object) -> None:
    """Look at an answer's kind and range, say what was understood, and hand it in.

    It never says whether the answer is right. Whatever the answer is, no error comes of it.

    Args:
        question_id: e.g. ``"8.2"``.
        answer: the number, list or words; None while it is still empty.
    """
    try:
        seen = look_at(_question(_sheet(), question_id), answer)
    except CourseError as problem:
        seen = Look(plain.as_data(answer), str(problem), str(problem))
    tone: page.Tone = "look" if seen.problem else "plain" if seen.answer is None else "handed in"
    handed = {"question": plain.clipped(question_id), "answer": seen.answer, "problem": seen.problem}
    display(
        {ANSWER_MIME: handed, "text/plain": seen.words, "text/html": page.reply(seen.words, tone)},
        raw=True,
    )


def _place(path: str | Path | None) -> Path:
    place = Path.cwd() if path is None else Path(path)
    return place / FILE_NAME if place.is_dir() else place


def _sheet() -> WorkOrder:
    return _open if _open is not None else load(_place(None))


def _question(sheet: WorkOrder, question_id: object) -> Question:
    found = sheet.questions.get(question_id) if isinstance(question_id, str) else None
    if found is None:
        raise CourseError(
            f"One of the questions {', '.join(sheet.questions)} was expected, but found "
            f"'{plain.clipped(question_id)}'; type it between quotes, as the notebook did."
        )
    return found


def _show(text: str, html: str) -> None:
    bundle: dict[str, Any] = {"text/plain": text, "text/html": html}
    display(bundle, raw=True)
