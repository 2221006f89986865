"""A vehicle from its left side at true proportion, its nose to the left, standing or with one end raised."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from brakecourse.views import palette, svg

Kind = Literal["van", "bus", "pickup", "truck", "hatchback", "saloon", "estate"]
KINDS: tuple[Kind, ...] = get_args(Kind)
End = Literal["front", "rear"]

# Outlines from the front bumper over the roof to the rear one. Across: mm from the front axle, or behind the
# rear axle where marked "W". Up: share of the height of the roof. The shapes are the course's own.
_OUTLINES: dict[Kind, list[tuple[str, float, float]]] = {
    "van": [
        ("F", -860, 0.30), ("F", -840, 0.50), ("F", -330, 0.60), ("F", 330, 0.97), ("F", 620, 1.0),
        ("W", 780, 1.0), ("W", 840, 0.93), ("W", 850, 0.26),
    ],
    "bus": [
        ("F", -900, 0.26), ("F", -900, 0.48), ("F", -560, 0.58), ("F", 60, 0.97), ("F", 320, 1.0),
        ("W", 1050, 1.0), ("W", 1110, 0.94), ("W", 1120, 0.24),
    ],
    "pickup": [
        ("F", -880, 0.36), ("F", -860, 0.60), ("F", 380, 0.66), ("F", 820, 0.97), ("F", 1000, 1.0),
        ("F", 1850, 1.0), ("F", 1980, 0.66), ("W", 1010, 0.66), ("W", 1020, 0.36),
    ],
    "truck": [
        ("F", -1050, 0.24), ("F", -1050, 0.56), ("F", -820, 0.97), ("F", -700, 1.0), ("F", 620, 1.0),
        ("F", 660, 0.46), ("W", 1300, 0.46), ("W", 1300, 0.34),
    ],
    "hatchback": [
        ("F", -720, 0.24), ("F", -710, 0.48), ("F", 420, 0.62), ("F", 1080, 0.97), ("F", 1350, 1.0),
        ("W", 60, 0.97), ("W", 540, 0.62), ("W", 600, 0.26),
    ],
    "saloon": [
        ("F", -820, 0.24), ("F", -800, 0.50), ("F", 560, 0.64), ("F", 1230, 0.97), ("F", 1500, 1.0),
        ("W", -480, 0.97), ("W", 260, 0.68), ("W", 980, 0.64), ("W", 1010, 0.26),
    ],
    "estate": [
        ("F", -800, 0.24), ("F", -780, 0.49), ("F", 520, 0.63), ("F", 1190, 0.97), ("F", 1480, 1.0),
        ("W", 480, 0.98), ("W", 860, 0.62), ("W", 900, 0.26),
    ],
}  # fmt: skip
# Windows: from, to (as above), height of the sill and of the top edge as shares of the roof's height.
_WINDOWS: dict[Kind, list[tuple[tuple[str, float], tuple[str, float], float, float]]] = {
    "van": [(("F", 330), ("F", 1010), 0.62, 0.90)],
    "bus": [
        *(((("F", 160 + 830 * n), ("F", 900 + 830 * n), 0.58, 0.90)) for n in range(4)),
        (("F", 3480), ("W", 900), 0.58, 0.90),
    ],
    "pickup": [(("F", 900), ("F", 1780), 0.67, 0.93)],
    "truck": [(("F", -560), ("F", 380), 0.62, 0.92)],
    "hatchback": [(("F", 1000), ("F", 1560), 0.64, 0.92), (("F", 1640), ("W", 60), 0.64, 0.92)],
    "saloon": [(("F", 1150), ("F", 1740), 0.66, 0.92), (("F", 1820), ("W", -480), 0.66, 0.92)],
    "estate": [
        (("F", 1110), ("F", 1690), 0.65, 0.92),
        (("F", 1770), ("W", -240), 0.65, 0.92),
        (("W", -160), ("W", 420), 0.65, 0.92),
    ],
}
ROOF_TO_GRAVITY = {
    "van": 2.9, "bus": 2.8, "pickup": 2.6, "truck": 2.35, "hatchback": 2.75, "saloon": 2.65, "estate": 2.65,
}  # fmt: skip


@dataclass(frozen=True)
class SideView:
    """How a vehicle is drawn.

    Attributes:
        kind: its shape.
        wheelbase_mm, tyre_radius_mm, gravity_height_mm: its dimensions.
        scale: pixels for a millimetre.
        front_x, floor_y: where the front axle and the floor lie, in pixels.
        raised: which end is lifted; None for none.
        lift_mm: by how much its axle is lifted.
        wheel_off: whether the wheel of the raised end is off.
    """

    kind: Kind
    wheelbase_mm: float
    tyre_radius_mm: float
    gravity_height_mm: float
    scale: float
    front_x: float
    floor_y: float
    raised: End | None = None
    lift_mm: float = 280.0
    wheel_off: bool = True

    @property
    def roof_mm(self) -> float:
        """The height of the roof above the road."""
        return self.gravity_height_mm * ROOF_TO_GRAVITY[self.kind]

    @property
    def tilt_deg(self) -> float:
        """How the body is turned: positive with the nose up."""
        if self.raised is None:
            return 0.0
        tilt = math.degrees(math.asin(self.lift_mm / self.wheelbase_mm))
        return tilt if self.raised == "front" else -tilt

    def x(self, mm: float) -> float:
        """Return a place behind the front axle in pixels, on the level."""
        return self.front_x + mm * self.scale

    def at(self, x_mm: float, y_mm: float) -> svg.Point:
        """Return where a point of the body lies in pixels, tilt counted; y is above the road on the level."""
        pivot_x = self.wheelbase_mm if self.raised == "front" else 0.0
        turn = math.radians(self.tilt_deg)
        across, up = x_mm - pivot_x, y_mm - self.tyre_radius_mm
        px = self.x(pivot_x + across * math.cos(turn) + up * math.sin(turn))
        return px, self.floor_y - self.scale * (
            self.tyre_radius_mm - across * math.sin(turn) + up * math.cos(turn)
        )


def vehicle_side(view: SideView, uid: str) -> str:
    """Draw the vehicle: body, windows, wheels; at a raised end, the open brake."""
    base = view.wheelbase_mm
    outline = [
        view.at(_across(mark, mm, base), share * view.roof_mm) for mark, mm, share in _OUTLINES[view.kind]
    ]
    shape = _rounded(outline, 90 * view.scale)
    body = svg.path(*shape, fill=f"url(#{uid}-body)", stroke=palette.STEEL_EDGE, stroke_width=1.6)
    drawn = body + "".join(_window(view, *window) for window in _WINDOWS[view.kind]) + _sill(view)
    clip = svg.tag("clipPath", svg.path(*shape), id=f"{uid}-shape")
    arches, wheels = "", ""
    for end, axle_mm in (("front", 0.0), ("rear", base)):
        x, y = view.at(axle_mm, view.tyre_radius_mm)
        arches += svg.circle(x, y, view.tyre_radius_mm * view.scale * 1.13, fill=palette.STEEL_EDGE)
        wheels += _brake(view, x, y) if view.raised == end and view.wheel_off else wheel(x, y, view)
    drawn += clip + svg.group(arches, clip_path=f"url(#{uid}-shape)") + wheels
    return svg.group(drawn, data_part="vehicle")


def side_defs(uid: str) -> str:
    """Return the gradient that the body is painted with."""
    return svg.gradient(
        f"{uid}-body", ((0, palette.STEEL_WHITE), (0.55, palette.STEEL_LIGHT), (1, palette.STEEL))
    )


def wheel(x: float, y: float, view: SideView) -> str:
    """Draw a wheel: tyre, rim, nuts."""
    radius = view.tyre_radius_mm * view.scale
    nuts = "".join(
        svg.circle(
            x + 0.2 * radius * math.cos(math.radians(72 * n)),
            y + 0.2 * radius * math.sin(math.radians(72 * n)),
            0.05 * radius,
            fill=palette.STEEL_EDGE,
        )
        for n in range(5)
    )
    return (
        svg.circle(x, y, radius, fill=palette.RUBBER, data_part="tyre")
        + svg.circle(
            x, y, 0.62 * radius, fill=palette.STEEL_MID, stroke=palette.STEEL_WHITE, stroke_width=1.0
        )
        + svg.circle(x, y, 0.34 * radius, fill=palette.STEEL_LIGHT)
        + nuts
    )


def _rounded(corners: list[svg.Point], radius: float) -> list[str | float]:
    """Return a closed path round the corners, each of them rounded."""
    steps: list[str | float] = []
    for place, (x, y) in enumerate(corners):
        for end, other in ((0, corners[place - 1]), (1, corners[(place + 1) % len(corners)])):
            away = math.dist((x, y), other)
            cut = min(radius, away / 2) / away
            near = (x + (other[0] - x) * cut, y + (other[1] - y) * cut)
            if end == 0:
                steps += ["L" if steps else "M", *near]
            else:
                steps += ["Q", x, y, *near]
    return [*steps, "Z"]


def _across(mark: str, mm: float, wheelbase_mm: float) -> float:
    return mm + (wheelbase_mm if mark == "W" else 0)


def _window(view: SideView, begin: tuple[str, float], end: tuple[str, float], sill: float, top: float) -> str:
    left, right = _across(*begin, view.wheelbase_mm), _across(*end, view.wheelbase_mm)
    lean = 0.16 * (top - sill) * view.roof_mm if begin[1] > -600 and view.kind not in ("bus",) else 0
    corners = [(left, sill), (left + lean * 2, top), (right - lean * 0.3, top), (right, sill)]
    return svg.polygon(
        [view.at(x, share * view.roof_mm) for x, share in corners],
        fill=palette.STEEL_DARK,
        stroke=palette.STEEL_EDGE,
        stroke_width=0.8,
    )


def _sill(view: SideView) -> str:
    low = (_OUTLINES[view.kind][-1][2] + 0.06) * view.roof_mm
    start = view.at(1.3 * view.tyre_radius_mm, low)
    end = view.at(view.wheelbase_mm - 1.3 * view.tyre_radius_mm, low)
    return svg.line(*start, *end, stroke=palette.STEEL_MID, stroke_width=1.2)


def _brake(view: SideView, x: float, y: float) -> str:
    radius = 0.47 * view.tyre_radius_mm * view.scale
    caliper = svg.rect(
        x + 0.25 * radius,
        y - 1.05 * radius,
        0.85 * radius,
        1.1 * radius,
        rx="3",
        fill=palette.STEEL_DARK,
        stroke=palette.INK,
        stroke_width=0.8,
    )
    return (
        svg.circle(
            x, y, radius, fill=palette.IRON, stroke=palette.STEEL_WHITE, stroke_width=1.0, data_part="rotor"
        )
        + svg.circle(x, y, 0.45 * radius, fill=palette.STEEL_MID, stroke=palette.STEEL_EDGE, stroke_width=0.8)
        + caliper
    )
