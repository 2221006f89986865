"""A click-type torque wrench: its scale drawn large, and the whole wrench with its extension below.

The collar with the window slides along the tube as the grip turns, but does not turn itself. Its hairline
stands on the tube's two scales; its index mark stands on the grip's lines.
"""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._line_words import stands
from brakecourse.views.drawings._torque_scales import (
    AXIS_Y,
    BOTTOM,
    LEFT,
    RIGHT,
    TOP,
    numbered_nm,
    tube_scales,
    x_of,
)
from brakecourse.views.drawings._whole_wrench import LONGEST_EXTENSION_MM, whole_wrench

GRIP_LINES = 10
LARGEST_NM = 1000.0

WIDTH, HEIGHT, FLAT_HEIGHT = 480, 500, 400
TUBE, COLLAR, GRIP = 62.0, 82.0, 96.0  # half heights
GRIP_RADIUS = 80.0  # where the grip's lines begin
WINDOW, COLLAR_LEFT = 40.0, 58.0  # the collar's ends, from its hairline
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}


def torque_wrench_svg(
    setting_nm: float,
    *,
    low_nm: float,
    high_nm: float,
    uid: str,
    title: str = "Torque wrench",
    extension_mm: float = 0,
    angle_deg: float = 0,
    wrench_mm: float = 450,
    turn_nm: float = 10,
) -> str:
    """Draw a torque wrench that is set to a torque.

    Args:
        setting_nm: what it is set to, in N·m, from the scale's low to its high end.
        low_nm: low end of the scale, in N·m: a whole number of the grip's turns.
        high_nm: high end of the scale, in N·m, up to 1000: a whole number of turns, four from low or more.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.
        extension_mm: from the square drive to the middle of the nut, in mm, 0 to 400. 0: no extension.
        angle_deg: of the extension, in degrees away from the wrench's own line, -135 to 135.
        wrench_mm: from the middle of the grip to the square drive, in mm, 200 to 900.
        turn_nm: torque of one turn of the grip, in N·m, 1 to 50: ten lines of the grip.

    Returns:
        SVG text. Its description tells the lines at the hairline and at the index mark, never the setting.

    Raises:
        ValueError: a number is no number or out of range, or an end of the scale is no whole number of turns.

    Source:
        Conversion by :func:`brakecourse.published.convert`; the rest is common practice, no source.

    Example:
        >>> torque_wrench_svg(86, low_nm=20, high_nm=200, uid="w1").startswith("<svg")
        True
    """
    turn = within(turn_nm, "turn of the grip in N·m", 1, 50)
    low, high = _scale_ends(low_nm, high_nm, turn)
    setting = within(setting_nm, "wrench setting in N·m", low, high)
    extension = within(extension_mm, "extension in mm", 0, LONGEST_EXTENSION_MM)
    angle = within(angle_deg, "angle of the extension in degrees", -135, 135)
    length = within(wrench_mm, "length of the wrench in mm", 200, 900)
    svg.check_uid(uid)
    sideways = extension * abs(math.sin(math.radians(angle))) > length / 20
    height = HEIGHT if sideways else FLAT_HEIGHT
    body = _panel(setting, low, high, turn, uid) + whole_wrench(length, extension, angle, uid, height - 6)
    return svg.frame(
        WIDTH,
        height,
        body,
        uid=uid,
        title=title,
        desc=_desc(setting, low, high, turn) + _told(length, extension, angle),
        defs=_defs(uid),
    )


def _scale_ends(low_nm: object, high_nm: object, turn: float) -> tuple[float, float]:
    high = within(high_nm, "high end of the scale in N·m", 4 * turn, LARGEST_NM)
    low = within(low_nm, "low end of the scale in N·m", 0, high - 4 * turn)
    for end in (low, high):
        if abs(end / turn - round(end / turn)) > 1e-9:
            raise ValueError(
                f"The scale must begin and end on a multiple of {turn:g} N·m, but one end was {end:g} N·m."
            )
    return low, high


def _panel(setting: float, low: float, high: float, turn: float, uid: str) -> str:
    clip = svg.tag("clipPath", svg.rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP), id=f"{uid}-panel")
    hair_x = x_of(setting, low, high)
    shown = (
        svg.rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, fill=palette.PANEL)
        + svg.rect(LEFT, AXIS_Y - TUBE, RIGHT - LEFT, 2 * TUBE, fill=f"url(#{uid}-tube)", **EDGE)
        + tube_scales(low, high, turn, hair_x - WINDOW)
        + _collar(hair_x, uid)
        + _grip(setting, turn, hair_x - COLLAR_LEFT, uid)
    )
    border = svg.rect(
        LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, fill="none", stroke=palette.STEEL_MID, stroke_width="1.5"
    )
    return clip + svg.group(shown, clip_path=f"url(#{uid}-panel)") + border


def _collar(hair_x: float, uid: str) -> str:
    """Draw the collar: a bridge round a glass window with the hairline, and the index mark on its left."""
    dark = {"fill": f"url(#{uid}-collar)", **EDGE}
    left, right, end = hair_x - WINDOW, hair_x + WINDOW, hair_x - COLLAR_LEFT
    glass = svg.rect(
        left, AXIS_Y - TUBE, 2 * WINDOW, 2 * TUBE, fill=palette.SKY_BLUE, fill_opacity="0.1", stroke="none"
    )
    return (
        glass
        + svg.rect(end, AXIS_Y - COLLAR, right + 8 - end, COLLAR - TUBE + 2, rx="3", **dark)
        + svg.rect(end, AXIS_Y + TUBE - 2, right + 8 - end, COLLAR - TUBE + 2, rx="3", **dark)
        + svg.rect(end, AXIS_Y - COLLAR, left - end, 2 * COLLAR, fill=f"url(#{uid}-bevel)", **EDGE)
        + svg.line(
            hair_x,
            AXIS_Y - TUBE,
            hair_x,
            AXIS_Y + TUBE,
            stroke=palette.VERMILLION,
            stroke_width="1.8",
            data_part="hairline",
        )
        + svg.line(end, AXIS_Y, left - 2, AXIS_Y, stroke=palette.INK, stroke_width="2", data_part="index")
    )


def _grip(setting: float, turn_nm: float, edge_x: float, uid: str) -> str:
    """Draw the front of the grip with its ten lines, and the knurled part behind."""
    bevel_x = edge_x - 62
    bevel = [
        (edge_x, AXIS_Y - COLLAR + 2),
        (bevel_x, AXIS_Y - GRIP),
        (bevel_x, AXIS_Y + GRIP),
        (edge_x, AXIS_Y + COLLAR - 2),
    ]
    lines, numerals = [], ""
    at_index = setting % turn_nm / turn_nm * GRIP_LINES
    for line in range(GRIP_LINES):
        turn = math.tau * (line - at_index) / GRIP_LINES
        if math.cos(turn) < 0.1:
            continue
        y = AXIS_Y - GRIP_RADIUS * math.sin(turn)
        lines.append((edge_x, y, edge_x - 26, y))
        if math.cos(turn) > 0.25:
            shown = f"{line * turn_nm / GRIP_LINES:g}"
            spot = f"translate({svg.num(edge_x - 44)} {svg.num(y)})"
            squeeze = f"scale(1 {svg.num(math.cos(turn))})"
            numerals += svg.text(
                0,
                7,
                shown,
                size=20 if len(shown) == 1 else 17,
                anchor="middle",
                transform=f"{spot} {squeeze}",
                data_part="grip-number",
            )
    behind = "".join(
        svg.rect(LEFT, AXIS_Y - GRIP, bevel_x - LEFT, 2 * GRIP, fill=f"url(#{uid}-{look})")
        for look in ("grip", "knurl")
    )
    return (
        behind
        + svg.polygon(bevel, fill=f"url(#{uid}-bevel)", **EDGE)
        + svg.strokes(lines, stroke=palette.INK, stroke_width="1.6", data_part="grip-lines")
        + numerals
    )


def _desc(setting: float, low: float, high: float, turn: float) -> str:
    per_number = round(numbered_nm(low, high, turn) / turn)
    line = turn / GRIP_LINES
    on_grip = stands(setting % turn, line, 1).replace(f"number {turn:g}", "number 0")
    return (
        f"A click-type torque wrench. Its tube has a scale in newton metres with a line for each {turn:g}, "
        "and below it one in pound-feet. A collar with a window slides on the tube. The grip behind turns "
        f"and has ten lines of {line:g} newton metres each. On the newton metre scale the hairline stands "
        f"{stands(setting, turn, per_number, low)}. At the index mark the grip stands {on_grip}."
    )


def _told(length: float, extension: float, angle: float) -> str:
    told = (
        f" Below, the whole wrench to scale: {length:g} mm from the middle of the grip to the square drive."
    )
    if extension:
        where = f"at {abs(angle):g} degrees to the wrench" if angle else "straight on"
        told += f" An extension of {extension:g} mm stands {where}."
    return told


def _defs(uid: str) -> str:
    def bar(name: str, edge: str, side: str, front: str) -> str:
        stops = [(0, edge), (0.2, side), (0.42, front), (0.58, front), (0.82, side), (1, edge)]
        return svg.gradient(f"{uid}-{name}", stops)

    cross = svg.tag(
        "path", d="M0 0L9 9M9 0L0 9", stroke=palette.STEEL_EDGE, stroke_width="1", stroke_opacity="0.5"
    )
    return (
        bar("tube", palette.STEEL_MID, palette.STEEL_LIGHT, palette.STEEL_WHITE)
        + bar("bevel", palette.STEEL_DARK, palette.STEEL, palette.STEEL_LIGHT)
        + bar("grip", palette.STEEL_EDGE, palette.STEEL_DARK, palette.STEEL_MID)
        + bar("collar", palette.STEEL_EDGE, palette.STEEL_DARK, palette.STEEL_MID)
        + svg.pattern(f"{uid}-knurl", 9, cross)
    )
