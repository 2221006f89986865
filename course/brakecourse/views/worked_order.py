"""The worked example of the lesson on the order of work: one vehicle, one job, shown step by step."""

from __future__ import annotations

from collections.abc import Mapping

from brakecourse.bench.specification import Axle
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.job_order import (
    WHOLE_JOB,
    a_good_order,
    check_order,
    implied_pairs,
    operations,
    precedence,
    sub_job,
)
from brakecourse.views.board_rules import DANGER
from brakecourse.views.drawings.on_stands import on_stands_svg
from brakecourse.views.drawings.step_cards import StepCard, step_cards_svg
from brakecourse.views.job_boards import short
from brakecourse.views.shown import Shown, caption, figure, table
from brakecourse.views.stand_loads import axle_load_kg, stand_load_kg
from brakecourse.views.stand_tasks import kg, length
from brakecourse.views.vehicle_shapes import shape_of

_WEEKS_A_YEAR = 52


def show_vehicle(vehicle: Vehicle) -> Shown:
    """Show what the workshop knows about the vehicle before the lift."""
    rows = [
        ("Fact", "Value"),
        ("Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"),
        ("Mass with its usual load", kg(vehicle.mass_kg)),
        ("Front axle to rear axle", length(vehicle.wheelbase_mm)),
        ("Front axle to centre of gravity", length(vehicle.cg_to_front_mm)),
        ("Wheel studs", f"{vehicle.studs} a wheel"),
    ]
    return _listed("What we know before we lift", rows)


def show_part(part: str, *, uid: str) -> Shown:
    """Show one right order of a part of the job as cards."""
    words = {step.id: step.words for step in operations()}
    cards = [StepCard(step, words[step], place) for place, step in enumerate(a_good_order(part), 1)]
    title = f"One right order: {part}"
    many = "; ".join(f"{card.number}. {card.words.rstrip('.')}" for card in cards)
    svg = step_cards_svg(cards, uid=uid, title=title, movable=False)
    return _drawn(title, f"{many}.", svg)


def show_slip(first: str, then: str) -> Shown:
    """Show what is wrong when two steps are done in this order.

    Args:
        first, then: ids of two steps, the wrong one first.

    Raises:
        ValueError: no rule is broken by this order.
    """
    found = check_order([first, then])
    if not found:
        raise ValueError(f"An order that breaks a rule was expected, but {first!r} may come before {then!r}.")
    steps = {step.id: step for step in operations()}
    rows = [
        ("Question", "Answer"),
        ("Done first", short(steps[first])),
        ("Done after it", short(steps[then])),
        ("Right order", f"“{short(steps[found[0].before])}” comes first"),
        ("Why", f"{found[0].reason}{f' {DANGER}' if found[0].safety_critical else ''}"),
    ]
    return _listed("A slip and its reason", rows)


def show_loads(vehicle: Vehicle, axle: Axle, *, uid: str) -> Shown:
    """Show one end of the vehicle on two stands, and what they carry."""
    other: Axle = "rear" if axle == "front" else "front"
    both_stands, wheels = axle_load_kg(vehicle, axle), axle_load_kg(vehicle, other)
    title = f"The {vehicle.name}, its {axle} end on stands"
    svg = on_stands_svg(
        kind=shape_of(vehicle),
        wheelbase_mm=vehicle.wheelbase_mm,
        gravity_to_front_mm=vehicle.cg_to_front_mm,
        gravity_height_mm=vehicle.cg_height_mm,
        tyre_radius_mm=vehicle.tyre_radius_mm,
        end=axle,
        uid=uid,
        loads=(f"both stands: {kg(both_stands)}", f"both wheels: {kg(wheels)}"),
        title=title,
    )
    words = (
        f"The {axle} axle carries {kg(both_stands)}, so each stand carries "
        f"{kg(stand_load_kg(vehicle, axle))}. The {other} wheels carry {kg(wheels)}."
    )
    return _drawn(title, words, svg)


def count_rules() -> Shown:
    """Show how many steps and rules the whole job has."""
    rules = precedence()
    rows = [
        ("Count", "Number"),
        ("Steps of the whole job", str(len(sub_job(WHOLE_JOB).ids))),
        ("Rules of what comes first", str(len(rules))),
        ("Rules whose breach can hurt someone", str(sum(rule.safety_critical for rule in rules))),
    ]
    return _listed("The whole job in numbers", rows)


def comes_first(first: str, then: str) -> int:
    """Return 1 when the course's rules fix that one step comes before another, else 0."""
    return int((first, then) in implied_pairs(precedence()))


def pad_jobs_a_week(pool: Mapping[str, Vehicle]) -> float:
    """Return how many axles a week need new pads in a fleet, at its usual distances and rates of wear.

    Args:
        pool: the vehicles.

    Returns:
        Pairs of brakes a week, on an average.

    Source:
        The motor pool's own figures, invented: metal to minimum over wear for each 1000 km.
    """
    a_year = sum(
        one.km_per_year
        / 1000
        * brake.pad.wear_mm_per_1000km
        / (brake.pad.lining_new_mm - brake.pad.minimum_mm)
        for one in pool.values()
        for brake in (one.front, one.rear)
    )
    return a_year / _WEEKS_A_YEAR


def _drawn(title: str, words: str, svg: str) -> Shown:
    return Shown(caption(title, words), figure(svg, title, words), svg)


def _listed(title: str, rows: list[tuple[str, str]]) -> Shown:
    text = "\n".join(": ".join(row) for row in rows[1:])
    return Shown(f"{title}\n{text}", f"<p><strong>{title}</strong></p>{table(rows)}")
