"""Read the pedal's travel off both rules, and the force gauge and the stroke counter.

Travel counts from rest along the pedal's way: common practice, no source.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest
from brakecourse.views.drawings import pedal_svg
from hypothesis import example, given
from hypothesis import strategies as st

from tests.views.picture import display, heard, number, numbers, part, parts, scale


def rules(svg: str) -> list[dict[float, float]]:
    """Return numerals and their places on the small rule, and on the large one, which stands lower."""
    found: list[dict[float, float]] = [{}, {}]
    for node in parts(svg, "rule-number"):
        found[number(node, "y") > 380][float(node.text or "")] = number(node, "x")
    return found


@given(st.integers(0, 1300).map(lambda n: n / 10))
@example(0.0)
@example(130.0)
def test_both_rules_tell_the_travel(travel: float) -> None:
    svg = pedal_svg(travel, room_mm=130, uid="k")
    small, large = rules(svg)
    face = number(part(svg, "face-line"), "x1")
    assert scale(small)(face) == pytest.approx(travel, abs=0.06)
    assert scale(large)(number(part(svg, "lens-line"), "x1")) == pytest.approx(travel, abs=0.06)
    assert heard(svg, 1, "the pedal's face stands") == pytest.approx(travel, abs=0.51)


@given(st.floats(40, 200), st.floats(0, 1))
def test_rest_and_floor_stand_at_their_places(room: float, share: float) -> None:
    svg = pedal_svg(share * room, room_mm=room, uid="k")
    read = scale(rules(svg)[0])
    assert read(number(part(svg, "line-rest"), "x1")) == pytest.approx(0, abs=0.1)
    assert read(number(part(svg, "line-floor"), "x1")) == pytest.approx(room, abs=0.1)
    assert read(number(part(svg, "face-line"), "x1")) == pytest.approx(share * room, abs=0.1)


@pytest.mark.parametrize("travel", [0, 30, 77, 130])
def test_the_pads_face_lies_on_the_sight_line_whatever_the_arms_angle(travel: float) -> None:
    svg = pedal_svg(travel, room_mm=130, uid="k")
    pad = part(svg, "pad")
    (hung,) = [node for node in ET.fromstring(svg).iter() if any(c.get("data-part") == "pad" for c in node)]
    x0, y0, turn = map(float, re.findall(r"-?[\d.]+", hung.get("transform", "")))
    sight = part(svg, "face-line")
    along = math.radians(turn)
    # A place (0, r) on the hanging arm, turned: the arm's length to the middle of the face is what fits both.
    reach = math.hypot(number(sight, "x1") - x0, number(sight, "y1") - y0)
    assert x0 - reach * math.sin(along) == pytest.approx(number(sight, "x1"), abs=0.03)
    assert number(pad, "x") == 0
    assert number(pad, "y") < reach < number(pad, "y") + number(pad, "height")


@given(st.integers(0, 2000))
def test_the_force_gauge_tells_the_force(force: int) -> None:
    assert display(pedal_svg(40, room_mm=130, force_n=force, uid="k")) == str(force)


@pytest.mark.parametrize("strokes", [0, 7, 10, 42, 99])
def test_the_counter_tells_the_strokes(strokes: int) -> None:
    svg = pedal_svg(40, room_mm=130, strokes=strokes, uid="k")
    wheels = sorted(parts(svg, "wheel"), key=lambda node: number(node, "x"))
    assert int("".join(node.text or "" for node in wheels)) == strokes


def test_gauge_and_counter_are_there_only_when_asked_for() -> None:
    svg = pedal_svg(40, room_mm=130, uid="k")
    assert not parts(svg, "digit") and not parts(svg, "wheel")
    assert "strokes" not in svg and "force" not in svg


@given(st.integers(1, 1299).filter(lambda n: n % 10).map(lambda n: n / 10))
def test_it_nowhere_says_the_travel(travel: float) -> None:
    assert f"{travel:g}" not in numbers(pedal_svg(travel, room_mm=130, uid="k"))


@pytest.mark.parametrize("travel", [-1, 130.1, math.nan, math.inf, "40", True, None])
def test_travel_beyond_the_floor_is_refused(travel: object) -> None:
    with pytest.raises(ValueError, match=r"^The pedal travel in mm must be .*\.$"):
        pedal_svg(travel, room_mm=130, uid="k")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"room_mm": 39}, "room from rest to floor in mm must be from 40 to 200"),
        ({"room_mm": math.nan}, "room from rest to floor in mm must be a finite number"),
        ({"force_n": -1}, "pedal force in N must be from 0 to 2000"),
        ({"force_n": 2001}, "pedal force in N must be from 0 to 2000"),
        ({"strokes": 100}, "stroke counter must show a whole number from 0 to 99"),
        ({"strokes": -1}, "stroke counter must show"),
        ({"strokes": 2.0}, "stroke counter must show"),
        ({"strokes": True}, "stroke counter must show"),
    ],
)
def test_a_pedal_that_cannot_be_is_refused(wrong: dict[str, object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        pedal_svg(10, **{"room_mm": 130, "uid": "k", **wrong})  # type: ignore[arg-type]
