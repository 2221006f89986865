"""What the plots round the rotor share: the unrolled axis, the scale on the left, points and brackets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse.views import palette, svg, words

Pair = tuple[float, float]

LEFT, RIGHT = 78.0, 500.0
BRACKET_X = 516.0
NOTES_X = 526.0
LINE_HEIGHT = 17.0
_ROOM = 0.8  # of a step, for the words above the highest and below the lowest reading


@dataclass(frozen=True)
class Axes:
    """A plot's area on the picture, and the steps of the scale that its lower and upper edge stand on."""

    top: float
    bottom: float
    step: float
    first: int
    last: int

    def x(self, angle: float) -> float:
        """Return where an angle from 0 to 360 degrees lies."""
        return LEFT + (RIGHT - LEFT) * angle / 360

    def y(self, value: float) -> float:
        """Return where a reading lies."""
        steps = value / self.step - self.first
        return self.bottom - (self.bottom - self.top) * steps / (self.last - self.first)


def axes_for(top: float, bottom: float, low: float, high: float) -> Axes:
    """Return axes that hold both values with room above and below, and begin and end on whole steps.

    Args:
        top: upper edge of the plot's area on the picture.
        bottom: lower edge of it.
        low: smallest value to be shown.
        high: largest value to be shown.
    """
    step = _step(max(high - low, 0.02), most=4)
    return Axes(
        top, bottom, step, math.floor(low / step - _ROOM + 1e-6), math.ceil(high / step + _ROOM - 1e-6)
    )


def _step(span: float, most: int) -> float:
    """Return the smallest of 1, 2, 5, 10, 20 … hundredths that cuts a span into at most so many parts."""
    hundredths = span * 100 / most
    power = 1.0
    while True:
        for factor in (1, 2, 5):
            if factor * power >= hundredths - 1e-6:
                return factor * power / 100
        power *= 10


def background(axes: Axes, heading: str) -> str:
    """Draw the area, its heading and the scale of readings in mm."""
    levels = range(axes.first, axes.last + 1)
    lines = [(LEFT, axes.y(k * axes.step), RIGHT, axes.y(k * axes.step)) for k in levels]
    numbers = "".join(
        svg.text(
            LEFT - 9,
            axes.y(k * axes.step) + 4.5,
            words.number(k * axes.step),
            size=13,
            anchor="end",
            fill=palette.INK_SOFT,
        )
        for k in levels
    )
    return (
        svg.rect(LEFT, axes.top, RIGHT - LEFT, axes.bottom - axes.top, fill=palette.PANEL)
        + svg.strokes(lines, stroke=palette.RULE, stroke_width="1")
        + numbers
        + svg.text(LEFT - 9, axes.top - 14, "mm", size=13, anchor="end", fill=palette.INK_SOFT)
        + svg.text(LEFT, axes.top - 14, heading, size=14, font_weight="bold")
    )


def places(axes: Axes, pairs: Sequence[Pair]) -> str:
    """Number the places below the area, with their angles."""
    ticks = [(axes.x(angle), axes.bottom, axes.x(angle), axes.bottom + 5) for angle, _ in pairs]
    body = svg.strokes(ticks, stroke=palette.STEEL_DARK, stroke_width="1")
    below, soft = axes.bottom + 21, palette.INK_SOFT
    # More numbers than these would run into one another.
    every = math.ceil(len(pairs) / 12)
    for place, (angle, _) in enumerate(pairs, start=1):
        if (place - 1) % every == 0:
            x = axes.x(angle)
            body += svg.text(x, below, place, size=15, anchor="middle", font_weight="bold")
            body += svg.text(x, below + 17, f"{angle:.4g}°", size=12, anchor="middle", fill=soft)
    return body + svg.text(LEFT - 9, below, "place", size=13, anchor="end", fill=soft)


def curve(axes: Axes, pairs: Sequence[Pair]) -> str:
    """Draw the readings, joined in order, and dotted on towards the first one again."""
    line = [(axes.x(angle), axes.y(value)) for angle, value in pairs]
    (first_angle, first), (last_angle, last) = pairs[0], pairs[-1]
    share = (360 - last_angle) / (360 + first_angle - last_angle)
    turn_over = axes.y(last + (first - last) * share)
    dots = "".join(
        svg.circle(
            x, y, 4.5, fill=palette.BLUE, stroke=palette.PAPER, stroke_width="1.2", data_part="reading"
        )
        for x, y in line
    )
    look = {"stroke": palette.BLUE, "stroke_width": "2", "stroke_linejoin": "round"}
    return (
        svg.polyline([line[-1], (RIGHT, turn_over)], stroke_dasharray="2 5", **look)
        + svg.polyline(line, data_part="curve", **look)
        + dots
    )


def named(axes: Axes, pair: Pair, name: str, *, above: bool) -> str:
    """Mark one reading by a ring and a word, and lead its level to the bracket on the right."""
    x, y = axes.x(pair[0]), axes.y(pair[1])
    middle = min(max(x, LEFT + 34), RIGHT - 34)
    level = svg.line(x + 9, y, BRACKET_X - 8, y, stroke=palette.INK, stroke_width="1", stroke_dasharray="3 3")
    ring = svg.circle(x, y, 9, fill="none", stroke=palette.INK, stroke_width="1.6")
    word = halo(middle, y - 15 if above else y + 25, name, size=14, anchor="middle", font_weight="bold")
    return level + ring + word


def bracket(axes: Axes, low: float, high: float, lines: Sequence[str]) -> str:
    """Span the way from the lowest to the highest reading, with words beside it."""
    top, bottom = axes.y(high), axes.y(low)
    x = BRACKET_X
    ends = [(x - 8, top), (x, top), (x, bottom), (x - 8, bottom)]
    shape = svg.polyline(ends, stroke=palette.INK, stroke_width="2", data_part="bracket")
    start = (top + bottom) / 2 - LINE_HEIGHT * (len(lines) - 1) / 2 + 5
    return shape + block(start, lines)


def block(y: float, lines: Sequence[str], fill: str = palette.INK) -> str:
    """Write lines of words right of the area, the first one bold."""
    return "".join(
        svg.text(
            NOTES_X + 2, y + LINE_HEIGHT * row, line, size=14, fill=fill, font_weight=None if row else "bold"
        )
        for row, line in enumerate(lines)
    )


def halo(x: float, y: float, text: str, **attributes: object) -> str:
    """Write words that stay readable across lines: a rim of the area's colour keeps the lines off."""
    rim = {"stroke": palette.PANEL, "stroke_width": "4", "stroke_linejoin": "round", "paint_order": "stroke"}
    return svg.text(x, y, text, **rim, **attributes)  # type: ignore[arg-type]  # size and fill by name
