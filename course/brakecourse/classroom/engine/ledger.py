"""The gradebook: nbgrader's own database, with tables of the course's beside nbgrader's.

Whatever is known about one submission is written in one transaction, so it is there as a whole or not at all.
"""

from __future__ import annotations

import hashlib
import hmac
import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Any

from alembic.script import ScriptDirectory
from nbgrader.api import Base as NbgraderBase
from nbgrader.api import Course, Gradebook
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
    insert,
    inspect,
    select,
    text,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column, scoped_session, sessionmaker

from brakecourse.classroom.engine.database import gradebook_trouble, reading_engine, writing_engine
from brakecourse.classroom.engine.indexes import make_indexes
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.nbgrader_config import COURSE_ID
from brakecourse.errors import CourseError


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


class Owner(Base):
    """Whose gradebook this is: a sign of the class, so that two classes never share a database unawares."""

    __tablename__ = "brakecourse_owner"

    fingerprint: Mapped[str] = mapped_column(String(64), primary_key=True)


class Ledger:
    """The gradebook of one class, opened.

    Raises:
        CourseError: there is none yet, it is another class's, or its server can't be reached.
    """

    def __init__(self, cls: ClassFolder) -> None:
        if not gradebook_is_there(cls):
            raise CourseError(
                f"The class folder {cls.root} has no gradebook yet; hand out a module first with "
                f"'brakecourse assign {cls.root} MODULE'."
            )
        self._cls = cls
        self._reader = reading_engine(cls)
        self._writer = writing_engine(cls)
        self._complete = False  # whether all tables and indexes are known to be there

    def __enter__(self) -> Ledger:
        return self

    def __exit__(self, *_: object) -> None:
        self._reader.dispose()
        self._writer.dispose()

    @contextmanager
    def reading(self) -> Iterator[Gradebook]:
        """Look things up. Nothing is stored."""
        with gradebook_trouble(self._cls), self._reader.connect() as connection:
            if not set(Base.metadata.tables) <= set(inspect(connection).get_table_names()):
                with self.transaction():
                    pass  # makes the course's own tables
            yield _book_on(connection)

    @contextmanager
    def transaction(self) -> Iterator[Gradebook]:
        """Write: everything until the end of the block is stored together, or nothing is.

        nbgrader commits after every small step; here those commits stay inside this transaction.
        """
        with gradebook_trouble(self._cls), _nbgrader_quiet(), self._writer.begin() as connection:
            if not self._complete:
                Base.metadata.create_all(connection)
                make_indexes(connection)
            book = _book_on(connection)
            yield book
            book.db.flush()
        self._complete = True


def gradebook_is_there(cls: ClassFolder) -> bool:
    """Tell whether the class's gradebook was made.

    Raises:
        CourseError: the database is another class's, holds something else, or can't be reached.
    """
    if not cls.settings.gradebook_on_server:
        return cls.gradebook_file.is_file()
    engine = reading_engine(cls)
    try:
        with gradebook_trouble(cls), engine.connect() as connection:
            return _is_there(cls, connection)
    finally:
        engine.dispose()


def make_gradebook(cls: ClassFolder) -> None:
    """Make the class's gradebook, if there is none yet.

    nbgrader would do it, but by calling a program that has to be on the search path. This asks the same
    library for the same version and leaves the same tables.

    Raises:
        CourseError: as `gradebook_is_there`.
    """
    if gradebook_is_there(cls):
        return
    if cls.settings.gradebook_on_server:
        _make_on_server(cls)
    else:
        _make_file(cls)


def _make_on_server(cls: ClassFolder) -> None:
    engine = writing_engine(cls)
    try:
        with gradebook_trouble(cls), engine.begin() as connection:
            # Another command can have made it while this one waited for the lock.
            if not _is_there(cls, connection):
                _make_tables(cls, connection)
    finally:
        engine.dispose()


def _make_file(cls: ClassFolder) -> None:
    # Under another name until it is complete: without its tables it would be taken for a damaged one.
    aside = cls.gradebook_file.with_name(".gradebook.part")
    aside.unlink(missing_ok=True)
    engine = create_engine(URL.create("sqlite", database=str(aside)))
    try:
        with engine.begin() as connection:
            _make_tables(cls, connection)
        engine.dispose()
        os.replace(aside, cls.gradebook_file)
    finally:
        engine.dispose()
        aside.unlink(missing_ok=True)


def _make_tables(cls: ClassFolder, connection: Connection) -> None:
    version = ScriptDirectory(ALEMBIC_DIR).get_current_head()
    NbgraderBase.metadata.create_all(connection)
    Base.metadata.create_all(connection)
    connection.execute(text("CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL)"))
    connection.execute(text("INSERT INTO alembic_version VALUES (:version)"), {"version": version})
    connection.execute(insert(Course).values(id=COURSE_ID))
    connection.execute(insert(Owner).values(fingerprint=_fingerprint(cls)))


def _is_there(cls: ClassFolder, connection: Connection) -> bool:
    """Tell whether a server's database holds this class's gradebook (True) or nothing at all (False)."""
    where = cls.settings.gradebook
    if cls.gradebook_file.exists():
        raise CourseError(
            f"The class's settings name the database {where} as its gradebook, but there is a gradebook in "
            f"{cls.gradebook_file} too; move that file out of the class folder if its marks are not needed, "
            "or set gradebook in class.toml back to 'gradebook.db'."
        )
    tables = inspect(connection)
    if not tables.get_table_names():
        return False
    if not tables.has_table(Owner.__tablename__):
        raise CourseError(
            f"An empty database was expected at {where}, but it holds other tables; make a database for this "
            "class alone (createdb) and name it in class.toml."
        )
    if connection.scalar(select(Owner.fingerprint)) != _fingerprint(cls):
        raise CourseError(
            f"The database {where} is the gradebook of another class; make a database for this class alone "
            "(createdb) and name it in class.toml."
        )
    return True


def _fingerprint(cls: ClassFolder) -> str:
    """Return a sign of the class that tells nothing of its secret."""
    return hmac.new(cls.secret, b"gradebook", hashlib.sha256).hexdigest()


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


def _book_on(connection: Connection) -> Gradebook:
    """Return nbgrader's gradebook working inside a transaction that is already begun."""
    book = Gradebook.__new__(Gradebook)
    book.engine = connection.engine
    # Without autoflush: with it nbgrader warns of rows that it is still putting together.
    # nbgrader commits after each step, and what it read would have to be read anew every time.
    maker = sessionmaker(
        bind=connection, autoflush=False, expire_on_commit=False, join_transaction_mode="rollback_only"
    )
    book.db = scoped_session(maker)
    book.course_id = COURSE_ID
    book.authenticator = None
    return book
