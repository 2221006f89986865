"""The class list: read a CSV file and refuse what could not be graded safely later."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

from brakecourse.errors import CourseError

REQUIRED = ("student_id", "first_name", "last_name")
COLUMNS = (*REQUIRED, "email", "lms_user_id", "left")

_ID = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9._-]{0,62}[A-Za-z0-9_-])?")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
# Names that Windows keeps for devices: a folder of this name can't be made there.
_DEVICES = {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(10))}
_SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}
_BIGGEST_BYTES = 5_000_000
_COLUMN = 128  # signs in a column of nbgrader 0.9's table of students


@dataclass(frozen=True)
class RosterEntry:
    """One student of the class.

    Attributes:
        student_id: the id that names the student's folders.
        first_name, last_name, email: as the school's list has them.
        lms_user_id: the id in the school's own system (of OneRoster, the sourcedId), or "".
        left: the day of the list that the student was on no longer, such as "2026-12-04", or "".
    """

    student_id: str
    first_name: str
    last_name: str
    email: str = ""
    lms_user_id: str = ""
    left: str = ""

    @property
    def gradebook_values(self) -> dict[str, str | None]:
        """What nbgrader's table of students holds. A server refuses what is longer than its columns."""
        school_id = self.lms_user_id if len(self.lms_user_id) <= _COLUMN else None
        return {
            "first_name": self.first_name[:_COLUMN],
            "last_name": self.last_name[:_COLUMN],
            "email": self.email[:_COLUMN] or None,
            "lms_user_id": school_id or None,
        }


@dataclass(frozen=True)
class RosterFile:
    """What a roster file held, and how it was written."""

    entries: tuple[RosterEntry, ...]
    separator: str
    extra_columns: tuple[str, ...]

    @property
    def words(self) -> str:
        """One line a teacher can check the file by."""
        number = len(self.entries)
        people = f"{number} {'student' if number == 1 else 'students'}"
        text = f"{people}, columns separated by {_SEPARATORS[self.separator]}"
        if self.extra_columns:
            text += f"; not used: {', '.join(self.extra_columns)}"
        return text


def check_student_id(student_id: str) -> str | None:
    """Say what is wrong with a student id, or return None when it is good.

    An id names folders on every operating system, so it is letters, digits, dots, hyphens and underscores.

    >>> check_student_id("s03") is None
    True
    >>> check_student_id("../s03")
    "the student id '../s03' can't name a folder; use 1 to 64 of A-Z, a-z, 0-9, '.', '_', '-', \
starting with a letter or digit and not ending with a dot"
    """
    if student_id.split(".")[0].lower() in _DEVICES:
        return f"the student id '{student_id}' is a name that Windows keeps for itself; choose another"
    if not _ID.fullmatch(student_id):
        return (
            f"the student id '{student_id}' can't name a folder; use 1 to 64 of A-Z, a-z, 0-9, '.', '_', "
            "'-', starting with a letter or digit and not ending with a dot"
        )
    return None


def read_roster(path: Path) -> list[RosterEntry]:
    """Read a class list.

    Args:
        path: a CSV file with the columns student_id, first_name, last_name and, if wished, email (further
            ones that the course itself writes: lms_user_id, left).

    Returns:
        The students, in the file's order.

    Raises:
        CourseError: the file can't be read, a column is missing, it is empty, or a line is wrong.
    """
    return list(read_roster_file(path).entries)


def read_roster_file(path: Path) -> RosterFile:
    """Read a class list and say how it was written (see `read_roster`)."""
    text = _text(path)
    if not text.strip():
        raise CourseError(f"The roster {path} is empty; it needs a header line and one line a student.")
    separator = _separator(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    entries: list[RosterEntry] = []
    header: list[str] = []
    first_line_of: dict[str, int] = {}
    try:
        for row in reader:
            cells = [cell.strip() for cell in row]
            if not any(cells):
                continue
            if not header:
                header = _header(cells, path)
                continue
            entry = _entry(header, cells, path, reader.line_num)
            _refuse_duplicate(entry, first_line_of, path, reader.line_num)
            entries.append(entry)
    except csv.Error as error:
        raise CourseError(
            f"The roster {path}, line {reader.line_num}, is not readable as CSV: {error}."
        ) from error
    if not entries:
        raise CourseError(f"The roster {path} has a header but no students; add one line a student.")
    return RosterFile(tuple(entries), separator, tuple(name for name in header if name not in COLUMNS))


def roster_bytes(entries: Sequence[RosterEntry]) -> bytes:
    """Return a class list in the form that `read_roster` reads."""
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, COLUMNS)
    writer.writeheader()
    writer.writerows(asdict(entry) for entry in entries)
    return text.getvalue().encode("utf-8")


def write_roster(entries: Sequence[RosterEntry], path: Path) -> None:
    """Write a class list in the form that `read_roster` reads."""
    path.write_bytes(roster_bytes(entries))


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > _BIGGEST_BYTES:
            raise CourseError(
                f"The roster {path} is larger than 5 MB, so it is hardly a class list; check the file."
            )
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise CourseError(
            f"The roster {path} is not UTF-8 text; save it again as 'CSV UTF-8' from the spreadsheet."
        ) from error
    except OSError as error:
        raise CourseError(f"The roster {path} can't be read: {error.strerror or error}.") from error


def _separator(text: str) -> str:
    header = next(line for line in text.splitlines() if line.strip())
    return max(_SEPARATORS, key=header.count)


def _header(cells: list[str], path: Path) -> list[str]:
    names = [re.sub(r"[\s-]+", "_", cell.lower()) for cell in cells]
    missing = [name for name in REQUIRED if name not in names]
    if missing:
        raise CourseError(
            f"The roster {path} needs the columns {', '.join(REQUIRED)} (email if wished); "
            f"missing: {', '.join(missing)}; found: {', '.join(cells)}."
        )
    twice = sorted({name for name in names if name in COLUMNS and names.count(name) > 1})
    if twice:
        raise CourseError(f"The roster {path} has the column {', '.join(twice)} more than once; keep one.")
    return names


def _entry(header: list[str], cells: list[str], path: Path, line: int) -> RosterEntry:
    where = f"The roster {path}, line {line}"
    if len(cells) > len(header) and any(cells[len(header) :]):
        raise CourseError(
            f"{where}, has {len(cells)} values but the header names {len(header)} columns; "
            "put quotation marks round a value that holds the separator."
        )
    values = dict(zip(header, [*cells, *[""] * len(header)], strict=False))
    for name in REQUIRED:
        if not values[name]:
            raise CourseError(f"{where}, has no {name}; fill it in.")
    wrong = check_student_id(values["student_id"])
    if wrong:
        raise CourseError(f"{where}: {wrong}.")
    if values.get("left") and not _DAY.fullmatch(values["left"]):
        raise CourseError(
            f"{where}: the column 'left' needs a day such as 2026-12-04 or nothing, but '{values['left']}' "
            "was found."
        )
    return RosterEntry(**{name: values.get(name, "") for name in COLUMNS})


def _refuse_duplicate(entry: RosterEntry, first_line_of: dict[str, int], path: Path, line: int) -> None:
    # Windows and macOS take S03 and s03 for one folder, so a change of case is no other student.
    key = entry.student_id.casefold()
    if key in first_line_of:
        raise CourseError(
            f"The roster {path}, line {line}: the student id '{entry.student_id}' is already on line "
            f"{first_line_of[key]} (capitals don't count); give each student one id and one line."
        )
    first_line_of[key] = line
