"""Measure the cut caliper with a ruler, as a person does: the piston's way follows from the pads.

How a caliper works: common practice, no source. The reader knows nothing of how places are computed.
"""

from __future__ import annotations

import math

import pytest
from brakecourse.views.drawings import CaliperCut, caliper_follow_svg
from hypothesis import given
from hypothesis import strategies as st

from tests.views.picture import corners, described, number, numbers, part, parts

TANK = {"level_mm": 20, "min_mm": 9, "max_mm": 36, "height_mm": 50, "uid": "c"}


def draw(kind: str = "floating", wear: float = 0.0, rotor: float = 0.0, **more: object) -> str:
    cut = CaliperCut(kind, 57, 46, 24, 12, wear, rotor)  # type: ignore[arg-type]
    return caliper_follow_svg(cut, **{**TANK, **more})  # type: ignore[arg-type]


def px_per_mm(svg: str) -> float:
    return number(part(svg, "fluid"), "height") / 57  # the bore


def way(svg: str) -> float:
    """Return how far the piston's rear stands from the bore's bottom, in mm."""
    piston, bore = part(svg, "piston"), part(svg, "fluid")
    return (number(piston, "x") - number(bore, "x")) / px_per_mm(svg)


def wide(svg: str, name: str) -> float:
    return number(part(svg, name), "width") / px_per_mm(svg)


@given(
    st.sampled_from(["floating", "fixed"]),
    st.integers(0, 110).map(lambda n: n / 10),
    st.integers(0, 20).map(lambda n: n / 10),
)
def test_the_piston_comes_out_by_what_pads_and_rotor_have_lost(kind: str, wear: float, rotor: float) -> None:
    moved = way(draw(kind, wear, rotor)) - way(draw(kind))
    expected = 2 * wear + rotor if kind == "floating" else wear + rotor / 2
    assert moved == pytest.approx(expected, abs=0.03)


@given(st.integers(0, 110).map(lambda n: n / 10))
def test_everything_is_at_true_proportion(wear: float) -> None:
    svg = draw(wear=wear)
    assert wide(svg, "inner-lining") == pytest.approx(12 - wear, abs=0.02)
    assert wide(svg, "outer-lining") == pytest.approx(12 - wear, abs=0.02)
    assert wide(svg, "rotor") == pytest.approx(24, abs=0.02)
    assert number(part(svg, "inner-lining"), "height") / px_per_mm(svg) == pytest.approx(46, abs=0.05)


@given(st.integers(0, 110).map(lambda n: n / 10), st.sampled_from(["floating", "fixed"]))
def test_pads_touch_the_rotor_and_the_piston_touches_its_pad(wear: float, kind: str) -> None:
    svg = draw(kind, wear)

    def ends(name: str) -> tuple[float, float]:
        node = part(svg, name)
        return number(node, "x"), number(node, "x") + number(node, "width")

    assert ends("piston")[1] == pytest.approx(ends("inner-plate")[0], abs=0.03)
    assert ends("inner-plate")[1] == pytest.approx(ends("inner-lining")[0], abs=0.03)
    assert ends("inner-lining")[1] == pytest.approx(ends("rotor")[0], abs=0.03)
    assert ends("outer-lining")[0] == pytest.approx(ends("rotor")[1], abs=0.03)


def test_the_body_of_a_floating_caliper_slides_and_of_a_fixed_one_stays() -> None:
    def left(svg: str) -> float:
        return min(x for x, _ in corners(part(svg, "body")))

    new, worn = draw(), draw(wear=6, rotor=0.4)
    assert left(new) - left(worn) == pytest.approx(6.2 * px_per_mm(new), abs=0.05)
    assert left(draw("fixed")) == left(draw("fixed", wear=6, rotor=0.4))


def test_the_fluid_that_followed_is_as_wide_as_the_pistons_way() -> None:
    svg = draw(wear=5, rotor=0.4)
    assert wide(svg, "followed") == pytest.approx(10.4, abs=0.02)
    assert not parts(draw(), "followed") and not parts(draw(), "came-out")


@pytest.mark.parametrize("level", [4.0, 20.0, 36.0, 45.0])
def test_the_tanks_level_stands_between_its_marks_as_it_should(level: float) -> None:
    svg = draw(wear=3, level_mm=level)
    low, high = (number(part(svg, f"mark-{word}"), "y1") for word in ("MIN", "MAX"))
    share = (low - number(part(svg, "level"), "y1")) / (low - high)
    assert 9 + 27 * share == pytest.approx(level, abs=0.05)


def test_the_description_tells_what_is_seen_and_no_length() -> None:
    for kind in ("floating", "fixed"):
        for wear in (0.0, 5.3):
            svg = draw(kind, wear)
            assert described(svg).startswith(f"A {kind} caliper")
            assert ("worn" in described(svg)) is bool(wear)
            assert not numbers(svg)


@pytest.mark.parametrize(
    ("kind", "bore", "lining", "wear"),
    [("floating", 64, 17, 13), ("floating", 32, 9, 7), ("fixed", 38, 12.5, 9.5), ("floating", 45, 12, 0)],
)
def test_it_fits_its_paper(kind: str, bore: float, lining: float, wear: float) -> None:
    cut = CaliperCut(kind, bore, 50, 40, lining, wear)  # type: ignore[arg-type]
    svg = caliper_follow_svg(cut, **TANK)  # type: ignore[arg-type]
    for x, y in corners(part(svg, "body")):
        assert 60 <= x <= 632 and 170 <= y <= 470


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"kind": "sliding"}, "must be 'floating' or 'fixed'"),
        ({"bore_mm": 5}, "bore in mm must be from 20 to 80"),
        ({"wear_mm": 13}, "wear of one pad in mm must be from 0 to 12"),
        ({"wear_mm": math.nan}, "wear of one pad in mm must be a finite number"),
        ({"rotor_new_mm": True}, "thickness of the rotor in mm must be a finite number"),
    ],
)
def test_a_caliper_that_cannot_be_is_refused(wrong: dict[str, object], told: str) -> None:
    facts: dict[str, object] = {
        "kind": "floating",
        "bore_mm": 57,
        "pad_height_mm": 46,
        "rotor_new_mm": 24,
        "lining_new_mm": 12,
        **wrong,
    }
    with pytest.raises(ValueError, match=told):
        CaliperCut(**facts)  # type: ignore[arg-type]


def test_what_is_no_caliper_and_a_level_out_of_the_tank_are_refused() -> None:
    with pytest.raises(ValueError, match="must be a CaliperCut"):
        caliper_follow_svg("caliper", **TANK)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="fluid level in mm must be from 0 to 50"):
        draw(level_mm=51)
