"""Hub and rotor: what a flake does, how two run-outs add, and the best of all mounting positions."""

from __future__ import annotations

import math

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.faults import HubRunOut
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.trade.hub_fit import (
    RunOut,
    at_radius,
    best_index,
    debris_run_out_mm,
    once_a_turn,
    rotor_alone,
    slope,
    stack_run_out_mm,
    tilt_deg,
)
from hypothesis import given, settings
from hypothesis import strategies as st

HUB, ROTOR = RunOut(0.04, 20.0), RunOut(0.05, 65.0)
run_outs = st.builds(RunOut, st.floats(0, 0.5), st.floats(-720, 720))
stud_counts = st.integers(3, 10)


def test_the_named_mistakes_give_other_numbers() -> None:
    right = debris_run_out_mm(0.05, 70.0, 126.0)
    assert right == pytest.approx(0.09)
    assert right != 0.05  # the debris's size taken as the run-out
    assert debris_run_out_mm(0.05, 140.0, 126.0) == pytest.approx(right / 2)  # diameter for radius


@settings(max_examples=50)
@given(st.floats(0, 2), st.floats(20, 200), st.floats(20, 300), st.floats(0.1, 10))
def test_debris_counts_for_more_the_further_out_the_dial_stands(
    debris: float, seat: float, radius: float, scale: float
) -> None:
    run_out = debris_run_out_mm(debris, seat, radius)
    assert debris_run_out_mm(debris, seat, seat) == pytest.approx(debris)
    assert debris_run_out_mm(scale * debris, scale * seat, scale * radius) == pytest.approx(scale * run_out)
    assert debris_run_out_mm(debris, seat, 2 * radius) == pytest.approx(2 * run_out)
    assert at_radius(RunOut(debris), seat, radius).total_mm == pytest.approx(run_out)
    assert slope(run_out, radius) == pytest.approx(math.tan(math.radians(tilt_deg(debris, seat))))


@settings(max_examples=50)
@given(run_outs, run_outs, stud_counts)
def test_a_stack_lies_between_the_difference_and_the_sum(hub: RunOut, rotor: RunOut, studs: int) -> None:
    index, least, table = best_index(hub, rotor, studs)
    assert len(table) == studs
    for place, run_out in enumerate(table):
        assert run_out == stack_run_out_mm(hub, rotor, place, studs)
        assert abs(hub.total_mm - rotor.total_mm) - 1e-9 <= run_out <= hub.total_mm + rotor.total_mm + 1e-9
    assert least == table[index]
    assert least <= min(table) + 1e-9
    assert all(run_out > least - 1e-11 for run_out in table[:index])
    # Arrows of equal length all round the clock: their squares add up to the two alone.
    mean_square = sum(run_out**2 for run_out in table) / studs
    assert mean_square == pytest.approx(hub.total_mm**2 + rotor.total_mm**2, abs=1e-9)


@settings(max_examples=50)
@given(run_outs, run_outs, stud_counts, st.floats(0, 360))
def test_where_the_chalk_mark_is_does_not_matter(hub: RunOut, rotor: RunOut, studs: int, turn: float) -> None:
    here = best_index(hub, rotor, studs)[2]
    there = best_index(
        RunOut(hub.total_mm, hub.high_deg + turn), RunOut(rotor.total_mm, rotor.high_deg + turn), studs
    )[2]
    assert there == pytest.approx(here, abs=1e-9)


@settings(max_examples=50)
@given(run_outs, run_outs)
def test_the_rotors_share_with_the_hubs_gives_the_whole_back(hub: RunOut, rotor: RunOut) -> None:
    whole = stack_run_out_mm(hub, rotor, 0, 4)
    together = rotor_alone(RunOut(hub.total_mm, hub.high_deg + 180), rotor)  # minus a minus: the sum
    assert together.total_mm == pytest.approx(whole, abs=1e-9)
    assert 0 <= together.high_deg < 360
    assert rotor_alone(hub, together).total_mm == pytest.approx(rotor.total_mm, abs=1e-9)


def test_equal_parts_that_cancel_leave_nothing() -> None:
    assert rotor_alone(RunOut(0.1, 30.0), RunOut(0.1, 30.0)) == RunOut(0.0, 0.0)
    index, least, _ = best_index(RunOut(0.1, 0.0), RunOut(0.1, 0.0), 4)
    assert (index, round(least, 12)) == (2, 0.0)


def test_of_two_equally_good_places_the_smaller_turn_is_taken() -> None:
    # Five studs, both high at the mark: 144 and 216 degrees are equally good.
    index, _, table = best_index(RunOut(0.05), RunOut(0.05), 5)
    assert index == 2
    assert table[2] == pytest.approx(table[3])
    assert best_index(RunOut(0.05), RunOut(0.0), 5)[0] == 0


@settings(max_examples=30)
@given(run_outs, st.integers(3, 16))
def test_readings_of_one_tilt_give_it_back(run_out: RunOut, count: int) -> None:
    dial = [
        run_out.total_mm / 2 * math.cos(math.radians(360 * place / count - run_out.high_deg))
        for place in range(count)
    ]
    found = once_a_turn(dial)
    assert found.total_mm == pytest.approx(run_out.total_mm, abs=1e-9)
    assert rotor_alone(run_out, found).total_mm == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("key", motor_pool())
def test_the_simulated_vehicles_tilt_by_the_same_geometry(key: str) -> None:
    car = motor_pool()[key]
    true = RotorCondition(
        car.front.rotor.nominal_mm,
        car.front.rotor_outer_radius_mm,
        car.front.rotor_inner_radius_mm,
        car.front.measuring_radius_mm,
        car.studs,
    )
    hub, rotor = RunOut(0.05, 40.0), RunOut(0.03, 200.0)
    tilted = HubRunOut(hub.total_mm, car.front.seat_radius_mm, hub.high_deg).act(true)
    at_track = at_radius(hub, car.front.seat_radius_mm, car.front.measuring_radius_mm)
    assert tilted.tilt_run_out_mm == pytest.approx(at_track.total_mm)
    assert tilted.tilt_run_out_mm == pytest.approx(
        debris_run_out_mm(hub.total_mm, car.front.seat_radius_mm, car.front.measuring_radius_mm)
    )
    both = HubRunOut(rotor.total_mm, car.front.measuring_radius_mm, rotor.high_deg).act(tilted)
    assert both.tilt_run_out_mm == pytest.approx(stack_run_out_mm(at_track, rotor, 0, car.studs))
