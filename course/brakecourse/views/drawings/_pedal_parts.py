"""The parts of the pedal's picture: floor, arm with its pad, force gauge and stroke counter."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings._display import display

PIVOT_Y, ARM = 22.0, 228.0
PAD = 13.0
RULE_Y = 296.0
PIVOT_X = 236.0
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}


def _face_y(face_x: float) -> float:
    return PIVOT_Y + math.sqrt(ARM**2 - (face_x - PIVOT_X) ** 2)


def _hung(shapes: str, face_x: float) -> str:
    """Turn what is drawn hanging straight down, so that the middle of the pedal's face lies at ``face_x``."""
    turn = math.degrees(math.asin((face_x - PIVOT_X) / ARM))
    where = f"translate({svg.num(PIVOT_X)} {svg.num(PIVOT_Y)}) rotate({svg.num(-turn)})"
    return svg.group(shapes, transform=where)


def floor(floor_x: float, uid: str) -> str:
    """Draw the sloping floor that stops the pedal: sheet steel in section, with its carpet."""
    x, top, tall = PAD + 1, ARM - 50, 104.0
    sheet = {"x": x + 9, "y": top, "width": 12.0, "height": tall}
    steel = svg.tag("rect", fill=palette.STEEL_LIGHT, **EDGE, **sheet)
    carpet = svg.rect(x, top, 9, tall, rx="3", fill=palette.RUBBER, data_part="floor")
    return _hung(carpet + steel + svg.tag("rect", fill=f"url(#{uid}-cut)", **sheet), floor_x)


def arm(face_x: float, uid: str) -> str:
    """Draw the pedal hung from its pivot; the middle of its face lies at ``face_x``."""
    y = _face_y(face_x)
    lever = svg.path(
        *("M", -10, -8, "C", 16, 60, 30, 130, 9, ARM - 22, "L", 9, ARM + 4, "h", -5, "L", 1, ARM - 26),
        *("C", 14, 130, 2, 70, -14, 6, "Z"),
        fill=f"url(#{uid}-arm)",
        **EDGE,
    )
    pad = svg.rect(0, ARM - 34, PAD, 60, rx="3", fill=palette.RUBBER, data_part="pad", **EDGE)
    rows = [(0, ARM - 26 + 9 * k, 4, ARM - 26 + 9 * k) for k in range(6)]
    ribs = svg.strokes(rows, stroke=palette.STEEL_MID, stroke_width="2")
    bracket = svg.path(
        *("M", PIVOT_X - 38, 0, "h", 76, "l", -20, 34, "q", -18, 10, -36, 0, "Z"),
        fill=f"url(#{uid}-arm)",
        **EDGE,
    )
    sight = {"stroke": palette.VERMILLION, "stroke_width": "1.6", "data_part": "face-line"}
    return (
        bracket
        + _hung(lever + pad + ribs, face_x)
        + svg.circle(PIVOT_X, PIVOT_Y, 10, fill=palette.STEEL, **EDGE)
        + svg.circle(PIVOT_X, PIVOT_Y, 4, fill=palette.STEEL_EDGE)
        + svg.line(face_x, y, face_x, RULE_Y + 4, **sight)
        + svg.circle(face_x, y, 3, fill=palette.VERMILLION)
    )


def force(force_n: float, face_x: float, uid: str) -> str:
    """Draw the force gauge: a plate on the pedal's face, its lead, its display, and the push."""
    plate = svg.rect(-8, ARM - 22, 7, 44, rx="2", fill=f"url(#{uid}-arm)", **EDGE)
    push = svg.line(-44, ARM, -18, ARM, stroke=palette.INK, stroke_width="3") + svg.polygon(
        [(-20, ARM - 8), (-20, ARM + 8), (-9, ARM)], fill=palette.INK
    )
    x, y = face_x - 8, _face_y(face_x)
    lead = svg.path(
        *("M", x, y - 8, "C", x - 50, y - 40, 40, 240, 46, 70),
        fill="none",
        stroke=palette.RUBBER,
        stroke_width="2.5",
    )
    return (
        lead
        + _hung(plate + push, face_x)
        + display(14, 14, 140, 54, f"{force_n:.0f}", "N", places=4, digit=17)
    )


def counter(strokes: int) -> str:
    """Draw a stroke counter: two number wheels behind a window."""
    x, y = 384.0, 14.0
    wheels = "".join(
        svg.rect(x + 8 + 32 * place, y + 8, 28, 38, rx="3", fill=palette.CHALK, **EDGE)
        + svg.text(
            x + 22 + 32 * place,
            y + 37,
            digit,
            size=28,
            anchor="middle",
            font_weight="bold",
            data_part="wheel",
        )
        for place, digit in enumerate(f"{strokes:02d}")
    )
    case = svg.rect(x, y, 76, 54, rx="6", fill=palette.STEEL_DARK, **EDGE)
    return case + wheels + svg.text(x + 38, y + 72, "strokes", size=15, anchor="middle")


def stopwatch(time_s: float) -> str:
    """Draw a stopwatch: a round case with two buttons on top, and its display."""
    x, y = 430.0, 50.0
    dark = {"fill": palette.STEEL_DARK, **EDGE}
    knobs = "".join(
        svg.group(svg.rect(-8, -47, 16, 12, rx="3", **dark), transform=f"translate({x} {y}) rotate({turn})")
        for turn in (-32, 32)
    )
    case = svg.circle(x, y, 39, fill=palette.STEEL_DARK, data_part="stopwatch", **EDGE)
    ring = svg.circle(x, y, 35, fill=palette.STEEL_LIGHT, stroke=palette.STEEL_EDGE, stroke_width="1")
    shown = display(x - 33, y - 14, 66, 28, f"{time_s:.1f}", "s", places=3, digit=9)
    return knobs + case + ring + shown
