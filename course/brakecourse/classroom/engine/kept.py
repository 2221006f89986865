"""The judged notebook of each student, kept in `autograded/` for a person to look at.

A file and a database can't be written as one. So the notebook is written aside first, its fingerprint goes
into the gradebook with the marks, and then it is put in its place. A run that was killed in between is
finished by the next one: the fingerprint tells whether the marks that belong to the notebook were stored.
"""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from nbgrader.api import Gradebook
from sqlalchemy import String, select
from sqlalchemy.orm import Mapped, mapped_column

from brakecourse.classroom.engine.ledger import Base, Ledger
from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole, write_text_whole
from brakecourse.classroom.folder import ClassFolder

ABANDONED_S = 600.0
"""How old a file written aside has to be before nobody is taken to be writing it still."""


class KeptNotebook(Base):
    """The fingerprint of the judged notebook that belongs to a student's stored marks."""

    __tablename__ = "brakecourse_kept_notebook"

    module: Mapped[str] = mapped_column(String(128), primary_key=True)
    student_id: Mapped[str] = mapped_column(String(128), primary_key=True)
    sha256: Mapped[str] = mapped_column(String(64))


@dataclass(frozen=True)
class Kept:
    """A judged notebook that was written aside, or none."""

    module: str
    student_id: str
    content: bytes | None

    def note(self, book: Gradebook) -> None:
        """Enter the notebook's fingerprint, in the transaction that stores its marks."""
        if self.content is not None:
            sha256 = hashlib.sha256(self.content).hexdigest()
            book.db.merge(KeptNotebook(module=self.module, student_id=self.student_id, sha256=sha256))


@contextmanager
def keeping(cls: ClassFolder, module: str, student_id: str, text: str | None) -> Iterator[Kept]:
    """Put the judged notebook into `autograded/` when, and only when, the block goes well."""
    if text is None:
        yield Kept(module, student_id, None)
        return
    content = text.encode("utf-8")
    aside = _aside(cls, module, student_id)
    try:
        # A full disk shows here, before anything is stored; the rest is a change of name.
        write_bytes_whole(aside, content)
        yield Kept(module, student_id, content)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise
    _put_in_place(cls, module, student_id)


def finish_killed_runs(cls: ClassFolder, ledger: Ledger, module: str) -> None:
    """Put the notebooks in their place whose marks were stored by a run that was killed right after it.

    Raises:
        CourseError: the gradebook can't be read, or the folder not written.
    """
    with reporting_disk_trouble(f"finish an earlier grading run of {module}"):
        left = [path for path in (cls.root / "autograded").glob(f"*/{module}/.*part*") if path.is_file()]
        if not left:
            return
        with ledger.reading() as book:
            rows = book.db.scalars(select(KeptNotebook).where(KeptNotebook.module == module))
            stored = {row.student_id: row.sha256 for row in rows}
        for path in left:
            student = path.parent.parent.name
            whole = path == _aside(cls, module, student)
            if whole and hashlib.sha256(path.read_bytes()).hexdigest() == stored.get(student):
                _put_in_place(cls, module, student)
            elif time.time() - path.stat().st_mtime > ABANDONED_S:
                path.unlink(missing_ok=True)


def _aside(cls: ClassFolder, module: str, student_id: str) -> Path:
    return cls.root / "autograded" / student_id / module / f".{module}.part"


def _put_in_place(cls: ClassFolder, module: str, student_id: str) -> None:
    aside = _aside(cls, module, student_id)
    stamp = cls.submitted_notebook(module, student_id).with_name("timestamp.txt")
    if stamp.is_file():
        # nbgrader compares the two times to see whether a submission is newer than what was graded.
        write_text_whole(aside.with_name("timestamp.txt"), stamp.read_text(encoding="utf-8"))
    os.replace(aside, aside.with_name(f"{module}.ipynb"))
