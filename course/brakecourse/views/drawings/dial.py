"""A dial indicator to read: one turn of the needle is 1 mm, one line 0.01 mm, pushed in is clockwise.

The body is drawn round the origin, so that other drawings can set it beside a rotor.
"""

from __future__ import annotations

import math
from functools import cache

from brakecourse.views import palette, svg
from brakecourse.views.drawings._dial_words import describe
from brakecourse.views.drawings._inputs import within

LARGEST_MM = 5.0  # half of the small counter's ten turns: beyond it, in and out look the same
DIVISIONS = 100
TURN_MM = 1.0
COUNTER_MM = 10.0

WIDTH, HEIGHT = 400, 512
CENTRE = (200.0, 204.0)
PX_PER_MM = 6.5  # the plunger's travel, to the same scale as a dial about 58 mm across
BEZEL_RADIUS = 190.0
SCALE_RADIUS = 167.0
NEEDLE_LENGTH = 160.0
TIP_Y = 262.0
COUNTER_AT = (55.0, 36.0)
COUNTER_RADIUS = 38.0


def dial_svg(reading_mm: float, *, uid: str, title: str = "Dial indicator") -> str:
    """Draw a dial indicator that shows a reading.

    Args:
        reading_mm: what the gauge indicates, in mm, from -5 to 5. Positive: the plunger is pushed in, the
            needle has gone clockwise from 0.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells where the needle stands, never the reading.

    Raises:
        ValueError: the reading is no number or out of range.

    Source:
        Scale and directions: common practice, no source.

    Example:
        >>> dial_svg(-0.03, uid="d1").startswith("<svg")
        True
    """
    reading = dial_reading(reading_mm)
    svg.check_uid(uid)
    tip = TIP_Y - reading * PX_PER_MM
    part = svg.rect(-76, tip, 152, 18, rx="2", fill=palette.IRON, stroke=palette.STEEL_EDGE, stroke_width="1")
    name = svg.text(0, tip + 14, "rotor face", size=13, anchor="middle")
    body = svg.group(
        part + name + stem(reading, uid) + face(reading, uid),
        transform=f"translate({svg.num(CENTRE[0])} {svg.num(CENTRE[1])})",
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=describe(reading), defs=defs(uid))


def dial_reading(value: object) -> float:
    """Return the reading as a float, or refuse what the dial cannot show."""
    return within(value, "dial reading in mm", -LARGEST_MM, LARGEST_MM)


def defs(uid: str) -> str:
    """Return the gradients that the body needs."""
    bright = [(0, palette.STEEL_DARK), (0.3, palette.STEEL), (0.5, palette.STEEL_WHITE), (0.7, palette.STEEL)]
    return svg.gradient(f"{uid}-stem", [*bright, (1, palette.STEEL_DARK)], across=True) + svg.gradient(
        f"{uid}-bezel", [(0, palette.STEEL_WHITE), (0.5, palette.STEEL_MID), (1, palette.STEEL_DARK)]
    )


def stem(reading: float, uid: str) -> str:
    """Draw the stem below the body, the plunger in it, and the ball that touches the part."""
    tip = TIP_Y - reading * PX_PER_MM
    look = {"fill": f"url(#{uid}-stem)", "stroke": palette.STEEL_EDGE, "stroke_width": "1"}
    return (
        svg.rect(-5, 200, 10, tip - 208, **look)
        + svg.circle(0, tip - 6, 6, fill=palette.STEEL_EDGE, data_part="tip")
        + svg.rect(-11, 184, 22, 36, **look)
    )


def face(reading: float, uid: str) -> str:
    """Draw the body seen from the front: bezel, scale, counter and needle."""
    rim = svg.circle(0, 0, BEZEL_RADIUS - 7, fill="none", stroke=palette.STEEL_LIGHT, stroke_width="2")
    return (
        svg.circle(
            0, 0, BEZEL_RADIUS, fill=f"url(#{uid}-bezel)", stroke=palette.STEEL_EDGE, stroke_width="1.5"
        )
        + rim
        + svg.circle(
            0, 0, BEZEL_RADIUS - 13, fill=palette.DIAL_FACE, stroke=palette.STEEL_EDGE, stroke_width="1.2"
        )
        + _scale()
        + _counter(reading)
        + _needle(reading)
    )


def _around(turns: float, radius: float) -> svg.Point:
    """Return the place at a radius, so many turns clockwise from the top."""
    return radius * math.sin(math.tau * turns), -radius * math.cos(math.tau * turns)


@cache
def _scale() -> str:
    fine: list[svg.Segment] = []
    coarse: list[svg.Segment] = []
    numerals = ""
    for division in range(DIVISIONS):
        turns = division / DIVISIONS
        length = 22.0 if division % 10 == 0 else 16.0 if division % 5 == 0 else 11.0
        mark = (*_around(turns, SCALE_RADIUS), *_around(turns, SCALE_RADIUS - length))
        (fine if division % 5 else coarse).append(mark)
        if division % 10 == 0:
            x, y = _around(turns, 127)
            numerals += svg.text(x, y + 7.5, division, size=22, anchor="middle")
        if division % 10 == 0 and division >= 50:
            x, y = _around(turns, 96)
            words = f"\N{MINUS SIGN}{DIVISIONS - division}"
            numerals += svg.text(x, y + 5.5, words, size=16, anchor="middle", fill=palette.BLUE_TEXT)
    ink = {"stroke": palette.INK}
    return (
        svg.strokes(fine, stroke_width="1.2", data_part="fine-lines", **ink)
        + svg.strokes(coarse, stroke_width="1.8", data_part="coarse-lines", **ink)
        + numerals
        + svg.text(-6, 72, "0.01 mm", size=15, anchor="middle", fill=palette.INK_SOFT)
    )


def _counter(reading: float) -> str:
    marks, numerals = [], ""
    for turn in range(10):
        x1, y1 = _around(turn / 10, COUNTER_RADIUS - 2)
        x2, y2 = _around(turn / 10, COUNTER_RADIUS - 8)
        marks.append((x1, y1, x2, y2))
        if turn % 2 == 0:
            x, y = _around(turn / 10, COUNTER_RADIUS - 16)
            numerals += svg.text(x, y + 4.5, turn, size=13, anchor="middle")
    x, y = _around(reading / COUNTER_MM, COUNTER_RADIUS - 5)
    tail_x, tail_y = _around(reading / COUNTER_MM, -9)
    hand = svg.line(
        tail_x, tail_y, x, y, stroke=palette.VERMILLION, stroke_width="2", data_part="counter-hand"
    )
    return svg.group(
        svg.circle(0, 0, COUNTER_RADIUS, fill=palette.PANEL, stroke=palette.STEEL_MID, stroke_width="1")
        + svg.strokes(marks, stroke=palette.INK, stroke_width="1.1")
        + numerals
        + hand
        + svg.circle(0, 0, 3, fill=palette.INK),
        transform=f"translate({svg.num(COUNTER_AT[0])} {svg.num(COUNTER_AT[1])})",
    )


def _needle(reading: float) -> str:
    turns = reading / TURN_MM
    tip_x, tip_y = _around(turns, NEEDLE_LENGTH)
    across_x, across_y = _around(turns + 0.25, 3.5)
    tail_x, tail_y = _around(turns, -42)
    blade = [(tip_x, tip_y), (across_x, across_y), (tail_x, tail_y), (-across_x, -across_y)]
    return svg.polygon(
        blade,
        fill=palette.INK,
        stroke=palette.INK,
        stroke_width="1",
        stroke_linejoin="round",
        data_part="needle",
    ) + svg.circle(0, 0, 9, fill=palette.STEEL_EDGE, stroke=palette.INK, stroke_width="1")
