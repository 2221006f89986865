"""The worked example of the lesson on mating faces: one rotor of the motor pool, step by step."""

from __future__ import annotations

import math

from brakecourse.bench.draw import Draw
from brakecourse.bench.fit_cases import draw_fit
from brakecourse.bench.rotor_fits import PLACES_DEG, Fit, wheel_words
from brakecourse.bench.vehicles import motor_pool
from brakecourse.trade.hub_fit import debris_run_out_mm, stack_run_out_mm, tilt_deg
from brakecourse.views.drawings import run_out_plot_svg
from brakecourse.views.drawings.hub_face import hub_face_svg
from brakecourse.views.drawings.hub_section import LARGER, hub_section_svg
from brakecourse.views.drawings.rotor_index import rotor_index_svg, studs_on
from brakecourse.views.mating_fit import size_of
from brakecourse.views.mating_replies import flake_sum
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.words import mm, number

VEHICLE, SEED = "dog_wardens_estate", 3
_ONE_PERCENT = 0.01
_HALVINGS = 60


def estate() -> Fit:
    """Return the rotor that the lesson follows: dirty as it comes in, and still over its limit when clean."""
    return draw_fit("clean then index", "normal", Draw(SEED), motor_pool()[VEHICLE])


def show_known(fit: Fit) -> Shown:
    """Show what is known before anybody takes the wheel off."""
    rows = [
        ("Fact", "Value"),
        ("Wheel", f"{wheel_words(fit)}, {fit.vehicle.fleet_number} (invented)"),
        ("Wheel studs", str(fit.studs)),
        ("Seat radius s", mm(fit.seat_mm, 1)),
        ("Measuring radius r", mm(fit.radius_mm, 1)),
        ("Largest total run-out allowed", mm(fit.limit_mm)),
        ("Total run-out found", mm(fit.total_mm)),
    ]
    lines = [" | ".join(row) for row in rows[1:]]
    title = "What we know about this wheel"
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")


def show_dial(fit: Fit, *, uid: str, title: str = "Dial readings round the rotor") -> Shown:
    """Show the eight dial readings with all wheel nuts fitted, and the total run-out."""
    svg = run_out_plot_svg(PLACES_DEG, fit.dial_mm, uid=uid, limit_mm=fit.limit_mm, title=title)
    readings = ", ".join(number(reading) for reading in fit.dial_mm)
    return _drawn(title, f"Readings in mm: {readings}. Total run-out {mm(fit.total_mm)}.", svg)


def show_faces(fit: Fit, *, uid: str) -> Shown:
    """Show both mating faces as found, and how thick the flake is."""
    dirty = fit.own.debris_mm > 0
    svg = hub_face_svg(size_of(fit.vehicle, fit.wheel), uid=uid, rusty=dirty, flake_deg=fit.own.debris_deg)
    words = (
        f"Rust on both faces. The flake at the edge of the hub's seat is {mm(fit.own.debris_mm)} thick."
        if dirty
        else "Both faces are bare metal."
    )
    return _drawn("The two mating faces", words, svg)


def show_flake(fit: Fit, *, uid: str) -> Shown:
    """Show the rotor leaning on its flake, and what that makes at the track."""
    flake = fit.own.debris_mm
    svg = hub_section_svg(
        size_of(fit.vehicle, fit.wheel),
        flake,
        uid=uid,
        flake_deg=fit.own.debris_deg,
        turned_deg=fit.own.debris_deg,
    )
    sum_words = flake_sum(flake, fit.seat_mm, fit.radius_mm)
    words = (
        f"Turned so that the flake stands at the top. {sum_words} That is {mm(fit.flake_run_out_mm)}. "
        f"The lean is drawn {LARGER} times larger."
    )
    return _drawn("The rotor on its flake, cut through", words, svg)


def show_arrows(fit: Fit, index: int, *, uid: str) -> Shown:
    """Show the arrows of hub and rotor in one position, and what they make together."""
    hub, rotor = fit.hub, fit.rotor
    svg = rotor_index_svg(
        size_of(fit.vehicle, fit.wheel),
        (hub.total_mm, hub.high_deg),
        (rotor.total_mm, rotor.high_deg),
        index,
        uid=uid,
    )
    together = stack_run_out_mm(hub, rotor, index, fit.studs)
    points = (rotor.high_deg + 360 * index / fit.studs) % 360
    words = (
        f"Hub {mm(hub.total_mm)} at {hub.high_deg:.0f}°, rotor {mm(rotor.total_mm)} at {points:.0f}°: "
        f"together {mm(together)}."
    )
    return _drawn(f"The rotor {studs_on(index)}", words, svg)


def show_positions(fit: Fit) -> Shown:
    """Show the run-out in each position, and whether it keeps the limit."""
    rows: list[tuple[str, ...]] = [("Position", "Total run-out", "Against the limit")]
    for index, total in enumerate(fit.best[2]):
        rows.append((studs_on(index), mm(total, 3), "within" if total <= fit.limit_mm else "over"))
    lines = [" | ".join(row) for row in rows[1:]]
    title = f"Each position, limit {mm(fit.limit_mm)}"
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")


def show_decision(fit: Fit) -> Shown:
    """Show the three findings in the order in which they were made, and what each asks for."""
    clean = fit.cleaned()
    index, best, _ = fit.best
    rows = [
        ("Finding", "Total run-out", "What to do"),
        ("as it came in, rust on both faces", mm(fit.total_mm), "clean both faces and measure again"),
        ("both faces bare metal", mm(clean.total_mm), f"over the limit of {mm(fit.limit_mm)}: index"),
        (f"{studs_on(index)}", mm(best), "within the limit: paint-mark the position and keep it"),
    ]
    lines = [" | ".join(row) for row in rows[1:]]
    title = "The decision, step by step"
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")


def one_percent_tilt_rad(seat_mm: float, radius_mm: float) -> float:
    """Return the lean at which run-out taken as ``2 r`` times the angle falls short by one percent.

    Args:
        seat_mm, radius_mm: seat radius and measuring radius. The result does not depend on them.

    Returns:
        The lean in radians, found by halving.
    """
    low, high = 0.0, seat_mm  # thickness of the flake; a flake as thick as the seat leans by half a radian
    for _ in range(_HALVINGS):
        flake = (low + high) / 2
        exact = debris_run_out_mm(flake, seat_mm, radius_mm)
        short = 1 - 2 * radius_mm * math.radians(tilt_deg(flake, seat_mm)) / exact
        low, high = (flake, high) if short < _ONE_PERCENT else (low, flake)
    return math.radians(tilt_deg(low, seat_mm))


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)
