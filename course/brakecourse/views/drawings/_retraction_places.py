"""Where everything lies while a piston is pushed back: in mm of the part, and on the picture."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from brakecourse.views.drawings._inputs import within

Bleeder = Literal["open", "shut", "not told"]

PLATE_MM, WALL_MM, FINGER_MM, BRIDGE_MM = 5.5, 9.0, 13.0, 13.0
GAP_MM = 3.0  # between the bore's bottom and a piston that is home
LIP_MM = 2.5  # a piston that is home stands this far out
AXIS_Y = 362.0
LEFT_PX, WIDE_PX, TALL_PX, MOST_PX = 214.0, 388.0, 236.0, 3.1
BOTTLE_HOLDS_ML = 250.0
BOTTLE_START_ML = 25.0
"""So much fluid stands in the bottle at the start, that the hose's end is under it."""


@dataclass(frozen=True)
class Push:
    """A floating caliper on its rotor, and how far its piston has been pushed back. All lengths in mm.

    Args:
        bore_mm: diameter of the piston, 20 to 80.
        pad_height_mm: height of the pads, 25 to 90.
        rotor_mm: thickness of the rotor, 6 to 50.
        lining_new_mm: lining of one new pad, 5 to 20.
        inner_mm, outer_mm: lining of the old pads, 0 to the new one.
        pushed_mm: how far the piston has gone back, 0 to all that both linings have lost.
        bleeder: ``"open"``, ``"shut"`` or ``"not told"``.
        press: the press still stands on body and pad.
        air: bubbles at the bleeder.
        bottle_ml: what has come into the bottle, 0 to 200.
        level_mm: level in the reservoir above its floor, 0 to its height.
        min_mm, max_mm, height_mm: its marks, and its height.
        hose: the clear hose is on the bleeder, its other end in the bottle.

    Raises:
        ValueError: a value is no number or out of range, or there is no such state.
    """

    bore_mm: float
    pad_height_mm: float
    rotor_mm: float
    lining_new_mm: float
    inner_mm: float
    outer_mm: float
    pushed_mm: float = 0.0
    bleeder: Bleeder = "shut"
    press: bool = True
    air: bool = False
    bottle_ml: float = 0.0
    level_mm: float = 20.0
    min_mm: float = 9.0
    max_mm: float = 36.0
    height_mm: float = 50.0
    hose: bool = True

    def __post_init__(self) -> None:
        within(self.bore_mm, "bore in mm", 20, 80)
        within(self.pad_height_mm, "height of the pads in mm", 25, 90)
        within(self.rotor_mm, "thickness of the rotor in mm", 6, 50)
        within(self.lining_new_mm, "lining of a new pad in mm", 5, 20)
        for name, lining in (("inner", self.inner_mm), ("outer", self.outer_mm)):
            within(lining, f"lining of the {name} pad in mm", 0, self.lining_new_mm)
        within(self.pushed_mm, "travel of the piston in mm", 0, self.travel_mm + 1e-9)
        within(self.bottle_ml, "fluid in the bottle in mL", 0, 200)
        within(self.height_mm, "height of the reservoir in mm", 5, 300)
        for name, mark in (("level", self.level_mm), ("MIN", self.min_mm), ("MAX", self.max_mm)):
            within(mark, f"{name} in mm", 0, self.height_mm)
        if self.bleeder not in get_args(Bleeder):
            raise ValueError(
                f"The bleeder must be {', '.join(get_args(Bleeder))}, but it was {self.bleeder!r}."
            )

    @property
    def travel_mm(self) -> float:
        """How far the piston goes until new pads find room: what both linings have lost."""
        return 2 * self.lining_new_mm - self.inner_mm - self.outer_mm


@dataclass(frozen=True)
class At:
    """Lengths from the rotor's middle plane, to the right, and from the piston's middle, upwards; in mm.

    The piston stands on the inner pad all the time: the press draws the body over it.

    Attributes:
        push: what is drawn.
        px: picture units for a millimetre.
        zero_x: where the rotor's middle plane lies on the picture.
        rotor: half of it.
        inner, outer: where the back of each pad's plate lies, as a distance.
        front, rear: the piston's ends.
        mouth, bottom: the bore's ends.
        finger: the inner face of the body's fingers.
        bridge: the bridge's lower side.
    """

    push: Push
    px: float
    zero_x: float
    rotor: float
    inner: float
    outer: float
    front: float
    rear: float
    mouth: float
    bottom: float
    finger: float
    bridge: float

    @property
    def left(self) -> float:
        """The body's left end."""
        return self.bottom - WALL_MM

    @property
    def right(self) -> float:
        """The body's right end."""
        return self.finger + FINGER_MM

    @property
    def top(self) -> float:
        """The body's upper side."""
        return self.bridge + BRIDGE_MM

    @property
    def bleeder_x(self) -> float:
        """Where the bleeder's channel rises, on the picture: at the very end of the bore."""
        return self.x(self.bottom + 1.5)

    def x(self, mm: float) -> float:
        """Return a place to the right of the rotor's middle, on the picture."""
        return self.zero_x + self.px * mm

    def y(self, mm: float) -> float:
        """Return a place above the piston's middle, on the picture."""
        return AXIS_Y - self.px * mm


def places(push: Push) -> At:
    """Return where everything lies. The scale does not change while the piston goes back."""
    half, new = push.rotor_mm / 2, push.lining_new_mm
    inner, outer = half + push.inner_mm + PLATE_MM, half + push.outer_mm + PLATE_MM
    long = min(0.9 * push.bore_mm, 2.2 * new + 16)
    front, rear = -inner, -inner - long
    bottom = rear - GAP_MM - (push.travel_mm - push.pushed_mm)
    bridge = max(push.pad_height_mm / 2 + 6, push.bore_mm / 2 + 4)
    reach_left = inner + long + GAP_MM + push.travel_mm + WALL_MM
    reach_right = outer + push.travel_mm + FINGER_MM
    tall = bridge + BRIDGE_MM + push.bore_mm / 2 + WALL_MM
    px = min(WIDE_PX / (reach_left + reach_right), TALL_PX / tall, MOST_PX)
    return At(
        push,
        px,
        LEFT_PX + px * reach_left,
        half,
        inner,
        outer,
        front,
        rear,
        bottom + GAP_MM + long - LIP_MM,
        bottom,
        outer + push.pushed_mm,
        bridge,
    )
