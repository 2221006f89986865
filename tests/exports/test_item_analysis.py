"""How questions fared: each case that makes figures go wrong, by hand-worked small classes."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
import scipy.stats
from brakecourse.classroom.records import GradeRecord, QuestionRecord, Status
from brakecourse.exports import again_sheets
from brakecourse.exports.completion import completion
from brakecourse.exports.item_analysis import Asked, ModuleItems, module_items
from hypothesis import given
from hypothesis import strategies as st

ASKED = (
    Asked("8.1", "readings", "Lesson 08, part 1"),
    Asked("8.2", "smallest", "Lesson 08, part 3", safety_critical=True),
    Asked("8.9", "letter", "Lesson 08, part 8"),
)
WORTH = {"8.1": 8.0, "8.2": 3.0, "8.9": 4.0}


def answer(student: str, question: str, points: float | None, status: str = "") -> QuestionRecord:
    worth = WORTH[question]
    told = "waiting for hand-grading" if points is None else "right" if points >= worth else "wrong"
    return QuestionRecord(student, question, points, worth, status or told, None)


def items(*records: QuestionRecord) -> ModuleItems:
    return module_items("08_rotor_measurement", ASKED, records)


def alike(students: int, points: dict[str, float | None]) -> list[QuestionRecord]:
    return [answer(f"s{n:02}", name, value) for n in range(students) for name, value in points.items()]


def test_an_empty_class_has_rows_and_no_figures() -> None:
    found = items()
    assert (found.students, len(found.items)) == (0, 3)
    for one in found.items:
        assert (one.marked, one.answered, one.percent, one.full_percent, one.interval) == (
            0,
            0,
            None,
            None,
            None,
        )
        assert one.discrimination.why == "nobody's answer was marked"
    assert found.reliability.value is None


def test_one_student_has_shares_with_a_wide_interval_and_no_coefficient() -> None:
    found = items(answer("s1", "8.1", 6), answer("s1", "8.2", 3), answer("s1", "8.9", None))
    first, second, third = found.items
    assert (first.percent, first.full, second.percent, second.full) == (75.0, 0, 100.0, 1)
    assert second.interval is not None and second.interval.low < 0.25 and second.interval.high == 1.0
    assert (third.percent, third.waiting, third.marked) == (None, 1, 0)
    assert "its answers wait to be marked by hand" in third.discrimination.why
    assert "at least 20 students whose work was marked, and there are 1" in first.discrimination.why


@pytest.mark.parametrize(("share", "full"), [(1.0, 24), (0.0, 0)])
def test_all_right_and_all_wrong_have_shares_and_no_coefficient(share: float, full: int) -> None:
    found = items(*alike(24, {name: share * worth for name, worth in WORTH.items()}))
    for one in found.items:
        assert (one.percent, one.full, one.marked) == (100 * share, full, 24)
        assert "everybody earned the same marks for it" in one.discrimination.why
        assert one.interval is not None and one.interval.low <= share <= one.interval.high
        assert one.interval.high - one.interval.low == pytest.approx(0.138, abs=0.001)  # Wilson, 24 of 24
    assert found.reliability.why == "everybody earned the same marks"


def test_an_empty_answer_is_marked_but_not_answered() -> None:
    found = items(answer("s1", "8.1", 0, "no answer"), answer("s2", "8.1", 8))
    assert (found.items[0].marked, found.items[0].answered, found.items[0].percent) == (2, 1, 50.0)


def test_hand_marks_that_wait_leave_the_rest_comparable() -> None:
    """8.9 waits for everybody: the others are compared without it. Expected: scipy on those two columns."""
    records, first, second = [], [], []
    for number in range(24):
        one, two = float(number % 9), 3.0 * (number % 3 == 0)
        first.append(one)
        second.append(two)
        name = f"s{number:02}"
        records += [answer(name, "8.1", one), answer(name, "8.2", two), answer(name, "8.9", None)]
    found = items(*records)
    expected = scipy.stats.pearsonr(first, second).statistic
    assert found.items[0].discrimination.value == pytest.approx(expected)
    assert found.items[1].discrimination.value == pytest.approx(expected)
    assert "wait to be marked by hand" in found.items[2].discrimination.why
    assert (found.reliability.questions, found.reliability.students) == (2, 24)


def test_students_with_a_gap_are_left_out_of_coefficients_only() -> None:
    records = [
        answer(f"s{n:02}", name, float(value))
        for n in range(30)
        for name, value in (("8.1", n % 9), ("8.2", n % 2 * 3), ("8.9", n % 4))
        if not (name == "8.9" and n < 6)  # six have no mark for the letter
    ]
    found = items(*records)
    assert [one.marked for one in found.items] == [30, 30, 24]
    assert {one.discrimination.students for one in found.items} == {24}
    assert found.reliability.students == 24


def test_work_that_could_not_be_graded_counts_nowhere() -> None:
    nothing = [answer("broken", name, None) for name in WORTH]
    found = items(*nothing, *alike(2, {"8.1": 8.0, "8.2": 3.0, "8.9": 4.0}))
    assert found.students == 2 and [one.waiting for one in found.items] == [1, 1, 1]


@given(st.permutations(range(25)), st.integers(0, 10_000))
def test_who_has_which_id_changes_nothing(order: list[int], seed: int) -> None:
    def of(names: list[int]) -> ModuleItems:
        return items(
            *(
                answer(f"s{names[n]:02}", name, float((n * 7 + seed + place) % (int(WORTH[name]) + 1)))
                for n in range(25)
                for place, name in enumerate(WORTH)
            )
        )

    plain, mixed = of(list(range(25))), of(order)
    for one, other in zip(plain.items, mixed.items, strict=True):
        assert (one.percent, one.full, one.interval) == (other.percent, other.full, other.interval)
        assert one.discrimination.value == pytest.approx(other.discrimination.value)


def test_the_tables_have_a_row_a_question_and_say_why_there_is_no_figure() -> None:
    found = items(answer("s1", "8.1", 6), answer("s1", "8.2", 3), answer("s1", "8.9", None))
    table = again_sheets.difficulty(found)
    keys = [heading.key for heading in table.headings]
    second = dict(zip(keys, table.rows[1], strict=True))
    assert (second["safety_critical"], str(second["percent"]), str(second["full_high"])) == (
        "yes",
        "100.0",
        "100.0",
    )
    assert dict(zip(keys, table.rows[2], strict=True))["percent"] is None
    told = again_sheets.discrimination(found)
    assert len(told.rows) == 4 and all(row[3] is None and row[-1] for row in told.rows)


# --------------------------------------------------------------------------------------------- completion


def grade(student: str, status: Status, when: datetime | None = None, late: int = 0) -> GradeRecord:
    return GradeRecord(
        student, "A", "Q", "08", status, "", None, None, (), None, 40.0, late, None, None, (), when
    )  # fmt: skip


def test_days_end_by_the_classs_clock_and_only_the_expected_count() -> None:
    night = datetime(2026, 3, 1, 23, 30, tzinfo=UTC)  # half past midnight in Paris: the next day
    found = completion(
        "08",
        [
            grade("s1", "graded", datetime(2026, 3, 1, 9, tzinfo=UTC)),
            grade("s2", "waiting for hand-grading", night),
            grade("s3", "graded", datetime(2026, 3, 4, 9, tzinfo=UTC), late=2),
            grade("s4", "not handed in"),
            grade("s5", "excused"),
            grade("s6", "could not be graded"),
        ],
        ZoneInfo("Europe/Paris"),
        datetime(2026, 3, 2, 18, tzinfo=UTC),
    )
    assert (found.students, found.handed_in, found.missing, found.excused) == (5, 4, 1, 1)
    assert (found.late, found.graded, found.waiting, found.could_not, found.without_time) == (1, 2, 1, 1, 1)
    assert [(day.day.day, day.handed_in, day.graded) for day in found.days] == [
        (1, 1, 1),
        (2, 2, 1),
        (4, 3, 2),
    ]
    assert [row[1:] for row in again_sheets.completion(found).rows] == [(1, 1, 5), (2, 1, 5), (3, 2, 5)]


def test_nothing_handed_in_is_no_day() -> None:
    found = completion("08", [grade("s1", "not handed in")], UTC)
    assert (found.days, found.missing, found.due) == ((), 1, None)
    assert completion("08", [], UTC).students == 0
