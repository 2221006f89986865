"""A school's OneRoster package as the class list: what is read of it, and each thing that is refused.

Rules: 1EdTech OneRoster 1.1 and 1.2, CSV binding, as the project's design notes restate them.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from brakecourse.classroom.class_list import read_class_list
from brakecourse.classroom.oneroster import (
    PackageError,
    PackageLimits,
    SeveralClasses,
    chosen_class,
    narrowed,
    offered_classes,
    package_bytes,
    people_of,
    read_package,
)
from brakecourse.classroom.oneroster.columns import COLUMNS
from brakecourse.classroom.roster import RosterEntry
from brakecourse.errors import CourseError

from tests.classroom.oneroster_packages import (
    CLASSES,
    COURSES,
    ENROLLMENTS,
    NAMES,
    ORGS,
    ROLES,
    SESSIONS,
    USERS,
    USERS_1_1,
    files_1_1,
    files_1_2,
    manifest,
    packed,
)

TODAY = date(2026, 12, 4)
CLASS = "br/1@a"
Files = dict[str, list[str] | str | bytes]


def names(content: bytes, class_id: str = CLASS, today: date = TODAY) -> list[tuple[str, str, str, str]]:
    people = people_of(read_package(content), class_id, today)
    return [(one.sourced_id, one.first_name, one.last_name, one.email) for one in people]


EXPECTED = [
    ("u/bruno@x", "Bruno", "Fennimoor, the younger", ""),
    ("u-zoe", "=Zoë", 'O"Neill-Müller', "zoe@larkmoor.example"),
    ("u-amara", "Mara", "Quillstone", "amara@larkmoor.example"),
]


@pytest.mark.parametrize("files", [files_1_1, files_1_2])
@pytest.mark.parametrize(
    ("end", "mark"), [("\r\n", b""), ("\n", b""), ("\r\n", b"\xef\xbb\xbf"), ("\n", b"\xef\xbb\xbf")]
)
def test_both_versions_give_the_same_people(files: Callable[[], Files], end: str, mark: bytes) -> None:
    assert names(packed(files(), end, mark)) == EXPECTED


def test_the_course_knows_the_columns_that_were_typed_here_once_more() -> None:
    typed = {
        "orgs": ORGS, "academicSessions": SESSIONS, "courses": COURSES, "classes": CLASSES,
        "enrollments": ENROLLMENTS,
    }  # fmt: skip
    for version, more in (("1.1", {"users": USERS_1_1}), ("1.2", {"users": USERS, "roles": ROLES})):
        for file, header in {**typed, **more}.items():
            assert ",".join(column.name for column in COLUMNS[version][file]) == header


def test_who_is_shut_out_gone_or_to_be_deleted_is_no_student() -> None:
    """Chiyo's account is shut and Edda left; before she left, Edda was one. The last day is not in it."""
    content = packed(files_1_2())
    assert "u-edda" in {one[0] for one in names(content, today=date(2026, 10, 31))}
    assert "u-edda" not in {one[0] for one in names(content, today=date(2026, 11, 1))}
    files = files_1_2()
    files["users"][1] = files["users"][1].replace("u-amara,,", "u-amara,tobedeleted,")
    files["enrollments"][2] = files["enrollments"][2].replace(
        "e2,,", "e2,tobedeleted,2026-12-01T08:00:00.000Z"
    )
    assert [one[0] for one in names(packed(files))] == ["u-zoe"]


def test_the_older_column_of_version_1_2_and_columns_of_ones_own_are_read_over() -> None:
    files = files_1_2()
    lines = files["users"]
    lines[0] = lines[0].replace("userMasterIdentifier,", "userMasterIdentifier,resourceSourcedIds,")
    lines[0] += ",metadata.shirt"
    lines[1:] = [line.replace(",secret,,", ",secret,,,") + ",XL" for line in lines[1:]]
    assert names(packed(files)) == EXPECTED


def test_demographics_are_not_even_looked_at() -> None:
    files: Files = files_1_2()
    files["demographics"] = b"\xff\xfe nobody's business"
    files["manifest"] = manifest("1.2", files)
    package = read_package(packed(files))
    assert package.unread == ("demographics",) and "demographics" not in package.tables


def test_several_classes_make_the_caller_ask() -> None:
    package = read_package(packed(files_1_2()))
    offers = offered_classes(package, TODAY)
    assert [(one.sourced_id, one.title, one.students) for one in offers] == [
        (CLASS, "Evening class", 3),
        ("br/1@b", "Day class", 1),
    ]
    with pytest.raises(SeveralClasses, match=r"holds 2 classes; choose one by its id with --class") as caught:
        chosen_class(package, None, TODAY)
    assert caught.value.offers == offers
    for wanted in (CLASS, "BR1-A", "Evening class"):
        assert chosen_class(package, wanted, TODAY).sourced_id == CLASS
    with pytest.raises(SeveralClasses, match=r"'BR9' is none of them"):
        chosen_class(package, "BR9", TODAY)


def test_a_class_keeps_its_own_part_of_the_package_and_nothing_else() -> None:
    part = narrowed(read_package(packed(files_1_2())), CLASS, TODAY)
    content = package_bytes(part.version, part.values())
    again = read_package(content)
    assert (
        people_of(again, CLASS, TODAY) == people_of(part, CLASS, TODAY)
        and len(offered_classes(again, TODAY)) == 1
    )
    assert {row.sourced_id for row in again.rows("users")} == {"u-amara", "u/bruno@x", "u-zoe", "t-dafydd"}
    assert {row.sourced_id for row in again.rows("orgs")} == {"larkmoor", "county"}
    assert {row.sourced_id for row in again.rows("academicSessions")} == {"autumn", "y2027"}
    assert {row["password"] for row in again.rows("users")} == {""}
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert b"secret" not in b"".join(map(archive.read, archive.namelist()))


def line(file: str, row: int, old: str, new: str) -> Callable[[Files], None]:
    """Change a row; the header is row 1."""

    def change(files: Files) -> None:
        lines = files[file]
        assert isinstance(lines, list) and old in lines[row - 1], (file, row, old)
        lines[row - 1] = lines[row - 1].replace(old, new, 1)

    return change


def said(name: str, value: str) -> Callable[[Files], None]:
    """Change what the manifest says."""

    def change(files: Files) -> None:
        lines = files["manifest"]
        assert isinstance(lines, list)
        files["manifest"] = [f"{name},{value}" if one.startswith(f"{name},") else one for one in lines]

    return change


def without(name: str) -> Callable[[Files], None]:
    return lambda files: files.__delitem__(name)


def plus(name: str, content: list[str] | str | bytes = "x") -> Callable[[Files], None]:
    return lambda files: files.__setitem__(name, content)


def cut(file: str, rows: int) -> Callable[[Files], None]:
    return lambda files: files.__setitem__(file, files[file][:rows])


def encoded(file: str, encoding: str) -> Callable[[Files], None]:
    def change(files: Files) -> None:
        lines = files[file]
        assert isinstance(lines, list)
        files[file] = "\r\n".join(lines).encode(encoding)

    return change


def no_manifest_row(name: str) -> Callable[[Files], None]:
    def change(files: Files) -> None:
        files["manifest"] = [one for one in files["manifest"] if not str(one).startswith(f"{name},")]

    return change


BROKEN = [
    ("manifest.csv", 0, "", "is missing", without("manifest")),
    ("manifest.csv", 15, "file.orgs", "says 'bulk', but orgs.csv is not in the zip", without("orgs")),
    (
        "manifest.csv",
        15,
        "file.orgs",
        "says 'absent', but orgs.csv is in the zip",
        said("file.orgs", "absent"),
    ),
    ("manifest.csv", 15, "file.orgs", "absent or bulk or delta was expected", said("file.orgs", "some")),
    ("manifest.csv", 0, "file.orgs", "the row 'file.orgs' is missing", no_manifest_row("file.orgs")),
    ("manifest.csv", 3, "oneroster.version", "but '2.0' was found", said("oneroster.version", "2.0")),
    ("manifest.csv", 2, "manifest.version", "1.0 was expected", said("manifest.version", "1.1")),
    (
        "users.csv",
        1,
        "enabledUser",
        "stands as column 5",
        line("users", 1, "enabledUser,username", "username,enabledUser"),
    ),
    ("users.csv", 1, "email", "column 11 of the header must be 'email'", line("users", 1, ",email", "")),
    (
        "orgs.csv",
        1,
        "name",
        "but 'Name' was found there and 'name' is missing",
        line("orgs", 1, ",name", ",Name"),
    ),
    (
        "orgs.csv",
        1,
        "town",
        "none of OneRoster's",
        line("orgs", 1, "parentSourcedId", "parentSourcedId,town"),
    ),
    ("enrollments.csv", 4, "sourcedId", "'e1' stands on row 2 too", line("enrollments", 4, "e3", "e1")),
    (
        "enrollments.csv",
        3,
        "userSourcedId",
        "'u-nobody' was expected in users.csv",
        line("enrollments", 3, "u/bruno@x", "u-nobody"),
    ),
    (
        "classes.csv",
        2,
        "schoolSourcedId",
        "must be of type 'school'",
        line("classes", 2, "larkmoor", "county"),
    ),
    (
        "classes.csv",
        3,
        "termSourcedIds",
        "'spring' was expected in academicSessions.csv",
        line("classes", 3, "autumn", "spring"),
    ),
    ("classes.csv", 2, "subjectCodes", "2 codes were expected", line("classes", 2, '"V,T"', "V")),
    ("enrollments.csv", 2, "role", "but 'pupil' was found", line("enrollments", 2, "student", "pupil")),
    ("enrollments.csv", 2, "role", "but 'Student' was found", line("enrollments", 2, "student", "Student")),
    (
        "users.csv",
        3,
        "enabledUser",
        "'true' or 'false', in small letters, was expected",
        line("users", 3, "true", "TRUE"),
    ),
    ("users.csv", 2, "givenName", "a value is needed here", line("users", 2, "Amara", "")),
    ("users.csv", 2, "sourcedId", "an id of at most 255", line("users", 2, "u-amara", "urn:uuid:1")),
    (
        "academicSessions.csv",
        3,
        "startDate",
        "a date such as 2026-09-01",
        line("academicSessions", 3, "2026-09-01", "1.9.2026"),
    ),
    (
        "academicSessions.csv",
        3,
        "startDate",
        "but '2026-02-30' was found",
        line("academicSessions", 3, "2026-09-01", "2026-02-30"),
    ),
    (
        "academicSessions.csv",
        3,
        "endDate",
        "a day after startDate",
        line("academicSessions", 3, "2027-01-01", "2026-09-01"),
    ),
    (
        "academicSessions.csv",
        2,
        "schoolYear",
        "a year such as 2027",
        line("academicSessions", 2, ",,2027", ",,26/27"),
    ),
    (
        "orgs.csv",
        2,
        "dateLastModified",
        "a time such as",
        line("orgs", 2, "larkmoor,,", "larkmoor,,2026-12-04"),
    ),
    ("users.csv", 4, "familyName", "a line break", line("users", 4, "Neill", "\nNeill")),
    (
        "users.csv",
        4,
        "",
        "22 values were expected, as in the header, but 23",
        line("users", 4, "=Zoë", "=Zoë,"),
    ),
    ("users.csv", 3, "", "not readable", line("users", 3, 'younger"', 'younger"x')),
    ("users.csv", 3, "username", "a sign that can't be shown", line("users", 3, "bruno,", "bru\x00no,")),
    ("users.csv", 4, "", "UTF-8 text was expected", encoded("users", "latin-1")),
    ("users.csv", 1, "", "UTF-8 text was expected", encoded("users", "utf-16")),
    ("roles.csv", 0, "", "a header but no rows", cut("roles", 1)),
    ("roles.csv", 0, "", "the file is empty", plus("roles", "")),
    ("", 0, "", "lies in a folder", plus("inner/users.csv")),
    ("", 0, "", "leads out of the package", plus("../users.csv")),
    ("", 0, "", "leads out of the package", plus("/etc/users.csv")),
    ("", 0, "", "leads out of the package", plus("C:\\users.csv")),
    ("", 0, "", "'Users.csv' is in it twice (also as 'users.csv')", plus("Users.csv")),
    ("", 0, "", "'notes.txt' is no file of OneRoster", plus("notes.txt")),
    ("", 0, "", "'Results.csv' is no file of OneRoster (capitals count)", plus("Results.csv")),
    ("results.csv", 0, "", "as a trap does", plus("results.csv", b"0" * 5_000_000)),
]


@pytest.mark.parametrize(
    ("file", "row", "field", "words", "change"), BROKEN, ids=[one[3][:45] for one in BROKEN]
)
def test_a_broken_package_is_refused_with_file_row_and_field(
    file: str, row: int, field: str, words: str, change: Callable[[Files], None]
) -> None:
    files: Files = files_1_2()
    assert read_package(packed(files)).rows("users")
    change(files)
    with pytest.raises(PackageError) as caught:
        read_package(packed(files), name="school.zip")
    error = caught.value
    assert (error.file, error.row, error.field) == (file, row, field)
    sentence = str(error)
    assert words in sentence and sentence.startswith("The class list school.zip")
    for part in (file, f"row {row}" if row else "", f"field '{field}'" if field else ""):
        assert part in sentence
    assert sentence.endswith(".") and "\n" not in sentence and not [one for one in NAMES if one in sentence]


def test_what_names_a_person_is_not_repeated() -> None:
    files = files_1_2()
    files["users"][1] = files["users"][1].replace("{Card:0}", "Amara Quillstone")
    with pytest.raises(PackageError, match=r"users.csv, row 2, field 'userIds'.*not shown") as caught:
        read_package(packed(files))
    assert not [name for name in NAMES if name in str(caught.value)]


def test_a_file_twice_a_lock_and_an_odd_way_of_packing_are_refused() -> None:
    content = packed(files_1_2())
    stream = io.BytesIO(content)
    with pytest.warns(UserWarning, match="Duplicate"), zipfile.ZipFile(stream, "a") as archive:
        archive.writestr("orgs.csv", "x")
    with pytest.raises(PackageError, match=r"'orgs.csv' is in it twice"):
        read_package(stream.getvalue())
    with pytest.raises(PackageError, match="locked with a password"):
        read_package(_with_flag(content))
    odd = io.BytesIO()
    with zipfile.ZipFile(odd, "w", zipfile.ZIP_LZMA) as archive:
        archive.writestr("orgs.csv", "x")
    with pytest.raises(PackageError, match="packed in an unusual way"):
        read_package(odd.getvalue())


def _with_flag(content: bytes) -> bytes:
    """Set the sign of encryption in the zip's directory (PKWARE's APPNOTE, 4.4.4; from memory)."""
    place = content.index(b"PK\x01\x02") + 8
    return content[:place] + bytes([content[place] | 1]) + content[place + 1 :]


def test_no_zip_a_cut_one_and_a_large_one_are_refused(tmp_path: Path) -> None:
    content = packed(files_1_2())
    for wrong in (b"", b"student_id,first_name", content[: len(content) // 2]):
        with pytest.raises(PackageError, match="a zip was expected"):
            read_package(wrong)
    with pytest.raises(PackageError, match=r"at most 0 MB were expected, but"):
        read_package(content, limits=PackageLimits(zip_bytes=100))
    with pytest.raises(PackageError, match=r"unpacked"):
        read_package(content, limits=PackageLimits(all_bytes=100))
    with pytest.raises(PackageError, match=r"can't be read \(No such file"):
        read_package(tmp_path / "none.zip")
    torn = bytearray(content)
    torn[60] ^= 0xFF
    with pytest.raises(PackageError, match="damaged"):
        read_package(bytes(torn))


def test_a_class_without_students_is_no_class_list(tmp_path: Path) -> None:
    path = tmp_path / "school.zip"
    path.write_bytes(packed(files_1_2()))
    assert len(read_class_list(path, TODAY, CLASS).entries) == 3
    files = files_1_2()
    files["enrollments"] = [re.sub("student.*", "student,,,2026-10-01", one) for one in files["enrollments"]]
    path.write_bytes(packed(files))
    with pytest.raises(PackageError, match=r"enrollments.csv: .*nobody is enrolled there now"):
        read_class_list(path, TODAY, CLASS)


def test_a_plain_list_has_no_classes_to_choose_from(tmp_path: Path) -> None:
    plain = tmp_path / "roster.csv"
    plain.write_text("student_id,first_name,last_name\ns01,A,B\n", encoding="utf-8")
    with pytest.raises(CourseError, match="plain list of one class; leave --class out"):
        read_class_list(plain, TODAY, CLASS)
    assert read_class_list(plain, TODAY).entries == (RosterEntry("s01", "A", "B"),)


def delta(**tables: list[str]) -> bytes:
    return packed({**tables, "manifest": manifest("1.2", tables, "delta")})


STAMP = "2026-12-01T08:00:00.000Z"


def test_changes_are_laid_over_what_was_known(tmp_path: Path) -> None:
    path = tmp_path / "changes.zip"
    before = narrowed(read_package(packed(files_1_2())), CLASS, TODAY)
    path.write_bytes(
        delta(
            users=[
                USERS,
                f"u-gina,active,{STAMP},true,gina,,Gina,Sorrelby,,,,,,,,,,,,,larkmoor,",
                f"u/bruno@x,active,{STAMP},true,bruno,,Bruno,Fennimoor,,,,,,,,,,,,,larkmoor,",
            ],
            enrollments=[
                ENROLLMENTS,
                f"e8,active,{STAMP},{CLASS},larkmoor,u-gina,student,,,",
                f"e1,tobedeleted,{STAMP},{CLASS},larkmoor,u-amara,student,,,",
                f"e9,active,{STAMP},br/1@b,larkmoor,u-ferro,student,,,",
            ],
        )
    )
    found = read_class_list(path, TODAY, before=before)
    assert [(one.lms_user_id, one.last_name) for one in found.entries] == [
        ("u/bruno@x", "Fennimoor"),
        ("u-zoe", 'O"Neill-Müller'),
        ("u-gina", "Sorrelby"),
    ]
    assert found.package is not None and {row["status"] for row in found.package.rows("users")} == {""}
    with pytest.raises(PackageError, match=r"only changes \(delta\)"):
        read_class_list(path, TODAY)


def test_a_file_of_changes_needs_its_stamps() -> None:
    with pytest.raises(PackageError, match=r"orgs.csv, row 2, field 'status': a file of changes"):
        read_package(delta(orgs=[ORGS, "larkmoor,,,Larkmoor,school,,"]))
