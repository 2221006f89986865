"""How each question stands in nbgrader's table: the machine's points, a person's, and which of them count."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from nbgrader.api import Assignment, BaseCell, Grade, Gradebook, SubmittedAssignment, SubmittedNotebook
from sqlalchemy import Select, bindparam, select

from brakecourse.classroom.engine.plan import Plan


@dataclass(frozen=True)
class Standing:
    """How one question stands.

    Attributes:
        auto: the machine's points.
        manual: a person's points.
        waiting: whether a person has to look at it.
    """

    auto: float | None = None
    manual: float | None = None
    waiting: bool = True

    @property
    def points(self) -> float | None:
        """The points that count; None while a person is waited for."""
        if self.waiting:
            return None
        return self.auto if self.manual is None else self.manual

    @property
    def by_hand(self) -> bool:
        """Whether the points that count were given by a person."""
        return self.manual is not None and not self.waiting

    @property
    def mark(self) -> tuple[float | None, bool]:
        """The mark as the history keeps it: the points, and whether a person gave them."""
        return self.points, self.by_hand

    def graded(self, auto: float | None, same_answer: bool) -> Standing:
        """How it stands after grading: a person's mark stays, and waits only if given for another answer."""
        waiting = auto is None if self.manual is None else not same_answer
        return Standing(auto, self.manual, waiting)

    def cleared(self) -> Standing:
        """How it stands when the work can't be graded: no points of an earlier one are left."""
        return Standing(None, self.manual, True)


def every_grade() -> Select[Any]:
    """Return the query for each graded cell: assignment, student, the cell's name, and how it stands."""
    return (
        select(
            Assignment.name,
            SubmittedAssignment.student_id,
            BaseCell.name,
            Grade.auto_score,
            Grade.manual_score,
            Grade.needs_manual_grade,
        )
        .select_from(Grade)
        .join(SubmittedNotebook, Grade.notebook_id == SubmittedNotebook.id)
        .join(SubmittedAssignment, SubmittedNotebook.assignment_id == SubmittedAssignment.id)
        .join(Assignment, SubmittedAssignment.assignment_id == Assignment.id)
        .join(BaseCell, Grade.cell_id == BaseCell.id)
    )


def standing_of(auto: float | None, manual: float | None, waiting: object) -> Standing:
    """Return how a row of nbgrader's table stands."""
    # nbgrader's own autograde leaves a task without points and without the sign that it waits.
    return Standing(auto, manual, bool(waiting) or auto is manual is None)


# Put together once: that takes longer than asking.
_ALL = every_grade().where(Assignment.name == bindparam("module"))
_SOME = _ALL.where(SubmittedAssignment.student_id.in_(bindparam("some", expanding=True)))


def standings(
    book: Gradebook, plan: Plan, students: Collection[str] | None = None
) -> dict[str, dict[str, Standing]]:
    """Return how each question stands, by student and question id.

    Args:
        book: the gradebook.
        plan: what the module asks.
        students: only these; None for all.
    """
    book.db.flush()
    asked = {"module": plan.module} if students is None else {"module": plan.module, "some": list(students)}
    question_of = {question.grade_id: question.id for question in plan.questions}
    found: dict[str, dict[str, Standing]] = defaultdict(dict)
    for _, student, name, *row in book.db.execute(_ALL if students is None else _SOME, asked):
        if name in question_of:
            found[student][question_of[name]] = standing_of(*row)
    return found
