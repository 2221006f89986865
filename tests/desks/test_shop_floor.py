"""The shop floor: what an observer sees becomes marks by the scheme, and nothing of it is ever lost.

The expected marks are counted from the scheme's own words in the instructor's notebook of module 13: half a
mark for each of four points.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from brakecourse.classroom.observation_list import read_list
from brakecourse.classroom.observations import (
    STOPPED,
    Observation,
    add_observations,
    observations,
    standing,
    tasks_of,
)
from brakecourse.desks import instructor_desk
from brakecourse.desks.shell import Desk
from brakecourse.errors import CourseError

from tests.classroom.quick_farm import QuickFarm
from tests.desks.filled_work import hand_in_work
from tests.desks.test_instructor import grade, hand_out, make_class, points, take_in

MODULE = "13_whole_job"
DAY = date(2026, 11, 30)


@pytest.fixture(scope="module")
def floor(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """A class of three with module 13: the work of s01 was graded, s02 and s03 have handed in nothing."""
    base = tmp_path_factory.mktemp("floor")
    desk = make_class(base)
    hand_out(desk, MODULE)
    take_in(desk, hand_in_work(desk.state.cls, MODULE, {"s01": {}}, base / "inbox"))
    grade(desk)
    return desk


def page_of(desk: Desk) -> Any:
    desk.show("Shop floor")
    return desk.page("Shop floor")


def test_points_seen_become_marks_in_the_gradebook(floor: Desk) -> None:
    page = page_of(floor)
    page.student.value, page.observer.value, page.day.value = "s01", "AQ", DAY
    card = page.cards["13.17"]
    for number in (1, 2, 3):
        card.points[number].value = True
    assert card.points[1].description == "1. Ground and chocks: seen"
    assert card.points[4].description == "4. Steady: not yet"
    page.save()
    assert points(floor, "s01", "13.17", MODULE) == (1.5, False)
    assert points(floor, "s01", "13.18", MODULE) == (None, True)  # nothing was seen of it: it waits
    assert "3 of 4 seen, 1.5 of 2 marks" in page.table.value
    result = next(one for one in floor.state.results(MODULE) if one.record.student_id == "s01")
    comment = next(one.comment for one in result.questions if one.question.id == "13.17")
    assert "observer AQ" in comment and "2026-11-30" in comment and "Not seen yet: Steady" in comment


def test_work_that_was_stopped_has_no_marks_until_that_is_taken_back(floor: Desk) -> None:
    page = page_of(floor)
    page.student.value, page.observer.value = "s01", "AQ"
    card = page.cards["13.19"]
    card.points[1].value = card.stopped.value = True
    page.save()
    assert points(floor, "s01", "13.19", MODULE) == (0.0, False)
    card.stopped.value = False
    page.save()
    assert points(floor, "s01", "13.19", MODULE) == (0.5, False)
    card.points[1].value = False
    page.save()
    assert points(floor, "s01", "13.19", MODULE) == (None, True)


def test_what_is_seen_before_the_exercise_is_graded_waits_and_goes_in_later(floor: Desk) -> None:
    page = page_of(floor)
    page.student.value, page.observer.value = "s02", "AQ"
    page.cards["13.18"].points[2].value = True
    page.save()
    assert "not yet in the gradebook" in floor.message and "s02" in floor.message
    again = instructor_desk(floor.state.base)  # kept on the disk, not on the page
    again.page("Class").open_class()
    assert page_of(again).table.value.count("1 of 4 seen") == 1
    inbox = floor.state.base / "late inbox"
    floor.state.farm = QuickFarm()
    take_in(floor, hand_in_work(floor.state.cls, MODULE, {"s02": {}}, inbox))
    grade(floor)
    page = page_of(floor)
    page.put_all()
    assert points(floor, "s02", "13.18", MODULE) == (0.5, False)


def test_an_observer_has_a_name(floor: Desk) -> None:
    page = page_of(floor)
    page.student.value, page.observer.value = "s03", " "
    page.cards["13.17"].points[1].value = True
    with pytest.raises(CourseError, match="who watched"):
        page.save()
    assert not observations(floor.state.cls, MODULE, "s03")


def test_a_list_is_shown_and_then_recorded(floor: Desk) -> None:
    path = floor.state.base / "seen.csv"
    path.write_text(
        "student,task,seen,date,observer,point\n"
        "s03,13.17,seen,2026-11-30,AQ,\n"
        "s03,13.18,seen,2026-11-30,AQ,2\n"
        "s03,13.18,not yet,2026-11-30,AQ,3\n"
        "s99,13.17,seen,2026-11-30,AQ,\n"
        "s03,13.99,seen,2026-11-30,AQ,\n"
        "s03,13.17,perhaps,2026-11-30,AQ,\n"
        "s03,13.17,seen,30.11.2026,AQ,\n"
        "s03,13.17,seen,2026-11-30,,\n"
        "s03,13.17,seen,2026-11-30,AQ,5\n",
        encoding="utf-8",
    )
    page = page_of(floor)
    page.source.listed.value = path
    page.look_at_list()
    assert "To record: 6 points; not to be used: 6 lines" in floor.message  # four of the task, and two
    assert not observations(floor.state.cls, MODULE, "s03")
    page.record_list()
    task = {one.id: one for one in tasks_of(floor.state.cls, MODULE)}
    found = observations(floor.state.cls, MODULE, "s03")
    assert standing(task["13.17"], found).points == 2.0
    assert standing(task["13.18"], found).points == 0.5


@pytest.mark.parametrize(("content", "word"), [(b"a,b\n1,2\n", "columns"), (b"\xff\xfe", "UTF-8")])
def test_a_file_that_is_no_list_is_refused(floor: Desk, content: bytes, word: str) -> None:
    with pytest.raises(CourseError, match=word):
        read_list(floor.state.cls, tasks_of(floor.state.cls, MODULE), content)


def test_the_newest_word_on_a_point_counts_and_the_file_only_grows(floor: Desk) -> None:
    cls = floor.state.cls
    task = tasks_of(cls, MODULE)[0]
    path = cls.root / "observations" / "s03.csv"
    before = path.read_bytes() if path.is_file() else b""
    for seen in (True, False, True):
        add_observations(cls, MODULE, [Observation("s03", task.id, 1, seen, DAY, 'A, "Q"')])
    assert path.read_bytes().startswith(before)
    assert standing(task, observations(cls, MODULE, "s03")).seen[1] is True
    stop = Observation("s03", task.id, STOPPED, True, DAY, "AQ")
    assert standing(task, [*observations(cls, MODULE, "s03"), stop]).points == 0.0


def test_a_student_who_is_forgotten_takes_the_observations_along(floor: Desk, tmp_path: Path) -> None:
    import shutil

    from brakecourse.classroom.folder import open_class
    from brakecourse.classroom.forget import forget, plan_forgetting

    cls = open_class(Path(shutil.copytree(floor.state.cls.root, tmp_path / "class")))
    add_observations(cls, MODULE, [Observation("s03", "13.17", 1, True, DAY, "AQ")])
    forget(cls, plan_forgetting(cls, "s03"))
    assert not (cls.root / "observations" / "s03.csv").exists()
