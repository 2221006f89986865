"""Read the force picture, the bores and the road back as a person does: by the scale bars and numbers."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest
from brakecourse.bench import motor_pool
from brakecourse.views.drawings import bore_pair_svg, force_flow_svg, stopping_road_svg
from brakecourse.views.drawings.force_flow import STAGES
from brakecourse.views.drawings.stopping_road import Strip
from brakecourse.views.force_chain import Bores, follow
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.views.picture import corners, described, lines, number, part, parts, scale, segments, words

POOL = motor_pool()
ARROWS = ("foot", "lever", "booster")


def bar_value(svg: str, name: str) -> float:
    return float((part(svg, f"{name}-words").text or "").split()[0])


def bar_px(svg: str, name: str) -> float:
    x1, _, x2, _ = segments(part(svg, name))[0]
    return x2 - x1


def long(svg: str, name: str, across: bool = True) -> float:
    """Return the length of an arrow, from its tail to its tip; 0 when there is none."""
    drawn = parts(svg, name)
    if not drawn:
        return 0.0
    places = [corner[0 if across else 1] for corner in corners(drawn[0])]
    return max(places) - min(places)


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(sorted(POOL)), st.integers(10, 400))
def test_every_arrow_is_as_long_as_its_force(key: str, foot: int) -> None:
    chain = follow(POOL[key], foot)
    svg = force_flow_svg(POOL[key], chain, uid="f")
    rod = bar_px(svg, "rod-bar") / bar_value(svg, "rod-bar")
    for name, force in zip(ARROWS, (chain.foot_n, chain.lever_n, chain.booster_n), strict=True):
        assert long(svg, name) == pytest.approx(force * rod, abs=1.03), name
    wheel = bar_px(svg, "wheel-bar") / (1000 * bar_value(svg, "wheel-bar"))
    for one in (chain.front, chain.rear):
        assert long(svg, f"{one.axle}-clamp") == pytest.approx(one.clamp_n * wheel, abs=1.03)
        assert len(parts(svg, f"{one.axle}-clamp")) in (0, 2)
        assert long(svg, f"{one.axle}-road") == pytest.approx(one.road_n * wheel, abs=1.03)
        assert long(svg, f"{one.axle}-load", across=False) == pytest.approx(one.braking_n * wheel, abs=1.03)
    sweeps = [float(parts(svg, f"{axle}-torque")[0].get("data-sweep", 0)) for axle in ("front", "rear")
              if parts(svg, f"{axle}-torque")]  # fmt: skip
    if len(sweeps) == 2:
        assert sweeps[0] / sweeps[1] == pytest.approx(chain.front.torque_nm / chain.rear.torque_nm, rel=0.02)


@pytest.mark.parametrize("foot", [60, 250, 400])
def test_the_small_gauge_shows_the_pressure(foot: int) -> None:
    van = POOL["library_van"]
    svg = force_flow_svg(van, follow(van, foot), uid="f")
    needle = part(svg, "gauge-needle")
    x, y = number(needle, "x1"), number(needle, "y1")
    # The numerals stand round the middle: their directions are the scale.
    spots = {
        float(node.text or ""): math.degrees(math.atan2(number(node, "x") - x, y + 4 - number(node, "y")))
        for node in parts(svg, "gauge-number")
    }
    tip = math.degrees(math.atan2(number(needle, "x2") - x, y - number(needle, "y2")))
    assert scale(spots)(tip) == pytest.approx(follow(van, foot).line_mpa, abs=0.1)


@pytest.mark.parametrize("key", POOL)
def test_the_parts_keep_their_proportions(key: str) -> None:
    vehicle = POOL[key]
    svg = force_flow_svg(vehicle, follow(vehicle, 250), uid="f")
    bores = sorted({round(number(node, "height"), 1) for node in parts(svg, "caliper-bore")})
    master = number(part(svg, "master-bore"), "height")
    pistons = sorted({vehicle.rear.caliper.piston_bore_mm, vehicle.front.caliper.piston_bore_mm})
    ratios = [bore / master for bore in bores]
    assert ratios == pytest.approx([one / vehicle.hydraulics.master_bore_mm for one in pistons], rel=0.01)
    tyres, discs = ([number(node, "r") for node in parts(svg, name)] for name in ("tyre", "disc"))
    brakes = [vehicle.front, vehicle.rear]
    wanted = sorted(brake.rotor_outer_radius_mm / vehicle.tyre_radius_mm for brake in brakes)
    assert sorted(disc / tyre for disc, tyre in zip(discs, tyres, strict=True)) == pytest.approx(
        wanted, rel=0.01
    )
    # Pivot to pad over pivot to rod, from the drawing: the lever's own ratio.
    pivot, rod = part(svg, "pivot"), part(svg, "rod-pin")
    arm = math.hypot(number(rod, "cx") - number(pivot, "cx"), number(rod, "cy") - number(pivot, "cy"))
    assert 146 / arm == pytest.approx(vehicle.hydraulics.pedal_ratio, rel=0.01)


def test_another_bore_is_drawn_as_such() -> None:
    van = POOL["library_van"]
    bores = Bores(30.0, 50.0, 40.0)
    svg = force_flow_svg(van, follow(van, 250, bores), bores, uid="f")
    master = number(part(svg, "master-bore"), "height")
    assert sorted({number(node, "height") / master for node in parts(svg, "caliper-bore")}) == pytest.approx(
        [40 / 30, 50 / 30], rel=0.01
    )


@pytest.mark.parametrize("nth", range(len(STAGES) - 1))
def test_what_is_still_to_find_is_neither_drawn_nor_said(nth: int) -> None:
    estate = POOL["dog_wardens_estate"]
    chain = follow(estate, 250)
    values = [
        (f"{chain.line_mpa:.2f}",),
        (f"{chain.front.clamp_n:.0f}", f"{chain.rear.clamp_n:.0f}"),
        (f"{chain.front.torque_nm:.0f}", f"{chain.rear.torque_nm:.0f}"),
        (f"{chain.front.road_n:.0f}", f"{chain.slowing_ms2:.2f}", f"{chain.front.braking_n:.0f}"),
    ]
    svg = force_flow_svg(estate, chain, upto=STAGES[nth], uid="f")
    text = words(svg)
    assert all(value in text for row in values[:nth] for value in row)
    assert not any(value in text for row in values[nth:] for value in row)
    arrows = ["gauge-needle", "front-clamp", "front-torque", "front-road"]
    assert [bool(parts(svg, name)) for name in arrows] == [place < nth for place in range(4)]
    assert not parts(svg, "slowing") and "question mark" in described(svg)


def test_a_part_of_the_picture_says_that_it_is_one() -> None:
    van = POOL["library_van"]
    heights = []
    for which, told in (
        ("whole", ""),
        ("upper", "ends at the calipers"),
        ("lower", "begins at the calipers"),
    ):
        svg = force_flow_svg(van, follow(van, 250), part=which, uid="f")  # type: ignore[arg-type]
        assert told in described(svg)
        heights.append(int((ET.fromstring(svg).get("viewBox") or "").split()[3]))
    assert heights[0] > max(heights[1:])


@pytest.mark.parametrize("wrong", [{"upto": "wheels"}, {"part": "left"}, {"uid": "2"}])
def test_an_unknown_stage_or_part_is_refused(wrong: dict[str, str]) -> None:
    van = POOL["library_van"]
    with pytest.raises(ValueError, match=r"\.$"):
        force_flow_svg(van, follow(van, 250), **{"uid": "f", **wrong})  # type: ignore[arg-type]


# ------------------------------------------------------------------ the road


@settings(max_examples=40, deadline=None)
@given(st.floats(0, 120), st.floats(0.5, 400), st.floats(5, 400))
def test_the_road_tells_both_ways_and_the_obstacle(reaction: float, braking: float, gap: float) -> None:
    svg = stopping_road_svg([Strip("one", reaction, braking), Strip("two", 0, 3)], gap_m=gap, uid="s")
    metres = scale({float(node.text or ""): number(node, "x") for node in parts(svg, "metres")})
    first = parts(svg, "braking")[0]
    begin, end = number(first, "x"), number(first, "x") + number(first, "width")
    whole = max(reaction + braking, gap, 30)
    assert metres(begin) == pytest.approx(reaction, abs=0.005 * whole)
    assert metres(end) == pytest.approx(reaction + braking, abs=0.005 * whole)
    assert metres(number(part(svg, "obstacle"), "x1")) == pytest.approx(gap, abs=0.005 * whole)
    assert f"{reaction + braking:.1f} m" in words(svg)


def test_a_way_that_is_asked_for_is_not_told() -> None:
    svg = stopping_road_svg([Strip("how long?", 17.3, 41.9, told=False)], scaled=False, uid="s")
    assert not re.search(r"17\.3|41\.9|59\.2", words(svg))
    assert "not to scale" in words(svg) and not parts(svg, "metres")


@pytest.mark.parametrize(
    "strips", [[], [Strip("a", 1, 1)] * 4, [Strip("a", -1, 1)], [Strip("a", 0, math.nan)]]
)
def test_a_road_that_cannot_be_drawn_is_refused(strips: list[Strip]) -> None:
    with pytest.raises(ValueError, match=r"\.$"):
        stopping_road_svg(strips, uid="s")


# ------------------------------------------------------------------ bores


@given(st.floats(10, 80), st.floats(10, 80))
def test_both_bores_can_be_measured_with_the_ruler(old: float, new: float) -> None:
    svg = bore_pair_svg(old, new, what="piston", uid="b")
    x1, _, x2, _ = lines(svg, "bar")[0]
    per_mm = (x2 - x1) / 20
    assert 2 * number(part(svg, "old"), "r") / per_mm == pytest.approx(old, abs=0.02)
    assert 2 * number(part(svg, "new"), "r") / per_mm == pytest.approx(new, abs=0.02)
    assert 2 * number(part(svg, "old-in-new"), "r") / per_mm == pytest.approx(old, abs=0.02)


@pytest.mark.parametrize("bore", [0, 9.9, 80.1, math.inf, "24", True])
def test_a_bore_that_no_part_has_is_refused(bore: object) -> None:
    with pytest.raises(ValueError, match=r"^The bore in mm must be .*\.$"):
        bore_pair_svg(24, bore, what="piston", uid="b")  # type: ignore[arg-type]
