"""Pad wear against inspection law, numpy, scipy, the uncertainties library and pint's units."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from brakecourse import published
from brakecourse.trade.pads import (
    PadLimits,
    PadReading,
    archard_wear_mm,
    classify_wear,
    inspection_minimum_mm,
    mean_lining_mm,
    pair_difference_mm,
    remaining_km,
    smallest_lining_mm,
    taper_mm,
    thin_end,
    wear_rate_mm_per_1000km,
)
from scipy import optimize, stats
from uncertainties import ufloat

from tests.published.comparison import Compare
from tests.units import pints_units


def value(name: str) -> float:
    return published.value(name).value


def limits(minimum_mm: float, u_mm: float = 0.0) -> PadLimits:
    return PadLimits(minimum_mm, 1.0, 1.5, 0.5, u_mm, u_mm)


# --- the law's least linings --------------------------------------------------------------------------


def test_two_rules_give_the_same_least_lining_for_bonded_pads(compare: Compare) -> None:
    # Source: 49 CFR 570.59(c), read: 1/16 in; 49 CFR 393.47(d) as summarised, read: 1.6 mm. The rule for
    # light vehicles, 49 CFR 570.5, is from memory and only shown to be the same.
    assert inspection_minimum_mm("bonded") == pytest.approx(25.4 / 16)
    tenths = round(inspection_minimum_mm("bonded"), 1)
    compare.row("pads.inspection_minimum_mm", tenths, "cmv_hydraulic_lining_min")
    assert published.convert(value("inspect_lt_lining_bonded"), "in", "mm") == inspection_minimum_mm(
        "bonded"
    )  # memory


def test_over_a_fastener_half_of_it_must_be_left() -> None:
    # Source: 49 CFR 570.59(c), read: 1/32 in over the fastener. 49 CFR 570.5 from memory: the same.
    assert inspection_minimum_mm("riveted") == pytest.approx(25.4 / 32)
    remembered = value("inspect_lt_lining_rivet")  # memory
    assert published.convert(remembered, "in", "mm") == inspection_minimum_mm("riveted")


@pytest.mark.parametrize("rule", ["cmv_hydraulic_lining_min", "cmv_air_disc_lining_min"])
def test_a_lining_under_the_laws_minimum_at_one_corner_is_below_minimum(rule: str) -> None:
    # Source: 49 CFR 393.47(d) as summarised: the least thickness, so the thinnest corner counts.
    least = value(rule)
    good = PadReading(8.0, 8.0, 8.0, 8.0)
    one_corner = PadReading(8.0, 8.0, 8.0, least - 0.1)
    assert mean_lining_mm(one_corner) > least
    finding = classify_wear(good, one_corner, limits(least))
    assert ("below minimum" in finding.patterns, finding.action) == (True, "replace")
    kept = PadReading(least, least, least, least)  # at the minimum, measured without doubt: it keeps it
    assert classify_wear(kept, kept, limits(least)).patterns == ("even",)
    doubt = classify_wear(kept, kept, limits(least, 0.05))
    assert (doubt.patterns, doubt.action) == (("even",), "replace")


# --- shape against numpy, decisions against scipy --------------------------------------------------------


@pytest.mark.parametrize("seed", range(6))
def test_measures_of_a_pad_against_array_arithmetic(seed: int, compare: Compare) -> None:
    # Source: numpy. Rows of the array are the ends (leading, trailing), columns the edges (outer, inner).
    first, second = np.round(np.random.default_rng(seed).uniform(3, 11, (2, 2, 2)), 2)
    one, other = PadReading(*first.ravel()), PadReading(*second.ravel())
    known: dict[str, Any] = {"source": "numpy's array arithmetic on the four corners", "how_known": "run"}
    taper = np.abs(np.diff(first, axis=0)).max()
    compare("pads.taper_mm", f"lengthwise taper, pad {seed}", taper_mm(one, "length"), taper, "mm", **known)
    assert taper_mm(one, "height") == pytest.approx(np.abs(np.diff(first, axis=1)).max())
    along = np.diff(first, axis=0).ravel()
    end = "trailing" if along[np.abs(along).argmax()] < 0 else "leading"
    compare("pads.thin_end", f"thin end, pad {seed}", thin_end(one, "length"), end, **known)
    across = np.diff(first, axis=1).ravel()
    assert thin_end(one, "height") == ("inner" if across[np.abs(across).argmax()] < 0 else "outer")
    least, mean = smallest_lining_mm(one), mean_lining_mm(one)
    compare("pads.smallest_lining_mm", f"smallest corner, pad {seed}", least, first.min(), "mm", **known)
    compare("pads.mean_lining_mm", f"mean of the corners, pad {seed}", mean, first.mean(), "mm", **known)
    ours, theirs = pair_difference_mm(one, other), abs(first.mean() - second.mean())
    compare(
        "pads.pair_difference_mm", f"difference of the two pads, pair {seed}", ours, theirs, "mm", **known
    )


def test_each_decision_is_the_one_of_the_normal_distribution(compare: Compare) -> None:
    # Source: scipy.stats.norm; JCGM 106: the probability that a true value keeps its limit.
    finding = classify_wear(
        PadReading(3.2, 3.1, 4.0, 3.9),
        PadReading(4.6, 4.7, 5.5, 5.4, 0.3),
        PadLimits(3, 1, 1.5, 0.5, 0.1, 0.2),
    )
    for one in finding.evidence:
        u = 0.1 if one.check == "thickness" else 0.2
        beyond = one.measured_mm - one.limit_mm if one.side == "minimum" else one.limit_mm - one.measured_mm
        compare(
            "pads.classify_wear",
            f"probability that the {one.check} of the {one.place} keeps its limit of {one.limit_mm:g} mm",
            one.decision.probability_conforming,
            stats.norm.cdf(beyond / u),
            share=1e-6,
            source="scipy.stats.norm; JCGM 106:2012",
            how_known="run",
        )
        assert one.decision.guard_band == pytest.approx(stats.norm.ppf(0.95) * u)


# --- life ------------------------------------------------------------------------------------------------


def test_the_rate_is_the_slope_of_thickness_over_distance(compare: Compare) -> None:
    # Source: numpy.polyfit.
    falling = np.polyfit([0.0, 40.0], [11.0, 6.0], 1)[0]
    compare(
        "pads.wear_rate_mm_per_1000km",
        "wear from 11 to 6 mm over 40 000 km, for each 1000 km",
        wear_rate_mm_per_1000km(11.0, 6.0, 40_000),
        -falling,
        "mm",
        source="numpy.polyfit: slope of thickness over distance",
        how_known="run",
    )


def test_a_small_doubt_gives_the_interval_of_first_order_propagation(compare: Compare) -> None:
    # Source: the uncertainties library, JCGM 100 propagation of both thicknesses.
    new, now = ufloat(11.0, 0.001), ufloat(6.0, 0.001)
    distance = 40_000 * (now - 3.0) / (new - now)
    likely, low, high = remaining_km(11.0, 6.0, 3.0, 40_000, 0.001)
    z = stats.norm.ppf(0.975)
    known: dict[str, Any] = {"source": "the uncertainties library, JCGM 100 propagation", "how_known": "run"}
    compare("pads.remaining_km", "likely distance left", likely, distance.n, "km", **known)
    reach, theirs = high - likely, z * distance.s
    compare("pads.remaining_km", "reach of its upper bound", reach, theirs, "km", share=2e-3, **known)
    assert likely - low == pytest.approx(z * distance.s, rel=2e-3)


@pytest.mark.parametrize("u", [0.05, 0.2, 0.5])
def test_the_bounds_are_where_the_readings_just_contradict_the_distance(u: float) -> None:
    # Source: Fieller's theorem, solved here as a root by scipy.optimize.brentq: a distance r (in shares of
    # the distance driven) fits as long as now - minimum - r * (new - now) is within z of its own doubt.
    new, now, minimum, driven, z = 11.0, 7.0, 3.0, 30_000, stats.norm.ppf(0.95)

    def contradiction(r: float) -> float:
        return abs(now - minimum - r * (new - now)) - z * u * np.hypot(1 + r, r)

    likely, low, high = remaining_km(new, now, minimum, driven, u, 0.90)
    assert low == pytest.approx(driven * optimize.brentq(contradiction, 0, likely / driven), rel=1e-6)
    assert high == pytest.approx(driven * optimize.brentq(contradiction, likely / driven, 20), rel=1e-6)


def test_the_interval_holds_the_truth_as_often_as_it_says() -> None:
    # Source: numpy simulation of 4000 pads with little wear, where first-order propagation fails.
    rng = np.random.default_rng(7)
    readings = np.array([11.0, 9.5]) + rng.normal(0, 0.3, (4000, 2))
    truth = 10_000 * (9.5 - 3.0) / (11.0 - 9.5)
    inside = [
        low <= truth <= high
        for new, now in readings
        if new > now
        for _, low, high in [remaining_km(new, now, 3.0, 10_000, 0.3, 0.90)]
    ]
    assert np.mean(inside) == pytest.approx(0.90, abs=0.015)


# --- Archard -----------------------------------------------------------------------------------------------


def test_archard_wear_with_units_carried_by_a_unit_library(compare: Compare) -> None:
    # Source: Archard's law V = K F s / H, its units worked out by pint.
    q = pints_units().Quantity
    volume = 1e-6 * q(4, "kN") * q(500, "km") / q(200, "MPa")
    depth = (volume / q(50, "cm**2")).to("mm").magnitude
    compare(
        "pads.archard_wear_mm",
        "depth worn off 50 cm² by 4 kN over 500 km",
        archard_wear_mm(1e-6, 4000, 500_000, 200, 5000),
        depth,
        "mm",
        source="Archard's law V = K F s / H, its units worked out by pint",
        how_known="run",
    )


def test_archard_constants_of_the_lecture_order_the_kinds_of_wear() -> None:
    # Source: NPTEL lecture 7.5: fretting 1e-6 to 1e-4, adhesive 1e-4, abrasive 1e-2 to 1e-1.
    depths = [
        archard_wear_mm(value(f"archard_k_{kind}"), 4000, 5000, 2000, 5000)
        for kind in ("fretting_low", "fretting_high", "adhesive", "abrasive_low", "abrasive_high")
    ]
    assert depths == sorted(depths)
    assert depths[-1] / depths[0] == pytest.approx(
        value("archard_k_abrasive_high") / value("archard_k_fretting_low")
    )
    assert depths[2] == pytest.approx(0.2)  # 1e-4 * 4000 N * 5000 m / (2000 MPa * 5000 mm2) = 0.2 mm
