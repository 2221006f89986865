"""Write a class's grade tables into its exports folder."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from brakecourse import marking
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import grade_records, question_records
from brakecourse.errors import CourseError
from brakecourse.exports.grades import write_grades_csv, write_grades_xlsx
from brakecourse.exports.mistakes import MistakeCount, count_mistakes


@dataclass(frozen=True)
class Exported:
    """What was written, and how many of its rows are not final yet."""

    files: tuple[Path, ...]
    not_final: int


def export_all(cls: ClassFolder) -> Exported:
    """Write `grades.csv` and `grades.xlsx` for every module that was handed out.

    Raises:
        CourseError: no module was handed out yet, or a file can't be written.
    """
    if not cls.assigned:
        raise CourseError(
            f"There is nothing to export from {cls.root}: no module was handed out; "
            f"give 'brakecourse assign {cls.root} MODULE' first."
        )
    records = [record for module in cls.assigned for record in grade_records(cls, module)]
    mistakes = class_mistakes(cls)
    words = {count.mistake: marking.mistake_words(count.mistake) for count in mistakes}
    files = (
        write_grades_csv(records, cls.exports / "grades.csv"),
        write_grades_xlsx(records, cls.exports / "grades.xlsx", mistakes, words, cls.settings.name),
    )
    return Exported(files, sum(record.status not in {"graded", "excused"} for record in records))


def class_mistakes(cls: ClassFolder) -> list[MistakeCount]:
    """Count the named mistakes of every module that was handed out, module by module."""
    return [
        count for module in cls.assigned for count in count_mistakes(module, question_records(cls, module))
    ]
