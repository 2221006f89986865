"""Put a bulk package together and read it as a stranger would, before anybody gets it."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from brakecourse.classroom import export_log
from brakecourse.classroom.counting import counted
from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.oneroster import package_bytes, read_package
from brakecourse.classroom.oneroster.columns import COLUMNS
from brakecourse.errors import CourseError
from brakecourse.exports.facts import Facts
from brakecourse.exports.mastery import class_evidence
from brakecourse.exports.oneroster.basis import basis_of
from brakecourse.exports.oneroster.gradebook import gradebook_tables

VERSION = "1.2"
SYSTEM = "brakecourse"


@dataclass(frozen=True)
class Bulk:
    """A package.

    Attributes:
        content: the zip.
        students, modules, results: how many of each are in it.
        said: a sentence for each thing that had to be made up.
    """

    content: bytes
    students: int
    modules: int
    results: int
    said: tuple[str, ...]


def oneroster_package(
    cls: ClassFolder,
    *,
    modules: Collection[str] | None = None,
    students: Collection[str] | None = None,
    facts: Facts | None = None,
) -> Bulk:
    """Return the class list and all results as a OneRoster 1.2 bulk package.

    The bytes depend on what the package says alone: as long as nothing changed, they are the same each time.

    Args:
        cls: the class.
        modules, students: None; or all of them. A part of them is refused.
        facts: what was read of the class already; None reads it.

    Raises:
        CourseError: nothing was handed out yet, only a part was asked for, the roster leaves out somebody who
            is enrolled, or it is not known when the class runs.
    """
    if not cls.assigned:
        raise CourseError(
            f"There is nothing to export from {cls.root}: no module was handed out; "
            f"give 'brakecourse assign {cls.root} MODULE' first."
        )
    _refuse_a_part(cls, modules, students)
    basis = basis_of(cls)
    results = counted(cls) if facts is None else facts.counted
    evidence = class_evidence(cls) if facts is None else facts.evidence
    gradebook = gradebook_tables(cls, basis, results, evidence)
    content = package_bytes(VERSION, {**basis.tables, **gradebook}, SYSTEM)
    # Nothing leaves the class that the course's own reader would refuse.
    read_package(content, files=tuple(COLUMNS[VERSION]))
    return Bulk(content, len(basis.users), len(gradebook["lineItems"]), len(gradebook["results"]), basis.said)


def write_oneroster(cls: ClassFolder, path: Path) -> Bulk:
    """Write the package, and note it in the log of what left the class.

    Args:
        cls: the class.
        path: the zip to write.

    Raises:
        CourseError: as for :func:`oneroster_package`, or the file can't be written.
    """
    bulk = oneroster_package(cls)
    with reporting_disk_trouble(f"write {path}"):
        write_bytes_whole(path, bulk.content)
    digest = hashlib.sha256(bulk.content).hexdigest()
    where = "" if path.absolute().is_relative_to(cls.exports) else "outside the exports folder"
    now = f"{datetime.now(UTC):%Y-%m-%d %H:%M:%S}"
    export_log.add_lines(cls, [(now, "oneroster", path.name, digest, str(bulk.results), where)])
    return bulk


def _refuse_a_part(
    cls: ClassFolder, modules: Collection[str] | None, students: Collection[str] | None
) -> None:
    for what, asked, all_of_them in (
        ("module", modules, cls.assigned),
        ("student", students, cls.student_ids),
    ):
        missing = [] if asked is None else sorted(set(all_of_them) - set(asked))
        if missing:
            raise CourseError(
                f"A bulk package is the whole truth, so what is not in it counts as deleted, but "
                f"{len(missing)} of {len(all_of_them)} {what}s would be left out; export all of them."
            )
