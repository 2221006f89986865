"""A table that is written both as a CSV file and as a sheet of the workbook, from the same rows."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from brakecourse.classroom.counting import Counted
from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.records import GradeRecord
from brakecourse.exports.cells import rounded, safe_text
from brakecourse.exports.columns import Value
from brakecourse.exports.mastery import ClassMastery, Mastery, Rule
from brakecourse.marking.catalogue import title


@dataclass(frozen=True)
class Heading:
    """One column: its key in the CSV file, its heading in the workbook, its width in characters."""

    key: str
    heading: str
    width: int


@dataclass(frozen=True)
class Table:
    """A table with a title and rows of values."""

    title: str
    headings: tuple[Heading, ...]
    rows: tuple[tuple[Value, ...], ...]


def csv_bytes(table: Table) -> bytes:
    """Return a table as CSV: UTF-8, every value quoted."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow([heading.key for heading in table.headings])
    writer.writerows(["" if value is None else str(value) for value in row] for row in table.rows)
    return text.getvalue().encode("utf-8")


def write_csv(table: Table, path: Path) -> Path:
    """Write a table as a CSV file.

    Raises:
        CourseError: it can't be written.
    """
    with reporting_disk_trouble(f"write {path}"):
        write_bytes_whole(path, csv_bytes(table))
    return path


def final_scores(counted: Sequence[Counted]) -> Table:
    """Return the sheet for the register: a row a student, a column a module, the final score or why none.

    The sum is over the modules with a final score, of unrounded scores.
    """
    modules = sorted({one.record.module for one in counted})
    own: dict[str, dict[str, GradeRecord]] = {}
    for one in counted:
        own.setdefault(one.record.student_id, {})[one.record.module] = one.record
    return Table(
        "Final scores",
        (
            Heading("student_id", "Student id", 13),
            Heading("last_name", "Last name", 18),
            Heading("first_name", "First name", 16),
            *(Heading(module, f"{module[:2]} {title(module)}", 15) for module in modules),
            Heading("final", "Modules with a final score", 11),
            Heading("points", "Points in these", 11),
            Heading("out_of", "Out of", 10),
            Heading("percent", "Share, %", 9),
        ),
        tuple(_final_row(student, records, modules) for student, records in sorted(own.items())),
    )


def _final_row(student: str, records: Mapping[str, GradeRecord], modules: Sequence[str]) -> tuple[Value, ...]:
    anyone = next(iter(records.values()))
    final = [one for one in records.values() if one.final_score is not None]
    points, out_of = sum(one.final_score or 0.0 for one in final), sum(one.max_score for one in final)
    return (
        safe_text(student),
        safe_text(anyone.last_name),
        safe_text(anyone.first_name),
        *(_score_or_status(records.get(module)) for module in modules),
        len(final),
        rounded(points),
        rounded(out_of),
        rounded(100 * points / out_of, 1) if out_of else None,
    )


def _score_or_status(record: GradeRecord | None) -> Value:
    if record is None:
        return "not handed out"
    return record.status if record.final_score is None else rounded(record.final_score)


def results(counted: Sequence[Counted]) -> Table:
    """Return what counts of everyone's attempts, one row a student and module."""
    return Table(
        "What counts",
        (
            Heading("student_id", "Student id", 14),
            Heading("module", "Module", 24),
            Heading("status", "Status", 24),
            Heading("final_score", "Final score", 12),
            Heading("max_score", "Out of", 10),
            Heading("attempts", "Attempts", 10),
            Heading("counts", "Attempt that counts", 14),
            Heading("why", "Why", 50),
        ),
        tuple(
            (
                safe_text(one.record.student_id),
                one.record.module,
                one.record.status,
                rounded(one.record.final_score),
                rounded(one.record.max_score),
                len(one.attempts),
                ", ".join(str(number) for number in one.counts),
                safe_text(one.why),
            )
            for one in sorted(counted, key=lambda one: (one.record.module, one.record.student_id))
        ),
    )


def student_competencies(everyone: Sequence[Mastery], rules: Sequence[Rule]) -> Table:
    """Return how far each student is with each competency."""
    statement = {rule.competency: rule.statement for rule in rules}
    return Table(
        "Competencies",
        (
            Heading("student_id", "Student id", 14),
            Heading("competency", "Competency", 24),
            Heading("statement", "The student …", 60),
            Heading("state", "State", 18),
            Heading("percent", "Marks, %", 10),
            Heading("questions", "Questions", 10),
            Heading("modules", "Modules", 10),
            Heading("safety_missed", "Safety-critical, missed", 20),
            Heading("why", "Why", 50),
        ),
        tuple(
            (
                safe_text(one.student_id),
                one.competency,
                statement[one.competency],
                one.state,
                rounded(one.percent, 1),
                one.questions,
                one.modules,
                ", ".join(one.safety_missed),
                one.why,
            )
            for one in everyone
        ),
    )


def class_competencies(totals: Sequence[ClassMastery], rules: Sequence[Rule]) -> Table:
    """Return how far the class is with each competency."""
    statement = {rule.competency: rule.statement for rule in rules}
    return Table(
        "Class competencies",
        (
            Heading("competency", "Competency", 24),
            Heading("statement", "Students …", 60),
            Heading("mastered", "Mastered", 10),
            Heading("not_yet", "Not yet", 10),
            Heading("too_little", "Too little to tell", 12),
            Heading("percent", "Marks of all, %", 12),
        ),
        tuple(
            (
                one.competency,
                statement[one.competency],
                one.mastered,
                one.not_yet,
                one.too_little,
                rounded(one.percent, 1),
            )
            for one in totals
        ),
    )
