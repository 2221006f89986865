"""The worked example of the lesson on pedal and bedding-in: one minibus, shown step by step."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.pushed_back import PushedBack
from brakecourse.published import value
from brakecourse.views.burnish_plans import (
    LIMIT_C,
    ROAD,
    WORKING_C,
    OwnNumbers,
    curve,
    outcome,
    schedule_of,
    verdict_words,
)
from brakecourse.views.drawings import curve_plot_svg, pedal_svg, reservoir_svg
from brakecourse.views.road_test_advice import ACTIONS
from brakecourse.views.rotor_heat_tasks import AIR_C, IRON_KJ, half_time_s
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.units import both
from brakecourse.views.words import mm, percent

_PLAIN = OwnNumbers(10, 20, 40, 30)  # not used by the road schedule, which has its own numbers


def show_job(case: PushedBack) -> Shown:
    """Show what the workshop knows before the pedal is touched."""
    vehicle, system = case.vehicle, case.vehicle.hydraulics
    rows = [
        ("Fact", "Value"),
        ("Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"),
        ("What was done", "new pads and rotors at the front; both front calipers pushed back"),
        ("Mass with its usual load", both(vehicle.mass_kg, "kg")),
        ("The front axle's share of the braking", percent(vehicle.front_share)),
        ("Mass of one front rotor", both(vehicle.front.rotor_mass_kg, "kg", 1)),
        ("1 kg of its iron, 1 °C warmer, takes", f"{IRON_KJ:g} kJ"),
        ("Half-time of a front rotor while driving", both(half_time_s(vehicle) / 60, "minutes", 1)),
        ("Fluid that closes the gaps of one front caliper", both(case.caliper_ml, "mL")),
        ("Fluid of one stroke, half the way to the floor", both(case.stroke_ml, "mL")),
        ("Area of the fluid's surface in the reservoir", both(system.reservoir_area_mm2, "mm²")),
        ("Level before the pedal is pumped", mm(case.level_mm, 0)),
        ("The pad maker's limit for the rotor", both(LIMIT_C, "°C")),
        ("The rotor must reach once", both(WORKING_C, "°C")),
    ]
    return _listed("What we know before the pedal is touched", rows)


def show_pedal(case: PushedBack, strokes: int, *, uid: str) -> Shown:
    """Show where the foot stops in the last of some strokes.

    Args:
        case: the vehicle.
        strokes: how many, 1 or more.
        uid: a word that no other drawing on the page has.
    """
    travel = case.travel_mm(strokes)
    title = f"Stroke {strokes}"
    svg = pedal_svg(
        travel, room_mm=case.vehicle.hydraulics.pedal_room_mm, uid=uid, title=title, strokes=strokes
    )
    firm = "firm and high" if case.is_firm(strokes - 1) else "not firm yet"
    return _drawn(title, f"The foot stops after {mm(travel, 0)}: {firm}.", svg)


def show_reservoir(case: PushedBack, *, uid: str) -> Shown:
    """Show the reservoir before the pedal is pumped."""
    system = case.vehicle.hydraulics
    svg = reservoir_svg(
        case.level_mm,
        min_mm=system.reservoir_min_mm,
        max_mm=system.reservoir_max_mm,
        height_mm=case.height_mm,
        uid=uid,
    )
    words = f"The level stands at {mm(case.level_mm, 0)} before the pedal is pumped."
    return _drawn("Fluid reservoir", words, svg)


def show_road_plan(case: PushedBack, *, uid: str) -> Shown:
    """Show what the road schedule does to a front rotor, as it stands and with the waits that it needs."""
    vehicle = case.vehicle
    found = outcome(vehicle, AIR_C, schedule_of(ROAD, _PLAIN))
    planned = found.with_waits()
    series = [("as planned", curve(found.brakings, vehicle, AIR_C))]
    if planned:
        series.append(("with the waits", curve(planned.brakings, vehicle, AIR_C)))
    svg = curve_plot_svg(
        series,
        x_label="minutes from the first braking",
        y_label="front rotor, °C",
        uid=uid,
        title="The road schedule",
        limit=LIMIT_C,
        limit_words="the pad maker's limit",
        band=(WORKING_C, LIMIT_C, "reach this once"),
    )
    waits = f"With the waits: {planned.words}" if planned else ""
    return _drawn("The road schedule", f"{verdict_words(found)} {waits}".strip(), svg)


def show_rule() -> Shown:
    """Show what to do about the signs of a road test, the worst first."""
    stop, back, cool, on = reversed(ACTIONS)
    rows = [
        ("If you find this", "do this"),
        ("the pedal is low, spongy, or sinks; or something clunks or rattles", stop),
        ("one wheel smokes: its rotor is above the limit and much hotter than its partner", stop),
        ("it pulls, the pedal pulses, something grinds or rubs", back),
        ("one rotor is much hotter than its partner, below the limit", back),
        ("both rotors of an axle are above the limit and alike, with a light haze at most", cool),
        ("it only squeals, or there is no sign at all", on),
    ]
    return _listed("The worst sign decides", rows)


def textbook_ball_time_constant_s() -> float:
    """Return the time constant of a published example, a small ball in a stream of gas, s.

    Source:
        The example's own inputs (rows ``lumped_ex_...``, read): heat held by the ball over heat that
        leaves through its surface, for each degree.

    >>> round(textbook_ball_time_constant_s(), 2)
    2.16
    """
    diameter, density, heat, leaving = (value(f"lumped_ex_{name}").value for name in ("d", "rho", "cp", "h"))
    return density * heat * diameter / 6 / leaving


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: Sequence[Sequence[str]]) -> Shown:
    lines = [" | ".join(row) for row in rows[1:]]
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")
