"""Where everything lies in a caliper that is cut through, in mm of the part and on the picture."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.trade.fluid import CaliperKind
from brakecourse.views.drawings._inputs import within

PLATE_MM = 5.5
WALL_MM = 9.0  # round the bore, and its bottom
FINGER_MM = 13.0
BRIDGE_MM = 13.0
GAP_MM = 3.0  # between the bore's bottom and the piston, pads new
LIP_MM = 2.5  # the piston stands this far out, pads new
AXIS_Y = 326.0  # where the piston's middle lies on the picture
LEFT_PX, RIGHT_PX, TALL_PX = 92.0, 618.0, 236.0


@dataclass(frozen=True)
class CaliperCut:
    """A caliper, its pads and its rotor, as far worn as they are. All lengths in mm.

    Args:
        kind: ``"floating"`` or ``"fixed"``.
        bore_mm: diameter of the piston, 20 to 80.
        pad_height_mm: height of the pads, 25 to 80.
        rotor_new_mm: thickness of the rotor when the pads were new, 6 to 50.
        lining_new_mm: lining of one new pad, 5 to 20.
        wear_mm: wear of one pad, 0 to the new lining.
        rotor_wear_mm: what the rotor has lost, both faces together, 0 to 5.

    Raises:
        ValueError: a length is no number or out of range, or there is no such kind.
    """

    kind: CaliperKind
    bore_mm: float
    pad_height_mm: float
    rotor_new_mm: float
    lining_new_mm: float
    wear_mm: float = 0.0
    rotor_wear_mm: float = 0.0

    def __post_init__(self) -> None:
        if self.kind not in ("floating", "fixed"):
            found = str(self.kind)[:40]
            raise ValueError(f"The caliper must be 'floating' or 'fixed', but it was {found!r}.")
        within(self.bore_mm, "bore in mm", 20, 80)
        within(self.pad_height_mm, "height of the pads in mm", 25, 80)
        within(self.rotor_new_mm, "thickness of the rotor in mm", 6, 50)
        within(self.lining_new_mm, "lining of a new pad in mm", 5, 20)
        within(self.wear_mm, "wear of one pad in mm", 0, self.lining_new_mm)
        within(self.rotor_wear_mm, "wear of the rotor in mm", 0, 5)


@dataclass(frozen=True)
class Places:
    """Lengths from the rotor's middle plane, to the right, and from the piston's middle, upwards; in mm.

    Attributes:
        cut: what is drawn.
        px: picture units for a millimetre.
        zero_x: where the rotor's middle plane lies on the picture.
        rotor, plate_in, plate_out: half the rotor; where a plate's lining side and back lie.
        slid: how far the body has slid to the left.
        front, front_new: the left piston's front, and where it would stand in this body with new pads.
        rear, rear_new: the same of its rear.
        mouth, bottom: the left bore's mouth and bottom.
        bridge: the bridge's lower side.
    """

    cut: CaliperCut
    px: float
    zero_x: float
    rotor: float
    plate_in: float
    plate_out: float
    slid: float
    front: float
    front_new: float
    rear: float
    rear_new: float
    mouth: float
    bottom: float
    bridge: float

    @property
    def fixed(self) -> bool:
        """Whether there is a piston on the right as well."""
        return self.cut.kind == "fixed"

    @property
    def outer_left(self) -> float:
        """The body's left end."""
        return self.bottom - WALL_MM

    @property
    def outer_right(self) -> float:
        """The body's right end."""
        return -self.outer_left if self.fixed else self.plate_out + FINGER_MM

    def x(self, mm: float) -> float:
        """Return a place to the right of the rotor's middle, on the picture."""
        return self.zero_x + self.px * mm

    def y(self, mm: float) -> float:
        """Return a place above the piston's middle, on the picture."""
        return AXIS_Y - self.px * mm


def places(cut: CaliperCut) -> Places:
    """Return where everything lies."""
    half_new = cut.rotor_new_mm / 2
    half = half_new - cut.rotor_wear_mm / 2
    left_mm = cut.lining_new_mm - cut.wear_mm
    plate_in, plate_out = half + left_mm, half + left_mm + PLATE_MM
    followed = cut.wear_mm + cut.rotor_wear_mm / 2  # by one pad and one face
    slid = followed if cut.kind == "floating" else 0.0
    front_new = -(half_new + cut.lining_new_mm + PLATE_MM) - slid
    long = min(0.9 * cut.bore_mm, 2.2 * cut.lining_new_mm + 16)
    front = -plate_out
    rear_new, bottom = front_new - long, front_new - long - GAP_MM
    # The scale follows from the new caliper, with room to slide: it stays the same while the pads wear.
    reach_left = half_new + cut.lining_new_mm + PLATE_MM + long + GAP_MM + WALL_MM
    room = cut.lining_new_mm + 3 if cut.kind == "floating" else 0.0
    reach_right = reach_left if cut.kind == "fixed" else half_new + cut.lining_new_mm + PLATE_MM + FINGER_MM
    bridge = max(cut.pad_height_mm / 2 + 7, cut.bore_mm / 2 + 4)
    tall = bridge + BRIDGE_MM + cut.bore_mm / 2 + WALL_MM
    px = min((RIGHT_PX - LEFT_PX) / (reach_left + room + reach_right), TALL_PX / tall, 3.4)
    wide_px = px * (reach_left + room + reach_right)
    zero_x = RIGHT_PX - (RIGHT_PX - LEFT_PX - wide_px) / 3 - px * reach_right
    return Places(
        cut,
        px,
        zero_x,
        half,
        plate_in,
        plate_out,
        slid,
        front,
        front_new,
        front - long,
        rear_new,
        front_new - LIP_MM,
        bottom,
        bridge,
    )
