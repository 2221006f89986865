"""Find what a student handed in. It is only read; whose it is, the folder tells and never the file."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from dataclasses import dataclass, replace
from pathlib import Path

from brakecourse.classroom.engine.plan import Plan
from brakecourse.classroom.engine.reading import BIGGEST_FILE_BYTES, Unreadable, printable, read_submission
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.matching import is_usual_name
from brakecourse.classroom.received import everything_received
from brakecourse.errors import CourseError

LINKED = "What was handed in is a link to another place; hand in the notebook itself."


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
    if _is_link(usual):
        return Submission(student_id, b"", trouble=LINKED)
    if usual.is_file():
        return _with_its_name(cls, plan.module, _opened(student_id, usual, ()))
    others = sorted(path for path in usual.parent.glob("*.ipynb") if path.is_file())
    if not others:
        return None
    known = {cell.grade_id for cell in plan.template}
    path = next((path for path in others if _is_exercise(path, known)), others[0])
    if _is_link(path):
        return Submission(student_id, b"", trouble=LINKED)
    return _opened(student_id, path, (_called(path.name),))


def _with_its_name(cls: ClassFolder, module: str, submission: Submission) -> Submission:
    """Say so when the notebook came in under another name: taking in gave it the usual one."""
    try:
        came = everything_received(cls, module, submission.student_id)
    except CourseError:  # a damaged note is taking in's to complain of
        return submission
    name = next((one.name for one in reversed(came) if one.holds(submission.content)), "")
    if not name or is_usual_name(name, module, submission.student_id):
        return submission
    return replace(submission, notes=(*submission.notes, _called(name)))


def _called(name: str) -> str:
    return f"The notebook was called '{printable(name)[:60]}'; it was taken as the exercise."


def _is_link(notebook: Path) -> bool:
    """Tell whether a notebook, or a folder it lies in, only points at something that lies elsewhere."""
    return any(path.is_symlink() for path in (notebook, notebook.parent, notebook.parent.parent))


def _opened(student_id: str, path: Path, notes: tuple[str, ...]) -> Submission:
    try:
        with path.open("rb") as stream:
            # One byte more than is read of any notebook, so that a huge file shows as one.
            return Submission(student_id, stream.read(BIGGEST_FILE_BYTES + 1), notes)
    except OSError as error:
        return Submission(student_id, b"", notes, f"The file can't be opened ({error.strerror}).")


def _is_exercise(path: Path, grade_ids: Collection[str]) -> bool:
    try:
        with path.open("rb") as stream:
            content = stream.read(BIGGEST_FILE_BYTES + 1)
        return any(cell.grade_id in grade_ids for cell in read_submission(content).cells)
    except (OSError, Unreadable):
        return False
