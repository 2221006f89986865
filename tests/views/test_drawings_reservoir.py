"""Read the fluid level off the rule, as a person does who looks at the flat of the surface.

How a reservoir and a rule look: common practice, no source.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from brakecourse.views.drawings import reservoir_svg
from hypothesis import example, given
from hypothesis import strategies as st

from tests.views.picture import (
    corners,
    described,
    heard,
    lines,
    number,
    numbers,
    numerals,
    part,
    parts,
    scale,
)


def draw(level: float, height: float = 70, **more: object) -> str:
    facts: dict[str, object] = {"min_mm": 20, "max_mm": 50, "height_mm": height, "uid": "r", **more}
    return reservoir_svg(level, **facts)  # type: ignore[arg-type]


def rule_value(svg: str, y: float) -> float:
    return scale({value: spot[1] for value, spot in numerals(svg, "rule-number").items()})(y)


def read(svg: str) -> float:
    """Read the height that most of the surface has: its flat middle, not what creeps up at the walls."""
    surface = corners(part(svg, "surface"))
    _, flat = max(pairwise(surface), key=lambda pair: abs(pair[1][0] - pair[0][0]))
    return rule_value(svg, flat[1])


@given(st.integers(1, 700).map(lambda n: n / 10), st.sampled_from(["clear", "dark"]))
@example(0.4, "clear")
def test_the_rule_tells_the_level(level: float, fluid: str) -> None:
    svg = draw(level, fluid=fluid)
    assert read(svg) == pytest.approx(level, abs=0.06)
    assert heard(svg, 1, "The flat of its surface stands") == pytest.approx(level, abs=0.51)


@given(st.floats(30, 150), st.floats(0.05, 1))
def test_the_rule_tells_it_in_a_reservoir_of_any_height(height: float, share: float) -> None:
    svg = draw(share * height, height, min_mm=height / 4, max_mm=height / 2)
    assert read(svg) == pytest.approx(share * height, abs=0.12)


def test_the_rule_has_a_line_for_each_millimetre() -> None:
    svg = draw(42)
    found = sorted(rule_value(svg, y) for _, y, _, _ in lines(svg, "rule-fine", "rule-coarse"))
    assert found == pytest.approx(list(range(71)), abs=0.06)
    tens = sorted(numerals(svg, "rule-number"))
    assert tens == list(range(0, 71, 10))


@pytest.mark.parametrize(("least", "most", "height"), [(20, 50, 70), (12.5, 61, 80)])
def test_the_marks_stand_at_their_heights(least: float, most: float, height: float) -> None:
    svg = draw(30, height, min_mm=least, max_mm=most)
    for word, value in (("MIN", least), ("MAX", most)):
        assert rule_value(svg, number(part(svg, f"mark-{word}"), "y1")) == pytest.approx(value, abs=0.06)


def test_the_fluid_creeps_up_at_the_walls_only() -> None:
    surface = corners(part(draw(42), "surface"))
    flat = max(y for _, y in surface)
    assert surface[0][1] < flat - 4 and surface[-1][1] < flat - 4
    inside = [y for x, y in surface if surface[0][0] + 15 < x < surface[-1][0] - 15]
    assert inside and all(y == flat for y in inside)


def test_an_empty_reservoir_has_no_fluid() -> None:
    assert not parts(draw(0), "fluid")
    assert parts(draw(0.5), "fluid")


def test_the_look_of_the_fluid_is_told_and_seen() -> None:
    clear, dark = draw(42), draw(42, fluid="dark")
    assert "straw" in described(clear) and "dark brown" in described(dark)
    assert part(clear, "fluid").get("fill") != part(dark, "fluid").get("fill")


@given(st.integers(1, 699).filter(lambda n: n % 50 and n % 10).map(lambda n: n / 10))
def test_it_nowhere_says_the_level(level: float) -> None:
    assert f"{level:g}" not in numbers(draw(level))


@pytest.mark.parametrize("level", [-0.1, 70.1, math.nan, math.inf, "42", True, None])
def test_a_level_out_of_the_reservoir_is_refused(level: object) -> None:
    with pytest.raises(ValueError, match=r"^The fluid level in mm must be [^.]*(\d\.\d[^.]*)*\.$"):
        draw(level)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"min_mm": 50}, "MIN line must be below"),
        ({"min_mm": 0}, "MIN line in mm must be above 0"),
        ({"max_mm": 71}, "MAX line in mm must be from 0 to 70"),
        ({"height": 20}, "height of the reservoir in mm must be from 30 to 150"),
        ({"fluid": "blue"}, "must look 'clear' or 'dark'"),
    ],
)
def test_a_reservoir_that_cannot_be_is_refused(wrong: dict[str, object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        draw(10, **wrong)  # type: ignore[arg-type]
