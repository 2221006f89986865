"""Rotor measures and the keep, machine or replace verdict."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from brakecourse.trade.rotor import (
    Instruments,
    RotorSpec,
    cut_to_true_mm,
    harmonics,
    machining_allowance_mm,
    run_out_mm,
    smallest_mm,
    thickness_variation_mm,
    verdict,
)
from hypothesis import given
from hypothesis import strategies as st

SPEC = RotorSpec(
    nominal_mm=24.0, machine_to_mm=22.6, discard_mm=22.0, max_variation_mm=0.030, max_run_out_mm=0.10
)
GAUGES = Instruments(thickness_u_mm=0.005, thickness_difference_u_mm=0.004, dial_difference_u_mm=0.005)
# Guard bands at 95 percent: thickness 0.0082, variation 0.0066, run-out 0.0082 mm.
STEADY = [0.00, 0.02, 0.04, 0.02]
RANK = {"replace": 0, "machine": 1, "keep": 2}

microns = st.integers(20_000, 26_000)
rows_um = st.lists(microns, min_size=3, max_size=12)
dial_um = st.lists(st.integers(-300, 300), min_size=3, max_size=12)


def _mm(row_um: list[int]) -> list[float]:
    return [value / 1000 for value in row_um]


# --- measures -----------------------------------------------------------------------------------


@given(rows_um)
def test_the_measures_are_exact_to_the_micrometre(row: list[int]) -> None:
    assert smallest_mm(_mm(row)) == min(row) / 1000
    assert thickness_variation_mm(_mm(row)) == (max(row) - min(row)) / 1000


@given(dial_um)
def test_run_out_is_the_whole_swing_wherever_the_dial_was_set_to_zero(row: list[int]) -> None:
    swing = (max(row) - min(row)) / 1000
    assert run_out_mm(_mm(row)) == swing
    assert run_out_mm(_mm([value - 123 for value in row])) == swing
    assert run_out_mm(_mm([-value for value in row])) == swing


@given(rows_um, st.integers(0, 11))
def test_it_does_not_matter_where_the_first_place_is(row: list[int], start: int) -> None:
    start %= len(row)
    turned = _mm(row[start:] + row[:start])
    assert smallest_mm(turned) == smallest_mm(_mm(row))
    assert thickness_variation_mm(turned) == thickness_variation_mm(_mm(row))
    assert run_out_mm(turned) == run_out_mm(_mm(row))


@given(rows_um)
def test_one_more_place_never_lowers_the_variation_or_raises_the_smallest(row: list[int]) -> None:
    assert thickness_variation_mm(_mm(row)) >= thickness_variation_mm(_mm(row[:-1]))
    assert smallest_mm(_mm(row)) <= smallest_mm(_mm(row[:-1]))


@given(rows_um, microns)
def test_the_machining_allowance_is_never_below_nothing(row: list[int], machine_to: int) -> None:
    assert machining_allowance_mm(_mm(row), machine_to / 1000) == max(0, min(row) - machine_to) / 1000


@given(st.integers(0, 500), st.integers(0, 500))
def test_the_cut_to_true_is_variation_plus_run_out(variation: int, run_out: int) -> None:
    assert cut_to_true_mm(variation / 1000, run_out / 1000) == (variation + run_out) / 1000
    assert cut_to_true_mm(run_out / 1000, variation / 1000) == (variation + run_out) / 1000


# --- waves --------------------------------------------------------------------------------------


def _rebuilt(row: list[float]) -> list[float]:
    mean = sum(row) / len(row)
    waves = harmonics(row)
    angles = [360 * place / len(row) for place in range(len(row))]
    return [
        mean + sum(w.amplitude * math.cos(math.radians(w.order * angle - w.phase_deg)) for w in waves)
        for angle in angles
    ]


@given(dial_um)
def test_the_waves_give_the_readings_back(row: list[int]) -> None:
    assert _rebuilt(_mm(row)) == pytest.approx(_mm(row), abs=1e-9)


@given(dial_um)
def test_waves_are_well_formed(row: list[int]) -> None:
    waves = harmonics(_mm(row))
    assert [wave.order for wave in waves] == list(range(1, len(row) // 2 + 1))
    assert all(wave.amplitude >= 0 and 0 <= wave.phase_deg < 360 for wave in waves)


@given(dial_um, st.integers(-1000, 1000))
def test_where_the_dial_was_set_to_zero_changes_no_wave(row: list[int], shift: int) -> None:
    before = [wave.amplitude for wave in harmonics(_mm(row))]
    after = [wave.amplitude for wave in harmonics(_mm([value + shift for value in row]))]
    assert after == pytest.approx(before, abs=1e-9)


@given(dial_um)
def test_starting_one_place_later_turns_each_wave_by_its_order_times_the_step(row: list[int]) -> None:
    step = 360 / len(row)
    for before, after in zip(harmonics(_mm(row)), harmonics(_mm(row[1:] + row[:1])), strict=True):
        assert after.amplitude == pytest.approx(before.amplitude, abs=1e-9)
        if before.amplitude > 1e-6:
            turned = math.radians(before.phase_deg - before.order * step - after.phase_deg)
            assert math.cos(turned) == pytest.approx(1.0, abs=1e-6)


@pytest.mark.parametrize(("order", "phase"), [(1, 0.0), (1, 225.0), (2, 90.0), (3, 300.0)])
def test_a_pure_wave_is_found_with_its_size_and_direction(order: int, phase: float) -> None:
    row = [0.05 * math.cos(math.radians(order * 45 * place - phase)) for place in range(8)]
    for wave in harmonics(row):
        assert wave.amplitude == pytest.approx(0.05 if wave.order == order else 0.0, abs=1e-12)
    assert harmonics(row)[order - 1].phase_deg == pytest.approx(phase, abs=1e-6)
    # What is only rounding is told as nothing, so that no drawing shows a direction that is not there.
    assert [(w.amplitude, w.phase_deg) for w in harmonics(row) if w.order != order] == [(0.0, 0.0)] * 3


def test_a_flat_profile_has_no_wave_and_no_direction() -> None:
    assert {(wave.amplitude, wave.phase_deg) for wave in harmonics([24.01] * 8)} == {(0.0, 0.0)}


# --- the verdict --------------------------------------------------------------------------------

FLAT = [23.10, 23.10, 23.10, 23.10]


@pytest.mark.parametrize(
    ("readings", "dial", "action", "deciding", "decided", "checks"),
    [
        # all proven
        ([23.10, 23.12, 23.11], STEADY, "keep", "variation", "within", 3),
        # variation outside, too close, run-out outside, too close; enough metal
        ([23.10, 23.14, 23.11], STEADY, "machine", "variation", "outside", 4),
        ([23.10, 23.13, 23.11], STEADY, "machine", "variation", "too close to call", 4),
        (FLAT, [0.00, 0.12], "machine", "run-out", "outside", 4),
        (FLAT, [0.00, 0.10], "machine", "run-out", "too close to call", 4),
        # both fail: the variation is named
        ([23.10, 23.14, 23.11], [0.00, 0.12], "machine", "variation", "outside", 4),
        # thickness below the discard limit, or not proven above it; nothing else matters then
        ([21.90, 21.91, 21.90], STEADY, "replace", "thickness", "outside", 3),
        ([22.00, 22.01, 22.00], STEADY, "replace", "thickness", "too close to call", 3),
        ([22.00, 22.20, 22.10], [0.0, 0.5], "replace", "thickness", "too close to call", 3),
        # thick enough to keep, but not enough to true: 22.70 - (0.04 + 0.12) = 22.54 under 22.60
        ([22.70, 22.74, 22.71], [0.00, 0.12], "replace", "machining", "outside", 4),
        # 22.76 - 0.16 = 22.60: exactly machine-to, not proven
        ([22.76, 22.80, 22.77], [0.00, 0.12], "replace", "machining", "too close to call", 4),
        # 22.78 - 0.16 = 22.62: proven
        ([22.78, 22.82, 22.79], [0.00, 0.12], "machine", "variation", "outside", 4),
        # below machine-to already, but true: it may stay
        ([22.10, 22.11, 22.12], STEADY, "keep", "variation", "within", 3),
    ],
)
def test_each_branch_of_the_rule(
    readings: list[float], dial: list[float], action: str, deciding: str, decided: str, checks: int
) -> None:
    finding = verdict(readings, dial, SPEC, GAUGES)
    assert finding.action == action
    assert (finding.deciding.check, finding.deciding.decision.verdict) == (deciding, decided)
    names = [reason.check for reason in finding.reasons]
    assert names == ["thickness", "variation", "run-out", "machining"][:checks]
    assert finding.deciding in finding.reasons


def test_a_finding_carries_the_measures() -> None:
    finding = verdict([22.78, 22.82, 22.79], [0.00, 0.12], SPEC, GAUGES)
    assert (finding.smallest_mm, finding.variation_mm, finding.run_out_mm) == (22.78, 0.04, 0.12)
    assert finding.allowance_mm == 0.18
    machining = finding.reasons[3]
    assert (machining.measured_mm, machining.limit_mm, machining.side) == (22.62, 22.6, "minimum")
    assert machining.decision.margin == 0.02


def test_the_deciding_check_of_a_kept_rotor_is_the_tightest() -> None:
    # run-out 0.09 of 0.10 leaves 0.01, only 1.2 guard bands; variation 0 of 0.03 leaves 4.6
    finding = verdict(FLAT, [0.00, 0.09], SPEC, GAUGES)
    assert (finding.action, finding.deciding.check) == ("keep", "run-out")
    thin = verdict([22.01] * 3, [0.0, 0.0], SPEC, GAUGES)
    assert (thin.action, thin.deciding.check) == ("keep", "thickness")


def test_each_check_uses_the_uncertainty_of_its_own_measurement() -> None:
    finding = verdict([22.78, 22.82, 22.79], [0.00, 0.12], SPEC, Instruments(0.001, 0.002, 0.004))
    bands = {reason.check: round(reason.decision.guard_band / 1.6448536, 6) for reason in finding.reasons}
    assert bands == {"thickness": 0.001, "variation": 0.002, "run-out": 0.004, "machining": 0.001}


def test_perfect_gauges_leave_no_grey_zone() -> None:
    perfect = Instruments(0, 0, 0)
    finding = verdict([22.00, 22.03, 22.01], [0.0, 0.1], SPEC, perfect)
    assert finding.action == "keep"
    assert [reason.decision.margin for reason in finding.reasons] == [0.0, 0.0, 0.0]
    assert verdict([21.99, 22.00, 22.01], [0.0, 0.1], SPEC, perfect).action == "replace"


def test_a_wanted_confidence_of_99_percent_asks_for_more() -> None:
    row = [22.01, 22.01, 22.02]
    assert verdict(row, STEADY, SPEC, GAUGES).action == "keep"
    assert verdict(row, STEADY, SPEC, GAUGES, confidence=0.99).deciding.check == "thickness"


def test_words_say_check_limit_and_verdict_in_both_units() -> None:
    finding = verdict([22.78, 22.82, 22.79], [0.00, 0.10], SPEC, GAUGES)
    thickness, variation, run_out, machining = (reason.words for reason in finding.reasons)
    assert thickness == (
        "The smallest thickness is 22.78 mm (0.897 in). The discard thickness is 22.00 mm (0.866 in). "
        "Within the limit: the margin of 0.78 mm (0.0307 in) covers the guard band of 0.008 mm (0.0003 in)."
    )
    assert "Outside the limit: it misses by 0.01 mm (0.0004 in)" in variation
    assert "Too close to call: it lies 0.00 mm (0.0000 in) from the limit" in run_out
    assert machining.startswith("The thickness left after truing is 22.64 mm (0.891 in).")


specs = st.tuples(
    st.integers(21_000, 23_000),
    st.integers(1, 900),
    st.integers(1, 1500),
    st.integers(5, 60),
    st.integers(20, 150),
).map(
    lambda d: RotorSpec(
        (d[0] + d[1] + d[2]) / 1000, (d[0] + d[1]) / 1000, d[0] / 1000, d[3] / 1000, d[4] / 1000
    )
)
gauges = st.tuples(st.integers(0, 20), st.integers(0, 20), st.integers(0, 20)).map(
    lambda d: Instruments(*(value / 1000 for value in d))
)


@given(rows_um, dial_um, specs, gauges)
def test_what_each_action_promises(
    row: list[int], dial: list[int], spec: RotorSpec, used: Instruments
) -> None:
    finding = verdict(_mm(row), _mm(dial), spec, used)
    proven = {reason.check: reason.decision.verdict == "within" for reason in finding.reasons}
    true_already = proven["variation"] and proven["run-out"]
    if finding.action == "keep":
        assert proven["thickness"]
        assert true_already
    elif finding.action == "machine":
        assert proven["thickness"]
        assert not true_already
        assert proven["machining"]
        assert finding.smallest_mm - finding.variation_mm - finding.run_out_mm >= spec.machine_to_mm - 1e-9
    else:
        assert not proven["thickness"] or (not true_already and not proven["machining"])
    assert proven[finding.deciding.check] == (finding.action == "keep")


@given(rows_um, dial_um, specs, gauges, st.integers(1, 2000))
def test_a_thicker_rotor_is_never_judged_worse(
    row: list[int], dial: list[int], spec: RotorSpec, used: Instruments, more: int
) -> None:
    thin = verdict(_mm(row), _mm(dial), spec, used)
    thick = verdict(_mm([value + more for value in row]), _mm(dial), spec, used)
    assert RANK[thin.action] <= RANK[thick.action]


@given(rows_um, dial_um, specs, gauges)
def test_a_poorer_gauge_or_a_tighter_limit_never_saves_a_rotor(
    row: list[int], dial: list[int], spec: RotorSpec, used: Instruments
) -> None:
    now = RANK[verdict(_mm(row), _mm(dial), spec, used).action]
    poorer = [
        replace(used, thickness_u_mm=used.thickness_u_mm + 0.01),
        replace(used, thickness_difference_u_mm=used.thickness_difference_u_mm + 0.01),
        replace(used, dial_difference_u_mm=used.dial_difference_u_mm + 0.01),
    ]
    tighter = [
        replace(spec, max_variation_mm=spec.max_variation_mm / 2),
        replace(spec, max_run_out_mm=spec.max_run_out_mm / 2),
        replace(spec, discard_mm=(spec.discard_mm + spec.machine_to_mm) / 2),
        replace(spec, machine_to_mm=(spec.machine_to_mm + spec.nominal_mm) / 2),
    ]
    assert all(RANK[verdict(_mm(row), _mm(dial), spec, gauge).action] <= now for gauge in poorer)
    assert all(RANK[verdict(_mm(row), _mm(dial), limits, used).action] <= now for limits in tighter)


@given(rows_um, dial_um, specs, gauges)
def test_turning_the_rotor_changes_nothing(
    row: list[int], dial: list[int], spec: RotorSpec, used: Instruments
) -> None:
    turned = verdict(_mm(row[1:] + row[:1]), _mm(dial[1:] + dial[:1]), spec, used)
    assert turned == verdict(_mm(row), _mm(dial), spec, used)


def test_wear_walks_a_rotor_from_keep_to_replace() -> None:
    actions = [
        verdict([t, t + 0.01, t], STEADY, SPEC, GAUGES).action for t in (24.0, 23.0, 22.05, 22.0, 21.5)
    ]
    assert all(RANK[before] >= RANK[after] for before, after in pairwise(actions))
    assert (actions[0], actions[-1]) == ("keep", "replace")
