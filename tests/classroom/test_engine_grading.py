"""Grading a class: every sort of submission gets its status, nothing is graded twice, hand marks stay.

Outside checks: nbgrader's own library reads the points back; a plain ``nbgrader autograde`` finds the same.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import threading
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse import marking
from brakecourse.classroom.engine import farm, grade, sandbox, set_hand_mark, take_back_hand_mark
from brakecourse.classroom.engine.execute import KernelTrouble
from brakecourse.classroom.engine.farm import Done, Job, LocalFarm, do
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.ledger import Ledger, Outcome, QuestionMark
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import grade_records, question_records
from brakecourse.errors import CourseError
from nbgrader.utils import determine_grade
from sqlalchemy import select

from tests.classroom.engine_class import (
    MODULE,
    answer_cell,
    case_of,
    cell_of,
    filled,
    fresh_class,
    graded_class,
    hand_in,
    points_in_gradebook,
    released,
    right_answers,
)
from tests.classroom.shared_farm import shared_farm

pytestmark = pytest.mark.sandbox
FULL = {question.id: question.points for question in marking.questions(MODULE)}


class Here(LocalFarm):
    """A farm that does its jobs in this process, so that a test can reach into it."""

    def __init__(self, work_by: Callable[[Job], Done] = do) -> None:
        super().__init__(1, work_by)

    def run(self, jobs: Iterable[Job]) -> Iterator[Done]:
        return map(self._work_by, jobs)


def status_of(cls: ClassFolder, student: str) -> str:
    return next(record.status for record in grade_records(cls, MODULE) if record.student_id == student)


def marks_of(cls: ClassFolder, student: str) -> dict[str, Any]:
    return {one.question_id: one for one in question_records(cls, MODULE) if one.student_id == student}


def fingerprints(folder: Path) -> dict[str, str]:
    files = [path for path in sorted(folder.rglob("*")) if path.is_file()]
    return {str(path): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


@pytest.fixture(scope="module")
def graded(tmp_path_factory: pytest.TempPathFactory) -> tuple[ClassFolder, dict[str, str]]:
    """A graded class that no test changes."""
    return graded_class(tmp_path_factory.mktemp("graded"))


def test_every_sort_of_submission_gets_its_status(graded: tuple[ClassFolder, dict[str, str]]) -> None:
    cls, who = graded
    records = {record.student_id: record for record in grade_records(cls, MODULE)}
    assert {sort: records[student].status for sort, student in who.items()} == {
        "right": "waiting for hand-grading",
        "some wrong": "graded",
        "empty": "graded",
        "broken": "could not be graded",
        "loop": "graded",
        "deleted": "graded",
        "copied": "graded",
        "missing": "not handed in",
    }
    assert "can't be read as a notebook" in records[who["broken"]].why
    assert records[who["broken"]].raw_score is None
    assert "was stopped after 2 seconds" in records[who["loop"]].why
    assert records[who["deleted"]].healed == (
        "The hand-in cell of question 8.4 was missing; it was put back.",
    )
    assert len(records[who["copied"]].healed) == 2


def test_points_are_those_of_the_marking(graded: tuple[ClassFolder, dict[str, str]]) -> None:
    cls, who = graded
    for sort, answers in {
        "right": right_answers(cls, who["right"]),
        "empty": {},
        # The answer handed in before the loop began is not the right one, and all later ones are.
        "loop": right_answers(cls, who["loop"]) | {"8.3": 0},
        "copied": right_answers(cls, who["copied"]) | {"8.2": 1.0},
    }.items():
        case = case_of(cls, who[sort])
        found = marks_of(cls, who[sort])
        for question in case.questions:
            if question.kind != "written":
                given = answers.get(question.id)
                before = {other: value for other, value in answers.items() if other != question.id}
                assert found[question.id].points == marking.judge(case, question.id, given, before).points
    assert sum(one.points or 0 for one in marks_of(cls, who["right"]).values()) == 36
    assert {one.status for one in marks_of(cls, who["empty"]).values()} == {"no answer"}
    # Its hand-in cell was put back, so the answer that stands above it earns its marks.
    assert marks_of(cls, who["deleted"])["8.4"].points == FULL["8.4"]
    assert marks_of(cls, who["some wrong"])["8.4"].mistake == "half_of_total"


def test_an_answer_worked_rightly_from_a_wrong_one_earns_its_marks(
    graded: tuple[ClassFolder, dict[str, str]],
) -> None:
    cls, who = graded
    with Ledger(cls) as ledger, ledger.reading() as book:
        mark = book.db.get(QuestionMark, (MODULE, who["some wrong"], "8.3"))
        assert (mark.status, mark.points, mark.carried_forward) == ("right", FULL["8.3"], True)
        assert marking.judge(case_of(cls, who["some wrong"]), "8.3", mark.answer, {}).points < FULL["8.3"]


def test_the_kept_notebook_says_the_same_to_nbgrader(graded: tuple[ClassFolder, dict[str, str]]) -> None:
    cls, who = graded
    stored = points_in_gradebook(cls)
    for sort in ("right", "some wrong", "loop", "copied"):
        kept = nbformat.read(cls.root / "autograded" / who[sort] / MODULE / f"{MODULE}.ipynb", 4)
        nbformat.validate(kept)
        for name in (f"q8_{n}" for n in range(1, 10)):
            assert determine_grade(cell_of(kept, name))[0] == stored[who[sort], name]
    assert {stored[who["broken"], f"q8_{n}"] for n in range(1, 10)} == {None}


def test_submissions_are_only_read(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    hand_in(cls, "s01", filled(released(cls), {"8.2": 1.0}))
    hand_in(cls, "s02", b"junk")
    before = fingerprints(cls.root / "submitted")
    grade(cls, MODULE)
    assert fingerprints(cls.root / "submitted") == before


def test_nothing_is_graded_twice_and_what_changed_is(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    worked: list[int] = []
    again = grade(cls, MODULE, farm=Here(lambda job: worked.append(1) or do(job)))
    assert (again.fresh, worked) == (0, [])
    assert again.count("graded") == 6 and again.count("not handed in") == 1
    hand_in(cls, who["empty"], filled(released(cls), {"8.2": right_answers(cls, who["empty"])["8.2"]}))
    case_file = cls.case_file(MODULE, who["deleted"])
    case_file.write_text(case_file.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    third = grade(cls, MODULE, farm=shared_farm())
    assert [row.student_id for row in third.rows if row.fresh] == [who["empty"]]
    assert [row.student_id for row in third.held] == [who["deleted"]]
    assert marks_of(cls, who["empty"])["8.2"].points == FULL["8.2"]
    forced = grade(cls, MODULE, students=[who["right"]], force=True, farm=shared_farm())
    assert [row.fresh for row in forced.rows] == [True]


def test_marks_given_by_hand_stay_and_a_changed_letter_waits_again(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    answers = right_answers(cls, "s01")
    hand_in(cls, "s01", filled(released(cls), answers, "A letter."))
    grade(cls, MODULE, farm=shared_farm())
    set_hand_mark(cls, MODULE, "s01", "8.9", 3, "Kind and clear.")
    set_hand_mark(cls, MODULE, "s01", "8.4", 2.5)
    (record, *_) = grade_records(cls, MODULE)
    assert (record.status, record.raw_score, record.hand_points) == ("graded", 36 - FULL["8.4"] + 5.5, 3)
    grade(cls, MODULE, force=True, farm=shared_farm())
    assert grade_records(cls, MODULE)[0] == record
    # A new hand-in with the same letter: the person need not read it again.
    hand_in(cls, "s01", filled(released(cls), answers | {"8.4": None}, "A letter."))
    grade(cls, MODULE, farm=shared_farm())
    assert marks_of(cls, "s01")["8.9"].points == 3
    assert status_of(cls, "s01") == "waiting for hand-grading"  # 8.4 is another answer than the one marked
    take_back_hand_mark(cls, MODULE, "s01", "8.4")
    assert marks_of(cls, "s01")["8.4"].points == 0
    hand_in(cls, "s01", filled(released(cls), answers, "Another letter."))
    grade(cls, MODULE, farm=shared_farm())
    assert marks_of(cls, "s01")["8.9"].points is None
    assert status_of(cls, "s01") == "waiting for hand-grading"


@pytest.mark.parametrize("points", [-0.5, 4.5, float("nan"), float("inf"), True, "3", None])
def test_points_out_of_range_are_refused(graded: tuple[ClassFolder, dict[str, str]], points: Any) -> None:
    cls, who = graded
    with pytest.raises(CourseError, match="Points from 0 to 4 were expected"):
        set_hand_mark(cls, MODULE, who["right"], "8.9", points)
    assert marks_of(cls, who["right"])["8.9"].points is None


def test_hand_marks_for_nobody_and_nothing_are_refused(graded: tuple[ClassFolder, dict[str, str]]) -> None:
    cls, who = graded
    for student, question, words in [
        ("s99", "8.9", "No student 's99'"),
        (who["right"], "8.10", "no question '8.10'"),
        (who["missing"], "8.9", "Nothing of student"),
    ]:
        with pytest.raises(CourseError, match=words):
            set_hand_mark(cls, MODULE, student, question, 1)
    with pytest.raises(CourseError, match="shorten"):
        set_hand_mark(cls, MODULE, who["right"], "8.9", 1, "x" * 6000)


def test_a_broken_notebook_can_be_marked_by_hand_altogether(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    for question in FULL:
        assert status_of(cls, who["broken"]) == "could not be graded"
        set_hand_mark(cls, MODULE, who["broken"], question, 1)
    record = next(record for record in grade_records(cls, MODULE) if record.student_id == who["broken"])
    assert (record.status, record.raw_score) == ("graded", len(FULL))


def test_a_notebook_of_another_name_is_found(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01")), name="Untitled1 (2)")
    hand_in(cls, "s01", nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("1")]), name="0-notes")
    (row, *_) = grade(cls, MODULE, farm=shared_farm()).rows
    assert row.healed == ("The notebook was called 'Untitled1 (2).ipynb'; it was taken as the exercise.",)
    assert sum(one.points for one in marks_of(cls, "s01").values()) == 36


def test_whose_it_is_does_not_come_from_the_notebook(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    notebook = filled(released(cls), right_answers(cls, "s02"))
    notebook.metadata["student"] = "s02"
    answer_cell(notebook, "8.1").source += "\nimport os\nos.environ['STUDENT'] = 's02'"
    hand_in(cls, "s01", notebook)
    grade(cls, MODULE, farm=shared_farm())
    assert "8.1" in marks_of(cls, "s01")
    assert marks_of(cls, "s02") == {}
    assert marks_of(cls, "s01")["8.1"].points < FULL["8.1"]


def test_a_missing_or_foreign_case_is_a_status(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    for student in cls.student_ids:
        hand_in(cls, student, released(cls))
    cls.case_file(MODULE, "s01").unlink()
    shutil.copy(cls.case_file(MODULE, "s03"), cls.case_file(MODULE, "s02"))
    rows = grade(cls, MODULE, farm=shared_farm()).rows
    assert [row.status for row in rows] == ["could not be graded", "could not be graded", "graded"]
    assert "No sealed case" in rows[0].why and "belongs to another student" in rows[1].why


def test_what_nobody_thought_of_does_not_stop_the_class(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cls = fresh_class(tmp_path)
    for student in cls.student_ids:
        hand_in(cls, student, released(cls))
    real = farm.work

    def surprising(content: bytes, plan: Any, case: Any, *rest: Any) -> Any:
        if case.case.student == "s01":
            raise ZeroDivisionError("a surprise")
        if case.case.student == "s02":
            raise KernelTrouble("no memory")
        return real(content, plan, case, *rest)

    monkeypatch.setattr(farm, "work", surprising)
    rows = grade(cls, MODULE, farm=Here()).rows
    assert [row.status for row in rows] == ["could not be graded", "could not be graded", "graded"]
    assert "ZeroDivisionError: a surprise" in rows[0].why
    assert "did not start (no memory)" in rows[1].why
    monkeypatch.setattr(farm, "work", real)
    # What this machine could not do is tried again without being asked for.
    assert [row.fresh for row in grade(cls, MODULE).rows] == [True, True, False]


def test_a_submission_that_became_unreadable_loses_its_points_but_no_hand_mark(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01"), "A letter."))
    grade(cls, MODULE, farm=shared_farm())
    set_hand_mark(cls, MODULE, "s01", "8.9", 4)
    hand_in(cls, "s01", b"")
    grade(cls, MODULE, farm=shared_farm())
    record = grade_records(cls, MODULE)[0]
    assert (record.status, record.auto_points, record.raw_score) == ("could not be graded", None, None)
    assert set(points_in_gradebook(cls).values()) == {None}
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01"), "A letter."))
    grade(cls, MODULE, farm=shared_farm())
    assert grade_records(cls, MODULE)[0].raw_score == 40


def test_progress_tells_of_the_protection_first_and_of_everyone_once(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    hand_in(cls, "s02", released(cls))
    told: list[tuple[int, int, str]] = []
    report = grade(cls, MODULE, progress=lambda *news: told.append(news), farm=shared_farm())
    assert told[0] == (0, 3, report.protection.words)
    assert [news[:2] for news in told] == [(0, 3), (1, 3), (2, 3), (3, 3)]
    assert told[3][2] == "s02: graded"
    assert (report.fresh, report.module) == (1, MODULE)


@pytest.mark.parametrize(
    ("module", "students", "words"),
    [
        ("99_none", None, "99_none"),
        (MODULE, ["s01", "s77"], "No student 's77'"),
    ],
)
def test_unknown_names_are_refused(tmp_path: Path, module: str, students: Any, words: str) -> None:
    with pytest.raises(CourseError, match=words):
        grade(fresh_class(tmp_path), module, students=students)


def test_a_module_that_was_not_handed_out_is_refused(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    cls.release_notebook(MODULE).unlink()
    with pytest.raises(CourseError, match="was not handed out"):
        grade(cls, MODULE)


def test_strangers_code_is_not_run_without_protection(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cls = fresh_class(tmp_path)
    hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01")))
    monkeypatch.setattr(sandbox, "_working_bubblewrap", lambda: None)
    with pytest.raises(CourseError, match="--i-trust-these-files"):
        grade(cls, MODULE)
    assert points_in_gradebook(cls) == {}
    told: list[str] = []
    report = grade(cls, MODULE, trust_files=True, progress=lambda *news: told.append(news[2]), farm=Here())
    assert any("given an interpreter of its own" in words for words in told)
    assert told[0].startswith("NO PROTECTION")
    assert report.rows[0].status == "graded"
    with Ledger(cls) as ledger, ledger.reading() as book:
        assert book.db.scalars(select(Outcome.shut_in)).all() == [False]


def test_stopping_a_run_keeps_what_was_stored(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cls = fresh_class(tmp_path)
    hand_in(cls, "s01", b"junk")
    for student in ("s02", "s03"):
        notebook = released(cls)
        answer_cell(notebook, "8.1").source = "import time\ntime.sleep(60)"
        hand_in(cls, student, notebook)

    def stop(done: int, total: int, words: str) -> None:
        if words.startswith("s01"):
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        grade(cls, MODULE, progress=stop, limits=Limits(cell_s=60))
    assert not [thread for thread in threading.enumerate() if thread.name.startswith("brakecourse")]
    with Ledger(cls) as ledger, ledger.reading() as book:
        assert book.db.scalars(select(Outcome.student_id)).all() == ["s01"]
        assert book.db.scalars(select(QuestionMark.student_id)).all() == []


@pytest.mark.slow
def test_plain_nbgrader_gives_the_same_points_cell_by_cell(tmp_path: Path) -> None:
    cls, who = graded_class(tmp_path)
    ours = points_in_gradebook(cls)
    shutil.rmtree(cls.root / "autograded")
    # The points are spoiled first, so that what is compared was written by nbgrader itself.
    with Ledger(cls) as ledger, ledger.transaction() as book:
        for submission in book.assignment_submissions(MODULE):
            for grade_row in submission.notebooks[0].grades:
                grade_row.auto_score = 0.125
    settings = cls.settings_file.read_text(encoding="utf-8")
    cls.settings_file.write_text(
        settings.replace("cell_timeout_s = 20.0", "cell_timeout_s = 2.0"), encoding="utf-8"
    )
    nbgrader = Path(sys.executable).with_name("nbgrader")
    done = subprocess.run(
        [nbgrader, "autograde", MODULE],
        cwd=cls.root,
        capture_output=True,
        text=True,
        env=dict(os.environ),
        check=False,
    )
    theirs = points_in_gradebook(cls)
    # nbgrader ends with an error because of the one notebook that is none; the others it has graded.
    assert (
        "for student 's04'" in done.stderr
        and done.stderr.count("There was an error processing assignment '") == 1
    )
    assert {key: points for key, points in theirs.items() if key[0] != who["broken"]} == {
        key: points for key, points in ours.items() if key[0] != who["broken"]
    }
    assert len(theirs) == 7 * 9
    records = {record.student_id: record for record in grade_records(cls, MODULE)}
    assert records[who["copied"]].healed and records[who["loop"]].why
