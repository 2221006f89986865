"""Fasteners against ISO 898-1 tables, a textbook's example and sample, ISO 6789, statics and scipy."""

from __future__ import annotations

import math
import statistics

import numpy as np
import pytest
from brakecourse import published
from brakecourse.trade.conformity import type_a
from brakecourse.trade.fasteners import (
    in_tolerance,
    lubricated_scatter,
    nut_factor,
    preload_n,
    preload_range_n,
    proof_fraction,
    tensile_stress_area_mm2,
    tightening_order,
    tightening_steps_nm,
    wrench_setting_nm,
    wrench_tolerance,
)
from scipy import stats

from tests.published.comparison import Compare

# Coarse pitches after ISO 261, from memory; with another pitch the areas below would not come out.
COARSE_MM = {6: 1.0, 8: 1.25, 12: 1.75}
GRADES = ("8.8", "10.9", "12.9")


def value(name: str) -> float:
    return published.value(name).value


def si(name: str, unit: str) -> float:
    return published.convert(value(name), published.value(name).unit, unit)


# --- ISO 898-1 -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", COARSE_MM)
def test_stress_areas_are_those_of_the_table(size: int, compare: Compare) -> None:
    # Source: ISO 898-1 table on a fastener reference page, to the last printed digit.
    area = round(tensile_stress_area_mm2(size, COARSE_MM[size]), 1)
    compare.row("fasteners.tensile_stress_area_mm2", area, f"bolt_m{size}_stress_area", of=f"M{size}")


def test_the_area_formula_of_the_standard_has_the_same_constant() -> None:
    # Source: ISO 898-1, 9.1.6.1: A = pi/4 (d - 0.9382 P)^2; the constant is from memory. Ours follows from
    # the thread's basic profile.
    constant = value("bolt_area_formula_coeff")  # memory
    for size, pitch in [(6, 1.0), (12, 1.5), (14, 1.5), (18, 2.5)]:
        theirs = math.pi / 4 * (size - constant * pitch) ** 2
        assert tensile_stress_area_mm2(size, pitch) == pytest.approx(theirs, rel=1e-4)


@pytest.mark.parametrize("size", COARSE_MM)
@pytest.mark.parametrize("grade", GRADES)
def test_a_bolt_at_its_tabulated_proof_load_is_at_one(size: int, grade: str, compare: Compare) -> None:
    # Source: ISO 898-1 proof loads on a fastener reference page. The stress is taken from the M12 rows, so
    # M6 and M8 are the independent ones; loads are rounded to 100 N.
    name = grade.replace(".", "_")
    load = value(f"bolt_m{size}_proof_{name}")
    compare(
        "fasteners.proof_fraction",
        f"share of the proof load at M{size} {grade}'s tabulated proof load of {load:g} N",
        proof_fraction(load, size, COARSE_MM[size], grade),  # type: ignore[arg-type]
        1,
        within=0.0075,
        source="ISO 898-1 proof loads on a fastener reference page",
        how_known="read",
    )
    breaking = value(f"bolt_m{size}_tensile_{name}")
    assert proof_fraction(breaking, size, COARSE_MM[size], grade) > 1.2  # type: ignore[arg-type]


@pytest.mark.parametrize("grade", GRADES)
def test_the_stress_behind_the_proof_load_is_the_remembered_one(grade: str) -> None:
    # Source: ISO 898-1 Table 3: 580, 830 and 970 MPa, all three from memory. The code reads the loads.
    remembered = value(f"bolt_proof_stress_{grade.replace('.', '_')}")  # memory
    area = tensile_stress_area_mm2(14, 1.5)
    assert proof_fraction(remembered * area, 14, 1.5, grade) == pytest.approx(1, abs=1e-3)  # type: ignore[arg-type]


@pytest.mark.parametrize("grade", GRADES)
def test_the_marks_of_a_class_tell_its_strength(grade: str) -> None:
    # Source: ISO 898-1, meaning of the marks: first number = tensile strength / 100 MPa (from memory), held
    # against the table's breaking load of M12, read.
    strength = value(f"bolt_m12_tensile_{grade.replace('.', '_')}") / tensile_stress_area_mm2(12, 1.75)
    assert strength / 100 == pytest.approx(float(grade.partition(".")[0]), rel=0.05)


# --- Shigley: Table 8-15, Example 8-3, Table 8-14 --------------------------------------------------------


def test_the_nut_factors_are_the_tables_and_fall_with_better_lubrication(compare: Compare) -> None:
    # Source: Shigley 9th ed., Table 8-15.
    finishes = ("plain", "zinc", "lubricated", "cadmium", "antiseize", "locking_grip")
    factors = [nut_factor(finish) for finish in finishes]  # type: ignore[arg-type]
    for finish, factor in zip(finishes, factors, strict=True):
        compare.row("fasteners.nut_factor", factor, f"torque_k_{finish}", of=finish)
    assert factors == sorted(factors, reverse=True)


def test_example_8_3_torque_and_preload(compare: Compare) -> None:
    # Source: Shigley 9th ed., Example 8-3: 25 000 lbf in a 3/4 in bolt takes 3750 lbf·in at K = 0.2.
    found = preload_n(si("shigley_ex8_3_t_k", "N*m"), 0.75 * 25.4, nut_factor("zinc"))
    compare.row("fasteners.preload_n", published.convert(found, "N", "lbf"), "shigley_ex8_3_f")
    # The torque that the example finds from thread friction is 5.3 percent short; so is its preload here.
    short = preload_n(si("shigley_ex8_3_t_f", "N*m"), 0.75 * 25.4, nut_factor("zinc"))
    assert 100 * (1 - short / found) == pytest.approx(value("shigley_ex8_3_diff"), abs=0.05)


def test_example_8_3_stress_area_and_stress() -> None:
    # Source: Shigley 9th ed., Example 8-3: 0.373 in2 and 67.02 kpsi for 3/4 in-16. Its table's area comes
    # from the minor diameter of inch threads, so it is a little smaller than the metric rule's.
    area = tensile_stress_area_mm2(0.75 * 25.4, 25.4 / 16)
    theirs = si("shigley_ex8_3_area", "mm**2")
    assert theirs < area < 1.01 * theirs
    stress = preload_n(si("shigley_ex8_3_t_k", "N*m"), 0.75 * 25.4, 0.2) / theirs
    assert published.convert(stress, "MPa", "kpsi") == pytest.approx(value("shigley_ex8_3_stress"), abs=0.01)


def sample_kn() -> list[float]:
    return [value(f"preload_scatter_{place}") for place in range(1, 11)]


def test_the_sample_of_ten_bolts_has_the_printed_mean_and_spread(compare: Compare) -> None:
    # Source: Shigley 9th ed., Table 8-14: mean 34.18 kN, sample standard deviation 2.88 kN.
    mean, u = type_a(sample_kn())
    compare.row("conformity.type_a", round(mean, 2), "preload_scatter_mean")
    compare.row("conformity.type_a", round(u * math.sqrt(10), 2), "preload_scatter_sd")
    compare(
        "fasteners.lubricated_scatter",
        "two standard deviations of ten lubricated bolts over their mean",
        lubricated_scatter(),
        2 * statistics.stdev(sample_kn()) / statistics.fmean(sample_kn()),
        share=1e-3,
        source="Shigley 9th ed., Table 8-14, its ten preloads; the standard library's statistics",
        how_known="read",
    )


def test_the_preload_range_holds_the_sample_and_the_wrench_alone_does_not(compare: Compare) -> None:
    # Source: Shigley 9th ed., Table 8-14, ten lubricated bolts at 90 N·m. The bolt's size is not given, and
    # need not be: only K times diameter counts, and the mean preload tells it.
    torque, diameter = value("preload_scatter_torque"), 12.0
    factor = torque / value("preload_scatter_mean") / diameter
    assert preload_n(torque, diameter, factor) == pytest.approx(1000 * value("preload_scatter_mean"))
    low, high = preload_range_n(torque, diameter, factor, wrench_tolerance(200), lubricated_scatter())
    held = [low <= 1000 * pull <= high for pull in sample_kn()]
    compare(
        "fasteners.preload_range_n",
        "bolts of the sample that the range holds",
        sum(held),
        10,
        source="Shigley 9th ed., Table 8-14, ten lubricated bolts at 90 N·m",
        how_known="read",
    )
    assert high - low < 2 * 1000 * (max(sample_kn()) - min(sample_kn()))  # no range that holds anything
    low, high = preload_range_n(torque, diameter, factor, wrench_tolerance(200), 0.0)
    assert sum(low <= 1000 * pull <= high for pull in sample_kn()) <= 6


# --- the wrench ------------------------------------------------------------------------------------------


def test_the_guides_example_of_an_extension(compare: Compare) -> None:
    # Source: row torque_ext_ex4: set to 100 N·m, 500 mm wrench, 650 mm to the fastener: 130 N·m applied.
    compare(
        "fasteners.wrench_setting_nm",
        "setting that applies 130 N·m, 500 mm wrench with 150 mm more",
        wrench_setting_nm(value("torque_ext_ex4"), 500, 150),
        100,
        "N·m",
        source="a torque guide's worked example (row torque_ext_ex4)",
        how_known=published.value("torque_ext_ex4").how_known,
    )


@pytest.mark.parametrize("angle", [0.0, 30.0, 90.0, -120.0, 180.0])
def test_an_extension_at_an_angle_against_the_moment_of_a_force(angle: float) -> None:
    # Source: statics, numpy.cross. Square of the wrench at the origin, grip at -L, force square to it. The
    # wrench clicks at its own moment about the square; the nut feels the moment about itself.
    length, extension = 400.0, 80.0
    turn = math.radians(angle)
    nut = np.array([extension * math.cos(turn), extension * math.sin(turn), 0.0])
    grip, hand = np.array([-length, 0.0, 0.0]), np.array([0.0, -250.0, 0.0])
    clicks = np.cross(grip, hand)[2] / 1000
    felt = np.cross(grip - nut, hand)[2] / 1000
    assert wrench_setting_nm(felt, length, extension, angle) == pytest.approx(clicks)


def test_the_wrenchs_permitted_deviation(compare: Compare) -> None:
    # Source: ISO 6789 as stated by a calibration service (4 percent above 10 N·m) and in a tool manual (6).
    compare.row("fasteners.wrench_tolerance", 100 * wrench_tolerance(200), "torque_wrench_tol_above_10")
    compare.row("fasteners.wrench_tolerance", 100 * wrench_tolerance(10), "torque_wrench_tol_to_10")
    assert wrench_tolerance(10.01) == wrench_tolerance(200)
    edge = 100 * (1 + wrench_tolerance(200))
    assert in_tolerance(edge, 100, wrench_tolerance(200)).verdict == "within"
    assert in_tolerance(edge + 0.01, 100, wrench_tolerance(200)).verdict == "outside"


@pytest.mark.parametrize("applied", [104.0, 106.0, 109.0, 112.0, 115.0])
@pytest.mark.parametrize("u", [0.5, 1.5, 4.0])
def test_the_probability_of_a_torque_between_two_ends(applied: float, u: float, compare: Compare) -> None:
    # Source: scipy.stats.norm; JCGM 106: an interval of two limits.
    ends = stats.norm.cdf([110 * 0.96, 110 * 1.04], applied, u)
    compare(
        "fasteners.in_tolerance",
        f"probability that 110 N·m within 4 percent is kept, {applied:g} N·m applied, u {u:g}",
        in_tolerance(applied, 110, 0.04, u).probability_conforming,
        ends[1] - ends[0],
        share=1e-6,
        source="scipy.stats.norm; JCGM 106:2012, an interval of two limits",
        how_known="run",
    )


def test_the_worked_example_of_a_guarded_interval() -> None:
    # Source: rows guard_example_*: 10 plus or minus 1, U = 0.2 (k = 2). Here the band of 95 percent.
    nominal, tolerance = 10.0, value("guard_example_nominal")  # the row holds the half width
    u = value("guard_example_u") / 2
    band = stats.norm.ppf(0.95) * u
    for sign in (-1, 1):
        inside = nominal + sign * (tolerance - band - 1e-9)
        assert in_tolerance(inside, nominal, tolerance / nominal, u).verdict == "within"
        inside += sign * 1e-6
        assert in_tolerance(inside, nominal, tolerance / nominal, u).verdict == "too close to call"


def test_a_torque_of_pound_feet() -> None:
    # Source: row unit_lbfft_nm, an encyclopaedia's conversion factor: 80 lbf·ft are 108.5 N·m.
    newton_metres = 80 * value("unit_lbfft_nm")
    assert published.convert(80, "lbf*ft", "N*m") == pytest.approx(newton_metres, rel=1e-6)
    assert in_tolerance(newton_metres, published.convert(80, "lbf*ft", "N*m"), 1e-6).verdict == "within"


# --- the order -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("studs", [4, 5, 6, 8, 10])
def test_the_order_never_pulls_the_wheel_to_one_side(studs: int, compare: Compare) -> None:
    # Source: statics with numpy. The arrows of the tightened nuts are added: one nut alone gives 1, and no
    # order can avoid that. The star never gives more; going round the circle does.
    def worst_pull(order: list[int]) -> float:
        arrows = np.exp(2j * np.pi * (np.array(order) - 1) / studs)
        return float(np.abs(np.cumsum(arrows)).max())

    star = list(tightening_order(studs))
    compare(
        "fasteners.tightening_order",
        f"largest one-sided pull while {studs} nuts are tightened, in nuts",
        worst_pull(star),
        1,
        source="statics: one nut alone always gives 1; numpy adds the arrows",
        how_known="run",
    )
    assert worst_pull(list(range(1, studs + 1))) > 1.4


def test_the_rounds_share_the_torque_evenly(compare: Compare) -> None:
    # Common practice, no source; numpy.linspace.
    for ours, theirs in zip(tightening_steps_nm(129.0), np.linspace(0, 129.0, 4)[1:], strict=True):
        compare(
            "fasteners.tightening_steps_nm",
            f"round that ends at {theirs:g} N·m of 129",
            ours,
            theirs,
            "N·m",
            source="common practice, no source: even rounds; numpy.linspace",
            how_known="run",
        )
