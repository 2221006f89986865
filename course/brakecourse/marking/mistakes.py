"""The named mistakes: what each one is called, what to say about it, what it still earns."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from brakecourse.errors import CourseError
from brakecourse.marking.catalogue import lesson
from brakecourse.tables import read_table


@dataclass(frozen=True)
class Mistake:
    """One named mistake.

    Attributes:
        id: its name, e.g. ``"half_of_total"``.
        module: the module whose lesson treats it.
        likely: what the learner likely did.
        next_time: what to do next time.
        lesson: the part of the lesson to read again.
        share: the share of the marks that the answer still earns, 0 up to below 1.
    """

    id: str
    module: str
    likely: str
    next_time: str
    lesson: str
    share: float

    @property
    def words(self) -> str:
        """Both sentences, one after the other."""
        return f"{self.likely} {self.next_time}"


@cache
def mistakes() -> dict[str, Mistake]:
    """Return every named mistake of the course by its name."""
    return {row["mistake"]: _mistake(row) for row in read_table("course/mistakes.csv")}


def mistake(mistake_id: str) -> Mistake:
    """Return one named mistake.

    Raises:
        CourseError: there is no mistake of that name.
    """
    found = mistakes().get(mistake_id)
    if found is None:
        raise CourseError(
            f"A named mistake was expected (such as half_of_total), but found '{mistake_id}'; "
            "datasets/course/mistakes.csv lists them all."
        )
    return found


def mistake_words(mistake_id: str) -> str:
    """Return what to tell a learner who made the mistake: what likely happened, and what to do next time.

    Raises:
        CourseError: there is no mistake of that name.
    """
    return mistake(mistake_id).words


def _mistake(row: dict[str, str]) -> Mistake:
    share = float(row["share_percent"]) / 100
    if not 0 <= share < 1:
        raise CourseError(
            f"The mistake {row['mistake']} must earn 0 up to below 100 percent, but has {share:.0%}."
        )
    return Mistake(
        row["mistake"],
        row["module"],
        row["likely"],
        row["next_time"],
        lesson(row["module"], int(row["part"])),
        share,
    )
