"""Bedding in: what must hold whatever the numbers are."""

from __future__ import annotations

import dataclasses
from itertools import pairwise

import pytest
from brakecourse.trade import burnish
from brakecourse.trade.burnish import (
    BurnishVehicle,
    Schedule,
    Series,
    burnish_schedule,
    cool_c,
    distance_km,
    peak_deceleration_ms2,
    plan,
    rotor_share,
    simulate,
    stop_energy_j,
    strokes_to_firm_pedal,
    temperature_rise_c,
    wait_for_c,
)
from hypothesis import given, settings
from hypothesis import strategies as st

quick = settings(max_examples=25, deadline=None)
shares = st.floats(0, 1)
speeds = st.floats(1, 200)
taus = st.floats(50, 2000)
airs = st.floats(-30, 45)
VAN = BurnishVehicle(2000, 0.7, 10.0, 450, 400, ambient_c=20)
ROAD = burnish_schedule("road")
vehicles = st.builds(
    BurnishVehicle,
    mass_kg=st.floats(800, 4000),
    front_share=st.floats(0.5, 0.9),
    rotor_mass_kg=st.floats(4, 20),
    specific_heat_j_kgk=st.floats(400, 600),
    time_constant_s=taus,
    ambient_c=airs,
)


# --- energy and heat ----------------------------------------------------------------------------------------


def test_a_slowdown_from_40_to_20_takes_three_times_the_energy_of_a_stop_from_20() -> None:
    # (40² - 20²) / (20² - 0²) = 3 exactly, in any unit of speed.
    for unit in (1.0, 1.609344):
        ratio = stop_energy_j(1600, 40 * unit, 20 * unit) / stop_energy_j(1600, 20 * unit)
        assert ratio == pytest.approx(3, rel=1e-14)
    first, last = simulate(ROAD, VAN)[0], simulate(ROAD, VAN)[-1]
    assert last.energy_j / first.energy_j == pytest.approx(3, rel=1e-14)


@quick
@given(st.floats(100, 5000), speeds, shares, shares)
def test_energy_adds_up_over_parts_of_a_stop(mass: float, top: float, one: float, other: float) -> None:
    low, middle = sorted((one * top, other * top))
    whole = stop_energy_j(mass, top, low)
    assert whole == pytest.approx(
        stop_energy_j(mass, top, middle) + stop_energy_j(mass, middle, low), abs=1e-6
    )
    assert stop_energy_j(mass, 2 * top) == pytest.approx(4 * stop_energy_j(mass, top))
    assert stop_energy_j(mass, top, top) == 0


@quick
@given(shares, shares)
def test_four_rotors_share_all_the_energy(front: float, left: float) -> None:
    parts = [
        rotor_share(front, axle, left, side)  # type: ignore[arg-type]
        for axle in ("front", "rear")
        for side in ("left", "right")
    ]
    assert sum(parts) == pytest.approx(1)
    assert all(0 <= part <= 1 for part in parts)
    assert parts[0] + parts[1] == pytest.approx(front)
    assert parts[0] + parts[2] == pytest.approx(left)
    assert rotor_share(front) == front / 2


@quick
@given(st.floats(0, 1e7), st.floats(1, 30), st.floats(300, 900))
def test_twice_the_iron_gets_half_as_warm(energy: float, mass: float, specific: float) -> None:
    rise = temperature_rise_c(energy, mass, specific)
    assert temperature_rise_c(energy, 2 * mass, specific) == pytest.approx(rise / 2)
    assert temperature_rise_c(2 * energy, mass, specific) == pytest.approx(2 * rise)


@quick
@given(st.floats(50, 600), airs, st.floats(0, 3000), st.floats(0, 3000), taus)
def test_cooling_in_two_steps_is_cooling_in_one(
    start: float, air: float, first: float, second: float, tau: float
) -> None:
    once = cool_c(start, air, first + second, tau)
    assert cool_c(cool_c(start, air, first, tau), air, second, tau) == pytest.approx(once)
    assert air - 1e-9 <= once <= start
    assert cool_c(start, air, 0, tau) == pytest.approx(start)


@quick
@given(st.floats(50, 600), airs, st.floats(0.01, 0.99), taus)
def test_waiting_leads_to_the_wanted_temperature(start: float, air: float, share: float, tau: float) -> None:
    target = air + share * (start - air)
    wait = wait_for_c(start, target, air, tau)
    assert cool_c(start, air, wait, tau) == pytest.approx(target)
    assert wait_for_c(target, start, air, tau) == 0


def test_no_waiting_makes_a_part_colder_than_the_air() -> None:
    with pytest.raises(ValueError, match=r"wanted temperature in °C must be above the air's of 20"):
        wait_for_c(200, 20, 20, 300)


# --- simulation ---------------------------------------------------------------------------------------------


def test_the_road_schedule_is_ten_stops_and_ten_slowdowns() -> None:
    table = simulate(ROAD, VAN)
    assert [braking.number for braking in table] == list(range(1, 21))
    assert [round(braking.from_kmh / 1.609344) for braking in table] == [20] * 10 + [40] * 10
    assert [round(braking.to_kmh / 1.609344) for braking in table] == [0] * 10 + [20] * 10
    assert "no source" in ROAD.source


def test_the_regulation_has_200_stops_and_says_what_is_remembered() -> None:
    schedule = burnish_schedule("regulation")
    assert [series.count for series in schedule.series] == [200]
    assert "from memory" in schedule.source
    assert "number of stops was read" in schedule.source
    gaps = [later.start_s - sooner.end_s for sooner, later in pairwise(simulate(schedule, VAN))]
    assert all(burnish.burnish_schedule("regulation").series[0].least_gap_s <= gap <= 90.001 for gap in gaps)


@pytest.mark.parametrize("hot", [False, True])
def test_the_next_stop_comes_at_the_temperature_or_the_distance_whichever_is_first(hot: bool) -> None:
    # Cold, the vehicle need not wait for the whole distance; a rotor that stays hot waits no longer than it.
    vehicle = dataclasses.replace(VAN, time_constant_s=1500.0 if hot else 200.0)
    schedule = burnish_schedule("regulation")
    ready = schedule.series[0].ready_below_c
    assert ready is not None
    table = simulate(schedule, vehicle)
    gaps = [later.start_s - sooner.end_s for sooner, later in pairwise(table)]
    if hot:
        assert max(gaps) == pytest.approx(90)
        assert table[-1].start_c > ready
    else:
        assert max(gaps) < 90
        assert all(braking.start_c <= ready + 1e-9 for braking in table)


@quick
@given(vehicles)
def test_a_table_of_temperatures_hangs_together(vehicle: BurnishVehicle) -> None:
    table = simulate(ROAD, vehicle)
    for one in table:
        assert one.peak_c >= max(one.start_c, one.end_c) - 1e-9
        iron = vehicle.rotor_mass_kg, vehicle.specific_heat_j_kgk
        rise = temperature_rise_c(one.energy_j * rotor_share(vehicle.front_share), *iron)
        assert one.end_c <= one.start_c + rise + 1e-9  # cooling only takes away
        assert one.end_s > one.start_s
    for sooner, later in pairwise(table):
        cooled = cool_c(
            sooner.end_c, vehicle.ambient_c, later.start_s - sooner.end_s, vehicle.time_constant_s
        )
        assert later.start_c == pytest.approx(cooled)
    heavier = simulate(ROAD, dataclasses.replace(vehicle, mass_kg=1.1 * vehicle.mass_kg))
    assert all(more.peak_c > less.peak_c for more, less in zip(heavier, table, strict=True))


def test_without_cooling_every_joule_stays_in_the_iron() -> None:
    vehicle = dataclasses.replace(VAN, time_constant_s=1e12)
    table = simulate(ROAD, vehicle)
    whole = sum(braking.energy_j for braking in table) * rotor_share(vehicle.front_share)
    rise = temperature_rise_c(whole, vehicle.rotor_mass_kg, vehicle.specific_heat_j_kgk)
    assert table[-1].end_c - vehicle.ambient_c == pytest.approx(rise, rel=1e-6)
    assert table[-1].peak_c == pytest.approx(table[-1].end_c, abs=1e-3)


def test_a_rotor_hotter_than_the_braking_can_hold_only_cools() -> None:
    gentle = Schedule("gentle", (Series(1, 5.0, 0.0, 0.01, 0.0),), "invented")
    (braking,) = simulate(gentle, VAN, start_c=500)
    assert braking.peak_c == 500 == braking.start_c
    assert braking.end_c < 500


@pytest.mark.parametrize("x", [1e-12, 1e-6, 5e-4, 9.99e-4, 1.001e-3, 0.1, 3.0])
def test_a_short_braking_loses_no_digits(x: float) -> None:
    # Against the same difference in forty decimal digits.
    from decimal import Decimal, localcontext

    from brakecourse.trade._burnish_heat import _lag

    with localcontext() as digits:
        digits.prec = 40
        exact = Decimal(x) - 1 + (-Decimal(x)).exp()
    assert _lag(x) == pytest.approx(float(exact), rel=1e-10)


# --- plan ---------------------------------------------------------------------------------------------------


@quick
@given(vehicles, st.floats(1.05, 6))
def test_a_plan_keeps_its_limit_and_waits_no_longer_than_it_must(
    vehicle: BurnishVehicle, room: float
) -> None:
    alone = max(
        simulate(Schedule("one", (dataclasses.replace(series, count=1),), "part of another"), vehicle)[
            0
        ].peak_c
        for series in ROAD.series
    )
    limit = vehicle.ambient_c + room * (alone - vehicle.ambient_c)
    made = plan(vehicle, limit)
    assert made.hottest_c <= limit + 1e-9
    free = max(braking.peak_c for braking in simulate(ROAD, vehicle))
    assert (made.waited_s > 0) == (free > limit)
    for braking, wait in zip(made.brakings, made.waits_s, strict=True):
        assert wait >= 0
        if wait > 0:  # every wait ends as soon as it may: the next peak just touches the limit
            assert braking.peak_c == pytest.approx(limit, abs=1e-6)
    assert made.total_s == pytest.approx(simulate(ROAD, vehicle)[-1].end_s + made.waited_s)


def test_a_tighter_limit_takes_more_time_and_a_hopeless_one_is_refused() -> None:
    times = [plan(VAN, limit).total_s for limit in (300, 150, 120, 90, 60)]
    assert times == sorted(times) and times[0] < times[-1]
    with pytest.raises(ValueError, match=r"limit in °C must be above 38\.\d, where one braking alone"):
        plan(VAN, 30)
    with pytest.raises(ValueError, match="limit in °C must be above"):
        plan(VAN, 20)


def test_the_plans_words_give_both_units_and_the_caution() -> None:
    words = plan(VAN, 100).words
    assert "20 brakings" in words
    assert "100 °C (212 °F)" in words
    assert "pump the pedal until it is firm" in words
    assert f"({plan(VAN, 100).distance_km / 1.609344:.1f} mi)" in words


def test_the_hardest_braking_of_a_schedule_counts() -> None:
    both = Schedule("two", (Series(1, 50, 0, 2.0, 10), Series(1, 50, 0, 4.5, 10)), "invented")
    assert peak_deceleration_ms2(both) == 4.5
    for name in ("road", "regulation"):
        assert peak_deceleration_ms2(burnish_schedule(name)) < 4  # type: ignore[arg-type]  # no wheel near locking


def test_distance_counts_the_braking_and_the_drive_between() -> None:
    two = Schedule("two", (Series(2, 72.0, 36.0, 2.0, 100.0),), "invented")
    # By hand: 5 s at a mean of 15 m/s, twice, and 100 s at 20 m/s between.
    assert distance_km(simulate(two, VAN)) == pytest.approx((2 * 75 + 2000) / 1000)


# --- strokes ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("clearance", "stroke", "strokes"),
    [(0, 6, 0), (0.1, 6, 1), (6, 6, 1), (6.1, 6, 2), (1.1, 0.1, 11), (0.6, 0.2, 3), (23, 6, 4)],
)
def test_strokes_are_counted_up_and_as_decimals(clearance: float, stroke: float, strokes: int) -> None:
    assert strokes_to_firm_pedal(clearance, stroke) == strokes


@quick
@given(st.floats(0, 100), st.floats(0.5, 20))
def test_the_strokes_move_enough_and_one_less_does_not(clearance: float, stroke: float) -> None:
    strokes = strokes_to_firm_pedal(clearance, stroke)
    assert strokes * stroke >= clearance * (1 - 1e-12)
    assert strokes == 0 or (strokes - 1) * stroke < clearance
