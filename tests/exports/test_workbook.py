"""The workbook as the register opens and prints it, read back with openpyxl; scores as nbgrader has them."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from brakecourse.classroom import export_log
from brakecourse.classroom.folder import ClassFolder
from brakecourse.exports.desk import preview
from brakecourse.exports.facts import Facts
from brakecourse.exports.table_files import workbook
from brakecourse.exports.tables import export_all
from nbgrader.api import Gradebook
from openpyxl.utils import get_column_letter

from tests.exports.small_class import ABLE, ABSENT, MODULES, WAITING, WEAK, small_class


@pytest.fixture(scope="module")
def cls(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    made = small_class(tmp_path_factory.mktemp("workbook"))
    settings = made.settings.model_copy(update={"name": "Brakes & more", "term": "Autumn 2026"})
    return replace(made, settings=settings)


def test_the_first_sheet_is_a_row_a_student_with_scores_or_words(cls: ClassFolder) -> None:
    book = openpyxl.load_workbook(io.BytesIO(workbook(Facts(cls))))
    sheet = book["Final scores"]
    assert book.sheetnames[:2] == ["Final scores", "Grades"] and book.active is sheet
    head, *rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
    assert [row[0] for row in rows] == [ABLE, WEAK, ABSENT, WAITING]
    assert head[3:5] == ["07 Reading the old pads", "08 Thickness and run-out"]
    by_student = {row[0]: row for row in rows}
    assert by_student[ABSENT][3:7] == ["not handed in", "not handed in", 0, 0]
    assert by_student[WAITING][4] == "waiting for hand-grading"
    with Gradebook(f"sqlite:///{cls.gradebook_file}") as gradebook:
        theirs = gradebook.find_submission(MODULES[0], WAITING).score
    late = next(one for one in Facts(cls).grades if (one.student_id, one.module) == (WAITING, MODULES[0]))
    assert by_student[WAITING][3] == pytest.approx(theirs - (late.late_penalty or 0), abs=0.005)
    assert by_student[ABLE][5:8] == [2, by_student[ABLE][3] + by_student[ABLE][4], 80]
    assert sheet.cell(2, 4).number_format == "0.00" and sheet.cell(2, 1).number_format == "@"


def test_every_sheet_is_ready_to_read_and_to_print(cls: ClassFolder) -> None:
    for sheet in openpyxl.load_workbook(io.BytesIO(workbook(Facts(cls)))):
        assert sheet.freeze_panes in {"D2", "C2", "B2", "A2"} and sheet.auto_filter.ref.startswith("A1:")
        assert sheet.print_title_rows in {"1:1", "$1:$1"} and sheet.page_setup.orientation == "landscape"
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.oddHeader.left.text == "Brakes && more, Autumn 2026"  # '&&' prints a single one
        assert sheet.oddHeader.right.text == sheet.title and sheet.oddFooter.right.text == "Page &P of &N"
        for cell in sheet[1]:
            assert cell.font.bold and cell.alignment.wrap_text
            assert sheet.column_dimensions[get_column_letter(cell.column)].width >= 9
        for row in sheet.iter_rows(min_row=2, max_row=4):
            assert all(cell.alignment.vertical == "top" for cell in row)


def test_export_all_is_in_the_log_and_gives_what_the_desk_shows(tmp_path: Path) -> None:
    own = small_class(tmp_path)
    shown = {
        one.name: one.sha256
        for kind in ("grades", "results", "competencies")
        for one in preview(own, kind).files
    }
    written = export_all(own)
    assert {path.name for path in written.files} == set(shown) and written.not_final == 4
    assert {line[2]: line[3] for line in export_log.lines(own)} == shown


def test_statistics_are_the_tables_of_the_questions(cls: ClassFolder) -> None:
    draft = preview(cls, "statistics")
    assert [one.name.removeprefix("statistics/") for one in draft.files] == [
        f"{module}-{name}.csv"
        for module in MODULES
        for name in ("difficulty", "discrimination", "what-to-teach-again")
    ]
    text = draft.files[0].content.decode("utf-8")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert len(rows) == draft.files[0].rows == 10 and {row["marked"] for row in rows} == {"3"}
