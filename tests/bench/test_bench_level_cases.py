"""A level case is one truth: reading, wear and verdict agree with the vehicle's hidden condition."""

from __future__ import annotations

import math
import statistics
from collections import Counter

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.level_cases import (
    CLEAR_ML,
    LEAKS,
    SHARES,
    VERDICTS,
    draw_level_case,
    level_case,
    look_at_level,
)
from brakecourse.bench.level_sums import (
    first_telling_mm,
    level_uncertainty_ml,
    missing_ml,
    piston_travel_mm,
    rotor_wear_mm,
)
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.trade.fluid import LEAST_LEAK_ML, explain_level, level_drop_mm

pytestmark = pytest.mark.slow

VAN = motor_pool()["meals_delivery_van"]
each_difficulty = pytest.mark.parametrize("difficulty", CLEAR_ML)


@each_difficulty
@pytest.mark.parametrize("verdict", VERDICTS)
def test_a_case_leads_to_its_verdict_and_clear_of_every_other(difficulty: str, verdict: str) -> None:
    for seed in range(12):
        case = draw_level_case(Draw(seed), difficulty, verdict)  # type: ignore[arg-type]
        assert case.finding.verdict == verdict
        gap, guard = case.finding.unexplained_ml, case.guard_ml
        low, _ = CLEAR_ML[difficulty]  # type: ignore[index]
        for shift in (-0.95 * low, 0.95 * low):
            again = explain_level(
                case.missing_ml + shift, [one.wear for one in case.wheels], case.uncertainty_ml
            )
            assert again.verdict == verdict, (gap, guard)


def test_the_same_draw_gives_the_same_case_and_another_one_another() -> None:
    assert draw_level_case(Draw(3)) == draw_level_case(Draw(3))
    assert len({draw_level_case(Draw(seed)).indication_mm for seed in range(20)}) == 20


def test_verdicts_come_as_often_as_their_shares_say() -> None:
    counted = Counter(draw_level_case(Draw(seed)).finding.verdict for seed in range(300))
    for verdict, share in SHARES.items():
        spread = math.sqrt(300 * share * (1 - share))
        assert abs(counted[verdict] - 300 * share) < 3.5 * spread


def test_what_leads_to_a_leak_is_a_leak_and_what_wear_explains_is_none() -> None:
    for seed in range(40):
        leaking = draw_level_case(Draw(seed), "easy", "suspect a leak")
        assert isinstance(leaking.car.faults[0], LEAKS) and leaking.car.condition.fluid.lost_ml > 5
        assert not draw_level_case(Draw(seed), "easy", "wear explains it").car.condition.fluid.lost_ml


def test_the_reading_and_the_wear_scatter_round_the_truth_as_their_uncertainty_says() -> None:
    car = draw_vehicle(5, 1, "normal", LEAKS, VAN)
    truth = car.condition.fluid
    looks = [look_at_level(car, Draw(seed)) for seed in range(300)]
    missing = [one.missing_ml for one in looks]
    assert statistics.mean(missing) == pytest.approx(truth.drop_ml, abs=0.6)
    # The rule's own error is the same in each look; nearest line and setting scatter.
    rule = looks[0].rule
    scatter_ml = (
        math.hypot(rule.repeatability, rule.nearest_line_u) * VAN.hydraulics.reservoir_area_mm2 / 1000
    )
    assert statistics.stdev(missing) == pytest.approx(scatter_ml, rel=0.15)
    expected = [one.finding.expected_ml for one in looks]
    assert statistics.mean(expected) == pytest.approx(truth.wear_explains_ml, rel=0.02)


def test_missing_fluid_is_the_inverse_of_the_fallen_level() -> None:
    system = VAN.hydraulics
    fallen = level_drop_mm(missing_ml(system, 17), system.reservoir_area_mm2)
    assert system.reservoir_max_mm - fallen == pytest.approx(17)
    assert missing_ml(system, system.reservoir_max_mm + 1) == -5.0


def test_the_piston_of_a_floating_caliper_follows_both_pads_and_of_a_fixed_one_its_own() -> None:
    pool = motor_pool()
    # Source: geometry of the two kinds; which piston follows which pad: common practice, no source.
    assert piston_travel_mm(pool["minibus"].front, 5.0, 0.4) == pytest.approx(10.4)
    assert piston_travel_mm(pool["night_patrol_saloon"].front, 5.0, 0.4) == pytest.approx(5.2)


def test_the_uncertainty_adds_as_squares_and_a_wide_reservoir_tells_less() -> None:
    level = 0.65 * VAN.hydraulics.reservoir_area_mm2 / 1000
    wear = [VAN.front.wear(0.15).volume_ml] * 2 + [VAN.rear.wear(0.15).volume_ml] * 2
    assert level_uncertainty_ml(VAN, 0.65) == pytest.approx(math.sqrt(level**2 + sum(one**2 for one in wear)))
    assert level_uncertainty_ml(motor_pool()["street_lighting_truck"], 0.65) > 2 * level_uncertainty_ml(
        VAN, 0.65
    )


def test_the_first_telling_line_is_the_highest_that_proves_a_leak() -> None:
    wear = [VAN.front.wear(4.0, 0.2)] * 2 + [VAN.rear.wear(2.0, 0.1)] * 2
    found = first_telling_mm(VAN, wear, 0.65)
    u = level_uncertainty_ml(VAN, 0.65)
    assert found is not None
    assert explain_level(missing_ml(VAN.hydraulics, found), wear, u).verdict == "suspect a leak"
    assert explain_level(missing_ml(VAN.hydraulics, found + 1), wear, u).verdict != "suspect a leak"
    assert first_telling_mm(VAN, [VAN.front.wear(14.0)] * 4, 0.65) is None


def test_fluid_that_was_poured_in_lifts_the_level() -> None:
    car = draw_vehicle(5, 1, "normal", LEAKS, VAN)
    without, topped = look_at_level(car, Draw(1)), look_at_level(car, Draw(1), poured_ml=50.0)
    assert topped.indication_mm - without.indication_mm == pytest.approx(10.0, abs=1.0)


def test_the_rotor_wears_with_the_pads_as_the_bench_says() -> None:
    case = level_case(70, "meals_delivery_van", "suspect a leak")
    for one in case.wheels:
        assert rotor_wear_mm(one.pad_wear_mm) == pytest.approx(one.rotor_wear_mm, abs=0.1)


def test_a_loss_that_wear_explains_is_ruled_out() -> None:
    for seed in range(20):
        case = draw_level_case(Draw(seed), "normal", "wear explains it")
        assert case.finding.unexplained_ml + case.guard_ml <= LEAST_LEAK_ML + 1e-6


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"verdict": "leaking"}, "verdict must be one of"),
        ({"difficulty": "usual"}, "difficulty must be one of"),
    ],
)
def test_what_is_no_verdict_or_difficulty_is_refused(wrong: dict[str, str], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        draw_level_case(Draw(1), **wrong)  # type: ignore[arg-type]


def test_an_unknown_vehicle_is_refused() -> None:
    with pytest.raises(ValueError, match="vehicle must be one of"):
        level_case(1, "tractor", "suspect a leak")
