"""The shop's gauges against something outside: unit libraries, published rows, chance, radiation laws."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from brakecourse.bench import force_gauges, other_units
from brakecourse.bench.draw import Draw
from brakecourse.bench.heat_gauge import infrared_thermometer
from brakecourse.bench.shop_gauges import (
    GAUGES,
    ShopGauge,
    depth_gauge,
    force_gauge,
    level_rule,
    pressure_gauge,
    torque_wrench,
)
from brakecourse.published import convert, value
from scipy import constants, integrate, optimize
from uncertainties import ufloat

SHOP = [one for make in GAUGES.values() if isinstance(one := make(), ShopGauge)]
EVERY_SHOP = pytest.mark.parametrize("one", SHOP, ids=lambda one: one.name)
TIMES = 6000


# --- the rings' units -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("into", "from_unit", "to_unit"),
    [
        (other_units.psi_from_mpa, "MPa", "psi"),
        (other_units.lbf_from_n, "N", "lbf"),
        (other_units.lbfft_from_nm, "N*m", "lbf*ft"),
        (other_units.nm_from_lbfft, "lbf*ft", "N*m"),
        (other_units.fahrenheit_from_celsius, "degC", "degF"),
    ],
)
@pytest.mark.parametrize("number", [0.0, 1.0, 8.3, 110.0, 2500.0])
def test_a_rings_unit_is_that_of_a_general_library(
    into: Callable[[float], float], from_unit: str, to_unit: str, number: float
) -> None:
    # Outside check: the pint library.
    assert into(number) == pytest.approx(convert(number, from_unit, to_unit), rel=1e-12, abs=1e-9)


def test_the_rings_units_are_the_published_ones() -> None:
    # Rows unit_inch_mm, unit_lbf_n, unit_psi_pa, unit_lbfft_nm, unit_lbfin_nm: all read.
    rows = [value(f"unit_{name}") for name in ("inch_mm", "lbf_n", "psi_pa", "lbfft_nm", "lbfin_nm")]
    assert {row.how_known for row in rows} == {"read"}
    inch, lbf, psi, lbfft, lbfin = (row.value for row in rows)
    assert inch == pytest.approx(other_units.INCH_MM, rel=1e-15)
    assert lbf == pytest.approx(other_units.POUND_FORCE_N, rel=1e-6)
    assert 1e6 / psi == pytest.approx(other_units.psi_from_mpa(1.0), rel=1e-6)
    assert lbfft == pytest.approx(other_units.nm_from_lbfft(1.0), rel=1e-6)
    assert lbfin == pytest.approx(other_units.nm_from_lbfft(1 / other_units.INCHES_PER_FOOT), rel=1e-5)


@EVERY_SHOP
def test_both_rings_of_a_gauge_show_the_same_thing(one: ShopGauge) -> None:
    # Outside check: pint. The second ring ends within one of its numbers of the first, and never beyond it.
    names = {"MPa": "MPa", "psi": "psi", "N·m": "N*m", "lbf·ft": "lbf*ft", "N": "N", "lbf": "lbf"}
    names |= {"°C": "degC", "°F": "degF"}
    if one.other_scale is None:
        return
    other = one.other_scale
    for mine, theirs in ((one.scale.start, other.start), (one.scale.end, other.end)):
        there = convert(mine, names[one.scale.unit], names[other.unit])
        assert abs(there - theirs) <= other.line
    assert convert(other.end, names[other.unit], names[one.scale.unit]) <= one.scale.end + 1e-9


# --- published rows --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("largest", "row"), [(5, "to_10"), (10, "to_10"), (15, "above_10"), (200, "above_10")]
)
def test_the_wrench_errs_by_no_more_than_its_standard_permits(largest: float, row: str) -> None:
    # Source: ISO 6789-1:2017 as stated by a calibration service; up to 10 N·m a tool manual's summary. Read.
    published = value(f"torque_wrench_tol_{row}")
    assert published.how_known == "read"
    assert published.unit == "percent"
    wrench = torque_wrench(largest)
    assert wrench.error_limit_at(largest) == pytest.approx(published.value / 100 * largest)
    worst = replace(torque_wrench(largest, -1.0), repeatability=0.0).applied_nm(largest, Draw(0))
    deviation = (largest - worst) / worst
    assert abs(deviation) * 100 == pytest.approx(published.value)


def test_the_wrenchs_scale_starts_at_the_first_test_point() -> None:
    # Source: ISO 6789-2:2017 as stated by a metrology laboratory, read.
    row = value("torque_wrench_test_point_20")
    assert row.how_known == "read"
    assert pytest.approx(row.value / 100) == force_gauges.WRENCH_START_SHARE
    assert torque_wrench(200).scale.start == pytest.approx(row.value / 100 * 200)


# --- uncertainty -------------------------------------------------------------------------------------------


@EVERY_SHOP
@pytest.mark.parametrize("part", [0.1, 0.5, 0.9])
def test_the_uncertainty_is_what_a_general_library_makes_of_its_parts(one: ShopGauge, part: float) -> None:
    # Outside check: the `uncertainties` library; a rectangular part is the half width over root 3 (JCGM 100).
    first = one.scale.start + part * (one.scale.end - one.scale.start)
    second = one.scale.start
    used = ufloat(0, 1 / math.sqrt(3))  # the share of its limit that this gauge uses up, the same every time

    def reading(at: float) -> object:
        chance = ufloat(0, one.repeatability) + ufloat(0, one.scale.line / 2 / math.sqrt(3))
        return at + used * (one.error_limit + one.error_share * abs(at)) + chance

    assert one.standard_uncertainty_at(first) == pytest.approx(reading(first).std_dev)  # type: ignore[attr-defined]
    difference = reading(first) - reading(second)  # type: ignore[operator]
    assert one.difference_uncertainty(first, second) == pytest.approx(difference.std_dev)


def test_the_uncertainties_are_these_numbers() -> None:
    # Worked by hand: root of the sum of squares. Depth gauge: (0.1/root 3)^2 + 0.05^2 + (0.05/root 3)^2.
    assert depth_gauge().standard_uncertainty == pytest.approx(
        math.sqrt(0.003333 + 0.0025 + 0.000833), abs=1e-5
    )
    # Pressure gauge 16 MPa: limit 0.256, repeats 0.064, lines 0.2.
    expected = math.sqrt(0.256**2 / 3 + 0.064**2 + 0.1**2 / 3)
    assert pressure_gauge().standard_uncertainty == pytest.approx(expected)
    # Torque wrench 200 N·m at 100 N·m: 4 N·m, 0.4 N·m, lines of 1 N·m.
    expected = math.sqrt(16 / 3 + 0.16 + 0.25 / 3)
    assert torque_wrench(200).standard_uncertainty_at(100) == pytest.approx(expected)


@EVERY_SHOP
def test_simulated_readings_scatter_as_their_uncertainty_says(one: ShopGauge) -> None:
    # Monte Carlo with numpy: a new gauge of the kind for each reading, its error anywhere within the limit
    # and the true value anywhere about a place (as JCGM 100 assumes).
    chance = np.random.default_rng(20)
    draw = Draw(20)
    middle = (one.scale.start + one.scale.end) / 2
    off = np.empty(TIMES)
    for i, (share, inside) in enumerate(
        zip(chance.uniform(-1, 1, TIMES), chance.uniform(-1, 1, TIMES), strict=True)
    ):
        true = middle + float(inside) * one.scale.line
        made = replace(one, calibration_share=float(share))
        off[i] = made.reading(made.indicate(true, draw)) - true
    expected = one.standard_uncertainty_at(middle)
    assert np.std(off) == pytest.approx(expected, rel=0.04)
    assert abs(np.mean(off)) <= 4 * expected / math.sqrt(TIMES)


@EVERY_SHOP
def test_one_gauges_own_error_is_a_bias_and_its_chance_is_its_repeatability(one: ShopGauge) -> None:
    # Monte Carlo: many settings of one gauge that errs by half of its limit.
    made = replace(one, calibration_share=0.5)
    middle = (one.scale.start + one.scale.end) / 2
    draw = Draw(21)
    shown = np.array([made.indicate(middle, draw) for _ in range(TIMES)])
    bias = 0.5 * (one.error_limit + one.error_share * abs(middle))
    assert np.mean(shown) - middle == pytest.approx(bias, abs=4 * one.repeatability / math.sqrt(TIMES))
    assert np.std(shown) == pytest.approx(one.repeatability, rel=0.04)


def test_a_difference_of_two_readings_scatters_as_it_says() -> None:
    chance, draw = np.random.default_rng(22), Draw(22)
    for one, low, high in (
        (depth_gauge(), 4.0, 9.0),
        (level_rule(), 22.0, 48.0),
        (torque_wrench(), 60.0, 160.0),
    ):
        off = np.empty(TIMES)
        for i in range(TIMES):
            made = replace(one, calibration_share=float(chance.uniform(-1, 1)))
            first, second = (at + float(chance.uniform(-1, 1)) * one.scale.line for at in (low, high))
            read = [made.reading(made.indicate(true, draw)) for true in (first, second)]
            off[i] = read[1] - read[0] - (second - first)
        assert np.std(off) == pytest.approx(one.difference_uncertainty(low, high), rel=0.04)


def test_a_pull_gauge_errs_by_its_share_of_the_full_scale() -> None:
    gauge = force_gauge(500, 1.0)
    assert gauge.shown(100.0) - 100.0 == pytest.approx(gauge.shown(400.0) - 400.0)


# --- parallax and heat rays ---------------------------------------------------------------------------------


def test_parallax_is_what_two_rays_make_it() -> None:
    # Outside check: the line from the eye through the edge, met with the plane of the lines (numpy's solver).
    rule = level_rule()
    eye = np.array([-400.0, 30.0 + (400.0 + rule.gap_mm) * math.tan(math.radians(rule.eye_deg))])
    edge = np.array([rule.gap_mm, 30.0])  # the lines stand at x = 0, the liquid's edge behind them
    ray = edge - eye
    share, height = np.linalg.solve(np.array([[ray[0], 0.0], [ray[1], -1.0]]), np.array([0.0, 0.0]) - eye)
    assert 0 < share < 1
    assert height - 30.0 == pytest.approx(rule.parallax_mm)


def _rays(kelvin: float, low_m: float, high_m: float) -> float:
    """Radiance of a black body between two wavelengths: Planck's law, integrated by scipy."""

    def density(wave_m: float) -> float:
        power = constants.h * constants.c / (wave_m * constants.k * kelvin)
        return float(2 * constants.h * constants.c**2 / wave_m**5 / np.expm1(min(power, 700.0)))

    return float(integrate.quad(density, low_m, high_m, limit=200)[0])


def _looks_c(true_c: float, sends: float, reckons: float, low_m: float, high_m: float) -> float:
    around = _rays(20.0 + 273.15, low_m, high_m)
    caught = sends * _rays(true_c + 273.15, low_m, high_m) + (1 - sends) * around
    return float(
        optimize.brentq(
            lambda c: reckons * _rays(c + 273.15, low_m, high_m) + (1 - reckons) * around - caught, -20, 600
        )
    )


@pytest.mark.parametrize("true_c", [60.0, 120.0, 200.0, 400.0])
@pytest.mark.parametrize("sends", [0.3, 0.8])
def test_a_bright_face_looks_as_cold_as_the_radiation_law_says(true_c: float, sends: float) -> None:
    # Outside check: Planck's law over all wavelengths, with scipy's constants.
    aimed = replace(infrared_thermometer(), surface_emissivity=sends)
    everything = _looks_c(true_c, sends, aimed.set_emissivity, 5e-7, 1e-3)
    assert aimed.apparent_c(true_c) == pytest.approx(everything, abs=0.05)
    # A real thermometer sees about 8 to 14 micrometres (common practice, no source): there the face looks
    # colder still, so what the course shows does not overstate the error.
    part = _looks_c(true_c, sends, aimed.set_emissivity, 8e-6, 14e-6)
    assert part < aimed.apparent_c(true_c)
    assert (true_c - part) < 1.6 * (true_c - aimed.apparent_c(true_c))
