"""No cheat earns a point, writes a file outside its scratch folder, or reads the class's secret.

The same class holds an honest student with everything right, who keeps all marks whatever the cheats do.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import socket
import sqlite3
import subprocess
import sys
import sysconfig
import threading
import time
from dataclasses import dataclass
from pathlib import Path

import pytest
from brakecourse import marking
from brakecourse.classroom.engine import GradeReport, grade
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.feedback import give_back
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import question_records

from tests.attacks.cheats import CHEATS, FULL_MARKS, POISON, QUESTIONS, WRONG, Surroundings, wrong_notebook
from tests.classroom.engine_class import (
    MODULE,
    SECRET,
    case_of,
    filled,
    fresh_class,
    hand_in,
    points_in_gradebook,
    released,
    right_answers,
)

pytestmark = pytest.mark.sandbox


@dataclass(frozen=True)
class Attacked:
    """A class in which everyone but the first student cheats, graded and given back."""

    cls: ClassFolder
    honest: str
    by_cheat: dict[str, str]
    report: GradeReport
    before: dict[str, str]
    surroundings: Surroundings
    calls: list[bytes]


def fingerprints(cls: ClassFolder) -> dict[str, str]:
    """Every file of the class that grading has no business to change."""
    own = ("gradebook.db", "autograded", "feedback")
    files = [path for path in sorted(cls.root.rglob("*")) if path.is_file()]
    return {
        str(path.relative_to(cls.root)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in files
        if path.relative_to(cls.root).parts[0] not in own
    }


def listen(calls: list[bytes]) -> int:
    server = socket.create_server(("127.0.0.1", 0))

    def answer() -> None:
        while True:
            connection, _ = server.accept()
            calls.append(connection.recv(100))

    threading.Thread(target=answer, daemon=True).start()
    return int(server.getsockname()[1])


@pytest.fixture(scope="module")
def attacked(tmp_path_factory: pytest.TempPathFactory) -> Attacked:
    folder = tmp_path_factory.mktemp("attacks")
    cls = fresh_class(folder, students=len(CHEATS) + 1)
    honest, *cheaters = cls.student_ids
    calls: list[bytes] = []
    outside = folder / "outside"
    outside.mkdir()
    surroundings = Surroundings(cls.root, honest, outside, listen(calls))
    hand_in(cls, honest, filled(released(cls), right_answers(cls, honest)))
    by_cheat = dict(zip(CHEATS, cheaters, strict=True))
    for name, student in by_cheat.items():
        notebook = wrong_notebook(released(cls))
        CHEATS[name](notebook, surroundings)
        hand_in(cls, student, notebook)
    before = fingerprints(cls)
    report = grade(cls, MODULE, limits=Limits(cell_s=5, total_s=40))
    give_back(cls, MODULE)
    return Attacked(cls, honest, by_cheat, report, before, surroundings, calls)


def test_the_wrong_answers_really_earn_nothing(attacked: Attacked) -> None:
    for student in attacked.by_cheat.values():
        case = case_of(attacked.cls, student)
        for question, answer in WRONG.items():
            others = {other: value for other, value in WRONG.items() if other != question}
            assert marking.judge(case, question, answer, others).points == 0


@pytest.mark.parametrize("name", CHEATS)
def test_no_cheat_earns_a_point(attacked: Attacked, name: str) -> None:
    student = attacked.by_cheat[name]
    row = next(row for row in attacked.report.rows if row.student_id == student)
    assert row.status == "graded", row.why
    found = {r.question_id: r for r in question_records(attacked.cls, MODULE) if r.student_id == student}
    assert {question: found[question].points for question in QUESTIONS} == dict.fromkeys(QUESTIONS, 0)
    stored = points_in_gradebook(attacked.cls)
    assert {stored[student, f"q8_{n}"] for n in range(1, 9)} == {0}


@pytest.mark.parametrize("name", CHEATS)
def test_no_cheat_reads_the_secret_or_another_ones_case(attacked: Attacked, name: str) -> None:
    cls, student = attacked.cls, attacked.by_cheat[name]
    kept = (cls.root / "autograded" / student / MODULE / f"{MODULE}.ipynb").read_text(encoding="utf-8")
    page = cls.feedback_page(MODULE, student).read_text(encoding="utf-8")
    with sqlite3.connect(cls.gradebook_file) as book:
        own = str(book.execute("SELECT * FROM brakecourse_mark WHERE student_id = ?", (student,)).fetchall())
    victim = str(case_of(cls, attacked.honest).truth["thickness"][0]["indication"])
    for place in (kept, page, own):
        assert SECRET.hex() not in place
        assert victim not in place
        assert "BEGIN SOLUTION" not in place
        assert "opened " not in place


def test_the_honest_student_keeps_all_marks(attacked: Attacked) -> None:
    found = {
        r.question_id: r.points
        for r in question_records(attacked.cls, MODULE)
        if r.student_id == attacked.honest
    }
    assert {question: found[question] for question in QUESTIONS} == FULL_MARKS


def test_no_file_of_the_class_was_touched_and_none_made_outside(attacked: Attacked) -> None:
    time.sleep(2)  # a daemon that lived on would write now
    assert fingerprints(attacked.cls) == attacked.before
    assert list(attacked.surroundings.outside.iterdir()) == []
    with sqlite3.connect(attacked.cls.gradebook_file) as book:
        assert book.execute("SELECT count(*) FROM grade WHERE manual_score IS NOT NULL").fetchone() == (0,)
        assert book.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall() == []
    startup = Path.home() / ".ipython/profile_default/startup"
    for folder in (startup, Path(sysconfig.get_paths()["purelib"]), Path("/tmp")):
        assert not (folder / POISON).exists()


def test_nobody_called_from_inside(attacked: Attacked) -> None:
    with socket.create_connection(("127.0.0.1", attacked.surroundings.port)) as own:
        own.sendall(b"the test itself")
    time.sleep(0.3)
    assert attacked.calls == [b"the test itself"]


def autograde(cls: ClassFolder) -> subprocess.CompletedProcess[str]:
    program = Path(sys.executable).with_name("nbgrader")
    return subprocess.run(
        [program, "autograde", MODULE],
        cwd=cls.root,
        capture_output=True,
        text=True,
        env=dict(os.environ),
        check=False,
    )


@pytest.mark.slow
def test_the_hole_of_the_skip_tag_is_real_and_closed_for_plain_nbgrader_too(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    trick = "skip_the_hand_in_cells_by_a_tag"
    notebook = wrong_notebook(released(cls))
    CHEATS[trick](notebook, Surroundings(cls.root, "s02", tmp_path, 0))
    hand_in(cls, "s01", notebook)
    full = {("s01", f"q8_{n}"): points for n, points in enumerate(FULL_MARKS.values(), start=1)}
    machine_marked = {key: 0.0 for key in full}

    stock = ClassFolder(Path(shutil.copytree(cls.root, tmp_path / "stock")), cls.settings, cls.roster)
    stock.nbgrader_config_file.unlink()
    assert autograde(stock).returncode == 0
    given = points_in_gradebook(stock)
    assert {key: given[key] for key in full} == full  # everything wrong, and all marks

    done = autograde(cls)
    assert done.returncode == 0, done.stderr
    given = points_in_gradebook(cls)
    assert {key: given[key] for key in machine_marked} == machine_marked
