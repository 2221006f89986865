"""Things of the workshop, drawn plain: stand, jack, chock, arrow, numbered disc."""

from __future__ import annotations

from brakecourse.views import palette, svg


def floor(width: float, y: float, height: float) -> str:
    """Draw the workshop's floor from a height down."""
    slab = svg.rect(0, y, width, height - y, fill=palette.STEEL_LIGHT)
    return slab + svg.line(0, y, width, y, stroke=palette.STEEL_EDGE, stroke_width=1.6)


def stand(x: float, top: float, ground: float) -> str:
    """Draw an axle stand: a column with notches and a saddle on a spread foot, its pawl in a notch."""
    high = ground - top
    spread, collar = 0.34 * high, ground - 0.55 * high
    foot = svg.polygon(
        [(x - 7, collar), (x + 7, collar), (x + spread, ground), (x - spread, ground)],
        fill=palette.STEEL_MID,
        stroke=palette.STEEL_EDGE,
        stroke_width=1.2,
        stroke_linejoin="round",
    )
    gap = svg.polygon(
        [(x, collar + 10), (x + 0.66 * spread, ground - 4), (x - 0.66 * spread, ground - 4)],
        fill=palette.STEEL_LIGHT,
        stroke=palette.STEEL_EDGE,
        stroke_width=0.8,
    )
    column = svg.rect(
        x - 5, top + 4, 10, collar - top + 6, fill=palette.STEEL_DARK, stroke=palette.INK, stroke_width=0.8
    )
    notches = svg.strokes(
        [(x + 1, y, x + 5, y - 3) for y in _steps(top + 12, collar - 3, 6)],
        stroke=palette.STEEL_WHITE,
        stroke_width=1.2,
    )
    cup = ((-13, -4), (-9, 4), (9, 4), (13, -4), (7, 0), (-7, 0))
    saddle = svg.polygon([(x + dx, top + dy) for dx, dy in cup], fill=palette.STEEL_EDGE)
    pawl = svg.line(
        x + 5, collar - 2, x + 17, collar - 9, stroke=palette.INK, stroke_width=2.6, stroke_linecap="round"
    )
    return svg.group(foot + gap + column + notches + saddle + pawl, data_part="stand")


def jack(x: float, top: float, ground: float, *, handle: int = 1) -> str:
    """Draw a trolley jack under a point; its handle goes to the right (1) or to the left (-1)."""
    side = handle
    body = svg.polygon(
        [
            (x - side * 26, ground - 8),
            (x + side * 62, ground - 8),
            (x + side * 56, ground - 26),
            (x + side * 6, ground - 22),
        ],
        fill=palette.STEEL_MID,
        stroke=palette.STEEL_EDGE,
        stroke_width=1.2,
    )
    arm = svg.line(
        x + side * 42,
        ground - 16,
        x,
        top + 5,
        stroke=palette.STEEL_EDGE,
        stroke_width=8.0,
        stroke_linecap="round",
    )
    pad = svg.rect(x - 11, top, 22, 6, rx="2", fill=palette.STEEL_DARK, stroke=palette.INK, stroke_width=0.8)
    wheels = "".join(
        svg.circle(
            x + side * dx, ground - 6, 6, fill=palette.RUBBER, stroke=palette.STEEL_WHITE, stroke_width=0.8
        )
        for dx in (-18, 52)
    )
    bar = svg.line(
        x + side * 58,
        ground - 20,
        x + side * 112,
        ground - 62,
        stroke=palette.STEEL_EDGE,
        stroke_width=4.0,
        stroke_linecap="round",
    )
    return svg.group(bar + body + arm + pad + wheels, data_part="jack")


def chocks(x: float, radius: float, ground: float) -> str:
    """Draw a wedge before and one behind a wheel."""
    drawn = ""
    for side in (-1, 1):
        near, far = x + side * 0.62 * radius, x + side * 1.45 * radius
        drawn += svg.polygon(
            [
                (near, ground),
                (far, ground),
                (far, ground - 0.5 * radius),
                (x + side * 1.06 * radius, ground - 0.45 * radius),
            ],
            fill=palette.ORANGE,
            stroke=palette.INK,
            stroke_width=1.0,
            stroke_linejoin="round",
        )
    return svg.group(drawn, data_part="chock")


def arrow(x: float, begin: float, end: float, colour: str) -> str:
    """Draw an upright arrow from one height to another."""
    point = 9 if end > begin else -9
    shaft = svg.line(x, begin, x, end - point, stroke=colour, stroke_width=3.0)
    return shaft + svg.polygon([(x, end), (x - 6, end - point), (x + 6, end - point)], fill=colour)


def disc(x: float, y: float, number: int) -> str:
    """Draw the number of a place, in a disc."""
    ring = svg.circle(x, y, 13, fill=palette.CHALK, stroke=palette.INK, stroke_width=2.0)
    return ring + svg.text(x, y + 5.5, number, size=16, anchor="middle", font_weight="700", data_part="place")


def _steps(begin: float, end: float, step: float) -> list[float]:
    return [begin + step * n for n in range(max(0, int((end - begin) / step) + 1))]
