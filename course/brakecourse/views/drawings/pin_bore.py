"""A slide pin in its bore, cut through: where the grease is, where air is left, how far the pin goes in."""

from __future__ import annotations

import math
from typing import Any

from brakecourse.trade.slide_pins import free_volume_ml, seated_gap_mm
from brakecourse.views import palette, svg
from brakecourse.views.drawings._hatch import steel_cut
from brakecourse.views.drawings._inputs import within

WIDTH, HEIGHT = 640, 400
AXIS_Y = 136.0
WALL_MM = 5.0
END_MM = 6.0
BOOT_MM = 8.0
COLLAR_MM = 5.0
RULE_MM = 15
LEFT_PX, RIGHT_PX = 20.0, 620.0
LARGER = 14  # of the lens
EDGE: dict[str, Any] = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.3", "stroke_linejoin": "round"}


def pin_bore_svg(
    grease_ml: float,
    *,
    bore_mm: float,
    depth_mm: float,
    pin_mm: float,
    seated_mm: float,
    uid: str,
    title: str = "A slide pin in its bore",
) -> str:
    """Draw a slide pin pushed into its blind bore as far as it goes, cut lengthwise, at true proportion.

    Args:
        grease_ml: grease in the bore, mL, 0 to what the whole bore holds.
        bore_mm, depth_mm: the bore's diameter and depth, mm.
        pin_mm, seated_mm: the pin's diameter, and its length in the bore when seated, mm.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. The grease lies round the pin first, the rest at the bottom of the bore. The rule below the
        collar begins where the collar stands when the pin is seated. The description tells no length.

    Raises:
        ValueError: a number is no number or out of range.

    Source:
        Geometry; how far the pin goes: :func:`brakecourse.trade.slide_pins.seated_gap_mm`.
    """
    free = free_volume_ml(bore_mm, depth_mm, pin_mm, seated_mm)
    whole = math.pi / 4 * bore_mm**2 * depth_mm / 1000
    grease = within(grease_ml, "grease in mL", 0, whole)
    svg.check_uid(uid)
    gap = seated_gap_mm(grease, bore_mm, depth_mm, pin_mm, seated_mm)
    px = (RIGHT_PX - LEFT_PX) / (RULE_MM + COLLAR_MM + BOOT_MM + depth_mm + END_MM + 6)
    px = min(px, 150 / (bore_mm + 2 * WALL_MM))
    face = RIGHT_PX - px * (depth_mm + END_MM)
    tip = face + px * (seated_mm - gap)
    film = math.pi / 4 * (bore_mm**2 - pin_mm**2) * (seated_mm - gap) / 1000
    seat = face - px * BOOT_MM  # where the collar stands when the pin is seated
    body = (
        _bracket(face, px, bore_mm, depth_mm, uid)
        + _grease(face, tip, px, grease, bore_mm, depth_mm, pin_mm, seated_mm - gap, uid)
        + _pin(face, tip, px, pin_mm, seat - px * gap, uid)
        + _boot(face, seat - px * gap, px, pin_mm)
        + _rule(seat, seat - px * gap, px, bore_mm)
        + _lens(tip, px, bore_mm, pin_mm, 1000 * grease / (math.pi / 4 * (bore_mm**2 - pin_mm**2)), uid)
        + _words(face, tip, px, bore_mm, depth_mm, slug=grease > film, air=grease < 0.98 * free)
    )
    desc = _desc(grease, free, gap)
    return svg.frame(WIDTH, HEIGHT, body, uid=uid, title=title, desc=desc, defs=_defs(uid))


def _bracket(face: float, px: float, bore: float, depth: float, uid: str) -> str:
    half = px * (bore / 2 + WALL_MM)
    where = (face, AXIS_Y - half, RIGHT_PX - face, 2 * half)
    return (
        svg.rect(*where, rx="5", fill=palette.IRON, data_part="bracket", **EDGE)
        + svg.rect(*where, rx="5", fill=f"url(#{uid}-steel-cut)", fill_opacity="0.7")
        + svg.rect(
            face, AXIS_Y - px * bore / 2, px * depth, px * bore, fill=palette.PAPER, data_part="bore", **EDGE
        )
    )


def _grease(
    face: float,
    tip: float,
    px: float,
    grease: float,
    bore: float,
    depth: float,
    pin: float,
    inserted: float,
    uid: str,
) -> str:
    """Draw the film round the pin, from its tip outwards, then what is left at the bottom of the bore."""
    ring_mm2, bore_mm2 = math.pi / 4 * (bore**2 - pin**2), math.pi / 4 * bore**2
    film_mm = min(inserted, 1000 * grease / ring_mm2)
    slug_mm = (1000 * grease - film_mm * ring_mm2) / bore_mm2
    drawn = ""
    for fill in (palette.ORANGE, f"url(#{uid}-beads)"):
        if film_mm > 0.01:
            for y in (AXIS_Y - px * bore / 2, AXIS_Y + px * pin / 2):
                drawn += svg.rect(
                    tip - px * film_mm, y, px * film_mm, px * (bore - pin) / 2, fill=fill, data_part="film"
                )
        if slug_mm > 0.01:
            end = face + px * depth
            drawn += svg.rect(
                end - px * slug_mm, AXIS_Y - px * bore / 2, px * slug_mm, px * bore, fill=fill,
                data_part="slug",
            )  # fmt: skip
    return drawn


def _pin(face: float, tip: float, px: float, pin: float, collar: float, uid: str) -> str:
    half, wide = px * pin / 2, px * (pin / 2 + 2.5)
    shank = svg.rect(
        collar, AXIS_Y - half, tip - collar, 2 * half, rx="2", fill=f"url(#{uid}-round)", data_part="pin",
        **EDGE,
    )  # fmt: skip
    ring = svg.rect(
        collar - px * COLLAR_MM, AXIS_Y - wide, px * COLLAR_MM, 2 * wide, rx="3", fill=f"url(#{uid}-round)",
        data_part="collar", **EDGE,
    )  # fmt: skip
    return shank + ring


def _boot(face: float, collar: float, px: float, pin: float) -> str:
    drawn, reach = "", face - collar
    for way in (-1, 1):
        folds = [
            (collar + reach * fold / 8, AXIS_Y + way * px * (pin / 2 + (2.6 if fold % 2 else 0.9)))
            for fold in range(9)
        ]
        drawn += svg.polyline(folds, stroke=palette.RUBBER, stroke_width="4", stroke_linejoin="round")
    return drawn


def _rule(seat: float, collar: float, px: float, bore: float) -> str:
    """Draw a rule that counts the millimetres from the seat, to the left."""
    y = AXIS_Y + px * (bore / 2 + WALL_MM) + 22
    longest = min(RULE_MM, int((seat - LEFT_PX) / px))
    ticks = [(seat - px * mm, y, seat - px * mm, y + (12 if mm % 5 == 0 else 7)) for mm in range(longest + 1)]
    drawn = svg.line(
        seat,
        AXIS_Y - px * (bore / 2 + 3.5),
        seat,
        y,
        stroke=palette.BLUE_TEXT,
        stroke_width="1.6",
        stroke_dasharray="6 4",
        data_part="seat",
    )
    drawn += svg.line(seat - px * longest, y, seat, y, stroke=palette.INK, stroke_width="1.4")
    drawn += svg.line(collar, AXIS_Y, collar, y, stroke=palette.INK, stroke_width="1.4", data_part="reach")
    drawn += svg.strokes(ticks, stroke=palette.INK, stroke_width="1.2", data_part="rule")
    for mm in range(0, longest + 1, 5):
        drawn += svg.text(seat - px * mm, y + 27, mm, size=14, anchor="middle", data_part="rule-number")
    return drawn + svg.text(LEFT_PX, y + 46, "mm short of the seat", size=14)


def _lens(tip: float, px: float, bore: float, pin: float, film_mm: float, uid: str) -> str:
    """Draw a little of the gap beside the pin's tip, larger, with its grease."""
    x, y, radius = 470.0, 318.0, 66.0
    spot = (tip - 4 * px, AXIS_Y + px * (bore + pin) / 4)
    many = LARGER * px / 2
    gap = max(2.0, (bore - pin) / 2 * LARGER * px)
    inside = svg.rect(x - radius, y - radius, 2 * radius, radius - gap / 2, fill=f"url(#{uid}-round)")
    inside += svg.rect(x - radius, y - gap / 2, 2 * radius, gap, fill=palette.PAPER)
    reach = min(2 * radius, film_mm * many)
    for fill in (palette.ORANGE, f"url(#{uid}-beads)"):
        inside += svg.rect(x + radius - reach, y - gap / 2, reach, gap, fill=fill) if reach > 0.1 else ""
    iron = (x - radius, y + gap / 2, 2 * radius, radius)
    inside += svg.rect(*iron, fill=palette.IRON) + svg.rect(*iron, fill=f"url(#{uid}-steel-cut)")
    inside += svg.line(x - radius, y - gap / 2, x + radius, y - gap / 2, stroke=palette.STEEL_EDGE)
    inside += svg.line(x - radius, y + gap / 2, x + radius, y + gap / 2, stroke=palette.STEEL_EDGE)
    ring: dict[str, Any] = {"fill": "none", "stroke": palette.INK, "stroke_width": "1.6"}
    return (
        svg.circle(*spot, 9, **ring)
        + svg.line(spot[0], spot[1] + 9, x - 20, y - radius + 3, stroke=palette.INK, stroke_width="1")
        + svg.group(inside, clip_path=f"url(#{uid}-lens)")
        + svg.circle(x, y, radius, **ring)
        + svg.text(x - radius - 8, y - 30, "pin", size=15, anchor="end")
        + svg.text(x - radius - 8, y + 5, "play, larger", size=15, anchor="end")
        + svg.text(x - radius - 8, y + 42, "bracket", size=15, anchor="end")
    )


def _words(face: float, tip: float, px: float, bore: float, depth: float, *, slug: bool, air: bool) -> str:
    top = AXIS_Y - px * (bore / 2 + WALL_MM)
    end = face + px * depth
    middle = (tip + end) / 2
    low = AXIS_Y + px * (bore / 2 + WALL_MM)
    look = {"stroke": palette.INK_SOFT, "stroke_width": "1"}
    drawn = svg.text((face + tip) / 2, AXIS_Y + 5, "pin", size=16, anchor="middle", font_weight="bold")
    drawn += svg.text(face + 8, top + 0.6 * px * WALL_MM + 4, "bracket", size=15)
    seat = face - px * BOOT_MM
    drawn += svg.text(
        seat, AXIS_Y - px * (bore / 2 + 3.5) - 8, "seated here", size=15, anchor="middle",
        fill=palette.BLUE_TEXT,
    )  # fmt: skip
    if slug:
        drawn += svg.line(end - 4, AXIS_Y + px * bore / 4, end - 14, low + 16, **look)
        drawn += svg.text(end - 10, low + 31, "grease", size=15, anchor="middle")
    if air:
        drawn += svg.line(tip + 4, AXIS_Y - px * bore / 4, middle - 40, top - 12, **look)
        drawn += svg.text(middle - 44, top - 16, "air", size=15, anchor="middle")
    return drawn


def _desc(grease: float, free: float, gap: float) -> str:
    told = "A slide pin in the blind bore of a bracket, cut lengthwise, its collar and folded boot outside. "
    if not grease:
        told += "The bore is dry. "
    elif grease < free:
        told += "Grease lies round the pin"
        told += " and at the bottom of the bore; between them there is air. "
    else:
        told += "Grease fills all the room there is. No air is left. "
    return told + (
        "The pin's collar stands short of its seat." if gap > 0 else "The pin's collar stands at its seat."
    )


def _defs(uid: str) -> str:
    down = [(0, palette.STEEL_MID), (0.35, palette.STEEL_WHITE), (1, palette.STEEL_DARK)]
    beads = svg.circle(2.5, 2.5, 1.1, fill=palette.INK, fill_opacity="0.6")
    lens = svg.tag("clipPath", svg.circle(470, 318, 66), id=f"{uid}-lens")
    return svg.gradient(f"{uid}-round", down) + svg.pattern(f"{uid}-beads", 6, beads) + steel_cut(uid) + lens
