"""Where the anvils stand on the rotor cut through. Where to measure: common practice, no source."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET

import pytest
from brakecourse.views.drawings import rotor_section_svg
from hypothesis import given
from hypothesis import strategies as st

depths = st.integers(0, 300).map(lambda n: n / 100)
PX_PER_MM = 14.0


def parts(svg: str, name: str) -> list[ET.Element]:
    return [node for node in ET.fromstring(svg).iter() if node.get("data-part") == name]


def gap(svg: str) -> tuple[float, float, float, float]:
    """Return the two faces of the anvils, and the top and bottom of them."""
    left, right = sorted(parts(svg, "anvil"), key=lambda node: float(node.get("x", "")))
    top = float(left.get("y", ""))
    left_face = float(left.get("x", "")) + float(left.get("width", ""))
    return left_face, float(right.get("x", "")), top, top + float(left.get("height", ""))


def corners(node: ET.Element) -> list[tuple[float, float]]:
    return [tuple(map(float, pair.split(","))) for pair in node.get("points", "").split()]  # type: ignore[misc]


@given(depths, depths, depths)
def test_mid_track_the_anvils_rest_on_the_crests_of_the_worn_face(
    ridge: float, groove: float, worn: float
) -> None:
    svg = rotor_section_svg(uid="s", ridge_mm=ridge, groove_mm=groove, worn_mm=worn)
    left, right, top, bottom = gap(svg)
    assert (200 - (right - left)) / PX_PER_MM == pytest.approx(2 * worn, abs=0.003)
    metal = [x for x, y in corners(parts(svg, "section")[0]) if top < y < bottom]
    if metal:
        assert max(metal) <= right + 0.011
        assert min(metal) >= left - 0.011
        assert max(metal) == pytest.approx(right, abs=0.02)
        middle = [x for x, y in corners(parts(svg, "section")[0]) if y == pytest.approx((top + bottom) / 2)]
        assert sorted(middle) == pytest.approx([left, right], abs=0.02)
    # In from the edge: the ridge lies wholly above the anvils.
    assert all(y < top for node in parts(svg, "rust") for _, y in corners(node))


@given(depths, depths, depths)
def test_on_the_ridge_the_anvils_stand_apart_by_the_rust(ridge: float, groove: float, worn: float) -> None:
    svg = rotor_section_svg(uid="s", ridge_mm=ridge, groove_mm=groove, worn_mm=worn, anvils="ridge")
    left, right, top, bottom = gap(svg)
    assert ((right - left) - 200) / PX_PER_MM == pytest.approx(2 * ridge, abs=0.003)
    rust = [corner for node in parts(svg, "rust") for corner in corners(node)]
    assert bool(rust) == (ridge > 0)
    # At the edge: the anvils stand as high as the strip that no pad reaches, rust or no rust.
    assert top < 58 + 16 < bottom
    if rust:
        heights = [y for _, y in rust]
        assert top < sum(heights) / len(heights) < bottom
        across = [x for x, _ in rust]
        assert (min(across), max(across)) == pytest.approx((left, right), abs=0.02)


@given(depths, depths.filter(bool), depths)
def test_grooves_are_as_deep_as_asked_for(ridge: float, groove: float, worn: float) -> None:
    (section,) = parts(rotor_section_svg(uid="s", ridge_mm=ridge, groove_mm=groove, worn_mm=worn), "section")
    deepest = min(x for x, y in corners(section) if x > 212 and 100 < y < 340)
    assert (100 - (deepest - 212)) / PX_PER_MM == pytest.approx(worn + groove, abs=0.005)


def test_the_words_say_which_place_is_right() -> None:
    shared = {"uid": "s", "ridge_mm": 0.3, "groove_mm": 0.0, "worn_mm": 1.0}
    right, wrong = rotor_section_svg(**shared), rotor_section_svg(**shared, anvils="ridge")  # type: ignore[arg-type]
    assert "right place" in right
    assert "wrong place" not in right
    assert "wrong place" in wrong
    assert "right place" not in wrong


def test_what_is_not_there_is_not_named() -> None:
    smooth = rotor_section_svg(uid="s", ridge_mm=0, groove_mm=0, worn_mm=1)
    assert "rust ridge" not in smooth
    assert "groove" not in smooth.lower()


@pytest.mark.parametrize("name", ["ridge_mm", "groove_mm", "worn_mm"])
@pytest.mark.parametrize("depth", [-0.1, 3.1, math.nan, "1", True, None])
def test_a_depth_out_of_range_is_refused(name: str, depth: object) -> None:
    asked: dict[str, object] = {"ridge_mm": 0.1, "groove_mm": 0.1, "worn_mm": 0.1, name: depth}
    with pytest.raises(ValueError, match=r"^The .* in mm must be .*\.$"):
        rotor_section_svg(uid="s", **asked)  # type: ignore[arg-type]


@pytest.mark.parametrize("anvils", ["edge", "", None, 1])
def test_another_place_for_the_anvils_is_refused(anvils: object) -> None:
    with pytest.raises(ValueError, match=r"^The anvils must be at .*\.$"):
        rotor_section_svg(uid="s", ridge_mm=0.1, groove_mm=0.1, worn_mm=0.1, anvils=anvils)  # type: ignore[arg-type]
