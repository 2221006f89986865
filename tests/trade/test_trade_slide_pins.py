"""Slide pins: room for grease, the pin that stops short, and what dragging pins do to the pads."""

from __future__ import annotations

import math
from typing import Any

import pytest
from brakecourse.trade import slide_pins as MODULE
from brakecourse.trade.slide_pins import (
    AIR_SHARE,
    free_volume_ml,
    grease_limit_ml,
    pad_force_split_n,
    seated_gap_mm,
    wear_ratio,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trade.refusals import NO_VALUES, check_text, refused, takes_values

BORE: dict[str, Any] = {"bore_mm": 10.5, "depth_mm": 60.0, "pin_mm": 10.0, "seated_length_mm": 50.0}
GOOD: dict[str, dict[str, Any]] = {
    "free_volume_ml": BORE,
    "grease_limit_ml": BORE,
    "seated_gap_mm": {"grease_ml": 2.0, **BORE},
    "pad_force_split_n": {"clamp_force_n": 8000.0, "drag_n": 2000.0},
    "wear_ratio": {"clamp_force_n": 8000.0, "drag_n": 2000.0},
}
CASES = [pytest.param(name, argument, id=f"{name}-{argument}") for name in GOOD for argument in GOOD[name]]


def refusal(name: str, **changed: Any) -> str:
    return refused(getattr(MODULE, name), {**GOOD[name], **changed})


@pytest.mark.parametrize(("name", "argument"), CASES)
def test_what_is_no_quantity_is_refused_in_one_sentence(name: str, argument: str) -> None:
    for bad in NO_VALUES:
        refusal(name, **{argument: bad})


def test_no_public_function_or_record_escapes_the_table_above() -> None:
    assert takes_values(MODULE) == set(GOOD)
    for name in GOOD:
        getattr(MODULE, name)(**GOOD[name])


@pytest.mark.parametrize("name", [name for name in GOOD if name.islower()])
def test_a_function_tells_what_it_does_and_where_it_comes_from(name: str) -> None:
    check_text(getattr(MODULE, name), GOOD[name])


@pytest.mark.parametrize(
    ("name", "changed", "word"),
    [
        ("free_volume_ml", {"bore_mm": 0}, "diameter of the bore"),
        ("free_volume_ml", {"pin_mm": -10}, "diameter of the pin"),
        ("free_volume_ml", {"pin_mm": 10.5}, "give diameters for both"),
        ("free_volume_ml", {"depth_mm": 0}, "depth of the bore"),
        ("free_volume_ml", {"seated_length_mm": 60.1}, "bore's depth of 60"),
        ("grease_limit_ml", {"seated_length_mm": 0}, "seated length"),
        ("seated_gap_mm", {"grease_ml": -0.1}, "grease in mL"),
        ("seated_gap_mm", {"grease_ml": 5.3}, "that the bore holds"),
        ("pad_force_split_n", {"clamp_force_n": -1}, "clamp force"),
        ("pad_force_split_n", {"drag_n": -1}, "drag of the pins"),
        ("wear_ratio", {"clamp_force_n": 0}, "clamp force"),
        ("wear_ratio", {"drag_n": 8000}, "drag of the pins"),
    ],
)
def test_a_quantity_out_of_its_range_is_refused_by_name(
    name: str, changed: dict[str, Any], word: str
) -> None:
    assert word in refusal(name, **changed)


@st.composite
def bores(draw: st.DrawFn) -> tuple[float, float, float, float]:
    bore, depth = draw(st.floats(8, 20)), draw(st.floats(30, 120))
    return bore, depth, bore * draw(st.floats(0.7, 0.99)), depth * draw(st.floats(0.2, 1.0))


@settings(max_examples=50)
@given(bores(), st.floats(0, 1))
def test_the_allowed_grease_never_holds_the_pin_off(
    bore: tuple[float, float, float, float], share: float
) -> None:
    limit = grease_limit_ml(*bore)
    assert limit == pytest.approx((1 - AIR_SHARE) * free_volume_ml(*bore))
    assert 0 < limit < free_volume_ml(*bore)
    assert seated_gap_mm(share * limit, *bore) == 0.0


@settings(max_examples=50)
@given(bores(), st.floats(0, 1), st.floats(0, 1))
def test_more_grease_never_lets_the_pin_further_in(
    bore: tuple[float, float, float, float], one: float, other: float
) -> None:
    holds = math.pi / 4 * bore[0] ** 2 * bore[1] / 1000 * (1 - 1e-9)
    little = seated_gap_mm(min(one, other) * holds, *bore)
    much = seated_gap_mm(max(one, other) * holds, *bore)
    assert 0 <= little <= much <= bore[3]


@settings(max_examples=30)
@given(bores(), st.floats(0.5, 3))
def test_a_larger_copy_has_the_volume_of_its_cube(
    bore: tuple[float, float, float, float], scale: float
) -> None:
    copy = tuple(scale * length for length in bore)
    assert free_volume_ml(*copy) == pytest.approx(scale**3 * free_volume_ml(*bore))
    grease = 0.9 * math.pi / 4 * bore[0] ** 2 * bore[1] / 1000
    assert seated_gap_mm(scale**3 * grease, *copy) == pytest.approx(
        scale * seated_gap_mm(grease, *bore), abs=1e-9
    )


def test_a_bore_packed_full_lets_the_pin_in_not_at_all() -> None:
    whole = math.pi / 4 * 10.5**2 * 60 / 1000
    assert seated_gap_mm(whole * (1 - 1e-12), *BORE.values()) == pytest.approx(50.0)


@settings(max_examples=50)
@given(st.floats(1, 50_000), st.floats(0, 60_000))
def test_the_outer_pad_never_gets_more_than_the_inner_one(clamp: float, drag: float) -> None:
    inner, outer = pad_force_split_n(clamp, drag)
    assert inner == clamp
    assert 0 <= outer <= inner
    assert (outer == 0) == (drag >= clamp)
    assert pad_force_split_n(clamp, drag + 1).outer_n <= outer


@settings(max_examples=50)
@given(st.floats(1, 50_000), st.floats(0, 0.99), st.floats(0.1, 10))
def test_the_wear_ratio_hangs_on_the_share_of_drag_only(clamp: float, share: float, scale: float) -> None:
    ratio = wear_ratio(clamp, share * clamp)
    assert ratio == pytest.approx(1 / (1 - share))
    assert wear_ratio(scale * clamp, scale * share * clamp) == pytest.approx(ratio)


def test_free_pins_wear_both_pads_alike() -> None:
    assert pad_force_split_n(8000, 0) == (8000.0, 8000.0)
    assert wear_ratio(8000, 0) == 1.0
