"""Fluid against the law's table, measured boiling points, and general physical-property libraries."""

from __future__ import annotations

import math
from typing import Any

import pytest
from brakecourse import published
from brakecourse.trade.fluid import (
    CaliperTravel,
    WheelWear,
    boiling_minima_c,
    boiling_point_c,
    explain_level,
    judge_level,
    level_drop_mm,
    moist_boiling_c,
    piston_area_mm2,
    required_reservoir_ml,
    vapour_margin_c,
    wear_volume_ml,
    wet_water_percent,
)
from scipy import optimize, stats

from tests.published.comparison import Compare
from tests.units import pints_units

WATER, GLYCOL = "7732-18-5", "112-27-6"  # register numbers of water and triethylene glycol


def value(name: str) -> float:
    return published.value(name).value


# --- the grades' limits -------------------------------------------------------------------------------------


@pytest.mark.parametrize("grade", ["DOT 3", "DOT 4", "DOT 5"])
def test_the_minima_agree_with_the_fahrenheit_column(grade: str, compare: Compare) -> None:
    # Source: 49 CFR 571.116, S5.1.1 and S5.1.2, °F as tabulated in an encyclopaedia article; pint converts.
    stem = f"fluid_{grade.lower().replace(' ', '')}"
    for found, end in zip(boiling_minima_c(grade), ("dry", "wet"), strict=True):  # type: ignore[arg-type]
        fahrenheit = published.convert(found, "degC", "degF")
        compare.row("fluid.boiling_minima_c", fahrenheit, f"{stem}_{end}_erbp_min_f", of=grade)


@pytest.mark.parametrize("grade", ["DOT 3", "DOT 4"])
def test_a_grades_curve_starts_and_ends_at_the_laws_limits(grade: str, compare: Compare) -> None:
    # Source: 49 CFR 571.116, S5.1.1 and S5.1.2, °F as tabulated in an encyclopaedia article; pint converts.
    stem = f"fluid_{grade.lower().replace(' ', '')}"
    for water, end in ((0.0, "dry"), (wet_water_percent(), "wet")):
        boils = published.convert(boiling_point_c(grade, water), "degC", "degF")  # type: ignore[arg-type]
        compare.row("fluid.boiling_point_c", boils, f"{stem}_{end}_erbp_min_f", of=f"{grade} at {water} %")


def test_dot_5_1_is_260_and_180_whatever_the_mirrors_print() -> None:
    # Source: 49 CFR 571.116 as restated on a fluid supplier's page; some mirrors of an encyclopaedia print
    # 270 and 190 °C, which is wrong: the class has the limits of DOT 5.
    assert boiling_minima_c("DOT 5.1") == (260, 180) == boiling_minima_c("DOT 5")
    for wrong in (270, 190, 191):
        assert wrong not in boiling_minima_c("DOT 5.1")


def test_each_higher_grade_boils_later_dry_and_wet() -> None:
    # Source: the order of 49 CFR 571.116's classes.
    rows = [boiling_minima_c(grade) for grade in ("DOT 3", "DOT 4", "DOT 5.1")]  # type: ignore[arg-type]
    assert [min(pair) for pair in rows] == sorted(wet for _, wet in rows)
    assert rows == sorted(rows) and len(set(rows)) == 3


def test_the_water_of_the_wet_point(compare: Compare) -> None:
    # Source: secondary sources (by volume); from memory, the rule wets a control fluid to the same number by
    # mass. The course says "about 3.7 percent".
    compare.row("fluid.wet_water_percent", wet_water_percent(), "fluid_wet_control_fluid_water")  # memory


# --- the moisture curve -------------------------------------------------------------------------------------


def test_the_curve_has_the_shape_that_was_measured(compare: Compare) -> None:
    # Source: TRRL report LR903 (1979), abstract: vapour lock at 250, 180 and 145 °C with 0, 1 and 3 % water.
    # The ends are given to the curve; the middle is not.
    dry, middle, wet = value("moist_trl_dry"), value("moist_trl_1"), value("moist_trl_3")
    found = moist_boiling_c(1.0, dry, wet, 3.0)
    compare.row("fluid.moist_boiling_c", found, "moist_trl_1", within=5)
    line = dry + (wet - dry) / 3
    assert line - middle > 30  # a straight line misses the measurement by tens of degrees
    assert abs(found - middle) < abs(line - middle) / 5


def test_an_old_fluid_on_a_descent_has_no_margin(compare: Compare) -> None:
    # Source: TRRL LR903: half of 1000 cars and more had 3 % water; a severe descent brings 150 to 160 °C.
    water = 3.0
    hot = value("fluid_temp_descent_high")
    compare(
        "fluid.vapour_margin_c",
        "sign of the margin of a DOT 3 fluid with 3 percent of water on a severe descent",
        math.copysign(1, vapour_margin_c("DOT 3", water, hot)),
        -1,
        source="TRRL report LR903 (1979): it boils there (rows fluid_temp_descent_high, moist_trl_3)",
        how_known=published.value("fluid_temp_descent_high").how_known,
    )
    assert vapour_margin_c("DOT 3", water, value("fluid_temp_normal_high")) > 80
    assert vapour_margin_c("DOT 4", 0.0, value("fluid_temp_descent_high")) > 60


@pytest.fixture(scope="module")
def ideal_mixture():
    """Bubble point of an ideal mixture of water and triethylene glycol at one atmosphere, from thermo."""
    from thermo import VaporPressure

    water, glycol = VaporPressure(CASRN=WATER), VaporPressure(CASRN=GLYCOL)

    def boils_c(water_percent: float) -> float:
        moles = water_percent / 18.01528, (100 - water_percent) / 150.17296
        share = moles[0] / sum(moles)

        def over(kelvin: float) -> float:
            return share * water(kelvin) + (1 - share) * glycol(kelvin) - 101325

        return optimize.brentq(over, 373.15, 570.0) - 273.15

    return boils_c


@pytest.mark.parametrize("water", [0.28, 1, 2, 3, 3.7, 4])
def test_the_library_still_gives_the_tabled_mixture(ideal_mixture, water: float) -> None:
    # Source: thermo, as run when the table was made.
    name = f"moist_run_raoult_{str(water).replace('.', '_')}"
    assert ideal_mixture(water) == pytest.approx(value(name), abs=0.1)


@pytest.mark.parametrize("water", [0.28, 0.5, 1, 2, 3, 4, 5, 6])
def test_the_curve_is_that_of_an_ideal_mixture(ideal_mixture, water: float) -> None:
    # Source: thermo's vapour pressures of water and triethylene glycol, no fitting. The course's own curve
    # gets only the two ends: glycol's boiling point and the mixture at the wet point. Below 1 % it lies a
    # little low, on the careful side, for it knows the fluid's own vapour only by a rule of thumb.
    dry, wet = value("lib_chemicals_tb_teg"), ideal_mixture(wet_water_percent())
    found = moist_boiling_c(water, dry, wet, wet_water_percent())
    assert found == pytest.approx(ideal_mixture(water), abs=6.5 if water < 1 else 3)
    assert found < ideal_mixture(water) + 0.3


def test_the_free_number_of_the_curve_is_the_fluids_molar_mass(ideal_mixture) -> None:
    # Source: chemistry. The effective molar mass is not given to the curve; it comes out as glycol's own.
    from brakecourse.trade._fluid_boiling import _effective_g_mol

    dry, wet = value("lib_chemicals_tb_teg"), ideal_mixture(wet_water_percent())
    assert _effective_g_mol(dry, wet, wet_water_percent()) == pytest.approx(150.17, rel=0.01)


@pytest.mark.parametrize("grade", ["DOT 3", "DOT 4", "DOT 5.1"])
def test_the_grades_curves_bend_like_the_ideal_mixture(ideal_mixture, grade: str) -> None:
    # Source: thermo. Share of the whole fall from dry to wet that the first 1 % of water takes.
    dry, wet = boiling_minima_c(grade)  # type: ignore[arg-type]
    ours = (dry - boiling_point_c(grade, 1.0)) / (dry - wet)  # type: ignore[arg-type]
    top = value("lib_chemicals_tb_teg")
    theirs = (top - ideal_mixture(1.0)) / (top - ideal_mixture(wet_water_percent()))
    assert 0.45 < ours < theirs < 0.75  # a straight line would have 0.27
    assert ours > 1.5 / wet_water_percent()


def test_waters_own_line_is_that_of_the_steam_tables() -> None:
    # Source: CoolProp, saturation temperature at 5 MPa (a point that the curve was not given), and thermo.
    from brakecourse.trade._fluid_boiling import _water_pressure
    from thermo import VaporPressure

    at_5_mpa = _water_pressure(value("lib_coolprop_water_tsat_5mpa")) * 101325
    assert at_5_mpa == pytest.approx(5e6, rel=0.08)
    library = VaporPressure(CASRN=WATER)
    for celsius in (100, 120, 140, 160, 180, 200):
        assert _water_pressure(celsius) * 101325 == pytest.approx(library(celsius + 273.15), rel=0.02)


# --- volumes ------------------------------------------------------------------------------------------------


def test_volumes_against_unit_aware_arithmetic(compare: Compare) -> None:
    # Source: pint. A 2-inch piston that follows two pads by 1/4 in each and a rotor by 1/16 in.

    unit = pints_units()
    area = math.pi * (1 * unit.inch) ** 2
    travel = 2 * 0.25 * unit.inch + 0.0625 * unit.inch
    bore, lining, rotor = (published.convert(inches, "in", "mm") for inches in (2, 0.25, 0.0625))
    by_pint: dict[str, Any] = {"source": "pint: arithmetic that carries its units", "how_known": "run"}
    theirs = area.to("mm**2").magnitude
    compare("fluid.piston_area_mm2", "area of a 2 in piston", piston_area_mm2(bore), theirs, "mm²", **by_pint)
    followed = wear_volume_ml(bore, 1, lining, rotor)
    theirs = (area * travel).to("mL").magnitude
    compare("fluid.wear_volume_ml", "volume that follows two pads", followed, theirs, "mL", **by_pint)
    drop = (area * travel / (6 * unit.inch**2)).to("mm").magnitude
    surface = published.convert(6, "in**2", "mm**2")
    found = level_drop_mm(followed, surface)
    compare("fluid.level_drop_mm", "fall of the level in 6 in²", found, drop, "mm", **by_pint)


def test_eight_pistons_move_what_a_worked_example_says(compare: Compare) -> None:
    # Source: a calculator page's worked example of an engine's displacement: bore 4.0 in, stroke 3.5 in,
    # eight cylinders. A piston that follows two pads goes twice the wear of one.
    bore, way = (published.value(f"swept_{one}").value for one in ("bore", "stroke"))
    bore_mm, way_mm = (published.convert(one, "in", "mm") for one in (bore, way))
    pistons = int(published.value("swept_cylinders").value)
    cubic_inches = published.convert(wear_volume_ml(bore_mm, pistons, way_mm / 2), "mL", "in**3")
    compare.row("fluid.wear_volume_ml", cubic_inches, "swept_volume", share=0.00001)


def test_the_reservoir_rule_counts_every_caliper_from_new_to_worn(compare: Compare) -> None:
    # Source: government interpretation letter quoting 49 CFR 571.105, S5.4.2 (the same rule in 571.135).
    assert published.value("reservoir_rule_new_to_worn").how_known == "read"
    assert value("reservoir_rule_new_to_worn") == 1
    front = CaliperTravel(57.0, 1, 11.0, 2.0, rotor_wear_mm=2.0, clearance_mm=0.15)
    rear = CaliperTravel(38.0, 2, 10.0, 2.0, rotor_wear_mm=1.5, clearance_mm=0.15, caliper="fixed")
    # By hand, each piston's cylinder: front 25.518 cm² × 20.3 mm; rear 2 pistons of 11.341 cm² × 8.9 mm.
    by_hand = 2 * 2.5518 * 20.3 + 2 * 2 * 1.1341 * 8.9
    compare(
        "fluid.required_reservoir_ml",
        "reservoir for two front and two rear calipers",
        required_reservoir_ml([front, front, rear, rear]),
        by_hand,
        "mL",
        share=1e-4,
        source="49 CFR 571.105, S5.4.2, the rule as a government letter quotes it; the sum",
        how_known="counted",
    )


def test_a_tight_system_is_suspected_as_rarely_as_the_guard_band_says(compare: Compare) -> None:
    # Source: scipy.stats. With no leak, the measured drop scatters by u; 5 % lie beyond z(95 %) times u.
    wheels, u = [WheelWear(54.0, 1, 5.0)] * 2, 4.0
    expected = sum(wheel.volume_ml for wheel in wheels)
    probabilities = [(number + 0.5) / 2000 for number in range(2000)]
    drops = expected + u * stats.norm.ppf(probabilities)
    known = {"source": "scipy.stats.norm: what a guard band at 95 percent lets pass", "how_known": "run"}
    asked = "share of tight systems that are suspected of a leak"
    seen = sum(explain_level(drop, wheels, u).verdict == "suspect a leak" for drop in drops) / 2000
    compare("fluid.explain_level", asked, seen, 0.05, within=0.001, **known)
    told = sum(judge_level(drop, expected, u).verdict == "suspect a leak" for drop in drops) / 2000
    compare("fluid.judge_level", asked, told, 0.05, within=0.001, **known)
