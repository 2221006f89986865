"""The open brake, enlarged in a ring: rotor, caliper on hook or hose, dust and what is there for it, heat."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings._dust_tools import dust

RADIUS = 112.0
_LINE = {"stroke": palette.INK, "stroke_width": 1.0}


def inset(
    x: float, y: float, origin: svg.Point, spots: dict[str, str], heat_c: float | None, uid: str
) -> str:
    """Draw the ring, the lines that lead to it, and the brake in it."""
    lines = svg.strokes(
        [(*origin, x - 60, y + 94), (*origin, x - 104, y + 40)],
        stroke=palette.INK_SOFT,
        stroke_width=1.0,
        stroke_dasharray="7 5",
    )
    ring = svg.circle(x, y, RADIUS, fill=palette.CHALK, stroke=palette.INK_SOFT, stroke_width=2.0)
    clip = svg.tag("clipPath", svg.circle(x, y, RADIUS - 1), id=f"{uid}-ring")
    body = _rotor(x - 24, y + 14) + _caliper(x, y, spots.get("caliper"))
    if "dust" in spots:
        body += dust(x, y, spots["dust"])
    if heat_c is not None:
        body += _thermometer(x, y, heat_c)
    return lines + ring + clip + svg.group(body, clip_path=f"url(#{uid}-ring)")


def _rotor(x: float, y: float) -> str:
    face = svg.circle(x, y, 60, fill=palette.IRON, stroke=palette.STEEL_EDGE, stroke_width=1.6)
    rings = "".join(
        svg.circle(x, y, r, fill="none", stroke=palette.STEEL_MID, stroke_width=0.8) for r in (54, 48, 42, 37)
    )
    hat = svg.circle(x, y, 32, fill=palette.STEEL_MID, stroke=palette.STEEL_EDGE, stroke_width=1.2)
    hub = svg.circle(x, y, 13, fill=palette.STEEL_LIGHT, stroke=palette.STEEL_EDGE, stroke_width=1.0)
    studs = "".join(
        svg.circle(
            x + 22 * math.cos(2 * math.pi * n / 5),
            y + 22 * math.sin(2 * math.pi * n / 5),
            3.2,
            fill=palette.STEEL_WHITE,
            **_LINE,
        )
        for n in range(5)
    )
    return svg.group(face + rings + hat + hub + studs, data_part="rotor")


def _caliper(x: float, y: float, state: str | None) -> str:
    shape = (
        "v",
        50,
        "q",
        0,
        8,
        -8,
        8,
        "h",
        -22,
        "q",
        -8,
        0,
        -8,
        -8,
        "v",
        -50,
        "q",
        0,
        -8,
        8,
        -8,
        "h",
        22,
        "q",
        8,
        0,
        8,
        8,
        "Z",
    )
    if state is None:  # still on its bracket
        body = svg.path("M", x + 44, y - 8, *shape, fill=palette.STEEL_DARK, **_LINE)
        return svg.group(body, data_part="caliper", data_state="on")
    hang = y + (4 if state == "hook" else 22)
    body = svg.path("M", x + 82, hang - 10, *shape, fill=palette.STEEL_DARK, **_LINE)
    top_x, top_y = x + 63, hang - 20
    if state == "hook":
        hose = svg.path(
            "M",
            x + 28,
            y - 92,
            "C",
            x + 20,
            y - 40,
            x + 44,
            y + 76,
            x + 62,
            hang + 40,
            fill="none",
            stroke=palette.RUBBER,
            stroke_width=5.0,
        )
        hook = svg.path(
            "M",
            top_x,
            top_y + 4,
            "V",
            y - 84,
            "q",
            0,
            -12,
            -12,
            -12,
            fill="none",
            stroke=palette.ORANGE,
            stroke_width=4.0,
        )
        return svg.group(hose + body + hook, data_part="caliper", data_state="hook")
    hose = svg.path(
        "M",
        x + 28,
        y - 92,
        "C",
        x + 30,
        y - 60,
        top_x - 2,
        y - 60,
        top_x,
        top_y + 4,
        fill="none",
        stroke=palette.RUBBER,
        stroke_width=5.0,
    )
    return svg.group(hose + body, data_part="caliper", data_state="hose")


def _thermometer(x: float, y: float, heat_c: float) -> str:
    body = svg.path(
        "M",
        x - 96,
        y - 62,
        "h",
        44,
        "v",
        24,
        "h",
        -26,
        "l",
        -6,
        30,
        "h",
        -16,
        "l",
        4,
        -30,
        "Z",
        fill=palette.YELLOW,
        **_LINE,
    )
    beam = svg.line(
        x - 50, y - 48, x - 22, y - 26, stroke=palette.VERMILLION, stroke_width=1.4, stroke_dasharray="4 3"
    )
    shown = svg.rect(x - 66, y - 92, 74, 24, rx="3", fill=palette.DISPLAY, **_LINE) + svg.text(
        x - 29, y - 75, f"{heat_c:.0f} °C", size=15, anchor="middle", font_weight="600", data_part="heat"
    )
    waves = ""
    if heat_c > 50:
        waves = "".join(
            svg.path(
                "M",
                x - 44 + 20 * n,
                y - 46,
                "q",
                -5,
                -5,
                0,
                -9,
                "q",
                5,
                -5,
                0,
                -9,
                fill="none",
                stroke=palette.VERMILLION,
                stroke_width=2.0,
            )
            for n in range(3)
        )
    return svg.group(body + beam + shown + waves, data_part="thermometer")
