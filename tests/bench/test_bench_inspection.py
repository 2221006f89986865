"""The checks of a whole vehicle: they see what is true, err as people do, and tell their faults."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from statistics import fmean, stdev
from typing import Any

import pytest
from brakecourse.bench import _inspection_base as base
from brakecourse.bench import motor_pool
from brakecourse.bench.condition import live
from brakecourse.bench.diagnosis_table import Examined, simulate, table_of, tally
from brakecourse.bench.draw import Draw
from brakecourse.bench.inspection import CHEAP_CHECKS, CHECKS, inspect, perform
from brakecourse.bench.length_gauges import pedal_rule
from brakecourse.bench.roots import sound_roots
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import FAULTS
from brakecourse.trade.leaks import DiagnosisTable

pytestmark = pytest.mark.slow

BY_ID = {check.id: check for check in CHECKS}
KINDS = {kind.id: kind for kind in FAULTS}

# For each fault what tells it, and what that check then shows. Common practice, no source.
TELLING: dict[str, list[tuple[str, str]]] = {
    "worn_pads": [("pad_lining", "below")],
    "hose_leak": [("wet_wheels", "hose"), ("pedal_hold", "sinks"), ("fluid_level", "missing")],
    "caliper_seal_leak": [("wet_wheels", "piston"), ("pad_soil", "wet"), ("pedal_hold", "sinks")],
    "fitting_leak": [("wet_wheels", "fitting"), ("pedal_hold", "sinks")],
    "primary_seal_leak": [("wet_master", "wet"), ("pedal_hold", "sinks")],
    "internal_bypass": [("pedal_hold", "sinks")],
    "air_in_circuit": [("pedal_feel", "springy"), ("pedal_travel", "long_stays")],
    "old_fluid": [("fluid_water", "much"), ("fluid_boiling", "low")],
    "wrong_fluid": [("fluid_kind", "apart"), ("fluid_kind", "swollen"), ("fluid_boiling", "too_low")],
    "seized_piston": [("spin", "drags"), ("release", "still_drags"), ("piston_push", "hard")],
    "seized_pin": [("caliper_slide", "one_tight"), ("pad_taper", "opposite"), ("pins_drawn", "one_tight")],
    "dry_pins": [("caliper_slide", "both_tight"), ("pins_drawn", "both_tight")],
    "packed_pin_bore": [("caliper_slide", "springs_back"), ("pins_drawn", "packed")],
    "swapped_pins": [("caliper_slide", "loose"), ("pins_drawn", "swapped"), ("drive_noise", "knocks")],
    "rust_under_clips": [("pad_seats", "rusty"), ("pad_fit", "tight"), ("pad_pair", "outer_thinner")],
    "collapsed_hose": [("release", "freed_by_bleeder"), ("drive_heat", "one_much_hotter")],
    "torn_piston_boot": [("boots", "piston_boot")],
    "torn_pin_boot": [("boots", "pin_boot")],
    "thin_rotor": [("thickness", "too_thin")],
    "grooved_rotor": [("rotor_track", "grooved"), ("drive_noise", "grinds")],
    "ridged_rotor": [("rotor_ridge", "pads_on_ridge")],
    "thickness_variation": [("thickness", "varies"), ("drive_pulse", "pulses_hard")],
    "heat_spotted_rotor": [("rotor_track", "dark_spots"), ("drive_pulse", "pulses_hard")],
    "dirty_hub": [("run_out", "far_above"), ("hub_face", "dirty")],
    "bent_hub": [("run_out", "far_above"), ("hub_face", "bent")],
    "under_torqued": [("wheel_nuts", "loose"), ("bolts", "loose"), ("drive_noise", "knocks")],
    "over_torqued": [("wheel_nuts", "tight"), ("bolts", "tight")],
    "glazed_pads": [("drive_noise", "squeals"), ("drive_stop", "much_longer"), ("pad_faces", "glazed")],
    "contaminated_pads": [("drive_pull", "pulls_hard"), ("pad_soil", "greasy"), ("pad_faces", "greasy")],
    "bedding_skipped": [("rotor_track", "patches"), ("pad_faces", "patchy"), ("drive_noise", "squeals")],
}

# Checks whose findings run from good to bad, and a fault that drives them. The order is that of the record.
WORSENING = [
    ("drive_stop", "glazed_pads"),
    ("drive_pull", "contaminated_pads"),
    ("drive_pulse", "thickness_variation"),
    ("drive_heat", "collapsed_hose"),
    ("pedal_travel", "air_in_circuit"),
    ("pedal_feel", "air_in_circuit"),
    ("pedal_hold", "internal_bypass"),
    ("fluid_level", "hose_leak"),
    ("fluid_water", "old_fluid"),
    ("fluid_boiling", "old_fluid"),
    ("spin", "seized_piston"),
    ("pad_lining", "worn_pads"),
    ("rotor_ridge", "ridged_rotor"),
    ("pad_seats", "rust_under_clips"),
    ("pad_fit", "rust_under_clips"),
    ("run_out", "bent_hub"),
    ("piston_push", "torn_piston_boot"),
    ("pad_pair", "seized_piston"),
    ("pad_taper", "seized_pin"),
    ("caliper_slide", "seized_pin"),
    ("pins_drawn", "seized_pin"),
]


@pytest.fixture(scope="module")
def sample() -> list[Examined]:
    return list(simulate(31 * 24, 7_000_000))


@pytest.fixture(scope="module")
def table(sample: list[Examined]) -> DiagnosisTable:
    return table_of(tally(sample))


@pytest.fixture(scope="module")
def cases() -> list[VehicleCase]:
    """One vehicle of each kind, and some in good order."""
    sound = [draw_vehicle(seed, 0) for seed in range(4)]
    return sound + [draw_vehicle(seed, 1, kinds=(kind,)) for seed, kind in enumerate(FAULTS)]


def faulty(kind: str, severity: float, seed: int = 11) -> VehicleCase:
    """The meals-delivery van with one fault of a kind, of a chosen severity; its place stays the same."""
    case = draw_vehicle(seed, 1, kinds=(KINDS[kind],), vehicle=motor_pool()["meals_delivery_van"])
    fault = replace(case.faults[0], severity=severity)
    roots = fault.act(case.sound_roots, case.vehicle, case.km)
    return replace(case, faults=(fault,), roots=roots, condition=live(case.vehicle, roots, case.km))


# --- the list -------------------------------------------------------------------------------------


def test_the_checks_are_those_of_a_whole_vehicle() -> None:
    assert len(BY_ID) == len(CHECKS) >= 22
    assert len({check.words for check in CHECKS}) == len(CHECKS)
    for check in CHECKS:
        assert 2 <= len(check.findings) <= 5
        assert check.id == check.id.lower().replace(" ", "_")
        for finding in check.findings:
            # What a learner reads is a sentence of their own, without its point.
            assert finding.words[0].isupper() and not finding.words.endswith(".") and len(finding.words) < 90


def test_cheap_checks_take_no_caliper_off_and_ten_minutes_at_most() -> None:
    assert len(CHEAP_CHECKS) >= 20
    for check in CHECKS:
        apart = any(word in check.words for word in ("Calipers off", "Pads out", "Rotors off"))
        assert check.cheap == (not apart) == (check.id in CHEAP_CHECKS) == (check.minutes <= 10)


def test_every_finding_of_every_check_comes_up(sample: list[Examined]) -> None:
    # Rare ones are in the stored table (test_bench_diagnosis.py); here each check shows most of its own.
    for check in CHECKS:
        seen = {one.findings[check.id] for one in sample}
        told = {finding.id for finding in check.findings}
        assert seen <= told
        assert len(seen) >= max(2, len(told) - 1), (check.id, told - seen)


# --- each fault is told by its check ----------------------------------------------------------------


def test_every_fault_has_its_telling_check_named() -> None:
    assert set(TELLING) == set(KINDS)
    told = {pair for pairs in TELLING.values() for pair in pairs}
    assert told <= {(check.id, finding.id) for check in CHECKS for finding in check.findings}
    # No check is there for nothing.
    assert {check for check, _ in told} == set(BY_ID)


@pytest.mark.parametrize(
    ("kind", "pair"), [(kind, pair) for kind, pairs in TELLING.items() for pair in pairs]
)
def test_a_telling_finding_is_more_than_three_times_as_likely_with_its_fault(
    table: DiagnosisTable, kind: str, pair: tuple[str, str]
) -> None:
    place = [cause.id for cause in table.causes].index(kind)
    assert math.exp(table.odds.log_ratios[pair][place]) > 3


def test_in_order_is_what_a_sound_vehicle_mostly_shows() -> None:
    found = [inspect(draw_vehicle(seed, 0), Draw(seed)) for seed in range(60)]
    for check in CHECKS:
        good = check.findings[0].id
        share = fmean(one[check.id] == good for one in found)
        # How much is missing is hard to tell by a level, above all in the truck's wide reservoir.
        assert share > (0.3 if check.id == "fluid_level" else 0.8), (check.id, share)


# --- truth, chance and nothing else ------------------------------------------------------------------


def test_the_same_draw_gives_the_same_findings(cases: list[VehicleCase]) -> None:
    for case in cases:
        assert inspect(case, Draw(5)) == inspect(case, Draw(5))
        for check in CHECKS:
            assert perform(check.id, case, Draw(5)) == perform(check.id, case, Draw(5))


def test_what_a_check_shows_does_not_hang_on_the_other_checks(cases: list[VehicleCase]) -> None:
    backwards = list(reversed(BY_ID))
    for case in cases[:8]:
        every = inspect(case, Draw(9))
        assert list(every) == list(BY_ID)
        assert inspect(case, Draw(9), backwards) == every
        assert inspect(case, Draw(9), ["spin"]) == {"spin": every["spin"]}
        assert perform("boots", case, Draw(9).child("boots")) == every["boots"]


def test_a_check_sees_what_is_true_and_never_what_was_done(cases: list[VehicleCase]) -> None:
    # With its faults, roots and story taken away, the same truth gives the same findings.
    for case in cases:
        innocent = sound_roots(case.vehicle.hydraulics.fluid_grade)
        blank = replace(
            case,
            seed=0,
            km=0.0,
            faults=(),
            sound_roots=innocent,
            roots=innocent,
            complaint="",
            difficulty="easy",
        )
        assert inspect(blank, Draw(3)) == inspect(case, Draw(3))


def test_every_check_errs_now_and_then() -> None:
    doubtful = [faulty(kind, severity) for kind in KINDS for severity in (0.0, 0.6)]
    for check in CHECKS:
        shown = (
            {perform(check.id, case, Draw(100 * place + seed)) for seed in range(60)}
            for place, case in enumerate(doubtful)
        )
        assert any(len(findings) > 1 for findings in shown), check.id


@pytest.mark.parametrize(("check", "kind"), WORSENING)
def test_a_worse_vehicle_never_shows_a_milder_finding_on_average(check: str, kind: str) -> None:
    rank = {finding.id: place for place, finding in enumerate(BY_ID[check].findings)}
    ill = [faulty(kind, severity) for severity in (0.0, 0.25, 0.5, 0.75, 1.0)]
    levels = [fmean(rank[perform(check, case, Draw(seed))] for seed in range(60)) for case in ill]
    assert levels == sorted(levels), levels
    sound = draw_vehicle(11, 0, vehicle=motor_pool()["meals_delivery_van"])
    good = fmean(rank[perform(check, sound, Draw(seed))] for seed in range(60))
    assert levels[-1] > good + 0.3


def test_the_worst_wheel_is_reported() -> None:
    # Wherever the fault is, the check finds it.
    vehicle = motor_pool()["library_van"]
    roots = draw_vehicle(2, 0, vehicle=vehicle).sound_roots
    case = draw_vehicle(2, 0, vehicle=vehicle)
    for wheel in ("front left", "front right", "rear left", "rear right"):
        acted = KINDS["seized_piston"](1.0, wheel).act(roots, vehicle, case.km)  # type: ignore[call-arg]
        ill = replace(case, roots=acted, condition=live(vehicle, acted, case.km))
        assert perform("spin", ill, Draw(1)) in ("drags", "drags_hard")
        assert perform("piston_push", ill, Draw(1)) == "hard"


# --- hands, eyes and gauges ---------------------------------------------------------------------------


def _many(get: Any, count: int = 3000) -> Iterator[Any]:
    draw = Draw(123)
    return (get(draw) for _ in range(count))


def test_a_hand_judges_with_the_spread_that_is_told() -> None:
    # The logarithm of a lognormal value is normal with that spread: textbook statistics.
    logs = [math.log(value) for value in _many(lambda draw: base.judged(40.0, 0.25, draw))]
    assert fmean(logs) == pytest.approx(math.log(40), abs=0.02)
    assert stdev(logs) == pytest.approx(0.25, rel=0.05)
    assert base.judged(0.0, 0.25, Draw(1)) == 0


def test_a_gauge_is_read_with_its_own_standard_uncertainty() -> None:
    rule = pedal_rule()
    readings = list(_many(lambda draw: base.read(rule, 60.3, draw)))
    assert fmean(readings) == pytest.approx(60.3, abs=0.1)
    nearest_line = 1 / math.sqrt(12)  # rounding adds the spread of one line, JCGM 100, 4.3.7
    expected = math.hypot(rule.standard_uncertainty_at(60.3), nearest_line)
    assert stdev(readings) == pytest.approx(expected, rel=0.06)
    assert all(value == round(value) for value in readings)
    assert base.read(rule, 10_000.0, Draw(1)) <= rule.scale.end


def test_what_is_there_is_sometimes_overlooked_and_what_is_not_is_seldom_seen() -> None:
    there = fmean(_many(lambda draw: base.noticed(True, draw)))
    not_there = fmean(_many(lambda draw: base.noticed(False, draw)))
    assert there == pytest.approx(1 - base.OVERLOOKED, abs=0.015)
    assert not_there == pytest.approx(base.IMAGINED, abs=0.008)


def test_on_a_limit_the_worse_band_counts() -> None:
    names = ("good", "fair", "bad")
    assert [base.band(value, (1.0, 2.0), names) for value in (0.9, 1.0, 2.0)] == ["good", "fair", "bad"]


# --- bad input ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "expected"),
    [
        (("spinn", 0, Draw(1)), "check must be one of drive_stop"),
        ((None, 0, Draw(1)), "check must be one of"),
        (("spin", "a van", Draw(1)), "case must be a VehicleCase"),
        (("spin", 0, 7), "draw must be a Draw"),
    ],
)
def test_what_cannot_be_checked_is_refused_in_one_sentence(arguments: tuple[Any, ...], expected: str) -> None:
    check, case, draw = arguments
    vehicle = draw_vehicle(1) if case == 0 else case
    with pytest.raises(ValueError, match=expected):
        perform(check, vehicle, draw)
    with pytest.raises(ValueError, match=expected):
        inspect(vehicle, draw, [check])
