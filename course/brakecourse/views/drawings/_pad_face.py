"""A pad's friction face, seen square on: its outline, slot and chamfers, and what use has done to it."""

from __future__ import annotations

from brakecourse.views import palette, svg
from brakecourse.views.drawings._pad_shape import ARCH_SHARE, EAR_MM, SLOT_MM, STRIP_MM, DrawnPad

EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.1", "stroke_linejoin": "round"}


def face_defs(uid: str) -> str:
    """Return the gradients and textures of faces."""
    grain = (
        svg.circle(2, 2.5, 0.9, fill=palette.INK, fill_opacity="0.4")
        + svg.circle(7, 6, 1.2, fill=palette.INK, fill_opacity="0.3")
        + svg.circle(5, 9, 0.7, fill=palette.STEEL_WHITE, fill_opacity="0.7")
    )
    gloss = "".join(
        svg.tag("stop", offset=svg.num(offset), stop_color=palette.STEEL_WHITE, stop_opacity=svg.num(opacity))
        for offset, opacity in (
            (0, 0),
            (0.3, 0.1),
            (0.42, 0.85),
            (0.52, 0.15),
            (0.7, 0.55),
            (0.8, 0.05),
            (1, 0),
        )
    )
    return (
        svg.pattern(f"{uid}-grain", 10, grain)
        + svg.gradient(f"{uid}-back", [(0, palette.STEEL_LIGHT), (1, palette.STEEL_MID)])
        + svg.tag("linearGradient", gloss, id=f"{uid}-gloss", x1="0", y1="0", x2="1", y2="0.25")
    )


def face_height_mm(pad: DrawnPad) -> float:
    """Return how tall the picture of a face is: its height and its arch."""
    return pad.height_mm + ARCH_SHARE * pad.length_mm


def pad_face(pad: DrawnPad, x: float, y: float, scale: float, uid: str, *, name: str = "face") -> str:
    """Draw a face. The outer edge is at the top.

    Args:
        pad: which one.
        x, y: upper left corner of the lining's box.
        scale: pixels for each mm.
        uid: the drawing's.
        name: begins the names of its parts and ids.
    """
    wide, tall = scale * pad.length_mm, scale * pad.height_mm
    arch = scale * ARCH_SHARE * pad.length_mm
    outline = _outline(x, y, wide, tall, arch)
    clip = svg.tag("clipPath", svg.path(*outline), id=f"{uid}-{name}-clip")
    ear, third = scale * EAR_MM, tall / 3
    back = svg.rect(
        x - ear, y + arch + third * 0.9, wide + 2 * ear, third * 1.2, rx="3", fill=f"url(#{uid}-back)", **EDGE
    )
    rim = _outline(x - 2, y - 2, wide + 4, tall + 4, arch)
    inside = svg.group(
        _texture(pad, x, y, wide, tall + arch, arch, uid) + _marks(pad, x, y, wide, tall, arch, scale),
        clip_path=f"url(#{uid}-{name}-clip)",
    )
    return (
        svg.tag("defs", clip)
        + back
        + svg.path(*rim, fill=f"url(#{uid}-back)", **EDGE)
        + svg.path(*outline, fill=palette.LINING, data_part=name)
        + inside
        + svg.path(*outline, fill="none", **EDGE)
    )


def _outline(x: float, y: float, wide: float, tall: float, arch: float) -> tuple[str | float, ...]:
    """A box whose upper and lower edge bulge upwards by the arch."""
    mid = x + wide / 2
    return (
        *("M", x, y + arch, "Q", mid, y - arch, x + wide, y + arch),
        *("L", x + wide, y + arch + tall, "Q", mid, y - arch + tall, x, y + arch + tall, "Z"),
    )


def _spots(count: int, first: int = 1) -> list[tuple[float, float]]:
    """Places spread over a box, always the same: shares of its width and height."""
    return [((spot * 0.618034) % 1, (spot * 0.754878) % 1) for spot in range(first, first + count)]


def _blot(x: float, y: float, size: float, turn: int, **look: object) -> str:
    """An uneven round patch."""
    radii = (1.0, 0.72, 1.12, 0.8, 1.05, 0.66, 0.95, 0.78)
    unit = ((1, 0), (0.71, 0.71), (0, 1), (-0.71, 0.71), (-1, 0), (-0.71, -0.71), (0, -1), (0.71, -0.71))
    rim = [
        (x + 1.5 * size * radii[(k + turn) % 8] * unit[k][0], y + size * radii[(k + turn) % 8] * unit[k][1])
        for k in range(8)
    ]
    steps: list[str | float] = ["M", (rim[-1][0] + rim[0][0]) / 2, (rim[-1][1] + rim[0][1]) / 2]
    for k in range(8):
        after = rim[(k + 1) % 8]
        steps += ["Q", *rim[k], (rim[k][0] + after[0]) / 2, (rim[k][1] + after[1]) / 2]
    return svg.path(*steps, "Z", **look)


def _arcs(x: float, y: float, wide: float, tall: float, arch: float, count: int, **look: object) -> str:
    """Lines along the way that the rotor slides."""
    drawn = ""
    for line in range(1, count):
        high = y + arch + (tall - arch) * line / count
        drawn += svg.path(
            "M", x, high, "Q", x + wide / 2, high - 2 * arch, x + wide, high, fill="none", **look
        )
    return drawn


def _texture(pad: DrawnPad, x: float, y: float, wide: float, tall: float, arch: float, uid: str) -> str:
    box = (x, y, wide, tall)
    drawn = ""
    looks = pad.looks
    if "glazed" in looks:
        drawn += svg.rect(*box, fill=palette.STEEL_DARK, fill_opacity="0.45") + svg.rect(
            *box, fill=f"url(#{uid}-gloss)", data_part="look-gloss"
        )
    else:
        drawn += svg.rect(*box, fill=f"url(#{uid}-grain)")
        drawn += _arcs(*box, arch, 9, stroke=palette.STEEL_EDGE, stroke_width="0.6", stroke_opacity="0.35")
    if "uneven transfer" in looks:
        drawn += _patches(*box, arch)
    if "contaminated with grease" in looks:
        drawn += _grease(*box)
    if "contaminated with brake fluid" in looks:
        drawn += _fluid(*box)
    if "grooved" in looks:
        drawn += _arcs(*box, arch, 13, stroke=palette.INK, stroke_width="1.4", stroke_opacity="0.6")
    if "cracked" in looks:
        drawn += _cracks(*box)
    return drawn


def _patches(x: float, y: float, wide: float, tall: float, arch: float) -> str:
    """Material torn off here and smeared on there."""
    drawn = ""
    for place, (across, down) in enumerate(_spots(15)):
        dark = place % 3 != 2
        drawn += _blot(
            x + across * wide,
            y + arch / 2 + down * (tall - arch / 2),
            tall * (0.09 + 0.035 * (place % 4)),
            place,
            fill=palette.RUBBER if dark else palette.STEEL_WHITE,
            fill_opacity="0.62" if dark else "0.75",
            stroke=palette.INK if dark else palette.STEEL_EDGE,
            stroke_width="0.8",
            data_part="look-patch",
        )
    return drawn


def _grease(x: float, y: float, wide: float, tall: float) -> str:
    """Black grease, thick at the lower edge, thrown over the face in spots, with a wet gleam."""
    drawn = ""
    for place in range(9):
        drawn += _blot(
            x + wide * (0.04 + 0.115 * place),
            y + tall * (0.9 - 0.06 * (place % 3)),
            tall * (0.2 + 0.05 * (place % 2)),
            place,
            fill=palette.INK,
            fill_opacity="0.85",
            data_part="look-grease",
        )
    for place, (across, down) in enumerate(_spots(18, 3)):
        drawn += _blot(
            x + across * wide, y + down * tall, 1.6 + place % 3, place, fill=palette.INK, fill_opacity="0.8"
        )
    for place in range(4):
        left = x + wide * (0.12 + 0.22 * place)
        gleam = ("M", left, y + tall * 0.83, "q", wide * 0.03, -5, wide * 0.07, -1)
        drawn += svg.path(
            *gleam, fill="none", stroke=palette.STEEL_WHITE, stroke_width="1.8", stroke_linecap="round"
        )
    return drawn


def _fluid(x: float, y: float, wide: float, tall: float) -> str:
    """A wet stain in the middle with tide lines, and runs down from it."""
    drawn = ""
    for place, (size, opacity) in enumerate(((0.44, "0.35"), (0.34, "0.45"), (0.22, "0.5"))):
        drawn += _blot(
            x + wide * 0.46,
            y + tall * 0.62,
            tall * size,
            place,
            fill=palette.FLUID_DARK,
            fill_opacity=opacity,
            stroke=palette.FLUID_DARK,
            stroke_width="1.6",
            data_part="look-fluid",
        )
    runs = [
        (x + wide * share, y + tall * 0.6, x + wide * (share + 0.01), y + tall) for share in (0.36, 0.47, 0.6)
    ]
    return drawn + svg.strokes(
        runs, stroke=palette.FLUID_DARK, stroke_width="7", stroke_opacity="0.6", stroke_linecap="round"
    )


def _cracks(x: float, y: float, wide: float, tall: float) -> str:
    """Hair cracks across the face."""
    drawn = ""
    for place in range(6):
        left, top = x + wide * (0.1 + 0.16 * place), y + tall * (0.22 + 0.06 * (place % 3))
        jog = (0, 3, -2, 4, 1, -1)
        line = [(left + jog[(k + place) % 6], top + k * tall * 0.11) for k in range(5)]
        drawn += svg.polyline(line, stroke=palette.INK, stroke_width="1.3", data_part="look-crack")
    return drawn


def _marks(pad: DrawnPad, x: float, y: float, wide: float, tall: float, arch: float, scale: float) -> str:
    """Draw chamfers at both ends, the slot in the middle, and the step along the outer edge."""
    drawn = ""
    whole = tall + arch
    for end, at_left in (("leading", True), ("trailing", False)):
        cut = scale * pad.chamfer_mm((pad.corner(end, "outer") + pad.corner(end, "inner")) / 2)
        if cut <= 0.5:
            continue
        left, line = (x, x + cut) if at_left else (x + wide - cut, x + wide - cut)
        drawn += svg.rect(
            left, y, cut, whole, fill=palette.STEEL_WHITE, fill_opacity="0.35", data_part="chamfer"
        )
        drawn += svg.strokes([(line, y, line, y + whole)], stroke=palette.STEEL_EDGE, stroke_width="0.9")
    if pad.slot_left:
        slot = scale * SLOT_MM
        drawn += svg.rect(
            x + (wide - slot) / 2, y, slot, tall + arch, fill=palette.STEEL_EDGE, fill_opacity="0.9"
        )
    if pad.reading.step_mm > 0.2:
        strip = scale * STRIP_MM
        top = ("M", x, y + arch, "Q", x + wide / 2, y - arch, x + wide, y + arch)
        low = ("l", 0, strip, "Q", x + wide / 2, y - arch + strip, x, y + arch + strip, "Z")
        drawn += svg.path(*top, *low, fill=palette.STEEL_EDGE, fill_opacity="0.55", data_part="look-step")
        edge = ("M", x, y + arch + strip, "Q", x + wide / 2, y - arch + strip, x + wide, y + arch + strip)
        drawn += svg.path(*edge, fill="none", stroke=palette.INK, stroke_width="1.4")
    return drawn
