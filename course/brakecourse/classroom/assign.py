"""Hand out a module: a sealed case for each student, nbgrader's assignment, and a kit to take home."""

from __future__ import annotations

import shutil
import tempfile
from datetime import datetime
from pathlib import Path

from brakecourse import marking
from brakecourse.classroom import kit
from brakecourse.classroom.collect import require_module
from brakecourse.classroom.engine import prepare_assignment
from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.folder import ClassFolder, Progress
from brakecourse.errors import CourseError
from brakecourse.marking import SealedCase


def assign(
    cls: ClassFolder, module: str, due: datetime | None = None, progress: Progress | None = None
) -> list[Path]:
    """Hand out a module to everyone in the roster.

    Giving it again is safe: a case that was drawn stays as it is, a student who is new in the roster
    gets one, and every kit is packed anew.

    Args:
        cls: the class.
        module: the module's name.
        due: when it is due, in the class's time zone unless it says another; None leaves what was set.
        progress: told how far the work is.

    Returns:
        The kits, one zip a student, in the roster's order.

    Raises:
        CourseError: the module is unknown, a case is damaged, or the class folder can't be written.
    """
    require_module(module)
    cases = {student: read_or_draw_case(cls, module, student) for student in cls.student_ids}
    if due is not None:
        cls = cls.with_due(module, due)
    with reporting_disk_trouble(f"write the cases of {module}"):
        for student, case in cases.items():
            path = cls.case_file(module, student)
            if not path.is_file():
                write_text_whole(path, case.model_dump_json(indent=1) + "\n")
    prepare_assignment(cls, module)
    return _pack(cls, module, cases, progress)


def read_case(cls: ClassFolder, module: str, student_id: str, attempt: int = 1) -> SealedCase:
    """Read a student's sealed case.

    Raises:
        CourseError: it is missing or damaged.
    """
    path = cls.case_file(module, student_id, attempt)
    try:
        return SealedCase.model_validate_json(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise CourseError(
            f"The sealed case {path} is missing or damaged; put it back from a copy, because this student's "
            "work is marked by it."
        ) from error


def read_or_draw_case(cls: ClassFolder, module: str, student_id: str) -> SealedCase:
    """Return a student's case: the one on disk, or a fresh one.

    A case on disk is never drawn again: a later version of the course might draw another, and the work
    that was handed out with it must still be marked by it.
    """
    if cls.case_file(module, student_id).exists():
        return read_case(cls, module, student_id)
    return marking.draw_sealed_case(module, student_id, cls.secret)


def _pack(
    cls: ClassFolder, module: str, cases: dict[str, SealedCase], progress: Progress | None
) -> list[Path]:
    with reporting_disk_trouble(f"write the kits of {module}"):
        shared = kit.shared_files(cls, module)
        folder = cls.root / "kits" / module
        folder.mkdir(parents=True, exist_ok=True)
        # All kits are packed aside first, so that a full disk leaves the old ones as they were.
        with tempfile.TemporaryDirectory(prefix=".part-", dir=folder) as aside:
            for done, (student, case) in enumerate(cases.items(), start=1):
                content = kit.kit_bytes(cls, module, student, case.work_order(), shared)
                (Path(aside) / f"{student}.zip").write_bytes(content)
                if progress:
                    progress(done, len(cases), student)
            for student in cases:
                shutil.move(Path(aside) / f"{student}.zip", cls.kit_file(module, student))
    return [cls.kit_file(module, student) for student in cases]
