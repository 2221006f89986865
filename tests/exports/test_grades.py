"""Grade tables: read back by other programs, every status apart, rounded once, no formula run."""

from __future__ import annotations

import csv
import errno
import math
import os
import unicodedata
import zipfile
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pandas
import pytest
from brakecourse.classroom import files
from brakecourse.errors import CourseError
from brakecourse.exports.cells import rounded, safe_text
from brakecourse.exports.columns import COLUMNS
from brakecourse.exports.grades import write_grades_csv, write_grades_xlsx
from brakecourse.exports.mistakes import MistakeCount, count_mistakes
from hypothesis import given
from hypothesis import strategies as st

MODULE = "08_rotor_measurement"


@dataclass(frozen=True)
class Record:
    """The fields of a grade record, with a graded student's values."""

    student_id: str = "s01"
    first_name: str = "Amara"
    last_name: str = "Quillstone"
    module: str = MODULE
    status: str = "graded"
    why: str = ""
    auto_points: float | None = 30.0
    hand_points: float | None = 4.0
    waiting_questions: tuple[str, ...] = ()
    raw_score: float | None = 34.0
    max_score: float = 40.0
    days_late: int = 0
    late_penalty: float | None = 0.0
    final_score: float | None = 34.0
    healed: tuple[str, ...] = ()
    handed_in_at: datetime | None = datetime(2026, 12, 4, 17, 0, tzinfo=UTC)


GRADED = Record()
LATE = Record("s02", days_late=2, late_penalty=6.8, final_score=27.2)
WAITING = Record(
    "s03", status="waiting for hand-grading", hand_points=None, waiting_questions=("8.9",), raw_score=30.0,
    final_score=None,
)  # fmt: skip
MISSING = Record(
    "s04", status="not handed in", auto_points=None, hand_points=None, raw_score=None, late_penalty=None,
    final_score=None,
)  # fmt: skip
BROKEN = Record(
    "s05", status="could not be graded", why="The file can't be read as a notebook.", auto_points=None,
    hand_points=None, raw_score=None, late_penalty=None, final_score=None,
)  # fmt: skip
EXCUSED = Record(
    "s06", status="excused", auto_points=None, hand_points=None, raw_score=None, final_score=None
)
ZERO = Record("s07", auto_points=0.0, hand_points=0.0, raw_score=0.0, final_score=0.0)
EVERYONE = [ZERO, EXCUSED, BROKEN, MISSING, WAITING, LATE, GRADED]


def as_csv(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as handle:
        return list(csv.DictReader(handle))


def write_both(records: list[Any], folder: Path) -> tuple[list[dict[str, str]], Any]:
    write_grades_csv(records, folder / "g.csv")
    write_grades_xlsx(records, folder / "g.xlsx")
    return as_csv(folder / "g.csv"), openpyxl.load_workbook(folder / "g.xlsx")["Grades"]


def test_every_status_is_told_apart(tmp_path: Path) -> None:
    rows, _ = write_both(EVERYONE, tmp_path)
    got = [
        (row["status"], row["raw_score"], row["late_penalty"], row["final_score"], row["percent"])
        for row in rows
    ]
    assert got == [
        ("graded", "34.00", "0.00", "34.00", "85.0"),
        ("graded", "34.00", "6.80", "27.20", "68.0"),
        ("waiting for hand-grading", "30.00", "0.00", "", ""),
        ("not handed in", "", "", "", ""),
        ("could not be graded", "", "", "", ""),
        ("excused", "", "0.00", "", ""),
        ("graded", "0.00", "0.00", "0.00", "0.0"),
    ]
    assert rows[2]["waiting_questions"] == "8.9" and rows[2]["hand_points"] == ""
    assert rows[0]["handed_in_at"] == "2026-12-04 17:00"
    assert rows[4]["why"] == "The file can't be read as a notebook."


def test_rows_stand_by_module_and_student_id(tmp_path: Path) -> None:
    records = [*EVERYONE, replace(GRADED, module="07_pad_wear", student_id="s09")]
    rows, _ = write_both(records, tmp_path)
    assert [row["student_id"] for row in rows] == ["s09", "s01", "s02", "s03", "s04", "s05", "s06", "s07"]


def test_the_csv_file_is_quoted_utf8_without_a_mark_in_front(tmp_path: Path) -> None:
    write_grades_csv([replace(GRADED, last_name='Quill"stone, Ÿ', why="a\nb")], tmp_path / "g.csv")
    content = (tmp_path / "g.csv").read_bytes()
    assert content.startswith(b'"student_id","last_name"')
    assert content.count(b"\r\n") == 2 and content.count(b"\n") == 2
    (row,) = as_csv(tmp_path / "g.csv")
    assert row["last_name"] == 'Quill"stone, Ÿ' and row["why"] == "a b"


def test_pandas_reads_the_csv_file_as_numbers_and_gaps(tmp_path: Path) -> None:
    write_grades_csv(EVERYONE, tmp_path / "g.csv")
    frame = pandas.read_csv(tmp_path / "g.csv").set_index("student_id")
    assert frame["final_score"].dropna().to_dict() == {"s01": 34.0, "s02": 27.2, "s07": 0.0}
    assert frame["max_score"].tolist() == [40.0] * 7


def test_csv_and_workbook_say_the_same(tmp_path: Path) -> None:
    rows, sheet = write_both(EVERYONE, tmp_path)
    assert [cell.value for cell in sheet[1]] == [column.heading for column in COLUMNS]
    for row, cells in zip(rows, sheet.iter_rows(min_row=2), strict=True):
        for column, cell in zip(COLUMNS, cells, strict=True):
            text = row[column.key]
            if isinstance(cell.value, float | int):
                assert float(text) == cell.value
            else:
                assert text == (cell.value or "")


def test_the_workbook_is_made_for_reading(tmp_path: Path) -> None:
    write_grades_xlsx(EVERYONE, tmp_path / "g.xlsx", class_name="Evening")
    book = openpyxl.load_workbook(tmp_path / "g.xlsx")
    assert book.sheetnames == ["Grades", "Named mistakes", "What the columns mean"]
    sheet = book["Grades"]
    assert sheet.freeze_panes == "D2" and sheet.auto_filter.ref == "A1:Q8"
    final = sheet.cell(2, [column.key for column in COLUMNS].index("final_score") + 1)
    assert (final.value, final.number_format) == (34.0, "0.00")
    assert sheet.cell(2, 1).number_format == "@"
    assert all(sheet.column_dimensions[letter].width >= 10 for letter in "ABCDEFGHIJKLMNOPQ")
    explained = {row[0].value: row[1].value for row in book["What the columns mean"].iter_rows(min_row=2)}
    assert {column.heading for column in COLUMNS} <= explained.keys() and explained["Class"] == "Evening"
    assert all(explained.values())


def test_the_named_mistakes_are_counted_in_the_workbook(tmp_path: Path) -> None:
    count = MistakeCount(MODULE, "half_of_total", 3, 4, ("8.4", "8.5"))
    write_grades_xlsx([GRADED], tmp_path / "g.xlsx", [count], {"half_of_total": "Gave half of the run-out."})
    sheet = openpyxl.load_workbook(tmp_path / "g.xlsx")["Named mistakes"]
    assert [cell.value for cell in sheet[2]] == [
        MODULE,
        "half of total",
        "Gave half of the run-out.",
        3,
        4,
        "8.4, 8.5",
    ]


@pytest.mark.parametrize("start", [*"=+-@\t\r\n＝＋－＠", " =", "\u200b=", "\ufeff\u202e@"])
def test_nothing_is_run_as_a_formula(tmp_path: Path, start: str) -> None:
    text = f'{start}HYPERLINK("http://x.example","click")'
    record = replace(GRADED, first_name=text, last_name=text, why=text, healed=(text,))
    write_grades_csv([record], tmp_path / "g.csv")
    write_grades_xlsx([record], tmp_path / "g.xlsx", [MistakeCount(text, text, 1, 1, (text,))], {}, text)
    for key in ("first_name", "last_name", "why", "healed"):
        assert as_csv(tmp_path / "g.csv")[0][key].startswith("'")
    book = openpyxl.load_workbook(tmp_path / "g.xlsx")
    cells = [cell for sheet in book for row in sheet.iter_rows(min_row=2) for cell in row]
    assert not [cell for cell in cells if cell.data_type == "f"]
    assert not [
        cell
        for cell in cells
        if isinstance(cell.value, str) and cell.value.strip()[:1] in set("=+-@＝＋－＠")
    ]


@given(st.text())
def test_any_text_is_made_safe_and_keeps_its_words(text: str) -> None:
    safe = safe_text(text)
    visible = "".join(c for c in safe if unicodedata.category(c) != "Cf")
    assert visible.strip()[:1] not in set("=+-@＝＋－＠") - {""} and "\n" not in safe and "\t" not in safe
    kept = "".join(c for c in text if not c.isspace() and unicodedata.category(c) not in {"Cc", "Cs", "Cn"})
    shown = "".join(c for c in safe if not c.isspace() and unicodedata.category(c) not in {"Cc", "Cs", "Cn"})
    assert shown in {kept, f"'{kept}"}


def test_control_characters_do_not_break_the_workbook(tmp_path: Path) -> None:
    write_grades_xlsx([replace(GRADED, first_name="A\x00m\x1bara\ud800")], tmp_path / "g.xlsx")
    assert openpyxl.load_workbook(tmp_path / "g.xlsx")["Grades"]["C2"].value == "Amara"


# Halves go up, as at school; Decimal's own rule over the shortest decimal form is the check.
@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (2.675, "2.68"),
        (0.125, "0.13"),
        (1.005, "1.01"),
        (0.1 + 0.2, "0.30"),
        (33.333333, "33.33"),
        (0.0, "0.00"),
    ],
)
def test_rounding_is_half_up_and_at_the_edge_only(tmp_path: Path, value: float, shown: str) -> None:
    rows, sheet = write_both([replace(GRADED, raw_score=value)], tmp_path)
    assert rows[0]["raw_score"] == shown
    assert sheet.cell(2, [column.key for column in COLUMNS].index("raw_score") + 1).value == float(shown)


@given(st.floats(min_value=0, max_value=1e6, allow_nan=False))
def test_rounding_is_never_off_by_more_than_half_a_step(value: float) -> None:
    number = rounded(value)
    assert number is not None and abs(number - Decimal(repr(value))) <= Decimal("0.005")


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_score_that_is_no_number_is_not_exported(tmp_path: Path, value: float) -> None:
    for write in (write_grades_csv, write_grades_xlsx):
        with pytest.raises(CourseError, match="A grade was found that is no number"):
            write([replace(GRADED, final_score=value)], tmp_path / "g")
    assert list(tmp_path.iterdir()) == []


def test_the_same_grades_give_the_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = write_grades_xlsx(EVERYONE, tmp_path / "a.xlsx").read_bytes()
    monkeypatch.setattr("time.time", lambda: 2_000_000_000.0)
    again = write_grades_xlsx(list(reversed(EVERYONE)), tmp_path / "b.xlsx").read_bytes()
    assert first == again
    assert write_grades_csv(EVERYONE, tmp_path / "a.csv").read_bytes() == (
        write_grades_csv(list(reversed(EVERYONE)), tmp_path / "b.csv").read_bytes()
    )
    with zipfile.ZipFile(tmp_path / "a.xlsx") as archive:
        assert archive.testzip() is None
        assert b"1980-01-01T00:00:00Z" in archive.read("docProps/core.xml")


def test_a_full_disk_keeps_the_old_table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    for write, name in ((write_grades_csv, "g.csv"), (write_grades_xlsx, "g.xlsx")):
        before = write([GRADED], tmp_path / name).read_bytes()
        with monkeypatch.context() as patch:
            patch.setattr(files.os, "fsync", full)
            with pytest.raises(CourseError, match=r"Could not write .*: No space left on device"):
                write([LATE], tmp_path / name)
        assert (tmp_path / name).read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["g.csv", "g.xlsx"]


@dataclass(frozen=True)
class Answer:
    student_id: str
    question_id: str
    mistake: str | None


def test_mistakes_are_counted_by_student_and_by_answer() -> None:
    answers = [
        Answer("s01", "8.4", "half_of_total"),
        Answer("s01", "8.5", "half_of_total"),
        Answer("s02", "8.4", "half_of_total"),
        Answer("s01", "8.2", "mean_for_minimum"),
        Answer("s03", "8.2", None),
        Answer("s03", "8.1", "on_the_ridge"),
    ]
    assert count_mistakes(MODULE, answers) == [  # type: ignore[arg-type]
        MistakeCount(MODULE, "half_of_total", 2, 3, ("8.4", "8.5"), ("s01", "s02")),
        MistakeCount(MODULE, "mean_for_minimum", 1, 1, ("8.2",), ("s01",)),
        MistakeCount(MODULE, "on_the_ridge", 1, 1, ("8.1",), ("s03",)),
    ]
    assert count_mistakes(MODULE, []) == []
