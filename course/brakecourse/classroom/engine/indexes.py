"""Indexes on nbgrader's own tables, for the questions that are asked once a submission.

Without them the database reads every grade of the whole class for each submission that is stored, so that a
class ten times as large takes ten times as long for each student. They change nothing that nbgrader finds.
"""

from __future__ import annotations

from nbgrader.api import Comment, Grade, SubmittedNotebook
from sqlalchemy import Connection, Index

_INDEXES = tuple(
    Index(f"brakecourse_{table.__tablename__}_{column}", table.__table__.c[column])
    for table, column in (
        (Grade, "notebook_id"),
        (Comment, "notebook_id"),
        (SubmittedNotebook, "assignment_id"),
    )
)


def make_indexes(connection: Connection) -> None:
    """Make the indexes that are not there yet."""
    for index in _INDEXES:
        index.create(connection, checkfirst=True)
