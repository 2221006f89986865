"""Giving back: one page for each student, with every answer, what was expected, and what to read again.

The page is a single file without scripts. Whatever a student wrote is shown as text and never as HTML.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from brakecourse import marking
from brakecourse.classroom.engine.plan import read_case
from brakecourse.classroom.engine.reading import Unreadable, plain_text
from brakecourse.classroom.feedback_answers import answers
from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.folder import ClassFolder, Progress
from brakecourse.classroom.pages import page_template
from brakecourse.classroom.results import NOT_GRADED_YET, StudentResult, student_results
from brakecourse.errors import CourseError


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
            # Half characters of an older record can't be written; they must not stop the class's pages.
            write_text_whole(path, plain_text(page(cls, result)))
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
    order = case.order if case is not None else {}
    zone = cls.settings.zone
    due = cls.settings.due_utc(record.module)
    return page_template("feedback.html.j2").render(
        settings=cls.settings,
        record=record,
        number=record.module.split("_")[0],
        title=order.get("title", record.module),
        complaint=order.get("complaint", ""),
        answers=answers(result, case, order) if _shows_answers(result) else [],
        waiting_points=sum(one.question.points for one in result.questions if one.points is None),
        handed_in=_when(record.handed_in_at, zone),
        due=_when(due, zone),
    )


def _shows_answers(result: StudentResult) -> bool:
    return result.record.status in ("graded", "waiting for hand-grading")


def _when(moment: Any, zone: Any) -> str:
    return "" if moment is None else f"{moment.astimezone(zone):%d %B %Y, %H:%M}".lstrip("0")
