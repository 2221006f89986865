"""The desk where results leave the class: which kinds there are, what would be written, and writing it.

What is shown beforehand are the very bytes that are written afterwards.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from brakecourse.classroom import export_log
from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.folder import ClassFolder, Progress
from brakecourse.errors import CourseError
from brakecourse.exports import kinds
from brakecourse.exports.facts import Facts
from brakecourse.exports.kinds import OutFile


@dataclass(frozen=True)
class Kind:
    """One kind of export.

    Attributes:
        name: how the command line calls it.
        title: what it is, in a few words.
        purpose: who it is for and what for, in a sentence.
        build: makes its files, and tells how far it is where that takes long.
        folder: where in the exports they lie, all files there being of this kind; empty for the exports'
            own folder.
    """

    name: str
    title: str
    purpose: str
    build: Callable[[Facts, Progress], list[OutFile]]
    folder: str = ""


@dataclass(frozen=True)
class Draft:
    """What would be written.

    Attributes:
        kind: of which kind.
        files: every file, with its bytes.
        remarks: by file name: new, changed, or the same bytes as before.
        stale: files of this kind from before that would not be written any more. They stay.
    """

    kind: Kind
    files: tuple[OutFile, ...]
    remarks: dict[str, str]
    stale: tuple[str, ...]

    @property
    def same(self) -> int:
        """How many files have the same bytes as those that are there."""
        return sum(remark == SAME for remark in self.remarks.values())


NEW, CHANGED, SAME = "new", "changed", "the same bytes as before"

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind(
            "grades",
            "Grade table and workbook",
            "For a person who looks at grades: every attempt with its points, as a CSV file and a workbook.",
            kinds.grades,
        ),
        Kind(
            "results",
            "What counts",
            "For the register: one row a student and module, with the score that counts and why.",
            kinds.results,
        ),
        Kind(
            "competencies",
            "Competencies",
            "For planning: what each student and the class as a whole can do, with the reason.",
            kinds.competencies,
        ),
        Kind(
            "oneroster",
            "OneRoster package",
            "For the school's own system: the class list and all results in the open standard OneRoster 1.2.",
            kinds.oneroster,
        ),
        Kind(
            "case",
            "Competency framework",
            "For systems that link results to competencies: the framework in the open standard CASE 1.1.",
            kinds.framework,
        ),
        Kind(
            "badges",
            "Badges",
            "For students to carry away: a signed Open Badge 3.0 for each completed module and the course.",
            kinds.badge_files,
            "badges",
        ),
        Kind(
            "records",
            "Records to print",
            "For students and their files: one page of PDF each, with modules, marks and competencies.",
            kinds.records,
            "records",
        ),
        Kind(
            "statistics",
            "Statistics",
            "For planning the next lessons: how each question fared, and what went wrong, as CSV files.",
            kinds.statistics,
            "statistics",
        ),
        Kind(
            "pictures",
            "Pictures",
            "For a meeting: charts of questions, of hand-ins and of competencies, each with its table.",
            kinds.pictures,
            "pictures",
        ),
    )
}


def kind_named(name: str) -> Kind:
    """Return a kind by its name.

    Raises:
        CourseError: there is no such kind.
    """
    if name not in KINDS:
        raise CourseError(f"There is no kind of export called '{name}'; the kinds are {', '.join(KINDS)}.")
    return KINDS[name]


def preview(cls: ClassFolder, name: str, facts: Facts | None = None, told: Progress = kinds.quietly) -> Draft:
    """Return exactly what would be written. Nothing is.

    Args:
        cls: the class.
        name: the kind's name.
        facts: what was read of the class already; None reads it.
        told: told how far the work is, where it takes long.

    Raises:
        CourseError: there is no such kind, or there is nothing to export yet.
    """
    kind = kind_named(name)
    files = tuple(sorted(kind.build(facts or Facts(cls), told), key=lambda one: one.name))
    remarks = {one.name: _remark(cls.exports / one.name, one.content) for one in files}
    return Draft(kind, files, remarks, _stale(cls, kind, set(remarks)))


def write(cls: ClassFolder, draft: Draft) -> tuple[Path, ...]:
    """Write what was shown, and log it.

    Returns:
        The files.

    Raises:
        CourseError: a file can't be written. Those that were written are in the log.
    """
    written: list[OutFile] = []
    remarks = {one.name: _remark(cls.exports / one.name, one.content) for one in draft.files}
    try:
        for one in draft.files:
            path = cls.exports / one.name
            with reporting_disk_trouble(f"write {path}"):
                if remarks[one.name] != SAME:
                    write_bytes_whole(path, one.content)
            written.append(one)
    finally:
        now = f"{datetime.now(UTC):%Y-%m-%d %H:%M:%S}"
        export_log.add_lines(
            cls,
            [
                (now, draft.kind.name, one.name, one.sha256, str(one.rows), remarks[one.name])
                for one in written
            ],
        )
    return tuple(cls.exports / one.name for one in written)


def _remark(path: Path, content: bytes) -> str:
    if not path.is_file():
        return NEW
    same = hashlib.sha256(path.read_bytes()).digest() == hashlib.sha256(content).digest()
    return SAME if same else CHANGED


def _stale(cls: ClassFolder, kind: Kind, names: set[str]) -> tuple[str, ...]:
    if not kind.folder:
        return ()
    found = (cls.exports / kind.folder).rglob("*")
    there = {path.relative_to(cls.exports).as_posix() for path in found if path.is_file()}
    return tuple(sorted(there - names))
