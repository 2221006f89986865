"""Hub and rotor at true proportion: their sizes, and the rotor seen from the front."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

from brakecourse.views import palette, svg
from brakecourse.views.drawings._inputs import above_zero
from brakecourse.views.drawings._round import around

PLATE_MM = 8.0  # the hat's plate, which lies on the hub
EDGE = {"stroke": palette.STEEL_EDGE, "stroke_width": "1.2"}


@dataclass(frozen=True)
class HubAndRotor:
    """The sizes that the drawings of a hub and its rotor need.

    Args:
        outer_mm, inner_mm: outer edge and inner end of the rotor's track, radii.
        measuring_mm: radius where the dial stands.
        seat_mm: radius of the hub's seat.
        thickness_mm: of the rotor.
        stud_circle_mm: of the wheel studs; a diameter, as data sheets give it.
        studs: how many.

    Raises:
        ValueError: a size is no number above 0, or the parts do not fit into each other.
    """

    outer_mm: float
    inner_mm: float
    measuring_mm: float
    seat_mm: float
    thickness_mm: float
    stud_circle_mm: float
    studs: int

    def __post_init__(self) -> None:
        for field in fields(self):
            above_zero(getattr(self, field.name), field.name.replace("_mm", " in mm").replace("_", " "))
        if isinstance(self.studs, bool) or not isinstance(self.studs, int) or not 3 <= self.studs <= 10:
            raise ValueError(
                f"The number of wheel studs must be a whole number from 3 to 10, but it was {self.studs!r}."
            )
        if not self.stud_circle_mm / 2 < self.seat_mm < self.inner_mm < self.measuring_mm < self.outer_mm:
            raise ValueError(
                "The studs must stand inside the seat, the seat inside the track, and the dial on the track, "
                f"but their radii were {self.stud_circle_mm / 2:g}, {self.seat_mm:g}, {self.inner_mm:g} to "
                f"{self.outer_mm:g}, and {self.measuring_mm:g} mm."
            )

    @property
    def hat_mm(self) -> float:
        """Outer radius of the hat."""
        return self.inner_mm - 2

    @property
    def hat_inside_mm(self) -> float:
        """Inner radius of the hat's wall: it clears the hub's seat."""
        return max(self.seat_mm + 1, self.hat_mm - 7)

    @property
    def bore_mm(self) -> float:
        """Radius of the hole in the hat's middle."""
        return 0.52 * self.stud_circle_mm / 2 + 2


def front_defs(uid: str) -> str:
    """Return the gradients of the rotor's front."""
    return svg.gradient(f"{uid}-face", [(0, palette.STEEL_LIGHT), (1, palette.STEEL)]) + svg.gradient(
        f"{uid}-hat", [(0, palette.STEEL), (1, palette.STEEL_MID)]
    )


def front(size: HubAndRotor, scale: float, turned_deg: float, uid: str, *, nuts: bool = False) -> str:
    """Draw the rotor's outer face round the origin, its chalk mark turned clockwise from the top.

    Args:
        size: hub and rotor.
        scale: pixels for one millimetre.
        turned_deg: where the chalk mark stands.
        uid: stem of the gradients' ids.
        nuts: wheel nuts are on the studs.
    """
    rings = "".join(
        svg.circle(
            0, 0, radius * scale, fill="none", stroke=palette.STEEL_MID, stroke_width="0.5",
            stroke_opacity="0.55",
        )
        for radius in range(int(size.inner_mm) + 5, int(size.outer_mm), 5)
    )  # fmt: skip
    return (
        svg.circle(0, 0, size.outer_mm * scale, fill=f"url(#{uid}-face)", **EDGE)
        + rings
        + svg.circle(0, 0, size.hat_mm * scale, fill=f"url(#{uid}-hat)", **EDGE)
        + svg.circle(0, 0, size.bore_mm * scale, fill=palette.STEEL_EDGE, stroke=palette.INK)
        + svg.circle(0, 0, (size.bore_mm - 4) * scale, fill=palette.STEEL_DARK, stroke=palette.INK)
        + chalk(size, scale, turned_deg)
        + (studs(size, scale, turned_deg, nuts=True) if nuts else "")
    )


def studs(size: HubAndRotor, scale: float, first_deg: float = 0.0, *, nuts: bool = False) -> str:
    """Draw the wheel studs end on, the first of them in a direction clockwise from the top."""
    drawn = ""
    for stud in range(size.studs):
        turn = first_deg + 360 * stud / size.studs
        x, y = around(turn, size.stud_circle_mm / 2 * scale)
        if nuts:
            corners = [around(turn + 60 * corner, 11 * scale) for corner in range(6)]
            drawn += svg.polygon(
                [(x + dx, y + dy) for dx, dy in corners], fill=palette.STEEL_LIGHT, stroke=palette.INK,
                stroke_width="1",
            )  # fmt: skip
        drawn += svg.circle(
            x, y, 6 * scale, fill=palette.STEEL_DARK, stroke=palette.INK, stroke_width="1", data_part="stud"
        )
    return drawn


def chalk(size: HubAndRotor, scale: float, turned_deg: float) -> str:
    """Draw the chalk mark across track and hat."""
    (x1, y1), (x2, y2) = (
        around(turned_deg, radius * scale) for radius in (size.seat_mm + 2, size.outer_mm - 2)
    )
    under = svg.line(x1, y1, x2, y2, stroke=palette.STEEL_DARK, stroke_width="7", stroke_linecap="round")
    return under + svg.line(
        x1, y1, x2, y2, stroke=palette.CHALK, stroke_width="5", stroke_linecap="round", data_part="chalk"
    )


def arrow(start: svg.Point, end: svg.Point, colour: str, width: float, name: str, dashes: str = "") -> str:
    """Draw an arrow; one that is shorter than its head is a dot."""
    (x1, y1), (x2, y2) = start, end
    length = math.hypot(x2 - x1, y2 - y1)
    if length < 3:
        return svg.circle(x1, y1, width, fill=colour, data_part=name)
    head = min(14.0, 0.6 * length)
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    foot = (x2 - ux * head, y2 - uy * head)
    half = 0.42 * head
    points = [
        (x2, y2),
        (foot[0] - uy * half, foot[1] + ux * half),
        (foot[0] + uy * half, foot[1] - ux * half),
    ]
    shaft = svg.line(
        x1, y1, foot[0], foot[1], stroke=colour, stroke_width=f"{width:g}", stroke_dasharray=dashes or None
    )
    return shaft + svg.polygon(points, fill=colour, data_part=name)
