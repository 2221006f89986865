"""When each student's mark was last settled: graded by the course, or marked by a person."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import select

from brakecourse.classroom.engine.ledger import HandMark, Ledger, Outcome
from brakecourse.classroom.folder import ClassFolder


def settled_at(cls: ClassFolder) -> dict[tuple[str, str], datetime]:
    """Return when marks were last settled, in UTC, by assignment and student id.

    It does not change as long as nothing is graded anew, so what bears it as its date stays the same.

    Raises:
        CourseError: the gradebook can't be read.
    """
    found: dict[tuple[str, str], datetime] = {}
    with Ledger(cls) as ledger, ledger.reading() as book:
        for table, moment in ((Outcome, Outcome.graded_at), (HandMark, HandMark.given_at)):
            for module, student, when in book.db.execute(select(table.module, table.student_id, moment)):
                aware = when.replace(tzinfo=UTC, microsecond=0)
                found[module, student] = max(aware, found.get((module, student), aware))
    return found
