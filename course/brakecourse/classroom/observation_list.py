"""A list of observations in a CSV file: student, task, seen or not yet, date, observer."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.observations import Observation
from brakecourse.classroom.observer_sheet import ObservedTask
from brakecourse.errors import CourseError

COLUMNS = ("student", "task", "seen", "date", "observer")
_SEEN = {"seen": True, "yes": True, "not yet": False, "no": False}
_MOST_BYTES = 2_000_000


@dataclass(frozen=True)
class ListRead:
    """What a list held.

    Attributes:
        found: the observations.
        refused: lines that can't be used: the line's number, and why.
    """

    found: tuple[Observation, ...]
    refused: tuple[tuple[int, str], ...]


def read_list(cls: ClassFolder, tasks: Sequence[ObservedTask], content: bytes) -> ListRead:
    """Read a list.

    Args:
        cls: the class.
        tasks: the module's tasks.
        content: the CSV file's bytes: the columns student, task, seen ("seen" or "not yet"), date and
            observer; and, if wished, point, for one point of the task's scheme alone.

    Raises:
        CourseError: it is no CSV file with these columns.
    """
    try:
        text = content[:_MOST_BYTES].decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise CourseError(
            "The list of observations should be a CSV file in UTF-8, but it is not; save it as 'CSV UTF-8'."
        ) from error
    separator = ";" if text.partition("\n")[0].count(";") > text.partition("\n")[0].count(",") else ","
    reader = csv.DictReader(io.StringIO(text), delimiter=separator)
    names = [(name or "").strip().lower() for name in reader.fieldnames or ()]
    missing = [name for name in COLUMNS if name not in names]
    if missing:
        raise CourseError(
            f"The list of observations needs the columns {', '.join(COLUMNS)}, but {', '.join(missing)} "
            "is not there; put the names in its first line."
        )
    reader.fieldnames = names
    found: list[Observation] = []
    refused: list[tuple[int, str]] = []
    for number, row in enumerate(reader, start=2):
        try:
            found += _observations(cls, tasks, {key: (row.get(key) or "").strip() for key in names})
        except CourseError as error:
            refused.append((number, str(error)))
    return ListRead(tuple(found), tuple(refused))


def _observations(
    cls: ClassFolder, tasks: Sequence[ObservedTask], row: dict[str, str]
) -> Iterator[Observation]:
    student = cls.student(row["student"]).student_id
    task = next((one for one in tasks if one.id == row["task"]), None)
    if task is None:
        known = ", ".join(one.id for one in tasks)
        raise CourseError(f"One of the tasks {known} was expected, but '{row['task']}' was found.")
    seen = _SEEN.get(row["seen"].lower())
    if seen is None:
        raise CourseError(f"'seen' or 'not yet' was expected, but '{row['seen']}' was found.")
    try:
        day = date.fromisoformat(row["date"])
    except ValueError as error:
        raise CourseError(f"A day such as 2026-12-04 was expected, but '{row['date']}' was found.") from error
    if not row["observer"]:
        raise CourseError("The observer's initials were expected, but nothing was found.")
    for point in _points(task, row.get("point", "")):
        yield Observation(student, task.id, point, seen, day, row["observer"])


def _points(task: ObservedTask, typed: str) -> Sequence[int]:
    most = len(task.points)
    if not typed:
        return range(1, most + 1)
    if not typed.isascii() or not typed.isdigit() or not 1 <= int(typed) <= most:
        raise CourseError(f"A point from 1 to {most} was expected for {task.id}, but '{typed}' was found.")
    return (int(typed),)
