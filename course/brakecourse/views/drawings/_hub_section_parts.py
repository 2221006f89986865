"""The cut through hub and rotor, round the middle of the hub's seat: x outwards along the axle, y down."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.views import palette, svg
from brakecourse.views.drawings.hub_shapes import EDGE, PLATE_MM, HubAndRotor

FLANGE_MM = 11.0
BARREL_MM = 52.0
DEEP_MM = 16.0  # how far the disc lies behind the hub's seat
STUD_OUT_MM = 21.0
NUT_MM = 12.0
VENTED_FROM_MM = 18.0


@dataclass(frozen=True)
class Lean:
    """How the rotor leans in the cut, drawn larger than it is.

    Attributes:
        degrees: clockwise.
        out_mm: how far its middle is pushed out.
    """

    degrees: float
    out_mm: float

    def face_out_mm(self, radius_mm: float) -> float:
        """Return how far the disc's outer face has come out, at a height above the axle."""
        turn = math.radians(self.degrees)
        along = (radius_mm - DEEP_MM * math.sin(turn)) / math.cos(turn)
        return -DEEP_MM * math.cos(turn) + along * math.sin(turn) + self.out_mm + DEEP_MM


def lean(flake_mm: float, seat_mm: float, flake_deg: float, larger: float) -> Lean:
    """Return the lean that a flake gives in the plane of the cut.

    Args:
        flake_mm: its thickness.
        seat_mm: radius of the seat, at whose edge it lies.
        flake_deg: its direction, clockwise from the top of the cut.
        larger: how many times larger all of it is drawn.
    """
    share = math.cos(math.radians(flake_deg))
    steep = larger * flake_mm * share / (2 * seat_mm)
    return Lean(math.degrees(math.atan(steep)), larger * flake_mm / 2)


def hub(size: HubAndRotor, scale: float, turned_deg: float, uid: str) -> str:
    """Draw the hub cut through, and its studs behind the cut."""
    seat, pilot = size.seat_mm, size.bore_mm - 2
    barrel = 0.62 * seat
    outline = [
        (-BARREL_MM, -barrel), (-FLANGE_MM, -barrel), (-FLANGE_MM, -seat), (0, -seat), (0, -pilot),
        (PLATE_MM + 7, -pilot + 2), (PLATE_MM + 7, pilot - 2), (0, pilot), (0, seat), (-FLANGE_MM, seat),
        (-FLANGE_MM, barrel), (-BARREL_MM, barrel),
    ]  # fmt: skip
    points = [(x * scale, y * scale) for x, y in outline]
    axle = svg.line(
        -(BARREL_MM + 12) * scale, 0, (PLATE_MM + 34) * scale, 0, stroke=palette.INK_SOFT, stroke_width="1",
        stroke_dasharray="14 4 3 4",
    )  # fmt: skip
    return (
        _studs(size, scale, turned_deg)
        + svg.polygon(points, fill=palette.STEEL_LIGHT)
        + svg.polygon(points, fill=f"url(#{uid}-steel-cut)", data_part="hub", **EDGE)
        + axle
    )


def _heights(size: HubAndRotor, turned_deg: float) -> list[float]:
    radius = size.stud_circle_mm / 2
    turns = (math.radians(360 * stud / size.studs - turned_deg) for stud in range(size.studs))
    return [-radius * math.cos(turn) for turn in turns]


def _studs(size: HubAndRotor, scale: float, turned_deg: float) -> str:
    look = {"fill": palette.STEEL_MID, "stroke": palette.INK, "stroke_width": "1"}
    return "".join(
        svg.rect(0, (y - 6) * scale, (PLATE_MM + STUD_OUT_MM) * scale, 12 * scale, data_part="stud", **look)
        for y in _heights(size, turned_deg)
    )


def rotor(size: HubAndRotor, scale: float, turned_deg: float, uid: str) -> str:
    """Draw the rotor cut through, upright, with its wheel nuts."""
    halves = "".join(_half(size, scale, side, uid) for side in (-1, 1))
    look = {"fill": palette.STEEL_LIGHT, "stroke": palette.INK, "stroke_width": "1"}
    nuts = "".join(
        svg.rect(PLATE_MM * scale, (y - 9.5) * scale, NUT_MM * scale, 19 * scale, rx="2", **look)
        + svg.line(
            PLATE_MM * scale, y * scale, (PLATE_MM + NUT_MM) * scale, y * scale, stroke=palette.STEEL_DARK
        )
        for y in sorted(_heights(size, turned_deg), key=abs, reverse=True)
    )
    return halves + nuts


def _half(size: HubAndRotor, scale: float, side: int, uid: str) -> str:
    front, back = -DEEP_MM, -DEEP_MM - size.thickness_mm
    vented = size.thickness_mm >= VENTED_FROM_MM
    cheek = size.thickness_mm * (0.36 if vented else 1.0)
    bell = [
        (0.0, size.bore_mm), (PLATE_MM, size.bore_mm), (PLATE_MM, size.hat_mm - 3),
        (PLATE_MM - 3, size.hat_mm),
        (front, size.hat_mm), (front, size.outer_mm), (front - cheek, size.outer_mm),
        (front - cheek, size.hat_inside_mm), (0.0, size.hat_inside_mm),
    ]  # fmt: skip
    parts = [bell]
    drawn = ""
    if vented:
        inside = size.inner_mm
        ring = [(back, inside), (back + cheek, inside), (back + cheek, size.outer_mm), (back, size.outer_mm)]
        parts.append(ring)
        top, low = side * size.outer_mm, side * inside
        drawn = svg.rect(
            (back + cheek) * scale, min(top, low) * scale, (front - back - 2 * cheek) * scale,
            abs(top - low) * scale, fill=palette.STEEL_DARK,
        )  # fmt: skip
    for part in parts:
        points = [(x * scale, side * y * scale) for x, y in part]
        drawn += svg.polygon(points, fill=palette.IRON) + svg.polygon(
            points, fill=f"url(#{uid}-iron-cut)", data_part="rotor", **EDGE
        )
    return drawn


def flake(size: HubAndRotor, scale: float, flake_mm: float, flake_deg: float, larger: float) -> str:
    """Draw the flake on the seat's edge; dashed when it lies before or behind the cut."""
    if not flake_mm:
        return ""
    y = -(size.seat_mm - 5) * math.cos(math.radians(flake_deg)) * scale
    thick = flake_mm * larger * scale
    shape = [(0, y - 6), (thick * 0.8, y - 5), (thick, y - 1), (thick * 0.92, y + 4), (0, y + 7)]
    in_cut = abs(math.cos(math.radians(flake_deg))) > 0.98
    return svg.polygon(
        shape, fill=palette.RUST, stroke=palette.INK, stroke_width="1.2",
        stroke_dasharray=None if in_cut else "3 2", data_part="flake",
    )  # fmt: skip
