"""The class folder: everything one class owns lies in it, and this module knows where."""

from __future__ import annotations

import secrets
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from brakecourse.classroom.attempts import attempt_of
from brakecourse.classroom.class_list import ClassList, read_class_list
from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole, write_text_whole
from brakecourse.classroom.oneroster import Package, package_bytes, read_package
from brakecourse.classroom.roster import RosterEntry, read_roster, write_roster
from brakecourse.classroom.settings import (
    GRADEBOOK_FILE,
    ClassSettings,
    checked_settings,
    parse_time,
    read_settings,
    settings_text,
    text_with_due,
)
from brakecourse.errors import CourseError

__all__ = [
    "FOLDERS",
    "ClassFolder",
    "ClassSettings",
    "Progress",
    "new_class",
    "open_class",
    "parse_time",
    "reporting_disk_trouble",
    "write_bytes_whole",
    "write_text_whole",
]

Progress = Callable[[int, int, str], None]
"""How a long piece of work tells how far it is: pieces done, pieces in all, what was just done."""

# nbgrader's own folders and the course's, made with the class so that a person sees what goes where.
FOLDERS = ("cases", "kits", "received", "exports", "source", "release", "submitted", "autograded", "feedback")


@dataclass(frozen=True)
class ClassFolder:
    """A class folder that has been read: its settings, its roster, and where each thing lies.

    Those who left the class are kept apart from the roster; their work stays, and so does their id.
    """

    root: Path
    settings: ClassSettings
    roster: tuple[RosterEntry, ...]
    left: tuple[RosterEntry, ...] = ()

    @property
    def settings_file(self) -> Path:
        """`class.toml`."""
        return self.root / "class.toml"

    @property
    def roster_file(self) -> Path:
        """The class's own copy of the roster."""
        return self.root / "roster.csv"

    @property
    def everyone(self) -> tuple[RosterEntry, ...]:
        """Everyone who is or was in the class."""
        return (*self.roster, *self.left)

    @property
    def oneroster_file(self) -> Path:
        """What the school's last OneRoster package said of this class, for a class that was made from one."""
        return self.root / "oneroster.zip"

    @property
    def oneroster(self) -> Package | None:
        """What the school's last package said of this class, or None for a class with a plain list.

        Raises:
            CourseError: it is damaged.
        """
        return read_package(self.oneroster_file) if self.oneroster_file.is_file() else None

    @property
    def secret_file(self) -> Path:
        """The secret that every student's case is drawn from."""
        return self.root / ".secret"

    @property
    def gradebook_file(self) -> Path:
        """nbgrader's database, with the course's own tables in it, unless the settings name a server's.

        Whoever opens it asks `engine.database`.
        """
        return self.root / GRADEBOOK_FILE

    @property
    def nbgrader_config_file(self) -> Path:
        """The settings that a plain `nbgrader` command reads."""
        return self.root / "nbgrader_config.py"

    @property
    def exports(self) -> Path:
        """Where grade tables are written."""
        return self.root / "exports"

    @property
    def student_ids(self) -> tuple[str, ...]:
        """Every student's id, in the roster's order."""
        return tuple(entry.student_id for entry in self.roster)

    @property
    def assigned(self) -> tuple[str, ...]:
        """The modules that were handed out: each has sealed cases."""
        return tuple(sorted(p.name for p in (self.root / "cases").glob("*") if any(p.glob("*.json"))))

    def taking(self, module: str) -> tuple[str, ...]:
        """The ids of the students a module was handed out to, in the roster's order.

        A first attempt is everybody's, also of those who joined since; a later one only of those who got it.
        """
        if attempt_of(module) == 1:
            return self.student_ids
        return tuple(student for student in self.student_ids if self.has_case(module, student))

    @property
    def secret(self) -> bytes:
        """The class secret (32 bytes)."""
        try:
            value = bytes.fromhex(self.secret_file.read_text(encoding="ascii").strip())
        except (OSError, ValueError) as error:
            raise CourseError(
                f"The class secret {self.secret_file} is missing or damaged; put it back from a copy, "
                "because the students' cases can't be drawn again without it."
            ) from error
        if len(value) != 32:
            raise CourseError(
                f"The class secret {self.secret_file} holds {len(value)} bytes but needs 32; "
                "put it back from a copy."
            )
        return value

    def student(self, student_id: str) -> RosterEntry:
        """Return one student of the roster.

        Raises:
            CourseError: nobody has this id.
        """
        for entry in self.roster:
            if entry.student_id == student_id:
                return entry
        for entry in self.left:
            if entry.student_id == student_id:
                raise CourseError(
                    f"The student '{student_id}' left the class ({entry.left}); empty the column 'left' in "
                    f"{self.roster_file} to have them back."
                )
        raise CourseError(
            f"No student '{student_id}' is in this class's roster ({self.roster_file}); "
            f"the ids are {', '.join(self.student_ids)}."
        )

    def case_file(self, module: str, student_id: str) -> Path:
        """Where a student's sealed case lies. Each attempt at a module has a folder of its own."""
        return self.root / "cases" / module / f"{student_id}.json"

    def has_case(self, module: str, student_id: str) -> bool:
        """Tell whether the module was handed out to a student."""
        return self.case_file(module, student_id).is_file()

    def kit_file(self, module: str, student_id: str) -> Path:
        """Where a student's kit lies."""
        return self.root / "kits" / module / f"{student_id}.zip"

    def received_folder(self, module: str, student_id: str) -> Path:
        """Where everything that a student handed in for a module is kept, untouched."""
        return self.root / "received" / module / student_id

    def submitted_notebook(self, module: str, student_id: str) -> Path:
        """The working copy that nbgrader grades."""
        return self.root / "submitted" / student_id / module / f"{module}.ipynb"

    def source_notebook(self, module: str) -> Path:
        """The instructor's notebook of a module, as this class was set it."""
        return self.root / "source" / module / f"{module}.ipynb"

    def release_notebook(self, module: str) -> Path:
        """The notebook that students get."""
        return self.root / "release" / module / f"{module}.ipynb"

    def feedback_page(self, module: str, student_id: str) -> Path:
        """The page that goes back to a student."""
        return self.root / "feedback" / student_id / f"{module}.html"

    def with_due(self, module: str, due: datetime) -> ClassFolder:
        """Set when a module is due and return the class as it is then.

        Args:
            module: a module's name.
            due: without a zone it is taken in the class's time zone.
        """
        with reporting_disk_trouble(f"write {self.settings_file}"):
            old = self.settings_file.read_text(encoding="utf-8")
            write_text_whole(self.settings_file, text_with_due(old, module, due, self.settings.zone))
        return open_class(self.root)


def new_class(
    folder: Path,
    roster: Path,
    *,
    name: str,
    term: str = "",
    timezone: str = "UTC",
    late_penalty_percent_per_day: float = 10.0,
    late_penalty_cap_percent: float = 50.0,
    attempts_count: str = "best",
    cell_timeout_s: float = 20.0,
    gradebook: str = GRADEBOOK_FILE,
    school: str = "",
    begins: date | None = None,
    ends: date | None = None,
    secret: bytes | None = None,
    wanted: str | None = None,
) -> ClassFolder:
    """Make a class folder, complete or not at all.

    Args:
        folder: a folder that does not exist yet, or an empty one.
        roster: the class list: a CSV file, or a OneRoster package.
        name: the class's name, as it stands on kits and grade tables.
        term: when the class runs, in words.
        timezone: where the class's clock is, e.g. "Europe/Paris".
        late_penalty_percent_per_day: taken off for each day begun after the due time.
        late_penalty_cap_percent: the most that lateness can take off.
        attempts_count: which of several attempts at a module counts: "best", "last" or "average".
        cell_timeout_s: how long one notebook cell may run while it is graded.
        gradebook: "gradebook.db" for a file in the class folder, or the address of a PostgreSQL database.
        school: the school's name, for what is passed on to its office.
        begins, ends: the class's first and last day, for the same.
        secret: 32 bytes that fix every student's case; drawn at random when left out.
        wanted: which class of a OneRoster package that holds several: its id, code or title.

    Raises:
        SeveralClasses: the package holds several classes and none was chosen.
        CourseError: the folder holds something, the roster is wrong, a setting is wrong, or the disk is.
    """
    settings = checked_settings(
        {
            "name": name.strip(),
            "term": term.strip(),
            "timezone": timezone,
            "late_penalty_percent_per_day": late_penalty_percent_per_day,
            "late_penalty_cap_percent": late_penalty_cap_percent,
            "attempts_count": attempts_count,
            "cell_timeout_s": cell_timeout_s,
            "gradebook": gradebook,
            "school": school.strip(),
            "begins": begins,
            "ends": ends,
        },
        "the class",
    )
    found = read_class_list(roster, datetime.now(settings.zone).date(), wanted)
    folder = folder.absolute()
    _refuse_unless_free(folder)
    with reporting_disk_trouble(f"make the class folder {folder}"):
        draft = Path(tempfile.mkdtemp(prefix=".new-class-", dir=folder.parent))
        try:
            _fill(draft, found, settings, secret or secrets.token_bytes(32))
            if folder.exists():
                folder.rmdir()
            draft.rename(folder)
        except BaseException:
            shutil.rmtree(draft, ignore_errors=True)
            raise
    return open_class(folder)


def open_class(folder: Path) -> ClassFolder:
    """Read a class folder.

    Raises:
        CourseError: this is no class folder, or its settings or roster are wrong.
    """
    folder = Path(folder).absolute()
    path = folder / "class.toml"
    if not path.is_file():
        raise CourseError(
            f"{folder} is not a class folder: it has no class.toml; "
            "make one with 'brakecourse class new', or check the path."
        )
    everyone = read_roster(folder / "roster.csv")
    present, left = (tuple(one for one in everyone if bool(one.left) == gone) for gone in (False, True))
    return ClassFolder(folder, read_settings(path), present, left)


def _refuse_unless_free(folder: Path) -> None:
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise CourseError(f"{folder} is not a folder; name a new folder for the class.")
    if folder.is_dir() and any(folder.iterdir()):
        raise CourseError(f"The folder {folder} already holds something; name a new or an empty folder.")
    if not folder.parent.is_dir():
        raise CourseError(f"The folder {folder.parent} does not exist; make it first, or check the path.")


def _fill(draft: Path, found: ClassList, settings: ClassSettings, secret: bytes) -> None:
    for name in FOLDERS:
        (draft / name).mkdir()
    write_roster(found.entries, draft / "roster.csv")
    if found.package is not None:
        content = package_bytes(found.package.version, found.package.values())
        write_bytes_whole(draft / "oneroster.zip", content)
    write_text_whole(draft / "class.toml", settings_text(settings))
    write_text_whole(draft / ".secret", secret.hex() + "\n", mode=0o600)
