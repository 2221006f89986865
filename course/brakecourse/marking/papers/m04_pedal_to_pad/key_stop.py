"""The right answers of the stop: the load on each axle, and the way."""

from __future__ import annotations

from brakecourse.marking import basis, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m04_pedal_to_pad.key import own_mpa, pressure_near
from brakecourse.marking.papers.m04_pedal_to_pad.key_wheels import alone_share
from brakecourse.marking.papers.m04_pedal_to_pad.near import half_place, named, near
from brakecourse.marking.papers.m04_pedal_to_pad.truth import ForceTruth
from brakecourse.marking.sealed import SealedMistake
from brakecourse.published import convert
from brakecourse.trade import hydraulics
from brakecourse.views.units import both
from brakecourse.views.words import number


def loads(push: ForceTruth, given: Given) -> Basis:
    """4.7: what each axle carries during that stop."""
    rate = given.number("4.6")
    per_ms2 = moved_per_ms2(push)
    moved = rate * per_ms2
    standing = (push.front.standing_n, push.rear.standing_n)
    right = (standing[0] + moved, standing[1] - moved)
    alone = near(0, moved * alone_share(push, "front"), half_place(2) * per_ms2, half_place(0))
    found: list[SealedMistake] = []
    for place, signed in enumerate((1, -1), start=1):
        own = standing[place - 1]
        pairs = (
            ("standing_for_braking", own),
            ("load_wrong_way", own - signed * moved),
            ("axles_swapped", right[2 - place]),
            ("moved_for_carried", moved),
        )
        found += [
            slip.model_copy(update={"place": place, "tolerance": alone})
            for slip in named(right[place - 1], alone, 0, pairs)
        ]
    how = (
        f"Moved: {number(push.mass_kg, 0)} kg × {number(rate)} m/s² × {number(push.height_mm, 0)} ÷ "
        f"{number(push.wheelbase_mm, 0)} = {both(moved, 'N')}. "
        f"Front: {number(standing[0], 0)} + {number(moved, 0)} = {both(right[0], 'N')}. "
        f"Rear: {number(standing[1], 0)} − {number(moved, 0)} = {both(right[1], 'N')}."
    )
    # Handed in with two places, carried on with all: the deceleration may be off by half of the last.
    return basis.table(
        right, alone, found, how=how, places=0, carried=near(0, half_place(2) * per_ms2, half_place(0))
    )


def moved_per_ms2(push: ForceTruth) -> float:
    """Return the load that each m/s² moves from the rear axle to the front, N."""
    standing, braking = (
        hydraulics.axle_loads_n(push.mass_kg, push.wheelbase_mm, push.height_mm, push.back_mm, rate)
        for rate in (0.0, 1.0)
    )
    return braking.front_n - standing.front_n


def stop(push: ForceTruth, given: Given) -> Basis:
    """4.8: the whole way to a stop now, with the pressure that the gauge shows."""
    should, shown, built = own_mpa(given, "4.1"), own_mpa(given, "4.2"), given.number("4.6")
    now = built * shown / should
    right, braking = _way_m(push, now)
    alone_line = pressure_near(push) / should
    reading_off = tolerances.reading(push.gauge.division) / shown
    alone = near(
        1, braking * alone_line, braking * reading_off, *_stop_bounds(push, braking, should, built, now)
    )
    speed = convert(push.speed_kmh, "km/hour", "m/s")
    unconverted = hydraulics.stopping_distance_m(
        convert(push.speed_kmh, "m/s", "km/hour"), now, push.reaction_s
    )
    found = (
        ("kmh_as_ms", unconverted),
        ("reaction_left_out", braking),
        ("pressure_not_followed", _way_m(push, built)[0]),
        ("pressures_inverted", _way_m(push, built * should / shown)[0]),
        ("half_forgotten", right + braking),
        ("reaction_alone", right - braking),
        ("feet_for_metres", convert(right, "m", "ft")),
        ("ten_times", 10 * right),
        ("ten_times", right / 10),
    )
    how = (
        f"Deceleration now: {number(built)} m/s² × {number(shown)} ÷ {number(should)} = "
        f"{both(now, 'm/s²', 2)}. "
        f"Speed: {number(push.speed_kmh, 0)} ÷ 3.6 = {both(speed, 'm/s', 2)}. Reaction: {number(speed)} × "
        f"{number(push.reaction_s, 1)} = {both(right - braking, 'm')}. Braking: {number(speed)}² ÷ "
        f"(2 × {number(now)}) = {both(braking, 'm')}. Together {both(right, 'm')}."
    )
    own = near(1, *_stop_bounds(push, braking, should, built, now))
    return basis.number(right, alone, named(right, own, 1, found), how=how, places=1, carried=own)


def _way_m(push: ForceTruth, slowing_ms2: float) -> tuple[float, float]:
    """Return the whole way to a stop and its braking part, m."""
    braking = hydraulics.stopping_distance_m(push.speed_kmh, slowing_ms2)
    return hydraulics.stopping_distance_m(push.speed_kmh, slowing_ms2, push.reaction_s), braking


def _stop_bounds(
    push: ForceTruth, braking: float, should: float, built: float, now: float
) -> tuple[float, ...]:
    """Return what rounding moves: each value to two places, and the reaction to one."""
    speed = convert(push.speed_kmh, "km/hour", "m/s")
    off = half_place(2)
    way = braking * off
    return way / should, way / built, way / now, 2 * way / speed + push.reaction_s * off, half_place(1)


KEY: dict[str, Answer] = {"4.7": loads, "4.8": stop}
