"""Read the water tester's needle and the boiling-point tester's display.

0 °C is 32 °F and 100 °C is 212 °F (definition of the scales; from memory). The rest is common practice, no
source.
"""

from __future__ import annotations

import math

import pytest
from brakecourse.views import palette
from brakecourse.views.drawings import boiling_tester_svg, moisture_tester_svg
from hypothesis import example, given
from hypothesis import strategies as st

from tests.views.picture import (
    corners,
    display,
    heard,
    number,
    numbers,
    part,
    parts,
    round_scale,
    tip_deg,
    values_of_lines,
    words,
)


@given(st.integers(0, 400).map(lambda n: n / 100))
@example(0.0)
@example(4.0)
def test_the_needle_tells_the_water(percent: float) -> None:
    svg = moisture_tester_svg(percent, uid="f")
    assert round_scale(svg, "percent")(tip_deg(svg)) == pytest.approx(percent, abs=0.01)
    assert heard(svg, 0.1, "The needle stands") == pytest.approx(percent, abs=0.051)


def test_the_scale_has_ten_lines_a_percent() -> None:
    svg = moisture_tester_svg(1, uid="f")
    assert values_of_lines(svg, "percent") == pytest.approx([n / 10 for n in range(41)], abs=0.01)


def test_the_needle_reaches_the_lines_and_stays_in_the_window() -> None:
    for percent in (0.0, 2.0, 4.0):
        svg = moisture_tester_svg(percent, uid="f")
        tip = max(math.hypot(*corner) for corner in corners(part(svg, "needle")))
        assert 184 - 26 < tip < 196


def test_the_pins_stand_in_the_fluid() -> None:
    svg = moisture_tester_svg(1, uid="f")
    for pin in parts(svg, "pin"):
        assert number(pin, "y") < 424 < number(pin, "y") + number(pin, "height")


def test_no_colour_of_the_testers_tells_good_from_bad() -> None:
    # The same colours at every reading: the learner compares with the limit, not with a lamp.
    used = [
        {value for value in vars(palette).values() if isinstance(value, str) and value in svg}
        for svg in (moisture_tester_svg(percent, uid="f") for percent in (0.2, 2.0, 3.9))
    ]
    assert used[0] == used[1] == used[2]
    assert not used[0] & {palette.VERMILLION, palette.BLUISH_GREEN, palette.YELLOW, palette.ORANGE}


@given(st.integers(1, 399).filter(lambda n: n % 100).map(lambda n: n / 100))
def test_the_needle_tester_nowhere_says_the_water(percent: float) -> None:
    assert f"{percent:g}" not in numbers(moisture_tester_svg(percent, uid="f"))


@given(st.integers(50, 350))
@example(108)
@example(200)
def test_the_display_tells_the_boiling_point(temp: int) -> None:
    svg = boiling_tester_svg(temp, uid="f")
    assert display(svg) == str(temp)
    assert f"display shows {', '.join(str(temp))}, and the unit °C" in words(svg)
    us = boiling_tester_svg(temp, fahrenheit=True, uid="f")
    assert int(display(us)) == pytest.approx(32 + temp * 9 / 5, abs=0.51)
    assert "the unit °F" in words(us)


@given(st.floats(50, 350))
def test_it_shows_whole_degrees(temp: float) -> None:
    assert int(display(boiling_tester_svg(temp, uid="f"))) == pytest.approx(temp, abs=0.500001)


@pytest.mark.parametrize("percent", [-0.1, 4.01, math.nan, math.inf, "2", True, None])
def test_water_off_the_scale_is_refused(percent: object) -> None:
    with pytest.raises(ValueError, match=r"^The water content in % must be .*\.$"):
        moisture_tester_svg(percent, uid="f")  # type: ignore[arg-type]


@pytest.mark.parametrize("temp", [49, 351, math.nan, -math.inf, "180", True, None])
def test_a_temperature_out_of_range_is_refused(temp: object) -> None:
    with pytest.raises(ValueError, match=r"^The boiling point in °C must be .*\.$"):
        boiling_tester_svg(temp, uid="f")  # type: ignore[arg-type]


@pytest.mark.parametrize("setting", [1, "yes", None])
def test_a_unit_setting_that_is_none_is_refused(setting: object) -> None:
    with pytest.raises(ValueError, match=r"^The display's setting to °F must be True or False.*\.$"):
        boiling_tester_svg(180, fahrenheit=setting, uid="f")  # type: ignore[arg-type]
