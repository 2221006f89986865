"""What the plots round the rotor share: the unrolled axis, the scale on the left, points and brackets."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.views import palette, svg, words

Pair = tuple[float, float]


@dataclass(frozen=True)
class Axes:
    """A plot's area on the picture and the readings that its lower and upper edge stand for."""

    left: float
    right: float
    top: float
    bottom: float
    low: float
    high: float

    def x(self, angle: float) -> float:
        """Return where an angle from 0 to 360 degrees lies."""
        return self.left + (self.right - self.left) * angle / 360

    def y(self, value: float) -> float:
        """Return where a reading lies."""
        return self.bottom - (self.bottom - self.top) * (value - self.low) / (self.high - self.low)


def tick_step(span: float, most: int = 6) -> float:
    """Return a step of 1, 2 or 5 times a power of ten that cuts a span into at most so many parts.

    Example:
        >>> tick_step(0.07), tick_step(3)
        (0.02, 0.5)
    """
    power = 10.0 ** math.floor(math.log10(span / most))
    for factor in (1, 2, 5, 10):
        if span / (factor * power) <= most:
            return float(f"{factor * power:.6g}")
    return float(f"{20 * power:.6g}")  # rounding kept the loop from ending; one step more is always enough


def round_axes(left: float, right: float, top: float, bottom: float, low: float, high: float) -> Axes:
    """Return axes that hold both values with room above and below, ending on whole steps."""
    span = max(high - low, 0.01)
    step = tick_step(span)
    return Axes(
        left, right, top, bottom, (math.floor(low / step + 1e-9) - 1) * step, (math.ceil(high / step - 1e-9) + 1) * step
    )


def grid(axes: Axes, pairs: list[Pair], *, unit: str) -> str:
    """Draw the background, the scale of readings, and the places round the rotor."""
    step = tick_step(axes.high - axes.low)
    places = 2 if step >= 0.0099 else 3
    first, last = round(axes.low / step), round(axes.high / step)
    body = svg.rect(axes.left, axes.top, axes.right - axes.left, axes.bottom - axes.top, fill=palette.PANEL)
    lines = [(axes.left, axes.y(k * step), axes.right, axes.y(k * step)) for k in range(first, last + 1)]
    body += svg.strokes(lines, stroke=palette.RULE, stroke_width="1")
    for k in range(first, last + 1):
        body += svg.text(
            axes.left - 8, axes.y(k * step) + 4.5, words.number(k * step, places), size=13, anchor="end", fill=palette.INK_SOFT
        )
    body += svg.text(axes.left - 8, axes.top - 10, unit, size=13, anchor="end", fill=palette.INK_SOFT)
    return body + _places(axes, pairs)


def _places(axes: Axes, pairs: list[Pair]) -> str:
    body = svg.strokes(
        [(axes.x(angle), axes.bottom, axes.x(angle), axes.bottom + 5) for angle, _ in pairs], stroke=palette.STEEL_DARK
    )
    if len(pairs) <= 12:
        for place, (angle, _) in enumerate(pairs, start=1):
            body += svg.text(axes.x(angle), axes.bottom + 20, place, size=14, anchor="middle", font_weight="bold")
            body += svg.text(axes.x(angle), axes.bottom + 37, f"{angle:.4g}°", size=12, anchor="middle", fill=palette.INK_SOFT)
        again = "1 again"
        body += svg.text(axes.right, axes.bottom + 20, again, size=12, anchor="middle", fill=palette.INK_SOFT)
    return body


def round_the_rotor(axes: Axes, pairs: list[Pair]) -> str:
    """Draw the readings, joined in order and led back to the first."""
    line = [(axes.x(angle), axes.y(value)) for angle, value in pairs]
    back = [line[-1], (axes.x(360 + pairs[0][0]) if pairs[0][0] == 0 else axes.right, line[0][1])]
    return (
        svg.polyline(line, stroke=palette.BLUE, stroke_width="2", data_part="readings-line")
        + svg.polyline(back, stroke=palette.BLUE, stroke_width="2", stroke_dasharray="2 5")
        + "".join(svg.circle(x, y, 4.5, fill=palette.BLUE, stroke=palette.PAPER, stroke_width="1.2", data_part="reading") for x, y in line)
    )


def named_point(axes: Axes, pair: Pair, name: str, *, above: bool) -> str:
    """Mark one reading by a ring and a word."""
    x, y = axes.x(pair[0]), axes.y(pair[1])
    anchor = "start" if x < axes.left + 30 else "middle"
    return svg.circle(x, y, 9, fill="none", stroke=palette.INK, stroke_width="1.6") + svg.text(
        x - (8 if anchor == "start" else 0), y - 15 if above else y + 25, name, size=14, anchor=anchor, font_weight="bold"
    )


def bracket(x: float, y_top: float, y_bottom: float, colour: str = palette.INK) -> str:
    """Draw a bracket that spans from one height to another."""
    return svg.polyline(
        [(x - 7, y_top), (x, y_top), (x, y_bottom), (x - 7, y_bottom)], stroke=colour, stroke_width="2", data_part="bracket"
    )
