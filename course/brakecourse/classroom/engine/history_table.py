"""The table of every change of a mark. Rows are only ever added: the database refuses anything else."""

from __future__ import annotations

from collections.abc import Collection
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    DDL,
    Boolean,
    Connection,
    DateTime,
    Float,
    Index,
    Integer,
    String,
    Text,
    event,
    insert,
    inspect,
    select,
)
from sqlalchemy.orm import Mapped, mapped_column

from brakecourse.classroom.engine.ledger import Base, Outcome
from brakecourse.classroom.engine.plan import grade_id_of
from brakecourse.classroom.engine.standing import every_grade, standing_of

GRADED = "graded"
GRADED_AGAIN = "graded again"
COULD_NOT = "could not be graded"
EXCUSED = "excused"
EXCUSE_ENDED = "excuse ended"
BY_HAND = "mark by hand"
TAKEN_BACK = "hand mark taken back"
BY_HAND_ELSEWHERE = "mark by hand in nbgrader"
CHANGED_ELSEWHERE = "changed in nbgrader"
TAKEN_OVER = "was there before"

WHOLE_WORK = ""
"""Stands for the question where a row tells of a student's whole work for a module."""


class HistoryRow(Base):
    """One change of one mark."""

    __tablename__ = "brakecourse_history"
    __table_args__ = (Index("brakecourse_history_whose", "module", "student_id"),)

    id: Mapped[int] = mapped_column(Integer, primary_key=True, autoincrement=True)
    at: Mapped[datetime] = mapped_column(DateTime)
    module: Mapped[str] = mapped_column(String(128))
    student_id: Mapped[str] = mapped_column(String(128))
    question_id: Mapped[str] = mapped_column(String(40), default=WHOLE_WORK)
    kind: Mapped[str] = mapped_column(String(40))
    case_version: Mapped[str] = mapped_column(String(80), default="")
    course_version: Mapped[str] = mapped_column(String(40), default="")
    old_points: Mapped[float | None] = mapped_column(Float)
    new_points: Mapped[float | None] = mapped_column(Float)
    by_hand: Mapped[bool] = mapped_column(Boolean, default=False)
    why: Mapped[str] = mapped_column(Text, default="")


_WORDS = "the history of marks is only ever added to"
_SQLITE = [
    f"CREATE TRIGGER brakecourse_history_no_{name} {when} ON brakecourse_history {condition}"
    f"BEGIN SELECT RAISE(ABORT, '{_WORDS}'); END"
    for name, when, condition in (
        ("update", "BEFORE UPDATE", ""),
        ("delete", "BEFORE DELETE", ""),
        # INSERT OR REPLACE would take a row away without any DELETE.
        ("replace", "BEFORE INSERT", "WHEN EXISTS (SELECT 1 FROM brakecourse_history WHERE id = NEW.id) "),
    )
]
_POSTGRESQL = [
    "CREATE OR REPLACE FUNCTION brakecourse_history_refuse() RETURNS trigger LANGUAGE plpgsql AS "
    f"$$ BEGIN RAISE EXCEPTION '{_WORDS}'; END $$",
    "CREATE TRIGGER brakecourse_history_no_change BEFORE UPDATE OR DELETE ON brakecourse_history "
    "FOR EACH ROW EXECUTE FUNCTION brakecourse_history_refuse()",
    "CREATE TRIGGER brakecourse_history_no_truncate BEFORE TRUNCATE ON brakecourse_history "
    "FOR EACH STATEMENT EXECUTE FUNCTION brakecourse_history_refuse()",
]
for _dialect, _statements in (("sqlite", _SQLITE), ("postgresql", _POSTGRESQL)):
    for _statement in _statements:
        event.listen(HistoryRow.__table__, "after_create", DDL(_statement).execute_if(dialect=_dialect))


@event.listens_for(Base.metadata, "after_create")
def _take_over(_: object, connection: Connection, tables: Collection[Any] = (), **__: object) -> None:
    """Begin the history of a gradebook that had none with the marks that stand in it."""
    if HistoryRow.__table__ not in tables or not inspect(connection).has_table("grade"):
        return
    outcomes = {(row.module, row.student_id): row for row in connection.execute(select(Outcome.__table__))}
    at = datetime.now(UTC).replace(tzinfo=None)

    def row(module: str, student: str, question: str, kind: str, mark: tuple[float | None, bool]) -> Any:
        outcome = outcomes.get((module, student))
        return {
            "at": at,
            "module": module,
            "student_id": student,
            "question_id": question,
            "kind": kind,
            "case_version": outcome.case_version if outcome is not None else "",
            "course_version": outcome.course_version if outcome is not None else "",
            "old_points": None,
            "new_points": mark[0],
            "by_hand": mark[1],
            "why": "It stood in the gradebook when its history began.",
        }

    rows = [
        row(module, student, WHOLE_WORK, one.status, (None, False))
        for (module, student), one in outcomes.items()
        if one.status in (COULD_NOT, EXCUSED)
    ]
    for module, student, name, *grade in connection.execute(every_grade()):
        standing, question = standing_of(*grade), name[1:].replace("_", ".")
        if standing.points is not None and name == grade_id_of(question):
            rows.append(row(module, student, question, TAKEN_OVER, standing.mark))
    if rows:
        connection.execute(insert(HistoryRow), rows)
