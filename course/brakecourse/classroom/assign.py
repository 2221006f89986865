"""Hand out a module: a sealed case for each student, nbgrader's assignment, and a kit to take home."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from brakecourse import marking
from brakecourse.classroom import kit
from brakecourse.classroom.attempts import assignment_name, attempt_of, module_of
from brakecourse.classroom.engine import prepare_assignment
from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.folder import ClassFolder, Progress, open_class
from brakecourse.errors import CourseError
from brakecourse.marking import SealedCase


def assign(
    cls: ClassFolder,
    module: str,
    due: datetime | None = None,
    progress: Progress | None = None,
    *,
    attempt: int = 1,
    students: Sequence[str] | None = None,
) -> list[Path]:
    """Hand out a module.

    Giving it again is safe: a case that was drawn stays as it is, a student who is new in the roster
    gets one, and every kit is packed anew.

    Args:
        cls: the class.
        module: the module's name.
        due: when it is due, in the class's time zone unless it says another; None leaves what was set.
        progress: told how far the work is.
        attempt: 1, or 2 and more for another try with another vehicle.
        students: only these, in addition to those who have it already; None for everyone in the roster.

    Returns:
        The kits, one zip a student, in the roster's order.

    Raises:
        CourseError: the module, the attempt or a student is unknown, an attempt before it was not handed
            out, a case is damaged, or the class folder can't be written.
    """
    name = assignment_name(module, attempt)
    before = assignment_name(module, attempt - 1) if attempt > 1 else None
    if before is not None and before not in cls.assigned:
        raise CourseError(
            f"Attempt {attempt} at {module} was asked for, but attempt {attempt - 1} was never "
            "handed out; hand that out first."
        )
    cases = _cases(cls, name, _takers(cls, name, students))
    if due is not None:
        cls = cls.with_due(name, due)
    with reporting_disk_trouble(f"write the cases of {name}"):
        for student, case in cases.items():
            path = cls.case_file(name, student)
            if not path.is_file():
                write_text_whole(path, case.model_dump_json(indent=1) + "\n")
    prepare_assignment(cls, name)
    return _pack(cls, name, cases, progress)


def assign_all(
    cls: ClassFolder, due: datetime | None = None, progress: Progress | None = None
) -> dict[str, list[Path]]:
    """Hand out every module of the course to everyone in the roster.

    Returns:
        The kits by module.

    Raises:
        CourseError: as for :func:`assign`.
    """
    return {module: assign(open_class(cls.root), module, due, progress) for module in marking.MODULES}


def _takers(cls: ClassFolder, name: str, students: Sequence[str] | None) -> tuple[str, ...]:
    if students is None:
        return cls.student_ids
    wanted = {cls.student(one).student_id for one in students}
    return tuple(one for one in cls.student_ids if one in wanted or cls.has_case(name, one))


def read_case(cls: ClassFolder, module: str, student_id: str) -> SealedCase:
    """Read a student's sealed case.

    Raises:
        CourseError: it is missing or damaged.
    """
    path = cls.case_file(module, student_id)
    try:
        return SealedCase.model_validate_json(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise CourseError(
            f"The sealed case {path} is missing or damaged; put it back from a copy, because this student's "
            "work is marked by it."
        ) from error


def _cases(cls: ClassFolder, module: str, students: Sequence[str]) -> dict[str, SealedCase]:
    """Return the cases: each as it is on disk, or a fresh one that has not all the answers of another.

    A case on disk is never drawn again: a later version of the course might draw another, and the work
    that was handed out with it must still be marked by it.
    """
    there = {one: read_case(cls, module, one) for one in students if cls.case_file(module, one).exists()}
    answers = {case.answers for case in there.values()}
    for student in students:
        if student not in there:
            case = marking.draw_sealed_case(
                module_of(module), student, cls.secret, attempt_of(module), unlike=answers
            )
            there[student] = case
            answers.add(case.answers)
    return {student: there[student] for student in students}


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
                content = kit.kit_bytes(cls, module, student, case.order, shared)
                (Path(aside) / f"{student}.zip").write_bytes(content)
                if progress:
                    progress(done, len(cases), student)
            for student in cases:
                (Path(aside) / f"{student}.zip").replace(cls.kit_file(module, student))
    return [cls.kit_file(module, student) for student in cases]
