"""The two mating faces side by side, bare metal or rusty: the hub's seat and the inside of the hat."""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings import hub_shapes as shapes
from brakecourse.views.drawings._inputs import finite
from brakecourse.views.drawings._round import around

WIDTH, HEIGHT = 640, 350
HUB_AT, HAT_AT = (164.0, 176.0), (476.0, 176.0)
HAT_PX = 138.0
BLOTCHES = 9


def hub_face_svg(
    size: shapes.HubAndRotor,
    *,
    uid: str,
    rusty: bool,
    flake_deg: float = 0.0,
    title: str = "The two mating faces",
) -> str:
    """Draw the hub's seat and the inside of the hat, as they are found.

    Args:
        size: hub and rotor.
        uid: a word that no other drawing on the page has.
        rusty: rust stands on both faces, and one flake of it on the hub's edge.
        flake_deg: where that flake lies, degrees clockwise from stud 0.
        title: the name that a screen reader says.

    Returns:
        SVG text.

    Raises:
        ValueError: the angle is no number.

    Example:
        >>> size = shapes.HubAndRotor(142, 90, 116, 66, 22, 114, 5)
        >>> "bare metal" in hub_face_svg(size, uid="f1", rusty=False)
        True
    """
    flake = finite(flake_deg, "place of the flake in degrees") % 360
    svg.check_uid(uid)
    scale = HAT_PX / size.hat_mm
    hub = _hub(size, scale, uid) + (_rust(size, scale, flake, uid, pilot=True) if rusty else "")
    hat = _hat(size, scale, uid) + (_rust(size, scale, -flake, uid, pilot=False) if rusty else "")
    body = (
        svg.group(hub + shapes.studs(size, scale), transform=f"translate({HUB_AT[0]:g} {HUB_AT[1]:g})")
        + svg.group(hat + _holes(size, scale), transform=f"translate({HAT_AT[0]:g} {HAT_AT[1]:g})")
        + svg.text(HUB_AT[0], 334, "the hub's seat", size=15, anchor="middle")
        + svg.text(HAT_AT[0], 334, "the inside of the hat", size=15, anchor="middle")
    )
    if rusty:
        hour = round(flake / 30) % 12 or 12
        state = (
            "Blotches of rust stand on both. On the hub one flake stands up higher than the rest, at the "
            f"edge of the seat, near {hour} o'clock."
        )
    else:
        state = "Both are bare metal, bright and even, with fine marks from the wire brush."
    desc = f"The two faces that lie on each other: the hub's seat and the inside of the rotor's hat. {state}"
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _hub(size: shapes.HubAndRotor, scale: float, uid: str) -> str:
    seat, pilot = size.seat_mm * scale, (size.bore_mm - 2) * scale
    return (
        svg.circle(0, 0, seat, fill=f"url(#{uid}-face)", data_part="seat", **shapes.EDGE)
        + _brushed(pilot, seat)
        + svg.circle(0, 0, pilot, fill=f"url(#{uid}-hat)", **shapes.EDGE)
        + svg.circle(0, 0, pilot * 0.62, fill=palette.STEEL_DARK, stroke=palette.INK, stroke_width="1")
    )


def _hat(size: shapes.HubAndRotor, scale: float, uid: str) -> str:
    wall, inside, bore = (radius * scale for radius in (size.hat_mm, size.hat_inside_mm, size.bore_mm))
    return (
        svg.circle(0, 0, wall, fill=palette.IRON, **shapes.EDGE)
        + svg.circle(0, 0, inside, fill=f"url(#{uid}-face)", **shapes.EDGE)
        + _brushed(bore, inside)
        + svg.circle(0, 0, bore, fill=palette.PAPER, **shapes.EDGE)
    )


def _holes(size: shapes.HubAndRotor, scale: float) -> str:
    drawn = ""
    for stud in range(size.studs):
        x, y = around(-360 * stud / size.studs, size.stud_circle_mm / 2 * scale)
        drawn += svg.circle(x, y, 7 * scale, fill=palette.PAPER, stroke=palette.INK, stroke_width="1")
    return drawn


def _brushed(inner: float, outer: float) -> str:
    look = {"fill": "none", "stroke": palette.STEEL_MID, "stroke_width": "0.6", "stroke_opacity": "0.6"}
    return "".join(svg.circle(0, 0, radius, **look) for radius in range(int(inner) + 4, int(outer) - 1, 5))


def _blotch(x: float, y: float, wide: float, turn: int) -> list[svg.Point]:
    """Return a ragged outline. The same turn always gives the same one."""
    points = []
    for corner in range(11):
        angle = math.tau * corner / 11
        ragged = wide * (0.72 + 0.28 * math.sin(5.3 * corner + 2.1 * turn))
        points.append((x + ragged * math.cos(angle), y + 0.7 * ragged * math.sin(angle)))
    return points


def _rust(size: shapes.HubAndRotor, scale: float, flake: float, uid: str, *, pilot: bool) -> str:
    drawn = ""
    for blotch in range(BLOTCHES):
        turn = flake + 17 + 38.5 * blotch
        out = size.bore_mm + (size.seat_mm - size.bore_mm) * (0.45 + 0.35 * math.sin(3.7 * blotch + flake))
        x, y = around(turn, out * scale)
        spots = _blotch(x, y, (9 + 2.4 * (blotch % 4)) * scale, blotch)
        drawn += svg.polygon(spots, fill=palette.RUST, fill_opacity="0.8", data_part="rust")
        drawn += svg.polygon(spots, fill=f"url(#{uid}-rust)")
    x, y = around(flake, (size.seat_mm - 9) * scale)
    spots = _blotch(x, y, 18 * scale, 3)
    if not pilot:  # on the hat only its print is left
        return drawn + svg.polygon(spots, fill="none", stroke=palette.RUST, stroke_width="1.5")
    shade = [(spot[0] + 2.5, spot[1] + 3.5) for spot in spots]
    return (
        drawn
        + svg.polygon(shade, fill=palette.INK, fill_opacity="0.4")
        + svg.polygon(spots, fill=palette.RUST, stroke=palette.INK, stroke_width="1.2", data_part="flake")
        + svg.polygon(spots, fill=f"url(#{uid}-rust)")
    )


def _defs(uid: str) -> str:
    grains = svg.circle(3, 3, 1.1, fill=palette.INK, fill_opacity="0.7") + svg.circle(
        6, 6.5, 0.8, fill=palette.ORANGE
    )
    return shapes.front_defs(uid) + svg.pattern(f"{uid}-rust", 8, grains)
