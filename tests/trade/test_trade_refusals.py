"""Every public function and record of the trade refuses what cannot be right, in one sentence."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from brakecourse.trade import conformity, rotor

from tests.trade.good_calls import GOOD_CALLS, RESULTS
from tests.trade.refusals import call, parameters, positive, public_members, refused, shown

MEMBERS = public_members()
KNOWN = sorted(GOOD_CALLS.keys() & MEMBERS.keys())
CASES = [
    pytest.param(name, argument, id=f"{name}-{argument}") for name in KNOWN for argument in GOOD_CALLS[name]
]


def test_every_public_function_and_record_has_a_good_call() -> None:
    takes_values = {name for name, member in MEMBERS.items() if parameters(member)} - RESULTS
    assert takes_values == set(GOOD_CALLS), "write its good call into tests/trade/good_calls.py"
    assert set(MEMBERS) >= RESULTS
    assert len(MEMBERS) > 80  # the walk found the trade


@pytest.mark.parametrize("name", KNOWN)
def test_the_good_call_tells_every_argument_and_works(name: str) -> None:
    assert set(GOOD_CALLS[name]) == set(parameters(MEMBERS[name]))
    call(MEMBERS[name], GOOD_CALLS[name])


@pytest.mark.parametrize(("name", "argument"), CASES)
def test_a_bad_argument_is_refused_in_one_sentence(name: str, argument: str) -> None:
    one = GOOD_CALLS[name][argument]
    assert len(one.bad) >= 7
    for bad in one.bad:
        sentence = refused(MEMBERS[name], GOOD_CALLS[name], **{argument: bad})
        assert one.words in sentence, (bad, sentence)
        assert any(form in sentence for form in shown(bad)), (bad, sentence)


def test_the_check_of_a_refusal_can_fail() -> None:
    arguments = {"x": positive(1.0, "x in mm")}
    with pytest.raises(pytest.fail.Exception, match="took"):
        refused(lambda x: x, arguments, x=-1)
    with pytest.raises(AssertionError):
        refused(lambda x: math.sqrt(x), arguments, x=-1)  # "math domain error" tells nobody anything


# --- refusals of one function -------------------------------------------------------------------------------


def test_the_refusal_tells_the_place_of_a_bad_reading() -> None:
    with pytest.raises(
        ValueError, match=r"thickness reading in mm, place 2, must be above 0, but it was -24\.1\."
    ):
        rotor.smallest_mm([24.0, -24.1, 24.2])
    with pytest.raises(
        ValueError, match=r"dial reading in mm, place 3, must be a number, but it was '0\.02'\."
    ):
        rotor.run_out_mm([0.0, 0.01, "0.02"])  # type: ignore[list-item]


def test_a_long_argument_is_shown_short() -> None:
    with pytest.raises(ValueError, match=r"\.\.\.") as caught:
        conformity.rectangular("x" * 100_000)  # type: ignore[arg-type]
    assert len(str(caught.value)) < 200


def test_contributions_that_are_missing_or_all_zero_are_refused() -> None:
    with pytest.raises(ValueError, match="at least one number, but none was given"):
        conformity.combine()
    with pytest.raises(ValueError, match="one above 0, but all were 0"):
        conformity.effective_degrees_of_freedom([0.0, 0.0], [4, 9])


@pytest.mark.parametrize(
    "thicknesses",
    [(22.6, 24.0, 22.0), (24.0, 22.0, 22.6), (24.0, 24.0, 22.0), (24.0, 22.6, 22.6), (22.0, 22.6, 24.0)],
)
def test_a_specification_in_the_wrong_order_is_refused(thicknesses: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="must fall from new over machine-to to discard"):
        rotor.RotorSpec(*thicknesses, max_variation_mm=0.03, max_run_out_mm=0.1)


@pytest.mark.parametrize(
    ("name", "changed", "words"),
    [
        ("fasteners.wrench_setting_nm", {"angle_deg": 181}, "from -180 to 180"),
        ("fasteners.wrench_setting_nm", {"extension_mm": 400, "angle_deg": 180}, "folded back"),
        ("fasteners.tensile_stress_area_mm2", {"pitch_mm": 6.1}, "at most half the diameter"),
        ("fasteners.tightening_order", {"studs": 11}, "must be a whole number from 3 to 10"),
        ("fluid.wear_volume_ml", {"pistons": 3, "caliper": "fixed"}, "must be even in a fixed caliper"),
        ("hub_fit.stack_run_out_mm", {"index": 5}, "must be a whole number from 0 to 4"),
        ("hydraulics.axle_loads_n", {"cg_height_mm": 2000}, "small enough that the rear wheels"),
        ("pads.wear_rate_mm_per_1000km", {"now_mm": 11.0}, "without wear there is no rate"),
        ("slide_pins.free_volume_ml", {"pin_mm": 10.5}, "give diameters for both"),
        ("slide_pins.free_volume_ml", {"seated_length_mm": 60.1}, "at most the bore's depth of 60"),
        ("slide_pins.seated_gap_mm", {"grease_ml": 5.3}, "at most the 5.2 that the bore holds"),
    ],
)
def test_a_refusal_tells_the_range_and_what_to_do(name: str, changed: dict[str, Any], words: str) -> None:
    assert words in refused(MEMBERS[name], GOOD_CALLS[name], **changed)


# --- what is no number to the eye but is one ----------------------------------------------------------------


@pytest.mark.parametrize(
    "make", [np.array, tuple, list, lambda row: np.array(row, dtype=np.float32).astype(float)]
)
def test_arrays_and_tuples_are_rows_of_readings_too(make: Any) -> None:
    assert rotor.smallest_mm(make([23.5, 23.25, 23.75])) == 23.25
    assert rotor.thickness_variation_mm(make([23.5, 23.25, 23.75])) == 0.5
    assert rotor.run_out_mm(make([0.5, -0.25, 0.0])) == 0.75
    assert isinstance(rotor.run_out_mm(make([0.5, -0.25, 0.0])), float)
    assert conformity.type_a(make([23.5, 23.5])) == (23.5, 0.0)


@pytest.mark.parametrize("make", [int, Fraction, np.int64, np.float32, np.float64])
def test_whole_numbers_fractions_and_numpy_numbers_are_numbers(make: Any) -> None:
    decision = conformity.decide(make(24), make(22), "minimum", make(1))
    assert decision == conformity.decide(24.0, 22.0, "minimum", 1.0)
    assert all(type(part) is float for part in (decision.margin, decision.guard_band))
