"""The worked example of the lesson on the fluid's level: one vehicle, shown step by step."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.level_cases import LevelCase, WheelSeen
from brakecourse.bench.level_sums import SEEN_WEAR_U_MM, piston_travel_mm
from brakecourse.bench.specification import Wheel
from brakecourse.bench.vehicles import Vehicle
from brakecourse.published import value
from brakecourse.trade.conformity import decide
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.views.drawings import level_band_svg
from brakecourse.views.level_capacity import required_ml
from brakecourse.views.level_reading import case_svg, how_level, how_missing
from brakecourse.views.level_reasons import MEANING, sums, top_up_words
from brakecourse.views.level_volumes import WornAxle, axle_svg, caliper_words
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.units import both


def show_sheet(case: LevelCase) -> Shown:
    """Show what is on the sheet: the vehicle, the complaint, its reservoir, its calipers and its wear."""
    vehicle, system = case.vehicle, case.vehicle.hydraulics
    rows = [
        ("Fact", "Value"),
        ("Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"),
        ("What the driver says", case.car.complaint),
        ("Since pads were new and the reservoir full", both(case.car.km, "km")),
        ("MAX above the floor", both(system.reservoir_max_mm, "mm", 0)),
        ("MIN above the floor", both(system.reservoir_min_mm, "mm", 0)),
        ("Area of the fluid's surface", both(system.reservoir_area_mm2, "mm²")),
    ]
    for brake in (vehicle.front, vehicle.rear):
        bore = both(brake.caliper.piston_bore_mm, "mm", 0)
        rows.append((f"Calipers, {brake.axle}", f"{caliper_words(brake)}, bore {bore}"))
    rows += [(f"Wear, {one.wheel}", _wear_words(one)) for one in case.wheels]
    return _listed("What stands on the sheet", rows)


def _wear_words(one: WheelSeen) -> str:
    return f"each pad {both(one.pad_wear_mm, 'mm', 1)}, rotor {both(one.rotor_wear_mm, 'mm', 1)}"


def show_reservoir(case: LevelCase, *, uid: str) -> Shown:
    """Show the reservoir, and how its level is read.

    Args:
        case: the vehicle.
        uid: a word that no other drawing on the page has.
    """
    words = f"{how_level(case)} The level is {both(case.reading_mm, 'mm', 0)}."
    return _drawn("The reservoir", words, case_svg(case, uid=uid))


def show_missing(case: LevelCase) -> Shown:
    """Show how the missing fluid is worked out."""
    return Shown(how_missing(case), f"<p>{how_missing(case)}</p>")


def show_caliper(case: LevelCase, wheel: Wheel, *, uid: str) -> Shown:
    """Show the caliper of one wheel cut through, and how far its piston has come out.

    Args:
        case: the vehicle.
        wheel: which wheel.
        uid: a word that no other drawing on the page has.
    """
    one = _seen(case, wheel)
    travel = piston_travel_mm(one.brake, one.pad_wear_mm, one.rotor_wear_mm)
    words = f"{_wear_words(one).capitalize()}. The piston has come out by {both(travel, 'mm', 1)}."
    drawn = axle_svg(WornAxle(case.vehicle, one.brake, one.pad_wear_mm), uid=uid)
    return _drawn(f"The caliper at the {wheel} wheel", words, drawn)


def show_wheels(case: LevelCase) -> Shown:
    """Show the fluid that each wheel's wear asks for, and the sum."""
    rows = [("Wheel", "Area of the piston", "Piston has come out by", "Fluid")]
    for one in case.wheels:
        travel = piston_travel_mm(one.brake, one.pad_wear_mm, one.rotor_wear_mm)
        area = piston_area_mm2(one.brake.caliper.piston_bore_mm)
        fluid = both(one.wear.volume_ml, "mL")
        rows.append((one.wheel, both(area, "mm²"), both(travel, "mm", 1), fluid))
    rows.append(("all four", "", "", both(case.finding.expected_ml, "mL")))
    return _listed("What the wear asks for", rows)


def show_uncertainty(case: LevelCase) -> Shown:
    """Show what makes the uncertainty, and the guard band."""
    u_mm = case.rule.standard_uncertainty_at(case.reading_mm)
    rows = [
        ("What", "Uncertainty", "In fluid"),
        (
            "Level on the rule",
            both(round(u_mm, 2), "mm"),
            both(u_mm * case.vehicle.hydraulics.reservoir_area_mm2 / 1000, "mL"),
        ),
    ]
    for brake in (case.vehicle.front, case.vehicle.rear):
        wear = both(brake.wear(SEEN_WEAR_U_MM).volume_ml, "mL")
        rows.append((f"Wear of the pads, each {brake.axle} wheel", both(SEEN_WEAR_U_MM, "mm"), wear))
    rows.append(("All together", "", both(case.uncertainty_ml, "mL")))
    rows.append(("Guard band, 1.645 times that", "", both(case.guard_ml, "mL")))
    return _listed("How sure the two numbers are", rows)


def show_verdict(case: LevelCase, *, uid: str) -> Shown:
    """Show the missing fluid beside what the wear asks for, and the verdict.

    Args:
        case: the vehicle.
        uid: a word that no other drawing on the page has.
    """
    found = case.finding
    words = f"{sums(case)} {found.verdict.capitalize()}: {MEANING[found.verdict]}"
    drawn = level_band_svg(found.expected_ml, case.missing_ml, case.guard_ml, uid=uid)
    return _drawn("The missing fluid beside the wear", words, drawn)


def show_top_up(case: LevelCase) -> Shown:
    """Show what topping up first would do."""
    words = f"The pistons' way back lifts the level by {both(case.back_mm, 'mm', 1)}. {top_up_words(case)}"
    return Shown(words, f"<p>{words}</p>")


def show_capacity(vehicle: Vehicle) -> Shown:
    """Show what the regulation asks of a vehicle's reservoir."""
    rows = [("Caliper", "Each pad moves by", "Rotor may lose", "Fluid for one")]
    for brake in (vehicle.front, vehicle.rear):
        travel = brake.travel
        per_pad = travel.lining_new_mm - travel.lining_worn_mm + travel.clearance_mm
        rotor, fluid = both(travel.rotor_wear_mm, "mm", 1), both(travel.volume_ml, "mL")
        rows.append((brake.axle, both(per_pad, "mm"), rotor, fluid))
    rows.append(("all four", "", "", both(required_ml(vehicle), "mL")))
    rows.append(("reservoir at MAX", "", "", both(vehicle.hydraulics.reservoir_ml, "mL")))
    return _listed(f"What the reservoir of the {vehicle.name} must hold", rows)


def check_rule(vehicles: Sequence[Vehicle]) -> Shown:
    """Show the published rule by its source, and whether each vehicle's reservoir keeps it.

    Args:
        vehicles: which ones.

    Raises:
        ValueError: one of them does not keep it.
    """
    rule = value("reservoir_rule_new_to_worn")
    rows = [("Vehicle", "Must hold", "Holds at MAX", "Keeps the rule")]
    for one in vehicles:
        needed, holds = required_ml(one), one.hydraulics.reservoir_ml
        if decide(holds, needed, "minimum", 0.0).verdict != "within":
            raise ValueError(
                f"The reservoir of the {one.name} was expected to keep the rule; please report this."
            )
        rows.append((one.name, both(needed, "mL"), both(holds, "mL"), "yes"))
    told = [
        ("Check", "Value"),
        ("What", f"{rule.quantity[:1].upper()}{rule.quantity[1:].split(';')[0]} ({rule.condition})"),
        ("Source", f"{rule.source}, {rule.section}"),
        (
            "How it is known",
            "read in the source, or in a copy of it" if rule.how_known == "read" else "from memory",
        ),
    ]
    text = [": ".join(row) for row in told[1:]] + [" | ".join(row) for row in rows[1:]]
    return Shown("\n".join(text), table(told) + table(rows))


def _seen(case: LevelCase, wheel: Wheel) -> WheelSeen:
    return next(one for one in case.wheels if one.wheel == wheel)


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: Sequence[Sequence[str]]) -> Shown:
    lines = [" | ".join(cell for cell in row if cell) for row in rows[1:]]
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")
