"""The worked examples H.1 and H.2 of JCGM 100:2008 (GUM), and two general uncertainty libraries.

The examples' numbers stand in datasets/published/uncertainty.csv, each with where it was read. The bodies
of the guides themselves were not at hand: the numbers come from restatements in public uncertainty libraries.
"""

from __future__ import annotations

import math

import GTC
import numpy as np
import pytest
from brakecourse import published
from brakecourse.trade.conformity import (
    combine,
    effective_degrees_of_freedom,
    expanded,
    rectangular,
    standard_from_expanded,
    type_a,
)
from scipy import stats
from uncertainties import ufloat

from tests.published.comparison import Compare


def value(name: str) -> float:
    return published.value(name).value


# --- H.1: a gauge block compared with a standard, in nm -------------------------------------------


def h1_contributions() -> tuple[list[float], list[float]]:
    """The contributions to the length's uncertainty in nm, each with its degrees of freedom."""
    length_nm = published.convert(value("gum_h1_ls"), "mm", "nm")
    parts = [
        (value("gum_h1_ls_u"), value("gum_h1_ls_dof")),
        (value("gum_h1_d0_u"), value("gum_h1_d0_dof")),
        (value("gum_h1_d1_u"), value("gum_h1_d1_dof")),
        (value("gum_h1_d2_u"), value("gum_h1_d2_dof")),
        (
            length_nm * abs(value("gum_h1_theta")) * rectangular(value("gum_h1_dalpha_half")),
            value("gum_h1_dalpha_dof"),
        ),
        (
            length_nm * value("gum_h1_alpha") * rectangular(value("gum_h1_dtheta_half")),
            value("gum_h1_dtheta_dof"),
        ),
        # The standard's expansion and the mean temperature count only to second order: their sensitivity is
        # 0.
        (0.0 * rectangular(value("gum_h1_alpha_half")), math.inf),
        (0.0 * combine(value("gum_h1_theta_u"), value("gum_h1_cycle_amp") / math.sqrt(2)), math.inf),
    ]
    return [u for u, _ in parts], [dof for _, dof in parts]


def test_h1_combined_standard_uncertainty(compare: Compare) -> None:
    # Source: GUM H.1, printed 32 nm; 31.663879 nm from three libraries.
    contributions, _ = h1_contributions()
    found = combine(*contributions)
    assert round(found) == value("gum_h1_uc")
    compare.row("conformity.combine", found, "gum_h1_run_uc", within=5e-7)


def test_h1_effective_degrees_of_freedom(compare: Compare) -> None:
    # Source: GUM H.1, printed 16 (16.7 cut down); 16.751856 from two libraries.
    found = effective_degrees_of_freedom(*h1_contributions())
    assert math.floor(found) == value("gum_h1_veff")
    compare.row("conformity.effective_degrees_of_freedom", found, "gum_h1_run_veff", within=5e-7)


def test_h1_expanded_uncertainty_and_the_rounding_trap(compare: Compare) -> None:
    # Source: GUM H.1, printed 93 nm. It comes from 2.92 times 32, both rounded; unrounded gives 92.5 or
    # 91.9 nm.
    contributions, dof = h1_contributions()
    u = combine(*contributions)
    whole = stats.t.ppf(0.995, math.floor(effective_degrees_of_freedom(contributions, dof)))
    assert round(whole, 2) == value("gum_h1_t99_16")
    compare.row(
        "conformity.expanded", round(expanded(value("gum_h1_uc"), value("gum_h1_t99_16"))), "gum_h1_u99"
    )
    back = round(standard_from_expanded(value("gum_h1_u99"), value("gum_h1_t99_16")))
    compare.row("conformity.standard_from_expanded", back, "gum_h1_uc")
    assert expanded(u, whole) == pytest.approx(92.5, abs=0.05)
    fraction = stats.t.ppf(0.995, effective_degrees_of_freedom(contributions, dof))
    assert fraction == pytest.approx(value("gum_h1_run_k99"), abs=5e-7)
    assert expanded(u, fraction) == pytest.approx(91.9, abs=0.05)
    assert round(expanded(u, whole)) != value("gum_h1_u99")
    assert standard_from_expanded(expanded(u, whole), whole) == pytest.approx(u)


def test_h1_agrees_with_a_library_that_tracks_degrees_of_freedom() -> None:
    # Source: GTC, an uncertainty library of a national metrology institute.
    d = sum(
        GTC.ureal(mean, value(f"gum_h1_{part}_u"), value(f"gum_h1_{part}_dof"))
        for part, mean in (("d0", value("gum_h1_d0_value")), ("d1", 0.0), ("d2", 0.0))
    )
    d_alpha = GTC.ureal(0, GTC.type_b.uniform(value("gum_h1_dalpha_half")), value("gum_h1_dalpha_dof"))
    d_theta = GTC.ureal(0, GTC.type_b.uniform(value("gum_h1_dtheta_half")), value("gum_h1_dtheta_dof"))
    alpha = GTC.ureal(value("gum_h1_alpha"), GTC.type_b.uniform(value("gum_h1_alpha_half")))
    theta = GTC.ureal(value("gum_h1_theta"), value("gum_h1_theta_u"))
    theta += GTC.ureal(0, GTC.type_b.arcsine(value("gum_h1_cycle_amp")))
    standard = GTC.ureal(value("gum_h1_ls") * 1e6, value("gum_h1_ls_u"), value("gum_h1_ls_dof"))
    length = standard + d - standard * (d_alpha * theta + alpha * d_theta)
    contributions, dof = h1_contributions()
    assert round(length.x) == round(value("gum_h1_result") * 1e6)
    assert combine(*contributions) == pytest.approx(length.u, rel=1e-9)
    assert effective_degrees_of_freedom(contributions, dof) == pytest.approx(length.df, rel=1e-9)


def test_h1_agrees_with_a_library_of_first_order_propagation() -> None:
    # Source: the uncertainties library.
    d = sum(
        ufloat(mean, value(f"gum_h1_{part}_u"))
        for part, mean in (("d0", value("gum_h1_d0_value")), ("d1", 0.0), ("d2", 0.0))
    )
    d_alpha = ufloat(0, rectangular(value("gum_h1_dalpha_half")))
    d_theta = ufloat(0, rectangular(value("gum_h1_dtheta_half")))
    alpha = ufloat(value("gum_h1_alpha"), rectangular(value("gum_h1_alpha_half")))
    theta = ufloat(value("gum_h1_theta"), value("gum_h1_theta_u"))
    standard = ufloat(value("gum_h1_ls") * 1e6, value("gum_h1_ls_u"))
    length = standard + d - standard * (d_alpha * theta + alpha * d_theta)
    contributions, _ = h1_contributions()
    assert combine(*contributions) == pytest.approx(length.std_dev, rel=1e-6)


# --- H.2: five readings each of voltage, current and phase ----------------------------------------

QUANTITIES = ("v", "i", "phi")


def h2_readings(quantity: str) -> list[float]:
    return [value(f"gum_h2_{quantity}_{number}") for number in range(1, 6)]


@pytest.mark.parametrize(("quantity", "places", "places_u"), [("v", 3, 4), ("i", 6, 7), ("phi", 5, 5)])
def test_h2_mean_and_type_a_uncertainty_of_five_readings(
    quantity: str, places: int, places_u: int, compare: Compare
) -> None:
    # Source: GUM H.2, Table H.2: readings, their mean and the standard uncertainty of the mean, as printed.
    mean, u = type_a(h2_readings(quantity))
    assert round(mean, places) == value(f"gum_h2_{quantity}")
    compare.row("conformity.type_a", round(u, places_u), f"gum_h2_{quantity}_u")


def h2_correlations() -> np.ndarray:
    v_i, v_phi, i_phi = (value(f"gum_h2_corr_{pair}") for pair in ("v_i", "v_phi", "i_phi"))
    return np.array([[1, v_i, v_phi], [v_i, 1, i_phi], [v_phi, i_phi, 1]])


def h2_sensitivities() -> dict[str, tuple[float, np.ndarray]]:
    """Each result of H.2 with its derivatives by voltage, current and phase."""
    v, i, phi = (value(f"gum_h2_{quantity}") for quantity in QUANTITIES)
    z = v / i
    return {
        "r": (z * math.cos(phi), np.array([math.cos(phi) / i, -z * math.cos(phi) / i, -z * math.sin(phi)])),
        "x": (z * math.sin(phi), np.array([math.sin(phi) / i, -z * math.sin(phi) / i, z * math.cos(phi)])),
        "z": (z, np.array([1 / i, -z / i, 0.0])),
    }


@pytest.mark.parametrize(("result", "printed"), [("r", 0.071), ("x", 0.295), ("z", 0.236)])
def test_h2_combined_uncertainty_of_correlated_readings(result: str, printed: float) -> None:
    # `combine` takes independent parts. The square root of the correlation matrix turns H.2's correlated
    # readings into independent ones, so H.2 checks it too. Source: GTC on the rounded means; the guide
    # prints the number beside it from unrounded means (see the row's condition), so only to about 2
    # percent.
    u = np.array([value(f"gum_h2_{quantity}_u") for quantity in QUANTITIES])
    best, slopes = h2_sensitivities()[result]
    independent = (slopes * u) @ np.linalg.cholesky(h2_correlations())
    found = combine(*np.abs(independent))
    assert best == pytest.approx(value(f"gum_h2_run_{result}"), rel=1e-7)
    assert found == pytest.approx(value(f"gum_h2_run_{result}_u"), rel=1e-5)
    assert found == pytest.approx(printed, rel=0.02)


def test_h2_needs_its_correlations() -> None:
    # Taken as independent, the resistance would look far more uncertain: the mistake that H.2 warns of.
    u = np.array([value(f"gum_h2_{quantity}_u") for quantity in QUANTITIES])
    _, slopes = h2_sensitivities()["r"]
    assert combine(*np.abs(slopes * u)) > 2 * value("gum_h2_run_r_u")


# --- the small parts, against general libraries ---------------------------------------------------


@pytest.mark.parametrize(
    "row", [[24.01, 24.03, 24.02], [0.01, -0.02, 0.00, 0.05], [22.0, 22.0], [1e6, 1e6 + 0.01]]
)
def test_type_a_is_the_standard_error_of_the_mean(row: list[float]) -> None:
    # Source: scipy.stats.sem and numpy.mean; GTC's type_a.
    mean, u = type_a(row)
    assert mean == pytest.approx(np.mean(row))
    assert u == pytest.approx(stats.sem(row), rel=1e-6, abs=1e-15)
    assert (mean, u) == pytest.approx((GTC.type_a.mean(row), GTC.type_a.standard_uncertainty(row)), rel=1e-6)


@pytest.mark.parametrize("half_width", [0.005, 0.0005, 4.0])
def test_rectangular_is_the_standard_deviation_of_a_uniform_distribution(
    half_width: float, compare: Compare
) -> None:
    # Source: scipy.stats.uniform; GTC's type_b.
    compare(
        "conformity.rectangular",
        f"standard uncertainty of a half width of {half_width:g}",
        rectangular(half_width),
        stats.uniform(-half_width, 2 * half_width).std(),
        source="scipy.stats.uniform",
        how_known="run",
    )
    assert rectangular(half_width) == pytest.approx(GTC.type_b.uniform(half_width))


@pytest.mark.parametrize(
    ("name", "probability", "dof"),
    [
        ("t_95_4", 0.975, 4),
        ("t_95_5", 0.975, 5),
        ("t_95_9", 0.975, 9),
        ("t_95_10", 0.975, 10),
        ("t_95_24", 0.975, 24),
        ("t_99_16", 0.995, 16),
    ],
)
def test_an_interval_from_few_readings_uses_the_t_factor(name: str, probability: float, dof: int) -> None:
    # Source: scipy.stats; the factors stand in the table and agree with GUM Table G.2 to 3 figures.
    assert stats.t.ppf(probability, dof) == pytest.approx(value(name), abs=5e-5)
    row = [24.0 + 0.01 * math.sin(number) for number in range(dof + 1)]
    mean, u = type_a(row)
    low, high = stats.t.interval(2 * probability - 1, dof, loc=np.mean(row), scale=stats.sem(row))
    assert (mean - expanded(u, value(name)), mean + expanded(u, value(name))) == pytest.approx(
        (low, high), abs=1e-6
    )
