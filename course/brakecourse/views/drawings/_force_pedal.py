"""The upper half of the force picture: pedal, booster, master cylinder with its reservoir, small gauge."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.views import palette, svg
from brakecourse.views.drawings._round import around

AXIS_Y = 96.0
PX_PER_MM = 0.9
"""Scale of the master cylinder's and the calipers' bores."""
PEDAL_PX_PER_MM = 0.55
ARM = 146.0
PIVOT_X = 104.0
BOOSTER_X, BOOSTER_WIDE, BOOSTER_HIGH = 196.0, 56.0, 130.0
MASTER_X, MASTER_LONG = BOOSTER_X + BOOSTER_WIDE, 150.0
OUT_REAR, OUT_FRONT = MASTER_X + 52.0, MASTER_X + 118.0
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2", "stroke_linejoin": "round"}


@dataclass(frozen=True)
class Foot:
    """Where the pedal stands: its pivot, and the left face of its pad."""

    pivot: svg.Point
    face: svg.Point
    turn_deg: float
    rod_x: float


def foot(ratio: float, travel_mm: float) -> Foot:
    """Return where the pedal stands. Pivot to pad over pivot to rod is the pedal's ratio."""
    rod = ARM / ratio
    pivot = (PIVOT_X, AXIS_Y - rod)
    # Hung 16 degrees to the left when free, it swings to the right as the foot pushes.
    start = -math.degrees(math.asin(0.28))
    turn = start + math.degrees(travel_mm * PEDAL_PX_PER_MM / ARM)
    sine, cosine = math.sin(math.radians(turn)), math.cos(math.radians(turn))
    face = (pivot[0] + ARM * sine - 9, pivot[1] + ARM * cosine)
    return Foot(pivot, face, turn, pivot[0] + rod * sine)


def pedal(place: Foot, ratio: float, uid: str) -> str:
    """Draw the lever hung from its pivot, its pad below, and the push-rod."""
    rod = ARM / ratio
    lever = svg.path(
        *("M", -7, -6, "L", 7, -6, "L", 5, ARM - 24, "L", -5, ARM - 24, "Z"),
        fill=f"url(#{uid}-steel)",
        **EDGE,
    )
    pad = svg.rect(-9, ARM - 28, 12, 52, rx="3", fill=palette.RUBBER, **EDGE)
    ribs = svg.strokes(
        [(-9, ARM - 20 + 9 * k, -5, ARM - 20 + 9 * k) for k in range(5)],
        stroke=palette.STEEL_MID,
        stroke_width="2",
    )
    x, y = place.pivot
    hung = svg.group(
        lever + pad + ribs,
        transform=f"translate({svg.num(x)} {svg.num(y)}) rotate({svg.num(-place.turn_deg)})",
    )
    bracket = svg.path("M", x - 26, y - 34, "h", 52, "l", -14, 32, "q", -12, 9, -24, 0, "Z",
                       fill=f"url(#{uid}-steel)", **EDGE)  # fmt: skip
    push_rod = svg.rect(
        place.rod_x, AXIS_Y - 4, BOOSTER_X - place.rod_x + 4, 8, fill=f"url(#{uid}-bar)", **EDGE
    )
    return (
        bracket
        + push_rod
        + hung
        + svg.circle(x, y, 7, fill=palette.STEEL, data_part="pivot", **EDGE)
        + svg.circle(
            place.rod_x,
            y + rod * math.cos(math.radians(place.turn_deg)),
            5,
            fill=palette.STEEL_WHITE,
            data_part="rod-pin",
            **EDGE,
        )
    )


def booster(uid: str) -> str:
    """Draw the booster's two shells from the side, with its seam and the hose's stub."""
    x, top, w, h = BOOSTER_X, AXIS_Y - BOOSTER_HIGH / 2, BOOSTER_WIDE, BOOSTER_HIGH
    rear = svg.path("M", x + 26, top, "C", x + 4, top + 4, x, top + 22, x, AXIS_Y,
                    "C", x, top + h - 22, x + 4, top + h - 4, x + 26, top + h, "Z",
                    fill=f"url(#{uid}-drum)", **EDGE)  # fmt: skip
    front = svg.path("M", x + 26, top, "C", x + 44, top + 6, x + w, top + 40, x + w, AXIS_Y - 22, "v", 44,
                     "C", x + w, top + h - 40, x + 44, top + h - 6, x + 26, top + h, "Z",
                     fill=f"url(#{uid}-drum)", **EDGE)  # fmt: skip
    seam = svg.rect(x + 23, top - 3, 6, h + 6, rx="2", fill=palette.STEEL_DARK, **EDGE)
    stub = svg.rect(x + 40, top + 6, 18, 9, rx="3", fill=palette.RUBBER, **EDGE)
    return stub + rear + front + seam


def master(bore_mm: float, uid: str) -> str:
    """Draw the master cylinder in section, two pistons in its bore, and the reservoir on top."""
    half = bore_mm * PX_PER_MM / 2
    wall = 8.0
    x, length = MASTER_X, MASTER_LONG
    body = svg.rect(x, AXIS_Y - half - wall, length, 2 * (half + wall), rx="4", fill=palette.STEEL_LIGHT,
                    **EDGE)  # fmt: skip
    cut = svg.rect(x, AXIS_Y - half - wall, length, 2 * (half + wall), rx="4", fill=f"url(#{uid}-steel-cut)")
    bore = svg.rect(x, AXIS_Y - half, length - 12, 2 * half, fill=palette.FLUID_PALE, data_part="master-bore",
                    **EDGE)  # fmt: skip
    pistons = "".join(
        svg.rect(left, AXIS_Y - half, 24, 2 * half, fill=f"url(#{uid}-bar)", **EDGE)
        + svg.rect(left + 18, AXIS_Y - half, 4, 2 * half, fill=palette.RUBBER)
        for left in (x + 8, x + 72)
    )
    rod = svg.rect(x - 8, AXIS_Y - 4, 18, 8, fill=f"url(#{uid}-bar)", **EDGE)
    return _reservoir(AXIS_Y - half - wall) + body + cut + bore + pistons + rod


def _reservoir(foot_y: float) -> str:
    left, right, top = MASTER_X + 24.0, MASTER_X + 124.0, 18.0
    shape = [(left, top + 10), (right, top + 10), (right, foot_y - 12), (left, foot_y - 12)]
    fluid = [(left + 2, top + 20), (right - 2, top + 20), (right - 2, foot_y - 14), (left + 2, foot_y - 14)]
    necks = "".join(
        svg.rect(x - 6, foot_y - 13, 12, 14, fill=palette.FLUID_PALE, **EDGE)
        for x in (OUT_REAR - 10, OUT_FRONT - 22)
    )
    cap = svg.rect((left + right) / 2 - 24, top - 2, 48, 13, rx="3", fill=palette.RUBBER, **EDGE)
    return (
        necks
        + svg.polygon(shape, fill=palette.PLASTIC, **EDGE)
        + svg.polygon(fluid, fill=palette.FLUID_PALE)
        + cap
    )


def small_gauge(x: float, y: float, pressure_mpa: float | None, full_mpa: float = 16.0) -> str:
    """Draw a small pressure gauge; without a pressure its needle is left out."""
    marks = "".join(
        svg.text(
            x + around(-135 + 270 * value / full_mpa, 20)[0],
            y + around(-135 + 270 * value / full_mpa, 20)[1] + 4,
            f"{value:g}",
            size=12,
            anchor="middle",
            data_part="gauge-number",
        )
        for value in (0, 4, 8, 12, 16)
    )
    ticks = [
        (
            *_at(x, y, -135 + 270 * step / 16, 34),
            *_at(x, y, -135 + 270 * step / 16, 28 if step % 4 == 0 else 31),
        )
        for step in range(17)
    ]
    dial = (
        svg.circle(x, y, 39, fill=palette.STEEL_MID, **EDGE)
        + svg.circle(x, y, 35, fill=palette.DIAL_FACE, **EDGE)
        + svg.strokes(ticks, stroke=palette.INK, stroke_width="1.1")
        + marks
    )
    if pressure_mpa is None:
        return dial
    tip = _at(x, y, -135 + 270 * pressure_mpa / full_mpa, 31)
    return (
        dial
        + svg.line(x, y, *tip, stroke=palette.VERMILLION, stroke_width="2.4", data_part="gauge-needle")
        + (svg.circle(x, y, 4, fill=palette.STEEL_EDGE))
    )


def _at(x: float, y: float, angle_deg: float, radius: float) -> svg.Point:
    dx, dy = around(angle_deg, radius)
    return x + dx, y + dy
