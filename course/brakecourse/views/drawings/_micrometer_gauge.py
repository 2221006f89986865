"""The whole micrometer, small and to scale, closed on the rotor's outer edge."""

from __future__ import annotations

from brakecourse.views import palette, svg

PX_PER_MM = 2.2
AXIS_Y = 326.0
ANVIL_FACE_X = 92.0
LEAD_PX = 40.0  # spindle that still shows between its face and the frame when the gauge is wide open
SHANK_PX = 36.0  # the part of the frame that holds the sleeve
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1"}


def whole_gauge(reading: float, start: float, uid: str, panel: tuple[float, float, float]) -> str:
    """Draw the gauge closed on a rotor as thick as the reading.

    Args:
        reading: in mm.
        start: where the gauge's range starts, in mm.
        uid: ids of the gradients begin with it.
        panel: left, right and lower edge of the panel that shows the scale magnified.
    """
    face_x = ANVIL_FACE_X + reading * PX_PER_MM
    shank_x = ANVIL_FACE_X + (start + 25) * PX_PER_MM + LEAD_PX
    sleeve_x = shank_x + SHANK_PX
    thimble_x = sleeve_x + 8 + (reading - start) * PX_PER_MM
    return (
        _lens(sleeve_x, thimble_x, panel)
        + _rotor(reading, face_x)
        + _bar(ANVIL_FACE_X - 18, 18, 8, uid)
        + _bar(face_x, shank_x - face_x + 2, 8, uid)
        + _frame(shank_x)
        + _bar(sleeve_x - 1, thimble_x - sleeve_x + 4, 12, uid)
        + svg.line(sleeve_x, AXIS_Y, thimble_x, AXIS_Y, stroke=palette.INK, stroke_width="0.7")
        + _thimble(thimble_x, uid)
        + _notes(start)
    )


def _lens(sleeve_x: float, thimble_x: float, panel: tuple[float, float, float]) -> str:
    """Frame the scale on the small gauge and lead its corners to the magnified panel."""
    left, right, bottom = panel
    x1, x2, top = sleeve_x - 4, thimble_x + 30, AXIS_Y - 25
    rays = [(x1, top, left, bottom), (x2, top, right, bottom)]
    return svg.strokes(rays, stroke=palette.RULE, stroke_width="1.2") + svg.rect(
        x1, top, x2 - x1, 50, rx="5", fill=palette.PANEL, stroke=palette.STEEL_MID, stroke_width="1.2"
    )


def _bar(x: float, length: float, half: float, uid: str) -> str:
    return svg.rect(x, AXIS_Y - half, length, 2 * half, fill=f"url(#{uid}-cylinder)", **EDGE)


def _rotor(reading: float, face_x: float) -> str:
    """Draw the rotor's outer edge between the anvils, seen edge on; a thick rotor shows its cooling slots."""
    gap, top, bottom = face_x - ANVIL_FACE_X, 288.0, AXIS_Y + 20
    if gap < 0.5:
        return ""
    plate = svg.path(
        *("M", ANVIL_FACE_X, top, "V", bottom, "H", face_x, "V", top),
        *("q", -gap / 4, 5, -gap / 2, 0, "T", ANVIL_FACE_X, top, "Z"),
        fill=palette.IRON,
        data_part="rotor",
        **EDGE,
    )
    if reading < 16:
        return plate
    slots = "".join(
        svg.rect(ANVIL_FACE_X + gap * 0.36, y, gap * 0.28, height, rx="1.5", fill=palette.STEEL_EDGE)
        for y, height in ((298.0, 12.0), (314.0, 10.0), (328.0, 7.0), (338.0, 4.0))
    )
    return plate + slots


def _frame(shank_x: float) -> str:
    """Draw the C-shaped frame with its grip plate."""
    left, inner, floor, deep = ANVIL_FACE_X - 48, ANVIL_FACE_X - 18, AXIS_Y + 50, AXIS_Y + 78
    end = shank_x + SHANK_PX
    up, down = AXIS_Y - 15, AXIS_Y + 15
    shape = svg.path(
        *("M", left, up + 6, "Q", left, up, left + 6, up, "H", inner, "V", down),
        *("C", inner, floor - 6, inner + 16, floor, inner + 46, floor, "H", shank_x - 46),
        *("C", shank_x - 16, floor, shank_x, floor - 6, shank_x, down, "V", up, "H", end, "V", down),
        *("H", shank_x + 28, "C", shank_x + 26, floor + 14, shank_x + 6, deep, shank_x - 44, deep),
        *("H", inner + 44, "C", left + 18, deep, left, floor + 10, left, down, "Z"),
        fill=palette.STEEL_MID,
        stroke_linejoin="round",
        **EDGE,
    )
    middle = (inner + shank_x) / 2
    half = (shank_x - inner) / 2 - 40
    plate = svg.rect(middle - half, floor + 6, 2 * half, 17, rx="8", fill=palette.STEEL, **EDGE)
    return shape + plate


def _thimble(x: float, uid: str) -> str:
    y, dark = AXIS_Y, f"url(#{uid}-cylinder-dark)"
    outline = [
        (x, y - 13),
        (x + 10, y - 17),
        (x + 82, y - 17),
        (x + 82, y + 17),
        (x + 10, y + 17),
        (x, y + 13),
    ]
    return (
        svg.polygon(outline, fill=f"url(#{uid}-cylinder)", **EDGE)
        + svg.rect(x + 22, y - 17, 60, 34, fill=dark, **EDGE)
        + svg.rect(x + 26, y - 17, 52, 34, fill=f"url(#{uid}-knurl)")
        + svg.rect(x + 82, y - 7, 5, 14, fill=dark, **EDGE)
        + svg.rect(x + 87, y - 10, 24, 20, rx="2", fill=dark, **EDGE)
        + svg.rect(x + 89, y - 10, 20, 20, fill=f"url(#{uid}-knurl)")
    )


def _notes(start: float) -> str:
    rows = (f"range {start:g} to {start + 25:g} mm", "one turn: 0.5 mm", "one thimble line: 0.01 mm")
    return "".join(
        svg.text(630, 362 + 20 * row, words, size=14, anchor="end", fill=palette.INK_SOFT)
        for row, words in enumerate(rows)
    )
