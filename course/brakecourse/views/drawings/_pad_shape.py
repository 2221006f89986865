"""The shape of one brake pad, as every picture of it needs it. Lengths are in mm."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.trade.pads import PadReading
from brakecourse.views.drawings._inputs import within

EAR_MM = 7.0  # how far the backing plate reaches past the lining at each end
SLOT_MM = 3.0
SLOT_FLOOR_MM = 2.0  # lining under the slot
CHAMFER_SHARE = 0.5  # a new pad's chamfers begin at this share of the lining's height, at 45 degrees
STRIP_MM = 4.0  # width of the step along the outer edge
ARCH_SHARE = 0.07  # how far the pad's edges bulge, as a share of its length
LOOKS = (
    "sound",
    "glazed",
    "contaminated with brake fluid",
    "contaminated with grease",
    "uneven transfer",
    "cracked",
    "grooved",
)
VIEWS = ("inner edge", "trailing end", "outer edge", "leading end")


@dataclass(frozen=True)
class DrawnPad:
    """One pad to draw. Its slot, chamfers, ears and arch are the drawing's own; the rest is the pad's.

    Attributes:
        reading: lining at the four corners, and the step at the outer edge.
        length_mm, height_mm: of the lining's face.
        new_mm: thickness of the lining when new.
        plate_mm: thickness of the backing plate.
        looks: how the face looks, of ``LOOKS``; ``"grooved"`` draws grooves as deep as ``groove_mm``.
        groove_mm: depth of the grooves.

    Raises:
        ValueError: a length is no number or out of range, or a look is not one of ``LOOKS``.
    """

    reading: PadReading
    length_mm: float
    height_mm: float
    new_mm: float
    plate_mm: float = 5.5
    looks: tuple[str, ...] = ("sound",)
    groove_mm: float = 0.0

    def __post_init__(self) -> None:
        if not isinstance(self.reading, PadReading):
            raise ValueError(f"A pad's reading must be a PadReading, but it was {self.reading!r:.60}.")
        within(self.length_mm, "length of a pad in mm", 40, 260)
        within(self.height_mm, "height of a pad in mm", 20, 90)
        new = within(self.new_mm, "lining thickness when new in mm", 4, 25)
        within(self.plate_mm, "thickness of a backing plate in mm", 3, 10)
        within(self.groove_mm, "depth of the grooves in mm", 0, 3)
        for corner in self.reading.corners_mm:
            within(corner, "lining thickness in mm", 0, new + 1)
        within(self.reading.step_mm, "step in mm", 0, new)
        unknown = [look for look in self.looks if look not in LOOKS]
        if unknown:
            raise ValueError(f"A pad's looks must be of {', '.join(LOOKS)}, but there was {unknown[0]!r}.")

    def corner(self, end: str, edge: str) -> float:
        """Return the lining at a corner: end ``leading`` or ``trailing``, edge ``outer`` or ``inner``."""
        thickness: float = getattr(self.reading, f"{end}_{edge}_mm")
        return thickness

    @property
    def mean_mm(self) -> float:
        """Mean of the corners."""
        return sum(self.reading.corners_mm) / 4

    def chamfer_mm(self, lining_mm: float) -> float:
        """Return how wide the chamfer still is at an end with so much lining; wear takes it away."""
        return max(0.0, lining_mm - CHAMFER_SHARE * self.new_mm)

    @property
    def slot_left(self) -> bool:
        """Whether the slot is still to be seen."""
        return self.mean_mm > SLOT_FLOOR_MM

    def sides(self, view: str) -> tuple[tuple[float, float], tuple[float, float]]:
        """Return the lining at the left and the right end of the near side, and of the far side.

        The pad lies on its back, leading end to the left for who stands at its inner edge.

        Args:
            view: from where it is seen, of ``VIEWS``.
        """
        ends = {
            "inner edge": (
                ("leading", "inner"),
                ("trailing", "inner"),
                ("leading", "outer"),
                ("trailing", "outer"),
            ),
            "outer edge": (
                ("trailing", "outer"),
                ("leading", "outer"),
                ("trailing", "inner"),
                ("leading", "inner"),
            ),
            "leading end": (
                ("leading", "outer"),
                ("leading", "inner"),
                ("trailing", "outer"),
                ("trailing", "inner"),
            ),
            "trailing end": (
                ("trailing", "inner"),
                ("trailing", "outer"),
                ("leading", "inner"),
                ("leading", "outer"),
            ),
        }[view]
        near_left, near_right, far_left, far_right = (self.corner(*one) for one in ends)
        return (near_left, near_right), (far_left, far_right)


def ends_of(view: str) -> tuple[str, str]:
    """Return what lies at the left and at the right of a view.

    >>> ends_of("inner edge")
    ('leading end', 'trailing end')
    """
    return {
        "inner edge": ("leading end", "trailing end"),
        "outer edge": ("trailing end", "leading end"),
        "leading end": ("outer edge", "inner edge"),
        "trailing end": ("inner edge", "outer edge"),
    }[view]
