"""The two scales on the torque wrench's tube: newton metres above its middle, pound-feet below."""

from __future__ import annotations

import math

from brakecourse.published import convert
from brakecourse.views import palette, svg

LEFT, RIGHT, TOP, BOTTOM = 10.0, 470.0, 10.0, 232.0
AXIS_Y = 121.0
LOW_X, HIGH_X = 162.0, 448.0


def x_of(setting: float, low: float, high: float) -> float:
    """Return where a torque in N·m stands on the tube."""
    return LOW_X + (HIGH_X - LOW_X) * (setting - low) / (high - low)


def tube_scales(low: float, high: float, turn: float, edge_x: float) -> str:
    """Draw N·m above the tube's middle and lbf·ft below it, and name both at the right."""
    ratio = convert(1, "lbf·ft", "N·m")
    split = svg.line(LEFT, AXIS_Y, RIGHT, AXIS_Y, stroke=palette.STEEL_DARK, stroke_width="1")
    name = {"size": 16.0, "anchor": "end", "font_weight": "bold"}
    return (
        split
        + _scale(low, high, turn, edge_x, 1, -1, palette.INK, "nm")
        + _scale(low, high, turn, edge_x, ratio, 1, palette.BLUE_TEXT, "lbfft")
        + svg.text(RIGHT - 8, TOP + 20, "N·m", **name)  # type: ignore[arg-type]
        + svg.text(RIGHT - 8, BOTTOM - 8, "lbf·ft", fill=palette.BLUE_TEXT, **name)  # type: ignore[arg-type]
    )


def numbered_nm(low: float, high: float, turn: float, unit_nm: float = 1.0) -> float:
    """Return the step from one numeral to the next: the smallest that leaves the numerals apart.

    Args:
        low: end of the scale, in N·m.
        high: other end, in N·m.
        turn: from line to line, in the scale's unit.
        unit_nm: the scale's unit, in N·m.
    """
    px = (HIGH_X - LOW_X) / (high - low) * unit_nm
    return next(turn * lines for lines in (1, 2, 5, 10) if turn * lines * px >= 31)


def _scale(
    low: float, high: float, turn: float, edge_x: float, unit_nm: float, down: int, fill: str, name: str
) -> str:
    """Draw one scale. A numeral that the window's edge would cut is left out: 120 must not look like 20."""
    number = numbered_nm(low, high, turn, unit_nm)
    marks: list[svg.Segment] = []
    numerals = ""
    for place in range(math.ceil(low / unit_nm / turn - 1e-9), math.floor(high / unit_nm / turn + 1e-9) + 1):
        x = x_of(place * turn * unit_nm, low, high)
        numbered = place % round(number / turn) == 0
        marks.append((x, AXIS_Y, x, AXIS_Y + (26 if numbered else 17) * down))
        if numbered and abs(x - edge_x) > 5 * len(f"{place * turn:g}"):
            y = AXIS_Y + (45 if down > 0 else -33)
            numerals += svg.text(
                x, y, f"{place * turn:g}", size=16, anchor="middle", fill=fill, data_part=f"{name}-number"
            )
    return svg.strokes(marks, stroke=fill, stroke_width="1.5", data_part=f"{name}-lines") + numerals
