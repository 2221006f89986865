"""How far a class is with a module: who handed in by when, and how much of that is marked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from brakecourse.classroom.records import GradeRecord


@dataclass(frozen=True)
class Day:
    """How much had come in by the end of one day, and how much of that is marked by now."""

    day: date
    handed_in: int
    graded: int


@dataclass(frozen=True)
class Completion:
    """How far a class is with a module.

    Attributes:
        module: the module or its later attempt.
        students: who it is expected of; those excused are not among them.
        handed_in: of these, whose work came in.
        late: of these, who handed in after the due time.
        graded: whose score is final.
        waiting: whose answers still wait for a person.
        could_not: whose work could not be graded.
        excused: who need not do it.
        without_time: whose work came in, but nobody knows when; they stand in no day.
        due: the day it was due, or None.
        days: each day on which something came in, in order.
    """

    module: str
    students: int
    handed_in: int
    late: int
    graded: int
    waiting: int
    could_not: int
    excused: int
    without_time: int
    due: date | None
    days: tuple[Day, ...]

    @property
    def missing(self) -> int:
        """Of how many nothing came."""
        return self.students - self.handed_in


def completion(
    module: str, records: Iterable[GradeRecord], zone: tzinfo, due: datetime | None = None
) -> Completion:
    """Return how far a class is with a module.

    Args:
        module: the module's name.
        records: everyone's results in it.
        zone: the class's clock, by which a day ends.
        due: when it was due, or None.
    """
    everyone = list(records)
    expected = [one for one in everyone if one.status != "excused"]
    came = [one for one in expected if one.status != "not handed in"]
    return Completion(
        module=module,
        students=len(expected),
        handed_in=len(came),
        late=sum(one.days_late > 0 for one in came),
        graded=sum(one.status == "graded" for one in came),
        waiting=sum(one.status == "waiting for hand-grading" for one in came),
        could_not=sum(one.status == "could not be graded" for one in came),
        excused=len(everyone) - len(expected),
        without_time=sum(one.handed_in_at is None for one in came),
        due=None if due is None else due.astimezone(zone).date(),
        days=_days(came, zone),
    )


def _days(came: Sequence[GradeRecord], zone: tzinfo) -> tuple[Day, ...]:
    known = [
        (one.handed_in_at.astimezone(zone).date(), one.status == "graded")
        for one in came
        if one.handed_in_at is not None
    ]
    return tuple(
        Day(day, sum(when <= day for when, _ in known), sum(when <= day and done for when, done in known))
        for day in sorted({when for when, _ in known})
    )
