"""Forgetting a student: shown first, then nothing of the person is left, and nobody else loses anything."""

from __future__ import annotations

import hashlib
import io
import json
import sqlite3
import zipfile
from pathlib import Path

import pytest
from brakecourse.classroom import export_log
from brakecourse.classroom.engine.hand import excuse, set_hand_mark
from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.classroom.forget import forget, plan_forgetting
from brakecourse.classroom.forget_rows import forget_rows, wipe_free_space
from brakecourse.classroom.oneroster import package_bytes
from brakecourse.classroom.records import class_records
from brakecourse.classroom.roster import RosterEntry, write_roster
from brakecourse.classroom.traces import names_them, patterns_of
from brakecourse.classroom.zips import steady_zip
from brakecourse.errors import CourseError
from brakecourse.exports.badge_key import make_key
from brakecourse.exports.desk import preview, write

from tests.exports.small_class import MODULES, WAITING, small_class

GONE = WAITING
KINDS = ("grades", "results", "competencies", "case", "badges", "records")
NAMES = ("Bernadette", "Quillfeather", "bernadette@class.example", "school-0815")


def a_full_class(folder: Path) -> ClassFolder:
    """A class in which the student left traces in every place that the course writes to."""
    cls = small_class(folder)
    entries = [RosterEntry(GONE, *NAMES) if one.student_id == GONE else one for one in cls.roster]
    write_roster(entries, cls.roster_file)
    cls = open_class(cls.root)
    connection = sqlite3.connect(cls.gradebook_file)
    with connection:
        connection.execute(
            "UPDATE student SET first_name=?, last_name=?, email=?, lms_user_id=? WHERE id=?", (*NAMES, GONE)
        )
    connection.close()
    set_hand_mark(cls, MODULES[1], GONE, "8.9", 1, "Dear Bernadette Quillfeather, well done.")
    excuse(cls, MODULES[0], "s003", "Ill.")
    for student in cls.student_ids:
        for module in MODULES:
            received = cls.received_folder(module, student) / "20260302T090000Z-abc" / f"{module}.ipynb"
            received.parent.mkdir(parents=True)
            received.write_text(json.dumps({"metadata": {"author": student}}), encoding="utf-8")
            received.chmod(0o444)
            received.parent.chmod(0o555)
            kit = cls.kit_file(module, student)
            kit.parent.mkdir(parents=True, exist_ok=True)
            kit.write_bytes(steady_zip({f"{module}-{student}/work_order.json": student.encode()}))
            for page in (
                cls.feedback_page(module, student),
                cls.root / "autograded" / student / module / "x.ipynb",
            ):
                page.parent.mkdir(parents=True, exist_ok=True)
                page.write_text(
                    f"<p>{cls.student(student).first_name} {cls.student(student).last_name}</p>",
                    encoding="utf-8",
                )
    make_key(cls)
    for kind in KINDS:
        write(cls, preview(cls, kind))
    return cls


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    return a_full_class(tmp_path_factory.mktemp("forget"))


@pytest.fixture
def cls(template: ClassFolder, tmp_path: Path) -> ClassFolder:
    import shutil

    return open_class(Path(shutil.copytree(template.root, tmp_path / "class")))


def contents(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def unpacked(name: str, content: bytes) -> dict[str, bytes]:
    found = {name: content}
    if zipfile.is_zipfile(io.BytesIO(content)):
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            for inside in archive.namelist():
                found |= unpacked(f"{name}!{inside}", archive.read(inside))
    return found


def grep(folder: Path, *words: str) -> dict[str, list[str]]:
    """Look for words in every path and every byte of a folder, also inside zips."""
    found: dict[str, list[str]] = {word: [] for word in words}
    for name, content in contents(folder).items():
        for path, text in unpacked(name, content).items():
            for word in words:
                if word.casefold() in path.casefold() or word.casefold().encode() in text.lower():
                    found[word].append(path)
    return found


def test_nothing_of_the_person_is_left(cls: ClassFolder) -> None:
    """Every byte of the folder is searched: the gradebook's file, kits, workbooks and all other zips too."""
    before = grep(cls.root, GONE, *NAMES)
    assert all(before.values()) and any("gradebook.db" in path for path in before[NAMES[0]])
    assert any("!" in path for path in before[GONE])
    plan = plan_forgetting(cls, GONE)
    forget(cls, plan)
    assert grep(cls.root, GONE, *NAMES) == {word: [] for word in (GONE, *NAMES)}
    assert not any(GONE in path.name for path in cls.root.rglob("*"))
    with pytest.raises(CourseError, match="No student 's004'"):
        plan_forgetting(open_class(cls.root), GONE)


def test_the_plan_shows_what_goes_and_changes_nothing(cls: ClassFolder) -> None:
    before = contents(cls.root)
    plan = plan_forgetting(cls, GONE)
    assert contents(cls.root) == before
    own = {path.relative_to(cls.root).as_posix() for path in plan.own}
    assert {path.split("/")[0] for path in own} == {
        "cases", "kits", "received", "submitted", "autograded", "feedback", "exports",
    }  # fmt: skip
    assert f"exports/records/{GONE}.pdf" in own
    assert {path.name for path in plan.class_files} == {
        "grades.csv",
        "grades.xlsx",
        "results.csv",
        "competencies.csv",
    }
    assert plan.rows["student"] == 1 and plan.rows["submitted_assignment"] == 2
    assert plan.rows["brakecourse_mark"] > 10 and plan.rows["brakecourse_history"] > 5
    assert plan.rows["brakecourse_hand_mark"] >= 1
    assert (plan.log_lines, plan.school_list, plan.to_look_at) == (1, False, ())
    forget(cls, plan)
    gone = set(before) - set(contents(cls.root))
    assert gone == own | {f"exports/{path.name}" for path in plan.class_files}


def test_nobody_else_loses_anything(cls: ClassFolder) -> None:
    before, files = class_records(cls), contents(cls.root)
    forget(cls, plan_forgetting(cls, GONE))
    after = class_records(open_class(cls.root))
    for old, new in zip(before, after, strict=True):
        assert new.grades == tuple(one for one in old.grades if one.student_id != GONE)
        assert new.questions == tuple(one for one in old.questions if one.student_id != GONE)
    others = {name: content for name, content in files.items() if "s00" in name and GONE not in name}
    assert len(others) > 20 and others.items() <= contents(cls.root).items()
    kept = [line for line in export_log.lines(cls) if "records/" in line[2]]
    assert [line[2] for line in kept] == [
        f"exports/records/{one}.pdf".removeprefix("exports/") for one in ("s001", "s002", "s003")
    ]


def test_the_history_is_guarded_again_afterwards(cls: ClassFolder) -> None:
    forget(cls, plan_forgetting(cls, GONE))
    connection = sqlite3.connect(cls.gradebook_file)
    assert connection.execute("SELECT count(*) FROM brakecourse_history").fetchone()[0] > 0
    for statement in ("DELETE FROM brakecourse_history", "UPDATE brakecourse_history SET new_points = 1"):
        with pytest.raises(sqlite3.IntegrityError, match="only ever added to"):
            connection.execute(statement)
    connection.close()


def test_the_files_free_space_is_wiped_on_every_build_of_the_database(cls: ClassFolder) -> None:
    """Some builds of SQLite overwrite what is deleted by themselves; here that is switched off."""
    word = b"Bernadette in a row that is gone"
    connection = sqlite3.connect(cls.gradebook_file, isolation_level=None)
    connection.execute("PRAGMA secure_delete = OFF")
    connection.execute("CREATE TABLE odd (words TEXT)")
    connection.execute("INSERT INTO odd VALUES (?)", (word.decode() * 50,))
    connection.execute("DELETE FROM odd")
    connection.close()
    assert word in cls.gradebook_file.read_bytes()
    wipe_free_space(cls)
    assert word not in cls.gradebook_file.read_bytes()


def test_if_the_gradebook_is_in_use_nothing_at_all_happens(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("brakecourse.classroom.engine.database.BUSY_WAIT_S", 0.1)
    before = {name: hashlib.sha256(content).digest() for name, content in contents(cls.root).items()}
    plan = plan_forgetting(cls, GONE)
    other = sqlite3.connect(cls.gradebook_file, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(CourseError, match="in use"):
        forget(cls, plan)
    other.execute("ROLLBACK")
    other.close()
    assert {name: hashlib.sha256(content).digest() for name, content in contents(cls.root).items()} == before


def test_a_fault_in_the_middle_leaves_rows_and_guards(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fault(*_: object) -> None:
        raise RuntimeError("power cut")

    monkeypatch.setattr("brakecourse.classroom.forget_rows._forget_in_nbgrader", fault)
    before = plan_forgetting(cls, GONE).rows
    with pytest.raises(RuntimeError):
        forget_rows(cls, GONE)
    assert plan_forgetting(cls, GONE).rows == before
    connection = sqlite3.connect(cls.gradebook_file)
    with pytest.raises(sqlite3.IntegrityError, match="only ever added to"):
        connection.execute("DELETE FROM brakecourse_history")
    connection.close()


def test_a_stop_half_way_can_be_gone_on_from(cls: ClassFolder) -> None:
    forget_rows(cls, GONE)
    forget(cls, plan_forgetting(cls, GONE))
    assert not any(grep(cls.root, GONE, *NAMES).values())


def test_a_teachers_own_notes_are_shown_and_stay(cls: ClassFolder) -> None:
    note, other = cls.root / "notes.txt", cls.root / "plan.txt"
    note.write_text("Ring Quillfeather, Bernadette about Friday.", encoding="utf-8")
    other.write_text(f"x{GONE}y and Bernadette's colleague", encoding="utf-8")
    plan = plan_forgetting(cls, GONE)
    assert plan.to_look_at == (note,)
    forget(cls, plan)
    assert note.is_file() and other.is_file()


def test_ids_that_begin_alike_are_kept_apart(cls: ClassFolder) -> None:
    """s004, s004-b, s004.b and s0041 are four students."""
    others = [RosterEntry(name, "Olga", "Other") for name in ("s004-b", "s004.b", "s0041")]
    write_roster([*cls.roster, *others], cls.roster_file)
    cls = open_class(cls.root)
    kept = []
    for one in others:
        for path in (
            cls.case_file(MODULES[0], one.student_id),
            cls.exports / "records" / f"{one.student_id}.pdf",
        ):
            path.write_bytes(b"{}")
            kept.append(path)
    plan = plan_forgetting(cls, GONE)
    assert not set(kept) & {*plan.own, *plan.class_files}
    forget(cls, plan)
    assert all(path.is_file() for path in kept)
    assert {one.student_id for one in others} <= set(open_class(cls.root).student_ids)


def test_the_schools_own_package_forgets_too(cls: ClassFolder) -> None:
    users = [
        {
            "sourcedId": one.lms_user_id or one.student_id,
            "givenName": one.first_name,
            "familyName": one.last_name,
            "username": one.student_id,
        }
        for one in cls.roster
    ]
    cls.oneroster_file.write_bytes(package_bytes("1.2", {"users": users}))
    assert any("users.csv" in path for path in grep(cls.root, NAMES[3])[NAMES[3]])
    import brakecourse.classroom.folder as folder_module

    class Loose:  # the whole check wants a whole school; here only the rows count
        version = "1.2"

        @staticmethod
        def values() -> dict[str, list[dict[str, str]]]:
            return {"users": users}

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(folder_module, "read_package", lambda _: Loose())
        plan = plan_forgetting(cls, GONE)
        assert plan.school_list
        forget(cls, plan)
    assert not any(grep(cls.root, GONE, *NAMES).values())
    with zipfile.ZipFile(cls.oneroster_file) as archive:
        assert b"Amara001" in archive.read("users.csv")


def test_the_only_student_and_a_stranger_are_refused(cls: ClassFolder) -> None:
    with pytest.raises(CourseError, match="No student 's999'"):
        plan_forgetting(cls, "s999")
    write_roster(cls.roster[:1], cls.roster_file)
    with pytest.raises(CourseError, match="the only one"):
        plan_forgetting(open_class(cls.root), "s001")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("s1", True), ("s10", False), ("s1-b", False), ("as1", False), ('"s1","x"', True),
        ("x/s1.json", True), ("Ann  Lee", True), ('"Lee","Ann"', True), ("Lee, Ann", True),
        ("Ann and Lee", False), ("ANN LEE", True),
        ("mail a.lee@x.example now", True), ("aXlee@x.example", False),
    ],
)  # fmt: skip
def test_what_counts_as_a_trace(text: str, found: bool) -> None:
    patterns = patterns_of(RosterEntry("s1", "Ann", "Lee", "a.lee@x.example"))
    assert names_them(text.encode(), patterns) is found
    assert names_them(steady_zip({"a.zip": steady_zip({"b.txt": text.encode()})}), patterns) is found
