"""Where everything lies in a floating caliper that is cut through its pins, in mm of the part.

``u`` runs along the rotor's rim from the leading end to the trailing end, 0 at the pads' middle. ``v`` runs
along the axle from the piston's side outwards, 0 at the rotor's middle plane.
"""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.views.drawings._inputs import within

PLATE_MM = 5.5
EAR_MM = 6.0  # how far a plate reaches past its lining, into the bracket
CLIP_MM = 1.5
ARM_WALL_MM = 5.0  # between clip and pin bore, and outside the bore
WALL_MM = 9.0  # round the piston's bore, and its bottom
FINGER_MM = 13.0
LUG_MM = 9.0
BOOT_MM = 9.0  # between bracket and lug, pads new
LIP_MM = 2.5


@dataclass(frozen=True)
class SlideCut:
    """A floating caliper's sizes, all in mm.

    Args:
        piston_mm: diameter of one piston, 20 to 80.
        pistons: how many push, 1 or 2.
        pad_length_mm: length of a pad, 50 to 260.
        lining_new_mm: lining of a new pad, 5 to 20.
        rotor_mm: thickness of the rotor, 6 to 50.
        bore_mm, depth_mm: diameter and depth of a pin's bore, 6 to 20 and 20 to 120.
        pin_mm, seated_mm: diameter of a pin, and its length in the bore when the pads are new.

    Raises:
        ValueError: a length is no number or out of range.
    """

    piston_mm: float
    pistons: int
    pad_length_mm: float
    lining_new_mm: float
    rotor_mm: float
    bore_mm: float
    depth_mm: float
    pin_mm: float
    seated_mm: float

    def __post_init__(self) -> None:
        within(self.piston_mm, "diameter of the piston in mm", 20, 80)
        within(self.pistons, "number of pistons", 1, 2)
        within(self.pad_length_mm, "length of the pad in mm", 50, 260)
        within(self.lining_new_mm, "lining of a new pad in mm", 5, 20)
        within(self.rotor_mm, "thickness of the rotor in mm", 6, 50)
        within(self.bore_mm, "diameter of the pin's bore in mm", 6, 20)
        within(self.depth_mm, "depth of the pin's bore in mm", 20, 120)
        within(self.pin_mm, "diameter of the pin in mm", 4, self.bore_mm)
        within(self.seated_mm, "seated length of the pin in mm", 10, self.depth_mm)


@dataclass(frozen=True)
class SlidePlaces:
    """Where everything lies with the linings as they are.

    Attributes:
        cut: the sizes.
        inner_mm, outer_mm: lining left of each pad.
    """

    cut: SlideCut
    inner_mm: float
    outer_mm: float

    @property
    def half(self) -> float:
        """Half the rotor."""
        return self.cut.rotor_mm / 2

    @property
    def slid(self) -> float:
        """How far the body has followed the outer pad, towards the piston's side."""
        return self.cut.lining_new_mm - self.outer_mm

    @property
    def plate_in(self) -> float:
        """The back of the inner pad's plate, which the piston touches."""
        return -(self.half + self.inner_mm + PLATE_MM)

    @property
    def plate_out(self) -> float:
        """The back of the outer pad's plate, which the fingers touch."""
        return self.half + self.outer_mm + PLATE_MM

    @property
    def mouth(self) -> float:
        """The mouth of the piston's bore."""
        return -(self.half + self.cut.lining_new_mm + PLATE_MM + LIP_MM) - self.slid

    @property
    def piston_long(self) -> float:
        """Length of the piston."""
        return min(0.9 * self.cut.piston_mm, 2.2 * self.cut.lining_new_mm + 16)

    @property
    def back(self) -> float:
        """The body's end on the piston's side."""
        return self.mouth + LIP_MM - self.piston_long - 3 - WALL_MM

    @property
    def block(self) -> float:
        """Half the width of the body round its pistons."""
        many = self.cut.pistons
        return (many * self.cut.piston_mm + (many - 1) * 6) / 2 + WALL_MM

    @property
    def centres(self) -> tuple[float, ...]:
        """Where the middles of the pistons lie along the rim."""
        apart = (self.cut.piston_mm + 6) / 2
        return (0.0,) if self.cut.pistons == 1 else (-apart, apart)

    @property
    def arm_near(self) -> float:
        """The bracket's arm begins here, from the pads' middle."""
        return self.cut.pad_length_mm / 2 + EAR_MM + CLIP_MM

    @property
    def pin(self) -> float:
        """The middle of a pin, from the pads' middle."""
        return max(self.arm_near + ARM_WALL_MM + self.cut.bore_mm / 2, self.block + self.cut.bore_mm / 2 + 3)

    @property
    def arm_far(self) -> float:
        """The bracket's arm ends here, from the pads' middle."""
        return self.pin + self.cut.bore_mm / 2 + ARM_WALL_MM

    @property
    def arm_top(self) -> float:
        """The face of the bracket in which the bore opens."""
        return -(self.half + self.cut.lining_new_mm + PLATE_MM + 3)

    @property
    def arm_low(self) -> float:
        """The bracket's other face."""
        return max(-self.arm_top, self.arm_top + self.cut.depth_mm + 6)

    @property
    def lug_low(self) -> float:
        """The side of the body's lug that looks at the bracket."""
        return self.arm_top - BOOT_MM - self.slid

    @property
    def pin_end(self) -> float:
        """The inner end of a pin."""
        return self.arm_top + self.cut.seated_mm - self.slid
