"""From the foot to the road: what must hold whatever the numbers are."""

from __future__ import annotations

from itertools import pairwise

import pytest
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.trade.hydraulics import (
    STANDARD_GRAVITY_MS2,
    axle_loads_n,
    brake_torque_nm,
    clamp_force_n,
    deceleration_ms2,
    effective_radius_mm,
    line_pressure_mpa,
    pedal_travel_mm,
    regulation_distance_m,
    stopping_distance_m,
)
from hypothesis import given, settings
from hypothesis import strategies as st

quick = settings(max_examples=30, deadline=None)
forces = st.floats(0, 1000)
ratios = st.floats(2, 8)
bores = st.floats(15, 60)
radii = st.floats(60, 200)
speeds = st.floats(1, 200)
slowings = st.floats(0.5, 10)


@quick
@given(forces, ratios, bores, forces, st.floats(0.2, 5))
def test_pressure_follows_the_force_and_falls_with_the_square_of_the_bore(
    foot: float, ratio: float, bore: float, assist: float, factor: float
) -> None:
    pressure = line_pressure_mpa(foot, ratio, bore, assist)
    assert line_pressure_mpa(factor * foot, ratio, bore, factor * assist) == pytest.approx(factor * pressure)
    assert line_pressure_mpa(foot, ratio, factor * bore, assist) == pytest.approx(pressure / factor**2)
    # The booster's force acts at the push-rod: the lever does not multiply it.
    assert pressure * piston_area_mm2(bore) == pytest.approx(foot * ratio + assist)


@quick
@given(forces.filter(bool), ratios, bores, bores, st.integers(1, 4), st.floats(0.1, 20))
def test_what_is_gained_in_force_is_lost_in_travel(
    foot: float, ratio: float, master: float, piston: float, count: int, volume: float
) -> None:
    # Conservation of energy: foot force times foot travel is clamp force times pad travel.
    travel = pedal_travel_mm(volume, master, ratio)
    clamp = clamp_force_n(line_pressure_mpa(foot, ratio, master), piston, count)
    moved = 1000 * volume / (count * piston_area_mm2(piston))
    assert clamp * moved == pytest.approx(foot * travel)


@quick
@given(st.floats(0, 20), bores, st.integers(1, 6))
def test_clamp_force_adds_up_over_the_pistons_of_one_side(pressure: float, bore: float, count: int) -> None:
    assert clamp_force_n(pressure, bore, count) == pytest.approx(count * clamp_force_n(pressure, bore))


@quick
@given(st.floats(0, 50_000), st.floats(0, 1), radii)
def test_both_faces_rub(clamp: float, friction: float, radius: float) -> None:
    one_face = friction * clamp * radius / 1000
    assert brake_torque_nm(clamp, friction, radius) == pytest.approx(2 * one_face)


@quick
@given(radii, st.floats(0.01, 1))
def test_effective_radii_lie_on_the_track_and_even_pressure_acts_farther_out(
    outer: float, share: float
) -> None:
    inner = outer * share
    wear = effective_radius_mm(outer, inner)
    pressure = effective_radius_mm(outer, inner, "uniform_pressure")
    assert inner <= wear <= pressure * (1 + 1e-12) <= outer * (1 + 1e-12)
    assert pressure / wear < 4 / 3 + 1e-12  # a pad right to the centre: two thirds against one half
    assert pressure == pytest.approx(2 / 3 * (outer**2 + outer * inner + inner**2) / (outer + inner))


@pytest.mark.parametrize("gap", [1.0, 1e-3, 1e-6, 1e-9, 0.0])
def test_both_radii_become_the_edge_when_the_track_becomes_a_line(gap: float) -> None:
    for model in ("uniform_wear", "uniform_pressure"):
        assert effective_radius_mm(140, 140 - gap, model) == pytest.approx(140 - gap / 2, abs=1e-3)  # type: ignore[arg-type]
    assert effective_radius_mm(140, 140, "uniform_pressure") == 140


@quick
@given(st.lists(st.floats(0, 4000), min_size=1, max_size=6), st.floats(200, 450), st.floats(500, 4000))
def test_deceleration_adds_up_over_the_wheels(torques: list[float], radius: float, mass: float) -> None:
    found = deceleration_ms2(torques, radius, mass)
    assert found == pytest.approx(sum(deceleration_ms2([torque], radius, mass) for torque in torques))
    assert deceleration_ms2(torques[::-1], radius, mass) == pytest.approx(found)
    assert deceleration_ms2(torques, radius, 2 * mass) == pytest.approx(found / 2)


@quick
@given(st.floats(500, 5000), st.floats(2000, 4000), st.floats(0, 900), st.floats(0.3, 0.7), st.floats(0, 8))
def test_the_axles_carry_the_whole_weight_and_braking_only_shifts_it(
    mass: float, wheelbase: float, height: float, share: float, slowing: float
) -> None:
    if share * STANDARD_GRAVITY_MS2 * wheelbase <= slowing * height:
        with pytest.raises(ValueError, match="rear wheels stay on the road"):
            axle_loads_n(mass, wheelbase, height, share * wheelbase * (1 - 1e-9), slowing)
        return
    standing = axle_loads_n(mass, wheelbase, height, share * wheelbase, 0)
    braking = axle_loads_n(mass, wheelbase, height, share * wheelbase, slowing)
    weight = mass * STANDARD_GRAVITY_MS2
    assert braking.front_n + braking.rear_n == pytest.approx(weight)
    assert standing.rear_n == pytest.approx(share * weight)  # far behind the front axle: on the rear wheels
    assert braking.front_n - standing.front_n == pytest.approx(mass * slowing * height / wheelbase, abs=1e-6)
    assert braking.front_n >= standing.front_n


@quick
@given(speeds, slowings, st.floats(0, 3))
def test_stopping_distance_is_reaction_plus_braking(speed: float, slowing: float, reaction: float) -> None:
    braking = stopping_distance_m(speed, slowing)
    assert stopping_distance_m(speed, slowing, reaction) - braking == pytest.approx(
        speed / 3.6 * reaction, abs=1e-9
    )
    assert stopping_distance_m(2 * speed, slowing) == pytest.approx(
        4 * braking
    )  # twice as fast, four times as far
    assert stopping_distance_m(speed, 2 * slowing) == pytest.approx(braking / 2)
    assert stopping_distance_m(0, slowing, reaction) == 0


def test_the_regulations_distance_grows_faster_than_the_speed() -> None:
    row = [regulation_distance_m(speed) for speed in range(40, 161, 20)]
    steps = [second - first for first, second in pairwise(row)]
    assert all(first < second for first, second in pairwise(steps))
