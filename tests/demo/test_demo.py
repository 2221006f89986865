"""The demo: a whole class cycle that ends as it should, says so plainly, and gives the same grades again."""

from __future__ import annotations

import contextlib
import csv
import hashlib
import io
from pathlib import Path

import nbformat
import openpyxl
import pytest
from brakecourse import marking
from brakecourse.bench.draw import Draw
from brakecourse.classroom.assign import read_case
from brakecourse.classroom.engine import grading
from brakecourse.classroom.received import everything_received
from brakecourse.classroom.records import GradeRecord, question_records
from brakecourse.demo import DemoResult, cycle, run_demo
from brakecourse.demo.people import people

from tests.classroom.shared_farm import shared_farm

MODULE = cycle.MODULE
WRITTEN, LOOP_QUESTION, DELETED_QUESTION = "8.9", "8.6", "8.3"
SEED = 1


def run_and_listen(out: Path) -> tuple[DemoResult, str]:
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        result = run_demo(out, seed=SEED)
    return result, printed.getvalue()


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("demo") / "demo_out"


@pytest.fixture(scope="module")
def ran(out: Path) -> tuple[DemoResult, str]:
    return run_and_listen(out)


@pytest.fixture(scope="module")
def result(ran: tuple[DemoResult, str]) -> DemoResult:
    return ran[0]


@pytest.fixture(scope="module")
def printed(ran: tuple[DemoResult, str]) -> str:
    return " ".join(ran[1].split())


def record(result: DemoResult, hands_in: str) -> GradeRecord:
    student = next(person.student_id for person in people() if person.hands_in == hands_in)
    return next(record for record in result.records if record.student_id == student)


pytestmark = pytest.mark.slow


def test_each_mishap_ends_in_its_own_status(result: DemoResult) -> None:
    late = record(result, "late")
    assert (late.status, late.days_late) == ("graded", 2)
    assert late.late_penalty == pytest.approx(0.2 * (late.raw_score or 0))
    assert late.final_score == pytest.approx(0.8 * (late.raw_score or 0))
    missing = record(result, "not at all")
    assert (missing.status, missing.raw_score, missing.final_score) == ("not handed in", None, None)
    damaged = record(result, "a damaged file")
    assert (damaged.status, damaged.final_score) == ("could not be graded", None) and damaged.why
    loop = record(result, "an endless loop")
    assert loop.status == "graded" and "stopped" in loop.why
    deleted = record(result, "a deleted cell")
    assert deleted.status == "graded"
    assert any(DELETED_QUESTION in words for words in deleted.healed)
    waiting = [r for r in result.records if r.status == "waiting for hand-grading"]
    assert len(waiting) == 1 and waiting[0].waiting_questions == (WRITTEN,)
    assert len(result.records) == 12


def test_the_points_are_what_the_marking_gives_for_the_answers(result: DemoResult) -> None:
    """The long way round (notebook, sandbox, gradebook) against judging the answers where they were made."""
    found = {
        (row.student_id, row.question_id): (row.points, row.mistake)
        for row in question_records(result.cls, MODULE)
    }
    compared = 0
    for person in people():
        case = read_case(result.cls, MODULE, person.student_id)
        answers = person.student.answers(case, Draw(SEED).child(person.student_id))
        if person.hands_in in {"not at all", "a damaged file"}:
            continue
        earlier: dict[str, object] = {}
        for question, answer in answers.items():
            if question == WRITTEN:
                continue
            lost = person.hands_in == "an endless loop" and question == LOOP_QUESTION
            given = None if lost else answer
            mark = marking.judge(case, question, given, earlier)
            assert found[person.student_id, question] == (mark.points, mark.mistake), (person, question)
            earlier[question] = given
            compared += 1
    assert compared == 10 * 8


def test_students_of_more_ability_do_better(result: DemoResult) -> None:
    points = {record.student_id: record.auto_points for record in result.records}
    able = {person.student_id: person.student for person in people()}
    assert points["s01"] == 36 == marking.total_points(MODULE) - 4
    weak = [points[s] for s, student in able.items() if student.ability < 0.6]
    assert weak and all(value is not None and value < 36 for value in weak)


def test_the_tables_that_are_passed_on_hold_the_same(result: DemoResult) -> None:
    grades_csv, grades_xlsx = (
        next(p for p in result.files if p.name == n) for n in ("grades.csv", "grades.xlsx")
    )
    with grades_csv.open(encoding="utf-8", newline="") as handle:
        rows = {row["student_id"]: row for row in csv.DictReader(handle)}
    for one in result.records:
        final = rows[one.student_id]["final_score"]
        assert final == ("" if one.final_score is None else f"{one.final_score:.2f}")
        assert rows[one.student_id]["status"] == one.status
    book = openpyxl.load_workbook(grades_xlsx)
    assert book["Grades"].max_row == 13
    assert book["Named mistakes"].max_row == 1 + len(result.mistakes)


def test_the_named_mistakes_are_those_of_the_students_habits(result: DemoResult) -> None:
    found = {count.mistake for count in result.mistakes}
    habits = {habit for person in people() for habit in person.student.habits}
    assert len(found & habits) >= 5
    assert all(row.students >= 1 and row.questions for row in result.mistakes)


def test_everyone_whose_work_came_gets_a_page(result: DemoResult) -> None:
    for one in result.records:
        assert result.cls.feedback_page(MODULE, one.student_id).is_file() == (one.status != "not handed in")


def test_what_was_handed_in_is_kept_and_was_not_changed(result: DemoResult, out: Path) -> None:
    kept = {
        item.sha256
        for person in people()
        for item in everything_received(result.cls, MODULE, person.student_id)
    }
    loose = {hashlib.sha256(path.read_bytes()).hexdigest() for path in (out / "handed_in").rglob("*.ipynb")}
    assert len(kept) == 11 and loose < kept
    assert len(list((out / "handed_in").rglob("*.zip"))) == 11 - len(loose)


def test_the_notebooks_were_run_by_their_students(out: Path) -> None:
    for path in (out / "students").glob(f"s*/*/{MODULE}-s*.ipynb"):
        cells = nbformat.read(path, as_version=4).cells
        outputs = [output for cell in cells if cell.cell_type == "code" for output in cell.outputs]
        assert len(outputs) >= 8 and not [output for output in outputs if output.output_type == "error"]


def test_it_says_plainly_that_all_is_simulated_and_where_it_lies(
    result: DemoResult, printed: str, out: Path
) -> None:
    for words in (
        "12 simulated students",
        "invented",
        "Grade table of 08_rotor_measurement (simulated)",
        "Named mistakes (simulated)",
        "waiting for hand-grading",
        "could not be graded",
        "not handed in",
        "late: s05; missing: s06",
        "In a real class a person reads them",
        "Next:",
    ):
        assert words in printed
    for place in (out / "handed_in", result.cls.root / "kits", result.cls.root / "feedback", *result.files):
        assert (place.exists() and str(place) in printed.replace(" ", "").replace("│", "")) or str(
            place
        ) in printed
    assert "Quillstone" not in printed


def test_no_file_is_named_after_a_person(out: Path) -> None:
    names = {part.casefold() for path in out.rglob("*") for part in path.relative_to(out).parts}
    people_names = ("amara", "quillstone", "vossenby", "dunmarrow", "tannerbeck")
    assert not [name for name in names if any(person in name for person in people_names)]


def test_the_same_seed_gives_the_same_grade_table(
    result: DemoResult, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(grading, "LocalFarm", lambda _workers: shared_farm())
    before = [path.read_bytes() for path in result.files]
    again, words = run_and_listen(out)
    assert "An earlier demo lies there; it is made anew." in words
    assert again.records == result.records and again.mistakes == result.mistakes
    assert [path.read_bytes() for path in again.files] == before
