"""What lies on the bench of one wheel: both slide pins, both clips from their end, and the piston's boot."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from brakecourse.views import palette, svg
from brakecourse.views.drawings._hatch import steel_cut
from brakecourse.views.drawings._inputs import within
from brakecourse.views.drawings._pin_out import pin_out, pin_words

WIDTH, HEIGHT = 640, 452
CLIP_PX = 32.0  # for each mm of clip and rust
CLIP_MM = 0.6
EDGE: dict[str, Any] = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}
ENDS = ("leading", "trailing")


@dataclass(frozen=True)
class PinLook:
    """How a slide pin looks when it is drawn.

    Args:
        grease_share: grease in its bore over the most that may go in, 0 or more.
        scored: it has rubbed dry: rust and bright marks.
        flat: it is the pin with the flat.
        boot_torn: its boot is torn.
    """

    grease_share: float
    scored: bool = False
    flat: bool = False
    boot_torn: bool = False

    def __post_init__(self) -> None:
        within(self.grease_share, "share of grease", 0, 1000)


@dataclass(frozen=True)
class BracketLook:
    """What lies on the bench.

    Args:
        pins: leading and trailing, each as it came out of that bore.
        pin_mm, length_mm: a pin's diameter, and its length in the bore.
        clip_rust_mm: rust under the clips, leading and trailing, 0 to 2 mm.
        piston_boot_torn: the piston's boot is torn.
    """

    pins: tuple[PinLook, PinLook]
    pin_mm: float
    length_mm: float
    clip_rust_mm: tuple[float, float]
    piston_boot_torn: bool = False

    def __post_init__(self) -> None:
        within(self.pin_mm, "diameter of the pin in mm", 4, 20)
        within(self.length_mm, "length of the pin in mm", 10, 120)
        for rust in self.clip_rust_mm:
            within(rust, "rust under a clip in mm", 0, 2)


def bracket_parts_svg(look: BracketLook, *, uid: str, title: str = "The parts on the bench") -> str:
    """Draw both pins as they came out, both clips seen from their end, and the piston with its boot.

    Args:
        look: what is there.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    Returns:
        SVG text. The pins are at true proportion, clip and rust drawn larger, which the picture tells. The
        description tells what can be seen of each part.

    Raises:
        ValueError: it is no look, or the uid cannot be one.

    Source:
        Common practice, no source.
    """
    if not isinstance(look, BracketLook):
        raise ValueError(f"A BracketLook was expected, but it was {str(look)[:40]!r}.")
    svg.check_uid(uid)
    px = min(4.0, 236 / (look.length_mm + 16), 62 / look.pin_mm)
    drawn = svg.text(20, 26, "The slide pins, each as it came out of its bore", size=16, font_weight="bold")
    for place, (pin, end) in enumerate(zip(look.pins, ENDS, strict=True)):
        x = 20 + 312 * place
        drawn += pin_out(pin, x, 108, px, look.pin_mm, look.length_mm, uid, end)
        drawn += svg.text(x, 186, f"{end} bore", size=15, fill=palette.INK_SOFT)
    drawn += svg.text(20, 226, "Under the clips, drawn larger", size=16, font_weight="bold")
    for place, (rust, end) in enumerate(zip(look.clip_rust_mm, ENDS, strict=True)):
        drawn += _clip(rust, 20 + 172 * place, uid, end)
    drawn += svg.text(392, 226, "The piston and its boot", size=16, font_weight="bold")
    drawn += _piston(look.piston_boot_torn, uid)
    return svg.frame(WIDTH, HEIGHT, drawn, uid=uid, title=title, desc=_desc(look), defs=_defs(uid))


def _clip(rust_mm: float, x: float, uid: str, end: str) -> str:
    """Draw the bracket's step from its end: iron, rust, the clip on it, and the ear of a pad."""
    wide, floor = 148.0, 392.0
    rust, clip = rust_mm * CLIP_PX, CLIP_MM * CLIP_PX
    iron = (x, floor, wide, 26.0)
    drawn = svg.rect(*iron, fill=palette.IRON, **EDGE) + svg.rect(*iron, fill=f"url(#{uid}-steel-cut)")
    if rust > 0.5:
        tops = [floor - rust * (0.72 if bump % 2 else 1.0) for bump in range(17)]
        crust = [(x + wide * bump / 16, top) for bump, top in enumerate(tops)]
        shape = [(x, floor), *crust, (x + wide, floor)]
        drawn += svg.polygon(shape, fill=palette.RUST, stroke=palette.INK, data_part=f"rust-{end}")
    top = floor - rust - clip
    drawn += svg.rect(x, top, wide, clip, rx="3", fill=f"url(#{uid}-bright)", data_part=f"clip-{end}", **EDGE)
    # The ear lies 1.5 mm of room above a clean clip; rust lifts the clip into that room and beyond.
    ear_low = min(floor - clip - 1.5 * CLIP_PX * 0.25, top)
    drawn += svg.rect(x + 12, ear_low - 44, wide - 24, 44, rx="2", fill=palette.STEEL, **EDGE)
    drawn += svg.text(x + wide / 2, ear_low - 17, "pad's ear", size=15, anchor="middle")
    drawn += svg.text(x, 440, f"{end} end", size=15, fill=palette.INK_SOFT)
    scale = svg.strokes(
        [(x + wide + 7, floor, x + wide + 7, floor - CLIP_PX), (x + wide + 3, floor, x + wide + 11, floor),
         (x + wide + 3, floor - CLIP_PX, x + wide + 11, floor - CLIP_PX)],
        stroke=palette.INK, stroke_width="1.4", data_part="clip-scale",
    )  # fmt: skip
    return drawn + (
        scale + svg.text(x + wide + 2, floor - CLIP_PX - 6, "1 mm", size=13) if end == "trailing" else ""
    )


def _piston(torn: bool, uid: str) -> str:
    """Draw the piston's mouth from the front, with the folded ring of its boot."""
    x, y = 500.0, 334.0
    drawn = svg.circle(x, y, 88, fill=f"url(#{uid}-body)", **EDGE)
    for radius in (76, 70, 64):
        drawn += svg.circle(
            x, y, radius, fill="none", stroke=palette.RUBBER, stroke_width="5", data_part="piston-boot"
        )
    drawn += svg.circle(x, y, 59, fill=f"url(#{uid}-bright)", **EDGE)
    drawn += svg.circle(x, y, 45, fill=palette.PANEL, **EDGE)
    if torn:  # a gash through the folds, and rust on the piston behind it
        gash = [
            (x + 34, y - 72),
            (x + 52, y - 66),
            (x + 60, y - 52),
            (x + 44, y - 40),
            (x + 38, y - 52),
            (x + 30, y - 48),
        ]
        drawn += svg.polygon(gash, fill=palette.RUST, stroke=palette.INK, data_part="piston-tear")
        drawn += svg.line(x + 50, y - 58, x + 84, y - 84, stroke=palette.INK_SOFT, stroke_width="1")
        drawn += svg.text(x + 66, y - 88, "torn", size=15)
    return drawn + svg.text(x, y + 5, "piston", size=15, anchor="middle")


def _desc(look: BracketLook) -> str:
    told = "Parts of one wheel on the bench. "
    for pin, end in zip(look.pins, ENDS, strict=True):
        told += f"The pin from the {end} bore {pin_words(pin)}. "
    for rust, end in zip(look.clip_rust_mm, ENDS, strict=True):
        kind = "thick rust" if rust > 0.2 else "a trace of rust" if rust > 0.03 else "bare metal"
        told += f"Under the {end} clip there is {kind}. "
    return (
        told
        + f"The piston's boot is {'torn, and rust shows behind it' if look.piston_boot_torn else 'whole'}."
    )


def _defs(uid: str) -> str:
    down = [(0, palette.STEEL_MID), (0.35, palette.STEEL_WHITE), (1, palette.STEEL_DARK)]
    beads = svg.circle(2.5, 2.5, 1.1, fill=palette.INK, fill_opacity="0.6")
    return (
        svg.gradient(f"{uid}-bright", down)
        + svg.gradient(f"{uid}-body", [(0, palette.STEEL_LIGHT), (1, palette.STEEL_MID)])
        + svg.pattern(f"{uid}-beads", 6, beads)
        + steel_cut(uid)
    )
