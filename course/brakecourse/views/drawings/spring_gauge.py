"""A pull gauge with a spring: newtons on one side of its slot, pounds-force on the other."""

from __future__ import annotations

import math
from functools import cache

from brakecourse.published import convert
from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._line_words import stands
from brakecourse.views.drawings._round import nice_step

SMALLEST_N, LARGEST_N = 5.0, 2500.0
MOST_LINES = 100
LINES_PER_NUMBER = 10
WIDTH, HEIGHT = 400, 510
MIDDLE, ZERO_Y, WAY_PX = 200.0, 106.0, 260.0
CASE_TOP, CASE_BOTTOM, HALF = 60.0, 386.0, 98.0
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}


def spring_gauge_svg(
    force_n: float, *, full_n: float = 50, line_n: float | None = None, uid: str, title: str = "Spring gauge"
) -> str:
    """Draw a spring gauge that is pulled with a force.

    Args:
        force_n: what the gauge indicates, in N, 0 to the scale's end.
        full_n: end of the scale, in N, 5 to 2500.
        line_n: from line to line, in N; at most a hundred lines. Without it there are at most fifty.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells where the pointer stands, never the force.

    Raises:
        ValueError: a force is no number or out of range.

    Source:
        Conversion by :func:`brakecourse.published.convert`; the rest is common practice, no source.

    Example:
        >>> spring_gauge_svg(23, uid="n1").startswith("<svg")
        True
    """
    full = within(full_n, "end of the force scale in N", SMALLEST_N, LARGEST_N)
    force = within(force_n, "pull in N", 0, full)
    svg.check_uid(uid)
    y = ZERO_Y + WAY_PX * force / full
    line = nice_step(full, 50) if line_n is None else within(line_n, "line in N", full / MOST_LINES, full)
    body = _eye(uid) + _hook(y, uid) + _case(uid) + _scales(full, line) + _pointer(y, uid)
    desc = (
        "A spring gauge that hangs from its eye, with a slot down its front. The scale on the left is in "
        f"newtons, zero at the top, with a line for each {line:g} and a number at each "
        f"{LINES_PER_NUMBER * line:g}; the one on the right is in pounds-force. On the newton scale the "
        f"pointer stands {stands(force, line, LINES_PER_NUMBER)}."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


@cache
def _scales(full: float, line: float) -> str:
    full_lbf = convert(full, "N", "lbf")
    newtons = _scale(full, line, -1, palette.INK, "newton", 18 if full < 1000 else 15)
    return newtons + _scale(full_lbf, nice_step(full_lbf, 30), 1, palette.BLUE_TEXT, "lbf", 16)


def _scale(full: float, line: float, side: int, fill: str, name: str, size: float) -> str:
    """Draw one scale beside the slot: ``side`` -1 on its left, 1 on its right."""
    fine: list[svg.Segment] = []
    coarse: list[svg.Segment] = []
    numerals = ""
    x = MIDDLE + side * 17
    for place in range(math.floor(full / line + 1e-9) + 1):
        y = ZERO_Y + WAY_PX * place * line / full
        numbered, middle = place % LINES_PER_NUMBER == 0, place % 5 == 0
        mark = (x, y, x + side * (24 if numbered else 18 if middle else 12), y)
        (coarse if middle else fine).append(mark)
        if numbered:
            numerals += svg.text(
                x + side * 29,
                y + size * 0.345,
                f"{place * line:g}",
                size=size,
                anchor="end" if side < 0 else "start",
                fill=fill,
                data_part=f"{name}-number",
            )
    head = svg.text(
        MIDDLE + side * 54,
        ZERO_Y - 20,
        "N" if side < 0 else "lbf",
        size=17,
        anchor="middle",
        fill=fill,
        font_weight="bold",
    )
    return (
        svg.strokes(fine, stroke=fill, stroke_width="1", data_part=f"{name}-fine")
        + svg.strokes(coarse, stroke=fill, stroke_width="1.8", data_part=f"{name}-coarse")
        + numerals
        + head
    )


def _case(uid: str) -> str:
    tall = CASE_BOTTOM - CASE_TOP
    return (
        svg.rect(MIDDLE - HALF, CASE_TOP, 2 * HALF, tall, rx="14", fill=f"url(#{uid}-case)", **EDGE)
        + svg.rect(
            MIDDLE - HALF + 9, CASE_TOP + 8, 2 * HALF - 18, tall - 16, rx="9", fill=palette.DIAL_FACE, **EDGE
        )
        + svg.rect(MIDDLE - 8, ZERO_Y - 12, 16, WAY_PX + 24, rx="8", fill=palette.STEEL_EDGE)
    )


def _pointer(y: float, uid: str) -> str:
    """Draw the spring in the slot, stretched down to the pointer, and the pointer across both scales."""
    turns = 26
    top = ZERO_Y - 10
    coils = [
        (MIDDLE + (5 if place % 2 else -5), top + (y - top) * place / turns) for place in range(turns + 1)
    ]
    blade = [(MIDDLE - 30, y), (MIDDLE - 9, y - 6), (MIDDLE + 9, y - 6), (MIDDLE + 30, y)]
    blade += [(MIDDLE + 9, y + 6), (MIDDLE - 9, y + 6)]
    return (
        svg.polyline(coils, stroke=palette.STEEL_LIGHT, stroke_width="1.6")
        + svg.polygon(
            blade, fill=palette.VERMILLION, stroke=palette.INK, stroke_width="0.8", data_part="pointer"
        )
        + svg.line(MIDDLE - 30, y, MIDDLE + 30, y, stroke=palette.INK, stroke_width="1")
    )


def _eye(uid: str) -> str:
    return (
        svg.circle(MIDDLE, 34, 20, fill="none", stroke=palette.STEEL_EDGE, stroke_width="9")
        + svg.circle(MIDDLE, 34, 20, fill="none", stroke=palette.STEEL, stroke_width="6.5")
        + svg.rect(MIDDLE - 14, 50, 28, 16, fill=f"url(#{uid}-case)", **EDGE)
    )


def _hook(y: float, uid: str) -> str:
    """Draw the rod and its hook: they have come out as far as the pointer has moved."""
    end = CASE_BOTTOM + 8 + (y - ZERO_Y) * 0.18
    hook = ("M", MIDDLE, end, "v", 20, "c", 26, 6, 24, 42, -2, 42, "c", -18, 0, -20, -16, -18, -24)
    return (
        svg.rect(MIDDLE - 5, CASE_BOTTOM - 6, 10, end - CASE_BOTTOM + 8, fill=f"url(#{uid}-case)", **EDGE)
        + svg.path(*hook, fill="none", stroke=palette.STEEL_EDGE, stroke_width="9", stroke_linecap="round")
        + svg.path(*hook, fill="none", stroke=palette.STEEL, stroke_width="6", stroke_linecap="round")
    )


def _defs(uid: str) -> str:
    bright = [(0, palette.STEEL_DARK), (0.3, palette.STEEL), (0.5, palette.STEEL_WHITE), (0.7, palette.STEEL)]
    return svg.gradient(f"{uid}-case", [*bright, (1, palette.STEEL_DARK)], across=True)
