"""The lower half of the force picture: one axle's caliper in section, and its wheel on the road."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.bench.specification import AxleBrake
from brakecourse.views import palette, svg
from brakecourse.views.drawings._force_pedal import EDGE, PX_PER_MM

WHEEL_PX_PER_MM = 0.17
ROAD_Y = 574.0
PAD_Y = 320.0
ROTOR_FOOT = 388.0
BACKING_MM = 5.0
_CUP = 36.0
_WALL = 10.0
_LEG = 18.0


@dataclass(frozen=True)
class Section:
    """Where the rotor's two faces lie in a caliper's section, in pixels."""

    rotor_left: float
    rotor_right: float


def left_of(x: float, brake: AxleBrake) -> float:
    """Return where the caliper's body begins, the middle of the rotor at ``x``."""
    thick = brake.rotor.nominal_mm / 2 + brake.pad.lining_new_mm + BACKING_MM
    return x - thick * PX_PER_MM - _CUP - _WALL


def caliper(x: float, brake: AxleBrake, bore_mm: float, uid: str) -> tuple[str, Section]:
    """Draw rotor, pads, pistons and caliper, cut along the wheel's axis; the piston's side is on the left.

    Args:
        x: the middle of the rotor.
        brake: the brake of the axle.
        bore_mm: diameter of one piston.
        uid: begins the ids of the fills.
    """
    half = brake.rotor.nominal_mm * PX_PER_MM / 2
    pad = (brake.pad.lining_new_mm + BACKING_MM) * PX_PER_MM
    high = brake.pad.height_mm * PX_PER_MM
    bore = bore_mm * PX_PER_MM / 2
    fixed = brake.caliper.kind == "fixed"
    left = left_of(x, brake)
    right = x + half + pad + (_CUP + _WALL if fixed else _LEG)
    body_half = max(bore, high / 2) + _WALL
    rotor_top = PAD_Y - high / 2 - 5
    bridge = min(rotor_top - 8, PAD_Y - body_half + 4) - 12
    inner, outer = x - half - pad, x + half + pad
    shape = [
        (left, bridge + 14), (left + 14, bridge), (right - 12, bridge), (right, bridge + 14),
        (right, PAD_Y + body_half), (outer, PAD_Y + body_half), (outer, rotor_top - 8),
        (inner, rotor_top - 8), (inner, PAD_Y + body_half), (left, PAD_Y + body_half),
    ]  # fmt: skip
    drawn = svg.polygon(shape, fill=palette.IRON, **EDGE) + svg.polygon(shape, fill=f"url(#{uid}-steel-cut)")
    drawn += _rotor(x, half, rotor_top, uid)
    for side in (-1, 1):
        drawn += _pad(x + side * half, side, brake, high, uid)
        if side == -1 or fixed:
            drawn += _piston(x + side * (half + pad), side, bore, uid)
    return drawn, Section(x - half, x + half)


def _rotor(x: float, half: float, top: float, uid: str) -> str:
    """Draw the ring in section with its air gap, broken off towards the hub."""
    wave = ("L", x + half, ROTOR_FOOT, "q", -half / 2, 7, -half, 0, "q", -half / 2, -7, -half, 0)
    ring = svg.path(
        "M", x - half, top, "L", x + half, top, *wave, "Z", fill=palette.IRON, data_part="rotor", **EDGE
    )
    cut = svg.path("M", x - half, top, "L", x + half, top, *wave, "Z", fill=f"url(#{uid}-steel-cut)")
    gap = half * 0.36
    vent = (
        svg.rect(x - gap, top + 9, 2 * gap, ROTOR_FOOT - top - 22, fill=palette.PANEL, **EDGE)
        if half > 9
        else ""
    )
    return ring + cut + vent


def _pad(face: float, side: int, brake: AxleBrake, high: float, uid: str) -> str:
    lining, plate = brake.pad.lining_new_mm * PX_PER_MM, BACKING_MM * PX_PER_MM
    top = PAD_Y - high / 2
    near, far = sorted((face, face + side * lining))
    back = min(face + side * lining, face + side * (lining + plate))
    return (
        svg.rect(near, top, far - near, high, fill=palette.LINING, data_part="lining", **EDGE)
        + svg.rect(near, top, far - near, high, fill=f"url(#{uid}-lining-cut)")
        + svg.rect(back, top - 2, plate, high + 4, fill=palette.STEEL_DARK, **EDGE)
    )


def _piston(back: float, side: int, half: float, uid: str) -> str:
    """Draw fluid, piston and square seal in a bore that opens towards the pad."""
    start = min(back, back + side * _CUP)
    fluid_x = back + side * _CUP if side < 0 else back + _CUP - 10
    seal_x = back + side * 16 - 2.5
    seals = "".join(
        svg.rect(seal_x, y, 5, 5, fill=palette.RUBBER) for y in (PAD_Y - half - 4, PAD_Y + half - 1)
    )
    return (
        svg.rect(
            start, PAD_Y - half, _CUP, 2 * half, fill=f"url(#{uid}-bar)", data_part="caliper-bore", **EDGE
        )
        + svg.rect(fluid_x, PAD_Y - half, 10, 2 * half, fill=palette.FLUID_PALE, **EDGE)
        + seals
    )


def wheel(x: float, brake: AxleBrake, tyre_mm: float, uid: str) -> str:
    """Draw a wheel on the road with its brake seen through it, all at one scale."""
    scale = WHEEL_PX_PER_MM
    y = ROAD_Y - tyre_mm * scale
    outer, inner = brake.rotor_outer_radius_mm * scale, brake.rotor_inner_radius_mm * scale
    rim = (brake.rotor_outer_radius_mm + 48) * scale
    start, end = math.radians(20), math.radians(72)
    r1, r2 = outer + 5, brake.measuring_radius_mm * scale - brake.pad.height_mm * scale / 2
    corners = [(r1, start), (r1, end), (r2, end), (r2, start)]
    spots = [(x - r * math.sin(a), y - r * math.cos(a)) for r, a in corners]
    hand = svg.path("M", *spots[0], "A", r1, r1, 0, 0, 0, *spots[1], "L", *spots[2],
                    "A", r2, r2, 0, 0, 1, *spots[3], "Z", fill=palette.STEEL_DARK, **EDGE)  # fmt: skip
    return (
        svg.circle(x, y, tyre_mm * scale, fill=palette.RUBBER, data_part="tyre")
        + svg.circle(x, y, rim, fill=palette.STEEL_LIGHT, **EDGE)
        + svg.circle(x, y, outer, fill=palette.IRON, data_part="disc", **EDGE)
        + svg.circle(x, y, inner, fill=f"url(#{uid}-drum)", **EDGE)
        + svg.circle(x, y, 5, fill=palette.STEEL_EDGE)
        + hand
    )


def wheel_centre(x: float, tyre_mm: float) -> svg.Point:
    """Return the middle of a wheel."""
    return x, ROAD_Y - tyre_mm * WHEEL_PX_PER_MM
