"""The way to a stop as strips of road to one scale: first the reaction, then the braking."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._round import nice_step
from brakecourse.views.drawings._vehicle_side import SideView, side_defs, vehicle_side
from brakecourse.views.words import number

WIDTH = 640
LEFT, RIGHT = 26.0, 604.0
MOST_STRIPS = 3
FARTHEST_M = 2000.0
SHORTEST_M = 30.0
_FIRST_Y, _PITCH, _BAR = 60.0, 76.0, 20.0
_SIZE = 14.0


@dataclass(frozen=True)
class Strip:
    """One stop.

    Attributes:
        name: what it is, in words.
        reaction_m: way during the reaction time; 0 when it is not told apart.
        braking_m: way while braking.
        told: whether the whole way is written at its end.
    """

    name: str
    reaction_m: float
    braking_m: float
    told: bool = True

    @property
    def whole_m(self) -> float:
        """The whole way to the stop."""
        return self.reaction_m + self.braking_m


def stopping_road_svg(
    strips: Sequence[Strip],
    *,
    gap_m: float | None = None,
    scaled: bool = True,
    uid: str,
    title: str = "The way to a stop",
) -> str:
    """Draw one to three stops below each other, all to one scale.

    Args:
        strips: the stops.
        gap_m: how far ahead something lies on the road, m; None for nothing.
        scaled: whether the road has its metres; without them the picture says that it is not to scale.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. A vehicle, drawn to the same scale, stands at the end of each way.

    Raises:
        ValueError: no strip or more than three, or a way that is no number from 0 to 2000 m.

    Source:
        Common practice, no source.

    Example:
        >>> stopping_road_svg([Strip("your stop", 14, 20)], uid="s1").startswith("<svg")
        True
    """
    if not 1 <= len(strips) <= MOST_STRIPS:
        raise ValueError(f"One to {MOST_STRIPS} stops were expected, but there were {len(strips)}.")
    for one in strips:
        within(one.reaction_m, "way during the reaction in m", 0, FARTHEST_M)
        within(one.braking_m, "way while braking in m", 0, FARTHEST_M)
    svg.check_uid(uid)
    gap = None if gap_m is None else within(gap_m, "distance of the obstacle in m", 0, FARTHEST_M)
    farthest = max([one.whole_m for one in strips] + ([gap] if gap else []))
    end, step = _end(farthest)
    px = (RIGHT - LEFT) / end
    bottom = _FIRST_Y + _PITCH * (len(strips) - 1) + 56
    body = (
        _axis(end, step if scaled else 0.0, px, bottom)
        + (_obstacle(gap, px, bottom) if gap is not None else "")
        + "".join(_strip(one, _FIRST_Y + _PITCH * place, px, uid) for place, one in enumerate(strips))
        + _key(bottom + 66, uid)
    )
    defs = side_defs(uid) + _hatched(uid)
    return svg.frame(
        WIDTH, round(bottom + 82), body, uid=uid, title=title, desc=_desc(strips, gap, scaled), defs=defs
    )


def _end(farthest_m: float) -> tuple[float, float]:
    """Return the end of the road and the step of its numbers; never so short that a car fills it."""
    reach = max(farthest_m * 1.06, SHORTEST_M)
    step = nice_step(reach, 8)
    return math.ceil(reach / step - 1e-9) * step, step


def _strip(one: Strip, y: float, px: float, uid: str) -> str:
    first, second = one.reaction_m * px, one.braking_m * px
    edge = {"stroke": palette.INK, "stroke_width": "0.9"}
    reaction = svg.rect(LEFT, y, first, _BAR, fill=f"url(#{uid}-wait)", data_part="reaction", **edge)
    braking = svg.rect(LEFT + first, y, second, _BAR, fill=palette.SKY_BLUE, data_part="braking", **edge)
    stop_x = LEFT + first + second
    told = f": {number(one.whole_m, 1)} m" if one.told else ""
    return (
        (reaction if first > 0 else "")
        + (braking if second > 0 else "")
        + svg.line(stop_x, y - 5, stop_x, y + _BAR + 5, stroke=palette.INK, stroke_width="2.4")
        + _car(stop_x, y, px, uid)
        + svg.text(LEFT, y + _BAR + 19, f"{one.name}{told}", size=15, font_weight="bold")
    )


def _car(nose_x: float, y: float, px: float, uid: str) -> str:
    """Draw a car of 4.3 m to the road's scale above the strip, its nose at the stop."""
    scale = px / 1000
    length = 4300 * scale
    if length < 9:
        return ""
    view = SideView("hatchback", 2500, 300, 540, scale, 0.0, 0.0)
    place = f"translate({svg.num(nose_x - 720 * scale)} {svg.num(y - 2)}) scale(-1 1)"
    return svg.group(vehicle_side(view, f"{uid}-{svg.num(y)}"), transform=place)


def _axis(end: float, step: float, px: float, y: float) -> str:
    """Draw the metres; with a step of 0, a bare line that is not to scale."""
    if not step:
        bare = svg.line(LEFT, y, RIGHT, y, stroke=palette.STEEL_EDGE, stroke_width="1.4")
        return bare + svg.text((LEFT + RIGHT) / 2, y + 23, "not to scale", size=_SIZE, anchor="middle")
    lines: list[svg.Segment] = [(LEFT, y, LEFT + end * px, y)]
    numbers = ""
    for place in range(round(end / step) + 1):
        x = LEFT + place * step * px
        lines.append((x, y, x, y + 7))
        numbers += svg.text(
            x, y + 23, f"{place * step:g}", size=_SIZE, anchor="middle", fill=palette.INK_SOFT,
            data_part="metres",
        )  # fmt: skip
    words = svg.text((LEFT + RIGHT) / 2, y + 42, "metres of road", size=_SIZE, anchor="middle")
    return svg.strokes(lines, stroke=palette.STEEL_EDGE, stroke_width="1.4") + numbers + words


def _obstacle(gap: float, px: float, bottom: float) -> str:
    x = LEFT + gap * px
    anchor = "end" if x > WIDTH * 0.6 else "start"
    post = svg.line(
        x, 30, x, bottom, stroke=palette.VERMILLION, stroke_width="2.4", stroke_dasharray="8 4",
        data_part="obstacle",
    )  # fmt: skip
    told = f"in the way at {number(gap, 0)} m"
    beside = x - 6 if anchor == "end" else x + 6
    words = svg.text(
        beside, 24, told, size=_SIZE, anchor=anchor, fill=palette.VERMILLION_TEXT, font_weight="bold"
    )
    return post + words


def _key(y: float, uid: str) -> str:
    edge = {"stroke": palette.INK, "stroke_width": "0.9"}
    return (
        svg.rect(LEFT, y - 12, 24, 13, fill=f"url(#{uid}-wait)", **edge)
        + svg.text(LEFT + 32, y, "reaction: nothing slows yet", size=_SIZE)
        + svg.rect(LEFT + 260, y - 12, 24, 13, fill=palette.SKY_BLUE, **edge)
        + svg.text(LEFT + 292, y, "braking", size=_SIZE)
    )


def _hatched(uid: str) -> str:
    tile = svg.rect(0, 0, 8, 8, fill=palette.STEEL_WHITE) + svg.tag(
        "path", d="M0 0V8", stroke=palette.ORANGE, stroke_width="5"
    )
    return svg.pattern(f"{uid}-wait", 8, tile, turn_deg=45)


def _desc(strips: Sequence[Strip], gap: float | None, scaled: bool) -> str:
    told = f"Strips of road, {'to one scale' if scaled else 'not to scale'}, a car at the end of each."
    for one in strips:
        parts = f"{number(one.reaction_m, 1)} m reaction, then " if one.reaction_m else ""
        told += (
            f" {one.name[:1].upper()}{one.name[1:]}: {parts}{number(one.braking_m, 1)} m braking."
            if one.told
            else f" {one.name[:1].upper()}{one.name[1:]}: its length is not told."
        )
    return told if gap is None else f"{told} Something lies in the way at {number(gap, 0)} m."
