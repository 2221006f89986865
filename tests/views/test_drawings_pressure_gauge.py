"""Read both rings of the pressure gauge at the needle.

One MPa is 145.0377 psi (NIST SP 811, 2008, appendix B: 1 psi = 6.894 757 kPa; from memory here, read in the
published tables). The rest is common practice, no source.
"""

from __future__ import annotations

import math

import pytest
from brakecourse.views.drawings import pressure_gauge_svg
from hypothesis import example, given
from hypothesis import strategies as st

from tests.views.picture import heard, numbers, round_scale, tip_deg, values_of_lines

PSI_PER_MPA = 1 / 6.894757e-3


@given(st.floats(0, 16))
@example(0.0)
@example(16.0)
def test_both_rings_tell_the_pressure(pressure: float) -> None:
    svg = pressure_gauge_svg(pressure, uid="g")
    assert round_scale(svg, "mpa")(tip_deg(svg)) == pytest.approx(pressure, abs=0.02)
    assert round_scale(svg, "psi")(tip_deg(svg)) == pytest.approx(pressure * PSI_PER_MPA, abs=4)
    assert heard(svg, 0.2, "the needle stands") == pytest.approx(pressure, abs=0.101)


@given(st.floats(0.5, 100), st.floats(0, 1))
def test_a_gauge_of_any_range_tells_it(full: float, share: float) -> None:
    svg = pressure_gauge_svg(share * full, full_mpa=full, uid="g")
    assert round_scale(svg, "mpa")(tip_deg(svg)) == pytest.approx(share * full, abs=0.004 * full)


@pytest.mark.parametrize(
    ("full", "line", "psi"), [(16, 0.2, 50), (2.5, 0.05, 10), (10, 0.2, 50), (25, 0.5, 100)]
)
def test_lines_stand_evenly_all_round(full: float, line: float, psi: float) -> None:
    svg = pressure_gauge_svg(0, full_mpa=full, uid="g")
    wanted = [n * line for n in range(round(full / line) + 1)]
    assert values_of_lines(svg, "mpa") == pytest.approx(wanted, abs=line * 0.1)
    wanted = [n * psi for n in range(int(full * PSI_PER_MPA / psi) + 1)]
    assert values_of_lines(svg, "psi") == pytest.approx(wanted, abs=psi * 0.12)


@pytest.mark.parametrize(("full", "numeral"), [(1.6, 10), (16, 100), (25, 100)])
def test_numbers_of_the_psi_ring_may_stand_for_tens_or_hundreds(full: float, numeral: float) -> None:
    svg = pressure_gauge_svg(full / 2, full_mpa=full, psi_numeral=numeral, uid="g")
    assert f"psi × {numeral}" in svg
    shown = round_scale(svg, "psi")(tip_deg(svg))
    assert shown * numeral == pytest.approx(full / 2 * PSI_PER_MPA, rel=0.005)


@pytest.mark.parametrize("numeral", [0, 5, 1000, True, "10", None])
def test_a_psi_numeral_that_is_none_is_refused(numeral: object) -> None:
    with pytest.raises(ValueError, match=r"^A number on the psi ring must stand for 1, 10 or 100 psi.*\.$"):
        pressure_gauge_svg(1, psi_numeral=numeral, uid="g")  # type: ignore[arg-type]


def test_clockwise_is_more() -> None:
    tips = [tip_deg(pressure_gauge_svg(pressure, uid="g")) for pressure in (0, 4, 8, 12, 16)]
    assert tips == sorted(tips)
    assert tips[2] == pytest.approx(0, abs=0.1)


@given(st.integers(1, 1599).filter(lambda n: n % 20 and n % 10).map(lambda n: n / 100))
def test_it_nowhere_says_the_pressure(pressure: float) -> None:
    told = numbers(pressure_gauge_svg(pressure, uid="g"))
    assert f"{pressure:g}" not in told
    assert f"{pressure * PSI_PER_MPA:.0f}" not in told - {str(n) for n in range(0, 2500, 500)}


@pytest.mark.parametrize("pressure", [-0.1, 16.01, math.nan, math.inf, "4", True, None])
def test_a_pressure_off_the_scale_is_refused(pressure: object) -> None:
    with pytest.raises(ValueError, match=r"^The pressure in MPa must be .*\.$"):
        pressure_gauge_svg(pressure, uid="g")  # type: ignore[arg-type]


@pytest.mark.parametrize("full", [0, -1, 0.4, 101, math.nan, "16", True])
def test_a_scale_that_cannot_be_drawn_is_refused(full: object) -> None:
    with pytest.raises(ValueError, match=r"^The end of the pressure scale in MPa must be .*\.$"):
        pressure_gauge_svg(0, full_mpa=full, uid="g")  # type: ignore[arg-type]
