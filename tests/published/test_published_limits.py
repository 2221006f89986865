"""Deciding against a limit: JCGM 106 and ISO 14253-1 cases, guard-band rows, scipy's normal distribution."""

from __future__ import annotations

import math

import numpy as np
import pytest
from brakecourse import published
from brakecourse.trade.conformity import decide, expanded, guard_band
from scipy import stats

from tests.published.comparison import Compare


def value(name: str) -> float:
    return published.value(name).value


# --- JCGM 106:2012, 7.3: two worked examples. From memory: the guide's text was not at hand. --------


def test_jcgm_106_example_of_an_upper_limit(compare: Compare) -> None:
    # Source: JCGM 106:2012, 7.3, example 1, breakdown voltage of a diode; every number here is from memory.
    decision = decide(
        value("jcgm106_zener_value"),  # memory
        value("jcgm106_zener_limit"),  # memory
        "maximum",
        value("jcgm106_zener_u"),  # memory
    )
    probability = round(decision.probability_conforming, 2)
    compare.row("conformity.decide", probability, "jcgm106_zener_probability")  # memory
    assert decision.verdict == "too close to call"  # 92 percent is less than the 95 percent wanted
    assert (
        decide(
            value("jcgm106_zener_value"),  # memory
            value("jcgm106_zener_limit"),  # memory
            "maximum",
            value("jcgm106_zener_u"),  # memory
            confidence=0.90,
        ).verdict
        == "within"
    )


def test_jcgm_106_example_of_a_lower_limit() -> None:
    # Source: JCGM 106:2012, 7.3, example 2, burst strength of a container; every number here is from memory.
    decision = decide(
        value("jcgm106_container_value"),  # memory
        value("jcgm106_container_limit"),  # memory
        "minimum",
        value("jcgm106_container_u"),  # memory
    )
    assert round(decision.probability_conforming, 2) == value("jcgm106_container_probability")  # memory
    assert decision.verdict == "within"


# --- ILAC-G8:09/2019, Table 1: guard bands and what they let pass ----------------------------------


@pytest.mark.parametrize("rule", ["iso14253", "ilac_g8", "three_sigma", "six_sigma"])
def test_a_reading_on_the_acceptance_limit_is_accepted_wrongly_less_often_than_the_table_says(
    rule: str,
) -> None:
    # Source: ILAC-G8:09/2019 Table 1: guard band w times U (k = 2), with the largest false-acceptance
    # probability.
    u, limit = 0.004, 22.0
    band = value(f"guard_{rule}_w") * expanded(u)
    wrong = decide(
        limit - band, limit, "minimum", u
    ).probability_conforming  # the mirror image keeps the tail exact
    assert 100 * wrong < value(f"guard_{rule}_pfa_max")
    assert 100 * wrong == pytest.approx(
        100 * (1 - decide(limit + band, limit, "minimum", u).probability_conforming), abs=1e-12
    )


def test_with_no_guard_band_a_reading_on_the_limit_is_wrong_half_the_time() -> None:
    # Source: commentary to ILAC-G8, 4.2.1 (row guard_none_pfa_max).
    decision = decide(22.0, 22.0, "minimum", 0.01, confidence=0.5)
    assert decision.verdict == "within"
    assert 100 * (1 - decision.probability_conforming) == value("guard_none_pfa_max")


@pytest.mark.parametrize(
    ("name", "w"),
    [
        ("guard_run_pfa_0_83", 0.83),
        ("guard_run_pfa_1_0", 1.0),
        ("guard_run_pfa_1_5", 1.5),
        ("guard_run_pfa_3_0", 3.0),
    ],
)
def test_the_false_acceptance_of_each_guard_band(name: str, w: float, compare: Compare) -> None:
    # Source: scipy.stats.norm.sf(2 w), stored in the table in percent. The last one is a tail of 1e-9.
    u = 0.01
    wrong = decide(0.0, w * expanded(u), "minimum", u).probability_conforming
    assert 100 * wrong == pytest.approx(value(name), rel=5e-6, abs=0)
    compare(
        "conformity.decide",
        f"probability of a wrong yes with a guard band of {w:g} U, percent",
        100 * wrong,
        100 * stats.norm.sf(2 * w),
        "percent",
        source="scipy.stats.norm.sf",
        how_known="run",
    )


def test_two_standard_uncertainties_from_the_limit() -> None:
    # Source: scipy.stats.norm.sf(2), stored in the table.
    assert decide(-2.0, 0.0, "minimum", 1.0).probability_conforming == pytest.approx(
        value("lib_scipy_pfa"), rel=1e-12
    )


def test_the_guard_band_of_95_percent_is_the_one_of_iso_14253_1() -> None:
    # Source: ILAC-G8 Table 1 gives 0.83 U for ISO 14253-1. The 1.65 of the standard itself is from memory;
    # both are 1.645 rounded up, so the course's band is just below them.
    u = 1.0
    assert (
        value("guard_iso14253_w") * expanded(u) - 0.02
        < guard_band(u)
        < value("guard_iso14253_w") * expanded(u)
    )
    assert math.ceil(100 * guard_band(u)) / 100 == value("iso14253_guard_in_u")  # memory


def test_an_example_with_a_tolerance_on_both_sides() -> None:
    # Source: rows guard_example_*: 10 plus or minus 1 with U = 0.2 (k = 2) and a guard band of U.
    tolerance, u = value("guard_example_nominal"), value("guard_example_u") / 2
    confidence = stats.norm.cdf(2 * value("guard_ilac_g8_w"))
    for measured, expected in [(10.75, "within"), (10.85, "too close to call"), (11.15, "too close to call")]:
        assert decide(measured, 10 + tolerance, "maximum", u, confidence).verdict == expected
        assert decide(20 - measured, 10 - tolerance, "minimum", u, confidence).verdict == expected
    assert decide(11.25, 10 + tolerance, "maximum", u, confidence).verdict == "outside"


# --- scipy's normal distribution, over the whole range ---------------------------------------------


@pytest.mark.parametrize("confidence", [0.5, 0.6, 0.8, 0.9, 0.95, 0.975, 0.99, 0.999, 0.9999])
def test_the_guard_band_is_the_normal_quantile(confidence: float, compare: Compare) -> None:
    # Source: scipy.stats.norm.ppf.
    compare(
        "conformity.guard_band",
        f"guard band of u = 0.01 mm at {confidence:g}",
        guard_band(0.01, confidence),
        0.01 * stats.norm.ppf(confidence),
        "mm",
        within=1e-15,
        source="scipy.stats.norm.ppf; ISO 14253-1:2017",
        how_known="run",
    )


@pytest.mark.parametrize("distance", np.linspace(-8, 8, 33))
def test_the_probability_is_the_normal_one(distance: float) -> None:
    # Source: scipy.stats.norm.cdf and .sf, also far out in the tail.
    u = 0.004
    low = decide(float(distance) * u, 0.0, "minimum", u).probability_conforming
    high = decide(float(distance) * u, 0.0, "maximum", u).probability_conforming
    assert low == pytest.approx(stats.norm.cdf(distance), rel=1e-9, abs=0)
    assert high == pytest.approx(stats.norm.sf(distance), rel=1e-9, abs=0)


def test_a_decision_is_right_as_often_as_it_promises() -> None:
    # Source: simulation with numpy's generator. Rotors lie exactly on the limit: each "within" or "outside"
    # is then as wrong as it can be, and must not come more often than 5 percent each way.
    u, limit, tries = 0.01, 22.0, 20_000
    readings = limit + u * np.random.default_rng(20).standard_normal(tries)
    verdicts = [decide(float(reading), limit, "minimum", u).verdict for reading in readings]
    for wrong in ("within", "outside"):
        assert verdicts.count(wrong) / tries == pytest.approx(0.05, abs=0.006)
