"""Write a class's grade tables into its exports folder."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from brakecourse.classroom.folder import ClassFolder
from brakecourse.exports.desk import preview, write
from brakecourse.exports.facts import Facts
from brakecourse.exports.table_files import class_mistakes, not_final

__all__ = ["Exported", "class_mistakes", "export_all"]

_FILES = ("grades.csv", "results.csv", "competencies.csv", "class_competencies.csv", "grades.xlsx")


@dataclass(frozen=True)
class Exported:
    """What was written, and how many of its rows are not final yet."""

    files: tuple[Path, ...]
    not_final: int


def export_all(cls: ClassFolder) -> Exported:
    """Write every table of the class, and log it: grades of each attempt, what counts, competencies.

    Raises:
        CourseError: no module was handed out yet, or a file can't be written.
    """
    facts = Facts(cls)
    for draft in [preview(cls, name, facts) for name in ("grades", "results", "competencies")]:
        write(cls, draft)
    return Exported(tuple(cls.exports / name for name in _FILES), not_final(facts))
