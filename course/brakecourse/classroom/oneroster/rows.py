"""Read one file of a package: its header, its rows, and what may stand in each field."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from brakecourse.classroom.oneroster.columns import CLOSED, TAKEN_AWAY, VOCABULARIES, Column
from brakecourse.classroom.oneroster.trouble import PackageError, shown

_GUID = re.compile(r"[0-9a-zA-Z.\-_/@]{1,255}")
_USER_IDS = re.compile(r"\{[^{}:]+:[^{}]+\}(?:,\s*\{[^{}:]+:[^{}]+\})*")
_URN = re.compile(r"urn:uuid:[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_NO_LONGER_TEXT = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


@dataclass(frozen=True)
class Row:
    """One row of a file: its number as a spreadsheet counts (the header is 1), and its values by column."""

    number: int
    values: Mapping[str, str]

    def __getitem__(self, name: str) -> str:
        return self.values[name]

    @property
    def sourced_id(self) -> str:
        """The row's own id."""
        return self.values["sourcedId"]

    @property
    def deleted(self) -> bool:
        """Whether the row only says that it is to be deleted."""
        return self.values["status"] == "tobedeleted"


def items(value: str) -> tuple[str, ...]:
    """Return the entries of a field that holds a list.

    >>> items("a, b"), items("")
    (('a', 'b'), ())
    """
    return tuple(part.strip() for part in value.split(",") if part.strip())


def _is_date(value: str) -> bool:
    return bool(re.fullmatch(r"\d{4}-\d{2}-\d{2}", value)) and _parses(date.fromisoformat, value)


def _is_datetime(value: str) -> bool:
    good = re.fullmatch(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:\.\d{1,6})?Z", value)
    return bool(good) and _parses(datetime.fromisoformat, value)


def _parses(read: Callable[[str], object], value: str) -> bool:
    try:
        read(value)
    except ValueError:
        return False
    return True


# How each kind of value is told, and how a sentence calls it.
_KINDS: Mapping[str, tuple[Callable[[str], object], str]] = {
    "text": (lambda value: True, "a text"),
    "guid": (_GUID.fullmatch, "an id of at most 255 of 0-9 a-z A-Z . - _ / @"),
    "reference": (_GUID.fullmatch, "an id of at most 255 of 0-9 a-z A-Z . - _ / @"),
    "references": (
        lambda value: all(map(_GUID.fullmatch, items(value) or (" ",))),
        "ids with commas between them, each of at most 255 of 0-9 a-z A-Z . - _ / @",
    ),
    "date": (_is_date, "a date such as 2026-09-01"),
    "datetime": (_is_datetime, "a time such as 2026-09-01T08:00:00.000Z"),
    "year": (re.compile(r"\d{4}").fullmatch, "a year such as 2027"),
    "boolean": (("true", "false").__contains__, "'true' or 'false', in small letters,"),
    "integer": (re.compile(r"-?\d{1,9}").fullmatch, "a whole number"),
    "number": (re.compile(r"-?\d{1,12}(?:\.\d{1,12})?").fullmatch, "a number such as 12.5"),
    "userIds": (_USER_IDS.fullmatch, "{Type:Id}, with commas between them,"),
    "objective": (_URN.fullmatch, "a UUID such as urn:uuid:ae37ade2-327f-5d46-8cef-322678ece921"),
}


def read_rows(content: bytes, columns: Sequence[Column], package: str, file: str) -> tuple[Row, ...]:
    """Read a file of a package.

    Args:
        content: the file's bytes.
        columns: what it must hold, in this order.
        package, file: what a sentence calls them.

    Returns:
        Its rows. Columns that extend the standard ("metadata.…") are left out.

    Raises:
        PackageError: it is not UTF-8, no CSV, has another header or no rows, or a value is not of its kind.
    """
    records = _records(_text(content, package, file), package, file)
    header = next((cells for _, cells in records), None)
    if header is None:
        raise PackageError(package, "the file is empty; a header was expected", file=file)
    names = checked_header(header, columns, package, file)
    rows = tuple(_row(number, cells, names, columns, package, file) for number, cells in records)
    if not rows:
        raise PackageError(
            package,
            "a header but no rows were found, which OneRoster does not allow; leave the file out and write "
            "'absent' for it in manifest.csv",
            file=file,
        )
    return rows


def _text(content: bytes, package: str, file: str) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = content.count(b"\n", 0, error.start) + 1
        raise PackageError(
            package,
            "UTF-8 text was expected, but other bytes were found; export it as UTF-8",
            file=file,
            row=row,
        ) from error


def _records(text: str, package: str, file: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    before = 0
    try:
        for cells in reader:
            number, before = before + 1, reader.line_num
            if cells:
                yield number, cells
    except csv.Error as error:
        raise PackageError(
            package, f"comma-separated text was expected, but it is not readable as such ({error})",
            file=file, row=before + 1,
        ) from error  # fmt: skip


def checked_header(
    header: Sequence[str], columns: Sequence[Column], package: str, file: str
) -> tuple[str, ...]:
    """Return a file's header, which must name the columns in their order.

    Raises:
        PackageError: a column is missing, in another place, there twice, or unknown.
    """
    wanted = [column.name for column in columns]
    if TAKEN_AWAY[0] in header and TAKEN_AWAY[1] in wanted:
        wanted.insert(wanted.index(TAKEN_AWAY[1]) + 1, TAKEN_AWAY[0])
    standard, more = list(header[: len(wanted)]), header[len(wanted) :]
    for place, (name, found) in enumerate(zip(wanted, [*standard, *[""] * len(wanted)], strict=False), 1):
        if name != found:
            where = "is missing" if name not in header else f"stands as column {header.index(name) + 1}"
            raise PackageError(
                package,
                f"column {place} of the header must be '{name}', but {shown(found)} was found there and "
                f"'{name}' {where}",
                file=file,
                row=1,
                field=name,
            )
    for name in more:
        if not name.startswith("metadata.") or header.count(name) > 1:
            raise PackageError(
                package,
                f"the column {shown(name)} is none of OneRoster's; a column of one's own stands last, once, "
                "and its name starts with 'metadata.'",
                file=file,
                row=1,
                field=name[:60],
            )
    return tuple(header)


def _row(
    number: int, cells: list[str], names: Sequence[str], columns: Sequence[Column], package: str, file: str
) -> Row:
    if len(cells) != len(names):
        raise PackageError(
            package,
            f"{len(names)} values were expected, as in the header, but {len(cells)} were found",
            file=file,
            row=number,
        )
    values = dict(zip(names, cells, strict=True))
    for name, value in values.items():
        if "\n" in value or "\r" in value:
            raise PackageError(
                package,
                "a line break was found inside the field; write it on one line",
                file=file,
                row=number,
                field=name,
            )
        if _NO_LONGER_TEXT.search(value):
            raise PackageError(
                package,
                "a sign that can't be shown was found in the text; take it out",
                file=file,
                row=number,
                field=name,
            )
    kept = {column.name: values[column.name].strip() for column in columns}
    for column in columns:
        problem = _problem(column, kept[column.name])
        if problem:
            raise PackageError(package, problem, file=file, row=number, field=column.name)
    return Row(number, kept)


def _problem(column: Column, value: str) -> str:
    """Say what is wrong with a value, or return ''."""
    if not value:
        return "a value is needed here, but nothing was found" if column.required else ""
    if column.kind == "word":
        words, closed = VOCABULARIES[column.of], column.of in CLOSED
        if value in words or (not closed and value.startswith("ext:") and len(value) > 4):
            return ""
        more = "" if closed else ", or a word that starts with 'ext:'"
        expected = f"one of {', '.join(words)}{more}"
    else:
        fits, expected = _KINDS[column.kind]
        if fits(value):
            return ""
    return f"{expected} was expected, but {shown(value, column.name)} was found"
