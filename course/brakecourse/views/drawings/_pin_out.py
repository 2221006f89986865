"""A slide pin that has been drawn from its bore: steel, grease on it, rust, its flat, its boot."""

from __future__ import annotations

from typing import Any, Protocol

from brakecourse.views import palette, svg

EDGE: dict[str, Any] = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}
THIN_SHARE = 0.25  # below this a film has gaps; assumption, no source
_SPOTS = (
    (0.06, 0.3),
    (0.17, 0.7),
    (0.28, 0.25),
    (0.4, 0.6),
    (0.52, 0.35),
    (0.63, 0.75),
    (0.75, 0.3),
    (0.88, 0.6),
)


class Look(Protocol):
    """What must be known of a pin; see :class:`brakecourse.views.drawings.bracket_parts.PinLook`."""

    @property
    def grease_share(self) -> float: ...
    @property
    def scored(self) -> bool: ...
    @property
    def flat(self) -> bool: ...
    @property
    def boot_torn(self) -> bool: ...


def pin_out(
    look: Look, x: float, y: float, px: float, pin_mm: float, length_mm: float, uid: str, end: str
) -> str:
    """Draw a pin lying from left (collar) to right (tip).

    Args:
        look: how it looks.
        x, y: left end and middle line on the picture.
        px: picture units for a millimetre.
        pin_mm, length_mm: its diameter, and its length from the boot to the tip.
        uid: the drawing's.
        end: names its parts.
    """
    half, collar, boot = px * pin_mm / 2, px * 5, px * 8
    tip = x + collar + boot + px * length_mm
    steel = f"url(#{uid}-bright)"
    drawn = svg.rect(
        x + collar, y - half, tip - x - collar, 2 * half, rx="3", fill=steel, data_part=f"shank-{end}", **EDGE
    )
    if look.flat:
        flat = (tip - px * 15, y - half, px * 15, 0.42 * 2 * half)
        drawn += svg.rect(*flat, fill=palette.STEEL_LIGHT, data_part=f"flat-{end}", **EDGE)
        drawn += svg.line(tip - px * 7, y - half + 5, tip - px * 10, y - half - 16, stroke=palette.INK_SOFT)
        drawn += svg.text(tip - px * 10, y - half - 20, "flat", size=15, anchor="middle")
    drawn += _grease(look.grease_share, x + collar + boot, tip, y, half, uid, end)
    if look.scored:
        for along, across in _SPOTS:
            spot = (x + collar + boot + along * px * length_mm, y - half + across * 2 * half)
            drawn += svg.tag(
                "ellipse", cx=svg.num(spot[0]), cy=svg.num(spot[1]), rx="7", ry="3.2", fill=palette.RUST,
                data_part=f"rust-spot-{end}",
            )  # fmt: skip
    drawn += svg.rect(x, y - half - 9, collar, 2 * half + 18, rx="3", fill=steel, **EDGE)
    return drawn + _boot(look.boot_torn, x + collar, boot, y, half, end)


def _grease(share: float, left: float, tip: float, y: float, half: float, uid: str, end: str) -> str:
    """Draw the film in strips: few for little, all along for enough, and a lump for too much."""
    drawn, many = "", 8
    filled = min(many, round(many * share / THIN_SHARE / 2)) if share < 2 * THIN_SHARE else many
    wide = (tip - left) / many
    for strip in range(filled):
        where = (left + wide * (strip * 3 % many), y + 0.25 * half, wide, 0.75 * half)
        for fill in (palette.ORANGE, f"url(#{uid}-beads)"):
            drawn += svg.rect(*where, fill=fill, data_part=f"film-{end}")
    if share > 1.2:
        lump = (
            "M",
            tip - 14,
            y - half,
            "C",
            tip + 26,
            y - half - 6,
            tip + 34,
            y + half + 10,
            tip - 14,
            y + half,
            "Z",
        )
        for fill in (palette.ORANGE, f"url(#{uid}-beads)"):
            drawn += svg.path(*lump, fill=fill, stroke=palette.INK, stroke_width="1", data_part=f"lump-{end}")
    return drawn


def _boot(torn: bool, x: float, wide: float, y: float, half: float, end: str) -> str:
    drawn = ""
    for fold in range(3):
        drawn += svg.rect(
            x + wide * fold / 3, y - half - 6, wide / 3 - 1, 2 * half + 12, rx="3", fill=palette.RUBBER,
            data_part=f"boot-{end}",
        )  # fmt: skip
    if torn:
        gash = [
            (x + 2, y - 8),
            (x + wide * 0.5, y - 14),
            (x + wide - 4, y - 3),
            (x + wide * 0.6, y + 2),
            (x + 6, y + 7),
        ]
        drawn += svg.polygon(
            gash, fill=palette.STEEL_LIGHT, stroke=palette.CHALK, stroke_width="1.5", data_part=f"tear-{end}"
        )
        drawn += svg.line(x + wide / 2, y + half + 6, x + wide / 2, y + half + 16, stroke=palette.INK_SOFT)
        drawn += svg.text(x + wide / 2, y + half + 30, "torn boot", size=15, anchor="middle")
    return drawn


def pin_words(look: Look) -> str:
    """Say what can be seen of a pin."""
    if look.grease_share > 1.2:
        grease = "carries a lump of grease at its tip"
    elif look.grease_share < THIN_SHARE:
        grease = "is nearly dry"
    else:
        grease = "carries a thin film of grease"
    told = f"{grease}{', with spots of rust' if look.scored else ''}"
    told += f"; it is the pin {'with' if look.flat else 'without'} the flat"
    return told + f"; its boot is {'torn' if look.boot_torn else 'whole'}"
