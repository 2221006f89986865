"""Forget a student: take all that tells of one person out of a class folder, after showing what will go."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from brakecourse.classroom import export_log
from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.forget_rows import count_rows, forget_rows, has_gradebook
from brakecourse.classroom.oneroster import package_bytes
from brakecourse.classroom.roster import RosterEntry, roster_bytes
from brakecourse.classroom.traces import can_be_searched, files_below, names_them, patterns_of
from brakecourse.errors import CourseError

_OWN = (
    "cases/*/{id}.json",
    "kits/*/{id}.zip",
    "received/*/{id}",
    "submitted/{id}",
    "autograded/{id}",
    "feedback/{id}",
    "exports/*/{id}",
    "exports/*/{id}.*",
    "observations/{id}.csv",
)
"""Where the things lie that are one student's own. Nothing of anybody else is under these names."""

_ONE_STUDENTS = ("badges", "records")
"""Folders of the exports in which every file is of one student."""


@dataclass(frozen=True)
class Forgetting:
    """What will go, and what a person has to look at.

    Attributes:
        entry: who is forgotten.
        own: files that are the student's own.
        class_files: exported files that tell of the student among others; they go too. They can be written
            again.
        rows: rows of the gradebook, by table.
        log_lines: lines of the export log.
        school_list: the school's package is in the class and names the student; the rows go.
        to_look_at: other files that name the student, such as a teacher's notes. They stay.
    """

    entry: RosterEntry
    own: tuple[Path, ...]
    class_files: tuple[Path, ...]
    rows: dict[str, int]
    log_lines: int
    school_list: bool
    to_look_at: tuple[Path, ...]


def plan_forgetting(cls: ClassFolder, student_id: str) -> Forgetting:
    """Find all that tells of a student. Nothing is changed.

    Raises:
        CourseError: nobody has this id, or it is the only student.
    """
    entry = next((one for one in cls.everyone if one.student_id == student_id), None)
    if entry is None:
        cls.student(student_id)  # says so
        raise AssertionError
    if len(cls.everyone) == 1:
        raise CourseError(
            f"The student '{student_id}' is the only one of this class; to forget them, delete the folder "
            f"{cls.root}."
        )
    patterns = patterns_of(entry)
    own = tuple(path for place in _own_places(cls, student_id) for path in _files(place))
    theirs = set(own)
    exported = [path for path in files_below(cls.exports) if path not in theirs]
    class_files = tuple(path for path in exported if _tells_of_them(cls, path, patterns))
    handled = {*theirs, *exported, cls.roster_file, cls.gradebook_file, cls.oneroster_file}
    others = (path for path in files_below(cls.root) if path not in handled)
    return Forgetting(
        entry,
        own,
        class_files,
        count_rows(cls, student_id) if has_gradebook(cls) else {},
        sum(not _keeps(line, student_id) for line in export_log.lines(cls)),
        cls.oneroster_file.is_file() and names_them(cls.oneroster_file.read_bytes(), patterns),
        tuple(path for path in others if names_them(path.read_bytes(), patterns)),
    )


def in_words(cls: ClassFolder, plan: Forgetting) -> Iterator[tuple[str, int, str]]:
    """Say what will go and what stays: where it is, how many of it, what becomes of it."""
    yield "roster.csv", 1, "the line goes"
    places: dict[str, int] = {}
    for path in plan.own:
        place = path.relative_to(cls.root).parts[0]
        places[place] = places.get(place, 0) + 1
    for place, many in places.items():
        yield f"{place}/", many, "the files go"
    for path in plan.class_files:
        yield path.relative_to(cls.root).as_posix(), 1, "goes, and can be written again without the student"
    for name, many in plan.rows.items():
        yield f"gradebook, {name}", many, "the rows go"
    if plan.log_lines:
        yield "exports/log.csv", plan.log_lines, "the lines go"
    if plan.school_list:
        yield cls.oneroster_file.name, 1, "the student's rows go"
    for path in plan.to_look_at:
        yield path.relative_to(cls.root).as_posix(), 1, "stays; it names the student, so look at it yourself"


def forget(cls: ClassFolder, plan: Forgetting) -> None:
    """Take out what was shown. Given again after a stop half-way, it goes on: the roster comes last.

    Raises:
        CourseError: the gradebook or a file can't be written.
    """
    student_id = plan.entry.student_id
    if has_gradebook(cls):
        forget_rows(cls, student_id)
    with reporting_disk_trouble(f"take the files of student {student_id} out of {cls.root}"):
        for place in _own_places(cls, student_id):
            _remove(place)
        for path in plan.class_files:
            path.unlink(missing_ok=True)
    if plan.log_lines:
        export_log.keep_lines(cls, lambda line: _keeps(line, student_id))
    rest = tuple(one for one in cls.everyone if one.student_id != student_id)
    with reporting_disk_trouble(f"write {cls.roster_file}"):
        if plan.school_list:
            write_bytes_whole(cls.oneroster_file, _school_list_without(cls, plan.entry))
        write_bytes_whole(cls.roster_file, roster_bytes(rest))


def _own_places(cls: ClassFolder, student_id: str) -> list[Path]:
    # An id holds letters, digits, dots, hyphens and underscores alone, so it means nothing to a pattern.
    found = (path for one in _OWN for path in sorted(cls.root.glob(one.format(id=student_id))))
    # "s1.*" would be "s1.b.pdf" too, which is the student's "s1.b".
    return [path for path in found if student_id in (path.name, path.stem)]


def _files(place: Path) -> list[Path]:
    return list(files_below(place)) if place.is_dir() else [place]


def _tells_of_them(cls: ClassFolder, path: Path, patterns: Sequence[re.Pattern[bytes]]) -> bool:
    place = path.relative_to(cls.exports).parts[0]
    if path == export_log.log_file(cls) or place in _ONE_STUDENTS:
        return False  # lines of the log go one by one
    content = path.read_bytes()
    # In a picture or a PDF of the whole class nobody can be looked for.
    return names_them(content, patterns) or not can_be_searched(content)


def _keeps(line: Sequence[str], student_id: str) -> bool:
    """Tell whether a log line is of a file that is not the student's own."""
    parts = line[2].split("/")
    return not any(part == student_id or Path(part).stem == student_id for part in parts[1:])


def _remove(place: Path) -> None:
    if not place.is_dir() or place.is_symlink():
        place.unlink(missing_ok=True)
        return
    for folder in (place, *(path for path in place.rglob("*") if path.is_dir() and not path.is_symlink())):
        folder.chmod(0o700)  # what came in is kept read-only
    shutil.rmtree(place)


def _school_list_without(cls: ClassFolder, entry: RosterEntry) -> bytes:
    """Return the school's package without the rows that name a student."""
    package = cls.oneroster
    assert package is not None
    gone = entry.lms_user_id
    tables = {
        # Somebody without an id of the school's stands in none of its rows; an empty cell is no id.
        file: [row for row in rows if not gone or gone not in row.values()]
        for file, rows in package.values().items()
    }
    return package_bytes(package.version, tables)
