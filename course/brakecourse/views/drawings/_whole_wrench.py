"""The whole torque wrench seen from above, to scale, with its extension and both lengths."""

from __future__ import annotations

import math
from typing import NamedTuple

from brakecourse.views import palette, svg, words

LONGEST_EXTENSION_MM = 400.0
AREA_LEFT, AREA_TOP, AREA_RIGHT = 14.0, 244.0, 466.0
LARGEST_PX = 0.8  # one millimetre
BUTT_MM, HEAD_MM, RING_MM = 72.0, 26.0, 21.0
NECK_MM = 16.0  # half of the wrench's thickest part beside its head
ARC_PX = 30.0  # radius of an angle's arc, round the head
LETTER_PX = 8.2  # about one letter of a length's words
LINE = {"stroke": palette.INK_SOFT, "stroke_width": "1"}
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.1", "stroke_linejoin": "round"}
ROOM_ACROSS, ROOM_DOWN = 34.0, 44.0  # for a length and its words, beside the steel
STEEP_DEG, ROOM_STEEP = 75.0, 50.0  # from here on, an angle's words stand right of everything else


class _Room(NamedTuple):
    """Where words may stand, seen from the square drive: left of one line, and this far from the wrench."""

    right: float
    beside: float


def whole_wrench(length_mm: float, extension_mm: float, angle_deg: float, uid: str, bottom: float) -> str:
    """Draw the wrench with its grip on the left, its head and the extension on the right.

    Args:
        length_mm: from the middle of the grip to the square drive.
        extension_mm: from the square drive to the nut, 0 for none.
        angle_deg: of the extension, away from the wrench's own line; above zero turns it up.
        uid: ids of the gradients begin with it.
        bottom: lower edge of the room for it.
    """
    turn = math.radians(angle_deg)
    nut = (extension_mm * math.cos(turn), -extension_mm * math.sin(turn))
    below = bool(extension_mm) and angle_deg < 0
    steep = bool(extension_mm) and abs(angle_deg) >= STEEP_DEG
    head, px = _fit(length_mm, nut, bottom, ROOM_ACROSS + (ROOM_STEEP if steep else 0.0))
    away = 40 * px + 8
    shown = _wrench(length_mm * px, px, uid) + _pull(length_mm * px, px, below=below)
    side = -away if below else away
    room = _Room(AREA_RIGHT - head[0], NECK_MM * px + 8)
    lengths = _length((-length_mm * px, 0.0), (0.0, 0.0), side, length_mm, "wrench", room)
    if extension_mm:
        shown = _extension(extension_mm * px, angle_deg, px, uid) + shown
        shown += _angle(angle_deg, (nut[0] + RING_MM) * px) if angle_deg else ""
        # Folded back over the wrench, the extension has its length on the side away from it.
        outer = side if abs(angle_deg) > 90 else -side
        lengths += _length((0.0, 0.0), (nut[0] * px, nut[1] * px), outer, extension_mm, "extension", room)
    else:
        shown += _nut(0, 0, px)
    return svg.group(shown + lengths, transform=f"translate({svg.num(head[0])} {svg.num(head[1])})")


def _fit(length: float, nut: svg.Point, bottom: float, across: float) -> tuple[svg.Point, float]:
    """Return where the square drive lies on the picture, and the scale, so that all has room."""
    left, right = min(-length - BUTT_MM, nut[0] - RING_MM), max(HEAD_MM, nut[0] + RING_MM)
    top, foot = min(-HEAD_MM, nut[1] - RING_MM), max(HEAD_MM, nut[1] + RING_MM)
    width, height = (
        AREA_RIGHT - AREA_LEFT - across,
        bottom - AREA_TOP - 2 * ROOM_DOWN,
    )
    px = min(LARGEST_PX, width / (right - left), height / (foot - top))
    return (AREA_LEFT - left * px, (AREA_TOP + bottom) / 2 - (top + foot) / 2 * px), px


def _wrench(length: float, px: float, uid: str) -> str:
    steel, dark = f"url(#{uid}-tube)", f"url(#{uid}-grip)"

    def bar(start_mm: float, end_mm: float, half_mm: float, fill: str, rx: float = 1) -> str:
        x, half = -length + start_mm * px, half_mm * px
        return svg.rect(x, -half, (end_mm - start_mm) * px, 2 * half, rx=svg.num(rx), fill=fill, **EDGE)

    grip = bar(-BUTT_MM, 70, 15, dark, 5)
    knurl = svg.rect(-length - 60 * px, -15 * px, 118 * px, 30 * px, fill=f"url(#{uid}-knurl)")
    tube = svg.rect(-length, -9 * px, length - 12 * px, 18 * px, fill=steel, **EDGE)
    neck = svg.polygon(
        [(-62 * px, -9 * px), (-20 * px, -NECK_MM * px), (-20 * px, NECK_MM * px), (-62 * px, 9 * px)],
        fill=steel,
        **EDGE,
    )
    head = svg.circle(0, 0, HEAD_MM * px, fill=f"url(#{uid}-bevel)", data_part="head", **EDGE) + svg.circle(
        0, 0, 15 * px, fill=palette.STEEL_LIGHT, **EDGE
    )
    square = svg.rect(-6.35 * px, -6.35 * px, 12.7 * px, 12.7 * px, fill=palette.STEEL_MID, **EDGE)
    mark = svg.circle(
        -length, 0, 3, fill=palette.CHALK, stroke=palette.INK, stroke_width="1", data_part="grip-middle"
    )
    collar = bar(70, 104, 12, f"url(#{uid}-collar)", 2)
    return tube + collar + grip + knurl + neck + head + square + mark


def _pull(length: float, px: float, *, below: bool) -> str:
    """Draw the hand's pull at the middle of the grip, on the side where no length is written."""
    x, half = -length, 15 * px
    tail, tip = (half + 38, half + 5) if below else (-half - 5, -half - 38)
    arrow = svg.line(x, tail, x, tip + 10, stroke=palette.INK, stroke_width="2.4")
    head = svg.polygon([(x - 6, tip + 12), (x + 6, tip + 12), (x, tip)], fill=palette.INK)
    return arrow + head + svg.text(x + 11, (tail + tip) / 2 + 5, "pull", size=15)


def _extension(length: float, angle: float, px: float, uid: str) -> str:
    """Draw a flat bar with a ring for the nut at its end, turned round the square drive."""
    half = 10 * px
    bar = svg.rect(0, -half, length, 2 * half, fill=f"url(#{uid}-tube)", **EDGE)
    boss = svg.circle(length, 0, RING_MM * px, fill=f"url(#{uid}-bevel)", **EDGE)
    return svg.group(
        bar + boss + _nut(length, 0, px),
        transform=f"rotate({svg.num(-angle)})",
        data_part="extension",
    )


def _nut(x: float, y: float, px: float) -> str:
    radius = 12 * px
    corners = [
        (x + radius * math.cos(math.radians(60 * k)), y + radius * math.sin(math.radians(60 * k)))
        for k in range(6)
    ]
    return svg.polygon(corners, fill=palette.STEEL_DARK, **EDGE) + svg.circle(
        x, y, 5.5 * px, fill=palette.STEEL_WHITE, data_part="nut", **EDGE
    )


def _angle(angle: float, ring_right: float) -> str:
    """Draw the wrench's own line on past head and ring, the angle from it to the extension, and its words."""
    turn, radius = math.radians(angle), ARC_PX
    x, y = radius * math.cos(turn), -radius * math.sin(turn)
    sweep = 0 if angle > 0 else 1
    arc = svg.tag(
        "path",
        d=f"M{svg.num(radius)} 0A{svg.num(radius)} {svg.num(radius)} 0 0 {sweep} {svg.num(x)} {svg.num(y)}",
        fill="none",
        stroke=palette.INK,
        stroke_width="1.3",
    )
    end = max(radius, ring_right) + 6  # the ring of a short extension reaches over the line: go on past it
    line = svg.line(0, 0, end, 0, stroke=palette.INK, stroke_width="1", stroke_dasharray="6 4")
    return line + arc + _halo(end + 4, 5, f"{abs(angle):g}°", "start")


def _length(start: svg.Point, end: svg.Point, offset: float, length_mm: float, what: str, room: _Room) -> str:
    """Draw a length beside the steel: two thin lines out from its ends, one with arrows between, words."""
    along = math.hypot(end[0] - start[0], end[1] - start[1])
    unit = ((end[0] - start[0]) / along, (end[1] - start[1]) / along)
    out = (-unit[1] * offset, unit[0] * offset)
    a, b = (start[0] + out[0], start[1] + out[1]), (end[0] + out[0], end[1] + out[1])
    lines = [(*start, *_past(start, a)), (*end, *_past(end, b)), (*a, *b)]
    heads = _arrow(a, unit) + _arrow(b, (-unit[0], -unit[1]))
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    told = words.mm(length_mm, 0)
    far = offset / abs(offset)
    x, y = middle[0] - unit[1] * far * 17, middle[1] + unit[0] * far * 17 + 5
    anchor = "middle" if abs(unit[1]) < 0.35 else "start" if -unit[1] * far > 0 else "end"
    if anchor == "middle":
        label = f"{what} {told}"
        x = min(x, room.right - LETTER_PX * len(label) / 2)
        drawn = _halo(x, y, label)
    else:
        millimetres, _, inch = told.partition(" (")
        x = middle[0] + (10 if anchor == "start" else -10)
        # Beside a short extension three lines of words would reach over the wrench: keep them off it.
        y = min(y, -room.beside - 17) if end[1] < 0 else max(y, room.beside + 28)
        rows = (what, millimetres, f"({inch}")
        drawn = "".join(_halo(x, y - 17 + 17 * row, line, anchor) for row, line in enumerate(rows))
    return svg.strokes(lines, data_part=f"length-{what}", **LINE) + heads + drawn


def _past(start: svg.Point, end: svg.Point) -> svg.Point:
    return end[0] + (end[0] - start[0]) * 0.15, end[1] + (end[1] - start[1]) * 0.15


def _arrow(tip: svg.Point, unit: svg.Point) -> str:
    x, y = tip
    back = (x + unit[0] * 9, y + unit[1] * 9)
    wing = (-unit[1] * 3.2, unit[0] * 3.2)
    corners = [tip, (back[0] + wing[0], back[1] + wing[1]), (back[0] - wing[0], back[1] - wing[1])]
    return svg.polygon(corners, fill=palette.INK_SOFT)


def _halo(x: float, y: float, label: str, anchor: str = "middle") -> str:
    rim = {"stroke": palette.PAPER, "stroke_width": "4", "stroke_linejoin": "round", "paint_order": "stroke"}
    return svg.text(x, y, label, size=15, anchor=anchor, **rim)
