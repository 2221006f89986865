"""The demo's twelve simulated students: how able each is, their habits, and what happens to their work."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, cast, get_args

from brakecourse.errors import CourseError
from brakecourse.marking.simulated import Student
from brakecourse.tables import read_table

HandsIn = Literal["in time", "late", "not at all", "a damaged file", "an endless loop", "a deleted cell"]


@dataclass(frozen=True)
class Person:
    """One simulated student, and what becomes of the notebook on its way to the class."""

    student_id: str
    student: Student
    hands_in: HandsIn


def people() -> list[Person]:
    """Read the simulated students.

    Raises:
        CourseError: the table is wrong.
    """
    return [_person(row) for row in read_table("demo_class/simulated_students.csv")]


def _person(row: dict[str, str]) -> Person:
    try:
        if row["hands_in"] not in get_args(HandsIn):
            raise ValueError(f"'{row['hands_in']}' is none of {', '.join(get_args(HandsIn))}")
        student = Student(float(row["ability"]), frozenset(row["habits"].split()))
        return Person(row["student_id"], student, cast(HandsIn, row["hands_in"]))
    except (KeyError, ValueError) as error:
        raise CourseError(f"The table of simulated students has a wrong line {row}: {error}.") from error
