"""Read the thermometer's display, and see where its spot lies.

A rotor's temperature is taken on the face where the pads rub: common practice, no source.
"""

from __future__ import annotations

import math

import pytest
from brakecourse.views.drawings import infrared_thermometer_svg
from hypothesis import example, given
from hypothesis import strategies as st

from tests.views.picture import corners, described, display, number, part


@given(st.integers(-50, 900))
@example(-7)
@example(0)
def test_the_display_tells_the_temperature(temp: int) -> None:
    svg = infrared_thermometer_svg(temp, uid="i")
    assert int(display(svg)) == temp
    assert int(display(infrared_thermometer_svg(temp, fahrenheit=True, uid="i"))) == pytest.approx(
        32 + temp * 9 / 5, abs=0.51
    )


def test_nothing_is_below_zero_that_rounds_to_it() -> None:
    assert display(infrared_thermometer_svg(-0.3, uid="i")) == "0"


@pytest.mark.parametrize("target", ["rotor", "hat", "caliper"])
def test_the_spot_lies_where_it_is_said_to(target: str) -> None:
    svg = infrared_thermometer_svg(100, target=target, uid="i")  # type: ignore[arg-type]
    spot, face, hat = (part(svg, name) for name in ("spot", "face", "hat"))
    place = (number(spot, "cx"), number(spot, "cy"))
    away = math.dist(place, (number(face, "cx"), number(face, "cy")))
    radius = number(spot, "r")
    caliper = corners(part(svg, "caliper"))
    angles = sorted(math.atan2(x - number(face, "cx"), number(face, "cy") - y) for x, y in caliper)
    under_caliper = (
        angles[0] < math.atan2(place[0] - number(face, "cx"), number(face, "cy") - place[1]) < angles[-1]
    )
    found = (
        "caliper"
        if under_caliper and away > number(hat, "r")
        else "rotor"
        if number(hat, "r") + radius <= away <= number(face, "r") - radius
        else "hat"
        if away + radius <= number(hat, "r")
        else "nowhere"
    )
    assert found == target
    told = {"rotor": "on the rotor's bright face", "hat": "on the rotor's hat", "caliper": "on the caliper"}
    assert told[target] in described(svg)


@pytest.mark.parametrize("temp", [-51, 901, math.nan, math.inf, "20", True, None])
def test_a_temperature_out_of_range_is_refused(temp: object) -> None:
    with pytest.raises(ValueError, match=r"^The temperature in °C must be .*\.$"):
        infrared_thermometer_svg(temp, uid="i")  # type: ignore[arg-type]


@pytest.mark.parametrize("target", ["tyre", "", None, 3])
def test_a_target_that_is_none_is_refused(target: object) -> None:
    with pytest.raises(ValueError, match=r"^The spot must be on 'rotor', 'hat' or 'caliper'.*\.$"):
        infrared_thermometer_svg(20, target=target, uid="i")  # type: ignore[arg-type]


def test_a_unit_setting_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^The display's setting to °F must be True or False.*\.$"):
        infrared_thermometer_svg(20, fahrenheit="F", uid="i")  # type: ignore[arg-type]
