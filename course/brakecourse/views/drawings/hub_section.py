"""A rotor on its hub, cut through, with a flake of rust between them and a dial on the track.

The parts are at true proportion. The flake and the lean are drawn larger, by a factor that the picture tells.
"""

from __future__ import annotations

import math

from brakecourse.views import palette, svg
from brakecourse.views.drawings import _hub_section_parts as cut
from brakecourse.views.drawings import dial
from brakecourse.views.drawings import hub_shapes as shapes
from brakecourse.views.drawings._dial_words import describe
from brakecourse.views.drawings._hatch import steel_cut
from brakecourse.views.drawings._inputs import finite, within
from brakecourse.views.drawings._round import around

LARGER = 100
"""How many times larger the flake and the lean are drawn."""
MOST_FLAKE_MM = 0.2

WIDTH, HEIGHT = 640, 500
SEAT_X, AXLE_Y = 178.0, 282.0
OUTER_PX = 178.0
DIAL_SCALE = 0.7
INSET = (556.0, 396.0)
INSET_PX = 74.0
LEADER = {"stroke": palette.INK_SOFT, "stroke_width": "1"}


def hub_section_svg(
    size: shapes.HubAndRotor,
    flake_mm: float,
    *,
    uid: str,
    flake_deg: float = 0.0,
    turned_deg: float = 0.0,
    reading_mm: float | None = None,
    title: str = "A flake between hub and rotor",
) -> str:
    """Draw hub and rotor cut through, the flake between them, and a dial on the track.

    Args:
        size: hub and rotor.
        flake_mm: thickness of the flake, 0 to 0.2 mm.
        uid: a word that no other drawing on the page has.
        flake_deg: where it lies on the hub's seat, degrees in turning order from the chalk mark.
        turned_deg: how far hub and rotor are turned: the place at that angle stands at the dial.
        reading_mm: what the dial indicates, -5 to 5 mm; without it no dial is drawn.
        title: the name that a screen reader says.

    Returns:
        SVG text. Its description tells where the flake lies and where the needle stands, never the run-out.

    Raises:
        ValueError: a number is no number or out of range.

    Source:
        The rotor rests on the flake and on the far edge of the seat: the model of
        :func:`brakecourse.trade.hub_fit.tilt_deg`.

    Example:
        >>> size = shapes.HubAndRotor(142, 90, 116, 66, 22, 114, 5)
        >>> "drawn 100 times larger" in hub_section_svg(size, 0.05, uid="h1")
        True
    """
    flake = within(flake_mm, "thickness of the flake in mm", 0, MOST_FLAKE_MM)
    turned = finite(turned_deg, "angle in degrees") % 360
    from_top = (finite(flake_deg, "place of the flake in degrees") - turned) % 360
    reading = None if reading_mm is None else dial.dial_reading(reading_mm)
    svg.check_uid(uid)
    scale = OUTER_PX / size.outer_mm
    leaning = cut.lean(flake, size.seat_mm, from_top, LARGER)
    section = (
        cut.hub(size, scale, turned, uid)
        + cut.flake(size, scale, flake, from_top, LARGER)
        + svg.group(
            cut.rotor(size, scale, turned, uid),
            transform=f"translate({svg.num(leaning.out_mm * scale)} 0) rotate({svg.num(leaning.degrees)})",
            data_part="leaning",
        )
    )
    body = (
        svg.group(section, transform=f"translate({svg.num(SEAT_X)} {svg.num(AXLE_Y)})")
        + (_dial(size, scale, leaning, reading, uid) if reading is not None else "")
        + _radii(size, scale)
        + _names(size, scale, leaning, from_top if flake else None)
        + _inset(size, from_top if flake else None, turned, uid, dial_there=reading is not None)
    )
    desc = _desc(flake, from_top, turned, leaning, reading)
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _dial(size: shapes.HubAndRotor, scale: float, leaning: cut.Lean, reading: float, uid: str) -> str:
    y = AXLE_Y - size.measuring_mm * scale
    upright = SEAT_X - cut.DEEP_MM * scale
    shift = leaning.face_out_mm(size.measuring_mm) * scale
    x = upright + dial.TIP_Y * DIAL_SCALE
    # The tip follows the face as it is drawn; the needle tells what it truly does.
    stem = svg.group(dial.stem(shift / (dial.PX_PER_MM * DIAL_SCALE), uid), transform="rotate(90)")
    place = f"translate({svg.num(x)} {svg.num(y)}) scale({DIAL_SCALE})"
    return svg.group(stem + dial.face(reading, uid), transform=place)


def _radii(size: shapes.HubAndRotor, scale: float) -> str:
    """Draw the two radii that the formula needs, from the axle outwards."""
    drawn = ""
    for x, radius, name in ((24.0, size.measuring_mm, "r"), (58.0, size.seat_mm, "s")):
        top = AXLE_Y - radius * scale
        heads = [
            (x - 4, top + 9, x, top), (x + 4, top + 9, x, top),
            (x - 4, AXLE_Y - 9, x, AXLE_Y), (x + 4, AXLE_Y - 9, x, AXLE_Y),
        ]  # fmt: skip
        drawn += (
            svg.line(
                x - 6,
                top,
                SEAT_X - 50 * scale if name == "r" else SEAT_X - cut.FLANGE_MM * scale,
                top,
                **LEADER,
            )
            + svg.line(
                x, top, x, AXLE_Y, stroke=palette.BLUE_TEXT, stroke_width="1.6", data_part=f"radius-{name}"
            )
            + svg.strokes(heads, stroke=palette.BLUE_TEXT, stroke_width="1.6")
            + svg.text(x + 6, (top + AXLE_Y) / 2, name, size=18, fill=palette.BLUE_TEXT, font_weight="bold")
        )
    return drawn + svg.line(14, AXLE_Y, 90, AXLE_Y, **LEADER)


def _names(size: shapes.HubAndRotor, scale: float, leaning: cut.Lean, flake_deg: float | None) -> str:
    face = -(size.outer_mm - 12)  # below the axle
    face_x = SEAT_X + (leaning.face_out_mm(face) - cut.DEEP_MM) * scale
    hat_y = AXLE_Y + (size.hat_mm - 6) * scale
    hat_x = SEAT_X + (leaning.out_mm + shapes.PLATE_MM - 4) * scale
    notes = ("r: measuring radius", "s: seat radius", f"flake and lean drawn {LARGER} times larger")
    hub_x = SEAT_X - 30 * scale
    named = (
        svg.rect(hub_x - 19, AXLE_Y + 12, 38, 20, rx="4", fill=palette.STEEL_LIGHT)
        + svg.text(hub_x, AXLE_Y + 27, "hub", size=15, anchor="middle", font_weight="bold")
        + svg.line(hat_x, hat_y, 288, 424, **LEADER)
        + svg.text(292, 430, "hat", size=15)
        + svg.line(face_x, AXLE_Y - face * scale, 288, 448, **LEADER)
        + svg.text(292, 454, "friction face", size=15)
        + svg.text(16, 28, notes[0], size=14, fill=palette.BLUE_TEXT)
        + svg.text(16, 48, notes[1], size=14, fill=palette.BLUE_TEXT)
        + svg.text(16, HEIGHT - 10, notes[2], size=14, fill=palette.INK_SOFT)
    )
    if flake_deg is None:
        return named
    y = AXLE_Y - (size.seat_mm - 5) * math.cos(math.radians(flake_deg)) * scale
    x, word_y = SEAT_X + leaning.out_mm * scale, 300.0 if y < AXLE_Y - 20 else 400.0
    return named + svg.line(x, y, 288, word_y - 6, **LEADER) + svg.text(292, word_y, "flake of rust", size=15)


def _inset(
    size: shapes.HubAndRotor, flake_deg: float | None, turned: float, uid: str, *, dial_there: bool
) -> str:
    """Draw the rotor small from the front, with the flake's place under the hat and the dial's place."""
    scale = INSET_PX / size.outer_mm
    touch = around(0, size.measuring_mm * scale)
    drawn = shapes.front(size, scale, -turned, uid, nuts=True)
    drawn += svg.circle(
        0,
        0,
        size.seat_mm * scale,
        fill="none",
        stroke=palette.BLUE_TEXT,
        stroke_width="1.2",
        stroke_dasharray="4 3",
    )
    if flake_deg is not None:
        x, y = around(flake_deg, (size.seat_mm - 5) * scale)
        drawn += svg.circle(
            x, y, 6, fill=palette.RUST, stroke=palette.CHALK, stroke_width="1.5", data_part="flake-spot"
        )
    if dial_there:
        drawn += svg.circle(
            *touch, 6, fill="none", stroke=palette.VERMILLION_TEXT, stroke_width="2.5", data_part="touch"
        )
    words = svg.text(0, -INSET_PX - 24, "from the front", size=14, anchor="middle") + svg.text(
        0, -INSET_PX - 8, f"turned {turned:g}°", size=14, anchor="middle"
    )
    return svg.group(drawn + words, transform=f"translate({INSET[0]} {INSET[1]})")


def _desc(flake: float, from_top: float, turned: float, leaning: cut.Lean, reading: float | None) -> str:
    told = f"A cut through a hub and the rotor on it, all wheel nuts fitted, turned {turned:g} degrees. "
    if flake:
        places = ("at the top", "in front of the cut", "at the bottom", "behind the cut")
        where = places[round(from_top / 90) % 4]
        side = "outwards" if leaning.degrees > 0 else "inwards"
        upright = math.isclose(leaning.degrees, 0, abs_tol=0.05)
        told += f"A flake of rust lies between them, {where}, at the edge of the hub's seat. "
        told += "In this cut the rotor stands upright. " if upright else f"Its top leans {side}. "
    else:
        told += "Nothing lies between them, and the rotor stands upright. "
    told += f"Flake and lean are drawn {LARGER} times larger than they are; all else is at true proportion."
    return (
        told
        if reading is None
        else f"{told} The dial touches the friction face at the top. {describe(reading)}"
    )


def _defs(uid: str) -> str:
    iron = svg.pattern(
        f"{uid}-iron-cut",
        6,
        svg.tag("path", d="M0 0V6", stroke=palette.STEEL_EDGE, stroke_width="1"),
        turn_deg=-45,
    )
    return dial.defs(uid) + shapes.front_defs(uid) + steel_cut(uid) + iron
