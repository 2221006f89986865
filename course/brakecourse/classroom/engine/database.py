"""Where a class's gradebook lies and how it is opened: a file in the class folder, or PostgreSQL.

Every part of the course that opens the gradebook goes through `database_url`, `reading_engine` and
`writing_engine`. What differs between the two databases stands here, and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from nbgrader.api import InvalidEntry
from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import DatabaseError, DataError, OperationalError

from brakecourse.classroom.folder import ClassFolder
from brakecourse.errors import CourseError

BUSY_WAIT_S = 5.0
CONNECT_WAIT_S = 10
# Any number will do, as long as every writer of a gradebook takes the same.
_WRITERS_LOCK = 2_041_978_511

# Conditions of PostgreSQL by their codes (its manual, appendix A): the words change with the language.
_PERMISSION = "42501"
_NO_TABLE_OR_COLUMN = ("42P01", "42703")
_IN_USE = ("55P03", "40P01", "40001", "57014", "23505")
_FULL = ("53100",)
_READ_ONLY = ("25006",)


def database_url(cls: ClassFolder) -> URL:
    """Return the gradebook's address for SQLAlchemy and nbgrader. There is never a password in it."""
    if cls.settings.gradebook_on_server:
        return make_url(cls.settings.gradebook)
    return URL.create("sqlite", database=str(cls.gradebook_file))


def reading_engine(cls: ClassFolder) -> Engine:
    """Return an engine for looking things up.

    Raises:
        CourseError: the gradebook is in PostgreSQL, and the package that speaks with it is missing.
    """
    url = database_url(cls)
    if url.get_backend_name() == "sqlite":
        return create_engine(url, connect_args={"timeout": BUSY_WAIT_S})
    try:
        engine = create_engine(
            url,
            connect_args={"connect_timeout": CONNECT_WAIT_S, "application_name": "brakecourse"},
            # Between two writes of a long run the server can have been started anew.
            pool_pre_ping=True,
        )
    except ImportError as error:
        raise CourseError(
            f"The gradebook of this class is in PostgreSQL ({_place(cls)}), but the package 'psycopg' is "
            "missing here; give \"pip install 'brakecourse[postgresql]'\", then the same command again."
        ) from error
    event.listen(engine, "begin", _wait_only_a_while)
    return engine


def writing_engine(cls: ClassFolder) -> Engine:
    """Return an engine whose transactions come one after another, also those of other processes.

    Raises:
        CourseError: as `reading_engine`.
    """
    engine = reading_engine(cls)
    event.listen(engine, "begin", _take_the_lock)
    event.listen(engine, "before_cursor_execute", _storable, retval=True)
    return engine


@contextmanager
def gradebook_trouble(cls: ClassFolder) -> Iterator[None]:
    """Turn what the database has to say into one sentence for a person."""
    try:
        yield
    except DatabaseError as error:
        raise CourseError(_sentence(cls, error)) from error
    except InvalidEntry as error:
        # nbgrader lets a database error out under this name.
        cause = error.__context__
        if not isinstance(cause, DatabaseError):
            raise
        raise CourseError(_sentence(cls, cause)) from error


def _wait_only_a_while(connection: Connection) -> None:
    connection.exec_driver_sql(f"SET LOCAL lock_timeout = {int(BUSY_WAIT_S * 1000)}")


def _take_the_lock(connection: Connection) -> None:
    """Take the lock at once: a transaction that reads first could find the gradebook changed later."""
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql("BEGIN IMMEDIATE")
    else:
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_WRITERS_LOCK})")


def _storable(
    _connection: Connection, _cursor: object, statement: str, parameters: Any, *_: object
) -> tuple[str, Any]:
    """Half characters can be stored in neither database, zero bytes not in PostgreSQL: take them out."""
    return statement, _plain(parameters)


def _plain(value: Any) -> Any:
    """Return parameters of a statement (a row by place or by name, or a list of rows) with storable texts."""
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode("utf-8").replace("\x00", "")
    if isinstance(value, Mapping):
        return {name: _plain(item) for name, item in value.items()}
    if isinstance(value, (list, tuple)):
        return type(value)(_plain(item) for item in value)
    return value


def _place(cls: ClassFolder) -> str:
    url = database_url(cls)
    return url.database or "" if url.get_backend_name() == "sqlite" else url.render_as_string()


def _said(error: DatabaseError) -> str:
    # PostgreSQL's further lines are hints, or the statement with a student's data in it.
    return str(error.orig).strip().split("\n")[0].strip().rstrip(".")


def _sentence(cls: ClassFolder, error: DatabaseError) -> str:
    if database_url(cls).get_backend_name() == "sqlite":
        return _words_on_a_file(cls, error)
    return _words_on_a_server(cls, error)


def _words_on_a_file(cls: ClassFolder, error: DatabaseError) -> str:
    where, said = _place(cls), _said(error).lower()
    if not isinstance(error, OperationalError):
        return (
            f"The gradebook {where} is damaged ({said}); put it back from a copy, "
            "then give the same command again."
        )
    if "locked" in said or "busy" in said:
        return _in_use(where)
    if "full" in said:
        return _full(where)
    if "readonly" in said or "unable to open" in said:
        return f"The gradebook {where} can't be written; check who may write in that folder, then try again."
    if "no such table" in said or "no such column" in said:
        return _lacks_tables(where)
    return f"The gradebook {where} could not be used ({said}); nothing was changed."


def _words_on_a_server(cls: ClassFolder, error: DatabaseError) -> str:
    where, said, code = _place(cls), _said(error), getattr(error.orig, "sqlstate", None)
    if code is None and isinstance(error, OperationalError):
        return _lost(cls, said)
    if code in _IN_USE:
        return _in_use(where)
    if code in _FULL:
        return _full(where)
    if code == _PERMISSION:
        return (
            f"The gradebook {where} does not let this user do that ({said}); whoever keeps the database "
            "gives the right to make, read and write tables there, then give the same command again."
        )
    if code in _READ_ONLY:
        return f"The gradebook {where} can't be written now ({said}); ask whoever keeps the database."
    if code in _NO_TABLE_OR_COLUMN:
        return _lacks_tables(where)
    if isinstance(error, DataError):
        return (
            f"The gradebook {where} can't hold one of the values ({said}); nothing of this student was "
            "stored, so put the value right (a name in roster.csv?), then give the same command again."
        )
    if isinstance(error, OperationalError):
        return _lost(cls, said)
    return f"The gradebook {where} could not be used ({said}); nothing was changed."


def _lost(cls: ClassFolder, said: str) -> str:
    """Say what to do when there is no connection. PostgreSQL gives no code for it, only words."""
    where = _place(cls)
    if "does not exist" in said and "database" in said:
        advice = "make an empty database of that name (createdb), or put its name right in class.toml"
    elif "password" in said or "authentication" in said or "role" in said or "pg_hba" in said:
        advice = (
            "check the user's name in class.toml, and put the password in the file ~/.pgpass or in the "
            "variable PGPASSWORD"
        )
    else:
        advice = "check that the server runs and that class.toml names its host and port"
    return (
        f"The gradebook {where} can't be reached ({said}); {advice}, then give the same command again. "
        "What was stored stays stored."
    )


def _in_use(where: str) -> str:
    return (
        f"The gradebook {where} is in use by another program (a second grading run, the form grader, "
        "a database viewer); close that, then give the same command again. What was stored stays stored."
    )


def _full(where: str) -> str:
    return f"The disk is full, so the gradebook {where} was left as it was; free some space, then try again."


def _lacks_tables(where: str) -> str:
    return f"The gradebook {where} lacks tables it should have; put it back from a copy, then try again."
