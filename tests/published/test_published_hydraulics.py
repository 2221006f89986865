"""Hydraulics and stopping against textbook examples, laws, an official table, and general libraries."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pint
import pytest
from brakecourse import published
from brakecourse.trade.hydraulics import (
    STANDARD_GRAVITY_MS2,
    axle_loads_n,
    brake_torque_nm,
    clamp_force_n,
    deceleration_ms2,
    effective_radius_mm,
    line_pressure_mpa,
    pedal_travel_mm,
    regulation_distance_m,
    stopping_distance_m,
)
from scipy import integrate

from tests.published.comparison import Compare
from tests.units import pints_units

UNIT: pint.UnitRegistry = pints_units()


def value(name: str, unit: str | None = None) -> float:
    one = published.value(name)
    return one.value if unit is None else published.convert(one.value, one.unit, unit)


# --- hydraulics ---------------------------------------------------------------------------------------------


def test_pascals_principle_in_a_brake(compare: Compare) -> None:
    # Source: OpenStax College Physics, section 11.5: 500 N on a 0.500 cm cylinder give 1.25e4 N at 2.50 cm;
    # the end-of-chapter solution gives the pressure to two figures.
    pressure = line_pressure_mpa(value("pascal_openstax_f1"), 1, value("pascal_openstax_d1", "mm"))
    pascals = published.convert(pressure, "MPa", published.value("pascal_openstax_pressure").unit)
    compare.row("hydraulics.line_pressure_mpa", pascals, "pascal_openstax_pressure", share=0.02)
    force = clamp_force_n(pressure, value("pascal_openstax_d2", "mm"))
    compare.row("hydraulics.clamp_force_n", force, "pascal_openstax_f2")


def test_units_of_the_whole_chain_against_unit_aware_arithmetic(compare: Compare) -> None:
    # Source: pint. 60 lbf on a 4:1 pedal, 7/8 in master cylinder, 2.125 in piston, 0.38 friction at 4.5 in.
    foot, bore, piston, arm = 60 * UNIT.lbf, 0.875 * UNIT.inch, 2.125 * UNIT.inch, 4.5 * UNIT.inch
    pressure = foot * 4 / (math.pi * (bore / 2) ** 2)
    clamp = pressure * math.pi * (piston / 2) ** 2
    torque = 2 * 0.38 * clamp * arm
    ours = line_pressure_mpa(published.convert(60, "lbf", "N"), 4, published.convert(0.875, "in", "mm"))
    assert ours == pytest.approx(pressure.to("MPa").magnitude)
    assert published.convert(ours, "MPa", "psi") == pytest.approx(pressure.to("psi").magnitude)
    force = clamp_force_n(ours, published.convert(2.125, "in", "mm"))
    assert force == pytest.approx(clamp.to("N").magnitude)
    turning = brake_torque_nm(force, 0.38, published.convert(4.5, "in", "mm"))
    by_pint: dict[str, Any] = {"source": "pint: arithmetic that carries its units", "how_known": "run"}
    pound_feet = published.convert(turning, "N*m", "lbf*ft")
    theirs = torque.to("lbf*ft").magnitude
    compare("hydraulics.brake_torque_nm", "brake torque of 60 lbf", pound_feet, theirs, "lbf·ft", **by_pint)
    volume = 0.25 * UNIT.fluid_ounce
    travel = (volume / (math.pi * (bore / 2) ** 2) * 4).to("mm").magnitude
    found = pedal_travel_mm(volume.to("mL").magnitude, published.convert(0.875, "in", "mm"), 4)
    compare(
        "hydraulics.pedal_travel_mm", "travel for a quarter of a fluid ounce", found, travel, "mm", **by_pint
    )


def test_inches_taken_for_millimetres_would_be_seen() -> None:
    # Trap of units: a bore of 0.875 "mm" would give 645 times the pressure. Source: pint, 1 in² in mm².
    right = line_pressure_mpa(250, 4, published.convert(0.875, "in", "mm"))
    ratio = UNIT.Quantity(1, "in**2").to("mm**2").magnitude
    assert line_pressure_mpa(250, 4, 0.875) == pytest.approx(ratio * right)
    assert right < 20 < line_pressure_mpa(250, 4, 0.875)  # MPa; no brake of this kind works above 20


@pytest.mark.parametrize(("outer", "inner"), [(140, 90), (120, 75), (160, 159), (100, 1)])
def test_effective_radii_are_those_of_the_integrals(outer: float, inner: float, compare: Compare) -> None:
    # Source: scipy.integrate. Torque over force of a ring: pressure even, or falling as 1/r (even wear).
    even_force, _ = integrate.quad(lambda r: r, inner, outer)
    even_torque, _ = integrate.quad(lambda r: r**2, inner, outer)
    worn_force, _ = integrate.quad(lambda r: 1 / r * r, inner, outer)
    worn_torque, _ = integrate.quad(lambda r: 1 / r * r**2, inner, outer)
    theirs = {"uniform_pressure": even_torque / even_force, "uniform_wear": worn_torque / worn_force}
    for model, radius in theirs.items():
        compare(
            "hydraulics.effective_radius_mm",
            f"effective radius of {outer:g} to {inner:g} mm, {model.replace('_', ' ')}",
            effective_radius_mm(outer, inner, model),  # type: ignore[arg-type]
            radius,
            "mm",
            source="scipy.integrate.quad over the ring: torque over force",
            how_known="run",
        )


# --- the road -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("slowing", [0.0, 3.0, 7.0, 9.5])
@pytest.mark.parametrize(("height", "back"), [(550, 1100), (700, 1500), (0, 1300)])
def test_axle_loads_balance_forces_and_moments(
    slowing: float, height: float, back: float, compare: Compare
) -> None:
    # Source: statics, solved by numpy. About the centre of gravity: both axle loads and the friction at the
    # road, which acts `height` below it.
    mass, wheelbase = 1600.0, 2600.0
    forces = np.array([[1.0, 1.0], [back, -(wheelbase - back)]])
    weight = mass * 9.80665  # exact, third general conference on weights and measures
    front, rear = np.linalg.solve(forces, [weight, mass * slowing * height])
    loads = axle_loads_n(mass, wheelbase, height, back, slowing)
    assert loads.rear_n == pytest.approx(rear)
    compare(
        "hydraulics.axle_loads_n",
        f"front axle at {slowing:g} m/s², centre of gravity {height:g} mm up, {back:g} mm back",
        loads.front_n,
        front,
        "N",
        source="statics: balance of forces and moments, solved by numpy.linalg",
        how_known="run",
    )


def test_standard_gravity_is_that_of_the_unit_library() -> None:
    # Source: pint's constant, after the international agreement.
    assert UNIT.Quantity(1, "standard_gravity").to("m/s**2").magnitude == STANDARD_GRAVITY_MS2


@pytest.mark.parametrize("road", ["dry", "wet"])
def test_stopping_on_dry_and_wet_concrete(road: str, compare: Compare) -> None:
    # Source: OpenStax College Physics, section 2.5. The totals with 0.500 s of reaction are from memory.
    speed = value("stop_openstax_v0", "km/h")
    slowing = value(f"stop_openstax_{road}_decel")
    found = stopping_distance_m(speed, slowing)
    braking = {"dry": "stop_openstax_dry", "wet": "stop_openstax_wet"}[road]
    assert found == pytest.approx(value(braking), abs=0.05)
    total = {"dry": "stop_openstax_dry_total", "wet": "stop_openstax_wet_total"}[road]  # memory
    assert stopping_distance_m(speed, slowing, 0.5) == pytest.approx(value(total), abs=0.05)


def test_stopping_against_a_numerical_solution_of_the_motion() -> None:
    # Source: scipy.integrate.solve_ivp, position and speed until the vehicle stands.
    def stands(_: float, state: np.ndarray) -> float:
        return state[1]

    stands.terminal = True  # type: ignore[attr-defined]
    speed_ms, slowing = 30.0, 6.2
    run = integrate.solve_ivp(
        lambda _, s: [s[1], -slowing], (0, 60), [0.0, speed_ms], events=stands, rtol=1e-9
    )
    speed = published.convert(speed_ms, "m/s", "km/h")
    assert stopping_distance_m(speed, slowing) == pytest.approx(run.y[0, -1], rel=1e-7)


def test_the_formula_for_mean_deceleration_gives_the_deceleration_back() -> None:
    # Source: UN Regulation 13, Annex 4, as reproduced: d = (vb² - ve²) / (25.92 (se - sb)), speeds in km/h.
    for speed, slowing in ((100.0, 6.43), (60.0, 3.0)):
        way = stopping_distance_m(0.8 * speed, slowing) - stopping_distance_m(0.1 * speed, slowing)
        mean = ((0.8 * speed) ** 2 - (0.1 * speed) ** 2) / (value("mfdd_constant") * way)
        assert mean == pytest.approx(slowing)


def test_sixty_miles_an_hour_in_194_feet() -> None:
    # Source: government letter nht70-2.5: 194 ft was read; the rate of 20 ft/s² is inferred from a poor scan.
    found = stopping_distance_m(
        published.convert(60, "mph", "km/h"), published.convert(20, "ft/s**2", "m/s**2")
    )
    assert published.convert(found, "m", "ft") == pytest.approx(value("stop_60mph_20fps2"), abs=0.5)


@pytest.mark.parametrize("mph", [20, 30, 40, 50, 60, 70])
def test_an_official_table_of_stopping_distances(mph: int, compare: Compare) -> None:
    # Source: UK Highway Code, typical stopping distances, whole metres. Deceleration and thinking time are
    # worked out from the 70 mph row alone; they give every other row to the rounding.
    top = published.convert(70, "mph", "m/s")
    slowing = top**2 / (2 * value("highway_code_70_brake"))
    thinking = value("highway_code_70_think") / top
    speed = published.convert(mph, "mph", "km/h")
    braking = stopping_distance_m(speed, slowing)
    compare.row(
        "hydraulics.stopping_distance_m", braking, f"highway_code_{mph}_brake", within=0.5, of=f"{mph} mph"
    )
    whole = stopping_distance_m(speed, slowing, thinking)
    assert whole - braking == pytest.approx(value(f"highway_code_{mph}_think"), abs=0.1)
    compare.row(
        "hydraulics.stopping_distance_m", whole, f"highway_code_{mph}_total", within=0.5, of=f"{mph} mph"
    )


CLASSES = ["car", "light_truck", "other_pass"]


@pytest.mark.parametrize("kind", CLASSES)
def test_braking_force_as_a_share_of_weight_is_a_deceleration(kind: str, compare: Compare) -> None:
    # Source: 67 Pa. Code ch. 175 Table I: 65.2, 52.8, 43.5 percent of the weight; 21, 17, 14 ft/s².
    mass, tyre = 1800.0, 320.0
    force = value(f"perf_{kind}_brake_force_pct") / 100 * mass * STANDARD_GRAVITY_MS2
    torques = [force * tyre / 1000 * share for share in (0.35, 0.35, 0.15, 0.15)]
    found = published.convert(deceleration_ms2(torques, tyre, mass), "m/s**2", "ft/s**2")
    compare.row("hydraulics.deceleration_ms2", found, f"perf_{kind}_decel", share=0.002, of=kind)


def test_twenty_feet_and_21_feet_a_second_squared_are_two_separate_limits() -> None:
    # Source: 67 Pa. Code ch. 175 Table I, car: 20 ft from 20 mph, and 21 ft/s². The trap: a vehicle that just
    # keeps the deceleration takes 20.49 ft, so neither limit follows from the other.
    speed = value("perf_test_speed", "km/h")
    found = stopping_distance_m(speed, value("perf_car_decel", "m/s**2"))
    assert published.convert(found, "m", "ft") == pytest.approx(20.49, abs=0.005)
    assert published.convert(found, "m", "ft") > value("perf_car_stop")
    for kind in CLASSES[1:]:  # for the others the two limits do not agree either
        way = stopping_distance_m(speed, value(f"perf_{kind}_decel", "m/s**2"))
        assert abs(published.convert(way, "m", "ft") - value(f"perf_{kind}_stop")) > 0.2


def test_the_regulations_formula_gives_the_distance_that_was_read(compare: Compare) -> None:
    # Source: government letter 11409 quoting 49 CFR 571.135, S7.5: 70 m from 100 km/h, read. The formula and
    # its two coefficients are from memory; this one point is all that holds them.
    speed = value("stop_cold_effectiveness_speed")
    found = regulation_distance_m(speed)
    compare.row("hydraulics.regulation_distance_m", found, "stop_cold_effectiveness_distance_max")
    # From memory: at other speeds the coefficients alone speak.
    linear, quadratic = value("stop_formula_linear"), value("stop_formula_quad_cold")  # memory
    assert regulation_distance_m(60) == pytest.approx(linear * 60 + quadratic * 3600)
    assert published.value("stop_formula_linear").how_known == "memory"


def test_a_stop_that_just_keeps_the_regulation_needs_a_moderate_deceleration() -> None:
    # Source: motion under constant deceleration: 70 m from 100 km/h is 5.51 m/s² with no reaction time.
    distance = value("stop_cold_effectiveness_distance_max")
    speed_ms = value("stop_cold_effectiveness_speed", "m/s")
    slowing = speed_ms**2 / (2 * distance)
    assert stopping_distance_m(100, slowing) == pytest.approx(regulation_distance_m(100))
    assert slowing == pytest.approx(5.51, abs=0.005)


def test_an_ordinary_foot_force_makes_an_ordinary_stop() -> None:
    # Source: government letter 11409: no test may need more than 500 N on the pedal. A plausible invented
    # vehicle with a booster, at half that force, stops harder than 70 m from 100 km/h asks.
    pressure = line_pressure_mpa(value("pedal_force_max") / 2, 4.0, 22.2, assist_force_n=2000)
    front = brake_torque_nm(clamp_force_n(pressure, 54.0), 0.38, effective_radius_mm(140, 90))
    rear = brake_torque_nm(clamp_force_n(pressure, 34.0), 0.38, effective_radius_mm(130, 95))
    slowing = deceleration_ms2([front, front, rear, rear], 310, 1600)
    assert 5.51 < slowing < STANDARD_GRAVITY_MS2
    assert stopping_distance_m(100, slowing) < value("stop_cold_effectiveness_distance_max")
