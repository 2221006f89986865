"""The rules of grades, each as a case, held against plain nbgrader's own gradebook where it has the figure.

nbgrader knows points, marks by hand, extensions and who is waited for; it has no rule for several attempts,
for lateness in percent or for rounding. Those are worked out here by hand, from the rule's words.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from brakecourse.classroom.counting import count, counted
from brakecourse.classroom.engine import accept, excuse, grade, preview, set_hand_mark
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import GradeRecord, grade_records, mark_history
from brakecourse.exports import sheets
from brakecourse.exports.cells import rounded
from brakecourse.exports.sheets import csv_bytes
from brakecourse.exports.tables import export_all
from nbgrader.api import Gradebook

from tests.classroom.engine_class import (
    HANDED_IN,
    MODULE,
    filled,
    fresh_class,
    hand_in,
    released,
    right_answers,
)
from tests.classroom.quick_farm import QuickFarm

SECOND = f"{MODULE}-attempt-2"
LETTER = "The rotor is worn."


@pytest.fixture
def cls(tmp_path: Path) -> ClassFolder:
    """A graded class: s01 all right and a letter that waits, s02 an empty notebook, s03 handed in nothing."""
    made = fresh_class(tmp_path)
    hand_in(made, "s01", filled(released(made), right_answers(made, "s01"), LETTER))
    hand_in(made, "s02", released(made))
    grade(made, MODULE, farm=QuickFarm())
    return made


@contextmanager
def nbgraders(cls: ClassFolder) -> Iterator[Gradebook]:
    """The gradebook as plain nbgrader opens it, without any of the course's code."""
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        yield book


def exported(cls: ClassFolder) -> dict[str, dict[str, str]]:
    """What the register gets, by student: the rows of results.csv."""
    export_all(cls)
    with (cls.exports / "results.csv").open(encoding="utf-8", newline="") as stream:
        return {row["student_id"]: row for row in csv.DictReader(stream)}


def record(cls: ClassFolder, student: str) -> GradeRecord:
    return next(one for one in grade_records(cls, MODULE) if one.student_id == student)


def test_hand_grading_pending_is_no_score_and_the_mark_makes_it_one(cls: ClassFolder) -> None:
    with nbgraders(cls) as book:
        theirs = book.find_submission(MODULE, "s01")
        assert theirs.needs_manual_grade and theirs.score == 36
    assert exported(cls)["s01"]["status"] == "waiting for hand-grading"
    assert exported(cls)["s01"]["final_score"] == ""
    set_hand_mark(cls, MODULE, "s01", "8.9", 2.5)
    with nbgraders(cls) as book:
        theirs = book.find_submission(MODULE, "s01")
        assert not theirs.needs_manual_grade
        assert Decimal(exported(cls)["s01"]["final_score"]) == Decimal(str(theirs.score)) == Decimal("38.5")


def test_a_mark_given_in_nbgrader_itself_counts_too(cls: ClassFolder) -> None:
    with nbgraders(cls) as book:
        given = book.find_grade("q8_9", MODULE, MODULE, "s01")
        given.manual_score, given.needs_manual_grade = 1.0, False
        book.db.commit()
    assert exported(cls)["s01"]["final_score"] == "37.00"


def test_missing_is_no_zero_and_an_empty_notebook_is_one(cls: ClassFolder) -> None:
    with nbgraders(cls) as book:
        assert book.find_submission(MODULE, "s02").score == 0
        assert [one.student.id for one in book.assignment_submissions(MODULE)] == ["s01", "s02"]
    rows = exported(cls)
    assert (rows["s03"]["status"], rows["s03"]["final_score"]) == ("not handed in", "")
    assert (rows["s02"]["status"], rows["s02"]["final_score"]) == ("graded", "0.00")


def test_excused_has_no_score_and_its_points_stay_in_nbgrader(cls: ClassFolder) -> None:
    set_hand_mark(cls, MODULE, "s01", "8.9", 4)
    excuse(cls, MODULE, "s01", "Ill.")
    assert (exported(cls)["s01"]["status"], exported(cls)["s01"]["final_score"]) == ("excused", "")
    with nbgraders(cls) as book:
        assert book.find_submission(MODULE, "s01").score == 40


@pytest.mark.parametrize(
    ("hours", "extension", "share"),
    [(0, 0, Fraction(0)), (1, 0, Fraction(1, 10)), (30, 0, Fraction(2, 10)), (30, 29, Fraction(1, 10)),
     (30, 30, Fraction(0)), (24 * 30, 0, Fraction(1, 2))],
)  # fmt: skip
def test_lateness_takes_off_a_share_of_nbgraders_score(
    cls: ClassFolder, hours: int, extension: int, share: Fraction
) -> None:
    """Ten percent a day begun, at most fifty; the extension is granted by plain nbgrader."""
    set_hand_mark(cls, MODULE, "s01", "8.9", 2.5)
    late = cls.with_due(MODULE, HANDED_IN - timedelta(hours=hours))
    with nbgraders(cls) as book:
        book.grant_extension(MODULE, "s01", hours=extension)
        score = Fraction(str(book.find_submission(MODULE, "s01").score))
    found = record(late, "s01")
    assert found.raw_score == float(score)
    assert found.final_score == pytest.approx(float(score * (1 - share)), abs=1e-9)


ATTEMPTS: Mapping[str, tuple[float, tuple[int, ...]]] = {
    "best": (33.0, (1,)),
    "last": (20.5, (2,)),
    "average": (26.75, (1, 2)),
}


def attempt(cls: ClassFolder, module: str, score: float | None) -> GradeRecord:
    """A record of one attempt, made of the one in the gradebook."""
    base = replace(record(cls, "s02"), module=module)
    status = "graded" if score is not None else "not handed in"
    return replace(base, status=status, raw_score=score, final_score=score)


@pytest.mark.parametrize("rule", ATTEMPTS)
def test_of_two_attempts_the_class_s_rule_decides(cls: ClassFolder, rule: str) -> None:
    both = [attempt(cls, MODULE, 33.0), attempt(cls, SECOND, 20.5)]
    (one,) = count(both, rule)  # type: ignore[arg-type]
    assert (one.record.final_score, one.counts) == ATTEMPTS[rule]
    (missed,) = count([both[0], attempt(cls, SECOND, None)], rule)  # type: ignore[arg-type]
    assert (missed.record.final_score, missed.counts) == (33.0, (1,))


def correct_the_key(cls: ClassFolder) -> None:
    """Correct a sealed answer, as after a fault in the key was found: what s01 gave is wrong now."""
    path = cls.case_file(MODULE, "s01")
    case = json.loads(path.read_text(encoding="utf-8"))
    (one,) = (one for one in case["questions"] if one["id"] == "8.4")
    one["expected"] += 1
    path.write_text(json.dumps(case), encoding="utf-8")


def nbgrader_points(cls: ClassFolder) -> dict[str, float]:
    with nbgraders(cls) as book:
        return {one.name: one.score for one in book.find_submission(MODULE, "s01").notebooks[0].grades}


def test_a_corrected_key_shows_before_and_after_and_a_mark_by_hand_survives(cls: ClassFolder) -> None:
    set_hand_mark(cls, MODULE, "s01", "8.9", 3)
    set_hand_mark(cls, MODULE, "s01", "8.1", 1)
    before, register = nbgrader_points(cls), exported(cls)["s01"]["final_score"]
    correct_the_key(cls)
    grade(cls, MODULE, farm=QuickFarm())
    assert (nbgrader_points(cls), exported(cls)["s01"]["final_score"]) == (before, register)
    looked_at = preview(cls, MODULE, farm=QuickFarm())
    shown = {one.question_id: (one.old, one.new) for one in looked_at.changes}
    assert shown["8.4"] == (before["q8_4"], 0.0) and "8.1" not in shown and "8.9" not in shown
    assert {one.question_id for one in looked_at.stays} == {"8.1", "8.9"}
    assert nbgrader_points(cls) == before  # looking writes nothing
    accept(cls, looked_at)
    after = nbgrader_points(cls)
    assert (after["q8_1"], after["q8_9"]) == (1.0, 3.0)  # what a person gave is as it was
    assert {name for name in after if after[name] != before[name]} == {
        f"q{name.replace('.', '_')}" for name in shown
    }
    lost = sum(before.values()) - sum(after.values())
    assert Decimal(exported(cls)["s01"]["final_score"]) == Decimal(register) - Decimal(str(lost))
    told = {(one.question_id, one.old_points, one.new_points) for one in mark_history(cls, MODULE, "s01")}
    assert ("8.4", before["q8_4"], 0.0) in told


def test_rounding_early_would_give_another_grade(cls: ClassFolder) -> None:
    """Three modules of 8.35 of 12 each: 25.05 of 36 is 69.58…, shown as 69.6; of scores that were rounded
    to one place first (8.4 each, 25.2 of 36) it would be 70.0, and so a pass at 70. By Fraction."""
    own = [
        replace(attempt(cls, name, 8.35), max_score=12.0)
        for name in ("07_pad_wear", MODULE, "10_hub_and_rotor_fit")
    ]
    exact = 100 * Fraction("25.05") / 36
    early = 100 * Fraction("25.2") / 36
    assert exact < 70 == early
    table = sheets.final_scores(count(own, "best"))
    ((*_, points, out_of, percent),) = table.rows
    assert (points, out_of, percent) == (Decimal("25.05"), Decimal("36.00"), Decimal("69.6"))
    assert percent == rounded(float(exact), 1) and b'"69.6"' in csv_bytes(table)


def test_the_mean_of_attempts_is_not_rounded_before_the_sum(cls: ClassFolder) -> None:
    """Means of 8.33 and 8.34 in three modules are 8.335 each, 25.005 in all: 25.01, halves up. Means
    that were rounded first would give 25.02 (or, rounded down, 24.99)."""
    names = ("07_pad_wear", MODULE, "10_hub_and_rotor_fit")
    both = [
        attempt(cls, f"{name}{more}", score)
        for name in names
        for more, score in (("", 8.33), ("-attempt-2", 8.34))
    ]
    ((*_, points, _out_of, _percent),) = sheets.final_scores(count(both, "average")).rows
    assert points == Decimal("25.01")


def test_a_penalty_is_not_rounded_before_it_is_taken_off(cls: ClassFolder) -> None:
    """A tenth of 36.25 is 3.625, so 32.625 is left: 32.63, halves up, of nbgrader's own 36.25."""
    set_hand_mark(cls, MODULE, "s01", "8.9", 0.25)
    late = cls.with_due(MODULE, HANDED_IN - timedelta(hours=1))
    with nbgraders(cls) as book:
        assert Fraction(str(book.find_submission(MODULE, "s01").score)) * Fraction(9, 10) == Fraction(
            "32.625"
        )
    assert record(late, "s01").final_score == 32.625
    assert exported(late)["s01"]["final_score"] == "32.63"


def test_points_keep_their_two_decimals_on_the_way(cls: ClassFolder) -> None:
    """Nothing between nbgrader's points and the register rounds to less than the points' two decimals."""
    with nbgraders(cls) as book:
        for name, score in (("q8_1", 0.13), ("q8_2", 0.13), ("q8_9", 0.13)):
            given = book.find_grade(name, MODULE, MODULE, "s02")
            given.manual_score, given.needs_manual_grade = score, False
        book.db.commit()
        theirs = book.find_submission(MODULE, "s02").score
    (one,) = (found for found in counted(cls) if found.record.student_id == "s02")
    assert one.record.final_score == pytest.approx(theirs) == pytest.approx(0.39)
    assert exported(cls)["s02"]["final_score"] == "0.39"  # 0.1 three times, rounded early, would be 0.30
