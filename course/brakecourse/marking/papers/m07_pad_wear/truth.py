"""What is true of the two pads behind a case, as it is sealed."""

from __future__ import annotations

from collections.abc import Iterable

from pydantic import Field

from brakecourse.marking.readings import SealedReading
from brakecourse.marking.sealed import Finite, Record, Row, Truth
from brakecourse.trade.pads import PadLimits, PadReading

MODULE = "07_pad_wear"
CONFIDENCE = 0.95
PADS = ("inner pad", "outer pad")

Reads = tuple[SealedReading, ...]
Two = tuple[Finite, Finite]


class Hands(Record):
    """What hands and eyes find at one wheel.

    Attributes:
        wheel: which one.
        pin_slide_n: force that slides each slide pin, leading and trailing; None for a fixed caliper.
        pad_grip_n: force that moves the outer pad in its clips, leading and trailing end.
        push_back_n: force that pushes the pistons back.
        bolt_nm: torque found at the looser bolt that holds the bracket, or a fixed caliper.
        wet: where brake fluid has leaked.
        rotor: what the rotor shows.
    """

    wheel: str
    pin_slide_n: Two | None
    pad_grip_n: Two
    push_back_n: Finite
    bolt_nm: Finite
    wet: tuple[str, ...]
    rotor: tuple[str, ...]


class PadTruth(Truth):
    """The two pads behind a case.

    Attributes:
        wheel: where they come from.
        km: distance that they have gone, as printed.
        lining_new_mm, plate_mm: lining when new, and the backing plate.
        length_mm, height_mm: of the lining's face.
        rotor_mm, ridge_mm: rotor beside them, for the picture.
        limits: the pads' limits and the gauge's uncertainty, as printed.
        confidence: probability of a right decision that the guard band is made for.
        inner, outer: the depth gauge at the four corners of each pad, in the order of ``PadReading``.
        step_mm: step at the edge, inner pad and outer pad, to the nearest line.
        cause: the part or the happening behind the pattern, one of the bench's.
        bolt_wanted_nm: the maker's torque of the bracket's bolts.
        here, other: what hands find at this wheel and at the axle's other one.
    """

    wheel: str
    km: Finite = Field(gt=0)
    lining_new_mm: Finite
    plate_mm: Finite
    length_mm: Finite
    height_mm: Finite
    rotor_mm: Finite
    ridge_mm: Finite
    limits: PadLimits
    confidence: Finite = Field(ge=0.5, lt=1)
    inner: Reads
    outer: Reads
    step_mm: Two
    cause: str
    bolt_wanted_nm: Finite
    here: Hands
    other: Hands

    @property
    def reads(self) -> Reads:
        """The gauge at all eight corners, the inner pad's first."""
        return (*self.inner, *self.outer)

    @property
    def readings_mm(self) -> Row:
        """The eight corners to the nearest line, the inner pad's first."""
        return tuple(one.reading for one in self.reads)

    def pads(self, corners_mm: Iterable[float]) -> tuple[PadReading, PadReading]:
        """Return both pads with these eight corners, which need not be the true ones."""
        inner, outer = (
            PadReading(one, two, three, four, step)
            for (one, two, three, four), step in zip(corners_of(corners_mm), self.step_mm, strict=True)
        )
        return inner, outer


def corners_of(corners_mm: Iterable[float]) -> tuple[Row, Row]:
    """Return the corners of the inner and of the outer pad out of a row of eight; none below 0."""
    row = tuple(max(0.0, value) for value in corners_mm)
    return row[:4], row[4:]
