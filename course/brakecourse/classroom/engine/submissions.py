"""Find what a student handed in. It is only read; whose it is, the folder tells and never the file."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from brakecourse.classroom.engine.plan import Plan
from brakecourse.classroom.engine.reading import BIGGEST_FILE_BYTES, Unreadable, read_submission
from brakecourse.classroom.folder import ClassFolder


@dataclass(frozen=True)
class Submission:
    """One notebook as it was handed in.

    Attributes:
        student_id: whose it is.
        content: the file's bytes.
        notes: what is odd about it, a sentence each.
        trouble: why the file could not be opened, or nothing.
    """

    student_id: str
    content: bytes
    notes: tuple[str, ...] = ()
    trouble: str = ""

    @property
    def sha256(self) -> str:
        """The fingerprint of the bytes."""
        return hashlib.sha256(self.content).hexdigest()


def find_submission(cls: ClassFolder, plan: Plan, student_id: str) -> Submission | None:
    """Return a student's submission for a module, or None when nothing was handed in."""
    usual = cls.submitted_notebook(plan.module, student_id)
    if usual.is_file():
        return _opened(student_id, usual, ())
    others = sorted(path for path in usual.parent.glob("*.ipynb") if path.is_file())
    if not others:
        return None
    known = {cell.grade_id for cell in plan.template}
    path = next((path for path in others if _is_exercise(path, known)), others[0])
    note = f"The notebook was called '{path.name[:60]}'; it was taken as the exercise."
    return _opened(student_id, path, (note,))


def _opened(student_id: str, path: Path, notes: tuple[str, ...]) -> Submission:
    try:
        with path.open("rb") as stream:
            # One byte more than is read of any notebook, so that a huge file shows as one.
            return Submission(student_id, stream.read(BIGGEST_FILE_BYTES + 1), notes)
    except OSError as error:
        return Submission(student_id, b"", notes, f"The file can't be opened ({error.strerror}).")


def _is_exercise(path: Path, grade_ids: Collection[str]) -> bool:
    try:
        return any(cell.grade_id in grade_ids for cell in read_submission(path.read_bytes()).cells)
    except (OSError, Unreadable):
        return False
