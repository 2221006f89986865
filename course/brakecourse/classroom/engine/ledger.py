"""The gradebook: nbgrader's own database, with tables of the course's beside nbgrader's.

Whatever is known about one submission is written in one transaction, so it is there as a whole or not at all.
"""

from __future__ import annotations

import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Any

from alembic.script import ScriptDirectory
from nbgrader.api import Base as NbgraderBase
from nbgrader.api import Course, Gradebook, InvalidEntry
from nbgrader.dbutil import ALEMBIC_DIR
from sqlalchemy import (
    JSON,
    URL,
    Boolean,
    Connection,
    DateTime,
    Float,
    String,
    Text,
    create_engine,
    event,
    insert,
    inspect,
    text,
)
from sqlalchemy.exc import DatabaseError, OperationalError
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column, scoped_session, sessionmaker

from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.nbgrader_config import COURSE_ID
from brakecourse.errors import CourseError

BUSY_WAIT_S = 5.0


class Base(DeclarativeBase):
    """The course's own tables; their names begin with `brakecourse_`."""


class Outcome(Base):
    """What became of one student's submission for one module, and the run that found it out."""

    __tablename__ = "brakecourse_outcome"

    module: Mapped[str] = mapped_column(String(128), primary_key=True)
    student_id: Mapped[str] = mapped_column(String(128), primary_key=True)
    status: Mapped[str] = mapped_column(String(40))
    why: Mapped[str] = mapped_column(Text, default="")
    healed: Mapped[list[str]] = mapped_column(JSON, default=list)
    submission_sha256: Mapped[str] = mapped_column(String(64), default="")
    case_version: Mapped[str] = mapped_column(String(80), default="")
    template_sha256: Mapped[str] = mapped_column(String(64), default="")
    course_version: Mapped[str] = mapped_column(String(40), default="")
    shut_in: Mapped[bool] = mapped_column(Boolean, default=True)
    graded_at: Mapped[datetime] = mapped_column(DateTime)
    duration_s: Mapped[float] = mapped_column(Float, default=0.0)


class QuestionMark(Base):
    """What the marking said about one answer."""

    __tablename__ = "brakecourse_mark"

    module: Mapped[str] = mapped_column(String(128), primary_key=True)
    student_id: Mapped[str] = mapped_column(String(128), primary_key=True)
    question_id: Mapped[str] = mapped_column(String(40), primary_key=True)
    points: Mapped[float | None] = mapped_column(Float)
    out_of: Mapped[float] = mapped_column(Float)
    status: Mapped[str] = mapped_column(String(40))
    answer: Mapped[Any] = mapped_column(JSON, nullable=True)
    given: Mapped[str] = mapped_column(Text, default="")
    expected: Mapped[str] = mapped_column(Text, default="")
    tolerance: Mapped[str] = mapped_column(Text, default="")
    how: Mapped[str] = mapped_column(Text, default="")
    mistake: Mapped[str | None] = mapped_column(String(80))
    words: Mapped[str] = mapped_column(Text, default="")
    lesson: Mapped[str] = mapped_column(Text, default="")
    carried_forward: Mapped[bool] = mapped_column(Boolean, default=False)


class HandMark(Base):
    """A mark given by hand: the answer it was given for. The points themselves stand in nbgrader's table."""

    __tablename__ = "brakecourse_hand_mark"

    module: Mapped[str] = mapped_column(String(128), primary_key=True)
    student_id: Mapped[str] = mapped_column(String(128), primary_key=True)
    question_id: Mapped[str] = mapped_column(String(40), primary_key=True)
    answer: Mapped[Any] = mapped_column(JSON, nullable=True)
    comment: Mapped[str] = mapped_column(Text, default="")
    given_at: Mapped[datetime] = mapped_column(DateTime)


class Ledger:
    """The gradebook of one class, opened.

    Raises:
        CourseError: there is none yet.
    """

    def __init__(self, cls: ClassFolder) -> None:
        if not cls.gradebook_file.is_file():
            raise CourseError(
                f"The class folder {cls.root} has no gradebook yet; hand out a module first with "
                f"'brakecourse assign {cls.root} MODULE'."
            )
        self._cls = cls
        self._reader = create_engine(database_url(cls), connect_args={"timeout": BUSY_WAIT_S})
        self._writer = create_engine(database_url(cls), connect_args={"timeout": BUSY_WAIT_S})
        # Take the lock at once: a transaction that reads first could find the gradebook changed later.
        event.listen(self._writer, "begin", lambda connection: connection.exec_driver_sql("BEGIN IMMEDIATE"))

    def __enter__(self) -> Ledger:
        return self

    def __exit__(self, *_: object) -> None:
        self._reader.dispose()
        self._writer.dispose()

    @contextmanager
    def reading(self) -> Iterator[Gradebook]:
        """Look things up. Nothing is stored."""
        with gradebook_trouble(self._cls), self._reader.connect() as connection:
            if not inspect(connection).has_table(Outcome.__tablename__):
                with self.transaction():
                    pass  # makes the course's own tables
            yield _book_on(connection)

    @contextmanager
    def transaction(self) -> Iterator[Gradebook]:
        """Write: everything until the end of the block is stored together, or nothing is.

        nbgrader commits after every small step; here those commits stay inside this transaction.
        """
        with gradebook_trouble(self._cls), _nbgrader_quiet(), self._writer.begin() as connection:
            Base.metadata.create_all(connection)
            book = _book_on(connection)
            yield book
            book.db.flush()


def make_gradebook(cls: ClassFolder) -> None:
    """Make the class's gradebook, if there is none yet.

    nbgrader would do it, but by calling a program that has to be on the search path. This asks the same
    library for the same version and leaves the same tables.
    """
    if cls.gradebook_file.is_file():
        return
    version = ScriptDirectory(ALEMBIC_DIR).get_current_head()
    # Under another name until it is complete: without its tables it would be taken for a damaged one.
    aside = cls.gradebook_file.with_name(".gradebook.part")
    aside.unlink(missing_ok=True)
    engine = create_engine(URL.create("sqlite", database=str(aside)))
    try:
        with engine.begin() as connection:
            NbgraderBase.metadata.create_all(connection)
            Base.metadata.create_all(connection)
            connection.execute(text("CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL)"))
            connection.execute(text("INSERT INTO alembic_version VALUES (:version)"), {"version": version})
            connection.execute(insert(Course).values(id=COURSE_ID))
        engine.dispose()
        os.replace(aside, cls.gradebook_file)
    finally:
        engine.dispose()
        aside.unlink(missing_ok=True)


def database_url(cls: ClassFolder) -> URL:
    """Return the gradebook's address for SQLAlchemy."""
    return URL.create("sqlite", database=str(cls.gradebook_file))


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


@contextmanager
def _nbgrader_quiet() -> Iterator[None]:
    """Keep nbgrader from printing the database's error: the sentence that is raised says it."""
    logger = logging.getLogger("tornado.application")

    def without_rollbacks(record: logging.LogRecord) -> bool:
        return "Rolling back session" not in str(record.msg)

    logger.addFilter(without_rollbacks)
    try:
        yield
    finally:
        logger.removeFilter(without_rollbacks)


def _sentence(cls: ClassFolder, error: DatabaseError) -> str:
    where, said = cls.gradebook_file, str(error.orig).lower()
    if not isinstance(error, OperationalError):
        return (
            f"The gradebook {where} is damaged ({said}); put it back from a copy, "
            "then give the same command again."
        )
    if "locked" in said or "busy" in said:
        return (
            f"The gradebook {where} is in use by another program (a second grading run, the form grader, "
            "a database viewer); close that, then give the same command again. What was stored stays stored."
        )
    if "full" in said:
        return (
            f"The disk is full, so the gradebook {where} was left as it was; free some space, then try again."
        )
    if "readonly" in said or "unable to open" in said:
        return f"The gradebook {where} can't be written; check who may write in that folder, then try again."
    if "no such table" in said or "no such column" in said:
        return f"The gradebook {where} lacks tables it should have; put it back from a copy, then try again."
    return f"The gradebook {where} could not be used ({said}); nothing was changed."


def _book_on(connection: Connection) -> Gradebook:
    """Return nbgrader's gradebook working inside a transaction that is already begun."""
    book = Gradebook.__new__(Gradebook)
    book.engine = connection.engine
    # Without autoflush: with it nbgrader warns of rows that it is still putting together.
    maker = sessionmaker(bind=connection, autoflush=False, join_transaction_mode="rollback_only")
    book.db = scoped_session(maker)
    book.course_id = COURSE_ID
    book.authenticator = None
    return book
