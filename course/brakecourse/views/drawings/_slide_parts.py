"""The parts of a floating caliper that is cut through its pins: body, piston, pads, rotor, bracket, pins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from brakecourse.views import palette, svg
from brakecourse.views.drawings import slide_places as size
from brakecourse.views.drawings.slide_places import SlidePlaces

EDGE: dict[str, Any] = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}
VENTED_FROM_MM = 18.0
CHEEK_SHARE = 0.32


@dataclass(frozen=True)
class OnPaper:
    """How a place in mm comes onto the picture: the middle, and picture units for a millimetre."""

    x0: float
    y0: float
    px: float

    def x(self, u: float) -> float:
        """Return a place along the rim."""
        return self.x0 + self.px * u

    def y(self, v: float) -> float:
        """Return a place along the axle."""
        return self.y0 + self.px * v

    def box(self, u1: float, v1: float, u2: float, v2: float, **look: object) -> str:
        """Draw a rectangle between two corners in mm."""
        left, right = sorted((self.x(u1), self.x(u2)))
        top, low = sorted((self.y(v1), self.y(v2)))
        return svg.rect(left, top, right - left, low - top, **look)


def bracket(at: SlidePlaces, on: OnPaper, uid: str) -> str:
    """Draw both arms of the bracket with their blind bores, and a clip at each pad's ear."""
    drawn = ""
    half = at.cut.bore_mm / 2
    for side, end in ((-1, "leading"), (1, "trailing")):
        where = (side * at.arm_near, at.arm_top, side * at.arm_far, at.arm_low)
        drawn += on.box(*where, rx="3", fill=palette.IRON, data_part=f"bracket-{end}", **EDGE)
        drawn += on.box(*where, rx="3", fill=f"url(#{uid}-steel-cut)", fill_opacity="0.7")
        bore = (side * (at.pin - half), at.arm_top, side * (at.pin + half), at.arm_top + at.cut.depth_mm)
        drawn += on.box(*bore, fill=palette.PAPER, data_part=f"bore-{end}", **EDGE)
        clip = side * (at.arm_near - size.CLIP_MM / 2)
        drawn += svg.line(
            on.x(clip), on.y(at.arm_top + 2), on.x(clip), on.y(-at.arm_top - 2), stroke=palette.STEEL_EDGE,
            stroke_width=svg.num(max(1.4, 0.6 * on.px)),
        )  # fmt: skip
    return drawn


def pins(at: SlidePlaces, on: OnPaper, uid: str) -> str:
    """Draw both pins with their boots, bolted to the lugs of the body."""
    drawn, half = "", at.cut.pin_mm / 2
    for side, end in ((-1, "leading"), (1, "trailing")):
        u = side * at.pin
        drawn += on.box(
            u - half, at.lug_low, u + half, at.pin_end, fill=f"url(#{uid}-round)", data_part=f"pin-{end}",
            **EDGE,
        )  # fmt: skip
        reach = at.arm_top - at.lug_low
        for away in (-1, 1):  # a folded boot from the lug to the bracket's face
            folds = [
                (
                    on.x(u + away * (half + (2.4 if fold % 2 else 0.8))),
                    on.y(at.lug_low + reach * fold / 6),
                )
                for fold in range(7)
            ]
            drawn += svg.polyline(folds, stroke=palette.RUBBER, stroke_width="3", stroke_linejoin="round")
        drawn += on.box(
            u - half - 1, at.lug_low - size.LUG_MM - 5, u + half + 1, at.lug_low - size.LUG_MM, rx="1.5",
            fill=palette.STEEL_LIGHT, **EDGE,
        )  # fmt: skip
    return drawn


def body(at: SlidePlaces, on: OnPaper, uid: str) -> str:
    """Draw the body: cylinders and lugs above, fingers below, the bridge over the rotor as dashed lines."""
    block, back, mouth = at.block, at.back, at.mouth
    lug_top, lug_low, lug_end = at.lug_low - size.LUG_MM, at.lug_low, at.pin + at.cut.pin_mm / 2 + 5
    outline = [
        (-block + 6, back), (block - 6, back), (block, back + 6), (block, lug_top), (lug_end, lug_top),
        (lug_end, lug_low), (block, lug_low), (block, mouth), (-block, mouth), (-block, lug_low),
        (-lug_end, lug_low), (-lug_end, lug_top), (-block, lug_top), (-block, back + 6),
    ]  # fmt: skip
    spots = [(on.x(u), on.y(v)) for u, v in outline]
    drawn = svg.polygon(spots, fill=f"url(#{uid}-body)", data_part="body", **EDGE)
    drawn += svg.polygon(spots, fill=f"url(#{uid}-steel-cut)", fill_opacity="0.5")
    for centre in at.centres:
        drawn += _piston(at, on, centre, uid)
    low = at.plate_out + size.FINGER_MM
    for side in (-1, 1):
        where = (side * 12, at.plate_out, side * block, low)
        drawn += on.box(*where, rx="4", fill=f"url(#{uid}-body)", data_part="finger", **EDGE)
        drawn += on.box(*where, rx="4", fill=f"url(#{uid}-steel-cut)", fill_opacity="0.5")
        drawn += svg.line(
            on.x(side * block), on.y(mouth), on.x(side * block), on.y(at.plate_out), stroke=palette.INK_SOFT,
            stroke_width="1.4", stroke_dasharray="7 4",
        )  # fmt: skip
    return drawn


def _piston(at: SlidePlaces, on: OnPaper, centre: float, uid: str) -> str:
    r = at.cut.piston_mm / 2
    bottom = at.back + size.WALL_MM
    rear = at.plate_in - at.piston_long
    drawn = on.box(centre - r, bottom, centre + r, at.mouth, fill=palette.FLUID_PALE, **EDGE)
    drawn += on.box(
        centre - r, rear, centre + r, at.plate_in, rx="3", fill=f"url(#{uid}-bright)", data_part="piston",
        **EDGE,
    )  # fmt: skip
    thick = max(3.5, 0.1 * at.cut.piston_mm)
    drawn += on.box(
        centre - r + thick, rear + 1.6 * thick, centre + r - thick, at.plate_in, fill=palette.PAPER, **EDGE
    )
    for side in (-1, 1):
        drawn += on.box(
            centre + side * r, at.mouth - 10, centre + side * (r + 3), at.mouth - 6.5, fill=palette.RUBBER
        )
    return drawn


def pads_and_rotor(at: SlidePlaces, on: OnPaper, uid: str) -> str:
    """Draw the rotor across the picture, and the pads on it."""
    long = at.cut.pad_length_mm / 2
    wide = long + size.EAR_MM - 2
    rim = (-wide, -at.half, wide, at.half)
    drawn = on.box(*rim, fill=palette.IRON, data_part="rotor", **EDGE)
    drawn += on.box(*rim, fill=f"url(#{uid}-steel-cut)")
    if at.cut.rotor_mm >= VENTED_FROM_MM:
        inside = at.half * (1 - 2 * CHEEK_SHARE)
        drawn += on.box(-wide, -inside, wide, inside, fill=palette.STEEL_LIGHT, **EDGE)
    for way, name, left in ((-1, "inner", at.inner_mm), (1, "outer", at.outer_mm)):
        near, far = way * at.half, way * (at.half + left)
        if left > 0.02:
            where = (-long, near, long, far)
            drawn += on.box(*where, fill=palette.LINING, data_part=f"{name}-lining", **EDGE)
            drawn += on.box(*where, fill=f"url(#{uid}-lining-cut)")
        reach = long + size.EAR_MM
        drawn += on.box(
            -reach, far, reach, far + way * size.PLATE_MM, fill=palette.STEEL_DARK,
            data_part=f"{name}-plate", **EDGE,
        )  # fmt: skip
    return drawn
