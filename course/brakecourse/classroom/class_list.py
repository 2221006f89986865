"""Read a class list in whichever form a school gives it: a plain CSV file, or a OneRoster package."""

from __future__ import annotations

import zipfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from brakecourse.classroom.oneroster import (
    Package,
    PackageError,
    chosen_class,
    combined,
    narrowed,
    people_of,
    read_package,
)
from brakecourse.classroom.roster import RosterEntry, read_roster_file
from brakecourse.classroom.student_ids import with_lasting_ids
from brakecourse.errors import CourseError


@dataclass(frozen=True)
class ClassList:
    """A class list that was read.

    Attributes:
        entries: the students, each with the id that they have or will have.
        words: one line a teacher can check the list by.
        package: the part of the school's package that tells of this class; None of a plain list.
    """

    entries: tuple[RosterEntry, ...]
    words: str
    package: Package | None = None


def read_class_list(
    path: Path,
    today: date,
    wanted: str | None = None,
    known: Sequence[RosterEntry] = (),
    before: Package | None = None,
) -> ClassList:
    """Read a class list.

    Args:
        path: a CSV file with the columns student_id, first_name, last_name and, if wished, email; or a zip, a
            OneRoster package of version 1.1 or 1.2.
        today: enrolments that have ended by then don't count.
        wanted: which class of the package: its id, code or title.
        known: everyone who is or was in the class, so that they keep their ids.
        before: what the school's last package said of this class.

    Raises:
        SeveralClasses: the package holds several classes and none was chosen.
        CourseError: it can't be read, or something in it is wrong.
    """
    if path.suffix.lower() != ".zip" and not (path.is_file() and zipfile.is_zipfile(path)):
        if wanted is not None:
            raise CourseError(
                f"A class to choose ({wanted}) was given, but {path} is a plain list of one class; "
                "leave --class out."
            )
        found = read_roster_file(path)
        return ClassList(tuple(entry for entry in found.entries if not entry.left), found.words)
    package = combined(before, read_package(path))
    if wanted is None and before is not None:
        wanted = _same_class(package, before)
    one = chosen_class(package, wanted, today)
    people = people_of(package, one.sourced_id, today)
    if not people:
        raise PackageError(
            package.name,
            f"at least one student was expected in the class {one.sourced_id} ({one.title}), but nobody is "
            "enrolled there now; check the class and its dates",
            file="enrollments.csv",
        )
    words = (
        f"{len(people)} {'student' if len(people) == 1 else 'students'} of the class {one.title} "
        f"({one.sourced_id}), from OneRoster {package.version}"
    )
    if package.unread:
        words += f"; not used: {', '.join(package.unread)}"
    part = narrowed(package, one.sourced_id, today)
    return ClassList(with_lasting_ids(people, known), words, part)


def _same_class(package: Package, before: Package) -> str | None:
    """Return the id of the class that was taken the last time, where it is still there."""
    last = before.rows("classes")[0].sourced_id
    return last if last in {row.sourced_id for row in package.rows("classes") if not row.deleted} else None
