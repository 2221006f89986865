"""The published tables: every number has a unit, a source, and says how it is known."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from brakecourse import published
from brakecourse.errors import CourseError
from brakecourse.tables import table_path

FOLDER = Path(__file__).parents[2] / "datasets" / "published"
COLUMNS = ["id", "quantity", "value", "unit", "condition", "source", "section", "how_known", "url"]
NO_UNIT = {"ratio", "boolean"}
# Places where the numbers were read. Another one is added here on purpose, never by a slip.
HOSTS = {
    "ar.scribd.com",
    "archive.nptel.ac.in",
    "collegephysicsanswers.com",
    "consultglp.com",
    "digilib.universitaspertamina.ac.id",
    "docslib.org",
    "edocket.access.gpo.gov",
    "en-academic.com",
    "en.wikipedia.org",
    "git.fossee.in",
    "github.com",
    "lawfilesext.leg.wa.gov",
    "navalfacilities.tpub.com",
    "nhtsa.gov",
    "omb.report",
    "osha-compliance-manual.blogspot.com",
    "regulations.justia.com",
    "scribd.com",
    "socratic.org",
    "trl.co.uk",
    "www.aerodynamics4students.com",
    "www.autocalculator.org",
    "www.dsd.state.md.us",
    "www.jobilize.com",
    "www.legislation.gov.uk",
    "www.quizover.com",
    "www.selfstudys.com",
}

ROWS = [
    (path.name, row)
    for path in sorted(FOLDER.glob("*.csv"))
    for row in csv.DictReader(path.open(encoding="utf-8", newline=""))
]


def complaints(row: dict[str, str]) -> list[str]:
    """What is wrong with one row."""
    wrong = []
    if list(row) != COLUMNS or None in row.values():
        return ["the columns are not the agreed ones"]
    if not re.fullmatch(r"[a-z][a-z0-9_]*", row["id"]):
        wrong.append("the id is not in small letters, digits and underscores")
    if not row["quantity"].strip() or not row["unit"].strip():
        wrong.append("quantity or unit is missing")
    if not row["source"].strip():
        wrong.append("it names no source")
    if row["how_known"] not in {"read", "memory", "run"}:
        wrong.append("how it is known is none of read, memory, run")
    try:
        if not math.isfinite(float(row["value"])):
            wrong.append("the value is not finite")
    except ValueError:
        wrong.append("the value is no number")
    if row["unit"] not in NO_UNIT:
        try:
            published.convert(1.0, row["unit"], row["unit"])
        except ValueError:
            wrong.append("the unit is none that the course can convert")
    if row["url"] and (urlsplit(row["url"]).hostname not in HOSTS or row["how_known"] != "read"):
        wrong.append("the address is none of the agreed ones, or the number was not read there")
    if any(cell != cell.strip() for cell in row.values()):
        wrong.append("a cell begins or ends with a blank")
    return wrong


@pytest.mark.parametrize(("table", "row"), ROWS, ids=[row["id"] for _, row in ROWS])
def test_a_row_is_complete(table: str, row: dict[str, str]) -> None:
    assert complaints(row) == [], table


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"source": ""}, "it names no source"),
        ({"source": "  "}, "it names no source"),
        ({"how_known": "heard"}, "how it is known"),
        ({"how_known": ""}, "how it is known"),
        ({"value": "twelve"}, "no number"),
        ({"value": "nan"}, "not finite"),
        ({"unit": "furlongish"}, "none that the course can convert"),
        ({"unit": ""}, "missing"),
        ({"id": "Unit-Inch"}, "small letters"),
        ({"url": "https://example.org/table"}, "none of the agreed ones"),
        ({"how_known": "memory"}, "was not read there"),
    ],
)
def test_a_bad_row_would_be_refused(change: dict[str, str], complaint: str) -> None:
    good = next(row for _, row in ROWS if row["id"] == "unit_inch_mm")
    assert complaints(good) == []
    assert any(complaint in wrong for wrong in complaints({**good, **change}))


def test_the_reader_knows_every_table_and_every_row() -> None:
    assert list(published.TABLES) == [f"published/{path.name}" for path in sorted(FOLDER.glob("*.csv"))]
    assert list(published.all_values()) == [row["id"] for _, row in ROWS]


def test_a_value_carries_its_row() -> None:
    for _, row in ROWS:
        one = published.value(row["id"])
        assert one.value == float(row["value"])
        for column in ("id", "quantity", "unit", "condition", "source", "section", "how_known"):
            assert getattr(one, column) == row[column]


# --- an id that is not there, and tables that are broken ------------------------------------------


def test_an_unknown_id_names_the_near_ones() -> None:
    with pytest.raises(published.UnknownValueError) as caught:
        published.value("unit_inch")
    assert str(caught.value).startswith("There is no published value with the id 'unit_inch'; near ones are ")
    assert "unit_inch_mm" in str(caught.value)
    assert isinstance(caught.value, KeyError)
    assert isinstance(caught.value, CourseError)


@pytest.mark.parametrize("wrong", ["", "§", None, 3, "x" * 200])
def test_an_id_with_nothing_near_says_where_to_look(wrong: object) -> None:
    with pytest.raises(CourseError, match="the tables in datasets/published list them all"):
        published.value(wrong)  # type: ignore[arg-type]


@pytest.fixture
def broken_tables(monkeypatch: pytest.MonkeyPatch):
    """Let the reader see given rows instead of the tables."""

    def show(rows: list[dict[str, str]]) -> None:
        monkeypatch.setattr(
            published, "read_table", lambda table: rows if table == published.TABLES[0] else []
        )

    published.all_values.cache_clear()
    yield show
    published.all_values.cache_clear()


@pytest.mark.parametrize(
    "change", [{"value": "x"}, {"value": "inf"}, {"value": None}, {"how_known": "heard"}, {"source": ""}]
)
def test_a_broken_row_is_told_by_name(broken_tables, change: dict[str, str]) -> None:
    good = next(row for _, row in ROWS if row["id"] == "unit_inch_mm")
    broken_tables([{**good, **change}])
    with pytest.raises(
        CourseError, match=f"In {published.TABLES[0]} the row 'unit_inch_mm' needs a finite number"
    ):
        published.value("unit_inch_mm")


def test_a_missing_column_is_told(broken_tables) -> None:
    broken_tables([{"id": "unit_inch_mm", "value": "25.4"}])
    with pytest.raises(CourseError, match="the row 'unit_inch_mm' needs"):
        published.value("unit_inch_mm")


def test_an_id_that_stands_twice_is_refused(broken_tables) -> None:
    good = next(row for _, row in ROWS if row["id"] == "unit_inch_mm")
    broken_tables([good, good])
    with pytest.raises(CourseError, match="'unit_inch_mm' stands twice"):
        published.value("unit_inch_mm")


def test_a_missing_table_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    published.all_values.cache_clear()
    monkeypatch.setattr(published, "TABLES", ("published/nowhere.csv",))
    with pytest.raises(CourseError, match=r"'published/nowhere\.csv' was expected"):
        published.value("unit_inch_mm")
    published.all_values.cache_clear()


def test_the_tables_lie_where_the_reader_looks() -> None:
    assert all(table_path(table).is_file() for table in published.TABLES)
