"""What a job sheet holds once it is read, and what is said about it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

Values = Mapping[str, float | tuple[float, ...] | str]
"""What stands in each filled box, by the field's id: in mm, N·m and °C."""


class SheetFinding(NamedTuple):
    """What the sheet says about one thing.

    Attributes:
        place: what it is about.
        short: what to do, for the sheet.
        words: why, from the readings.
    """

    place: str
    short: str
    words: str


def number_of(values: Values, id: str) -> float:
    value = values[id]
    assert isinstance(value, float | int)
    return float(value)


def has(values: Values, *ids: str) -> bool:
    return all(one in values for one in ids)


def row_of(values: Values, id: str) -> tuple[float, ...]:
    value = values[id]
    assert isinstance(value, tuple)
    return value
