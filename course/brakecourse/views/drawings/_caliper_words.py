"""The reservoir above a caliper that is cut through, what is marked in the picture, and its words."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings._caliper_body import EDGE, TANK_OUTLET
from brakecourse.views.drawings._caliper_places import AXIS_Y, BRIDGE_MM, WALL_MM, Places
from brakecourse.views.drawings._inputs import within

LEFT, RIGHT, TOP, FLOOR = 24.0, 156.0, 46.0, 172.0
WORDS_Y = 484.0
SHOWN_MM = 0.4  # less wear than this is not marked: the brackets would fall into one line


def tank(level_mm: float, min_mm: float, max_mm: float, height_mm: float, uid: str) -> str:
    """Draw the reservoir, at a scale of its own, with its two marks and what has gone below MAX."""
    height = within(height_mm, "height of the reservoir in mm", 20, 150)
    level = within(level_mm, "fluid level in mm", 0, height)
    most_mm, least_mm = (
        within(mark, f"{word} line in mm", 0, height) for word, mark in (("MAX", max_mm), ("MIN", min_mm))
    )
    px = (FLOOR - TOP) / height
    surface, most = FLOOR - px * level, FLOOR - px * most_mm
    wide, pale, ink = RIGHT - LEFT, palette.FLUID_PALE, {"stroke": palette.INK}
    drawn = (
        svg.rect((LEFT + RIGHT) / 2 - 42, TOP - 26, 84, 24, rx="6", fill=palette.STEEL_EDGE, **EDGE)
        + svg.rect(LEFT, TOP - 4, wide, FLOOR - TOP + 8, rx="8", fill=palette.PLASTIC, **EDGE)
        + svg.rect(LEFT + 3, surface, wide - 6, FLOOR - surface, fill=pale, data_part="tank-fluid")
        + svg.line(LEFT + 3, surface, RIGHT - 3, surface, stroke_width="1.6", data_part="level", **ink)
        + svg.rect(TANK_OUTLET[0] - 13, FLOOR + 4, 26, 14, rx="2", fill=palette.RUBBER, **EDGE)
    )
    if surface - most > 2:
        drawn += svg.rect(
            LEFT + 3, most, wide - 6, surface - most, fill=f"url(#{uid}-dots)", data_part="tank-gone"
        )
    for word, mark in (("MAX", most_mm), ("MIN", least_mm)):
        y = FLOOR - px * mark
        drawn += svg.line(RIGHT - 30, y, RIGHT + 8, y, stroke_width="2.4", data_part=f"mark-{word}", **ink)
        drawn += svg.text(RIGHT + 13, y + 5, word, size=17, font_weight="bold")
    return drawn + svg.text(RIGHT + 13, TOP + 4, "reservoir", size=17, fill=palette.INK_SOFT)


def followed(at: Places, uid: str) -> str:
    """Mark the room that the pistons have left behind, which fluid has filled."""
    moved = at.front - at.front_new
    if moved < SHOWN_MM:
        return ""
    r = at.cut.bore_mm / 2
    width = at.px * moved
    drawn = ""
    for side in (-1, 1) if at.fixed else (-1,):
        x = at.x(at.rear_new) if side < 0 else at.x(-at.rear)
        name = "followed" if side < 0 else None
        drawn += svg.rect(x, at.y(r), width, at.px * 2 * r, fill=f"url(#{uid}-dots)", data_part=name)
    return drawn


def labels(at: Places) -> str:
    """Write what each part is, and how far the piston has come out (no number)."""
    high = at.cut.pad_height_mm / 2
    r = at.cut.bore_mm / 2
    top = at.y(at.bridge + BRIDGE_MM)
    drawn = svg.text(at.x(0), WORDS_Y, "rotor", size=17, anchor="middle", font_weight="bold")
    for side, words, anchor in ((-1, "inner pad", "end"), (1, "outer pad", "start")):
        x = at.x(side * (at.rotor + 2.5))
        drawn += _led(words, x, at.y(-high + 2), max(27.0, at.px * at.rotor + 8) * side + at.x(0), anchor)
    middle = at.x((at.rear + at.front) / 2)
    drawn += svg.text(middle, AXIS_Y + 5, "piston", size=17, anchor="middle", font_weight="bold")
    if at.fixed:
        other = at.x(-(at.rear + at.front) / 2)
        drawn += svg.text(other, AXIS_Y + 5, "piston", size=17, anchor="middle", font_weight="bold")
    how = "floating caliper: the body slides" if not at.fixed else "fixed caliper: a piston on each side"
    over = (at.x(at.outer_left) + at.x(at.outer_right)) / 2 + 30
    drawn += svg.text(over, top - 12, how, size=17, anchor="middle", fill=palette.INK_SOFT)
    moved = at.front - at.front_new
    if moved < SHOWN_MM:
        return drawn
    y = at.y(-r - WALL_MM) + 14
    left, right = at.x(at.rear_new), at.x(at.rear_new + moved)
    marks = [(left, y - 7, left, y + 7), (right, y - 7, right, y + 7), (left, y, right, y)]
    drawn += svg.strokes(marks, stroke=palette.INK, stroke_width="2", data_part="came-out")
    return drawn + svg.text(
        (left + right) / 2, y + 23, "fluid followed", size=17, anchor="middle", font_weight="bold"
    )


def _led(words: str, x: float, y: float, text_x: float, anchor: str) -> str:
    """Write words below, with a line up to what they name."""
    return svg.line(x, y, text_x, WORDS_Y - 7, stroke=palette.INK_SOFT, stroke_width="1.2") + svg.text(
        text_x + (-4 if anchor == "end" else 4), WORDS_Y, words, size=17, anchor=anchor
    )
