"""The worked examples of the lesson on torque: one vehicle's fasteners, shown step by step."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.shop_gauges import torque_wrench
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade import fasteners
from brakecourse.trade._bolts import Finish
from brakecourse.views.drawings.clamp_spread import SpreadBar, clamp_spread_svg
from brakecourse.views.drawings.torque_levers import torque_levers_svg
from brakecourse.views.drawings.wheel_nuts import wheel_nuts_svg
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.torque_sums import (
    Bolt,
    applied_nm,
    bolts_of,
    clamp_range_n,
    length_mm,
    proof_load_n,
    turn_nm,
    turns_and_line,
)
from brakecourse.views.torque_words import FINISH_WORDS, kn, mm_of, nm, nm_range, nm_to_a_tenth, plain, thread
from brakecourse.views.torque_wrench_use import wrench_picture
from brakecourse.views.words import percent


def bolt(vehicle: Vehicle, name: str) -> Bolt:
    """Return a vehicle's fastener by its name, e.g. ``"rear caliper mounting bolt"``.

    Raises:
        ValueError: it has none of this name.
    """
    found = {one.name: one for one in bolts_of(vehicle)}
    if name not in found:
        raise ValueError(f"One of {', '.join(found)} was expected, but it was {name!r}.")
    return found[name]


def show_sheet(vehicle: Vehicle) -> Shown:
    """Show what the maker's sheet says about every fastener of the job."""
    rows = [("Fastener", "Torque", "Thread", "Class", "Threads", "Used again?")]
    for one in bolts_of(vehicle):
        fast = one.fastener
        again = "yes" if fast.reusable else "no: use once"
        rows.append(
            (
                one.name,
                nm(fast.torque_nm),
                thread(fast),
                fast.property_class,
                FINISH_WORDS[fast.finish],
                again,
            )
        )
    title = f"The maker's sheet for the {vehicle.name}, {vehicle.fleet_number} (invented)"
    return _listed(title, rows)


def show_units(*, uid: str) -> Shown:
    """Show the three units of torque as levers with a pull."""
    words = (
        "Lever and pull are drawn to scale: a pound-force is 4.4 times a newton, a metre 3.3 times a foot."
    )
    return _drawn("Three units of torque", words, torque_levers_svg(uid=uid))


def show_setting(largest_nm: float, torque_nm: float, *, uid: str) -> Shown:
    """Show a wrench of the shop that is set to a torque, and how the setting is made up.

    Args:
        largest_nm: which wrench, by its largest torque.
        torque_nm: the setting.
        uid: a word that no other drawing on the page has.
    """
    wrench = torque_wrench(largest_nm)
    turns, line = turns_and_line(wrench, torque_nm)
    words = (
        f"From {wrench.scale.start:g} N·m, {turns} full turns of {turn_nm(wrench):g} N·m and {line} lines of "
        f"{wrench.scale.line:g} N·m: {nm(torque_nm)}."
    )
    title = f"Torque wrench set to {torque_nm:g} N·m"
    return _drawn(title, words, wrench_picture(wrench, torque_nm, uid=uid, title=title))


def show_extension(
    target_nm: float, extension_mm: float, angles_deg: Sequence[float], largest_nm: float = 200.0, *, uid: str
) -> Shown:
    """Show what to set with an extension at some angles; the picture shows the first.

    Args:
        target_nm: wanted torque at the bolt.
        extension_mm: length of the extension.
        angles_deg: its angles to the wrench.
        largest_nm: which wrench.
        uid: a word that no other drawing on the page has.
    """
    wrench = torque_wrench(largest_nm)
    length = length_mm(wrench)
    told = []
    for angle in angles_deg:
        setting = fasteners.wrench_setting_nm(target_nm, length, extension_mm, angle)
        forgot = applied_nm(target_nm, length, extension_mm, angle)
        lever = mm_of(length * target_nm / setting)
        told.append(
            f"At {angle:g}°: lever {lever}, set {nm(setting)}. Forgotten, the bolt gets {nm(forgot)}."
        )
    first = fasteners.wrench_setting_nm(target_nm, length, extension_mm, angles_deg[0])
    title = f"An extension of {mm_of(extension_mm)}, straight on"
    svg = wrench_picture(
        wrench, first, extension_mm=extension_mm, angle_deg=angles_deg[0], uid=uid, title=title
    )
    return _drawn(title, f"Wanted: {nm(target_nm)}. {' '.join(told)}", svg)


def show_order(vehicle: Vehicle, *, uid: str) -> Shown:
    """Show one right order for the nuts of a wheel, and the torque of each round."""
    order = fasteners.tightening_order(vehicle.studs)
    steps = fasteners.tightening_steps_nm(vehicle.wheel_nut.torque_nm)
    words = (
        f"Nuts {', '.join(map(str, order))}. First round {nm(round(steps[0]))}, second round "
        f"{nm(round(steps[1]))}, third round {nm(steps[2])}. Then once more at {nm(steps[2])}."
    )
    title = f"One right order for {vehicle.studs} nuts"
    svg = wheel_nuts_svg(
        vehicle.studs,
        stud_circle_mm=vehicle.stud_circle_mm,
        thread_mm=vehicle.wheel_nut.diameter_mm,
        rim_radius_mm=vehicle.rim_radius_mm,
        tyre_radius_mm=vehicle.tyre_radius_mm,
        tight=order,
        uid=uid,
        title=title,
    )
    return _drawn(title, words, svg)


def show_clamp(one: Bolt, finish: Finish | None = None, *, uid: str) -> Shown:
    """Show how far a fastener's clamp load spreads at its torque, and again with other threads.

    Args:
        one: the fastener.
        finish: how the threads are in the second bar; None for the first bar alone.
        uid: a word that no other drawing on the page has.
    """
    fast = one.fastener
    proof = proof_load_n(fast.diameter_mm, fast.pitch_mm, fast.property_class)
    bars, told = [], [f"Proof load {kn(proof)}."]
    ways: tuple[Finish, ...] = (fast.finish,) if finish is None else (fast.finish, finish)
    for way in ways:
        tolerance = fasteners.wrench_tolerance(fast.torque_nm)
        low, middle, high = clamp_range_n(fast, fast.torque_nm, way, tolerance)
        bars.append(SpreadBar(FINISH_WORDS[way], low, middle, high))
        told.append(
            f"With threads {FINISH_WORDS[way]}: {kn(middle)}, that is {plain(100 * middle / proof)} of "
            "the proof "
            f"load; from {kn(low)} to {kn(high)}, at most {plain(100 * high / proof)}."
        )
    title = f"Clamp load of a {one.name} at {nm(fast.torque_nm)}"
    return _drawn(title, " ".join(told), clamp_spread_svg(bars, proof_n=proof, uid=uid, title=title))


def show_shares(vehicle: Vehicle) -> Shown:
    """Show how much of its proof load each fastener carries at its torque."""
    rows = [("Fastener", "Clamp load", "Of the proof load", "Used again?")]
    for one in bolts_of(vehicle):
        fast = one.fastener
        again = "yes" if fast.reusable else "no: use once"
        rows.append((one.name, kn(fast.preload_n), plain(100 * fast.proof_share), again))
    return _listed(f"What the torques of the {vehicle.name} buy", rows)


def show_tolerance(set_nm: float, shown_nm: Sequence[float], u_nm: float, largest_nm: float = 200.0) -> Shown:
    """Show what a tester's reading proves about a wrench.

    Args:
        set_nm: the wrench's setting.
        shown_nm: what the tester may show.
        u_nm: standard uncertainty of the tester.
        largest_nm: which wrench.
    """
    share = fasteners.wrench_tolerance(largest_nm)
    low, high = set_nm * (1 - share), set_nm * (1 + share)
    rows = [("The tester shows", "Verdict", "Guard band")]
    for shown in shown_nm:
        found = fasteners.in_tolerance(shown, set_nm, share, u_nm)
        rows.append((nm_to_a_tenth(shown), found.verdict, nm_to_a_tenth(found.guard_band)))
    title = f"A wrench set to {nm(set_nm)}: {nm_range(low, high)} is within plus or minus {percent(share)}"
    return _listed(title, rows)


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: Sequence[Sequence[str]]) -> Shown:
    lines = [" | ".join(row) for row in rows[1:]]
    return Shown("\n".join([title, *lines]), f"<p><strong>{title}</strong></p>{table(rows)}")
