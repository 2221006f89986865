"""The fluid reservoir on its master cylinder, with a millimetre rule beside it."""

from __future__ import annotations

import math
from typing import Literal, get_args

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import above_zero, within
from brakecourse.views.drawings._line_words import stands
from brakecourse.views.drawings._rule import LINES_PER_NUMBER, rule, rule_defs

Fluid = Literal["clear", "dark"]
TALLEST_MM, LOWEST_MM = 150.0, 30.0

WIDTH, HEIGHT = 400, 500
LEFT, RIGHT, FLOOR_Y, INSIDE_PX = 72.0, 286.0, 376.0, 272.0
WALL = 5.0
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}
_LOOKS: dict[str, tuple[str, str]] = {
    "clear": (palette.FLUID_PALE, "clear and straw-coloured"),
    "dark": (palette.FLUID_DARK, "dark brown"),
}


def reservoir_svg(
    level_mm: float,
    *,
    min_mm: float,
    max_mm: float,
    height_mm: float,
    uid: str,
    title: str = "Fluid reservoir",
    fluid: Fluid = "clear",
) -> str:
    """Draw a see-through reservoir with its MIN and MAX lines, fluid in it, and a rule at its wall.

    Args:
        level_mm: the flat of the fluid's surface above the floor, in mm, 0 to the height.
        min_mm: the MIN line above the floor, in mm.
        max_mm: the MAX line above the floor, in mm.
        height_mm: inside height of the reservoir, in mm, 30 to 150.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.
        fluid: how the fluid looks: ``"clear"`` or ``"dark"``.

    Returns:
        SVG text. Its description tells at which lines of the rule the surface stands, never the level.

    Raises:
        ValueError: a length is no number or out of range, MIN is not below MAX, or the fluid's look is not
            one of the two.

    Source:
        MIN and MAX lines on a see-through reservoir, and reading a surface at its flat: common practice,
        no source.

    Example:
        >>> reservoir_svg(42, min_mm=20, max_mm=50, height_mm=70, uid="r1").startswith("<svg")
        True
    """
    height = within(height_mm, "height of the reservoir in mm", LOWEST_MM, TALLEST_MM)
    level = within(level_mm, "fluid level in mm", 0, height)
    most = within(max_mm, "MAX line in mm", 0, height)
    least = above_zero(min_mm, "MIN line in mm")
    if least >= most:
        raise ValueError(f"The MIN line must be below the MAX line, but they were {least:g} and {most:g} mm.")
    if fluid not in get_args(Fluid):
        raise ValueError(f"The fluid must look 'clear' or 'dark', but it was {str(fluid)[:40]!r}.")
    svg.check_uid(uid)
    px = INSIDE_PX / height
    body = (
        _cylinder(uid)
        + _tank(uid)
        + _fluid(level * px, fluid)
        + _front(uid)
        + _mark(FLOOR_Y - most * px, "MAX")
        + _mark(FLOOR_Y - least * px, "MIN")
        + rule(RIGHT + 2, FLOOR_Y, height, px, uid=uid, way="up", breadth=66, ends=(9.0, 12.0), size=16)
        + svg.text(RIGHT + 58, FLOOR_Y + 24, "mm", size=15, anchor="middle", fill=palette.INK_SOFT)
    )
    desc = (
        "A see-through plastic reservoir with a cap, on the master cylinder. A steel rule with a line for "
        "each millimetre stands at its right wall, zero at the floor inside. "
        f"The fluid is {_LOOKS[fluid][1]}. The flat of its surface stands "
        f"{stands(level, 1, LINES_PER_NUMBER)}. At the walls the fluid creeps up a little. "
        f"MIN is moulded {least:g} mm and MAX {most:g} mm above the floor."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _cylinder(uid: str) -> str:
    """Draw the master cylinder below: two grommets, the barrel with its ports, and the flange."""
    grommets = "".join(
        svg.rect(x, FLOOR_Y + 4, 48, 26, rx="4", fill=palette.RUBBER, **EDGE) for x in (106.0, 202.0)
    )
    ports = "".join(
        svg.rect(x, 468, 34, 18, rx="2", fill=f"url(#{uid}-side)", **EDGE)
        + svg.rect(x + 6, 484, 22, 12, fill=f"url(#{uid}-side)", **EDGE)
        for x in (120.0, 214.0)
    )
    barrel = f"url(#{uid}-barrel)"
    return (
        ports
        + svg.rect(44, 412, 280, 60, rx="8", fill=barrel, **EDGE)
        + svg.rect(30, 422, 18, 40, rx="4", fill=barrel, **EDGE)
        + svg.rect(324, 400, 16, 84, rx="3", fill=barrel, **EDGE)
        + svg.rect(340, 430, 46, 24, rx="2", fill=barrel, **EDGE)
        + "".join(svg.rect(x, 398, 72, 18, rx="4", fill=barrel, **EDGE) for x in (94.0, 190.0))
        + grommets
    )


def _outline() -> str:
    return svg.path(
        *("M", LEFT, FLOOR_Y - INSIDE_PX + 10, "q", 0, -14, 14, -14, "H", RIGHT - 14),
        *("q", 14, 0, 14, 14, "V", FLOOR_Y + WALL - 8, "q", 0, 8, -8, 8),
        *("H", LEFT + 8, "q", -8, 0, -8, -8, "Z"),
        fill="none",
        **EDGE,
    )


def _tank(uid: str) -> str:
    """Draw the neck with its cap, and the back of the tank."""
    top, middle = FLOOR_Y - INSIDE_PX - 4, (LEFT + RIGHT) / 2
    ribs = [(middle - 66 + 12 * k, top - 56, middle - 66 + 12 * k, top - 20) for k in range(12)]
    return (
        svg.rect(middle - 58, top - 22, 116, 26, fill=palette.PLASTIC, **EDGE)
        + svg.rect(middle - 76, top - 62, 152, 46, rx="8", fill=f"url(#{uid}-cap)", **EDGE)
        + svg.strokes(ribs, stroke=palette.STEEL_DARK, stroke_width="2")
        + svg.rect(
            LEFT, top, RIGHT - LEFT, INSIDE_PX + WALL + 4, rx="12", fill=palette.PLASTIC, fill_opacity="0.9"
        )
    )


def _fluid(depth: float, fluid: Fluid) -> str:
    """Draw the fluid; its surface is flat but for a few millimetres at the walls, where it creeps up."""
    if depth <= 0:
        return ""
    left, right, y = LEFT + WALL, RIGHT - WALL, FLOOR_Y - depth
    creep = [(step * 2.0, 7.0 * math.exp(-step * 0.7)) for step in range(8)]
    surface = [(left + x, y - up) for x, up in creep] + [(right - x, y - up) for x, up in reversed(creep)]
    surface[7], surface[8] = (left + 16, y), (right - 16, y)
    outline = [*surface, (right, FLOOR_Y), (left, FLOOR_Y)]
    shade = palette.INK if fluid == "clear" else palette.STEEL_WHITE
    return (
        svg.polygon(outline, fill=_LOOKS[fluid][0], fill_opacity="0.92", data_part="fluid")
        + svg.polyline(surface, stroke=palette.INK, stroke_width="1.4", data_part="surface")
        + svg.line(left + 16, y + 4, right - 16, y + 4, stroke=shade, stroke_width="2", stroke_opacity="0.25")
    )


def _front(uid: str) -> str:
    """Draw the front wall: its sheen, two ribs and its edge."""
    top = FLOOR_Y - INSIDE_PX
    ribs = "".join(
        svg.rect(x, top + 6, 5, INSIDE_PX - 6, fill=palette.CHALK, fill_opacity="0.35")
        for x in (172.0, 226.0)
    )
    sheen = svg.rect(LEFT, top - 4, RIGHT - LEFT, INSIDE_PX + WALL + 4, rx="12", fill=f"url(#{uid}-sheen)")
    return ribs + sheen + _outline()


def _mark(y: float, word: str) -> str:
    """Draw a line moulded into the wall: a dark and a bright edge, with its word outside."""
    return (
        svg.rect(LEFT + 2, y - 2, 66, 4, fill=palette.CHALK, stroke=palette.INK, stroke_width="1")
        + svg.line(LEFT - 8, y, LEFT + 2, y, stroke=palette.INK, stroke_width="2", data_part=f"mark-{word}")
        + svg.text(LEFT - 12, y + 6, word, size=17, anchor="end", font_weight="bold")
    )


def _defs(uid: str) -> str:
    barrel = [
        (0, palette.STEEL_MID),
        (0.3, palette.STEEL_WHITE),
        (0.6, palette.STEEL),
        (1, palette.STEEL_DARK),
    ]
    sheen = "".join(
        svg.tag("stop", offset=offset, stop_color=palette.CHALK, stop_opacity=opacity)
        for offset, opacity in (("0", "0.1"), ("0.1", "0.5"), ("0.2", "0.08"), ("0.85", "0"), ("1", "0.3"))
    )
    return (
        svg.gradient(f"{uid}-barrel", barrel)
        + svg.gradient(f"{uid}-side", barrel, across=True)
        + svg.gradient(f"{uid}-cap", [(0, palette.STEEL_DARK), (0.3, palette.STEEL_EDGE), (1, palette.INK)])
        + svg.tag("linearGradient", sheen, id=f"{uid}-sheen")
        + rule_defs(uid, across=True)
    )
