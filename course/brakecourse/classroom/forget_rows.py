"""Take one student's rows out of the gradebook: nbgrader's tables, the course's, and the history of marks.

The database itself refuses to take rows out of the history. Forgetting a person is the one thing that may, so
the guards are lifted and set again inside the same transaction: if anything goes wrong, all is as it was.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from nbgrader.api import Gradebook, MissingEntry
from sqlalchemy import ColumnElement, Connection, MetaData, Table, delete, func, inspect, or_, select, text
from sqlalchemy.types import String

from brakecourse.classroom.engine.ledger import Ledger
from brakecourse.classroom.folder import ClassFolder

_OURS = "brakecourse_"


def has_gradebook(cls: ClassFolder) -> bool:
    """Tell whether there is a gradebook to look into."""
    return cls.settings.gradebook_on_server or cls.gradebook_file.is_file()


def count_rows(cls: ClassFolder, student_id: str) -> dict[str, int]:
    """Return how many rows of each table are a student's; tables without any are left out.

    Raises:
        CourseError: the gradebook can't be read.
    """
    with Ledger(cls) as ledger, ledger.reading() as book:
        found = {}
        for table in _our_tables(book.db.connection()):
            found[table.name] = book.db.scalar(
                select(func.count()).select_from(table).where(_of(table, student_id))
            )
        try:
            submissions = book.find_student(student_id).submissions
        except MissingEntry:
            submissions = []
            found["student"] = 0
        else:
            found["student"] = 1
        found["submitted_assignment"] = len(submissions)
        found["grade"] = sum(len(sheet.grades) for one in submissions for sheet in one.notebooks)
    return {name: many for name, many in sorted(found.items()) if many}


def forget_rows(cls: ClassFolder, student_id: str) -> None:
    """Take every row of a student out of the gradebook, in one transaction, and leave no trace in its file.

    Raises:
        CourseError: the gradebook can't be written; then nothing was taken out.
    """
    with Ledger(cls) as ledger, ledger.transaction() as book:
        connection = book.db.connection()
        for table in _our_tables(connection):
            with _unguarded(connection, table):
                connection.execute(delete(table).where(_of(table, student_id)))
        _forget_in_nbgrader(book, student_id)
    wipe_free_space(cls)


def wipe_free_space(cls: ClassFolder) -> None:
    """Write the gradebook's file anew, so that nothing of a row that was taken out is left in it.

    A server's database does so itself in time (PostgreSQL's autovacuum).
    """
    if cls.settings.gradebook_on_server or not cls.gradebook_file.is_file():
        return
    with sqlite3.connect(cls.gradebook_file, isolation_level=None) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        connection.execute("VACUUM")
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()


def _forget_in_nbgrader(book: Gradebook, student_id: str) -> None:
    try:
        book.find_student(student_id)
    except MissingEntry:
        return
    book.remove_student(student_id)


def _our_tables(connection: Connection) -> list[Table]:
    names = [name for name in inspect(connection).get_table_names() if name.startswith(_OURS)]
    metadata = MetaData()
    metadata.reflect(connection, only=names)
    return [table for table in metadata.sorted_tables if table.name in names]


def _of(table: Table, student_id: str) -> ColumnElement[bool]:
    """Select the rows in which any text is the student's id: also those that tell of two students."""
    texts = [column for column in table.columns if isinstance(column.type, String)]
    return or_(*(column == student_id for column in texts))


@contextmanager
def _unguarded(connection: Connection, table: Table) -> Iterator[None]:
    """Lift a table's guards against changes for the length of the block."""
    if connection.dialect.name != "sqlite":
        quoted = connection.dialect.identifier_preparer.format_table(table)
        connection.execute(text(f"ALTER TABLE {quoted} DISABLE TRIGGER USER"))
        yield
        connection.execute(text(f"ALTER TABLE {quoted} ENABLE TRIGGER USER"))
        return
    query = text("SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = :name")
    guards = connection.execute(query, {"name": table.name}).all()
    for name, _ in guards:
        connection.exec_driver_sql(f'DROP TRIGGER "{name}"')
    yield
    for _, statement in guards:
        connection.exec_driver_sql(statement)
