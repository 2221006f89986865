"""The page of the learner's own: every lesson, each lesson's practice, and what it trains."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from brakecourse.tables import read_table
from brakecourse.views import plan as plan_module
from brakecourse.views.plan import lessons, outcomes, plan
from brakecourse.views.progress import Progress, Tally
from brakecourse.views.progress_drawing import lesson_svg, lessons_svg, outcomes_svg
from brakecourse.views.progress_page import MyProgress, views

ROTOR = "08_rotor_measurement"


def texts(drawing: str) -> list[str]:
    return [str(element.text) for element in ET.fromstring(drawing).iter("{http://www.w3.org/2000/svg}text")]


def bars(drawing: str) -> list[float]:
    """Return the lengths of the filled bars."""
    return [float(width) for width in re.findall(r'width="([\d.]+)" height="13" fill="#0072B2"', drawing)]


def of_lesson(lesson: str, right: int = 1, tries: int = 1, count: int | None = None) -> list[Tally]:
    found = [one for one in plan() if one.lesson == lesson][:count]
    return [Tally(lesson, one.activity, one.title, tries, right) for one in found]


def test_every_activity_stands_once_in_a_lesson_of_the_course_and_trains_something() -> None:
    assert len({(one.lesson, one.activity) for one in plan()}) == len(plan())
    for one in plan():
        assert one.lesson in lessons(), one
        assert one.part and one.title and one.outcomes, one
        assert set(one.outcomes) <= set(outcomes()), one
    modules = {row["module"] for row in read_table("course/modules.csv")}
    assert set(lessons()) == modules | {"00_start_here"} and len(lessons()) == 14


def test_all_lessons_are_shown_also_those_without_practice() -> None:
    drawing = lessons_svg([], uid="p")
    assert [name for name in lessons().values() if name in texts(drawing)] == list(lessons().values())
    empty = len(lessons()) - len({one.lesson for one in plan()})
    assert texts(drawing).count("no practice yet") == empty
    assert texts(drawing).count("not tried yet") == len(lessons()) - empty
    assert bars(drawing) == []


def test_a_lessons_bar_is_as_long_as_the_share_that_was_tried() -> None:
    drawing = lessons_svg(of_lesson(ROTOR, right=0, count=5), uid="p")
    assert "5 of 10 tried" in texts(drawing) and bars(drawing) == [70]
    assert bars(lessons_svg(of_lesson(ROTOR), uid="p")) == [140]


def test_an_activitys_bar_is_as_long_as_the_share_of_right_answers() -> None:
    drawing = lesson_svg(of_lesson(ROTOR, right=2, tries=4, count=1), ROTOR, uid="p")
    assert texts(drawing).count("2 right of 4") == 1 and texts(drawing).count("not tried yet") == 9
    assert bars(drawing) == [70]


def test_an_outcome_counts_the_practice_that_trains_it() -> None:
    tallies = [
        Tally(ROTOR, "turn-rotor", "x", 4, 1),  # reads the dial, chooses the place
        Tally(ROTOR, "run-out-plot", "x", 4, 3),  # reads the dial
        Tally(ROTOR, "not-in-the-plan", "x", 9, 9),
    ]
    words = texts(outcomes_svg(tallies, uid="p"))
    assert words.count("4 right of 8") == 1 and words.count("1 right of 4") == 1
    joined = " ".join(words)
    for outcome, statement in outcomes().items():
        trained = any(outcome in one.outcomes for one in plan())
        assert (statement in joined) is trained, outcome


@pytest.mark.parametrize("draw", [lessons_svg, outcomes_svg])
def test_the_words_of_the_drawing_are_told_to_a_screen_reader(draw: object) -> None:
    drawing = draw(of_lesson(ROTOR), uid="p")  # type: ignore[operator]
    description = ET.fromstring(drawing).find("{http://www.w3.org/2000/svg}desc")
    assert description is not None and description.text
    assert "The bars show" in description.text
    shown = {words for words in texts(drawing) if "right of" in words or "tried" in words}
    assert shown and all(words in description.text for words in shown)


def test_the_page_offers_only_lessons_that_are_there(monkeypatch: pytest.MonkeyPatch) -> None:
    assert list(views())[:2] == ["all lessons", "what I can do"]
    assert views()["08 Thickness and run-out"] == ROTOR
    assert set(views().values()) - {""} == {one.lesson for one in plan()}


def test_the_page_shows_what_is_chosen(tmp_path: Path) -> None:
    page = MyProgress(progress=Progress(tmp_path / "progress.json"))
    seen = set()
    for view in views():
        page.view.value = view
        assert page.picture() in page._picture.value
        seen.add(page.picture())
    assert len(seen) == len(views())


def test_a_course_of_one_lesson_still_has_its_page(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    only = tuple(one for one in plan() if one.lesson == ROTOR)
    for module in ("progress_page", "progress_drawing"):
        monkeypatch.setattr(f"brakecourse.views.{module}.plan", lambda: only)
    page = MyProgress(progress=Progress(tmp_path / "progress.json"))
    assert texts(page.picture()).count("no practice yet") == 13
    assert set(views().values()) == {"", ROTOR}
    assert plan_module.START in lessons()
