"""The gradebook in trouble: one sentence, and nothing half-written. SQLite itself plays the other program."""

from __future__ import annotations

import errno
import json
import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from brakecourse.classroom import files
from brakecourse.classroom.engine import database, excuse, grade, kept, ledger, sandbox, set_hand_mark
from brakecourse.classroom.engine.judging import Judged, judge_notebook
from brakecourse.classroom.engine.ledger import Ledger, make_gradebook
from brakecourse.classroom.engine.plan import read_case, read_plan
from brakecourse.classroom.engine.work import Worked
from brakecourse.classroom.engine.write import GRADED, RunRecord, store
from brakecourse.classroom.feedback import give_back
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import grade_records
from brakecourse.errors import CourseError
from nbgrader.api import Gradebook
from sqlalchemy import event, make_url
from sqlalchemy.dialects.sqlite.base import SQLiteDialect

from tests.classroom.engine_class import MODULE, filled, fresh_class, hand_in, released, right_answers

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def cls(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ClassFolder:
    """A class in which s01 has handed in junk, so that grading needs no kernel."""
    made = fresh_class(tmp_path)
    hand_in(made, "s01", b"junk")
    monkeypatch.setattr(sandbox, "_working_bubblewrap", lambda: "bwrap")
    monkeypatch.setattr(database, "BUSY_WAIT_S", 0.1)
    return made


def contents(path: Path) -> list[str]:
    with sqlite3.connect(path) as opened:
        return list(opened.iterdump())


def kept_files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def store_one(cls: ClassFolder) -> None:
    """Store an empty notebook's outcome, as grading does when it has run."""
    plan = read_plan(cls, MODULE)
    notebook = released(cls)
    judged = judge_notebook(notebook, plan, read_case(cls, MODULE, "s02").case)
    with Ledger(cls) as book:
        store(cls, book, plan, RunRecord("s02", GRADED), Worked.of(notebook, judged))


@contextmanager
def locked(path: Path) -> Iterator[None]:
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    try:
        yield
    finally:
        other.execute("ROLLBACK")
        other.close()


USES: dict[str, Callable[[ClassFolder], Any]] = {
    "grade": lambda cls: grade(cls, MODULE),
    "store": store_one,
    "excuse": lambda cls: excuse(cls, MODULE, "s02", "ill"),
    "hand mark": lambda cls: set_hand_mark(cls, MODULE, "s01", "8.9", 1),
    "list": lambda cls: grade_records(cls, MODULE),
    "give back": lambda cls: give_back(cls, MODULE),
}


@pytest.mark.parametrize("use", USES)
def test_a_locked_gradebook_is_one_sentence(cls: ClassFolder, use: str) -> None:
    before, own = contents(cls.gradebook_file), kept_files(cls.root)
    with locked(cls.gradebook_file), pytest.raises(CourseError, match="in use by another program"):
        USES[use](cls)
    assert contents(cls.gradebook_file) == before
    assert kept_files(cls.root) == own


@pytest.mark.parametrize("use", USES)
@pytest.mark.parametrize("damage", [b"this is no database" * 100, None])
def test_a_damaged_gradebook_is_one_sentence(cls: ClassFolder, use: str, damage: bytes | None) -> None:
    content = cls.gradebook_file.read_bytes()
    cls.gradebook_file.write_bytes(
        damage if damage is not None else content[:4096] + os.urandom(len(content) - 4096)
    )
    with pytest.raises(CourseError, match=r"is damaged|could not be used|lacks tables") as told:
        USES[use](cls)
    assert str(cls.gradebook_file) in str(told.value)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize("use", USES)
def test_no_gradebook_yet_is_one_sentence_and_none_is_made(cls: ClassFolder, use: str) -> None:
    cls.gradebook_file.unlink()
    with pytest.raises(CourseError, match="hand out a module first"):
        USES[use](cls)
    assert not cls.gradebook_file.exists()


def disk_full(*_: object, **__: object) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


def database_full(*_: object, **__: object) -> None:
    raise sqlite3.OperationalError("database or disk is full")


@pytest.mark.parametrize(
    "moment",
    ["writing the notebook", "naming it", "the last step", "a table of ours", "a grade", "the history"],
)
def test_a_full_disk_leaves_everything_as_it_was(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch, moment: str
) -> None:
    tables = {
        "a table of ours": "INSERT INTO brakecourse_mark",
        "a grade": "UPDATE grade",
        "the history": "INSERT INTO brakecourse_history",
    }

    def full_at_a_statement(real: Callable[..., None]) -> Callable[..., None]:
        def execute(self: Any, cursor: Any, statement: str, *rest: Any, **more: Any) -> None:
            if statement.startswith(tables[moment]):
                database_full()
            real(self, cursor, statement, *rest, **more)

        return execute

    if moment == "writing the notebook":
        monkeypatch.setattr(kept, "write_bytes_whole", disk_full)
    elif moment == "naming it":
        monkeypatch.setattr(files.os, "fsync", disk_full)
    elif moment == "the last step":
        monkeypatch.setattr(SQLiteDialect, "do_commit", database_full)
    else:
        for name in ("do_execute", "do_executemany"):
            monkeypatch.setattr(SQLiteDialect, name, full_at_a_statement(getattr(SQLiteDialect, name)))
    before, own = contents(cls.gradebook_file), kept_files(cls.root)
    with pytest.raises(CourseError, match=r"No space left|disk is full"):
        store_one(cls)
    monkeypatch.undo()
    assert contents(cls.gradebook_file) == before
    assert kept_files(cls.root) == own
    store_one(cls)
    assert contents(cls.gradebook_file) != before


def test_a_really_full_gradebook_is_one_sentence(cls: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    # SQLite's own limit on pages makes the database full, as a full disk would.
    with sqlite3.connect(cls.gradebook_file) as opened:
        (pages,) = opened.execute("PRAGMA page_count").fetchone()
    before = contents(cls.gradebook_file)
    real = database.create_engine

    def small(*rest: Any, **more: Any) -> Any:
        engine = real(*rest, **more)
        event.listen(
            engine, "connect", lambda raw, _: raw.execute(f"PRAGMA max_page_count = {pages}").close()
        )
        return engine

    monkeypatch.setattr(database, "create_engine", small)
    plan = read_plan(cls, MODULE)
    # Long enough not to fit into what is left of the pages.
    judged = tuple(Judged(question, None, "x" * 50_000) for question in plan.questions)
    notebook = released(cls)
    judge_notebook(notebook, plan, read_case(cls, MODULE, "s02").case)
    with Ledger(cls) as book, pytest.raises(CourseError, match="disk is full"):
        store(cls, book, plan, RunRecord("s02", GRADED), Worked.of(notebook, judged))
    assert contents(cls.gradebook_file) == before


@pytest.mark.sandbox
@pytest.mark.slow
def test_a_disk_that_is_really_full_keeps_each_student_whole(
    tmp_path: Path, cls: ClassFolder, bwrap_path: str
) -> None:
    """The system itself says that the disk is full: bubblewrap gives a disk of 6 MB in memory."""
    for student in cls.student_ids:
        hand_in(cls, student, filled(released(cls), right_answers(cls, student), "A letter."))
    disk = tmp_path / "disk"
    disk.mkdir()
    small = ["--dev-bind", "/", "/", "--size", "6000000", "--tmpfs", str(disk), "--chdir", str(ROOT)]
    study = [sys.executable, "-m", "tests.classroom.full_disk", str(cls.root), str(disk)]
    done = subprocess.run([bwrap_path, *small, *study], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    # Some have room for one student and none for the next; a file or two may still have found its place.
    assert {len(one["stored"]) for one in found} == {0, 1}
    for one in found:
        assert "No space left" in one["said"] or "disk is full" in one["said"], one
        assert one["said"].count("\n") == 0
        # Eight marks and the judged notebook, or nothing.
        assert set(map(tuple, one["stored"].values())) <= {(8, 1)}, one
        assert one["handed_in_kept"] and one["whole_afterwards"] and one["left_over"] == [], one


READ_ONLY = """
import json, sys
from pathlib import Path
from brakecourse.classroom.engine import excuse, grade
from brakecourse.classroom.folder import open_class
from brakecourse.classroom.records import grade_records
from brakecourse.errors import CourseError
from tests.classroom.quick_farm import QuickFarm
cls, module, said = open_class(Path(sys.argv[1])), sys.argv[2], []
for use in (
    lambda: grade(cls, module, farm=QuickFarm()),
    lambda: excuse(cls, module, "s02"),
):
    try:
        use()
    except CourseError as error:
        said.append(str(error))
print(json.dumps([said, len(grade_records(cls, module))]))
"""


@pytest.mark.sandbox
def test_a_folder_on_a_read_only_disk_is_one_sentence_and_can_be_read(
    cls: ClassFolder, bwrap_path: str
) -> None:
    before, own = contents(cls.gradebook_file), kept_files(cls.root)
    locked_away = ["--dev-bind", "/", "/", "--ro-bind", str(cls.root), str(cls.root), "--chdir", str(ROOT)]
    done = subprocess.run(
        [bwrap_path, *locked_away, sys.executable, "-c", READ_ONLY, str(cls.root), MODULE],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    said, records = json.loads(done.stdout)
    assert len(said) == 2 and records == 3
    for sentence in said:
        assert "can't be written" in sentence or "Read-only file system" in sentence
        assert "\n" not in sentence
    assert contents(cls.gradebook_file) == before and kept_files(cls.root) == own


@pytest.mark.skipif(os.geteuid() == 0, reason="the system lets root write anywhere")
def test_a_folder_that_can_not_be_written_is_one_sentence(cls: ClassFolder) -> None:
    cls.gradebook_file.chmod(0o444)
    cls.root.chmod(0o555)
    try:
        with pytest.raises(CourseError, match=r"can't be written|Could not"):
            store_one(cls)
    finally:
        cls.root.chmod(0o755)


def test_a_read_only_gradebook_is_one_sentence(cls: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    before = contents(cls.gradebook_file)
    monkeypatch.setattr(
        database,
        "database_url",
        lambda cls: make_url(f"sqlite:///file:{cls.gradebook_file}?mode=ro&uri=true"),
    )
    with pytest.raises(CourseError, match="can't be written"):
        store_one(cls)
    assert contents(cls.gradebook_file) == before


def test_the_folder_in_the_way_of_a_notebook_is_one_sentence(cls: ClassFolder) -> None:
    before = contents(cls.gradebook_file)
    (cls.root / "autograded").rmdir()
    (cls.root / "autograded").write_text("a file where a folder belongs")
    with pytest.raises(CourseError, match="Could not store the grades of student s02"):
        store_one(cls)
    assert contents(cls.gradebook_file) == before


@pytest.mark.slow
def test_the_gradebook_is_the_one_nbgrader_would_make(tmp_path: Path, cls: ClassFolder) -> None:
    theirs = tmp_path / "theirs.db"
    with pytest.MonkeyPatch.context() as patch:
        own = Path(os.sys.executable).parent  # type: ignore[attr-defined]
        patch.setenv("PATH", f"{own}{os.pathsep}{os.environ['PATH']}")
        Gradebook(f"sqlite:///{theirs}", "brakecourse").close()
    cls.gradebook_file.unlink()
    make_gradebook(cls)

    def plan(path: Path) -> set[tuple[str, str]]:
        with sqlite3.connect(path) as opened:
            rows = opened.execute("SELECT name, sql FROM sqlite_master WHERE name NOT LIKE '%brakecourse%'")
            return {(name, " ".join(str(sql).split())) for name, sql in rows}

    assert plan(cls.gradebook_file) == plan(theirs)
    version = "SELECT version_num FROM alembic_version"
    with sqlite3.connect(theirs) as one, sqlite3.connect(cls.gradebook_file) as other:
        assert one.execute(version).fetchall() == other.execute(version).fetchall()
        assert (
            one.execute("SELECT id FROM course").fetchall()
            == other.execute("SELECT id FROM course").fetchall()
        )


def test_a_gradebook_that_could_not_be_finished_is_not_left(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    cls.gradebook_file.unlink()
    monkeypatch.setattr(ledger, "ALEMBIC_DIR", "/nowhere")
    with pytest.raises(Exception, match="nowhere"):
        make_gradebook(cls)
    assert not list(cls.root.glob("*gradebook*"))
