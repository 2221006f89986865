"""A class's grade tables, each as a file's bytes."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse import marking
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import ModuleRecords, class_records
from brakecourse.errors import CourseError
from brakecourse.exports import sheets
from brakecourse.exports.facts import Facts
from brakecourse.exports.grades import grades_csv_bytes, grades_xlsx_bytes
from brakecourse.exports.mastery import class_mastery, rules
from brakecourse.exports.mistakes import MistakeCount, count_mistakes
from brakecourse.exports.sheets import Table, csv_bytes


def not_final(facts: Facts) -> int:
    """Return how many rows of the grade table are not final."""
    return sum(record.status not in {"graded", "excused"} for record in facts.grades)


def grades_csv(facts: Facts) -> bytes:
    """Return the grade table as CSV.

    Raises:
        CourseError: no module was handed out yet.
    """
    refuse_empty(facts.cls)
    return grades_csv_bytes(facts.grades)


def other_tables(facts: Facts) -> dict[str, bytes]:
    """Return what counts and the competencies as CSV, by file name.

    Raises:
        CourseError: no module was handed out yet.
    """
    refuse_empty(facts.cls)
    return {name: csv_bytes(table) for name, table in _tables(facts).items()}


def workbook(facts: Facts) -> bytes:
    """Return every table in one workbook.

    Raises:
        CourseError: no module was handed out yet.
    """
    refuse_empty(facts.cls)
    mistakes = class_mistakes(facts.cls, facts.records)
    return grades_xlsx_bytes(
        facts.grades,
        mistakes,
        {one.mistake: marking.mistake_words(one.mistake) for one in mistakes},
        facts.cls.settings.name,
        facts.cls.settings.term,
        sheets.final_scores(facts.counted),
        list(_tables(facts).values()),
    )


def _tables(facts: Facts) -> dict[str, Table]:
    known = rules()
    totals = [class_mastery(rule, facts.mastery) for rule in known]
    return {
        "results.csv": sheets.results(facts.counted),
        "competencies.csv": sheets.student_competencies(facts.mastery, known),
        "class_competencies.csv": sheets.class_competencies(totals, known),
    }


def refuse_empty(cls: ClassFolder) -> None:
    """Refuse a class in which nothing was handed out.

    Raises:
        CourseError: it is one.
    """
    if not cls.assigned:
        raise CourseError(
            f"There is nothing to export from {cls.root}: no module was handed out; "
            f"give 'brakecourse assign {cls.root} MODULE' first."
        )


def class_mistakes(cls: ClassFolder, records: Sequence[ModuleRecords] | None = None) -> list[MistakeCount]:
    """Count the named mistakes of every module that was handed out, module by module.

    Args:
        cls: the class.
        records: everyone's results where they were read already; None reads them.
    """
    known = class_records(cls) if records is None else records
    return [found for module in known for found in count_mistakes(module.module, module.questions)]
