"""The commands that look after marks: their history, and grading again with a look first."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path
from typing import get_args

import pytest
from brakecourse.classroom.engine import excuse, grade, grading, preview, sandbox, set_hand_mark
from brakecourse.classroom.engine.sandbox import MISSING_WITHOUT_SANDBOX, Protection
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import Status, grade_records
from brakecourse.cli import main

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

Capture = pytest.CaptureFixture[str]
GRADE = ["--i-trust-these-files"]


@pytest.fixture
def cls(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ClassFolder:
    """A graded class whose key for question 8.4 of s01 was corrected afterwards."""
    monkeypatch.setattr(sandbox, "protection", lambda: Protection(None, MISSING_WITHOUT_SANDBOX))
    for module in (grading, sys.modules[preview.__module__]):
        monkeypatch.setattr(module, "LocalFarm", lambda *_: QuickFarm())
    made = fresh_class(tmp_path)
    hand_in(made, "s01", filled(released(made), right_answers(made, "s01"), "A letter."))
    grade(made, MODULE, trust_files=True)
    set_hand_mark(made, MODULE, "s01", "8.9", 3, "Kind.")
    path = made.case_file(MODULE, "s01")
    case = json.loads(path.read_text(encoding="utf-8"))
    next(one for one in case["questions"] if one["id"] == "8.4")["expected"] += 1
    path.write_text(json.dumps(case), encoding="utf-8")
    return made


class Terminal(io.StringIO):
    """A person at the keyboard."""

    def isatty(self) -> bool:
        return True


def given(capsys: Capture, *arguments: str, code: int = 0) -> str:
    assert main(list(arguments)) == code
    return " ".join(capsys.readouterr().out.split())


def test_grading_names_those_whose_key_has_changed_and_changes_nothing(
    cls: ClassFolder, capsys: Capture
) -> None:
    before = points_in_gradebook(cls)
    out = given(capsys, "grade", str(cls.root), MODULE, *GRADE)
    assert "Marked by another answer key than today's: s01." in out
    assert f"To see what would change: brakecourse grade {cls.root} {MODULE} --again" in out
    assert points_in_gradebook(cls) == before


def test_without_a_person_and_without_yes_nothing_is_written(
    cls: ClassFolder, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("y\n"))
    before = cls.gradebook_file.read_bytes()
    assert main(["grade", str(cls.root), MODULE, "--again", *GRADE]) == 1
    said = capsys.readouterr()
    assert said.err.count("\n") == 1 and "give --yes to agree beforehand." in said.err
    assert "would change" in said.out and "│ s01" in said.out and "8.4" in said.out
    assert cls.gradebook_file.read_bytes() == before


@pytest.mark.parametrize(("answer", "stored"), [("y", True), ("n", False)])
def test_a_person_is_asked_and_the_answer_counts(
    cls: ClassFolder, capsys: Capture, monkeypatch: pytest.MonkeyPatch, answer: str, stored: bool
) -> None:
    monkeypatch.setattr(sys, "stdin", Terminal(f"{answer}\n"))
    before = points_in_gradebook(cls)
    out = given(capsys, "grade", str(cls.root), MODULE, "--again", *GRADE)
    assert "1 mark of 1 student would be another one." in out and "Store these changes?" in out
    assert "Marks given by hand stay" in out and "A person gave it; the machine gives nothing." in out
    changed = {key for key, value in points_in_gradebook(cls).items() if before[key] != value}
    assert changed == ({("s01", "q8_4")} if stored else set())
    assert ("Nothing was stored" in out) is not stored


def test_yes_agrees_beforehand_and_where_nothing_changes_nobody_is_asked(
    cls: ClassFolder, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    before = points_in_gradebook(cls)
    given(capsys, "grade", str(cls.root), MODULE, "--again", "--yes", *GRADE)
    assert points_in_gradebook(cls) != before
    out = given(capsys, "grade", str(cls.root), MODULE, "--again", *GRADE)
    assert "no mark changes" in out
    assert "another answer key" not in given(capsys, "grade", str(cls.root), MODULE, *GRADE)


def test_the_history_is_shown_whole_and_in_part(cls: ClassFolder, capsys: Capture) -> None:
    out = given(capsys, "history", str(cls.root))
    assert "9 changes, the oldest first, on the clock of UTC." in out
    assert "mark by hand" in out and "First grading." in out and "Quillstone" not in out
    assert "0 changes" in given(capsys, "history", str(cls.root), "--student", "s02")
    assert "0 changes" in given(capsys, "history", str(cls.root), "--module", "07_calipers")
    assert main(["history", str(cls.root), "--student", "s99"]) == 1
    said = capsys.readouterr()
    assert said.out == "" and "No student 's99'" in said.err and said.err.count("\n") == 1


def test_everybodys_work_is_shown_in_one_of_the_five_statuses(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(grading, "LocalFarm", lambda *_: QuickFarm())
    monkeypatch.setattr(sandbox, "protection", lambda: Protection(None, MISSING_WITHOUT_SANDBOX))
    made = fresh_class(tmp_path, students=5)
    hand_in(made, "s01", released(made))
    hand_in(made, "s02", filled(released(made), {}, "A letter that a person has to read."))
    hand_in(made, "s03", b"junk")
    excuse(made, MODULE, "s05", "Ill.")
    out = given(capsys, "grade", str(made.root), MODULE, *GRADE)
    wanted = ["graded", "waiting for hand-grading", "could not be graded", "not handed in", "excused"]
    assert [record.status for record in grade_records(made, MODULE)] == wanted == list(get_args(Status))
    for student, status in zip(made.student_ids, wanted, strict=True):
        assert f"│ {student} │ {status} │" in out
    assert f"hand-mark {made.root} {MODULE} s02 8.9 POINTS" in out
    # Nothing that is not settled has a final score, and the waiting one shows its points so far.
    finals = {record.student_id: (record.raw_score, record.final_score) for record in grade_records(made)}
    assert finals == {"s01": (0, 0), "s02": (0, None), **dict.fromkeys(("s03", "s04", "s05"), (None, None))}
