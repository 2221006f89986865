"""Make the bench's records from the rows of its tables."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import fields
from typing import Any, TypeVar, get_type_hints

from brakecourse.errors import CourseError
from brakecourse.tables import read_table

Record = TypeVar("Record")


def record(kind: type[Record], row: Mapping[str, str], prefix: str = "", /, **given: object) -> Record:
    """Make a record whose fields stand in the columns of a row.

    Args:
        kind: the record, a dataclass.
        row: column name to text.
        prefix: what stands before a field's name in its column's name.
        given: fields that do not come from the row.

    Raises:
        ValueError: a column is missing or holds another kind of value, or the record refuses the values.

    >>> from brakecourse.trade.rotor import Instruments
    >>> record(Instruments, {"u_thickness_u_mm": "0.003"}, "u_", thickness_difference_u_mm=0.002,
    ...        dial_difference_u_mm=0.004).thickness_u_mm
    0.003
    """
    hints = get_type_hints(kind)
    values = dict(given)
    for field in fields(kind):  # type: ignore[arg-type]
        if field.name not in given:
            values[field.name] = _cell(row, prefix + field.name, hints[field.name])
    return kind(**values)


def rows_of(table: str, vehicle: str, expected: Mapping[tuple[str, ...], str]) -> dict[str, dict[str, str]]:
    """Return the rows of one vehicle, each by its name.

    Args:
        table: name of the table.
        vehicle: key of the vehicle.
        expected: what stands in the columns ``axle`` and ``place`` (as far as the table has them), and the
            name that the row gets.

    Raises:
        CourseError: a row is missing, or there is one that nobody expects, or one twice.
    """
    found = [row for row in read_table(table) if row.get("vehicle") == vehicle]
    places = [tuple(row[column] for column in ("axle", "place") if column in row) for row in found]
    if sorted(places) != sorted(expected):
        rows = f"{len(expected)} row{'s' if len(expected) > 1 else ''}"
        raise CourseError(
            f"The table {table} should have {rows} for the vehicle '{vehicle}', one for each part, but it "
            f"has {len(found)}, of {len(set(places) & set(expected))} parts; fetch the course again so that "
            "its files are complete."
        )
    return {expected[place]: row for place, row in zip(places, found, strict=True)}


@contextmanager
def told(table: str, name: str) -> Iterator[None]:
    """Tell which row of which table it was, when a record made from it is refused.

    Args:
        table: name of the table.
        name: the vehicle of the row, as people call it.

    Raises:
        CourseError: a record was refused.

    >>> with told("motor_pool/vehicles.csv", "minibus"):
    ...     wheels = 4
    """
    try:
        yield
    except (TypeError, ValueError) as problem:
        raise CourseError(
            f"The table {table} should describe a vehicle in the row of the {name}, but: {problem} "
            "Correct that row, or fetch the course again."
        ) from None


def _cell(row: Mapping[str, str], column: str, kind: Any) -> object:
    text = row.get(column)
    if text is None:
        raise ValueError(f"there must be a column {column!r}, but there is none.")
    if kind is float:
        return _number(column, text)
    if kind is int:
        found = _number(column, text)
        return int(found) if found.is_integer() else found  # the record refuses what is not whole
    if kind is bool:
        return {"yes": True, "no": False}.get(text, text)
    return text


def _number(column: str, text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise ValueError(f"{column} must be a number, but it was {text!r}.") from None
