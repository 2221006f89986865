"""The worked example of the hydraulics lesson: one push on one vehicle, shown step by step."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.trade.hydraulics import stopping_distance_m
from brakecourse.views.drawings import pressure_gauge_svg
from brakecourse.views.drawings.bore_pair import bore_pair_svg
from brakecourse.views.drawings.force_flow import Stage, force_flow_svg
from brakecourse.views.drawings.stopping_road import Strip, stopping_road_svg
from brakecourse.views.force_chain import bores_of, follow, with_bore
from brakecourse.views.force_tables import before_after, chain_table, facts_of_vehicle, speed_words
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.units import both
from brakecourse.views.words import mm, number


def show_vehicle(vehicle: Vehicle, foot_n: float) -> Shown:
    """Show what is known before anything is worked out."""
    return _listed("What we know of the vehicle and the push", facts_of_vehicle(vehicle, foot_n))


def show_push(vehicle: Vehicle, foot_n: float, *, upto: Stage, uid: str) -> Shown:
    """Show the picture of the push, worked out up to a stage."""
    chain = follow(vehicle, foot_n)
    svg = force_flow_svg(vehicle, chain, upto=upto, uid=uid)
    return _drawn("From the foot to the road", f"The {vehicle.name}, {both(foot_n, 'N')} on the pedal.", svg)


def show_gauge(vehicle: Vehicle, foot_n: float, *, uid: str) -> Shown:
    """Show what a gauge at the master cylinder shows, with the numbers behind it."""
    chain, bore = follow(vehicle, foot_n), vehicle.hydraulics.master_bore_mm
    words = (
        f"Lever {both(chain.lever_n, 'N')}, booster {both(chain.booster_n, 'N')}, together "
        f"{both(chain.rod_n, 'N')}. Area {both(piston_area_mm2(bore), 'mm²')}. "
        f"Pressure {both(chain.line_mpa, 'MPa')}."
    )
    return _drawn("The gauge at the master cylinder", words, pressure_gauge_svg(chain.line_mpa, uid=uid))


def show_pads(vehicle: Vehicle, foot_n: float) -> Shown:
    """Show pressure, area and clamp force of both axles."""
    chain = follow(vehicle, foot_n)
    rows = [("Caliper", "Pressure", "Area that presses one pad", "Clamp force")]
    for one in (chain.front, chain.rear):
        caliper = vehicle.axle(one.axle).caliper
        area = caliper.pushing_pistons * piston_area_mm2(caliper.piston_bore_mm)
        rows.append((f"{one.axle}, {caliper.kind}", both(one.pressure_mpa, "MPa"), both(area, "mm²"),
                     both(one.clamp_n, "N")))  # fmt: skip
    return _listed("From the pressure to the pads", rows)


def show_wheels(vehicle: Vehicle, foot_n: float) -> Shown:
    """Show the torque of one wheel of each axle, and the deceleration."""
    chain = follow(vehicle, foot_n)
    rows = [("What", "Value")]
    rows += [
        (f"Torque of one {one.axle} wheel", both(one.torque_nm, "N·m")) for one in (chain.front, chain.rear)
    ]
    whole = 2 * (chain.front.torque_nm + chain.rear.torque_nm)
    rows += [
        ("Torque of all four wheels", both(whole, "N·m")),
        ("Force from the road", both(chain.front.road_n + chain.rear.road_n, "N")),
        ("Deceleration", both(chain.slowing_ms2, "m/s²", 2)),
    ]
    return _listed("From the pads to the road", rows)


def show_axles(vehicle: Vehicle, foot_n: float) -> Shown:
    """Show one push, front and rear side by side."""
    chain = follow(vehicle, foot_n)
    rows = chain_table(chain)
    moved = (
        "Moved by braking",
        f"+ {both(chain.front.braking_n - chain.front.standing_n, 'N')}",
        "as much away",
    )
    return _listed("One push, front and rear", (*rows, moved))


def show_bore(vehicle: Vehicle, foot_n: float, which: str, change_mm: float, *, uid: str) -> Shown:
    """Show what a changed bore does: both bores end-on, and the numbers before and after.

    Args:
        vehicle: the vehicle.
        foot_n: the push, N.
        which: ``"master"``, ``"front"`` or ``"rear"``.
        change_mm: by how much the bore is changed.
        uid: a word that no other drawing on the page has.
    """
    old = bores_of(vehicle)
    new = with_bore(old, which, change_mm)
    sizes = getattr(old, f"{which}_mm"), getattr(new, f"{which}_mm")
    what = "master cylinder" if which == "master" else f"{which} piston"
    areas = " and ".join(both(piston_area_mm2(bore), "mm²") for bore in sizes)
    rows = before_after(follow(vehicle, foot_n), follow(vehicle, foot_n, new))
    words = f"Bores {mm(sizes[0], 1)} and {mm(sizes[1], 1)}, areas {areas}."
    title = "The old bore and the new one"
    text = "\n".join([caption(title, words), *(" | ".join(row) for row in rows[1:])])
    svg = bore_pair_svg(*sizes, what=what, uid=uid)
    return Shown(text, figure(svg, title, words, table(rows)), svg)


def show_stop(speed_kmh: float, slowing_ms2: float, reaction_s: float, *, uid: str) -> Shown:
    """Show the way to a stop, and the same from twice the speed."""
    strips, told = [], []
    for times, kmh in ((1, speed_kmh), (2, 2 * speed_kmh)):
        braking = stopping_distance_m(kmh, slowing_ms2)
        reaction = stopping_distance_m(kmh, slowing_ms2, reaction_s) - braking
        name = f"from {number(kmh, 0)} km/h"
        strips.append(Strip(name if times == 1 else f"twice the speed, {name}", reaction, braking))
        told.append(
            f"From {speed_words(kmh)}: reaction {both(reaction, 'm')}, braking {both(braking, 'm')}, "
            f"together {both(reaction + braking, 'm')}."
        )
    return _drawn("The way to a stop", " ".join(told), stopping_road_svg(strips, uid=uid))


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: Sequence[Sequence[str]]) -> Shown:
    lines = [" | ".join(row) for row in rows[1:]]
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")
