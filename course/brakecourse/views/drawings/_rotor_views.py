"""The rotor from the front and from the side, as the dial's drawing needs them."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg

PLACES = 8
PLACE_DEG = 45.0
CENTRE = (138.0, 276.0)
OUTER_RADIUS = 124.0
INNER_RADIUS = 74.0
TOUCH_RADIUS = 113.0
STUD_RADIUS = 48.0
FACE_X = 302.0  # the outer face, seen from the side


def defs(uid: str) -> str:
    """Return the gradients that the views need."""
    return svg.gradient(f"{uid}-face", [(0, palette.STEEL_LIGHT), (1, palette.STEEL)]) + svg.gradient(
        f"{uid}-hat", [(0, palette.STEEL), (1, palette.STEEL_MID)]
    )


def _at(radius: float, clockwise_deg: float) -> svg.Point:
    turn = math.radians(clockwise_deg)
    return CENTRE[0] + radius * math.sin(turn), CENTRE[1] - radius * math.cos(turn)


def front(angle: float, studs: int, nuts_fitted: bool, uid: str) -> str:
    """Draw the outer face, turned anticlockwise so that the place at ``angle`` comes to the top."""
    edge = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2"}
    x, y = CENTRE
    rings = "".join(
        svg.circle(
            x, y, radius, fill="none", stroke=palette.STEEL_MID, stroke_width="0.6", stroke_opacity="0.6"
        )
        for radius in range(80, 123, 6)
    )
    return (
        svg.circle(x, y, OUTER_RADIUS, fill=f"url(#{uid}-face)", **edge)
        + rings
        + svg.circle(x, y, INNER_RADIUS, fill=f"url(#{uid}-hat)", **edge)
        + svg.circle(x, y, INNER_RADIUS - 8, fill="none", stroke=palette.STEEL_DARK, stroke_width="0.8")
        + svg.circle(x, y, 24, fill=palette.STEEL_EDGE, stroke=palette.INK, stroke_width="1")
        + "".join(_stud(-angle + 360 * stud / studs, nuts_fitted) for stud in range(studs))
        + _chalk(angle)
        + "".join(_place(place, angle) for place in range(PLACES))
        + _turn_arrow()
    )


def _stud(clockwise_deg: float, nut: bool) -> str:
    x, y = _at(STUD_RADIUS, clockwise_deg)
    stud = svg.circle(
        x, y, 5, fill=palette.STEEL_DARK, stroke=palette.INK, stroke_width="1", data_part="stud"
    )
    if not nut:
        return stud
    corners = [
        (
            x + 11 * math.sin(math.radians(clockwise_deg + 60 * k)),
            y - 11 * math.cos(math.radians(clockwise_deg + 60 * k)),
        )
        for k in range(6)
    ]
    nut_shape = svg.polygon(
        corners, fill=palette.STEEL_LIGHT, stroke=palette.INK, stroke_width="1", data_part="nut"
    )
    return nut_shape + stud


def _chalk(angle: float) -> str:
    x1, y1 = _at(INNER_RADIUS - 6, -angle)
    x2, y2 = _at(OUTER_RADIUS - 1, -angle)
    under = svg.line(x1, y1, x2, y2, stroke=palette.STEEL_DARK, stroke_width="7", stroke_linecap="round")
    return under + svg.line(
        x1, y1, x2, y2, stroke=palette.CHALK, stroke_width="5", stroke_linecap="round", data_part="chalk"
    )


def _place(place: int, angle: float) -> str:
    x, y = _at(92, place * PLACE_DEG - angle)
    return svg.circle(x, y, 11, fill=palette.CHALK, stroke=palette.STEEL_EDGE, stroke_width="1") + svg.text(
        x, y + 5, place + 1, size=14, anchor="middle", font_weight="bold"
    )


def _turn_arrow() -> str:
    radius = OUTER_RADIUS + 8
    (x1, y1), (x2, y2) = _at(radius, -20), _at(radius, -50)
    arc = svg.path(
        *("M", x1, y1, "A", radius, radius, 0, 0, 0, x2, y2),
        fill="none",
        stroke=palette.INK_SOFT,
        stroke_width="2",
    )
    tip, left, right = _at(radius, -55), _at(radius + 5, -49), _at(radius - 5, -49)
    return arc + svg.polygon([tip, left, right], fill=palette.INK_SOFT)


def side(angle: float, studs: int, nuts_fitted: bool, shift: float, uid: str) -> str:
    """Draw the rotor edge on, its outer face to the right, moved by ``shift`` with the plunger."""
    edge = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2"}
    y = CENTRE[1]
    rows = [_at(STUD_RADIUS, 360 * stud / studs - angle)[1] for stud in range(studs)]
    nuts = "".join(
        svg.rect(FACE_X + 22, row - 8, 12, 16, fill=palette.STEEL_LIGHT, stroke=palette.INK, stroke_width="1")
        if nuts_fitted
        else svg.rect(
            FACE_X + 22, row - 4, 16, 8, fill=palette.STEEL_DARK, stroke=palette.INK, stroke_width="1"
        )
        for row in rows
    )
    disc = svg.rect(
        FACE_X - 20,
        y - OUTER_RADIUS,
        20,
        2 * OUTER_RADIUS,
        fill=f"url(#{uid}-face)",
        data_part="disc",
        **edge,
    )
    return svg.group(
        nuts
        + svg.rect(FACE_X - 6, y - INNER_RADIUS, 28, 2 * INNER_RADIUS, fill=f"url(#{uid}-hat)", **edge)
        + disc,
        transform=f"translate({svg.num(shift)} 0)",
        data_part="side",
    )
