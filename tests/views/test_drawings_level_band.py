"""Read the band of verdicts as a person does: numbers below the bar, zones by their edges, the diamond."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from brakecourse.trade.fluid import WheelWear, explain_level
from brakecourse.views.drawings import level_band_svg
from hypothesis import given
from hypothesis import strategies as st

from tests.views.picture import NS, corners, described, number, part, parts, scale

ZONES = ("fluid was added", "wear explains it", "too close to call", "suspect a leak")


def draw(expected: float, missing: float, guard: float) -> str:
    return level_band_svg(expected, missing, guard, uid="b")


def reader(svg: str):  # type: ignore[no-untyped-def]
    """Return what reads a volume off a place, from the numbers under the bar."""
    texts = [node for node in ET.fromstring(svg).iter(f"{NS}text")]
    told = {}
    for node in texts:
        words = (node.text or "").replace("\N{MINUS SIGN}", "-")
        if words.lstrip("-").isdigit():
            told[float(words)] = number(node, "x")
    assert len(told) >= 3
    return scale(told)


def zone_of(svg: str, x: float) -> str:
    for word in ZONES:
        for box in parts(svg, f"zone-{word.replace(' ', '-')}"):
            if number(box, "x") - 0.01 <= x <= number(box, "x") + number(box, "width") + 0.01:
                return word
    raise AssertionError("between the zones")


def diamond(svg: str) -> float:
    return sum(x for x, _ in corners(part(svg, "missing"))) / 4


@given(st.floats(20, 400), st.floats(-25, 35), st.floats(2, 18))
def test_the_diamond_stands_in_the_zone_of_the_verdict(expected: float, gap: float, guard: float) -> None:
    edges = (-guard, min(10 - guard, guard), guard)
    if min(abs(gap - edge) for edge in edges) < 0.2:
        return  # too near an edge for a ruler
    svg = draw(expected, expected + gap, guard)
    # One wheel whose wear asks for just that volume; the guard band is 1.645 standard uncertainties.
    wheel = WheelWear(54.0, 1, expected * 1000 / (math.pi / 4 * 54.0**2) / 2)
    verdict = explain_level(expected + gap, [wheel], guard / 1.6448536).verdict
    assert zone_of(svg, diamond(svg)) == verdict
    assert described(svg).endswith(f"zone {verdict}.")


@pytest.mark.parametrize("guard", [3.5, 5.7, 9.1, 15.4])
def test_each_zone_ends_where_its_verdict_does(guard: float) -> None:
    wheel = WheelWear(54.0, 1, 80.0 * 1000 / (math.pi / 4 * 54.0**2) / 2)
    for edge in (-guard, min(10 - guard, guard), guard):
        for gap in (edge - 0.2, edge + 0.2):
            svg = draw(80.0, 80.0 + gap, guard)
            verdict = explain_level(80.0 + gap, [wheel], guard / 1.6448536).verdict
            assert zone_of(svg, diamond(svg)) == verdict, gap


@given(st.floats(20, 400), st.floats(-15, 20), st.floats(2, 18))
def test_numbers_wear_and_missing_agree(expected: float, gap: float, guard: float) -> None:
    svg = draw(expected, expected + gap, guard)
    read = reader(svg)
    assert read(number(part(svg, "expected"), "x1")) == pytest.approx(expected, abs=0.15)
    if "farther off" not in "".join(ET.fromstring(svg).itertext()):
        assert read(diamond(svg)) == pytest.approx(expected + gap, abs=0.15)


@given(st.floats(20, 400), st.floats(2, 18))
def test_the_zones_touch_in_order(expected: float, guard: float) -> None:
    svg = draw(expected, expected, guard)
    boxes = [box for word in ZONES for box in parts(svg, f"zone-{word.replace(' ', '-')}")]
    for one, following in pairwise(boxes):
        right = number(one, "x") + number(one, "width")
        assert right == pytest.approx(number(following, "x"), abs=0.03)


def test_a_narrow_guard_band_leaves_no_zone_too_close() -> None:
    assert not parts(draw(30, 30, 4), "zone-too-close-to-call")
    assert parts(draw(30, 30, 6), "zone-too-close-to-call")


def test_what_lies_farther_off_stands_at_the_end_and_says_so() -> None:
    svg = draw(30, 130, 3.5)
    assert "farther off than drawn" in "".join(ET.fromstring(svg).itertext())
    assert not parts(svg, "band") and zone_of(svg, diamond(svg)) == "suspect a leak"


@pytest.mark.parametrize(
    ("given_", "told"),
    [
        ((-1, 0, 5), "expected volume in mL must be from 0"),
        ((10, math.nan, 5), "missing volume in mL must be a finite number"),
        ((10, "12", 5), "missing volume in mL must be a finite number"),
        ((10, 12, 0), "guard band in mL must be from 0.1"),
    ],
)
def test_a_band_that_cannot_be_is_refused(given_: tuple[float, float, float], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        draw(*given_)
