"""Arrows whose length follows a number, and the bar that tells their scale."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg

HALF = 6.5
HEAD = 13.0


def block(tip: svg.Point, length: float, direction: str, fill: str, name: str, half: float = HALF) -> str:
    """Draw a thick arrow that ends at ``tip``.

    Args:
        tip: where it points to.
        length: from its tail to its tip, in pixels, 0 or more. Below one pixel nothing is drawn.
        direction: ``"right"``, ``"left"``, ``"up"`` or ``"down"``.
        fill: its colour.
        name: its ``data-part``.
        half: half the width of its shaft.
    """
    if length < 1:
        return ""
    head = min(HEAD, length)
    wide = half * 1.75 * head / HEAD
    shape = [
        (-length, -half),
        (-head, -half),
        (-head, -wide),
        (0, 0),
        (-head, wide),
        (-head, half),
        (-length, half),
    ]
    if length <= HEAD:
        shape = [(-length, -wide), (0, 0), (-length, wide)]
    turn = {"right": 0, "down": 90, "left": 180, "up": 270}[direction]
    c, s = round(math.cos(math.radians(turn))), round(math.sin(math.radians(turn)))
    points = [(tip[0] + x * c - y * s, tip[1] + x * s + y * c) for x, y in shape]
    return svg.polygon(
        points, fill=fill, stroke=palette.INK, stroke_width=0.9, stroke_linejoin="round", data_part=name
    )


def turning(centre: svg.Point, radius: float, sweep_deg: float, fill: str, name: str) -> str:
    """Draw a curved arrow that turns anticlockwise from the right side of a wheel, over its top.

    Args:
        centre: the wheel's centre.
        radius: of the arrow.
        sweep_deg: how far it reaches round, in degrees; below 4 nothing is drawn.
        fill: its colour.
        name: its ``data-part``.
    """
    if sweep_deg < 4:
        return ""
    x, y = centre

    def at(deg: float, r: float) -> svg.Point:
        return x + r * math.cos(math.radians(deg)), y - r * math.sin(math.radians(deg))

    head = min(22.0, sweep_deg)
    end, tip = sweep_deg - head - 40, sweep_deg - 40
    inner, outer = radius - 4.5, radius + 4.5
    large = 1 if end + 40 > 180 else 0
    a, b, c, d = at(-40, outer), at(end, outer), at(end, inner), at(-40, inner)
    e, f, g = at(end, radius + 9), at(tip, radius), at(end, radius - 9)
    return svg.path(
        *("M", *a, "A", outer, outer, 0, large, 0, *b, "L", *e, "L", *f, "L", *g, "L", *c),
        *("A", inner, inner, 0, large, 1, *d, "Z"),
        fill=fill,
        stroke=palette.INK,
        stroke_width=0.9,
        stroke_linejoin="round",
        data_part=name,
        data_sweep=svg.num(sweep_deg),
    )


def scale_bar(x: float, y: float, length: float, words: str, name: str) -> str:
    """Draw a bar with end ticks and what it stands for."""
    ticks = [(x, y, x + length, y), (x, y - 5, x, y + 5), (x + length, y - 5, x + length, y + 5)]
    return svg.strokes(ticks, stroke=palette.INK, stroke_width="1.4", data_part=name) + svg.text(
        x + length + 8, y + 5, words, size=14, fill=palette.INK_SOFT, data_part=f"{name}-words"
    )
