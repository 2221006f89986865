"""Words that a browser would run stay words on both desks, wherever somebody else could have written them."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import ipywidgets as widgets
import pytest
from brakecourse.classroom.assign import read_case
from brakecourse.desks import coordinator_desk, instructor_desk
from brakecourse.desks.shell import Desk
from brakecourse.exports.badge_key import make_key
from markupsafe import escape

from tests.classroom.quick_farm import QuickFarm
from tests.desks.filled_work import hand_in_work

MODULE = "13_whole_job"
FIRST = "<img src=x onerror=alert(1)>"
"""Runs its words where it is put into a page as it is: the usual first try, from memory."""
LAST = '"><script>alert(2)</script>'
CLASS = "<b onmouseover=alert(3)>Autumn</b>"
WRITTEN = f"The rotor is worn. {FIRST}"
ANSWER = "<svg onload=alert(4)>"
FILE = "<img src=x onerror=alert(5)>.ipynb"
COMMENT = "</p><iframe src=javascript:alert(6)>"
OBSERVER = "<u onclick=alert(7)>AQ"
REASON = "<img src=x onerror=alert(8)> ill"
# No page of a desk has these of its own.
RUN = ("<script", "<iframe", "<svg onload", "<img src=x", "<u ", "<b on")


def press(part: Any) -> None:
    part.button.click()
    part.wait()


def parts(part: Any) -> Iterator[widgets.Widget]:
    """Give a widget and all that stands in it."""
    yield part
    for child in getattr(part, "children", ()):
        yield from parts(child)


def shown_on(desk: Desk) -> list[str]:
    """Return all that a browser would take for HTML, after a check that nothing in it runs foreign words."""
    found: list[str] = []
    everything = [one for part in (desk, *desk._pages.values()) for one in parts(part)]
    assert len(everything) > 100
    for one in everything:
        # Where this is off, a browser shows the words beside a field as they are.
        assert not getattr(one, "description_allow_html", False)
        if isinstance(one, widgets.HTML | widgets.HTMLMath):
            found.append(one.value)
    found.append(desk._repr_mimebundle_()["text/html"])
    for value in found:
        assert not [words for words in RUN if words in value.lower()], value[:2000]
    return found


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a class in which every word that somebody else writes is hostile."""
    base = tmp_path_factory.mktemp("hostile")
    with (base / "list.csv").open("w", encoding="utf-8", newline="") as stream:
        rows = [("s01", FIRST, LAST, "s01@class.example"), ("s02", "Bruno", LAST, "")]
        csv.writer(stream).writerows([("student_id", "first_name", "last_name", "email"), *rows])
    return base


@pytest.fixture(scope="module")
def instructor(base: Path) -> Desk:
    """The instructor's desk after a whole term: all its pages were used."""
    desk = instructor_desk(base)
    desk.state.farm = QuickFarm()
    page: Any = desk.page("Class")
    page.name.value, page.term.value, page.folder_name.value = CLASS, LAST, "autumn"
    page.source.listed.value = base / "list.csv"
    page.make_class()
    page = open_page(desk, "Hand out")
    page.ticks[MODULE].value, page.day.value = True, date(2026, 1, 9)
    press(page.job)
    inbox = hand_in_work(desk.state.cls, MODULE, {"s01": answers(desk)}, base / "inbox")
    (inbox / FILE).write_text("{}", encoding="utf-8")
    page = open_page(desk, "Take in")
    page.source.typed.value = str(inbox)
    press(page.job)
    press(open_page(desk, "Grade").job)
    page = open_page(desk, "Shop floor")
    page.student.value, page.observer.value, page.day.value = "s01", OBSERVER, date(2026, 1, 9)
    next(iter(page.cards.values())).points[1].value = True
    page.save()
    look_at_a_list(page, base)
    mark_by_hand(desk)
    press(open_page(desk, "Give back").job)
    page = open_page(desk, "What to teach again")
    page.module.value = MODULE
    press(page.job)
    open_page(desk, "Class")
    return desk


def open_page(desk: Desk, title: str) -> Any:
    desk.show(title)
    return desk.page(title)


def answers(desk: Desk) -> dict[str, object]:
    """Return hostile answers to a question that is chosen, and to all that are written."""
    asked = read_case(desk.state.cls, MODULE, "s01").questions
    chosen = next(one.id for one in asked if one.kind == "choice")
    return {chosen: ANSWER} | {one.id: WRITTEN for one in asked if one.kind == "written"}


def look_at_a_list(page: Any, base: Path) -> None:
    path = base / "<u onclick=alert(9)>.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        rows = [("s01", "13.17", "seen", "2026-01-09", OBSERVER), (FIRST, LAST, ANSWER, COMMENT, OBSERVER)]
        csv.writer(stream).writerows([("student", "task", "seen", "date", "observer"), *rows])
    page.source.look_again()
    page.source.listed.value = path
    page.look_at_list()


def mark_by_hand(desk: Desk) -> None:
    page = open_page(desk, "Who is where")
    page.job.wait()
    page.student.value, page.module.value = "s01", MODULE
    page.question.value = written_question(desk)
    page.points.value, page.comment.value = 1.0, COMMENT
    page.save_mark()
    page.question.value = written_question(desk)
    page.student.value, page.why.value = "s02", REASON
    page.excuse()
    page.student.value = "s01"


def written_question(desk: Desk) -> str:
    asked = read_case(desk.state.cls, MODULE, "s01").questions
    return next(one.id for one in asked if one.kind == "written")


def test_the_instructors_desk_shows_hostile_words_as_words(instructor: Desk) -> None:
    shown = "".join(shown_on(instructor))
    for words in (FIRST, LAST, CLASS, ANSWER, FILE, OBSERVER, REASON):
        assert str(escape(words)) in shown.replace("&#x27;", "&#39;").replace("&quot;", "&#34;"), words
    page: Any = instructor.page("Who is where")
    page.question.value = written_question(instructor)
    assert "&lt;img src=x" in page.answer.value
    shown_on(instructor)


def test_the_coordinators_desk_shows_hostile_words_as_words(instructor: Desk, base: Path) -> None:
    make_key(instructor.state.cls)
    desk = coordinator_desk(base)
    press(desk.page("Classes").job)
    assert desk.message.startswith("The results are read")
    page = open_page(desk, "Grades")
    page.show_over_time()
    page = open_page(desk, "Competencies")
    for _, who in page.student.options:
        page.student.value = who
        page.show()
    page = open_page(desk, "Exports")
    for name, box in page.kinds.items():
        box.value = name not in ("pictures", "statistics")
    press(page.look)
    for _, file in page.which.options:
        page.which.value = file
        page.look_into()
        shown_on(desk)
    press(page.write)
    press(open_page(desk, "Badges").standings)
    open_page(desk, "Rules of grades")
    page = open_page(desk, "Privacy")
    page.student.value = "s01"
    page.show_plan()
    shown = "".join(shown_on(desk)).replace("&#x27;", "&#39;").replace("&quot;", "&#34;")
    for words in (LAST, CLASS):
        assert str(escape(words)) in shown, words


def test_the_check_can_fail(base: Path) -> None:
    desk = instructor_desk(base)
    desk._message.value = f"<p>{FIRST}</p>"
    with pytest.raises(AssertionError):
        shown_on(desk)
