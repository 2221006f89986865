"""Where the fluid of the retraction drawing can go: pipes, reservoir, ABS unit, bottle, arrows, words."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings._retraction_parts import EDGE, inlet_y
from brakecourse.views.drawings._retraction_places import (
    AXIS_Y,
    BOTTLE_HOLDS_ML,
    BOTTLE_START_ML,
    At,
    Push,
)

TANK = (34.0, 34.0, 116.0, 84.0)  # left, top, width, height of the reservoir's inside
MASTER_Y = 146.0
UNIT = (262.0, 44.0, 92.0, 74.0)  # the ABS unit
BRACKET = (150.0, 232.0)  # where pipe and hose meet
BOTTLE = (734.0, 372.0, 62.0, 122.0)
HOSE_Y = 158.0
Spot = tuple[float, float]


def master(push: Push) -> str:
    """Draw the reservoir with its level, and the master cylinder under it."""
    x, y, wide, tall = TANK
    share = push.level_mm / push.height_mm
    fluid = svg.rect(
        x, y + tall * (1 - share), wide, tall * share, fill=palette.FLUID_PALE, data_part="level"
    )
    tank = svg.rect(x, y, wide, tall, rx="6", fill=palette.PLASTIC, **EDGE) + fluid
    tank += svg.rect(x, y, wide, tall, rx="6", fill="none", **EDGE)
    tank += svg.rect(x + 34, y - 14, 48, 14, rx="4", fill=palette.RUBBER, **EDGE)
    for words, mark in (("MAX", push.max_mm), ("MIN", push.min_mm)):
        height = y + tall * (1 - mark / push.height_mm)
        tank += svg.line(x, height, x + 16, height, stroke=palette.INK, stroke_width="2")
        tank += svg.text(x + 20, height + 4.5, words, size=13)
    neck = svg.rect(x + 30, y + tall, 18, 20, fill=palette.PLASTIC, **EDGE)
    barrel = svg.rect(x - 12, MASTER_Y - 14, wide + 34, 30, rx="6", fill=palette.STEEL, **EDGE)
    barrel += svg.rect(x - 26, MASTER_Y - 5, 16, 12, fill=palette.STEEL_MID, **EDGE)
    return neck + barrel + tank


def abs_unit() -> str:
    """Draw the ABS unit: a block with its valves and its pump."""
    x, y, wide, tall = UNIT
    block = svg.rect(x, y, wide, tall, rx="5", fill=palette.STEEL_LIGHT, data_part="abs-unit", **EDGE)
    for place in (18, 42, 66):  # the valves
        block += svg.rect(x + place - 6, y + 9, 14, 22, rx="3", fill=palette.STEEL_MID, **EDGE)
        block += svg.line(x + place + 1, y + 31, x + place + 1, y + 40, stroke=palette.STEEL_EDGE)
    return block + svg.text(x + wide / 2, y + 61, "ABS unit", size=14, anchor="middle", font_weight="600")


def _routes(at: At) -> tuple[list[Spot], list[Spot]]:
    """Return the way from the master to the hose's bracket as straight lines, and the hose's four points."""
    x, y, wide, tall = UNIT
    pipe = [(TANK[0] + TANK[2] + 20, MASTER_Y), (216, MASTER_Y), (216, y + tall - 22), (x, y + tall - 22)]
    down = [(x + wide, y + tall - 22), (x + wide + 22, y + tall - 22), (x + wide + 22, 136), (236, 136)]
    down += [(236, 176), (BRACKET[0], 176), BRACKET]
    end = (at.x(at.left) - 16, inlet_y(at))
    hose = [BRACKET, (BRACKET[0] - 4, BRACKET[1] + 110), (end[0] - 54, end[1]), end]
    return [*pipe, *down], hose


def pipes(at: At) -> str:
    """Draw the steel pipes, the rubber hose to the caliper, and its banjo bolt."""
    pipe, hose = _routes(at)
    back = at.push.bleeder == "shut" and at.push.pushed_mm >= 0.05
    inside = palette.FLUID_DARK if back else palette.FLUID_PALE
    spots = ("M", *hose[0], "C", *hose[1], *hose[2], *hose[3])
    drawn = svg.polyline(pipe, stroke=palette.STEEL_DARK, stroke_width=9, stroke_linejoin="round")
    drawn += svg.polyline(
        pipe, stroke=inside, stroke_width=4.5, stroke_linejoin="round", data_part="pipe-fluid"
    )
    drawn += svg.path(*spots, fill="none", stroke=palette.RUBBER, stroke_width="16")
    drawn += svg.path(*spots, fill="none", stroke=inside, stroke_width="6", data_part="hose-fluid")
    x, y = BRACKET
    drawn += svg.rect(x - 13, y - 12, 26, 24, rx="3", fill=palette.STEEL_MID, **EDGE)
    x, y = hose[3]
    drawn += svg.rect(x - 4, y - 11, 18, 22, rx="3", fill=palette.STEEL_MID, **EDGE)
    return drawn + svg.rect(x - 12, y - 7, 9, 14, rx="2", fill=palette.STEEL, **EDGE)


def _clear_route(at: At) -> list[Spot]:
    x = at.bleeder_x
    bottle = BOTTLE[0] + BOTTLE[2] / 2
    return [(x, at.y(at.top) - 26), (x, HOSE_Y), (bottle, HOSE_Y), (bottle, BOTTLE[1] + BOTTLE[3] - 12)]


def clear_hose(at: At) -> str:
    """Draw the clear hose from the bleeder into the bottle."""
    (x, low), (_, up), (far, _), (_, down) = _clear_route(at)
    spots: tuple[str | float, ...] = ("M", x, low, "L", x, up + 18, "Q", x, up, x + 18, up, "L", far - 30, up)
    spots += ("Q", far, up, far, up + 30, "L", far, down)
    full = at.push.bottle_ml > 0
    drawn = svg.path(*spots, fill="none", stroke=palette.STEEL_EDGE, stroke_width="12")
    drawn += svg.path(*spots, fill="none", stroke=palette.STEEL_WHITE, stroke_width="9.5")
    if full:
        drawn += svg.path(
            *spots, fill="none", stroke=palette.FLUID_DARK, stroke_width="6", data_part="clear-fluid"
        )
    return drawn


def bottle(push: Push) -> str:
    """Draw the bottle with what has come into it."""
    x, y, wide, tall = BOTTLE
    share = (BOTTLE_START_ML + push.bottle_ml) / BOTTLE_HOLDS_ML
    fluid = svg.rect(
        x + 2,
        y + tall * (1 - share),
        wide - 4,
        tall * share - 2,
        rx="4",
        fill=palette.FLUID_DARK,
        fill_opacity="0.72",
        data_part="bottle-fluid",
    )
    neck = (x + 14, y, x + 14, y - 22, x + wide - 14, y - 22, x + wide - 14, y)
    glass = svg.path("M", *neck[:2], "L", *neck[2:4], "M", *neck[4:6], "L", *neck[6:], fill="none", **EDGE)
    return fluid + glass + svg.rect(x, y, wide, tall, rx="9", fill="none", **EDGE)


def bubbles(at: At) -> str:
    """Draw air at the bleeder and under the bore's top."""
    if not at.push.air:
        return ""
    x, top, roof = at.bleeder_x, at.y(at.top), at.y(at.push.bore_mm / 2)
    spots = [(x, top + 34), (x + 1, roof - 8), (x + 5, roof + 7), (x + 3, roof + 17)]
    spots += [(x - 1, top - 42), (x + 1, top - 56)]
    look = {"fill": palette.CHALK, "stroke": palette.BLUE, "stroke_width": "1.8", "data_part": "bubble"}
    return "".join(
        svg.circle(cx, cy, r, **look) for (cx, cy), r in zip(spots, (4, 3.5, 5, 4, 4, 3), strict=True)
    )


def arrows(at: At) -> str:
    """Draw which way the fluid has gone."""
    push = at.push
    if push.pushed_mm < 0.05 or push.bleeder == "not told":
        return ""
    if push.bleeder == "open":
        (x, _), (_, up), (far, _), _ = _clear_route(at)
        if push.air:  # the bore sucks: what stands in the hose comes back
            return _head((x, up + 26), 90.0, palette.VERMILLION, "back-in")
        heads = [((x, up + 28), -90.0), ((x + 150, up), 0.0), ((x + 330, up), 0.0), ((far, up + 110), 90.0)]
        return "".join(_head(spot, turn, palette.BLUE, "to-bottle") for spot, turn in heads)
    pipe, hose = _routes(at)
    heads = [(_on_hose(hose, 0.62), _hose_turn(hose, 0.62)), ((pipe[9][0], 206), -90.0)]
    heads += [
        ((300, 136), 0.0),
        ((pipe[5][0], 112), -90.0),
        ((240, pipe[3][1]), 180.0),
        ((190, MASTER_Y), 180.0),
    ]
    return "".join(_head(spot, turn, palette.VERMILLION, "to-abs") for spot, turn in heads)


def _on_hose(hose: list[Spot], t: float) -> Spot:
    share = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    x, y = (sum(part * spot[axis] for part, spot in zip(share, hose, strict=True)) for axis in (0, 1))
    return x, y


def _hose_turn(hose: list[Spot], t: float) -> float:
    """Return the direction up the hose, against its points' order."""
    (x, y), (then_x, then_y) = _on_hose(hose, t + 0.02), _on_hose(hose, t - 0.02)
    return math.degrees(math.atan2(then_y - y, then_x - x))


def _head(spot: Spot, turn_deg: float, colour: str, name: str) -> str:
    shape = [(-11.0, -10.0), (13.0, 0.0), (-11.0, 10.0), (-5.0, 0.0)]
    move = f"translate({svg.num(spot[0])} {svg.num(spot[1])}) rotate({svg.num(turn_deg)})"
    look = {"stroke": palette.CHALK, "stroke_width": "2", "stroke_linejoin": "round"}
    return svg.polygon(shape, fill=colour, transform=move, data_part=name, **look)


def labels(at: At) -> str:
    """Write what each part is."""
    push, low = at.push, AXIS_Y + at.px * (at.push.bore_mm / 2 + 9)
    told = {"open": "bleeder, open", "shut": "bleeder, shut", "not told": "bleeder"}[push.bleeder]
    drawn = svg.text(TANK[0] + TANK[2] + 10, 52, "reservoir", size=14)
    drawn += svg.text(22, MASTER_Y + 36, "master cylinder", size=14)
    beside = 32 if push.bleeder == "not told" else 18
    drawn += svg.text(at.bleeder_x + beside, at.y(at.top) - 8, told, size=14, font_weight="600")
    drawn += svg.text(BRACKET[0] - 22, BRACKET[1] + 70, "hose", size=14, anchor="end")
    drawn += svg.text(BOTTLE[0] + BOTTLE[2] / 2, 514, "bottle", size=14, anchor="middle")
    drawn += svg.text(at.x(at.rotor) + 8, 500, "rotor", size=14)
    if push.press:
        drawn += svg.text(at.x(at.outer) + 132, AXIS_Y - 24, "press", size=14, anchor="end")
    x = at.x((at.rear + at.front) / 2)
    drawn += svg.text(x + 8, AXIS_Y + 5, "piston", size=14, anchor="middle")
    y = min(low + 34, 500)
    seal = at.x(at.mouth - 9)
    for words, part_x, anchor_x in (
        ("seal", seal, seal - 44),
        ("boot", at.x((at.mouth + at.front) / 2), seal + 22),
    ):
        edge = AXIS_Y + at.px * (push.bore_mm / 2 + 3)
        drawn += svg.line(part_x, edge, anchor_x, y - 13, stroke=palette.INK, stroke_width="1")
        drawn += svg.text(anchor_x, y, words, size=14, anchor="middle")
    if push.air:
        drawn += svg.text(
            at.bleeder_x + 14, at.y(at.top) - 46, "air", size=14, font_weight="600", fill=palette.BLUE_TEXT
        )
    return drawn
