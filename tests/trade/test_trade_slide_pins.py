"""Slide pins: room for grease, the pin that stops short, and what dragging pins do to the pads."""

from __future__ import annotations

import math

import pytest
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

BORE = (10.5, 60.0, 10.0, 50.0)


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
    assert seated_gap_mm(whole * (1 - 1e-12), *BORE) == pytest.approx(50.0)


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
