"""A vehicle from above: tyres, body, glass. Its shape is the course's own."""

from __future__ import annotations

from brakecourse.views import palette, svg

MIDDLE, NOSE_Y = 240.0, 150.0
LONG_PX = 310.0  # the whole vehicle on the picture, whatever its length
TYRE_SHARE = 0.34  # width of a tyre over its diameter, about. Assumption, no source.
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.3", "stroke_linejoin": "round"}


def wheel(x: float, y: float, radius: float) -> str:
    """Draw a tyre from above, with the rotor's edge inside it."""
    wide = 2 * radius * TYRE_SHARE
    tyre = svg.rect(x - wide / 2, y - radius, wide, 2 * radius, rx="5", fill=palette.RUBBER, data_part="tyre")
    grooves = [(x + wide * off, y - radius + 3, x + wide * off, y + radius - 3) for off in (-0.22, 0.0, 0.22)]
    return tyre + svg.strokes(grooves, stroke=palette.STEEL_DARK, stroke_width="1")


def hull(wide: float, uid: str) -> str:
    left, right, top, foot = MIDDLE - wide / 2, MIDDLE + wide / 2, NOSE_Y, NOSE_Y + LONG_PX
    shape = svg.path(
        *(
            "M",
            left + 10,
            top + 26,
            "Q",
            left + 14,
            top,
            MIDDLE,
            top,
            "Q",
            right - 14,
            top,
            right - 10,
            top + 26,
        ),
        *("L", right, top + 96, "V", foot - 40, "Q", right - 2, foot, right - 22, foot, "H", left + 22),
        *("Q", left + 2, foot, left, foot - 40, "V", top + 96, "Z"),
        fill=f"url(#{uid}-body)",
        fill_opacity="0.93",
        data_part="body",
        **EDGE,
    )
    glass = {"fill": palette.STEEL_EDGE, "fill_opacity": "0.55", "stroke": palette.STEEL_EDGE}
    screen = svg.path(
        *("M", left + 13, top + 92, "Q", MIDDLE, top + 68, right - 13, top + 92, "L", right - 22, top + 126),
        *("Q", MIDDLE, top + 112, left + 22, top + 126, "Z"),
        **glass,
    )
    rear = svg.path(
        *(
            "M",
            left + 22,
            foot - 38,
            "Q",
            MIDDLE,
            foot - 46,
            right - 22,
            foot - 38,
            "L",
            right - 16,
            foot - 18,
        ),
        *("Q", MIDDLE, foot - 12, left + 16, foot - 18, "Z"),
        **glass,
    )
    roof = svg.rect(
        left + 18, top + 132, wide - 36, LONG_PX - 184, rx="12", fill=palette.STEEL_WHITE, fill_opacity="0.55"
    )
    seams = [(left + 22, top + 78, MIDDLE - 14, top + 58), (right - 22, top + 78, MIDDLE + 14, top + 58)]
    mirrors = "".join(
        svg.rect(x, top + 96, 14, 9, rx="3", fill=palette.STEEL_DARK, **EDGE) for x in (left - 13, right - 1)
    )
    lamps = "".join(
        svg.rect(x, top + 10, 18, 7, rx="3", fill=palette.CHALK, **EDGE) for x in (left + 20, right - 38)
    )
    return (
        mirrors
        + shape
        + roof
        + screen
        + rear
        + lamps
        + svg.strokes(seams, stroke=palette.STEEL_MID, stroke_width="1.2")
    )


def defs(uid: str) -> str:
    paint = [
        (0, palette.STEEL_MID),
        (0.14, palette.STEEL_LIGHT),
        (0.5, palette.STEEL_WHITE),
        (0.86, palette.STEEL_LIGHT),
        (1, palette.STEEL_MID),
    ]
    return svg.gradient(f"{uid}-body", paint, across=True)
