"""The made-up big class is what grading leaves behind, and reading a class asks no more of a bigger one."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from brakecourse.classroom.engine.ledger import Ledger
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import class_records, grade_records, module_records, question_records
from brakecourse.cli import main
from brakecourse.exports.again import class_again
from brakecourse.exports.pictures import Picture
from sqlalchemy import Engine, event

from tests.exports.big_class import make_big_class

MODULES = ("08_rotor_measurement", "13_whole_job")


@pytest.fixture(scope="module")
def big(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    return make_big_class(tmp_path_factory.mktemp("big"), 20, MODULES)


@contextmanager
def counting_queries() -> Iterator[list[str]]:
    asked: list[str] = []

    def note(_connection: object, _cursor: object, statement: str, *_: object) -> None:
        asked.append(statement)

    event.listen(Engine, "before_cursor_execute", note)
    try:
        yield asked
    finally:
        event.remove(Engine, "before_cursor_execute", note)


def test_its_scores_are_the_ones_that_nbgrader_itself_adds_up(big: ClassFolder) -> None:
    """Source of the expected scores: nbgrader's own gradebook, asked student by student."""
    checked = 0
    for module in MODULES:
        with Ledger(big) as ledger, ledger.reading() as book:
            for record in grade_records(big, module):
                if record.status == "not handed in":
                    continue
                theirs = book.find_submission(module, record.student_id)
                assert (record.status, theirs.needs_manual_grade) == ("graded", False)
                assert record.raw_score == pytest.approx(theirs.score, abs=0.005)
                assert record.max_score == theirs.max_score
                checked += 1
    assert checked == 17 + 18


def test_some_are_late_and_some_are_missing_in_every_module(big: ClassFolder) -> None:
    found = {one.module: one for one in class_records(big)}
    for module, late, missing in zip(MODULES, ([2, 2, 2], [2, 2]), (3, 2), strict=True):
        grades = found[module].grades
        assert [one.days_late for one in grades if one.days_late] == late  # 30 hours are two days begun
        assert sum(one.status == "not handed in" for one in grades) == missing
        assert {one.mistake for one in found[module].questions} - {None}, "nobody made a named mistake"


def test_hand_marks_can_be_left_waiting(tmp_path: Path) -> None:
    cls = make_big_class(tmp_path, 4, MODULES[:1], hand_marked=False, all_cases=True)
    waiting = [one for one in grade_records(cls) if one.status == "waiting for hand-grading"]
    assert waiting and all(one.waiting_questions == ("8.9",) for one in waiting)
    (found,) = class_again(cls)
    assert found.items.items[-1].waiting == len(waiting)
    assert [cls.has_case(MODULES[0], student) for student in cls.student_ids] == [True] * 4


def test_a_bigger_class_takes_no_more_queries(big: ClassFolder, tmp_path: Path) -> None:
    small = make_big_class(tmp_path, 2, MODULES[:1])
    with counting_queries() as few:
        module_records(small, MODULES[0])
    with counting_queries() as many:
        module_records(big, MODULES[0])
    assert len(many) == len(few) < 25


def test_one_reading_gives_what_the_two_lists_give(big: ClassFolder) -> None:
    for both in class_records(big):
        assert list(both.grades) == grade_records(big, both.module)
        assert list(both.questions) == question_records(big, both.module)


def test_the_command_prints_and_writes(
    big: ClassFolder, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["teach-again", str(big.root), MODULES[0]]) == 0
    out = capsys.readouterr().out
    assert f"{MODULES[0]}: work graded of 17 students." in out and "Only 17 students have marks" in out
    assert "95 % interval" in out and " of 17: " in out and "--pictures DIR" in out
    assert main(["teach-again", str(big.root), MODULES[0], "--pictures", str(tmp_path / "p")]) == 0
    assert "8 files" in capsys.readouterr().out
    names = sorted(path.name for path in (tmp_path / "p").iterdir())
    assert len(names) == 8 and f"{MODULES[0]}-difficulty.png" in names
    # One module of two tells of no competency; all of them do.
    assert not [name for name in names if name.startswith("competencies")]
    monkeypatch.setattr(Picture, "png", lambda _self: b"drawn elsewhere")
    assert main(["teach-again", str(big.root), "all", "--pictures", str(tmp_path / "all")]) == 0
    assert (tmp_path / "all" / "competencies-class.png").is_file()
    assert (tmp_path / "all" / "competencies-students.csv").is_file()
