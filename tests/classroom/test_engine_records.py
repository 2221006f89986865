"""Records: who has what points, who is waited for, what lateness costs. Sums are worked here by hand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from brakecourse.classroom.engine import end_excuse, excuse, grade, set_hand_mark
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.lateness import days_late, penalty_share
from brakecourse.classroom.records import GradeRecord, grade_records, question_records
from brakecourse.errors import CourseError
from hypothesis import given
from hypothesis import strategies as st
from nbgrader.api import Gradebook

from tests.classroom.engine_class import HANDED_IN, MODULE, fresh_class, graded_class, hand_in, released
from tests.classroom.shared_farm import shared_farm

pytestmark = pytest.mark.sandbox
DUE = datetime(2026, 3, 1, 18, 0, tzinfo=UTC)


def record_of(cls: ClassFolder, student: str) -> GradeRecord:
    return next(record for record in grade_records(cls, MODULE) if record.student_id == student)


def test_points_waiting_and_missing_are_told_apart(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    waiting, empty = record_of(cls, who["right"]), record_of(cls, who["empty"])
    missing, broken = record_of(cls, who["missing"]), record_of(cls, who["broken"])
    assert (waiting.auto_points, waiting.hand_points, waiting.raw_score) == (36, None, 36)
    assert (waiting.waiting_questions, waiting.late_penalty, waiting.final_score) == (("8.9",), None, None)
    assert (empty.status, empty.auto_points, empty.hand_points, empty.final_score) == ("graded", 0, 0, 0)
    for none in (missing, broken):
        assert (none.auto_points, none.raw_score, none.final_score, none.max_score) == (None, None, None, 40)
    assert (missing.handed_in_at, empty.handed_in_at) == (None, HANDED_IN)
    assert (waiting.first_name, waiting.last_name) == ("Amara1", "Quillstone")
    assert len(grade_records(cls)) == len(cls.roster)  # every module that was handed out, and there is one


def test_a_late_submission_keeps_its_raw_score_beside_the_penalty(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    set_hand_mark(cls, MODULE, who["right"], "8.9", 3)
    late = cls.with_due(MODULE, HANDED_IN - timedelta(hours=30))  # 2 days begun, 10 % each
    record = record_of(late, who["right"])
    assert (record.raw_score, record.days_late, record.late_penalty, record.final_score) == (39, 2, 7.8, 31.2)
    in_time = record_of(cls.with_due(MODULE, HANDED_IN), who["right"])
    assert (in_time.days_late, in_time.late_penalty, in_time.final_score) == (0, 0, 39)
    very = record_of(cls.with_due(MODULE, HANDED_IN - timedelta(days=30)), who["right"])
    assert (very.late_penalty, very.final_score) == (19.5, 19.5)  # never more than half


def test_an_extension_given_in_nbgrader_counts(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    cls = cls.with_due(MODULE, HANDED_IN - timedelta(hours=30))
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        book.grant_extension(MODULE, who["right"], hours=30)
        book.grant_extension(MODULE, who["loop"], hours=10)
    assert record_of(cls, who["right"]).days_late == 0
    assert record_of(cls, who["loop"]).days_late == 1
    assert record_of(cls, who["deleted"]).days_late == 2


def test_excused_does_not_count_and_can_be_ended(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    excuse(cls, MODULE, who["missing"], "ill")
    excuse(cls, MODULE, who["empty"], "on leave")
    record = record_of(cls, who["empty"])
    assert (record.status, record.why, record.final_score) == ("excused", "on leave", None)
    assert record_of(cls, who["missing"]).status == "excused"
    report = grade(cls, MODULE, force=True, students=[who["empty"], who["missing"]])
    assert [row.status for row in report.rows] == ["excused", "excused"] and report.fresh == 0
    end_excuse(cls, MODULE, who["empty"])
    grade(cls, MODULE, students=[who["empty"]], farm=shared_farm())
    assert record_of(cls, who["empty"]).status == "graded"
    with pytest.raises(CourseError, match="No student 's99'"):
        excuse(cls, MODULE, "s99")


def test_work_that_was_not_graded_yet_or_has_changed_says_so(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    hand_in(cls, "s01", released(cls))
    record = record_of(cls, "s01")
    assert (record.status, record.raw_score) == ("could not be graded", None)
    assert "not graded yet" in record.why
    assert question_records(cls, MODULE) == []


def test_newer_work_than_what_was_graded_is_said(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    hand_in(cls, who["empty"], b"newer")
    assert "Something newer was handed in" in record_of(cls, who["empty"]).why
    assert record_of(cls, who["deleted"]).why == ""


def test_question_records_have_what_an_analysis_needs(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    found = {(one.student_id, one.question_id): one for one in question_records(cls, MODULE)}
    assert len(found) == 7 * 9
    waiting = found[who["right"], "8.9"]
    assert (waiting.points, waiting.out_of, waiting.status, waiting.by_hand) == (
        None, 4, "waiting for hand-grading", False,
    )  # fmt: skip
    half = found[who["some wrong"], "8.4"]
    assert (half.points, half.status, half.mistake) == (3, "partly right", "half_of_total")
    assert found[who["some wrong"], "8.7"].status == "not readable"
    for points, status in [(4, "right"), (2, "partly right"), (0, "wrong")]:
        set_hand_mark(cls, MODULE, who["right"], "8.9", points)
        (one,) = [
            r for r in question_records(cls, MODULE) if (r.student_id, r.question_id) == (who["right"], "8.9")
        ]
        assert (one.points, one.status, one.by_hand) == (points, status, True)


def test_unknown_modules_are_refused(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    for listing in (grade_records, question_records):
        with pytest.raises(CourseError, match="99_none"):
            listing(cls, "99_none")


@pytest.mark.parametrize(
    ("hours", "days"), [(-1000, 0), (-0.001, 0), (0, 0), (0.001, 1), (24, 1), (24.001, 2), (240, 10)]
)
def test_every_day_begun_counts(hours: float, days: int) -> None:
    assert days_late(DUE + timedelta(hours=hours), DUE) == days


def test_without_a_time_nothing_is_late() -> None:
    assert days_late(None, DUE) == days_late(DUE, None) == 0


@given(st.integers(0, 400), st.floats(0, 100), st.floats(0, 100))
def test_lateness_never_costs_more_than_its_cap_nor_gives_anything(
    days: int, per_day: float, cap: float
) -> None:
    share = penalty_share(days, per_day, cap)
    assert 0 <= share <= cap / 100
    assert penalty_share(days + 1, per_day, cap) >= share
