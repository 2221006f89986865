"""Read the depth gauge, and measure the lining on the picture itself.

That the lining alone counts, from its face to the backing plate: common practice, no source.
"""

from __future__ import annotations

import math

import pytest
from brakecourse.views.drawings import depth_gauge_svg
from hypothesis import example, given
from hypothesis import strategies as st

from tests.views.picture import heard, number, numbers, part, parts, round_scale, tip_deg, values_of_lines


@given(st.integers(0, 15000).map(lambda n: n / 1000))
@example(6.297)
@example(6.303)
@example(0.0)
@example(15.0)
def test_the_needle_tells_the_lining(reading: float) -> None:
    svg = depth_gauge_svg(reading, uid="q")
    assert round_scale(svg, "mm")(tip_deg(svg)) == pytest.approx(reading, abs=0.02)
    assert heard(svg, 0.1, "The needle stands") == pytest.approx(reading, abs=0.051)


@pytest.mark.parametrize("full", [5, 12.5, 15, 20])
def test_lines_are_tenths_of_a_millimetre(full: float) -> None:
    svg = depth_gauge_svg(0, full_mm=full, uid="q")
    wanted = [n / 10 for n in range(round(full * 10) + 1)]
    assert values_of_lines(svg, "mm") == pytest.approx(wanted, abs=0.02)


@pytest.mark.parametrize("reading", [0.5, 3.0, 7.5, 12.0])
def test_the_pin_reaches_from_the_linings_face_to_the_plate(reading: float) -> None:
    def bottom(node: object) -> float:
        return number(node, "y") + number(node, "height")  # type: ignore[arg-type]

    svg, twice = depth_gauge_svg(reading, uid="q"), depth_gauge_svg(reading / 2, uid="q")
    lining, plate, foot, pin = (part(svg, name) for name in ("lining", "plate", "foot", "pin"))
    assert bottom(foot) == pytest.approx(number(lining, "y"))
    assert bottom(lining) == pytest.approx(number(plate, "y"), abs=0.02)
    assert bottom(pin) == pytest.approx(number(plate, "y"), abs=0.02)
    # The lining lies beside the pin, not under it, and the foot stands on it.
    assert number(pin, "x") + number(pin, "width") < number(lining, "x")
    assert number(foot, "x") + number(foot, "width") > number(lining, "x") + 80
    half = number(part(twice, "lining"), "height")
    assert number(lining, "height") == pytest.approx(2 * half, abs=0.03)


@pytest.mark.parametrize("full", [5, 15, 20])
def test_the_thickest_lining_has_room_on_the_picture(full: float) -> None:
    svg = depth_gauge_svg(full, full_mm=full, uid="q")
    height = int(svg.partition('viewBox="0 0 400 ')[2].partition('"')[0])
    plate = part(svg, "plate")
    assert number(plate, "y") + number(plate, "height") < height - 5


def test_no_lining_is_left_to_draw() -> None:
    assert not parts(depth_gauge_svg(0, uid="q"), "lining")


def test_lining_and_plate_have_hatches_of_their_own() -> None:
    svg = depth_gauge_svg(6, uid="q")
    assert svg.count("url(#q-lining-cut)") == svg.count("url(#q-steel-cut)") == 1


@given(st.integers(1, 1499).filter(lambda n: n % 100 and n != 10).map(lambda n: n / 100))
def test_it_nowhere_says_the_reading(reading: float) -> None:
    assert f"{reading:g}" not in numbers(depth_gauge_svg(reading, uid="q"))


@pytest.mark.parametrize("reading", [-0.01, 15.1, math.nan, math.inf, "6", True, None])
def test_a_reading_off_the_scale_is_refused(reading: object) -> None:
    with pytest.raises(ValueError, match=r"^The lining thickness in mm must be .*\.$"):
        depth_gauge_svg(reading, uid="q")  # type: ignore[arg-type]


@pytest.mark.parametrize("full", [4, 21, math.nan, "15", True])
def test_a_scale_that_cannot_be_drawn_is_refused(full: object) -> None:
    with pytest.raises(ValueError, match=r"^The end of the depth scale in mm must be .*\.$"):
        depth_gauge_svg(0, full_mm=full, uid="q")  # type: ignore[arg-type]
