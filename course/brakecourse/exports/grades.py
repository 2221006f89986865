"""The grade table: a CSV file for a program, a workbook for a person."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.zips import steady_zip, unpacked
from brakecourse.exports.cells import safe_text
from brakecourse.exports.columns import COLUMNS, Value, in_order
from brakecourse.exports.mistakes import MistakeCount
from brakecourse.exports.sheets import Heading, Table
from brakecourse.exports.unswept import unswept

if TYPE_CHECKING:
    from brakecourse.classroom.records import GradeRecord

_BOLD = Font(bold=True)
_HEADER_FILL = PatternFill("solid", fgColor="E6E6E6")
_TOP = Alignment(vertical="top", wrap_text=True)


def grades_csv_bytes(records: Iterable[GradeRecord]) -> bytes:
    """Return the grade table as CSV: UTF-8, every value quoted, sorted by module and student id.

    Raises:
        CourseError: a score is no number.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow([column.key for column in COLUMNS])
    for record in in_order(records):
        writer.writerow([_csv_value(column.value(record)) for column in COLUMNS])
    return text.getvalue().encode("utf-8")


def write_grades_csv(records: Iterable[GradeRecord], path: Path) -> Path:
    """Write the grade table as a CSV file.

    Raises:
        CourseError: a score is no number, or the file can't be written.
    """
    content = grades_csv_bytes(records)
    with reporting_disk_trouble(f"write {path}"):
        write_bytes_whole(path, content)
    return path


def grades_xlsx_bytes(
    records: Iterable[GradeRecord],
    mistakes: Iterable[MistakeCount] = (),
    mistake_words: Mapping[str, str] | None = None,
    class_name: str = "",
    term: str = "",
    first: Table | None = None,
    more: Sequence[Table] = (),
) -> bytes:
    """Return the grade table as a workbook: grades, named mistakes, other tables, what the columns mean.

    Args:
        records: one for each student and module.
        mistakes: how often each named mistake was made.
        mistake_words: what each mistake's id means, in words.
        class_name, term: stand at the top of every printed page.
        first: a table to open the workbook with.
        more: further tables, a sheet each.

    Raises:
        CourseError: a score is no number.
    """
    with unswept():
        book = _Book(", ".join(filter(None, (class_name, term))))
        if first is not None:
            book.add(first, frozen=3)
        book.add(_grades(records), frozen=3)
        book.add(_mistakes(mistakes, mistake_words or {}), frozen=0)
        for table in more:
            book.add(table, frozen=2 if table.headings[0].key == "student_id" else 1)
        book.add(_meanings(class_name), frozen=0)
        return book.content()


def write_grades_xlsx(
    records: Iterable[GradeRecord],
    path: Path,
    mistakes: Iterable[MistakeCount] = (),
    mistake_words: Mapping[str, str] | None = None,
    class_name: str = "",
    more: Sequence[Table] = (),
) -> Path:
    """Write the workbook of :func:`grades_xlsx_bytes`.

    Raises:
        CourseError: a score is no number, or the file can't be written.
    """
    content = grades_xlsx_bytes(records, mistakes, mistake_words, class_name, more=more)
    with reporting_disk_trouble(f"write {path}"):
        write_bytes_whole(path, content)
    return path


def _csv_value(value: Value) -> str:
    return "" if value is None else str(value)


def _grades(records: Iterable[GradeRecord]) -> Table:
    return Table(
        "Grades",
        tuple(Heading(column.key, column.heading, column.width) for column in COLUMNS),
        tuple(tuple(column.value(record) for column in COLUMNS) for record in in_order(records)),
    )


def _mistakes(mistakes: Iterable[MistakeCount], words: Mapping[str, str]) -> Table:
    return Table(
        "Named mistakes",
        (
            Heading("module", "Module", 24),
            Heading("mistake", "Named mistake", 28),
            Heading("meaning", "What it means", 90),
            Heading("students", "Students", 10),
            Heading("answers", "Answers", 10),
            Heading("questions", "Questions", 20),
        ),
        tuple(
            (
                safe_text(count.module),
                safe_text(count.mistake.replace("_", " ")),
                safe_text(words.get(count.mistake, "")),
                count.students,
                count.answers,
                safe_text(", ".join(count.questions)),
            )
            for count in mistakes
        ),
    )


def _meanings(class_name: str) -> Table:
    lines = [("Class", safe_text(class_name))] if class_name else []
    lines += [(column.heading, column.meaning) for column in COLUMNS]
    lines.append(("Rounding", "Points are rounded to two places here, half up, and nowhere before."))
    headings = (Heading("column", "Column", 24), Heading("meaning", "What it holds", 100))
    return Table("What the columns mean", headings, tuple(lines))


class _Book:
    """A workbook that is put together, a sheet a table.

    Args:
        about: stands at the top of every printed page.
    """

    def __init__(self, about: str) -> None:
        self._about = about.replace("&", "&&")  # a lone one is a sign for the printer
        self._book = Workbook()
        self._book.remove(self._book.active)
        self._styles: dict[str, Any] = {}

    def add(self, table: Table, frozen: int) -> None:
        """Add a table as a sheet; so many of its first columns stay in sight, and its heading does."""
        sheet = self._book.create_sheet(table.title)
        for number, heading in enumerate(table.headings, start=1):
            cell = sheet.cell(1, number, heading.heading)
            cell.font, cell.fill, cell.alignment = _BOLD, _HEADER_FILL, _TOP
            sheet.column_dimensions[get_column_letter(number)].width = heading.width
        for row, values in enumerate(table.rows, start=2):
            for column, value in enumerate(values, start=1):
                self._put(sheet, row, column, value)
        sheet.freeze_panes = f"{get_column_letter(frozen + 1)}2"
        sheet.auto_filter.ref = f"A1:{get_column_letter(len(table.headings))}{len(table.rows) + 1}"
        self._for_the_printer(sheet, table.title)

    def _for_the_printer(self, sheet: Worksheet, title: str) -> None:
        sheet.page_setup.orientation = "landscape"
        sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        sheet.print_title_rows = "1:1"
        sheet.oddHeader.left.text, sheet.oddHeader.right.text = self._about, title
        sheet.oddFooter.right.text = "Page &P of &N"

    def _put(self, sheet: Worksheet, row: int, column: int, value: Value) -> None:
        cell = sheet.cell(row, column)
        if isinstance(value, Decimal):
            cell.value = float(value)
            places = -int(value.as_tuple().exponent)
            self._dress(cell, f"0.{'0' * places}" if places else "0")
        elif isinstance(value, str):
            # A text stays a text: an id such as 007 keeps its zeros and nothing is taken for a formula.
            cell.value, cell.data_type = value, "s"
            self._dress(cell, "@")
        else:
            cell.value = value
            self._dress(cell, "General")

    def _dress(self, cell: Any, number_format: str) -> None:
        """Give a cell its look. The look is worked out once: for each of 100 000 cells it takes seconds."""
        if number_format not in self._styles:
            cell.alignment, cell.number_format = _TOP, number_format
            self._styles[number_format] = copy(cell._style)
        cell._style = copy(self._styles[number_format])

    def content(self) -> bytes:
        """Return the file, without the time of saving, so that the same grades give the same bytes."""
        first = io.BytesIO()
        self._book.save(first)
        files = unpacked(first.getvalue())
        core = "docProps/core.xml"
        files[core] = re.sub(rb"(<dcterms:\w+[^>]*>)[^<]*", rb"\g<1>1980-01-01T00:00:00Z", files[core])
        return steady_zip(files)
