"""A class list that changes: shown first, then changed; ids that last; the work of those who left stays."""

from __future__ import annotations

import errno
import os
import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from brakecourse.classroom import files, folder
from brakecourse.classroom.class_list import read_class_list
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.classroom.oneroster import Person
from brakecourse.classroom.roster import RosterEntry, check_student_id, read_roster
from brakecourse.classroom.roster_changes import change_roster, roster_changes, updated_roster
from brakecourse.classroom.student_ids import readable_id, with_lasting_ids
from brakecourse.cli import main
from brakecourse.errors import CourseError
from hypothesis import given
from hypothesis import strategies as st
from nbgrader.api import Base, Student
from sqlalchemy import create_engine
from sqlalchemy.orm import Session

from tests.classroom.oneroster_packages import files_1_1, files_1_2, packed

TODAY = date(2026, 12, 4)
AMARA = RosterEntry("s01", "Amara", "Quillstone", "a@larkmoor.example")
BRUNO = RosterEntry("s02", "Bruno", "Fennimoor")
CHIYO = RosterEntry("s03", "Chiyo", "Larkenfield")


@pytest.fixture
def school(tmp_path: Path) -> Path:
    path = tmp_path / "school.zip"
    path.write_bytes(packed(files_1_2()))
    return path


@pytest.fixture
def cls(tmp_path: Path, school: Path) -> ClassFolder:
    return new_class(tmp_path / "class", school, name="Evening", wanted="BR1-A")


def test_each_kind_of_change_is_told_apart() -> None:
    renamed, mailed = replace(AMARA, last_name="Pellwick"), replace(BRUNO, email="b@larkmoor.example")
    gone = replace(CHIYO, left="2026-10-01")
    edda = RosterEntry("s04", "Edda", "Ottermarsh")
    found = roster_changes([AMARA, BRUNO, gone], [renamed, mailed, CHIYO, edda])
    assert found.joined == (edda,) and found.back == (CHIYO,) and found.left == ()
    assert found.renamed == ((AMARA, renamed),) and found.email_changed == ((BRUNO, mailed),)
    assert found.linked == found.unchanged == ()
    linked = replace(AMARA, lms_user_id="u-1")
    found = roster_changes([AMARA, BRUNO, gone], [linked])
    assert (found.left, found.linked, found.back) == ((BRUNO,), ((AMARA, linked),), ())
    found = roster_changes([AMARA, gone], [AMARA])
    assert found.unchanged == (AMARA,) and not found.anything


def test_nobody_is_taken_out_of_the_roster_and_a_day_stays() -> None:
    gone = replace(CHIYO, left="2026-10-01")
    assert updated_roster([AMARA, BRUNO, gone], [BRUNO], TODAY) == (
        BRUNO,
        replace(AMARA, left="2026-12-04"),
        gone,
    )


def test_a_class_is_made_from_a_package(cls: ClassFolder) -> None:
    assert cls.roster == (
        RosterEntry("bruno", "Bruno", "Fennimoor, the younger", "", "u/bruno@x"),
        RosterEntry("zoe-muller", "=Zoë", 'O"Neill-Müller', "zoe@larkmoor.example", "u-zoe"),
        RosterEntry("amara.q", "Mara", "Quillstone", "amara@larkmoor.example", "u-amara"),
    )
    assert cls.left == () and cls.oneroster is not None and open_class(cls.root) == cls


def test_a_class_is_not_made_while_nobody_chose(tmp_path: Path, school: Path) -> None:
    with pytest.raises(CourseError, match="choose one by its id with --class"):
        new_class(tmp_path / "class", school, name="Evening")
    assert not (tmp_path / "class").exists()


def without_edda_and(*gone: str) -> bytes:
    lines = files_1_2()
    lines["enrollments"] = [one for one in lines["enrollments"] if not any(f",{who}," in one for who in gone)]
    return packed(lines)


def test_who_left_keeps_id_and_work_and_may_come_back(tmp_path: Path, cls: ClassFolder, school: Path) -> None:
    kept = cls.received_folder("08_rotor_measurement", "bruno") / "work.ipynb"
    kept.parent.mkdir(parents=True)
    kept.write_text("mine", encoding="utf-8")
    school.write_bytes(without_edda_and("u/bruno@x"))
    found = read_class_list(school, TODAY, None, cls.everyone, cls.oneroster)
    assert [one.student_id for one in roster_changes(cls.everyone, found.entries).left] == ["bruno"]
    assert open_class(cls.root) == cls  # looking changes nothing
    cls = change_roster(cls, found, TODAY)
    assert cls.student_ids == ("zoe-muller", "amara.q")
    assert [(one.student_id, one.left) for one in cls.left] == [("bruno", "2026-12-04")]
    assert kept.read_text(encoding="utf-8") == "mine"
    with pytest.raises(CourseError, match=r"'bruno' left the class \(2026-12-04\)"):
        cls.student("bruno")
    # Another Bruno, with the same username, gets another id; the first one, back again, gets his own.
    lines = files_1_2()
    lines["users"].append("u-new,,,true,bruno,,Bruno,Sorrelby,,,,,,,,,,,,,larkmoor,")
    lines["enrollments"].append("e10,,,br/1@a,larkmoor,u-new,student,,,")
    school.write_bytes(packed(lines))
    cls = change_roster(cls, read_class_list(school, TODAY, None, cls.everyone, cls.oneroster), TODAY)
    ids = {one.lms_user_id: one.student_id for one in cls.roster}
    assert ids["u/bruno@x"] == "bruno" and ids["u-new"].startswith("bruno-") and cls.left == ()


def test_a_new_username_does_not_change_an_id(cls: ClassFolder, school: Path) -> None:
    lines = files_1_2()
    lines["users"] = [one.replace("amara.q@larkmoor.example", "mara") for one in lines["users"]]
    school.write_bytes(packed(lines))
    found = read_class_list(school, TODAY, None, cls.everyone, cls.oneroster)
    assert not roster_changes(cls.everyone, found.entries).anything


def test_a_class_with_a_plain_list_learns_the_schools_ids(tmp_path: Path, school: Path) -> None:
    """Bruno is told by his id, Zoë by her email address; Amara is new to the class, and Chiyo leaves it."""
    roster = tmp_path / "roster.csv"
    roster.write_text(
        "student_id,first_name,last_name,email\nbruno,Bruno,Fennimoor,\ns02,Zoe,Neill,ZOE@larkmoor.example\n"
        "s03,Chiyo,Larkenfield,\n",
        encoding="utf-8",
    )
    cls = new_class(tmp_path / "class", roster, name="Evening")
    found = read_class_list(school, TODAY, "BR1-A", cls.everyone, cls.oneroster)
    changes = roster_changes(cls.everyone, found.entries)
    assert [(after.student_id, after.lms_user_id) for _, after in changes.linked] == [
        ("bruno", "u/bruno@x"),
        ("s02", "u-zoe"),
    ]
    assert [one.student_id for one in changes.joined] == ["amara.q"]
    assert [one.student_id for one in changes.left] == ["s03"]
    cls = change_roster(cls, found, TODAY)
    # A plain list knows nothing of the school's ids: they stay.
    assert roster_changes(cls.everyone, cls.roster).unchanged == cls.roster
    plain = tmp_path / "plain.csv"
    plain.write_text("student_id,first_name,last_name\nbruno,Bruno,Fennimoor\n", encoding="utf-8")
    cls = change_roster(cls, read_class_list(plain, TODAY, None, cls.everyone), TODAY)
    assert [(one.student_id, one.lms_user_id) for one in cls.roster] == [("bruno", "u/bruno@x")]
    assert {one.student_id for one in cls.left} == {"s02", "s03", "amara.q"}


def test_a_full_disk_leaves_the_old_roster(
    cls: ClassFolder, school: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    school.write_bytes(without_edda_and("u-zoe"))
    found = read_class_list(school, TODAY, None, cls.everyone, cls.oneroster)

    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patch, pytest.raises(CourseError, match=r"Could not write .*roster\.csv"):
        patch.setattr(files.os, "fsync", full)
        change_roster(cls, found, TODAY)
    assert open_class(cls.root) == cls


@given(st.text(), st.text(min_size=1))
def test_any_username_gives_an_id_that_can_name_a_folder(username: str, sourced_id: str) -> None:
    found = readable_id(username, sourced_id)
    assert check_student_id(found) is None and "/" not in found and ".." not in found


PEOPLE = st.lists(
    st.tuples(
        st.sampled_from(["anna", "Anna", "ännä", "con", "", "b/c", "b-c", "..", "x" * 70]), st.integers()
    ),
    unique_by=lambda one: one[1],
)


@given(PEOPLE, st.randoms(use_true_random=False))
def test_ids_are_apart_on_every_computer_and_do_not_hang_on_the_order(
    named: list[tuple[str, int]], chance: object
) -> None:
    people = [Person(f"u{number}", name, "A", "B", "") for name, number in named]
    entries = with_lasting_ids(people, ())
    ids = {one.lms_user_id: one.student_id for one in entries}
    assert len({one.casefold() for one in ids.values()}) == len(people)
    assert all(check_student_id(one) is None for one in ids.values())
    mixed = list(people)
    chance.shuffle(mixed)  # type: ignore[attr-defined]
    assert {one.lms_user_id: one.student_id for one in with_lasting_ids(mixed, ())} == ids
    # Known once, known for good: also when half of them are gone.
    again = with_lasting_ids(people[::2], entries)
    assert all(ids[one.lms_user_id] == one.student_id for one in again)


def test_the_gradebook_learns_the_schools_id(cls: ClassFolder) -> None:
    """nbgrader's own table of students is the check."""
    entry = cls.student("amara.q")
    engine = create_engine("sqlite://")
    Base.metadata.create_all(engine)
    with Session(engine) as session:
        session.add(Student(id=entry.student_id, **entry.gradebook_values))
        session.commit()
        kept = session.get_one(Student, "amara.q")
        assert (kept.lms_user_id, kept.first_name, kept.last_name) == ("u-amara", "Mara", "Quillstone")
        assert kept.email == "amara@larkmoor.example"
    widths = {Student.__table__.columns[name].type.length for name in entry.gradebook_values}
    long = replace(entry, lms_user_id="u" * 200, first_name="A" * 200).gradebook_values
    assert widths == {128} and long["lms_user_id"] is None and long["first_name"] == "A" * 128


def test_the_command_shows_before_it_changes(
    tmp_path: Path, school: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    where = str(tmp_path / "class")
    assert main(["class", "new", where, "--roster", str(school), "--name", "Evening"]) == 1
    assert "br/1@a (Evening class), br/1@b (Day class)" in capsys.readouterr().err
    made = ["class", "new", where, "--roster", str(school), "--name", "Evening", "--class", "BR1-A"]
    assert main([*made, "--begins", "1.9.2026"]) == 1
    assert "a day such as 2026-09-01 was expected, but '1.9.2026' was found" in capsys.readouterr().err
    assert main([*made, "--begins", "2026-09-01", "--ends", "2027-01-31", "--school", "Larkmoor"]) == 0
    assert "3 students of the class Evening class (br/1@a), from OneRoster 1.2." in capsys.readouterr().out
    cls = open_class(tmp_path / "class")
    assert (cls.settings.school, cls.settings.begins) == ("Larkmoor", date(2026, 9, 1))
    school.write_bytes(without_edda_and("u-amara"))
    roster = cls.roster_file.read_bytes()
    assert main(["class", "roster", where, str(school)]) == 0
    shown = capsys.readouterr().out
    assert "leaves; all work is kept" in shown and "Unchanged: 2 students" in shown and "--yes" in shown
    assert cls.roster_file.read_bytes() == roster
    assert main(["class", "roster", where, str(school), "--yes"]) == 0
    assert "2 students are in it" in capsys.readouterr().out
    assert open_class(cls.root).student_ids == ("bruno", "zoe-muller")
    assert main(["class", "roster", where, str(school)]) == 0
    assert "Nothing would change." in capsys.readouterr().out


def test_version_1_1_makes_a_class_too(tmp_path: Path) -> None:
    path = tmp_path / "old.zip"
    path.write_bytes(packed(files_1_1()))
    cls = new_class(tmp_path / "class", path, name="Evening", wanted="br/1@a")
    assert cls.student_ids == ("bruno", "zoe-muller", "amara.q")
    assert cls.oneroster is not None and cls.oneroster.version == "1.1"


def test_an_older_class_folder_is_read_as_before(tmp_path: Path, cls: ClassFolder) -> None:
    """Its roster has four columns, and there is no package of a school."""
    old = Path(shutil.copytree(cls.root, tmp_path / "old"))
    (old / "oneroster.zip").unlink()
    (old / "roster.csv").write_text("student_id,first_name,last_name,email\ns01,A,B,\n", encoding="utf-8")
    found = folder.open_class(old)
    assert found.roster == (RosterEntry("s01", "A", "B"),) and found.oneroster is None


def test_the_column_left_holds_a_day(tmp_path: Path) -> None:
    path = tmp_path / "roster.csv"
    path.write_text("student_id,first_name,last_name,left\ns01,A,B,yes\n", encoding="utf-8")
    with pytest.raises(CourseError, match=r"line 2: the column 'left' needs a day such as 2026-12-04"):
        read_roster(path)
