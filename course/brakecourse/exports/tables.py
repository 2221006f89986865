"""Write a class's grade tables into its exports folder."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from brakecourse import marking
from brakecourse.classroom.counting import counted
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import grade_records, question_records
from brakecourse.errors import CourseError
from brakecourse.exports import sheets
from brakecourse.exports.grades import write_grades_csv, write_grades_xlsx
from brakecourse.exports.mastery import class_mastery, everyones_mastery, rules
from brakecourse.exports.mistakes import MistakeCount, count_mistakes


@dataclass(frozen=True)
class Exported:
    """What was written, and how many of its rows are not final yet."""

    files: tuple[Path, ...]
    not_final: int


def export_all(cls: ClassFolder) -> Exported:
    """Write every table of the class: grades of each attempt, what counts, competencies, and the workbook.

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
    known, everyone = rules(), everyones_mastery(cls)
    totals = [class_mastery(rule, everyone) for rule in known]
    tables = {
        "results.csv": sheets.results(counted(cls)),
        "competencies.csv": sheets.student_competencies(everyone, known),
        "class_competencies.csv": sheets.class_competencies(totals, known),
    }
    workbook = cls.exports / "grades.xlsx"
    files = (
        write_grades_csv(records, cls.exports / "grades.csv"),
        *(sheets.write_csv(table, cls.exports / name) for name, table in tables.items()),
        write_grades_xlsx(records, workbook, mistakes, words, cls.settings.name, list(tables.values())),
    )
    return Exported(files, sum(record.status not in {"graded", "excused"} for record in records))


def class_mistakes(cls: ClassFolder) -> list[MistakeCount]:
    """Count the named mistakes of every module that was handed out, module by module."""
    return [
        count for module in cls.assigned for count in count_mistakes(module, question_records(cls, module))
    ]
