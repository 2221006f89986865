"""Published values, each with its source, and the conversion of units.

No published number is typed into the course's code: it stands in a table under
``datasets/published``, one number a row, with its unit, condition, source and how it is known.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, lru_cache
from numbers import Real
from typing import TYPE_CHECKING, Any, Literal, get_args

from brakecourse.errors import CourseError
from brakecourse.tables import read_table

if TYPE_CHECKING:
    import pint

HowKnown = Literal["read", "memory", "run"]

TABLES = (
    "published/burnish.csv",
    "published/fasteners.csv",
    "published/fluid.csv",
    "published/gauges.csv",
    "published/hydraulics.csv",
    "published/leaks.csv",
    "published/pads.csv",
    "published/rotor.csv",
    "published/shop_safety.csv",
    "published/uncertainty.csv",
    "published/units.csv",
)
"""Every table of published values. An id stands in one of them only."""


class UnknownValueError(CourseError, KeyError):
    """No published value has this id. The message names ids that come near."""

    def __str__(self) -> str:
        return str(self.args[0])  # KeyError alone would show the sentence in quotes


@dataclass(frozen=True)
class PublishedValue:
    """One published number.

    Attributes:
        id: stable name, used in code and notebooks.
        quantity: what it is, in words.
        value: the number.
        unit: its unit, in words that :func:`convert` understands.
        condition: when it holds.
        source: where it was published.
        section: part of the source.
        how_known: ``"read"`` in the source or a copy of it, ``"memory"`` (not read anywhere: say so
            wherever it is used), or ``"run"`` (returned by a general-purpose library).
    """

    id: str
    quantity: str
    value: float
    unit: str
    condition: str
    source: str
    section: str
    how_known: HowKnown


def value(id: str) -> PublishedValue:
    """Return a published value by its id.

    Args:
        id: the id as in the tables, e.g. ``"unit_inch_mm"``.

    Returns:
        The number with its unit, condition and source.

    Raises:
        UnknownValueError: no table has this id; the sentence names the nearest ones.
        CourseError: a table is missing or a row in it cannot be read.

    Source:
        The row's own ``source`` and ``section``.

    Example:
        >>> inch = value("unit_inch_mm")
        >>> inch.value, inch.unit, inch.how_known
        (25.4, 'mm', 'read')
    """
    known = all_values()
    if id in known:
        return known[id]
    import difflib  # only a mistake needs it

    near = difflib.get_close_matches(str(id), known, n=3, cutoff=0.5)
    hint = f"near ones are {', '.join(near)}" if near else "the tables in datasets/published list them all"
    raise UnknownValueError(f"There is no published value with the id '{id}'; {hint}.")


@cache
def all_values() -> dict[str, PublishedValue]:
    """Return every published value, by id, in the order of the tables.

    Returns:
        The values, each under its id.

    Raises:
        CourseError: a table is missing, a row in it cannot be read, or an id stands twice.

    Source:
        Each row's own ``source`` and ``section``.

    Example:
        >>> "unit_inch_mm" in all_values()
        True
    """
    found: dict[str, PublishedValue] = {}
    for table in TABLES:
        for row in read_table(table):
            one = _from_row(table, row)
            if one.id in found:
                raise CourseError(f"The id '{one.id}' stands twice in the published tables; keep one row.")
            found[one.id] = one
    return found


def _from_row(table: str, row: dict[str, str]) -> PublishedValue:
    try:
        number = float(row["value"])
        how_known = row["how_known"]
        if not math.isfinite(number) or how_known not in get_args(HowKnown) or not row["source"]:
            raise ValueError
        return PublishedValue(
            id=row["id"],
            quantity=row["quantity"],
            value=number,
            unit=row["unit"],
            condition=row["condition"],
            source=row["source"],
            section=row["section"],
            how_known=how_known,  # type: ignore[arg-type]  # checked just above
        )
    except (KeyError, TypeError, ValueError):
        raise CourseError(
            f"In {table} the row '{row.get('id')}' needs a finite number, a source, and how it is known "
            f"({', '.join(get_args(HowKnown))}); put the row right."
        ) from None


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """Convert a value from one unit to another.

    Args:
        value: the number.
        from_unit: its unit, e.g. ``"mm"``, ``"um"``, ``"lbf*ft"``, ``"degC"``, ``"mph"``.
        to_unit: the wanted unit of the same kind.

    Returns:
        The number in the wanted unit, not rounded.

    Raises:
        ValueError: the value is no finite number, a unit is unknown, or the units are of different kinds.

    Source:
        The pint library's unit definitions, which follow the international agreements.

    Example:
        >>> convert(1, "in", "mm")
        25.4
        >>> round(convert(110, "N*m", "lbf*ft"), 1)
        81.1
    """
    number = _finite(value)
    registry = _registry()
    source, target = _unit(registry, from_unit), _unit(registry, to_unit)
    if source.dimensionality != target.dimensionality:
        raise ValueError(f"'{from_unit}' cannot be converted to '{to_unit}': they measure different things.")
    factor = _factor(source, target)
    return (
        float(registry.Quantity(number, source).to(target).magnitude) if factor is None else number * factor
    )


@lru_cache(maxsize=256)
def _factor(source: pint.Unit, target: pint.Unit) -> float | None:
    """Return what to multiply by, or None where a conversion is no multiplication, as of °C to °F.

    Pint multiplies by the same factor, but seeks it anew at every conversion.
    """
    none, one, two = (
        float(_registry().Quantity(number, source).to(target).magnitude) for number in (0.0, 1.0, 2.0)
    )
    return one if none == 0.0 and two == 2 * one else None


def _finite(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, Real):
        number = math.nan
    else:
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
    if not math.isfinite(number):
        raise ValueError(f"The value to convert must be a finite number, but it was {str(value)[:40]!r}.")
    return number


@cache
def _registry() -> pint.UnitRegistry[Any]:
    # Imported on first use: a notebook that converts nothing should not wait for it.
    import pint

    return pint.UnitRegistry()


def _unit(registry: pint.UnitRegistry[Any], name: str) -> pint.Unit:
    try:
        if not isinstance(name, str) or not name.strip():
            raise ValueError
        return _parsed(registry, name)
    except Exception:  # a wrong word makes the parser raise almost anything, even AssertionError
        raise ValueError(
            f"{name!r} is no known unit; write it like 'mm', 'um', 'N*m', 'lbf*ft' or 'degC'."
        ) from None


@lru_cache(maxsize=256)
def _parsed(registry: pint.UnitRegistry[Any], name: str) -> pint.Unit:
    # Taking a name apart costs more than the conversion, and the same few names come again and again.
    return registry.Unit(name)
