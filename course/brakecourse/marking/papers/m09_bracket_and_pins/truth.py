"""What is true of the bracket, pins and piston behind a case, as it is sealed."""

from __future__ import annotations

from brakecourse.bench.bracket_cases import (
    DRY,
    PACKED,
    PIN_BOOT,
    PISTON,
    PISTON_BOOT,
    RUST,
    SEIZED,
    SOUND,
    SWAPPED,
)
from brakecourse.marking.readings import SealedReading
from brakecourse.marking.sealed import Finite, Record, Row, Truth

MODULE = "09_bracket_and_pins"
Two = tuple[Finite, Finite]

FAULT_OF = {
    "dry": DRY,
    "seized": SEIZED,
    "packed": PACKED,
    "swapped": SWAPPED,
    "rust": RUST,
    "piston": PISTON,
    "pin-boot": PIN_BOOT,
    "piston-boot": PISTON_BOOT,
    "sound": SOUND,
}
"""What is at fault, by the short name of the situation and of its choice."""


class Bore(Record):
    """One slide pin and its bore, mm.

    Attributes:
        bore_mm, depth_mm: the bore's diameter and depth.
        pin_mm, seated_mm: the pin's diameter, and how much of it is in the bore when seated.
    """

    bore_mm: Finite
    depth_mm: Finite
    pin_mm: Finite
    seated_mm: Finite

    @property
    def measures(self) -> tuple[float, float, float, float]:
        """Bore, depth, pin and seated length, as the trade's functions take them."""
        return self.bore_mm, self.depth_mm, self.pin_mm, self.seated_mm


class Seen(Record):
    """What can be seen of a pin that has come out: as the bench's ``SeenPin``."""

    grease_share: Finite
    scored: bool
    flat: bool
    boot_torn: bool


class Found(Record):
    """What hands and gauges found at one wheel, leading and trailing where there are two.

    Attributes:
        wheel: which one.
        slide_n: force that slides each pin, to 5 N.
        grip_n: force that moves a pad's ear.
        push_back_n: force that pushes the pistons back.
        gap_mm: how far short of its seat each pin stops.
        grease_ml: grease in each bore.
        rust_mm: rust under each clip.
    """

    wheel: str
    slide_n: Two
    grip_n: Two
    push_back_n: Finite
    gap_mm: Two
    grease_ml: Two
    rust_mm: Two


class BracketTruth(Truth):
    """The wheel behind a case.

    Attributes:
        pressure_mpa, clamp_n: pressure of everyday braking, and the pistons' force at it, to 1 N.
        pistons, piston_mm: how many push, and their diameter.
        bore: one pin and its bore.
        pulls: the pull gauge at the leading and at the trailing pin.
        pins: what can be seen of both pins.
        piston_boot_torn: the piston's boot is torn.
        here, other: what was found at this wheel and at the axle's other one.
        pressed_in_ml: grease that a helper would press into one bore, more than finds room.
        step_order: the steps of the service, by their ids, as they are listed.
    """

    pressure_mpa: Finite
    clamp_n: Finite
    pistons: int
    piston_mm: Finite
    bore: Bore
    pulls: tuple[SealedReading, SealedReading]
    pins: tuple[Seen, Seen]
    piston_boot_torn: bool
    here: Found
    other: Found
    pressed_in_ml: Finite
    step_order: tuple[str, ...]

    @property
    def pulls_n(self) -> Row:
        """The pull gauge to the nearest line, leading and trailing."""
        return tuple(one.reading for one in self.pulls)
