"""What a grading run tells of each student."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.classroom.engine.history_table import GRADED
from brakecourse.classroom.engine.sandbox import Protection

NOT_HANDED_IN = "not handed in"


@dataclass(frozen=True)
class GradeRow:
    """What became of one student in a grading run.

    Attributes:
        student_id: who.
        status: graded, could not be graded, not handed in, or excused.
        why: what went wrong, in words.
        healed: what was put right in the notebook, a sentence each.
        fresh: graded in this run; False when nothing had changed since the last one.
        seconds: what it took.
        held: why its marks could be others now, in words; they stay until somebody asks to grade it again.
    """

    student_id: str
    status: str
    why: str = ""
    healed: tuple[str, ...] = ()
    fresh: bool = False
    seconds: float = 0.0
    held: str = ""

    @property
    def words(self) -> str:
        """One line for who watches the work."""
        if self.held:
            return f"{self.student_id}: {self.status} before, by another answer key"
        before = "" if self.fresh or self.status != GRADED else " before, unchanged"
        return f"{self.student_id}: {self.status}{before}"


@dataclass(frozen=True)
class GradeReport:
    """A grading run: one row for each student asked for, in the roster's order."""

    module: str
    rows: tuple[GradeRow, ...]
    protection: Protection
    seconds: float

    def count(self, status: str) -> int:
        """How many students have a status."""
        return sum(row.status == status for row in self.rows)

    @property
    def fresh(self) -> int:
        """How many submissions were graded in this run."""
        return sum(row.fresh for row in self.rows)

    @property
    def held(self) -> tuple[GradeRow, ...]:
        """The students whose marks stay though the answer key has changed."""
        return tuple(row for row in self.rows if row.held)
