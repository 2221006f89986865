"""The sums about a pin and its bore, written out as a person does them on paper."""

from __future__ import annotations

import math

from brakecourse.bench.parts import SlidePin
from brakecourse.trade.slide_pins import (
    AIR_SHARE,
    free_volume_ml,
    grease_limit_ml,
    pad_force_split_n,
    seated_gap_mm,
    wear_ratio,
)
from brakecourse.views.words import mm, number


def measures(pin: SlidePin) -> tuple[float, float, float, float]:
    """Return bore, depth, pin and seated length in mm, as the trade's functions take them."""
    return pin.bore_mm, pin.depth_mm, pin.pin_mm, pin.seated_length_mm


def area_mm2(diameter_mm: float) -> float:
    """Return the area of a circle.

    >>> round(area_mm2(10), 1)
    78.5
    """
    return math.pi / 4 * diameter_mm**2


def bore_rows(pin: SlidePin, *, areas: bool) -> tuple[tuple[str, ...], ...]:
    """Return a bore's sizes as rows to show, the heads first.

    Args:
        pin: the pin and its bore.
        areas: with the two areas.
    """
    rows: list[tuple[str, ...]] = [
        ("What", "Value"),
        ("Diameter of the bore", mm(pin.bore_mm)),
        ("Depth of the bore", mm(pin.depth_mm, 1)),
        ("Diameter of the pin", mm(pin.pin_mm)),
        ("Pin in the bore when seated", mm(pin.seated_length_mm, 1)),
    ]
    if areas:
        rows.append(("Area of the bore", f"{number(area_mm2(pin.bore_mm), 1)} mm²"))
        rows.append(("Area of the pin", f"{number(area_mm2(pin.pin_mm), 1)} mm²"))
    return tuple(rows)


def free_sum(pin: SlidePin) -> str:
    """Write the free volume out.

    >>> free_sum(SlidePin(10.3, 56, 10.0, 47))
    'Bore 83.3 × 56 less pin 78.5 × 47, in mm³, divided by 1000: 0.975 mL.'
    """
    bore, depth, shank, seated = measures(pin)
    return (
        f"Bore {number(area_mm2(bore), 1)} × {depth:g} less pin {number(area_mm2(shank), 1)} × {seated:g}, "
        f"in mm³, divided by 1000: {number(free_volume_ml(*measures(pin)), 3)} mL."
    )


def limit_sum(pin: SlidePin) -> str:
    """Write the most grease out.

    >>> limit_sum(SlidePin(10.3, 56, 10.0, 47))
    'Half of the free volume stays air: 0.975 ÷ 2 = 0.487 mL.'
    """
    if AIR_SHARE != 0.5:
        raise ValueError(f"The words say half, but the air's share is {AIR_SHARE}.")
    free, limit = free_volume_ml(*measures(pin)), grease_limit_ml(*measures(pin))
    return f"Half of the free volume stays air: {number(free, 3)} ÷ 2 = {number(limit, 3)} mL."


def gap_sum(grease_ml: float, pin: SlidePin) -> str:
    """Write out how far short of its seat a pin stops.

    >>> gap_sum(1.26, SlidePin(10.3, 56, 10.0, 47))
    'Too much: 1.260 − 0.975 = 0.285 mL = 285 mm³. Divided by the area of the pin, 78.5 mm²: 3.6 mm.'
    """
    free = free_volume_ml(*measures(pin))
    return (
        f"Too much: {number(grease_ml, 3)} − {number(free, 3)} = {number(grease_ml - free, 3)} mL = "
        f"{number(1000 * (grease_ml - free), 0)} mm³. Divided by the area of the pin, "
        f"{number(area_mm2(pin.pin_mm), 1)} mm²: {number(seated_gap_mm(grease_ml, *measures(pin)), 1)} mm."
    )


def force_sum(clamp_n: float, drag_n: float) -> str:
    """Write the outer pad's force out.

    >>> force_sum(3828, 1845)
    'The pins hold 1845 N back: 3828 − 1845 = 1983 N.'
    """
    outer = pad_force_split_n(clamp_n, drag_n).outer_n
    return f"The pins hold {drag_n:.0f} N back: {clamp_n:.0f} − {drag_n:.0f} = {outer:.0f} N."


def ratio_sum(clamp_n: float, drag_n: float) -> str:
    """Write the wear ratio out.

    >>> ratio_sum(3828, 1845)
    'Inner over outer force: 3828 ÷ 1983 = 1.93.'
    """
    split = pad_force_split_n(clamp_n, drag_n)
    return (
        f"Inner over outer force: {split.inner_n:.0f} ÷ {split.outer_n:.0f} = "
        f"{number(wear_ratio(clamp_n, drag_n))}."
    )
