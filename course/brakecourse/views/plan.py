"""What there is to practise: the lessons, their activities, and what each one trains."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from brakecourse.tables import read_table

START = "00_start_here"


class Practice(NamedTuple):
    """One activity of a lesson.

    Attributes:
        lesson: the lesson's file name without its ending.
        activity: the activity's name on its page.
        part: where it stands.
        title: what it is called.
        outcomes: what it trains, as in ``course/competencies.csv``.
    """

    lesson: str
    activity: str
    part: str
    title: str
    outcomes: tuple[str, ...]


@cache
def plan() -> tuple[Practice, ...]:
    """Return every activity of every lesson that there is, in the table's order.

    Raises:
        CourseError: the table is missing.
    """
    return tuple(
        Practice(row["lesson"], row["activity"], row["part"], row["title"], tuple(row["outcomes"].split()))
        for row in read_table("course/activities.csv")
    )


@cache
def lessons() -> dict[str, str]:
    """Return the title of every lesson of the course, the start page first.

    >>> lessons()["08_rotor_measurement"]
    'Thickness and run-out'
    """
    return {START: "Start here"} | {row["module"]: row["title"] for row in read_table("course/modules.csv")}


@cache
def outcomes() -> dict[str, str]:
    """Return what the course teaches, each as "can ..."."""
    return {row["competency"]: row["statement"] for row in read_table("course/competencies.csv")}
