"""The gauges: uncertainty against published limits, indications, readings and misreadings."""

from __future__ import annotations

import math
import statistics

import pytest
from brakecourse.bench import gauges
from brakecourse.bench.draw import Draw
from brakecourse.bench.gauges import (
    CLEAR_OF_MIDPOINT_MM,
    DialIndicator,
    Micrometer,
    boxed_micrometer,
    dial_indicator,
    shop_micrometer,
)
from brakecourse.published import convert, value
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

SMALL, LARGE = boxed_micrometer(0), boxed_micrometer(25)
DIAL = dial_indicator()
IN_SMALL = st.floats(0.6, 24.4)
TRAVELS = st.floats(-1, 1)


def _mm(row: str) -> float:
    found = value(row)
    return convert(found.value, found.unit, "mm")


# --- against published limits ---------------------------------------------------------------------


def test_the_micrometers_error_limit_is_the_older_standards() -> None:
    # Source: ISO 3611:1978, 4 + L/50 in micrometres. From memory: the row says so, and so does the code.
    row = value("mic_mpe_iso_old_0_25")
    assert row.how_known == "memory"
    assert gauges.NEW_MICROMETER_LIMIT_MM[0] == pytest.approx(_mm(row.id))
    # The larger range, by the same rule at its lower end, rounded up to a whole micrometre.
    assert gauges.NEW_MICROMETER_LIMIT_MM[25] == pytest.approx(math.ceil(row.value + 25 / 50) / 1000)


def test_the_micrometer_does_not_claim_to_be_better_than_a_new_one() -> None:
    # Source: JIS B 7502, 2 micrometres for 0-25 mm (row mic_mpe_jis_0_25, from memory).
    assert value("mic_mpe_jis_0_25").how_known == "memory"
    for gauge in (SMALL, LARGE, shop_micrometer(0), shop_micrometer(25)):
        assert gauge.error_limit_mm >= _mm("mic_mpe_jis_0_25")


def test_the_dials_limits_are_the_published_ones() -> None:
    # Source: JIS B 7503:2011 extract, read.
    for row in ("dial_jis_10mm_tenth_rev", "dial_jis_10mm_repeat", "dial_jis_10mm_half_rev"):
        assert value(row).how_known == "read"
    assert pytest.approx(_mm("dial_jis_10mm_tenth_rev")) == gauges.DIAL_TENTH_TURN_LIMIT_MM
    assert pytest.approx(_mm("dial_jis_10mm_repeat")) == 2 * gauges.DIAL_REPEATABILITY_MM


@given(TRAVELS, TRAVELS, st.floats(-0.005, 0.005))
def test_the_dials_error_keeps_every_published_limit(one: float, two: float, error: float) -> None:
    gauge = dial_indicator(error)
    moved = abs((gauge.shown_mm(one) - one) - (gauge.shown_mm(two) - two))
    assert moved <= _mm("dial_jis_10mm_tenth_rev") + 1e-12
    assert moved <= _mm("dial_jis_10mm_half_rev")


def test_the_dials_worst_difference_is_its_own_error() -> None:
    gauge = dial_indicator(0.004)
    errors = [gauge.shown_mm(step / 1000) - step / 1000 for step in range(-1000, 1001)]
    assert max(errors) - min(errors) == pytest.approx(0.004)


# --- uncertainty ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "gauge", [SMALL, LARGE, shop_micrometer(0), shop_micrometer(25)], ids=lambda g: g.name
)
def test_the_micrometers_uncertainty_is_what_a_general_library_makes_of_its_parts(gauge: Micrometer) -> None:
    # Outside check: the `uncertainties` library; a rectangular part is the half width over root 3 (JCGM 100).
    scale = ufloat(0, gauge.error_limit_mm / math.sqrt(3))

    def reading() -> object:
        return scale + ufloat(0, gauge.repeatability_mm) + ufloat(0, 0.005 / math.sqrt(3))

    assert gauge.standard_uncertainty_mm == pytest.approx(reading().std_dev)  # type: ignore[attr-defined]
    difference = reading() - reading()  # type: ignore[operator]
    assert gauge.difference_uncertainty_mm == pytest.approx(difference.std_dev)


def test_the_dials_difference_is_what_a_general_library_makes_of_its_parts() -> None:
    def reading() -> object:
        return ufloat(0, DIAL.repeatability_mm) + ufloat(0, 0.005 / math.sqrt(3))

    scale = ufloat(0, 0.005 / math.sqrt(3))  # the limit of a difference: it counts once
    difference = reading() - reading() + scale  # type: ignore[operator]
    assert DIAL.difference_uncertainty_mm == pytest.approx(difference.std_dev)


def test_the_uncertainties_are_these_numbers() -> None:
    # Worked by hand: root of the sum of squares, in micrometres.
    # boxed 0-25: (4/root 3)^2 + 2^2 + (5/root 3)^2 = 5.333 + 4 + 8.333; shop 25-50: 75 + 4 + 8.333.
    assert boxed_micrometer(0).standard_uncertainty_mm * 1000 == pytest.approx(math.sqrt(17.667), abs=1e-3)
    assert shop_micrometer(25).standard_uncertainty_mm * 1000 == pytest.approx(math.sqrt(87.333), abs=1e-3)
    assert boxed_micrometer(0).difference_uncertainty_mm * 1000 == pytest.approx(math.sqrt(24.667), abs=1e-3)
    assert DIAL.difference_uncertainty_mm * 1000 == pytest.approx(math.sqrt(29.5), abs=1e-3)


def test_a_worse_scale_spoils_a_reading_but_not_a_difference() -> None:
    boxed, shop = boxed_micrometer(0), shop_micrometer(0)
    assert shop.standard_uncertainty_mm > boxed.standard_uncertainty_mm
    assert shop.difference_uncertainty_mm == boxed.difference_uncertainty_mm


def test_the_simulated_readings_scatter_as_their_uncertainty_says() -> None:
    # Monte Carlo: a new gauge for each reading, its error anywhere within the limit (as JCGM 100 assumes).
    draw = Draw(4)
    errors, differences = [], []
    for _ in range(4000):
        gauge = boxed_micrometer(0, draw.between(-0.004, 0.004))
        first, second = draw.between(20, 21), draw.between(20, 21)
        read = [gauge.reading(gauge.indicate(true, draw)) - true for true in (first, second)]
        errors.append(read[0])
        differences.append(read[0] - read[1])
    assert statistics.stdev(errors) == pytest.approx(SMALL.standard_uncertainty_mm, rel=0.05)
    assert statistics.stdev(differences) == pytest.approx(SMALL.difference_uncertainty_mm, rel=0.05)


# --- indications and readings ---------------------------------------------------------------------


@given(IN_SMALL, st.floats(-0.004, 0.004), st.integers(0, 10**6))
def test_a_micrometers_error_cancels_in_a_difference(true: float, error: float, seed: int) -> None:
    good, off = boxed_micrometer(0), boxed_micrometer(0, error)
    moved = off.indicate(true, Draw(seed)) - good.indicate(true, Draw(seed))
    assert moved == pytest.approx(error, abs=1e-12)


@given(IN_SMALL, st.integers(0, 10**6))
def test_a_clear_indication_stands_clear_of_the_middle(true: float, seed: int) -> None:
    indication = SMALL.indicate_clear(true, Draw(seed))
    lines = indication * 100
    assert abs(lines - math.floor(lines) - 0.5) * 0.01 >= CLEAR_OF_MIDPOINT_MM - 1e-8
    assert abs(indication - true) < 0.02


@given(st.floats(-50, 50))
def test_a_reading_is_the_nearest_line(indication: float) -> None:
    reading = SMALL.reading(indication)
    assert abs(reading - indication) <= 0.005 + 1e-9
    assert reading == round(reading, 2)


def test_a_reading_is_never_minus_nothing() -> None:
    assert math.copysign(1, DIAL.reading(-0.001)) == 1


@given(st.floats(-0.9, 0.9))
def test_the_dial_shows_nothing_where_it_was_set_and_mirrors_left_and_right(travel: float) -> None:
    gauge = dial_indicator(0.004)
    assert gauge.shown_mm(0) == 0
    assert gauge.shown_mm(-travel) == pytest.approx(-gauge.shown_mm(travel), abs=1e-12)


def test_a_gauge_that_repeats_too_well_says_so() -> None:
    stiff = DialIndicator("stiff gauge", 0.01, 0.0, 0.0)
    with pytest.raises(ValueError, match="settle clear of the middle"):
        stiff.indicate_clear(0.005, Draw(0))


# --- misreadings ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("indication", "parts", "misread"),
    [
        (22.37, (22, False, 37), 22.87),  # imagines a half-millimetre line that does not show
        (22.87, (22, True, 37), 22.37),  # misses the line that shows
        (22.521, (22, True, 2), 22.02),  # the half line has only just come out: not seen
        (22.478, (22, False, 48), 22.98),  # the half line is about to come out: seen too early
        (23.018, (23, False, 2), 22.52),  # the same at a whole millimetre
        (22.982, (22, True, 48), 23.48),
    ],
)
def test_the_half_millimetre_line_misleads_as_the_sleeve_shows(
    indication: float, parts: tuple[int, bool, int], misread: float
) -> None:
    assert SMALL.parts(indication) == parts
    assert SMALL.misreadings(indication)["half_millimetre_line"] == misread


@given(st.floats(0, 25))
def test_a_misread_micrometer_is_half_a_millimetre_out_and_still_on_its_scale(indication: float) -> None:
    correct, misread = SMALL.reading(indication), SMALL.misreadings(indication)
    assert abs(misread["half_millimetre_line"] - correct) == pytest.approx(0.5)
    assert 0 <= misread["half_millimetre_line"] <= 25


def test_at_the_ends_of_the_scale_the_line_can_only_mislead_inwards() -> None:
    assert LARGE.misreadings(25.02)["half_millimetre_line"] == 25.52
    assert SMALL.misreadings(24.98)["half_millimetre_line"] == 24.48


def test_a_slipped_decimal_point_moves_only_the_thimble() -> None:
    assert SMALL.misreadings(22.57)["ten_times"] == 23.2  # 22.5 and 7 lines, read as 22.5 and 0.7
    assert "ten_times" not in SMALL.misreadings(22.50)
    assert "ten_times" not in SMALL.misreadings(22.61)


def test_the_dial_is_misread_by_sign_and_by_decimal_point() -> None:
    assert DIAL.misreadings(-0.069) == {"wrong_sign": 0.07, "ten_times": -0.7}
    assert DIAL.misreadings(0.001) == {}


# --- refusals -------------------------------------------------------------------------------------

BAD = [float("nan"), float("inf"), "22.4", True, None]


@pytest.mark.parametrize("bad", BAD)
def test_a_gauge_refuses_what_is_no_number(bad: object) -> None:
    for ask in (SMALL.shown_mm, SMALL.reading, SMALL.parts, SMALL.misreadings, SMALL.is_clear, DIAL.shown_mm):
        with pytest.raises(ValueError, match="must be a"):
            ask(bad)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "make",
    [
        lambda: SMALL.shown_mm(25.1),
        lambda: LARGE.shown_mm(24.9),
        lambda: DIAL.shown_mm(5.1),
        lambda: boxed_micrometer(0, 0.0041),
        lambda: boxed_micrometer(10),
        lambda: Micrometer("odd", 0, 0.004, 0.002),
        lambda: Micrometer("odd", 0.01, -0.004, 0.002),
        lambda: Micrometer("odd", 0.01, 0.004, float("nan")),
        lambda: Micrometer("odd", 0.01, 0.004, 0.002, low_mm=25, high_mm=25),
    ],
)
def test_a_gauge_refuses_what_does_not_fit_it(make: object) -> None:
    with pytest.raises(ValueError, match=r"must be|above 0"):
        make()  # type: ignore[operator]
