"""The drawings of brakings and of the road test, read back from their shapes alone."""

from __future__ import annotations

import math
from typing import Any

import pytest
from brakecourse.views.drawings.energy_bars import energy_bars_svg
from brakecourse.views.drawings.road_test import PLACES, road_test_svg
from brakecourse.views.drawings.speed_line import speed_line_svg
from hypothesis import given
from hypothesis import strategies as st

from tests.views.picture import described, number, part, parts, words

HEATS = (141.0, 138.0, 66.0, 67.0)


def bars(first: float = 1.0, second: float = 3.0, **speeds: float) -> str:
    one = ("First", speeds.get("a", 32.0), speeds.get("b", 0.0), first, "one")
    two = ("Second", speeds.get("c", 64.0), speeds.get("d", 32.0), second, "three")
    return energy_bars_svg([one, two], uid="e")


def road(**more: Any) -> str:
    facts: dict[str, Any] = {"wheelbase_mm": 3000, "tyre_radius_mm": 320, "uid": "r"}
    return road_test_svg(**{"shown_c": HEATS, **facts, **more})


# ------------------------------------------------------------------ energy


@given(st.floats(1, 1e6), st.floats(1, 1e6))
def test_bars_are_as_long_as_their_energies(first: float, second: float) -> None:
    one, two = (number(bar, "width") for bar in parts(bars(first, second), "bar"))
    assert max(one, two) == pytest.approx(364, abs=0.01)
    assert one / max(one, two) == pytest.approx(first / max(first, second), abs=1e-4)
    assert two / max(one, two) == pytest.approx(second / max(first, second), abs=1e-4)


def test_the_speeds_stand_to_one_scale_and_under_their_ends() -> None:
    svg = bars()
    told = [(node.text, number(node, "x")) for node in parts(svg, "speed")]
    assert [text for text, _ in told] == ["0", "32", "32", "64"]
    left, first, end, start = (x for _, x in told)
    assert first == end and (first - left) == pytest.approx((start - left) / 2)


def test_the_bars_are_told_in_words() -> None:
    assert "Its bar is 33 percent of the longer one. Second: from 64 to 32 km/h" in described(bars())
    assert "Its bar is the full length." in described(bars())


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([], "Two brakings"),
        ("ab", "Two brakings"),
        ([("a", 3, 0, 1)] * 2, "needs name"),
        ([("", 30, 0, 1, "x")] * 2, "1 to 28 letters"),
        ([("a", 30, 0, 1, "x" * 29)] * 2, "1 to 28 letters"),
        ([("a", 30, 30, 1, "x")] * 2, "below the start of 30"),
        ([("a", 30, -1, 1, "x")] * 2, "0 or more"),
        ([("a", math.nan, 0, 1, "x")] * 2, "finite number"),
        ([("a", 201, 0, 1, "x")] * 2, "from 0 to 200"),
        ([("a", 30, 0, 0, "x")] * 2, "above 0"),
    ],
)
def test_bars_that_cannot_be_drawn_are_refused(rows: Any, told: str) -> None:
    with pytest.raises(ValueError, match=told) as refused:
        energy_bars_svg(rows, uid="e")
    assert str(refused.value).endswith(".")


# ------------------------------------------------------------------ speed


def test_the_lines_fall_as_the_speeds_do() -> None:
    svg = speed_line_svg([(20, 0), (40, 20)], uid="s")
    falls = [number(node, "y2") - number(node, "y1") for node in parts(svg, "braking")]
    assert falls[0] == pytest.approx(falls[1]) and falls[0] > 50
    assert [node.text for node in parts(svg, "speed")] == [
        "20 mph, 32 km/h",
        "standstill",
        "40 mph, 64 km/h",
        "20 mph, 32 km/h",
    ]
    assert "Second braking: the speed falls evenly from 40 mph to 20 mph." in described(svg)


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([], "One or two"),
        ([(20, 0)] * 3, "One or two"),
        ("ab", "One or two"),
        ([(20,)], "two speeds"),
        ([(20, 20)], "below the start"),
        ([(20, -1)], "0 or more"),
        ([(121, 0)], "from 0 to 120"),
        ([(20, True)], "finite number"),
    ],
)
def test_speeds_that_cannot_be_drawn_are_refused(rows: Any, told: str) -> None:
    with pytest.raises(ValueError, match=told):
        speed_line_svg(rows, uid="s")


# ------------------------------------------------------------------ road test


def test_each_temperature_stands_at_its_wheel() -> None:
    svg = road()
    tyres = [
        (number(node, "x") + number(node, "width") / 2, number(node, "y") + number(node, "height") / 2)
        for node in parts(svg, "tyre")
    ]
    for place, node in enumerate(parts(svg, "heat")):
        assert node.text == f"{HEATS[place]:.0f} °C"
        x, y = tyres[place]
        assert abs(number(node, "y") - y) < 8
        assert (number(node, "x") < x) is PLACES[place].endswith("left")
        assert (y == min(y for _, y in tyres)) is PLACES[place].startswith("front")


@given(st.floats(1800, 6000), st.floats(230, 600))
def test_wheels_and_wheelbase_are_in_true_proportion(base: float, radius: float) -> None:
    svg = road(wheelbase_mm=base, tyre_radius_mm=radius)
    front, _, rear, _ = parts(svg, "tyre")
    drawn_base = number(rear, "y") - number(front, "y")
    assert drawn_base / number(front, "height") == pytest.approx(base / (2 * radius), rel=0.01)


@pytest.mark.parametrize(("pull", "side"), [("left", -1), ("right", 1), ("neither", 0)])
def test_the_way_leads_to_the_side_that_it_pulls_to(pull: str, side: int) -> None:
    svg = road(pull=pull)
    numbers = [float(one) for one in part(svg, "way").get("d", "").replace("M", "").replace("C", " ").split()]
    shift = numbers[-2] - numbers[0]
    assert (shift > 20) - (shift < -20) == side
    assert ("straight" if not side else f"to the {pull}") in words(svg)


def test_smoke_haze_and_noise_are_drawn_and_told_only_where_they_are() -> None:
    quiet = road()
    assert not parts(quiet, "smoke") and not parts(quiet, "haze") and not parts(quiet, "noise")
    assert "moke" not in words(quiet) and "noise" not in words(quiet)
    svg = road(smoke=(1,), haze=(0, 1), noise=True)
    assert len(parts(svg, "smoke")) == 4 and len(parts(svg, "haze")) == 3
    assert "Smoke rises at the front right wheel." in described(svg)
    assert "A light haze rises at the front left wheel. The brakes make a noise." in described(svg)
    assert all(number(node, "cx") > 240 for node in parts(svg, "smoke"))
    assert all(number(node, "cx") < 240 for node in parts(svg, "haze"))


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"shown_c": (1, 2, 3)}, "Four temperatures"),
        ({"shown_c": "1234"}, "Four temperatures"),
        ({"shown_c": (1, 2, 3, math.inf)}, "finite number"),
        ({"wheelbase_mm": 100}, "from 1500 to 7000"),
        ({"tyre_radius_mm": 1}, "from 200 to 700"),
        ({"pull": "up"}, "left, right or neither"),
        ({"smoke": (4,)}, "wheels 0 to 3"),
        ({"haze": (-1,)}, "wheels 0 to 3"),
        ({"uid": "1"}, "uid"),
    ],
)
def test_a_road_test_that_cannot_be_drawn_is_refused(more: dict[str, Any], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        road(**more)
