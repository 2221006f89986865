"""A metric micrometer to read: its scale drawn large, and the whole gauge on a rotor below it.

The scale is drawn as a true cylinder seen from the side: one scale in both directions, a screw of 0.5 mm,
and thimble lines that bunch towards the upper and lower edge. So the eye learns what it will see on steel.
"""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import finite, within
from brakecourse.views.drawings._micrometer_gauge import whole_gauge
from brakecourse.views.drawings._micrometer_words import describe, halves_shown

RANGE_MM = 25.0
PITCH_MM = 0.5
DIVISIONS = 50
STARTS_MM = (0.0, 25.0)

WIDTH = 640
HEIGHT = 424
LEFT, RIGHT, TOP, BOTTOM = 10.0, 630.0, 10.0, 272.0
DATUM_Y = 141.0
PX_PER_MM = 17.0
ZERO_X = 64.0
SLEEVE_RADIUS = 94.0
EDGE_RADIUS = 100.0
THIMBLE_RADIUS = 125.0
BEVEL_LENGTH = 76.0
LINE_WIDTH = 1.5


def micrometer_svg(
    reading_mm: float, *, uid: str, start_mm: float = 0.0, title: str = "Micrometer", whole: bool = True
) -> str:
    """Draw a micrometer that shows a reading.

    Args:
        reading_mm: what the gauge indicates, in mm. It may lie between two lines.
        uid: a word that no other drawing on the page has.
        start_mm: where the gauge's range starts, in mm: 0 or 25. The range is 25 mm.
        title: the name that a screen reader says.
        whole: draw the whole gauge below the scale, too.

    Returns:
        SVG text. Its description tells which lines show, never the reading.

    Raises:
        ValueError: the reading is no number or out of the gauge's range, or the start is not 0 or 25.

    Source:
        Lines, numerals and directions: common practice for metric gauges, no source.

    Example:
        >>> micrometer_svg(21.87, uid="m1").startswith("<svg")
        True
    """
    start = _start(start_mm)
    reading = within(reading_mm, "micrometer reading in mm", start, start + RANGE_MM)
    svg.check_uid(uid)
    body = _scale(reading, start, uid)
    if whole:
        body += whole_gauge(reading, start, uid, (LEFT, RIGHT, BOTTOM))
    return svg.frame(
        WIDTH,
        HEIGHT if whole else int(BOTTOM + TOP),
        body,
        uid=uid,
        title=title,
        desc=describe(reading, start),
        defs=_defs(uid),
    )


def _start(start_mm: float) -> float:
    start = finite(start_mm, "start of the micrometer's range in mm")
    if start not in STARTS_MM:
        raise ValueError(f"A micrometer's range must start at 0 or 25 mm, but it was {start:g} mm.")
    return start


def _scale(reading: float, start: float, uid: str) -> str:
    edge_x = ZERO_X + (reading - start) * PX_PER_MM
    panel = svg.rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, fill=palette.PANEL)
    border = svg.rect(
        LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, fill="none", stroke=palette.STEEL_MID, stroke_width="1.5"
    )
    return panel + _sleeve(reading, start, edge_x, uid) + _thimble(reading, edge_x, uid) + border


def _sleeve(reading: float, start: float, edge_x: float, uid: str) -> str:
    """Draw the fixed sleeve up to the thimble's edge, with the lines that have come out from under it."""
    above, below, numerals = [], [], ""
    for half in range(halves_shown(reading, start) + 1):
        # The line's right-hand side is its place: it is just whole when the thimble leaves it.
        x = ZERO_X + half * PITCH_MM * PX_PER_MM - LINE_WIDTH / 2
        if half % 2:
            below.append((x, DATUM_Y, x, DATUM_Y + 26))
        else:
            above.append((x, DATUM_Y, x, DATUM_Y - (38 if half % 10 == 0 else 26)))
        if half % 10 == 0:
            numerals += svg.text(x, DATUM_Y - 45, f"{start + half / 2:g}", size=18, anchor="middle")
    boss = svg.rect(
        LEFT,
        DATUM_Y - 112,
        26,
        224,
        fill=f"url(#{uid}-cylinder-dark)",
        stroke=palette.STEEL_EDGE,
        stroke_width="1",
    )
    barrel = svg.rect(
        LEFT + 26,
        DATUM_Y - SLEEVE_RADIUS,
        max(0.0, edge_x - LEFT - 26),
        2 * SLEEVE_RADIUS,
        fill=f"url(#{uid}-cylinder)",
    )
    ink = {"stroke": palette.INK, "stroke_width": LINE_WIDTH}
    return (
        boss
        + barrel
        + svg.line(ZERO_X - 16, DATUM_Y, edge_x, DATUM_Y, data_part="datum", **ink)
        + svg.strokes(above, data_part="sleeve-above", **ink)
        + svg.strokes(below, data_part="sleeve-below", **ink)
        + numerals
    )


def _thimble(reading: float, edge_x: float, uid: str) -> str:
    """Draw the thimble: a bevelled edge with its lines and numerals, then the knurled grip."""
    bevel_x = edge_x + BEVEL_LENGTH
    bevel = svg.polygon(
        [
            (edge_x, DATUM_Y - EDGE_RADIUS),
            (bevel_x, DATUM_Y - THIMBLE_RADIUS),
            (bevel_x, DATUM_Y + THIMBLE_RADIUS),
            (edge_x, DATUM_Y + EDGE_RADIUS),
        ],
        fill=f"url(#{uid}-bevel)",
        data_part="thimble",
    )
    rim = svg.line(
        edge_x + 1,
        DATUM_Y - EDGE_RADIUS,
        edge_x + 1,
        DATUM_Y + EDGE_RADIUS,
        stroke=palette.CHALK,
        stroke_width="2",
        data_part="thimble-edge",
    )
    return bevel + _grip(bevel_x, uid) + rim + _thimble_lines(reading, edge_x)


def _thimble_lines(reading: float, edge_x: float) -> str:
    lines, numerals = [], ""
    at_datum = reading % PITCH_MM / PITCH_MM * DIVISIONS
    for division in range(DIVISIONS):
        # Larger numbers stand above: they come down to the datum as the gauge opens.
        turn = math.tau * (division - at_datum) / DIVISIONS
        if math.cos(turn) < 0.08:
            continue
        length = 36.0 if division % 5 == 0 else 24.0
        lines.append((edge_x, _on_cone(0, turn), edge_x + length, _on_cone(length, turn)))
        if division % 5 == 0 and math.cos(turn) > 0.3:
            spot = f"translate({svg.num(edge_x + 42)} {svg.num(_on_cone(54, turn))})"
            squeeze = f"scale(1 {svg.num(math.cos(turn))})"
            numerals += svg.text(0, 6.5, division, size=18, transform=f"{spot} {squeeze}")
    return (
        svg.strokes(lines, stroke=palette.INK, stroke_width=LINE_WIDTH, data_part="thimble-lines") + numerals
    )


def _on_cone(along: float, turn: float) -> float:
    """Return how high a place on the bevel lies: ``along`` from its edge, ``turn`` from the front."""
    radius = EDGE_RADIUS + (THIMBLE_RADIUS - EDGE_RADIUS) * along / BEVEL_LENGTH
    return DATUM_Y - radius * math.sin(turn)


def _grip(bevel_x: float, uid: str) -> str:
    top, height, knurl_x = DATUM_Y - THIMBLE_RADIUS, 2 * THIMBLE_RADIUS, bevel_x + 20
    plain = svg.rect(bevel_x, top, RIGHT - bevel_x, height, fill=f"url(#{uid}-cylinder-dark)")
    knurl = svg.rect(knurl_x, top, RIGHT - knurl_x, height, fill=f"url(#{uid}-knurl)")
    groove = svg.line(bevel_x, top, bevel_x, top + height, stroke=palette.STEEL_MID, stroke_width="1")
    return plain + knurl + groove


def _defs(uid: str) -> str:
    def round_bar(name: str, edge: str, side: str, front: str) -> str:
        stops = [(0, edge), (0.18, side), (0.42, front), (0.58, front), (0.82, side), (1, edge)]
        return svg.gradient(f"{uid}-{name}", stops)

    cross = svg.tag(
        "path", d="M0 0L9 9M9 0L0 9", stroke=palette.STEEL_EDGE, stroke_width="1", stroke_opacity="0.45"
    )
    return (
        round_bar("cylinder", palette.STEEL_MID, palette.STEEL, palette.STEEL_LIGHT)
        + round_bar("bevel", palette.STEEL_MID, palette.STEEL_LIGHT, palette.STEEL_WHITE)
        + round_bar("cylinder-dark", palette.STEEL_DARK, palette.STEEL_MID, palette.STEEL)
        + svg.pattern(f"{uid}-knurl", 9, cross)
    )
