"""Several attempts at a module: another vehicle each time, and one rule for what counts."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from brakecourse.classroom.assign import assign, read_case
from brakecourse.classroom.attempts import assignment_name, attempt_of, attempt_said, module_of
from brakecourse.classroom.collect import collect, collect_all
from brakecourse.classroom.counting import count
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.classroom.matching import closeness
from brakecourse.classroom.records import GradeRecord, grade_records
from brakecourse.errors import CourseError

MODULE = "08_rotor_measurement"
SECOND = f"{MODULE}-attempt-2"
ROSTER = "student_id,first_name,last_name\ns01,Amara,Quillstone\ns02,Bruno,Fennimoor\n"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    folder = tmp_path_factory.mktemp("attempts")
    (folder / "roster.csv").write_text(ROSTER, encoding="utf-8")
    cls = new_class(folder / "class", folder / "roster.csv", name="Evening")
    assign(cls, MODULE)
    assign(cls, MODULE, attempt=2, students=["s02"])
    return open_class(cls.root)


def test_names_go_both_ways() -> None:
    for attempt in range(1, 10):
        name = assignment_name(MODULE, attempt)
        assert (module_of(name), attempt_of(name)) == (MODULE, attempt)
    assert assignment_name(MODULE) == MODULE
    assert attempt_said("rotor.ipynb") is None
    assert attempt_said(f"{SECOND}-s01 (1).ipynb") == 2


@pytest.mark.parametrize("attempt", [0, 10, -1])
def test_no_such_attempt(attempt: int) -> None:
    with pytest.raises(CourseError, match=f"found {attempt}"):
        assignment_name(MODULE, attempt)


def test_a_second_attempt_is_another_vehicle_for_those_who_got_it(made: ClassFolder) -> None:
    assert made.assigned == (MODULE, SECOND)
    first, second = (read_case(made, name, "s02") for name in (MODULE, SECOND))
    assert (first.attempt, second.attempt) == (1, 2)
    assert [one.expected for one in first.questions] != [one.expected for one in second.questions]
    assert made.taking(MODULE) == ("s01", "s02") and made.taking(SECOND) == ("s02",)
    assert made.kit_file(SECOND, "s02").is_file() and not made.kit_file(SECOND, "s01").exists()
    assert [record.student_id for record in grade_records(made, SECOND)] == ["s02"]


def test_an_attempt_is_handed_out_in_its_turn(made: ClassFolder) -> None:
    with pytest.raises(CourseError, match="attempt 3 was never handed out"):
        assign(made, MODULE, attempt=4)


def test_each_attempt_takes_in_its_own_file(made: ClassFolder, tmp_path: Path) -> None:
    cls = open_class(Path(shutil.copytree(made.root, tmp_path / "class")))
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    for name in (MODULE, SECOND):
        shutil.copy(cls.release_notebook(name), inbox / f"{name}-s02.ipynb")
    reports = {report.module: report for report in collect_all(cls, inbox)}
    assert reports[MODULE].with_state("handed in") == ("s02",)
    assert reports[SECOND].with_state("handed in") == ("s02",)
    assert not any(report.refused for report in reports.values())
    for name in (MODULE, SECOND):
        assert f"/{name}/" in cls.submitted_notebook(name, "s02").as_posix()
        assert cls.submitted_notebook(name, "s02").read_bytes() == cls.release_notebook(name).read_bytes()


def test_what_no_module_takes_is_refused_once_and_told(made: ClassFolder, tmp_path: Path) -> None:
    cls = open_class(Path(shutil.copytree(made.root, tmp_path / "class")))
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    shutil.copy(cls.release_notebook(MODULE), inbox / "holiday-plans.ipynb")
    reports = collect_all(cls, inbox)
    assert all([one.where for one in report.refused] == ["holiday-plans.ipynb"] for report in reports)


def test_a_file_of_the_first_attempt_is_not_taken_for_the_second(made: ClassFolder, tmp_path: Path) -> None:
    cls = open_class(Path(shutil.copytree(made.root, tmp_path / "class")))
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    shutil.copy(cls.release_notebook(MODULE), inbox / f"{MODULE}-s02.ipynb")
    assert collect(cls, SECOND, inbox).with_state("handed in") == ()
    assert closeness(f"{SECOND}-s02.ipynb", MODULE, "s02") == 0.0


def graded(module: str, score: float, status: str = "graded") -> GradeRecord:
    settled = status == "graded"
    return GradeRecord(
        student_id="s01",
        first_name="Amara",
        last_name="Quillstone",
        module=module,
        status=status,  # type: ignore[arg-type]
        why="",
        auto_points=score if settled else None,
        hand_points=0.0 if settled else None,
        waiting_questions=(),
        raw_score=score if settled else None,
        max_score=40.0,
        days_late=0,
        late_penalty=0.0 if settled else None,
        final_score=score if settled else None,
        healed=(),
    )


@pytest.mark.parametrize(
    ("rule", "score", "counts"),
    [("best", 34.0, (1,)), ("last", 20.0, (3,)), ("average", 28.333333, (1, 2, 3))],
)
def test_the_rule_of_the_class_decides(rule: str, score: float, counts: tuple[int, ...]) -> None:
    records = [graded(MODULE, 34.0), graded(SECOND, 31.0), graded(f"{MODULE}-attempt-3", 20.0)]
    (found,) = count(records, rule)  # type: ignore[arg-type]
    # (34 + 31 + 20) / 3 = 28.33…; it is rounded where it is shown, not here
    assert (found.record.final_score, found.counts, found.attempts) == (score, counts, (1, 2, 3))
    assert found.record.module == MODULE and found.why.endswith("counts.")


def test_an_attempt_that_is_not_settled_is_never_taken_for_a_bad_one() -> None:
    waiting = graded(SECOND, 0.0, "waiting for hand-grading")
    (found,) = count([graded(MODULE, 34.0), waiting], "best")
    assert found.record.final_score is None and found.record.status == "waiting for hand-grading"
    assert found.why == "Attempt 2 is not settled yet."


@pytest.mark.parametrize("rule", ["best", "last", "average"])
def test_an_attempt_that_never_came_in_takes_nothing_away(rule: str) -> None:
    (found,) = count([graded(MODULE, 34.0), graded(SECOND, 0.0, "not handed in")], rule)  # type: ignore[arg-type]
    assert (found.record.final_score, found.counts) == (34.0, (1,))


def test_one_attempt_counts_as_it_is() -> None:
    record = graded(MODULE, 12.0)
    (found,) = count([record], "average")
    assert found.record == record and found.why == ""


def test_students_and_modules_are_kept_apart() -> None:
    other = replace(graded(MODULE, 5.0), student_id="s02")
    found = count([graded(MODULE, 34.0), other, graded(SECOND, 36.0)], "best")
    assert {one.record.student_id: one.record.final_score for one in found} == {"s01": 36.0, "s02": 5.0}
