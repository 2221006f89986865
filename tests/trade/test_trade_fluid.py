"""The reservoir and the fluid: what must hold whatever the numbers are."""

from __future__ import annotations

from itertools import pairwise

import pytest
from brakecourse.trade.fluid import (
    LEAST_LEAK_ML,
    CaliperTravel,
    WheelWear,
    boiling_minima_c,
    boiling_point_c,
    explain_level,
    level_drop_mm,
    moist_boiling_c,
    piston_area_mm2,
    required_reservoir_ml,
    vapour_margin_c,
    wear_volume_ml,
    wet_water_percent,
)
from hypothesis import given, settings
from hypothesis import strategies as st

quick = settings(max_examples=30, deadline=None)
bores = st.floats(20, 80)
wears = st.floats(0, 15)
counts = st.integers(1, 4)
grades = st.sampled_from(["DOT 3", "DOT 4", "DOT 5.1"])
waters = st.floats(0, 6)


# --- volumes ------------------------------------------------------------------------------------------------


@quick
@given(bores, counts, wears, wears)
def test_a_fixed_caliper_needs_twice_the_pistons_for_the_same_volume(
    bore: float, count: int, lining: float, rotor: float
) -> None:
    floating = wear_volume_ml(bore, count, lining, rotor)
    assert wear_volume_ml(bore, 2 * count, lining, rotor, "fixed") == pytest.approx(floating)
    # Trap: the same number of pistons moves half the fluid in a fixed caliper, not the same.
    assert wear_volume_ml(bore, 2 * count, lining, rotor) == pytest.approx(2 * floating)


@quick
@given(bores, counts, wears, wears, st.floats(0.1, 5))
def test_wear_volume_grows_with_each_wear_and_counts_both_pads_and_the_rotor_once(
    bore: float, count: int, lining: float, rotor: float, more: float
) -> None:
    base = wear_volume_ml(bore, count, lining, rotor)
    per_mm = count * piston_area_mm2(bore) / 1000
    assert wear_volume_ml(bore, count, lining + more, rotor) - base == pytest.approx(2 * more * per_mm)
    assert wear_volume_ml(bore, count, lining, rotor + more) - base == pytest.approx(more * per_mm)
    assert wear_volume_ml(bore, count, 0, 0) == 0


@quick
@given(bores, st.floats(0.1, 10))
def test_area_goes_with_the_square_of_the_bore(bore: float, factor: float) -> None:
    assert piston_area_mm2(bore * factor) == pytest.approx(factor**2 * piston_area_mm2(bore))


@quick
@given(st.floats(0, 500), st.floats(100, 20_000))
def test_the_level_falls_by_volume_over_area(volume: float, area: float) -> None:
    # Trap of units: 1 mL is 1000 mm³, not 1 mm³ and not 10.
    assert level_drop_mm(volume, area) * area == pytest.approx(1000 * volume)
    assert level_drop_mm(1, 1000) == 1.0


@quick
@given(bores, counts, st.floats(3, 15), st.floats(0, 2.9), wears, st.floats(0, 1))
def test_the_reservoir_covers_new_and_drawn_back_to_worn_and_applied(
    bore: float, count: int, new: float, worn: float, rotor: float, clearance: float
) -> None:
    one = CaliperTravel(bore, count, new, worn, rotor, clearance)
    gone = wear_volume_ml(bore, count, new - worn, rotor)
    gap = wear_volume_ml(bore, count, clearance)
    assert required_reservoir_ml([one]) == pytest.approx(gone + gap)
    assert required_reservoir_ml([one, one, one]) == pytest.approx(3 * required_reservoir_ml([one]))
    assert required_reservoir_ml([one]) >= gone  # no wear of a caliper that it feeds can empty it


# --- the level's verdict ------------------------------------------------------------------------------------

WHEELS = [WheelWear(54.0, 1, 7.0, 1.0), WheelWear(54.0, 1, 6.0, 1.0)]
EXPECTED = sum(wheel.volume_ml for wheel in WHEELS)


@pytest.mark.parametrize(
    ("unexplained", "u", "verdict"),
    [
        (0.0, 3.0, "wear explains it"),  # guard band 4.93 mL
        (4.9, 3.0, "wear explains it"),
        (5.0, 3.0, "suspect a leak"),
        (-4.9, 3.0, "wear explains it"),
        (-5.0, 3.0, "fluid was added"),
        (0.0, 0.0, "wear explains it"),
        (0.01, 0.0, "suspect a leak"),
        (0.0, 8.0, "too close to call"),  # guard band 13.2 mL: a leak of 10 mL cannot be ruled out
        (5.0, 5.0, "too close to call"),
        (1.0, 5.0, "wear explains it"),
        (20.0, 8.0, "suspect a leak"),
    ],
)
def test_the_verdicts_on_a_level(unexplained: float, u: float, verdict: str) -> None:
    finding = explain_level(EXPECTED + unexplained, WHEELS, u)
    assert finding.verdict == verdict
    assert finding.expected_ml == pytest.approx(EXPECTED)
    assert finding.unexplained_ml == pytest.approx(unexplained)


@quick
@given(st.floats(-100, 200), st.floats(0, 20), st.floats(0.1, 50))
def test_more_fluid_missing_never_clears_a_suspicion(observed: float, u: float, more: float) -> None:
    rank = {"fluid was added": 0, "wear explains it": 1, "too close to call": 2, "suspect a leak": 3}
    sooner = rank[explain_level(observed, WHEELS, u).verdict]
    later = rank[explain_level(observed + more, WHEELS, u).verdict]
    assert later >= sooner


@quick
@given(st.floats(-5, 40), st.floats(0, 20), st.floats(0.1, 20))
def test_a_poorer_measurement_never_turns_a_suspicion_into_an_all_clear(
    unexplained: float, u: float, more: float
) -> None:
    fine = explain_level(EXPECTED + unexplained, WHEELS, u).verdict
    coarse = explain_level(EXPECTED + unexplained, WHEELS, u + more).verdict
    if fine == "suspect a leak" and unexplained >= LEAST_LEAK_ML:
        assert coarse in ("suspect a leak", "too close to call")
    if fine == "too close to call":
        assert coarse == "too close to call"


@pytest.mark.parametrize("unexplained", [20.0, 0.0, -20.0])
def test_the_words_give_both_units_and_the_action(unexplained: float) -> None:
    words = explain_level(EXPECTED + unexplained, WHEELS, 3.0).words
    assert "64.1 mL (2.17 fl oz)" in words
    assert ("suspect a leak" in words) == (unexplained > 0)
    assert ("fluid was added" in words) == (unexplained < 0)
    assert f"{abs(unexplained):.1f} mL" in words


# --- the boiling curve --------------------------------------------------------------------------------------


@quick
@given(grades, waters, st.floats(0.01, 3))
def test_more_water_boils_sooner(grade: str, water: float, more: float) -> None:
    later = min(6.0, water + more)
    if later > water + 1e-6:
        assert boiling_point_c(grade, later) < boiling_point_c(grade, water)  # type: ignore[arg-type]


@pytest.mark.parametrize("grade", ["DOT 3", "DOT 4", "DOT 5.1"])
def test_the_curve_passes_both_minima_and_bends_one_way(grade: str) -> None:
    dry, wet = boiling_minima_c(grade)  # type: ignore[arg-type]
    assert boiling_point_c(grade, 0) == dry  # type: ignore[arg-type]
    assert boiling_point_c(grade, wet_water_percent()) == pytest.approx(wet, abs=1e-9)  # type: ignore[arg-type]
    row = [boiling_point_c(grade, water / 10) for water in range(0, 61)]  # type: ignore[arg-type]
    steps = [second - first for first, second in pairwise(row)]
    assert all(first < second < 0 for first, second in pairwise(steps))  # falls, and ever more slowly


@pytest.mark.parametrize("grade", ["DOT 3", "DOT 4", "DOT 5.1"])
def test_a_straight_line_from_dry_to_wet_would_promise_far_too_much(grade: str) -> None:
    dry, wet = boiling_minima_c(grade)  # type: ignore[arg-type]
    for water in (1.0, 1.5, 2.0):
        line = dry + (wet - dry) * water / wet_water_percent()
        assert line - boiling_point_c(grade, water) > 15  # type: ignore[arg-type]


@quick
@given(st.floats(150, 340), st.floats(0.1, 0.9), st.floats(1, 6), waters)
def test_any_fluid_keeps_between_its_dry_point_and_boiling_water(
    dry: float, fraction: float, at: float, water: float
) -> None:
    wet = 100 + fraction * (dry - 100)
    found = moist_boiling_c(water, dry, wet, at)
    assert 100 < found <= dry
    assert (found >= wet - 1e-9) == (water <= at) or abs(found - wet) < 1e-6
    assert moist_boiling_c(at, dry, wet, at) == pytest.approx(wet, abs=1e-6)


@pytest.mark.parametrize("entropy", [75.0, 130.0])
def test_the_remembered_rule_of_the_curve_has_little_weight(
    monkeypatch: pytest.MonkeyPatch, entropy: float
) -> None:
    from brakecourse.trade import _fluid_boiling

    cases = [(grade, water / 4) for grade in ("DOT 3", "DOT 4", "DOT 5.1") for water in range(25)]
    before = [boiling_point_c(*case) for case in cases]  # type: ignore[arg-type]
    monkeypatch.setattr(_fluid_boiling, "_ENTROPY_RATIO", entropy / 8.3145)
    after = [boiling_point_c(*case) for case in cases]  # type: ignore[arg-type]
    moved = max(abs(one - other) for one, other in zip(before, after, strict=True))
    assert 0.1 < moved < 4


@quick
@given(grades, waters, st.floats(-40, 250))
def test_the_margin_is_the_way_left_to_boiling(grade: str, water: float, warm: float) -> None:
    margin = vapour_margin_c(grade, water, warm)  # type: ignore[arg-type]
    assert margin + warm == pytest.approx(boiling_point_c(grade, water))  # type: ignore[arg-type]


def test_silicone_fluid_has_minima_and_no_curve() -> None:
    assert boiling_minima_c("DOT 5") == boiling_minima_c("DOT 5.1")
    with pytest.raises(ValueError, match=r"grade of a fluid that mixes with water must be .*'DOT 5'\.$"):
        boiling_point_c("DOT 5", 1.0)  # type: ignore[arg-type]
