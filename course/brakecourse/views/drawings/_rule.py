"""A steel rule with millimetre lines, to be laid beside whatever is measured."""

from __future__ import annotations

import math
from typing import Literal

from brakecourse.views import palette, svg

LINES_PER_NUMBER = 10
_LENGTHS = {0: 20.0, 5: 15.0}
_FINE = 10.0


def rule(
    x: float,
    y: float,
    length_mm: float,
    px_per_mm: float,
    *,
    uid: str,
    way: Literal["right", "up", "down"] = "right",
    breadth: float = 48.0,
    ends: tuple[float, float] = (8.0, 8.0),
    from_mm: float = 0.0,
    size: float = 15.0,
    line_mm: int = 1,
) -> str:
    """Draw a rule.

    Args:
        x: where its zero lies, on the edge that carries the lines.
        y: where its zero lies.
        length_mm: the last line, in mm.
        px_per_mm: scale of the picture.
        uid: the gradient ``{uid}-rule`` colours it, see :func:`rule_defs`.
        way: where the numbers go: to the right (lines at the upper edge), or up or down (lines at the left
            edge).
        breadth: of the rule on the picture.
        ends: bare steel before the first and after the last line, on the picture.
        from_mm: the first line, in mm.
        size: of the numerals.
        line_mm: from line to line, 1 or 5.
    """

    def spot(value: float, across: float) -> svg.Point:
        along = value * px_per_mm
        if way == "right":
            return x + along, y + across
        return x + across, y - along if way == "up" else y + along

    every = next(step for step in (10, 20, 50, 100, 200, 500) if step * px_per_mm >= size * 1.7)
    fine: list[svg.Segment] = []
    coarse: list[svg.Segment] = []
    numerals = ""
    for line in range(math.ceil(from_mm - 1e-9), math.floor(length_mm + 1e-9) + 1):
        if line % line_mm:
            continue
        mark = (*spot(line, 0), *spot(line, _LENGTHS.get(line % 10, _LENGTHS[5] if line % 5 == 0 else _FINE)))
        (fine if line % 5 else coarse).append(mark)
        if line % every == 0:
            numerals += _numeral(line, spot(line, 0), way, size)
    (x1, y1), (x2, y2) = (
        spot(from_mm - ends[0] / px_per_mm, 0),
        spot(length_mm + ends[1] / px_per_mm, breadth),
    )
    steel = svg.rect(
        min(x1, x2),
        min(y1, y2),
        abs(x2 - x1),
        abs(y2 - y1),
        rx="3",
        fill=f"url(#{uid}-rule)",
        stroke=palette.STEEL_EDGE,
        stroke_width="1",
    )
    return (
        steel
        + svg.strokes(fine, stroke=palette.INK, stroke_width="1", data_part="rule-fine")
        + svg.strokes(coarse, stroke=palette.INK, stroke_width="1.5", data_part="rule-coarse")
        + numerals
    )


def _numeral(line: int, spot: svg.Point, way: str, size: float) -> str:
    x, y = spot
    if way == "right":
        return svg.text(x, y + 22 + size * 0.8, line, size=size, anchor="middle", data_part="rule-number")
    return svg.text(x + 24, y + size * 0.345, line, size=size, data_part="rule-number")


def rule_defs(uid: str, *, across: bool = False) -> str:
    """Return the gradient of the rule's steel."""
    stops = [(0, palette.STEEL_LIGHT), (0.45, palette.STEEL_WHITE), (1, palette.STEEL)]
    return svg.gradient(f"{uid}-rule", stops, across=across)
