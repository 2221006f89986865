"""The tolerances against their formulas, worked with other libraries."""

from __future__ import annotations

import math

import pytest
from brakecourse.marking import tolerances
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from uncertainties import ufloat


@given(st.floats(0.001, 0.1))
def test_a_difference_carries_two_reading_tolerances(resolution: float) -> None:
    """Root of the sum of squares, by the library `uncertainties`."""
    tolerance = tolerances.reading(resolution)
    spread = (ufloat(20, tolerance) - ufloat(19, tolerance)).std_dev
    assert tolerances.difference(resolution) == pytest.approx(spread)


@given(st.floats(-0.05, 0.05), st.floats(0.002, 0.02))
def test_the_tolerance_of_a_probability_covers_table_and_print(margin: float, u: float) -> None:
    """Entering a printed table (scipy's normal distribution) with rounded z and rounded u stays within it."""
    right = 100 * stats.norm.cdf(margin / u)
    worst = tolerances.percent(margin, u)
    z = round(margin / round(u, 4), 2)
    from_table = round(100 * stats.norm.cdf(z))
    # First order only: the curve's bend over so short a step is far below a tenth of a percent.
    assert abs(from_table - right) <= worst + 0.1


@given(st.floats(-0.05, 0.05), st.floats(0.002, 0.02))
def test_the_tolerance_of_a_probability_is_no_larger_than_it_must_be(margin: float, u: float) -> None:
    steepest = 100 / math.sqrt(2 * math.pi)
    assert 0.5 <= tolerances.percent(margin, u) <= 0.5 + steepest * (0.005 + abs(margin / u) * 0.00005 / u)


def test_no_uncertainty_leaves_only_rounding() -> None:
    assert tolerances.percent(0.01, 0.0) == 0.5


def test_own_readings_leave_less_room_than_none() -> None:
    assert tolerances.carried(0.01) < tolerances.rounded(0.01) < tolerances.reading(0.01)
    assert tolerances.carried_difference(0.01) < tolerances.rounded(0.01)
    assert tolerances.difference(0.01) == pytest.approx(0.01 * math.sqrt(2))


def test_inches_are_recognised_at_three_places() -> None:
    """25.4 mm is one inch exactly (NIST SP 811)."""
    assert tolerances.inches(0.0) == 0.0005
    assert tolerances.inches(0.0254) == pytest.approx(0.0015)


@given(st.floats(-100, 100), st.floats(0, 1))
def test_near_means_within(target: float, tolerance: float) -> None:
    assert tolerances.near(target + 0.99 * tolerance, target, tolerance)
    assert not tolerances.near(target + 1.01 * tolerance + 1e-6, target, tolerance)
