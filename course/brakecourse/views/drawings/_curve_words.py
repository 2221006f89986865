"""The words on the curve plots: names at the lines' ends, and words at a limit, in a band and at a mark."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from textwrap import wrap

from brakecourse.views import palette, svg
from brakecourse.views.drawings._chart import halo
from brakecourse.views.drawings._curve_axes import BOTTOM, LEFT, RIGHT, SIZE, TOP

Row = list[svg.Point]
Box = tuple[float, float, float, float]

NAMES_X, ROW, FAR = 396.0, 18.0, 40.0
LETTER = 7.6  # how wide a letter of these words is, about


def names(ends: Sequence[tuple[str, svg.Point, str]]) -> str:
    """Write each curve's name at its end; names that would touch are moved apart, in order.

    Args:
        ends: name, end on the picture and colour of each curve.
    """
    blocks = sorted(
        (end[1], end[0], wrap(name, 14), colour, place) for place, (name, end, colour) in enumerate(ends, 1)
    )
    tops: list[float] = []
    for place, (y, _, rows, _, _) in enumerate(blocks):
        lowest = tops[-1] + _height(blocks[place - 1][2]) if tops else TOP - 20
        tops.append(max(lowest, y - _height(rows) / 2))
    over = max(0.0, tops[-1] + _height(blocks[-1][2]) - BOTTOM - 30)
    drawn = ""
    for top, (y, x, rows, colour, place) in zip(tops, blocks, strict=True):
        first = top - over
        # A long way to the name is dotted, or it would look like more of the curve.
        dots = "1 5" if NAMES_X - x > FAR else None
        look = {"stroke": colour, "stroke_width": "1.2", "stroke_dasharray": dots}
        drawn += svg.line(x + 7, y, NAMES_X - 3, first + _height(rows) / 2, **look)
        for row, told in enumerate(rows):
            drawn += svg.text(NAMES_X, first + 18 + ROW * row, told, size=SIZE, data_part=f"name-{place}")
    return drawn


def _height(rows: list[str]) -> float:
    return ROW * len(rows) + 8


def level_words(
    baselines: Sequence[float], told: str, taken: Sequence[Row], *, bold: bool = False
) -> tuple[str, Box]:
    """Write words at a level, where the fewest curves run: on the left before the right.

    Args:
        baselines: where the words may stand, the best first.
        told: the words.
        taken: curves and marks on the picture.
        bold: the words are a limit's.

    Returns:
        The words, and the box that they fill.
    """
    wide = len(told) * LETTER
    spots = [(y, x, anchor) for y in baselines for x, anchor in ((LEFT + 8, "start"), (RIGHT - 8, "end"))]

    def box(spot: tuple[float, float, str]) -> Box:
        y, x, anchor = spot
        left = x if anchor == "start" else x - wide
        return left, y - 14, left + wide, y + 5

    best = min(spots, key=lambda spot: _crossings(box(spot), taken))
    y, x, anchor = best
    return halo(x, y, told, size=14, anchor=anchor, font_weight="bold" if bold else None), box(best)


def _crossings(box: Box, taken: Sequence[Row]) -> int:
    """Count how often curves come into a box, in small steps along each; a mark counts as a stretch."""
    steps = [
        (x1 + (x2 - x1) * share / 16, y1 + (y2 - y1) * share / 16)
        for row in taken
        for (x1, y1), (x2, y2) in pairwise(row if len(row) > 1 else [*row, (row[0][0], row[0][1] - 24)])
        for share in range(17)
    ]
    return sum(box[0] <= x <= box[2] and box[1] <= y <= box[3] for x, y in steps)


def mark_points(ringed: Sequence[tuple[svg.Point, str]], limit_y: float | None, boxes: Sequence[Box]) -> str:
    """Ring points, each with its words above it, or below it where that is free.

    Args:
        ringed: the points, each with its words.
        limit_y: where a limit's line runs; no words stand on it.
        boxes: words that stand already.
    """
    line = [] if limit_y is None else [(LEFT, limit_y - 1, RIGHT, limit_y + 1)]
    rings = [(x - 9, y - 9, x + 9, y + 9) for (x, y), _ in ringed]
    filled, drawn = [*line, *boxes], ""
    for place, (spot, told) in enumerate(ringed):
        middle, y, box = _beside(spot, told, [*filled, *rings[:place], *rings[place + 1 :]])
        filled.append(box)
        look = {"stroke": palette.INK, "stroke_width": "2", "data_part": "mark"}
        drawn += svg.tag("circle", cx=spot[0], cy=spot[1], r="8", fill="none", **look)
        drawn += halo(middle, y, told, size=14, anchor="middle", font_weight="bold")
    return drawn


def _beside(spot: svg.Point, told: str, filled: Sequence[Box]) -> tuple[float, float, Box]:
    """Return where a point's words stand: near it, above before below, and on as little as can be."""
    reach = len(told) * LETTER / 2
    middle = min(max(spot[0], LEFT + reach + 4), RIGHT - reach - 4)
    rows = [y for y in (spot[1] - 15, spot[1] + 27, spot[1] - 35, spot[1] + 47) if TOP + 11 < y < BOTTOM - 3]

    def box(y: float) -> Box:
        return middle - reach, y - 12, middle + reach, y + 5

    best = min(rows, key=lambda y: sum(_meet(box(y), one) for one in filled))
    return middle, best, box(best)


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
