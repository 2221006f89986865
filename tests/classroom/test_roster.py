"""The class list: what is read, and the one sentence for each thing that is refused."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from brakecourse.classroom.roster import RosterEntry, read_roster, read_roster_file, write_roster
from brakecourse.errors import CourseError
from brakecourse.tables import table_path

GOOD = (
    "student_id,first_name,last_name,email\ns01,Amara,Quillstone,a@larkmoor.example\ns02,Bruno,Fennimoor,\n"
)


def roster(tmp_path: Path, content: str | bytes) -> Path:
    path = tmp_path / "roster.csv"
    path.write_bytes(content.encode("utf-8") if isinstance(content, str) else content)
    return path


def test_a_plain_roster_is_read_in_its_order(tmp_path: Path) -> None:
    assert read_roster(roster(tmp_path, GOOD)) == [
        RosterEntry("s01", "Amara", "Quillstone", "a@larkmoor.example"),
        RosterEntry("s02", "Bruno", "Fennimoor", ""),
    ]


@pytest.mark.parametrize(
    "content",
    [
        b"\xef\xbb\xbf" + GOOD.encode(),
        GOOD.replace("\n", "\r\n"),
        GOOD.replace(",", ";"),
        GOOD.replace(",", "\t"),
        GOOD.replace("student_id", "Student ID").replace("first_name", " First-Name "),
        GOOD.replace("\ns02", "\n\n,,,\ns02"),
        GOOD.replace("Amara", '"Amara"').rstrip("\n"),
    ],
    ids=["bom", "crlf", "semicolons", "tabs", "headings in words", "blank lines", "quoted, no last newline"],
)
def test_what_spreadsheets_write_is_understood(tmp_path: Path, content: str | bytes) -> None:
    assert read_roster(roster(tmp_path, content)) == read_roster(roster(tmp_path, GOOD))


def test_email_may_be_left_out_and_other_columns_are_named(tmp_path: Path) -> None:
    found = read_roster_file(
        roster(tmp_path, "last_name;student_id;first_name;room\nQuillstone;s01;Amara;12\n")
    )
    assert found.entries == (RosterEntry("s01", "Amara", "Quillstone", ""),)
    assert found.words == "1 student, columns separated by semicolons; not used: room"


def test_a_separator_inside_quotation_marks_is_part_of_the_name(tmp_path: Path) -> None:
    path = roster(tmp_path, 'student_id,first_name,last_name\ns01,Amara,"Quillstone, the younger"\n')
    assert read_roster(path)[0].last_name == "Quillstone, the younger"


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("", "is empty"),
        (b"\xef\xbb\xbf \r\n", "is empty"),
        ("student_id,first_name,last_name\n", "has a header but no students"),
        ("id,name\ns01,Amara\n", "missing: student_id, first_name, last_name; found: id, name"),
        ("student_id,first_name\ns01,Amara\n", "missing: last_name"),
        ("student_id,student_id,first_name,last_name\ns,s,A,B\n", "student_id more than once"),
        (GOOD + "s01,Chiyo,Larkenfield,\n", "line 4: the student id 's01' is already on line 2"),
        (GOOD + "S01,Chiyo,Larkenfield,\n", "line 4: the student id 'S01' is already on line 2 (capitals"),
        (GOOD + ",Chiyo,Larkenfield,\n", "line 4, has no student_id"),
        (GOOD + "s03,,Larkenfield,\n", "line 4, has no first_name"),
        (GOOD + "s03,Chiyo\n", "line 4, has no last_name"),
        (GOOD + "s03,Chiyo,Larkenfield,c@x.example,extra\n", "line 4, has 5 values but the header names 4"),
        (GOOD + 's03,Chiyo,"Larken"field,\n', "line 4, is not readable as CSV"),
        ("student_id,first_name,last_name\ns01,Am\xe9lie,B\n".encode("latin-1"), "is not UTF-8 text"),
        ("student_id,first_name,last_name\ns01,A\x00,B\n".encode("utf-16"), "is not UTF-8 text"),
    ],
)
def test_what_cannot_be_a_class_list_is_refused_with_a_sentence(
    tmp_path: Path, content: str | bytes, words: str
) -> None:
    with pytest.raises(CourseError) as caught:
        read_roster(roster(tmp_path, content))
    assert words in str(caught.value)
    assert str(caught.value).endswith(".") and "\n" not in str(caught.value)


@pytest.mark.parametrize(
    "student_id",
    ["../s1", "a/b", "a\\b", ".", "..", ".hidden", "s 1", "s1.", "s*", "[s1]", "ü1", "a" * 65, "a:b", "a+b"],
)
def test_an_id_that_cannot_name_a_folder_is_refused_with_its_line(tmp_path: Path, student_id: str) -> None:
    path = roster(tmp_path, f'{GOOD}"{student_id}",Chiyo,Larkenfield,\n')
    with pytest.raises(CourseError, match=r"line 4: the student id '.*' can't name a folder"):
        read_roster(path)


@pytest.mark.parametrize("student_id", ["CON", "nul", "com1", "lpt9.txt"])
def test_an_id_that_windows_keeps_for_itself_is_refused(tmp_path: Path, student_id: str) -> None:
    with pytest.raises(CourseError, match=r"line 4: the student id '.*' is a name that Windows keeps"):
        read_roster(roster(tmp_path, f"{GOOD}{student_id},Chiyo,Larkenfield,\n"))


def test_a_missing_file_and_a_folder_are_refused(tmp_path: Path) -> None:
    with pytest.raises(CourseError, match="can't be read: No such file"):
        read_roster(tmp_path / "none.csv")
    with pytest.raises(CourseError, match="can't be read"):
        read_roster(tmp_path)


def test_a_huge_file_is_refused_before_it_is_read(tmp_path: Path) -> None:
    with pytest.raises(CourseError, match="larger than 5 MB"):
        read_roster(roster(tmp_path, b"x" * 5_000_001))


def test_writing_and_reading_give_the_same_list(tmp_path: Path) -> None:
    entries = [
        RosterEntry("s01", 'Am"ara', "Quill, stone", "a@larkmoor.example"),
        RosterEntry("s-2.b", "Zoë", "O'M"),
    ]
    write_roster(entries, tmp_path / "r.csv")
    assert read_roster(tmp_path / "r.csv") == entries


def test_the_demo_class_is_twelve_people_as_another_reader_sees_them() -> None:
    path = table_path("demo_class/roster.csv")
    with path.open(encoding="utf-8", newline="") as handle:
        rows = list(csv.DictReader(handle))
    assert [row["student_id"] for row in rows] == [f"s{n:02}" for n in range(1, 13)]
    assert read_roster(path) == [RosterEntry(**row) for row in rows]
    # Reserved for examples by RFC 2606, so no letter can ever arrive there (from memory).
    assert all(row["email"] == "" or row["email"].endswith("@larkmoor.example") for row in rows)
