"""A scale as it is printed: where it starts and ends, its lines, and the lines that carry a number.

A drawing takes everything from here, so that it is true to the gauge that is read.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, get_args

from brakecourse.bench.checks import number

Look = Literal["lines", "digits", "marks"]
"""Lines under a pointer or an edge, the digits of a display, or a row of marks that light up."""

CLEAR_SHARE = 0.2
"""An indication stands at least this share of a line from the middle between two lines."""

_ROUNDS = 9  # a line's value is a short decimal; more places are only the last digits of the arithmetic
_HAIR = 1e-9


def nearest_line(indication: float, line: float) -> float:
    """Return the line nearest to an indication; ``line`` is the distance of two lines.

    >>> nearest_line(9.1228, 0.01)
    9.12
    """
    return round(round(indication / line) * line, _ROUNDS)


def from_middle(indication: float, line: float) -> float:
    """Return how far an indication stands from the middle between two lines.

    >>> round(from_middle(9.1228, 0.01), 6)
    0.0022
    """
    lines = indication / line
    return abs(lines - math.floor(lines) - 0.5) * line


def handy_step(least: float) -> float:
    """Return the smallest of 1, 2, 5, 10, 20, 50 and so on that is no less than ``least``.

    >>> handy_step(29), handy_step(0.74)
    (50.0, 1.0)
    """
    ten = 10.0 ** math.floor(math.log10(number("least", least, low=1e-9)))
    return round(next(step * ten for step in (1, 2, 5, 10) if step * ten >= least * (1 - _HAIR)), _ROUNDS)


@dataclass(frozen=True)
class Scale:
    """The lines of a gauge, in the unit of the scale.

    Args:
        unit: as it is printed, e.g. ``"MPa"``.
        start: the first line; a whole number of lines from 0.
        end: the last line.
        line: distance of two lines, above 0.
        numbered: distance of two lines that carry a number; a whole number of lines.
        numeral: what a printed 1 stands for, e.g. 100 when the number 5 means 500.
        look: lines, digits of a display, or marks.

    Raises:
        ValueError: the ends are the wrong way round, or a step does not fit the lines.
    """

    unit: str
    start: float
    end: float
    line: float
    numbered: float
    numeral: float = 1.0
    look: Look = "lines"

    def __post_init__(self) -> None:
        start = number("start", self.start)
        number("end", self.end, low=start)
        number("line", self.line, low=1e-6)
        number("numbered", self.numbered, low=self.line)
        number("numeral", self.numeral, low=1e-6)
        if self.look not in get_args(Look):
            raise ValueError(f"look must be one of {', '.join(get_args(Look))}, but it was {self.look!r}.")
        if self.end - self.start < self.line:
            raise ValueError(f"end must be a line or more above start, but it was {self.end!r}.")
        for name in ("start", "end", "numbered"):
            lines = getattr(self, name) / self.line
            if abs(lines - round(lines)) > 1e-6:
                raise ValueError(
                    f"{name} must be a whole number of lines of {self.line:g} {self.unit}, "
                    f"but it was {getattr(self, name)!r}."
                )

    def nearest(self, value: float) -> float:
        """Return the nearest line of the scale; beyond an end, the end's line."""
        return nearest_line(self.held(value), self.line)

    def held(self, value: float) -> float:
        """Return the value, or the end of the scale beyond it: the pointer rests on its stop."""
        return min(max(value, self.start), self.end)

    def holds(self, value: float) -> bool:
        """Tell whether a value lies on the scale."""
        return self.start - _HAIR <= value <= self.end + _HAIR

    def is_clear(self, value: float) -> bool:
        """Tell whether a value stands clear of the middle between two lines."""
        return from_middle(value, self.line) >= CLEAR_SHARE * self.line - _HAIR

    def lines(self) -> tuple[float, ...]:
        """Return the value of every line, from start to end."""
        return self._steps(self.line)

    def numbers(self) -> dict[float, float]:
        """Return the lines that carry a number, and the number printed there.

        >>> Scale("psi", 0, 1500, 50, 500, numeral=100).numbers()
        {0.0: 0.0, 500.0: 5.0, 1000.0: 10.0, 1500.0: 15.0}
        """
        return {value: round(value / self.numeral, _ROUNDS) for value in self._steps(self.numbered)}

    def below(self, value: float) -> tuple[float, int]:
        """Return the number's line at or below a reading, and how many lines past it the reading is.

        >>> Scale("MPa", 0, 16, 0.2, 2).below(8.6)
        (8.0, 3)
        """
        base = math.floor(value / self.numbered + 1e-6) * self.numbered
        return round(float(base), _ROUNDS), round((value - base) / self.line)

    def _steps(self, step: float) -> tuple[float, ...]:
        first = math.ceil(self.start / step - 1e-6)
        last = math.floor(self.end / step + 1e-6)
        return tuple(round(float(count * step), _ROUNDS) for count in range(first, last + 1))


def ring(scale: Scale, unit: str, into: Callable[[float], float], numeral: float = 1.0) -> Scale:
    """Return the second ring of a gauge: the same sweep with handy lines of another unit.

    Args:
        scale: the first ring.
        unit: unit of the second.
        into: turns a value of the first ring into the second's unit.
        numeral: as for :class:`Scale`.

    >>> ring(Scale("MPa", 0, 16, 0.2, 2), "psi", lambda mpa: mpa * 145.038, 100)
    Scale(unit='psi', start=0.0, end=2300.0, line=50.0, numbered=500.0, numeral=100, look='lines')
    """
    line = handy_step(into(scale.line))
    start = math.ceil(into(scale.start) / line - 1e-6) * line
    end = math.floor(into(scale.end) / line + 1e-6) * line
    return Scale(unit, round(start, _ROUNDS), round(end, _ROUNDS), line, round(10 * line, _ROUNDS), numeral)
