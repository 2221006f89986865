"""Torque: extensions, orders, preload and its spread, proof loads, and the traps."""

from __future__ import annotations

import itertools
import math

import pytest
from brakecourse.trade.fasteners import (
    IMPACT_TOLERANCE,
    in_tolerance,
    lubricated_scatter,
    nut_factor,
    preload_n,
    preload_range_n,
    proof_fraction,
    tensile_stress_area_mm2,
    tightening_order,
    tightening_steps_nm,
    wrench_setting_nm,
    wrench_tolerance,
)
from hypothesis import given, settings
from hypothesis import strategies as st

# --- the wrench --------------------------------------------------------------------------------------


@settings(max_examples=50)
@given(st.floats(10, 500), st.floats(200, 900), st.floats(0, 150), st.floats(-180, 180))
def test_an_extension_counts_by_its_share_along_the_wrench(
    target: float, length: float, extension: float, angle: float
) -> None:
    setting = wrench_setting_nm(target, length, extension, angle)
    assert wrench_setting_nm(target, length, 0.0, angle) == target
    assert wrench_setting_nm(target, length, extension, -angle) == setting
    assert wrench_setting_nm(target, length, extension, 90) == pytest.approx(target)
    assert wrench_setting_nm(2 * target, length, extension, angle) == pytest.approx(2 * setting)
    assert wrench_setting_nm(target, length, extension) <= setting * (1 + 1e-12)
    assert setting <= wrench_setting_nm(target, length, extension, 180) * (1 + 1e-12)


def test_an_extension_ignored_or_inverted_is_another_number() -> None:
    right = wrench_setting_nm(110, 400, 50)
    assert right == pytest.approx(97.8, abs=0.05)
    assert right != 110  # ignored: the nut gets 124 N·m
    assert right != pytest.approx(110 * 450 / 400)  # inverted


@pytest.mark.parametrize(
    ("applied", "u", "verdict"),
    [
        (110.0, 1.0, "within"),
        (107.5, 1.0, "within"),
        (106.0, 1.0, "too close to call"),
        (105.0, 1.0, "too close to call"),
        (103.0, 1.0, "outside"),
        (112.0, 1.0, "within"),
        (114.0, 1.0, "too close to call"),
        (117.0, 1.0, "outside"),
        (105.6, 0.0, "within"),
        (105.59, 0.0, "outside"),
        (114.41, 0.0, "outside"),
        (0.0, 1.0, "outside"),
    ],
)
def test_an_applied_torque_against_both_ends(applied: float, u: float, verdict: str) -> None:
    decision = in_tolerance(applied, 110.0, 0.04, u)
    assert decision.verdict == verdict
    assert decision.margin == pytest.approx(4.4 - abs(applied - 110.0))


@settings(max_examples=50)
@given(st.floats(0, 30), st.floats(0, 0.3), st.floats(0, 5))
def test_a_miss_counts_alike_to_either_side(miss: float, tolerance: float, u: float) -> None:
    low = in_tolerance(110 - miss, 110, tolerance, u)
    high = in_tolerance(110 + miss, 110, tolerance, u)
    assert low.margin == pytest.approx(high.margin, abs=1e-9)
    assert low.probability_conforming == pytest.approx(high.probability_conforming, abs=1e-6) or u < 1e-6
    assert 0 <= low.probability_conforming <= 1


# --- the order ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("studs", "order"),
    [
        # Common practice, no source.
        (4, (1, 3, 2, 4)),
        (5, (1, 3, 5, 2, 4)),
        (6, (1, 4, 2, 5, 3, 6)),
        (8, (1, 5, 3, 7, 2, 6, 4, 8)),
        (10, (1, 6, 3, 8, 2, 7, 4, 9, 5, 10)),
    ],
)
def test_the_order_of_common_wheels(studs: int, order: tuple[int, ...]) -> None:
    assert tightening_order(studs) == order


@pytest.mark.parametrize("studs", range(3, 11))
def test_every_stud_stands_once_and_the_next_is_no_neighbour(studs: int) -> None:
    order = tightening_order(studs)
    assert sorted(order) == list(range(1, studs + 1))
    for step, (one, other) in enumerate(itertools.pairwise(order)):
        apart = min(abs(one - other), studs - abs(one - other))
        if studs % 2 == 0 and step % 2 == 0:
            assert apart == studs // 2
        elif studs > 4:
            assert apart >= 2


@settings(max_examples=30)
@given(st.floats(1, 500))
def test_the_rounds_rise_to_the_target(target: float) -> None:
    steps = tightening_steps_nm(target)
    assert steps[-1] == target
    assert list(steps) == sorted(steps)
    assert len(steps) == 3
    assert all(0 < step <= target for step in steps)


# --- what the torque buys ----------------------------------------------------------------------------

threads = st.tuples(st.floats(5, 30), st.floats(0.05, 0.2)).map(lambda pair: (pair[0], pair[0] * pair[1]))


@settings(max_examples=50)
@given(threads, st.floats(1, 400), st.floats(0.08, 0.4))
def test_preload_and_its_share_of_the_proof_load(
    thread: tuple[float, float], torque: float, factor: float
) -> None:
    diameter, pitch = thread
    pull = preload_n(torque, diameter, factor)
    assert pull * factor * diameter / 1000 == pytest.approx(torque)
    assert preload_n(torque, diameter, 2 * factor) == pytest.approx(pull / 2)
    assert 0 < tensile_stress_area_mm2(diameter, pitch) < math.pi / 4 * diameter**2
    assert tensile_stress_area_mm2(diameter, pitch) < tensile_stress_area_mm2(diameter, pitch / 2)
    assert tensile_stress_area_mm2(2 * diameter, 2 * pitch) == pytest.approx(
        4 * tensile_stress_area_mm2(diameter, pitch)
    )
    shares = [proof_fraction(pull, diameter, pitch, grade) for grade in ("8.8", "10.9", "12.9")]  # type: ignore[arg-type]
    assert shares == sorted(shares, reverse=True)
    assert proof_fraction(2 * pull, diameter, pitch, "8.8") == pytest.approx(2 * shares[0])


@settings(max_examples=50)
@given(st.floats(1, 400), st.floats(0.08, 0.4), st.floats(0, 0.5), st.floats(0, 0.5), st.floats(0, 0.4))
def test_the_range_holds_the_middle_and_grows_with_doubt(
    torque: float, factor: float, wrench: float, scatter: float, more: float
) -> None:
    low, high = preload_range_n(torque, 12.0, factor, wrench, scatter)
    middle = preload_n(torque, 12.0, factor)
    assert low <= middle * (1 + 1e-12) and middle <= high * (1 + 1e-12)
    for wider in (
        preload_range_n(torque, 12.0, factor, wrench + more, scatter),
        preload_range_n(torque, 12.0, factor, wrench, scatter + more),
    ):
        assert wider.low_n <= low and wider.high_n >= high
    assert preload_range_n(torque, 12.0, factor, 0, 0) == (middle, middle)


# --- traps -------------------------------------------------------------------------------------------


def test_oiled_threads_at_the_dry_torque_pass_the_proof_load() -> None:
    # A torque for dry M12 threads of class 8.8 that uses three quarters of the proof load.
    torque, dry = 132.0, nut_factor("plain")
    assert proof_fraction(preload_n(torque, 12, dry), 12, 1.75, "8.8") == pytest.approx(0.75, abs=0.01)
    oiled = preload_n(torque, 12, nut_factor("lubricated"))
    assert oiled / preload_n(torque, 12, dry) == pytest.approx(5 / 3)
    assert proof_fraction(oiled, 12, 1.75, "8.8") > 1
    assert proof_fraction(preload_n(torque, 12, nut_factor("antiseize")), 12, 1.75, "8.8") > 1.8


def test_an_impact_wrench_leaves_nuts_loose_and_overstretches_others() -> None:
    torque, factor = 110.0, nut_factor("zinc")
    held = preload_range_n(torque, 12, factor, wrench_tolerance(200), lubricated_scatter())
    struck = preload_range_n(torque, 12, factor, IMPACT_TOLERANCE, lubricated_scatter())
    assert struck.low_n < 0.55 * held.low_n
    assert proof_fraction(held.high_n, 12, 1.5, "10.9") < 1
    assert proof_fraction(struck.high_n, 12, 1.5, "10.9") > 1
    assert struck.high_n / struck.low_n > 2 * held.high_n / held.low_n


def test_pound_inches_taken_for_pound_feet_are_far_outside() -> None:
    assert in_tolerance(110 / 12, 110, 0.04).verdict == "outside"
    assert in_tolerance(110 * 1.3558, 110, 0.04).verdict == "outside"  # pound-feet set as newton-metres
