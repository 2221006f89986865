"""A copy of a class to talk about: the same marks and figures, and nobody to be recognised."""

from __future__ import annotations

import hashlib
import math
import random
import secrets
import shutil
import tempfile
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from brakecourse import marking
from brakecourse.classroom.anonymous_answers import words_of_the_course
from brakecourse.classroom.anonymous_rows import Veil, copy_rows, extensions
from brakecourse.classroom.engine.write import handed_in_at
from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.folder import FOLDERS, ClassFolder, open_class
from brakecourse.classroom.forget_rows import has_gradebook
from brakecourse.classroom.nbgrader_config import write_nbgrader_config
from brakecourse.classroom.roster import RosterEntry, write_roster
from brakecourse.classroom.settings import GRADEBOOK_FILE, ClassSettings, settings_text, text_with_due
from brakecourse.errors import CourseError

NAME = "Anonymous class"
_DAY = timedelta(days=1)
_ANOTHER = "0" * 64  # the fingerprint of a submission that is not the one that was graded
_KEPT = (
    "timezone", "late_penalty_percent_per_day", "late_penalty_cap_percent", "attempts_count",
    "cell_timeout_s", "pass_percent", "paper",
)  # fmt: skip


def anonymous_copy(cls: ClassFolder, folder: Path, shuffle: random.Random | None = None) -> ClassFolder:
    """Make a copy of a class without its people, complete or not at all.

    Students get new ids in an order drawn by chance. Names, addresses, written answers, comments, reasons and
    the class's own name are left out, and so are kits, feedback, exports, signing key and secret. In place
    of each notebook that was handed in lies the empty exercise. Times are whole days from the due time.

    Args:
        cls: the class.
        folder: a folder that does not exist yet.
        shuffle: draws the order; left out, the system's own chance.

    Raises:
        CourseError: the folder is there already, or something can't be read or written.
    """
    folder = folder.absolute()
    if folder.exists() or not folder.parent.is_dir():
        raise CourseError(
            f"A new folder in an existing one was expected for the copy, but found {folder}; name another."
        )
    if folder.is_relative_to(cls.root):
        raise CourseError(
            f"The copy can't lie inside the class it is made from ({cls.root}); name another folder."
        )
    new_id = _new_ids(cls, shuffle or random.SystemRandom())
    with reporting_disk_trouble(f"make the copy {folder}"):
        draft = Path(tempfile.mkdtemp(prefix=".anonymous-", dir=folder.parent))
        try:
            _fill(cls, draft, new_id)
            draft.rename(folder)
        except BaseException:
            shutil.rmtree(draft, ignore_errors=True)
            raise
    return open_class(folder)


def _new_ids(cls: ClassFolder, shuffle: random.Random) -> dict[str, str]:
    """Draw the new ids. Those who left are not copied."""
    old = list(cls.student_ids)
    shuffle.shuffle(old)
    width = max(2, len(str(len(old))))
    return {student: f"a{number:0{width}}" for number, student in enumerate(old, start=1)}


def _fill(cls: ClassFolder, draft: Path, new_id: dict[str, str]) -> None:
    for name in FOLDERS:
        (draft / name).mkdir()
    write_text_whole(draft / ".secret", secrets.token_hex(32) + "\n", mode=0o600)
    write_text_whole(draft / "class.toml", _settings_text(cls.settings))
    entries = [RosterEntry(new, "Student", new.upper()) for new in sorted(new_id.values())]
    write_roster(entries, draft / "roster.csv")
    for name in ("source", "release"):
        if (cls.root / name).is_dir():
            shutil.copytree(cls.root / name, draft / name, dirs_exist_ok=True)
    copy = open_class(draft)
    write_nbgrader_config(copy)
    work = _Work(cls, copy, new_id)
    for module in cls.assigned:
        for student in new_id:
            work.copy_case(module, student)
            work.put_empty_exercise(module, student)
    if has_gradebook(cls):
        copy_rows(cls, copy, Veil(new_id, work.day, work.fingerprints, work.offered))


def _settings_text(settings: ClassSettings) -> str:
    values: dict[str, Any] = {name: getattr(settings, name) for name in _KEPT}
    text = settings_text(ClassSettings(name=NAME, gradebook=GRADEBOOK_FILE, **values))
    for module, due in settings.due.items():
        text = text_with_due(text, module, due, settings.zone)
    return text


class _Work:
    """One student's work at a time: where it lay, and how it is put into the copy."""

    def __init__(self, cls: ClassFolder, copy: ClassFolder, new_id: dict[str, str]) -> None:
        self._cls, self._copy, self._new_id = cls, copy, new_id
        self._case = cache(self._read_case)
        self._extensions = extensions(cls) if has_gradebook(cls) else {}

    def _read_case(self, module: str, student: str) -> marking.SealedCase | None:
        try:
            text = self._cls.case_file(module, student).read_text(encoding="utf-8")
            return marking.SealedCase.model_validate_json(text)
        except (OSError, ValueError):
            return None

    def copy_case(self, module: str, student: str) -> None:
        """Put a sealed case into the copy under the new id."""
        case = self._case(module, student)
        if case is None:
            return
        new = self._new_id[student]
        veiled = case.model_copy(update={"student": new, "order": {**case.work_order(), "student": new}})
        write_text_whole(self._copy.case_file(module, new), veiled.model_dump_json(indent=1) + "\n")

    def put_empty_exercise(self, module: str, student: str) -> None:
        """Put the empty exercise where something was handed in, with its time made coarse."""
        if not self._submissions(module, student):
            return
        target = self._copy.submitted_notebook(module, self._new_id[student])
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(self._cls.release_notebook(module), target)
        when = handed_in_at(self._cls, module, student)
        if when is not None:
            coarse = self.day(module, student, when)
            write_text_whole(target.with_name("timestamp.txt"), f"{coarse:%Y-%m-%d %H:%M:%S.%f} UTC\n")

    def day(self, module: str, student: str, when: datetime) -> datetime:
        """Make a time coarse: whole days from the due time, and so just as many days late as it was."""
        aware = when if when.tzinfo else when.replace(tzinfo=UTC)
        due = self._cls.settings.due_utc(module) or datetime(2000, 1, 1, tzinfo=UTC)
        due += self._extensions.get((module, student), timedelta())
        coarse = due + math.ceil((aware - due) / _DAY) * _DAY
        return coarse if when.tzinfo else coarse.replace(tzinfo=None)

    def fingerprints(self, module: str, student: str, sha256: str, version: str) -> tuple[str, str]:
        """Return the fingerprint of what now lies there, and the case's version, as a new grading finds them.

        So nothing in the copy looks as if it had to be graded again, unless it did before.
        """
        found = self._submissions(module, student)
        same = bool(found) and sha256 == hashlib.sha256(found[0].read_bytes()).hexdigest()
        target = self._copy.submitted_notebook(module, self._new_id[student])
        own = hashlib.sha256(target.read_bytes()).hexdigest() if target.is_file() else ""
        case_file = self._copy.case_file(module, self._new_id[student])
        if version and case_file.is_file():
            digest = hashlib.sha256(case_file.read_bytes()).hexdigest()[:16]
            version = f"{version.split('/')[0]}/{digest}"
        return (own if same else _ANOTHER) if sha256 else "", version

    def offered(self, module: str, student: str, question: str) -> frozenset[str]:
        """Return the words that a question offered."""
        return words_of_the_course(self._case(module, student), question)

    def _submissions(self, module: str, student: str) -> Sequence[Path]:
        usual = self._cls.submitted_notebook(module, student)
        return [usual] if usual.is_file() else sorted(usual.parent.glob("*.ipynb"))
