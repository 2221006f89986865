"""Deciding against a limit: the rule itself, and what must hold whatever the numbers are."""

from __future__ import annotations

import itertools
import math

import pytest
from brakecourse.trade.conformity import (
    Decision,
    combine,
    decide,
    effective_degrees_of_freedom,
    expanded,
    guard_band,
    rectangular,
    standard_from_expanded,
    type_a,
)
from hypothesis import assume, given
from hypothesis import strategies as st

# Readings and limits in whole micrometres, given in mm, as gauges show them.
lengths_mm = st.integers(-50_000, 50_000).map(lambda micrometres: micrometres / 1000)
uncertainties = st.floats(1e-4, 1.0)
confidences = st.floats(0.5, 0.999)
sides = st.sampled_from(["minimum", "maximum"])
ORDER = {"outside": 0, "too close to call": 1, "within": 2}


@pytest.mark.parametrize(
    ("measured", "limit", "side", "verdict", "margin"),
    [
        # guard band at 95 percent with u = 0.010: 1.645 * 0.010 = 0.0164
        (22.03, 22.00, "minimum", "within", 0.03),
        (22.01, 22.00, "minimum", "too close to call", 0.01),
        (22.00, 22.00, "minimum", "too close to call", 0.0),
        (21.99, 22.00, "minimum", "too close to call", -0.01),
        (21.98, 22.00, "minimum", "outside", -0.02),
        (0.02, 0.05, "maximum", "within", 0.03),
        (0.04, 0.05, "maximum", "too close to call", 0.01),
        (0.06, 0.05, "maximum", "too close to call", -0.01),
        (0.07, 0.05, "maximum", "outside", -0.02),
    ],
)
def test_the_three_verdicts_on_both_sides(
    measured: float, limit: float, side: str, verdict: str, margin: float
) -> None:
    decision = decide(measured, limit, side, 0.010)  # type: ignore[arg-type]
    assert (decision.verdict, decision.margin) == (verdict, margin)
    assert decision.guard_band == pytest.approx(0.016449, abs=1e-6)


def test_without_uncertainty_there_is_no_grey_zone_and_the_limit_itself_keeps_it() -> None:
    assert decide(22.00, 22.00, "minimum", 0) == Decision("within", 0.0, 0.0, 1.0)
    assert decide(22.01, 22.00, "maximum", 0) == Decision("outside", -0.01, 0.0, 0.0)


def test_readings_are_subtracted_as_decimals() -> None:
    # In binary, 24.03 - 24.00 is 0.030000000000001137: over a limit of 0.03 by nothing but dust.
    assert 24.03 - 24.00 > 0.03
    assert decide(24.03, 24.00, "minimum", 0).margin == 0.03
    assert decide(0.1 + 0.2, 0.3, "maximum", 0).verdict == "outside"  # a real excess is not hidden


def test_a_confidence_of_one_half_asks_for_no_guard_band() -> None:
    assert guard_band(0.01, 0.5) == 0.0
    assert decide(22.00, 22.00, "minimum", 0.01, 0.5).verdict == "within"
    assert decide(22.00, 22.00, "minimum", 0.01, 0.5).probability_conforming == 0.5


@given(lengths_mm, lengths_mm, sides, uncertainties, confidences)
def test_the_verdict_is_the_margin_against_the_guard_band(
    measured: float, limit: float, side: str, u: float, confidence: float
) -> None:
    decision = decide(measured, limit, side, u, confidence)  # type: ignore[arg-type]
    sign = 1 if side == "minimum" else -1
    assert decision.margin == pytest.approx(sign * (measured - limit), abs=1e-9)
    assert (decision.verdict == "within") == (decision.margin >= decision.guard_band)
    if decision.guard_band > 0:
        assert (decision.verdict == "outside") == (decision.margin <= -decision.guard_band)
    assert 0 <= decision.probability_conforming <= 1


@given(lengths_mm, lengths_mm, uncertainties, confidences)
def test_a_minimum_seen_in_a_mirror_is_a_maximum(
    measured: float, limit: float, u: float, confidence: float
) -> None:
    assert decide(measured, limit, "minimum", u, confidence) == decide(
        -measured, -limit, "maximum", u, confidence
    )


@given(lengths_mm, lengths_mm, uncertainties)
def test_keeping_a_minimum_and_keeping_it_as_a_maximum_share_all_probability(
    measured: float, limit: float, u: float
) -> None:
    low = decide(measured, limit, "minimum", u).probability_conforming
    high = decide(measured, limit, "maximum", u).probability_conforming
    assert low + high == pytest.approx(1.0, abs=1e-12)


@given(lengths_mm, lengths_mm, sides, uncertainties, st.sampled_from([1000.0, 0.001, 1 / 25.4]))
def test_another_unit_changes_no_decision(
    measured: float, limit: float, side: str, u: float, unit: float
) -> None:
    here = decide(measured, limit, side, u)  # type: ignore[arg-type]
    there = decide(measured * unit, limit * unit, side, u * unit)  # type: ignore[arg-type]
    assert there.margin == pytest.approx(here.margin * unit, rel=1e-9, abs=1e-9 * unit)
    assert there.guard_band == pytest.approx(here.guard_band * unit)
    assert there.probability_conforming == pytest.approx(here.probability_conforming, abs=1e-9)
    if abs(abs(here.margin) - here.guard_band) > 1e-9:
        assert there.verdict == here.verdict


@given(lengths_mm, lengths_mm, lengths_mm, uncertainties, confidences)
def test_a_thicker_reading_never_looks_worse_against_a_minimum(
    one: float, other: float, limit: float, u: float, confidence: float
) -> None:
    thin = decide(min(one, other), limit, "minimum", u, confidence)
    thick = decide(max(one, other), limit, "minimum", u, confidence)
    assert ORDER[thin.verdict] <= ORDER[thick.verdict]
    assert thin.probability_conforming <= thick.probability_conforming


@given(lengths_mm, lengths_mm, sides, uncertainties, uncertainties)
def test_a_poorer_gauge_can_only_move_a_decision_into_the_grey_zone(
    measured: float, limit: float, side: str, one: float, other: float
) -> None:
    fine = decide(measured, limit, side, min(one, other))  # type: ignore[arg-type]
    coarse = decide(measured, limit, side, max(one, other))  # type: ignore[arg-type]
    assert coarse.guard_band >= fine.guard_band
    assert coarse.verdict in (fine.verdict, "too close to call")


@given(lengths_mm, lengths_mm, sides, uncertainties, confidences, confidences)
def test_more_confidence_can_only_move_a_decision_into_the_grey_zone(
    measured: float, limit: float, side: str, u: float, one: float, other: float
) -> None:
    low = decide(measured, limit, side, u, min(one, other))  # type: ignore[arg-type]
    high = decide(measured, limit, side, u, max(one, other))  # type: ignore[arg-type]
    assert high.verdict in (low.verdict, "too close to call")


@given(lengths_mm, lengths_mm, sides, uncertainties, confidences)
def test_a_decision_within_is_at_least_as_probable_as_the_confidence(
    measured: float, limit: float, side: str, u: float, confidence: float
) -> None:
    decision = decide(measured, limit, side, u, confidence)  # type: ignore[arg-type]
    if decision.verdict == "within":
        assert decision.probability_conforming >= confidence - 1e-9
    elif decision.verdict == "outside":
        assert decision.probability_conforming <= 1 - confidence + 1e-9


readings = st.lists(lengths_mm, min_size=2, max_size=12)


@given(readings, lengths_mm)
def test_type_a_follows_a_shift_in_the_mean_and_not_in_the_uncertainty(
    row: list[float], shift: float
) -> None:
    mean, u = type_a(row)
    moved_mean, moved_u = type_a([value + shift for value in row])
    assert moved_mean == pytest.approx(mean + shift, abs=1e-9)
    assert moved_u == pytest.approx(u, abs=1e-9)


@given(readings, st.sampled_from([1000.0, -1.0, 1 / 25.4]))
def test_type_a_follows_the_unit(row: list[float], unit: float) -> None:
    mean, u = type_a(row)
    assert type_a([value * unit for value in row]) == pytest.approx((mean * unit, u * abs(unit)), abs=1e-9)


@given(readings, st.randoms(use_true_random=False))
def test_type_a_does_not_care_for_the_order(row: list[float], random: object) -> None:
    shuffled = list(row)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert type_a(shuffled) == pytest.approx(type_a(row))


def test_type_a_of_readings_that_agree_has_no_uncertainty() -> None:
    assert type_a([24.01] * 5) == (24.01, 0.0)


def test_type_a_divides_by_one_less_than_the_count() -> None:
    # Two readings 1 apart: sample standard deviation 1/sqrt(2), of the mean 1/2 (population form: 0.354).
    assert type_a([0.0, 1.0]) == (0.5, pytest.approx(0.5))


contributions = st.lists(st.floats(0, 10), min_size=1, max_size=6)


@given(contributions)
def test_a_combined_uncertainty_lies_between_the_largest_part_and_the_sum(parts: list[float]) -> None:
    whole = combine(*parts)
    assert max(parts) * (1 - 1e-12) <= whole <= sum(parts) * (1 + 1e-12)
    assert combine(*parts, 0.0) == pytest.approx(whole)
    assert combine(*reversed(parts)) == pytest.approx(whole)
    assert combine(*(25.4 * part for part in parts)) == pytest.approx(25.4 * whole)


@given(st.floats(0, 10), st.floats(0, 10), st.floats(0, 10))
def test_combining_in_steps_gives_the_same(one: float, two: float, three: float) -> None:
    assert combine(combine(one, two), three) == pytest.approx(combine(one, two, three))


@given(st.floats(0, 10), st.floats(0.1, 5))
def test_an_expanded_uncertainty_leads_back_to_the_standard_one(u: float, k: float) -> None:
    assert expanded(u) == 2 * u
    assert standard_from_expanded(expanded(u, k), k) == pytest.approx(u)


@given(st.floats(0, 10), st.floats(0, 10))
def test_a_wider_rectangle_is_more_uncertain_and_less_than_its_half_width(one: float, other: float) -> None:
    assert rectangular(min(one, other)) <= rectangular(max(one, other))
    assert rectangular(one) <= one
    assert rectangular(2 * one) == pytest.approx(2 * rectangular(one))


freedoms = st.integers(1, 100)
budgets = st.lists(st.tuples(st.floats(1e-3, 10), freedoms), min_size=1, max_size=6)


@given(budgets)
def test_effective_degrees_lie_between_the_fewest_and_all_together(budget: list[tuple[float, int]]) -> None:
    parts, dof = [u for u, _ in budget], [nu for _, nu in budget]
    effective = effective_degrees_of_freedom(parts, dof)
    assert min(dof) * (1 - 1e-9) <= effective <= sum(dof) * (1 + 1e-9)
    assert effective_degrees_of_freedom([25.4 * u for u in parts], dof) == pytest.approx(effective)
    assert effective_degrees_of_freedom(parts[::-1], dof[::-1]) == pytest.approx(effective)
    assert effective_degrees_of_freedom([*parts, 0.0], [*dof, 1]) == pytest.approx(effective)


@given(st.floats(1e-3, 10), freedoms, st.integers(1, 6))
def test_equal_contributions_pool_their_degrees_of_freedom(u: float, nu: int, count: int) -> None:
    assert effective_degrees_of_freedom([u] * count, [nu] * count) == pytest.approx(nu * count)


@given(budgets)
def test_more_knowledge_of_one_part_never_lowers_the_effective_degrees(
    budget: list[tuple[float, int]],
) -> None:
    parts, dof = [u for u, _ in budget], [float(nu) for _, nu in budget]
    assume(len(parts) > 1)
    better = effective_degrees_of_freedom(parts, [math.inf, *dof[1:]])
    assert better >= effective_degrees_of_freedom(parts, dof) * (1 - 1e-12)
    assert effective_degrees_of_freedom(parts, [math.inf] * len(parts)) == math.inf


def test_verdicts_are_the_three_agreed_words() -> None:
    seen = {
        decide(22 + step / 100, 22, side, 0.01).verdict  # type: ignore[arg-type]
        for step, side in itertools.product(range(-5, 6), ["minimum", "maximum"])
    }
    assert seen == set(ORDER)
