"""The axes of the curve plots: whole steps, their numbers, and the grid."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.views import palette, svg
from brakecourse.views.drawings._round import nice_step

WIDTH, HEIGHT = 520, 400
LEFT, RIGHT, TOP, BOTTOM = 66.0, 386.0, 46.0, 340.0
SIZE = 15.0


@dataclass(frozen=True)
class Axis:
    """One axis: values from first to last step, between two places on the picture."""

    start: float
    end: float
    step: float
    first: int
    last: int

    def at(self, value: float) -> float:
        """Return where a value lies."""
        share = (value / self.step - self.first) / (self.last - self.first)
        return self.start + (self.end - self.start) * share


def axis(start: float, end: float, values: list[float], most: int, room: float) -> Axis:
    """Return an axis from whole step to whole step; from zero on when zero is not far off."""
    low, high = min(values), max(values)
    if 0 < low < (high - low) * 0.8:
        low = 0.0
    step = nice_step(high - low or abs(high) or 1.0, most)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step + room - 1e-9)
    return Axis(start, end, step, first, max(last, first + 1))


def background(across: Axis, up: Axis, x_label: str, y_label: str) -> str:
    """Draw the area with its grid, the numbers, and what both axes show."""
    soft = {"size": 14.0, "fill": palette.INK_SOFT}
    lines: list[svg.Segment] = []
    numbers = ""
    for place in range(up.first, up.last + 1):
        y = up.at(place * up.step)
        lines.append((LEFT, y, RIGHT, y))
        numbers += svg.text(
            LEFT - 8,
            y + 5,
            number(place, up.step),
            anchor="end",
            data_part="y-number",
            **soft,  # type: ignore[arg-type]
        )
    for place in range(across.first, across.last + 1):
        x = across.at(place * across.step)
        lines.append((x, TOP, x, BOTTOM + 5))
        numbers += svg.text(
            x,
            BOTTOM + 21,
            number(place, across.step),
            anchor="middle",
            data_part="x-number",
            **soft,  # type: ignore[arg-type]
        )
    return (
        svg.rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, fill=palette.PANEL)
        + svg.strokes(lines, stroke=palette.RULE, stroke_width="1")
        + svg.strokes(
            [(LEFT, TOP, LEFT, BOTTOM), (LEFT, BOTTOM, RIGHT, BOTTOM)],
            stroke=palette.STEEL_DARK,
            stroke_width="1.4",
        )
        + numbers
        + svg.text(14, 26, y_label, size=SIZE, font_weight="bold")
        + svg.text((LEFT + RIGHT) / 2, HEIGHT - 12, x_label, size=SIZE, anchor="middle", font_weight="bold")
    )


def number(place: int, step: float) -> str:
    """Write the value of a step."""
    return f"{place * step:.10g}".replace("-", "\N{MINUS SIGN}")
