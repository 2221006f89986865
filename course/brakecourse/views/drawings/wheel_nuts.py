"""The middle of a wheel seen from the front: its studs numbered round, and the nuts as they are tightened."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import within

WIDTH, HEIGHT = 480, 440
MIDDLE = (202.0, 226.0)
VIEW_PX = 196.0
ROOM_MM = 46.0  # of the wheel's disc beyond the studs' circle
INSET = (428.0, 66.0)
INSET_PX_PER_MM = 0.15
BORE_SHARE = 0.56  # of the studs' circle: the hole for the hub
SLOTS = 10
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}


def wheel_nuts_svg(
    studs: int,
    *,
    stud_circle_mm: float,
    thread_mm: float,
    rim_radius_mm: float,
    tyre_radius_mm: float,
    uid: str,
    tight: Sequence[int] = (),
    chosen: int | None = None,
    title: str = "A wheel from the front",
) -> str:
    """Draw a wheel's studs and nuts, stud 1 at the top and the others clockwise.

    Args:
        studs: how many, 3 to 10.
        stud_circle_mm: diameter of the circle that they stand on.
        thread_mm: their thread; the nuts are drawn 1.6 times as wide across their flats.
        rim_radius_mm, tyre_radius_mm: of the whole wheel, for the small picture beside.
        uid: a word that no other drawing on the page has.
        tight: the studs whose nuts are tightened, in their order.
        chosen: the stud that the controls have, or None.
        title: the name that a screen reader says.

    Returns:
        SVG text. Each nut's group has ``data-card``, its number.

    Raises:
        ValueError: a number is out of its range, or a stud is tightened that is none.

    Source:
        Common practice, no source.

    Example:
        >>> wheel_nuts_svg(5, stud_circle_mm=114, thread_mm=12, rim_radius_mm=203, tyre_radius_mm=310,
        ...     uid="w1").count("data-card")
        5
    """
    count = int(within(studs, "number of studs", 3, 10))
    circle = within(stud_circle_mm, "stud circle in mm", 80, 350)
    thread = within(thread_mm, "thread of the studs in mm", 8, 24)
    within(rim_radius_mm, "radius of the rim in mm", 100, 300)
    within(tyre_radius_mm, "radius of the tyre in mm", rim_radius_mm, 600)
    strangers = [one for one in tight if one not in range(1, count + 1)]
    if strangers:
        raise ValueError(f"A stud from 1 to {count} was expected, but it was {strangers[0]!r}.")
    px = VIEW_PX / (circle / 2 + ROOM_MM)
    spots = [_spot(stud, count, circle / 2 * px) for stud in range(1, count + 1)]
    nuts = "".join(
        _nut(stud, spots[stud - 1], thread * px, tight, stud == chosen, uid) for stud in range(1, count + 1)
    )
    body = (
        _disc(circle * px / 2, uid)
        + _path(tight, spots, thread * px * 0.8)
        + svg.group(nuts)
        + _inset(count, circle, rim_radius_mm, tyre_radius_mm)
    )
    desc = (
        f"A wheel with {count} studs from the front, stud 1 at the top, the others clockwise. "
        f"{_told(tight)} A small picture beside shows the whole wheel with its tyre."
    )
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _told(tight: Sequence[int]) -> str:
    if not tight:
        return "No nut is tightened yet."
    return f"Tightened so far, in this order: {', '.join(str(one) for one in tight)}."


def _spot(stud: int, count: int, radius: float) -> svg.Point:
    turn = math.tau * (stud - 1) / count
    return MIDDLE[0] + radius * math.sin(turn), MIDDLE[1] - radius * math.cos(turn)


def _disc(circle_px: float, uid: str) -> str:
    x, y = MIDDLE
    slots = ""
    for slot in range(SLOTS):
        turn = 360 * (slot + 0.5) / SLOTS
        slots += svg.rect(
            -15,
            -VIEW_PX + 6,
            30,
            15,
            rx="7",
            fill=palette.RUBBER,
            transform=f"rotate({svg.num(turn)})",
            **EDGE,
        )
    dish = svg.circle(x, y, VIEW_PX, fill=f"url(#{uid}-disc)", **EDGE)
    pad = svg.circle(x, y, min(circle_px * 1.36, VIEW_PX - 26), fill=f"url(#{uid}-pad)", **EDGE)
    bore = svg.circle(x, y, circle_px * BORE_SHARE, fill=palette.RUST, **EDGE)
    hub = svg.circle(x, y, circle_px * (BORE_SHARE - 0.05), fill=f"url(#{uid}-hub)", **EDGE)
    centre = svg.circle(x, y, circle_px * 0.2, fill=palette.STEEL_MID, **EDGE)
    return (
        dish + svg.group(slots, transform=f"translate({svg.num(x)} {svg.num(y)})") + pad + bore + hub + centre
    )


def _nut(stud: int, spot: svg.Point, thread_px: float, tight: Sequence[int], chosen: bool, uid: str) -> str:
    x, y = spot
    corner = 0.8 * thread_px / math.cos(math.pi / 6)
    hexagon = [
        (x + corner * math.cos(math.pi / 3 * k), y + corner * math.sin(math.pi / 3 * k)) for k in range(6)
    ]
    seat = svg.circle(x, y, corner * 1.2, fill=palette.STEEL_DARK, fill_opacity="0.55")
    nut = svg.polygon(hexagon, fill=f"url(#{uid}-nut)", **EDGE)
    if stud in tight:
        place = tight.index(stud) + 1
        middle = svg.circle(
            x, y, max(15.0, 0.6 * thread_px), fill=palette.CHALK, stroke=palette.INK, stroke_width="1.6"
        ) + svg.text(x, y + 5, f"{place}.", size=15, anchor="middle", font_weight="bold", data_part="place")
    else:
        middle = svg.circle(x, y, 0.5 * thread_px, fill=f"url(#{uid}-hub)", **EDGE) + svg.circle(
            x, y, 0.42 * thread_px, fill="none", stroke=palette.STEEL_DARK, stroke_width="0.8"
        )
    out = corner * 1.2 + 17
    along = math.hypot(x - MIDDLE[0], y - MIDDLE[1])
    label = (x + (x - MIDDLE[0]) / along * out, y + (y - MIDDLE[1]) / along * out)
    ring = (
        svg.circle(x, y, corner * 1.2 + 3, fill="none", stroke=palette.BLUE, stroke_width="4")
        if chosen
        else ""
    )
    name = svg.circle(*label, 14, fill=palette.PAPER, stroke=palette.STEEL_EDGE, stroke_width="1") + svg.text(
        label[0], label[1] + 6, stud, size=17, anchor="middle", font_weight="bold", data_part="stud"
    )
    return svg.group(
        seat + nut + middle + ring + name, data_card=str(stud), data_part="nut", style="cursor:pointer"
    )


def _path(tight: Sequence[int], spots: Sequence[svg.Point], short_px: float) -> str:
    """Draw an arrow from each tightened nut to the next."""
    drawn = ""
    for one, other in pairwise(tight):
        (x1, y1), (x2, y2) = spots[one - 1], spots[other - 1]
        along = math.hypot(x2 - x1, y2 - y1)
        ux, uy = (x2 - x1) / along, (y2 - y1) / along
        gap = short_px + 9
        tip = (x2 - ux * gap, y2 - uy * gap)
        back = (tip[0] - ux * 13, tip[1] - uy * 13)
        drawn += svg.line(
            x1 + ux * gap, y1 + uy * gap, *back, stroke=palette.BLUE, stroke_width="3.4", data_part="next"
        )
        corners = [tip, (back[0] - uy * 6, back[1] + ux * 6), (back[0] + uy * 6, back[1] - ux * 6)]
        drawn += svg.polygon(corners, fill=palette.BLUE)
    return drawn


def _inset(count: int, circle: float, rim: float, tyre: float) -> str:
    x, y = INSET
    px = INSET_PX_PER_MM * 310 / max(310.0, tyre)
    dots = "".join(
        svg.circle(
            x + circle / 2 * px * math.sin(math.tau * k / count),
            y - circle / 2 * px * math.cos(math.tau * k / count),
            2,
            fill=palette.STEEL_EDGE,
        )
        for k in range(count)
    )
    return (
        svg.circle(x, y, tyre * px, fill=palette.RUBBER)
        + svg.circle(x, y, (rim + 8) * px, fill=palette.STEEL_LIGHT, **EDGE)
        + svg.circle(
            x,
            y,
            (circle / 2 + ROOM_MM) * px,
            fill="none",
            stroke=palette.BLUE,
            stroke_dasharray="4 3",
            stroke_width="1.5",
        )
        + svg.circle(x, y, circle / 2 * BORE_SHARE * px, fill=palette.STEEL_MID, **EDGE)
        + dots
        + svg.text(x, y + tyre * px + 19, "whole wheel", size=14, anchor="middle")
    )


def _defs(uid: str) -> str:
    return (
        svg.gradient(f"{uid}-disc", ((0, palette.STEEL_LIGHT), (1, palette.STEEL_MID)))
        + svg.gradient(f"{uid}-pad", ((0, palette.STEEL_WHITE), (1, palette.STEEL)))
        + svg.gradient(f"{uid}-hub", ((0, palette.STEEL_LIGHT), (1, palette.STEEL_DARK)))
        + svg.gradient(
            f"{uid}-nut", ((0, palette.STEEL_WHITE), (0.5, palette.STEEL), (1, palette.STEEL_DARK))
        )
    )
