"""Grading again shows first what would change; nothing is written until it is agreed to, and then just that.

Outside check: nbgrader's own library reads the points before and after.
"""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path
from typing import Any

import brakecourse
import pytest
from brakecourse import marking
from brakecourse.classroom.engine import GradeReport, Preview, accept, grade, preview, set_hand_mark
from brakecourse.classroom.engine.farm import Job
from brakecourse.classroom.engine.preview import CHANGED_SINCE
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import grade_records, mark_history
from nbgrader.api import Gradebook

from tests.classroom.engine_class import (
    MODULE,
    filled,
    fresh_class,
    hand_in,
    points_in_gradebook,
    released,
    right_answers,
)
from tests.classroom.quick_farm import QuickFarm

FULL = {question.id: question.points for question in marking.questions(MODULE)}
LETTER = "The rotor is worn."


@pytest.fixture
def cls(tmp_path: Path) -> ClassFolder:
    """A graded class: s01 all right, and a person has marked the letter; s02 nothing; s03 not handed in."""
    made = fresh_class(tmp_path)
    hand_in(made, "s01", filled(released(made), right_answers(made, "s01"), LETTER))
    hand_in(made, "s02", released(made))
    graded(made)
    set_hand_mark(made, MODULE, "s01", "8.9", 3)
    set_hand_mark(made, MODULE, "s01", "8.1", 1)
    return made


def graded(cls: ClassFolder, **more: Any) -> GradeReport:
    return grade(cls, MODULE, farm=QuickFarm(), **more)


def looked(cls: ClassFolder, each: Any = lambda _: None, **more: Any) -> Preview:
    return preview(cls, MODULE, farm=QuickFarm(each), **more)


def correct_the_key(cls: ClassFolder, student: str = "s01", question: str = "8.4") -> None:
    """Correct a sealed answer, as a teacher does after a fault in the key was found: 1 mm more."""
    path = cls.case_file(MODULE, student)
    case = json.loads(path.read_text(encoding="utf-8"))
    (one,) = (one for one in case["questions"] if one["id"] == question)
    one["expected"] += 1
    path.write_text(json.dumps(case), encoding="utf-8")


def database(cls: ClassFolder) -> list[str]:
    with sqlite3.connect(cls.gradebook_file) as opened:
        return list(opened.iterdump())


def test_a_corrected_key_changes_no_mark_by_itself(cls: ClassFolder) -> None:
    correct_the_key(cls)
    before = database(cls)
    report = graded(cls)
    assert database(cls) == before
    assert [(row.student_id, row.status, row.fresh) for row in report.held] == [("s01", "graded", False)]
    assert report.held[0].held == "The sealed case is another one than it was marked by."


def test_another_version_of_the_course_changes_no_mark_by_itself(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = brakecourse.__version__
    monkeypatch.setattr(brakecourse, "__version__", "9.9.9")
    before = database(cls)
    report = graded(cls)
    assert database(cls) == before
    assert {row.held for row in report.held} == {f"The course was version {old} and is now 9.9.9."}
    assert len(report.held) == 2
    # Agreed to once, nobody is named again, and the history holds by which version each mark was given.
    accept(cls, looked(cls))
    assert graded(cls).held == ()


@pytest.mark.parametrize("damage", ["missing", "damaged"])
def test_a_lost_key_takes_no_mark_away(cls: ClassFolder, damage: str) -> None:
    path = cls.case_file(MODULE, "s01")
    if damage == "missing":
        path.unlink()
    else:
        path.write_bytes(b"{")
    before = database(cls)
    assert "put it back from a copy" in graded(cls).held[0].held
    assert database(cls) == before


def test_changed_work_is_graded_as_new_by_the_new_key(cls: ClassFolder) -> None:
    correct_the_key(cls)
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01"), LETTER))
    report = graded(cls)
    assert report.held == () and [row.student_id for row in report.rows if row.fresh] == ["s01"]
    assert points_in_gradebook(cls)["s01", "q8_4"] == FULL["8.4"]


def test_what_could_not_be_graded_is_tried_with_the_new_key(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    hand_in(cls, "s01", released(cls))
    path = cls.case_file(MODULE, "s01")
    case = path.read_bytes()
    path.write_bytes(b"{")
    assert graded(cls).rows[0].status == "could not be graded"
    path.write_bytes(case)
    assert graded(cls).rows[0].status == "graded"


def test_looking_first_tells_every_change_and_writes_nothing(cls: ClassFolder) -> None:
    correct_the_key(cls)
    before = database(cls)
    files = sorted((p, p.read_bytes()) for p in cls.root.rglob("*") if p.is_file())
    told: list[tuple[int, int, str]] = []
    found = looked(cls, progress=lambda *news: told.append(news))
    assert database(cls) == before
    assert sorted((p, p.read_bytes()) for p in cls.root.rglob("*") if p.is_file()) == files
    (change,) = found.changes
    assert (change.student_id, change.question_id, change.old, change.out_of) == (
        "s01",
        "8.4",
        FULL["8.4"],
        FULL["8.4"],
    )
    assert change.new is not None and change.new < FULL["8.4"] and change.why
    assert [(c.question_id, c.old, c.new) for c in found.stays] == [("8.1", 1, 1), ("8.9", 3, 3)]
    assert found.stays[0].why == f"A person gave it; the machine gives {FULL['8.1']:g}."
    assert found.stays[1].why == "A person gave it; the machine gives nothing."
    assert [row.status for row in found.left] == ["not handed in"] and found.first == ()
    assert told[0][:2] == (0, 2) and told[-1][:2] == (2, 2)


def test_what_is_agreed_to_is_stored_without_a_second_run(cls: ClassFolder) -> None:
    correct_the_key(cls)
    found = looked(cls)
    before, many = points_in_gradebook(cls), len(mark_history(cls))
    report = accept(cls, found)
    (change,) = found.changes
    assert points_in_gradebook(cls) == before | {("s01", "q8_4"): change.new}
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        assert book.find_grade("q8_9", MODULE, MODULE, "s01").manual_score == 3
        assert book.find_grade("q8_1", MODULE, MODULE, "s01").score == 1
        assert not book.find_submission(MODULE, "s01").needs_manual_grade
    assert [(row.student_id, row.fresh) for row in report.rows] == [
        ("s01", True),
        ("s02", True),
        ("s03", False),
    ]
    (written,) = mark_history(cls)[many:]
    assert (written.question_id, written.old_points, written.new_points) == ("8.4", FULL["8.4"], change.new)
    assert written.why.startswith("The sealed case is another one than it was marked by.")
    assert graded(cls).held == ()
    assert looked(cls).changes == ()


@pytest.mark.parametrize("what", ["work", "hand mark", "machine mark"])
def test_what_changed_after_it_was_looked_at_is_left_alone(cls: ClassFolder, what: str) -> None:
    correct_the_key(cls)
    found = looked(cls)
    if what == "work":
        hand_in(cls, "s01", released(cls))
    elif what == "hand mark":
        set_hand_mark(cls, MODULE, "s01", "8.4", 2)
    else:
        graded(cls, students=["s01"], force=True)
    before = database(cls)
    report = accept(cls, found)
    assert [(row.student_id, row.why) for row in report.rows if not row.fresh] == [
        ("s01", CHANGED_SINCE),
        ("s03", ""),
    ]
    mine = [line for line in database(cls) if "'s01'" in line]
    assert mine == [line for line in before if "'s01'" in line]


def test_a_letter_that_changed_is_told_to_wait_again(cls: ClassFolder) -> None:
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01"), "Another letter."))
    changes = {change.question_id: change for change in looked(cls).changes}
    assert set(changes) == {"8.9"}
    assert (changes["8.9"].old, changes["8.9"].new) == (3, None)
    assert "waits to be looked at again" in changes["8.9"].why


def test_first_gradings_and_work_that_became_unreadable_are_told(cls: ClassFolder) -> None:
    hand_in(cls, "s03", released(cls))
    hand_in(cls, "s02", b"junk")
    found = looked(cls)
    assert found.first == ("s03",)
    assert found.changes[0].student_id == "s02" and found.changes[0].question_id == ""
    assert "graded before, now could not be graded. The file can't be read" in found.changes[0].why
    assert {(c.old, c.new) for c in found.changes[1:]} == {(0, None)}
    accept(cls, found)
    assert {r.student_id: r.status for r in grade_records(cls, MODULE)} == {
        "s01": "graded",
        "s02": "could not be graded",
        "s03": "graded",
    }


class FailingFarm(QuickFarm):
    """A machine that has no memory left: nothing can be run."""

    def run(self, jobs: Any) -> Any:
        from dataclasses import replace

        for done in super().run(jobs):
            record = replace(
                done.record, status="could not be graded", why="No memory.", submission_sha256=""
            )
            yield replace(done, record=record, worked=None)


def test_a_machine_that_fails_takes_no_mark_away(cls: ClassFolder) -> None:
    before = database(cls)
    found = preview(cls, MODULE, farm=FailingFarm())
    assert found.changes == found.stays == found.results == ()
    assert [(row.student_id, row.status, row.why) for row in found.left if row.why] == [
        ("s01", "graded", "No memory."),
        ("s02", "graded", "No memory."),
    ]
    accept(cls, found)
    rows = grade(cls, MODULE, farm=FailingFarm(), force=True).rows
    assert [row.why for row in rows] == ["No memory.", "No memory.", ""]
    assert database(cls) == before
    # Newer work that this machine could not grade: the marks of the older one stay until it can.
    hand_in(cls, "s02", filled(released(cls), right_answers(cls, "s02")))
    grade(cls, MODULE, farm=FailingFarm())
    assert database(cls) == before
    graded(cls)
    assert points_in_gradebook(cls)["s02", "q8_4"] == FULL["8.4"]


def test_a_look_that_is_broken_off_has_written_nothing(cls: ClassFolder) -> None:
    def stop(job: Job) -> None:
        if job.student_id == "s02":
            raise KeyboardInterrupt

    before = database(cls)
    with pytest.raises(KeyboardInterrupt):
        looked(cls, stop)
    assert database(cls) == before
