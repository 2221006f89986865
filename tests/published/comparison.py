"""Comparing the course's numbers with published ones, and keeping each comparison as a row of a table.

A test takes ``compare`` and hands it what the course computes and what was published. It asserts that the two
agree, and keeps the row for the table, which ``python3 run.py test tests/published`` prints at its end.
"""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass
from typing import Literal, get_args

import pytest
from brakecourse import published

PROPERTY = "published comparison"
HowKnown = Literal["read", "memory", "run", "counted"]
"""How a number from outside is known: read in the source or a copy of it, from memory, returned by a
general-purpose library, or counted by hand from the law that the source states."""


@dataclass(frozen=True)
class Row:
    """One line of the table.

    Attributes:
        function: the public function that is checked, e.g. ``"rotor.verdict"``.
        quantity: what was compared, in words.
        ours: what the course computes.
        published: what the source says.
        unit: unit of both; empty for words and pure numbers.
        source: where the published one comes from.
        how_known: see :data:`HowKnown`.
    """

    function: str
    quantity: str
    ours: float | str
    published: float | str
    unit: str
    source: str
    how_known: HowKnown

    def cells(self) -> tuple[str, ...]:
        """The row as words, in the order of :data:`HEADINGS`."""
        difference = "same"
        if isinstance(self.ours, float) and isinstance(self.published, float):
            difference = f"{self.ours - self.published:+.2g}"
        both = (_shown(self.ours), _shown(self.published), difference, self.unit)
        return (self.function, self.quantity, *both, self.source, self.how_known)


HEADINGS = ("function", "quantity", "ours", "published", "difference", "unit", "source", "how known")


def _shown(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.7g}"


def _plain(value: object) -> float | str:
    """A number as a plain float, a word as it is: what a worker can send."""
    return value if isinstance(value, str) else float(value)  # type: ignore[arg-type]


class Compare:
    """Assert that two values agree, and keep the comparison for the table."""

    def __init__(self, kept: list[tuple[str, object]]) -> None:
        self._kept = kept

    def __call__(
        self,
        function: str,
        quantity: str,
        ours: object,
        published: object,
        unit: str = "",
        *,
        source: str,
        how_known: HowKnown,
        within: float = 0.0,
        share: float = 1e-9,
    ) -> None:
        """Compare with a value of any source.

        Args:
            function: the public function that is checked, e.g. ``"rotor.verdict"``.
            quantity: what is compared, in words.
            ours: what the course computes.
            published: what the source says; a number or a word, as ours is.
            unit: unit of both.
            source: where the published one comes from.
            how_known: see :data:`HowKnown`.
            within: the difference that is allowed, in the unit: the source's rounding.
            share: the difference that is allowed as a share of the published value.
        """
        assert how_known in get_args(HowKnown)
        row = Row(function, quantity, _plain(ours), _plain(published), unit, source, how_known)
        self._kept.append((PROPERTY, asdict(row)))
        if isinstance(row.published, str) or isinstance(row.ours, str):
            assert row.ours == row.published, row
        else:
            assert math.isfinite(row.ours), row
            assert row.ours == pytest.approx(row.published, abs=within, rel=share), row

    def row(
        self, function: str, ours: object, id: str, *, within: float = 0.0, share: float = 1e-9, of: str = ""
    ) -> None:
        """Compare with a row of the published tables, in the row's own unit.

        Args:
            function: the public function that is checked.
            ours: what the course computes, in the row's unit.
            id: the row's id. It names the quantity, the unit, the source and how it is known.
            within: as above.
            share: as above.
            of: words that tell this comparison from others of the same row.
        """
        one = published.value(id)
        quantity = f"{one.quantity}, {of}" if of else one.quantity
        known = {"source": f"{one.source}, {one.section}", "how_known": one.how_known}
        self(function, quantity, ours, one.value, one.unit, within=within, share=share, **known)  # type: ignore[arg-type]


def table(rows: list[Row], width: int = 64) -> list[str]:
    """The rows as lines of text, each cell cut to a width."""
    cells = [HEADINGS, *(row.cells() for row in rows)]
    cut = [[cell if len(cell) <= width else cell[: width - 1] + "…" for cell in line] for line in cells]
    widths = [max(len(line[place]) for line in cut) for place in range(len(HEADINGS))]
    return [
        "  ".join(cell.ljust(wide) for cell, wide in zip(line, widths, strict=True)).rstrip() for line in cut
    ]
