"""What can be seen of a wheel's bracket, pins and piston, as the drawings need it."""

from __future__ import annotations

from dataclasses import asdict

from brakecourse.bench.bracket_cases import (
    DRY,
    EVERYDAY_MPA,
    FAULTS,
    KINDS,
    PACKED,
    PIN_BOOT,
    PISTON,
    PISTON_BOOT,
    RUST,
    SEIZED,
    SOUND,
    SWAPPED,
    TIGHT_SHARE,
    BracketCase,
    PinSums,
    draw_bracket,
    everyday_clamp_n,
    seen_pins,
)
from brakecourse.bench.specification import AxleBrake
from brakecourse.views.drawings.bracket_parts import BracketLook, PinLook
from brakecourse.views.drawings.slide_places import SlideCut

__all__ = [
    "DRY",
    "EVERYDAY_MPA",
    "FAULTS",
    "KINDS",
    "PACKED",
    "PIN_BOOT",
    "PISTON",
    "PISTON_BOOT",
    "RUST",
    "SEIZED",
    "SOUND",
    "SWAPPED",
    "TIGHT_SHARE",
    "BracketCase",
    "PinSums",
    "cut_of",
    "draw_bracket",
    "everyday_clamp_n",
    "look_of",
]


def look_of(case: BracketCase) -> BracketLook:
    """Return what can be seen of a wheel's parts."""
    caliper = case.condition.wheel(case.wheel).caliper
    leading, trailing = (PinLook(**asdict(pin)) for pin in seen_pins(case))
    return BracketLook(
        (leading, trailing),
        case.pin.pin_mm,
        case.pin.seated_length_mm,
        caliper.clip_rust_mm,
        caliper.piston_boot_torn,
    )


def cut_of(brake: AxleBrake) -> SlideCut:
    """Return the sizes of a floating caliper, as the drawings need them.

    Raises:
        ValueError: it has no slide pins.
    """
    pin, caliper = brake.caliper.pin, brake.caliper
    if pin is None:
        raise ValueError(f"A floating caliper was expected, but the {brake.axle} one is {caliper.kind}.")
    return SlideCut(
        caliper.piston_bore_mm,
        caliper.pushing_pistons,
        brake.pad.length_mm,
        brake.pad.lining_new_mm,
        brake.rotor.nominal_mm,
        pin.bore_mm,
        pin.depth_mm,
        pin.pin_mm,
        pin.seated_length_mm,
    )
