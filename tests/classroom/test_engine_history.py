"""The history of marks: every real change once, in the transaction that makes it, and never changed again.

Outside checks: SQLite itself refuses to change a row; nbgrader's own library makes the changes "elsewhere".
"""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import psycopg
import pytest
from brakecourse import marking
from brakecourse.classroom.engine import (
    end_excuse,
    excuse,
    grade,
    hand,
    set_hand_mark,
    take_back_hand_mark,
    write,
)
from brakecourse.classroom.engine.farm import Done, Job
from brakecourse.classroom.engine.ledger import HandMark, Ledger, Outcome
from brakecourse.classroom.engine.write import COULD_NOT, RunRecord
from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.classroom.records import MarkChange, grade_records, mark_history
from brakecourse.classroom.roster import write_roster
from brakecourse.errors import CourseError
from nbgrader.api import Gradebook

from tests.classroom.engine_class import (
    MODULE,
    filled,
    fresh_class,
    hand_in,
    make_class,
    released,
    right_answers,
)
from tests.classroom.own_postgresql import own_server
from tests.classroom.quick_farm import QuickFarm
from tests.conftest import needed

LETTER = "The rotor is worn."
FULL = {question.id: question.points for question in marking.questions(MODULE)}


def graded(cls: ClassFolder, **more: Any) -> list[str]:
    """Grade, and return who was really graded."""
    farm = QuickFarm()
    grade(cls, MODULE, farm=farm, **more)
    return farm.graded


@pytest.fixture
def cls(tmp_path: Path) -> ClassFolder:
    """A class in which s01 has handed in everything right, and a letter."""
    made = fresh_class(tmp_path)
    hand_in(made, "s01", filled(released(made), right_answers(made, "s01"), LETTER))
    return made


def short(changes: list[MarkChange]) -> list[tuple[str, str, str, float | None, float | None, bool]]:
    return [(c.student_id, c.question_id, c.kind, c.old_points, c.new_points, c.by_hand) for c in changes]


def new_ones(cls: ClassFolder, before: int) -> list[tuple[str, str, str, float | None, float | None, bool]]:
    return short(mark_history(cls, MODULE)[before:])


def in_formgrader(cls: ClassFolder, question: str, points: float | None, student: str = "s01") -> None:
    """Do what nbgrader's own page does when a person gives a mark (its GradeHandler.put)."""
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as book:
        row = book.find_grade(question, MODULE, MODULE, student)
        row.manual_score = points
        row.needs_manual_grade = row.manual_score is None and row.auto_score is None
        book.db.commit()


def test_a_first_grading_is_a_change_from_nothing(cls: ClassFolder) -> None:
    before = datetime.now(UTC)
    graded(cls)
    found = mark_history(cls, MODULE)
    # The letter waits: it has no mark yet, so nothing has changed.
    assert short(found) == [("s01", f"8.{n}", "graded", None, FULL[f"8.{n}"], False) for n in range(1, 9)]
    assert {change.why.startswith("First grading.") for change in found} == {True}
    with Ledger(cls) as ledger, ledger.reading() as book:
        outcome = book.db.get(Outcome, (MODULE, "s01"))
    assert {(c.case_version, c.course_version) for c in found} == {
        (outcome.case_version, outcome.course_version)
    }
    assert all(before <= change.at <= datetime.now(UTC) for change in found)


class FaultyFarm(QuickFarm):
    """A farm on a machine that can grade nothing today."""

    def run(self, jobs: Iterable[Job]) -> Iterator[Done]:
        for job in jobs:
            yield Done(job.plan.module, RunRecord(job.student_id, COULD_NOT, "No memory was left."))


def test_a_fault_of_the_machine_is_told_but_is_nothing_in_the_history(cls: ClassFolder) -> None:
    (row,) = [one for one in grade(cls, MODULE, farm=FaultyFarm()).rows if one.student_id == "s01"]
    assert (row.status, row.why) == (COULD_NOT, "No memory was left.")
    assert grade_records(cls, MODULE)[0].status == COULD_NOT and mark_history(cls) == []
    assert graded(cls) == ["s01"]  # it is tried again, as if for the first time
    assert {change.why.split(".")[0] for change in mark_history(cls)} == {"First grading"}


def test_a_fault_of_the_machine_leaves_what_is_known_of_the_work(cls: ClassFolder) -> None:
    hand_in(cls, "s01", b"junk")
    graded(cls)
    why, many = grade_records(cls, MODULE)[0].why, len(mark_history(cls))
    assert why
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01"), LETTER))
    grade(cls, MODULE, farm=FaultyFarm())
    assert grade_records(cls, MODULE)[0].status == COULD_NOT and len(mark_history(cls)) == many
    assert graded(cls) == ["s01"]
    assert mark_history(cls)[-1].why.startswith("Something newer was handed in.")


def test_what_does_not_change_is_not_written(cls: ClassFolder) -> None:
    graded(cls)
    many = len(mark_history(cls))
    assert graded(cls) == [] and graded(cls, force=True) == ["s01"]
    assert len(mark_history(cls)) == many
    set_hand_mark(cls, MODULE, "s01", "8.9", 3, "Kind.")
    set_hand_mark(cls, MODULE, "s01", "8.9", 3, "Kind and clear.")
    take_back_hand_mark(cls, MODULE, "s01", "8.9")
    take_back_hand_mark(cls, MODULE, "s01", "8.9")
    assert new_ones(cls, many) == [
        ("s01", "8.9", "mark by hand", None, 3, True),
        ("s01", "8.9", "hand mark taken back", 3, None, False),
    ]
    assert mark_history(cls)[many].why == "A person gave it: Kind."


def test_newer_work_says_from_what_to_what_and_why(cls: ClassFolder) -> None:
    graded(cls)
    set_hand_mark(cls, MODULE, "s01", "8.9", 3)
    set_hand_mark(cls, MODULE, "s01", "8.1", 1)
    many = len(mark_history(cls))
    answers = right_answers(cls, "s01")
    hand_in(cls, "s01", filled(released(cls), answers | {"8.4": answers["8.4"] / 2}, "Another letter."))
    graded(cls)
    # The mark by hand for 8.1 stays: its answer is the same one. The letter's waits.
    assert new_ones(cls, many) == [
        ("s01", "8.4", "graded again", 6, 3, False),
        ("s01", "8.9", "graded again", 3, None, False),
    ]
    halved = mark_history(cls)[many]
    assert halved.why.startswith("Something newer was handed in.") and len(halved.why) > 40
    assert "8.9" in next(r for r in grade_records(cls, MODULE) if r.student_id == "s01").waiting_questions


def test_work_that_can_not_be_graded_and_excuses_are_written(cls: ClassFolder) -> None:
    hand_in(cls, "s02", b"junk")
    graded(cls)
    graded(cls)
    hand_in(cls, "s02", b"other junk")
    graded(cls)
    excuse(cls, MODULE, "s03", "Ill.")
    excuse(cls, MODULE, "s03", "Ill for long.")
    end_excuse(cls, MODULE, "s03")
    end_excuse(cls, MODULE, "s03")
    end_excuse(cls, MODULE, "s01")
    rest = [change for change in mark_history(cls) if change.student_id != "s01"]
    assert short(rest) == [
        ("s02", "", "could not be graded", None, None, False),
        ("s03", "", "excused", None, None, False),
        ("s03", "", "excuse ended", None, None, False),
    ]
    assert "can't be read as a notebook" in rest[0].why and rest[1].why == "Ill."
    hand_in(cls, "s01", b"")
    many = len(mark_history(cls))
    graded(cls)
    lost = new_ones(cls, many)
    assert lost[0] == ("s01", "", "could not be graded", None, None, False)
    assert [row[1:3] + row[4:] for row in lost[1:]] == [
        (f"8.{n}", "could not be graded", None, False) for n in range(1, 9)
    ]
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01"), LETTER))
    many = len(mark_history(cls))
    graded(cls)
    assert [row[1:3] for row in new_ones(cls, many)] == [
        ("", "graded"),
        *((f"8.{n}", "graded again") for n in range(1, 9)),
    ]


def test_what_a_person_does_on_nbgraders_own_page_is_noticed_at_the_next_run(cls: ClassFolder) -> None:
    graded(cls)
    many = len(mark_history(cls))
    in_formgrader(cls, "q8_9", 2.5)
    in_formgrader(cls, "q8_2", 1)
    assert new_ones(cls, many) == []
    assert graded(cls) == []
    assert new_ones(cls, many) == [
        ("s01", "8.2", "mark by hand in nbgrader", FULL["8.2"], 1, True),
        ("s01", "8.9", "mark by hand in nbgrader", None, 2.5, True),
    ]
    graded(cls)
    in_formgrader(cls, "q8_2", None)
    in_formgrader(cls, "q8_9", 4)
    graded(cls)
    assert new_ones(cls, many + 2) == [
        ("s01", "8.2", "hand mark taken back", 1, FULL["8.2"], False),
        ("s01", "8.9", "mark by hand in nbgrader", 2.5, 4, True),
    ]


def test_a_mark_given_on_nbgraders_own_page_survives_grading_again(cls: ClassFolder) -> None:
    graded(cls)
    in_formgrader(cls, "q8_9", 2.5)
    graded(cls, force=True)
    (record, *_) = grade_records(cls, MODULE)
    assert (record.status, record.hand_points) == ("graded", 2.5)
    # Also for a new hand-in with the same letter; another letter waits for the person.
    hand_in(cls, "s01", filled(released(cls), {}, LETTER))
    graded(cls)
    assert grade_records(cls, MODULE)[0].hand_points == 2.5
    hand_in(cls, "s01", filled(released(cls), {}, "Another."))
    graded(cls)
    assert grade_records(cls, MODULE)[0].waiting_questions == ("8.9",)
    # Looked at again on that page, the mark holds for the letter that was there.
    in_formgrader(cls, "q8_9", 2.5)
    graded(cls, force=True)
    assert grade_records(cls, MODULE)[0].hand_points == 2.5
    with Ledger(cls) as ledger, ledger.reading() as book:
        assert book.db.get(HandMark, (MODULE, "s01", "8.9")).answer == "Another."


def test_a_mark_by_hand_here_first_writes_down_what_was_changed_there(cls: ClassFolder) -> None:
    graded(cls)
    many = len(mark_history(cls))
    in_formgrader(cls, "q8_9", 2)
    set_hand_mark(cls, MODULE, "s01", "8.9", 3)
    assert new_ones(cls, many) == [
        ("s01", "8.9", "mark by hand in nbgrader", None, 2, True),
        ("s01", "8.9", "mark by hand", 2, 3, True),
    ]


def test_what_another_program_did_to_the_machines_points_is_noticed(cls: ClassFolder) -> None:
    graded(cls)
    many = len(mark_history(cls))
    with sqlite3.connect(cls.gradebook_file) as database:
        database.execute(
            "UPDATE grade SET auto_score = 99 WHERE cell_id IN (SELECT id FROM base_cell WHERE name='q8_4')"
        )
    graded(cls, force=True)
    assert new_ones(cls, many) == [
        ("s01", "8.4", "changed in nbgrader", 6, 99, False),
        ("s01", "8.4", "graded again", 99, 6, False),
    ]


CHANGES = [
    "UPDATE brakecourse_history SET new_points = 40",
    "UPDATE brakecourse_history SET why = '' WHERE id = 1",
    "DELETE FROM brakecourse_history",
    "DELETE FROM brakecourse_history WHERE id = 1",
    "INSERT OR REPLACE INTO brakecourse_history (id, at, module, student_id, question_id, kind, "
    "case_version, course_version, by_hand, why) VALUES (1, '2026-01-01', 'm', 's01', '', '', '', '', 0, '')",
    "REPLACE INTO brakecourse_history SELECT * FROM brakecourse_history",
]


@pytest.mark.parametrize("statement", CHANGES)
def test_the_database_refuses_to_change_the_history(cls: ClassFolder, statement: str) -> None:
    graded(cls)
    before = mark_history(cls)
    with (
        sqlite3.connect(cls.gradebook_file) as database,
        pytest.raises(sqlite3.IntegrityError, match="only ever added to"),
    ):
        database.execute(statement)
    assert mark_history(cls) == before
    set_hand_mark(cls, MODULE, "s01", "8.9", 1)
    assert mark_history(cls)[:-1] == before


def test_a_change_and_its_history_are_stored_together_or_not_at_all(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    graded(cls)
    before, marks = mark_history(cls), grade_records(cls, MODULE)

    def fails(*_: object, **__: object) -> None:
        raise CourseError("The disk is full.")

    monkeypatch.setattr(hand, "record_changes", fails)
    monkeypatch.setattr(write, "record_changes", fails)
    with pytest.raises(CourseError, match="disk is full"):
        set_hand_mark(cls, MODULE, "s01", "8.9", 3)
    hand_in(cls, "s01", released(cls))
    with pytest.raises(CourseError, match="disk is full"):
        graded(cls)
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01"), LETTER))
    assert (mark_history(cls), grade_records(cls, MODULE)) == (before, marks)


def test_an_older_gradebook_gets_its_history_with_what_stands_in_it(cls: ClassFolder) -> None:
    hand_in(cls, "s02", b"junk")
    graded(cls)
    set_hand_mark(cls, MODULE, "s01", "8.1", 2)
    in_formgrader(cls, "q8_9", 4)
    excuse(cls, MODULE, "s03")
    with sqlite3.connect(cls.gradebook_file) as database:
        # As a version of the course without a history left it.
        database.execute("DROP TABLE brakecourse_history")
        database.execute("DROP TABLE brakecourse_kept_notebook")
    found = short(mark_history(cls))
    assert sorted(found) == sorted(
        [
            ("s02", "", "could not be graded", None, None, False),
            ("s03", "", "excused", None, None, False),
            ("s01", "8.1", "was there before", None, 2, True),
            ("s01", "8.9", "was there before", None, 4, True),
            *(("s01", f"8.{n}", "was there before", None, FULL[f"8.{n}"], False) for n in range(2, 9)),
        ]
    )
    # Nothing is written twice, and the mark given elsewhere is kept like one given here.
    graded(cls, force=True)
    assert short(mark_history(cls)) == found
    assert grade_records(cls, MODULE)[0].hand_points == 4


def test_the_history_is_asked_by_module_and_student(cls: ClassFolder) -> None:
    hand_in(cls, "s02", released(cls))
    graded(cls)
    everything = mark_history(cls)
    assert {c.student_id for c in everything} == {"s01", "s02"}
    assert mark_history(cls, MODULE) == everything
    assert mark_history(cls, student="s01") == [c for c in everything if c.student_id == "s01"]
    assert mark_history(cls, "07_none") == [] == mark_history(cls, student="s03")
    with pytest.raises(CourseError, match="No student 's99'"):
        mark_history(cls, student="s99")


def test_who_left_the_class_keeps_a_history(cls: ClassFolder) -> None:
    graded(cls)
    write_roster([entry for entry in cls.roster if entry.student_id != "s01"], cls.roster_file)
    later = open_class(cls.root)
    assert len(mark_history(later, student="s01")) == 8


def test_a_copied_gradebook_keeps_its_rules(cls: ClassFolder, tmp_path: Path) -> None:
    graded(cls)
    copy = tmp_path / "copy.db"
    shutil.copy(cls.gradebook_file, copy)
    with sqlite3.connect(copy) as database, pytest.raises(sqlite3.IntegrityError):
        database.execute("DELETE FROM brakecourse_history")


@pytest.mark.slow
@pytest.mark.postgresql
def test_postgresql_refuses_to_change_the_history_too(tmp_path: Path) -> None:
    with own_server(Path(needed("postgresql"))) as server:
        name = server.new_database()
        cls = make_class(tmp_path, gradebook=server.address(name))
        hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01"), LETTER))
        graded(cls)
        set_hand_mark(cls, MODULE, "s01", "8.9", 2)
        before = mark_history(cls)
        assert len(before) == 9
        for statement in (
            "UPDATE brakecourse_history SET new_points = 40",
            "DELETE FROM brakecourse_history WHERE id = 1",
            "TRUNCATE brakecourse_history",
        ):
            with (
                server.connect(name) as connection,
                pytest.raises(psycopg.errors.RaiseException, match="only ever added to"),
            ):
                connection.execute(statement)
        assert mark_history(cls) == before
