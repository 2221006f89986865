"""The worked example of the lesson on the bracket: one vehicle of the motor pool, step by step."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.condition import VehicleCondition
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import DryPins, PackedPinBore
from brakecourse.bench.vehicles import motor_pool
from brakecourse.trade.pads import mean_lining_mm
from brakecourse.trade.slide_pins import pad_force_split_n, wear_ratio
from brakecourse.views.bracket_case import (
    DRY,
    EVERYDAY_MPA,
    PACKED,
    BracketCase,
    cut_of,
    look_of,
)
from brakecourse.views.bracket_sums import bore_rows, gap_sum, measures
from brakecourse.views.bracket_words import found_table, ml, wheel_words
from brakecourse.views.drawings.bracket_parts import bracket_parts_svg
from brakecourse.views.drawings.pin_bore import pin_bore_svg
from brakecourse.views.drawings.slide_force import slide_force_svg
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

VEHICLE, SEED = "meals_delivery_van", 11


def van() -> tuple[BracketCase, BracketCase]:
    """Return the two front wheels that the lesson follows: one with dry pins, one with a packed bore."""
    drawn: VehicleCase = draw_vehicle(SEED, 2, "normal", (DryPins, PackedPinBore), motor_pool()[VEHICLE])
    condition: VehicleCondition = drawn.condition
    return (
        BracketCase(drawn.vehicle, "front left", condition, DRY),
        BracketCase(drawn.vehicle, "front right", condition, PACKED),
    )


def show_known(left: BracketCase) -> Shown:
    """Show what is known before the caliper comes off."""
    one, other = (left.condition.wheel(wheel).pads for wheel in (left.wheel, left.partner))
    rows = [
        ("What", "Front left", "Front right"),
        ("Vehicle", f"{left.vehicle.name}, {left.vehicle.fleet_number} (invented)", "the same"),
        ("Inner pad, lining left", mm(mean_lining_mm(one.inner), 1), mm(mean_lining_mm(other.inner), 1)),
        ("Outer pad, lining left", mm(mean_lining_mm(one.outer), 1), mm(mean_lining_mm(other.outer), 1)),
        ("Lining when new", mm(left.brake.pad.lining_new_mm, 1), mm(left.brake.pad.lining_new_mm, 1)),
    ]
    return _listed("What we know about the front wheels", rows)


def show_force(case: BracketCase, *, uid: str) -> Shown:
    """Show the caliper with its forces at the pressure of everyday braking, and its pads as worn as they "
    "are."""
    drag, pads = sum(case.slides_n()), case.condition.wheel(case.wheel).pads
    split = pad_force_split_n(case.clamp_n, drag)
    new = case.brake.pad.lining_new_mm
    svg = slide_force_svg(
        cut_of(case.brake),
        case.clamp_n,
        drag,
        full_n=2 * case.clamp_n,
        inner_mm=min(new, mean_lining_mm(pads.inner)),
        outer_mm=min(new, mean_lining_mm(pads.outer)),
        uid=uid,
    )
    words = (
        f"At {both(EVERYDAY_MPA, 'MPa', 1)} the inner pad gets {both(split.inner_n, 'N')} and the outer pad "
        f"{both(split.outer_n, 'N')}. Wear ratio {number(wear_ratio(case.clamp_n, drag))}."
    )
    return _drawn(f"The caliper of {wheel_words(case)}", words, svg)


def show_worn(case: BracketCase) -> Shown:
    """Show what has worn off each pad, from the readings to 0.1 mm, and how many times as much inside."""
    pads, new = case.condition.wheel(case.wheel).pads, case.brake.pad.lining_new_mm
    inner, outer = (new - round(mean_lining_mm(pad), 1) for pad in (pads.inner, pads.outer))
    rows = [
        ("What", "Value"),
        ("Worn off the inner pad", mm(inner, 1)),
        ("Worn off the outer pad", mm(outer, 1)),
        ("Inner over outer", number(inner / outer)),
    ]
    return _listed(f"What has worn off at {wheel_words(case)}", rows)


def show_parts(case: BracketCase, *, uid: str) -> Shown:
    """Show the wheel's parts on the bench, and what hands and gauges found."""
    svg = bracket_parts_svg(look_of(case), uid=uid)
    rows = found_table(case)
    title = f"Parts of {wheel_words(case)}"
    words = " ".join(f"{row[0]}: {row[1]}; other wheel {row[2]}." for row in rows[1:])
    return Shown(caption(title, words), figure(svg, title, "As they came out.", table(rows)), svg)


def show_sizes(case: BracketCase) -> Shown:
    """Show the sizes of a pin and its bore, with the two areas."""
    return _listed("One slide pin and its bore", bore_rows(case.pin, areas=True))


def show_bore(case: BracketCase, grease_ml: float, *, uid: str) -> Shown:
    """Show a pin pushed into a bore with some grease in it.

    Args:
        case: the wheel.
        grease_ml: grease in the bore.
        uid: a word that no other drawing on the page has.
    """
    bore, depth, shank, seated = measures(case.pin)
    svg = pin_bore_svg(grease_ml, bore_mm=bore, depth_mm=depth, pin_mm=shank, seated_mm=seated, uid=uid)
    over = grease_ml > case.sums.free_ml
    words = f"{ml(grease_ml)} in the bore. " + (
        gap_sum(grease_ml, case.pin) if over else "The pin reaches its seat, and air is left."
    )
    return _drawn("The pin in its bore", words, svg)


def packed_ml(case: BracketCase) -> float:
    """Return the grease in the fuller bore, as it was washed out and measured: to 0.01 mL."""
    return round(max(case.grease_ml), 2)


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: Sequence[Sequence[str]]) -> Shown:
    lines = [" | ".join(row) for row in rows[1:]]
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")
