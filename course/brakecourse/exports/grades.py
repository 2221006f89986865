"""Write the grade table: a CSV file for a program, a workbook for a person."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from brakecourse.classroom.files import reporting_disk_trouble, write_bytes_whole
from brakecourse.classroom.zips import steady_zip, unpacked
from brakecourse.exports.cells import safe_text
from brakecourse.exports.columns import COLUMNS, Value, in_order
from brakecourse.exports.mistakes import MistakeCount
from brakecourse.exports.sheets import Table

if TYPE_CHECKING:
    from brakecourse.classroom.records import GradeRecord

_BOLD = Font(bold=True)
_HEADER_FILL = PatternFill("solid", fgColor="E6E6E6")
_TOP = Alignment(vertical="top", wrap_text=True)


def write_grades_csv(records: Iterable[GradeRecord], path: Path) -> Path:
    """Write the grade table as CSV: UTF-8, every value quoted, sorted by module and student id.

    Raises:
        CourseError: a score is no number, or the file can't be written.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow([column.key for column in COLUMNS])
    for record in in_order(records):
        writer.writerow([_csv_value(column.value(record)) for column in COLUMNS])
    with reporting_disk_trouble(f"write {path}"):
        write_bytes_whole(path, text.getvalue().encode("utf-8"))
    return path


def write_grades_xlsx(
    records: Iterable[GradeRecord],
    path: Path,
    mistakes: Iterable[MistakeCount] = (),
    mistake_words: Mapping[str, str] | None = None,
    class_name: str = "",
    more: Sequence[Table] = (),
) -> Path:
    """Write the grade table as a workbook: grades, named mistakes, other tables, what the columns mean.

    Args:
        records: one for each student and module.
        path: where to write.
        mistakes: how often each named mistake was made.
        mistake_words: what each mistake's id means, in words.
        class_name: stands above the explanations.
        more: further tables, a sheet each.

    Raises:
        CourseError: a score is no number, or the file can't be written.
    """
    book = Workbook()
    grades = book.active
    assert isinstance(grades, Worksheet)
    _grades_sheet(grades, in_order(records))
    _mistakes_sheet(book.create_sheet("Named mistakes"), mistakes, mistake_words or {})
    for table in more:
        _table_sheet(book.create_sheet(table.title), table)
    _columns_sheet(book.create_sheet("What the columns mean"), class_name)
    with reporting_disk_trouble(f"write {path}"):
        write_bytes_whole(path, _same_bytes_each_time(book))
    return path


def _csv_value(value: Value) -> str:
    return "" if value is None else str(value)


def _grades_sheet(sheet: Worksheet, records: list[GradeRecord]) -> None:
    sheet.title = "Grades"
    _header(sheet, [(column.heading, column.width) for column in COLUMNS])
    for row, record in enumerate(records, start=2):
        for number, column in enumerate(COLUMNS, start=1):
            _put(sheet, row, number, column.value(record))
    sheet.freeze_panes = "D2"
    sheet.auto_filter.ref = f"A1:{get_column_letter(len(COLUMNS))}{len(records) + 1}"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = "1:1"


def _mistakes_sheet(sheet: Worksheet, mistakes: Iterable[MistakeCount], words: Mapping[str, str]) -> None:
    _header(
        sheet,
        [
            ("Module", 24),
            ("Named mistake", 28),
            ("What it means", 90),
            ("Students", 10),
            ("Answers", 10),
            ("Questions", 20),
        ],
    )
    for row, count in enumerate(mistakes, start=2):
        name = count.mistake.replace("_", " ")
        meaning = words.get(count.mistake, "")
        texts = [safe_text(text) for text in (count.module, name, meaning, ", ".join(count.questions))]
        values: list[Value] = [*texts[:3], count.students, count.answers, texts[3]]
        for column, value in enumerate(values, start=1):
            _put(sheet, row, column, value)
    sheet.freeze_panes = "A2"


def _table_sheet(sheet: Worksheet, table: Table) -> None:
    _header(sheet, [(heading.heading, heading.width) for heading in table.headings])
    for row, values in enumerate(table.rows, start=2):
        for column, value in enumerate(values, start=1):
            _put(sheet, row, column, value)
    sheet.freeze_panes = "A2"
    sheet.auto_filter.ref = f"A1:{get_column_letter(len(table.headings))}{len(table.rows) + 1}"


def _columns_sheet(sheet: Worksheet, class_name: str) -> None:
    _header(sheet, [("Column", 24), ("What it holds", 100)])
    lines = [("Class", safe_text(class_name))] if class_name else []
    lines += [(column.heading, column.meaning) for column in COLUMNS]
    lines.append(("Rounding", "Points are rounded to two places here, half up, and nowhere before."))
    for row, line in enumerate(lines, start=2):
        for column, value in enumerate(line, start=1):
            _put(sheet, row, column, value)
    sheet.freeze_panes = "A2"


def _header(sheet: Worksheet, columns: list[tuple[str, int]]) -> None:
    for number, (heading, width) in enumerate(columns, start=1):
        cell = sheet.cell(1, number, heading)
        cell.font, cell.fill, cell.alignment = _BOLD, _HEADER_FILL, _TOP
        sheet.column_dimensions[get_column_letter(number)].width = width


def _put(sheet: Worksheet, row: int, column: int, value: Value) -> None:
    cell = sheet.cell(row, column)
    cell.alignment = _TOP
    if isinstance(value, Decimal):
        cell.value = float(value)
        places = -int(value.as_tuple().exponent)
        cell.number_format = f"0.{'0' * places}" if places else "0"
    elif isinstance(value, str):
        # A text stays a text: an id such as 007 keeps its zeros and nothing is taken for a formula.
        cell.value, cell.data_type, cell.number_format = value, "s", "@"
    else:
        cell.value = value


def _same_bytes_each_time(book: Workbook) -> bytes:
    """Save a workbook without the time of saving, so that the same grades give the same file."""
    first = io.BytesIO()
    book.save(first)
    files = unpacked(first.getvalue())
    core = "docProps/core.xml"
    files[core] = re.sub(rb"(<dcterms:\w+[^>]*>)[^<]*", rb"\g<1>1980-01-01T00:00:00Z", files[core])
    return steady_zip(files)
