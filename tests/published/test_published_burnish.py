"""Burnish against textbook examples of brake heat and cooling, a regulation, and numerical integration."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from brakecourse import published
from brakecourse.trade.burnish import (
    Braking,
    BurnishVehicle,
    Schedule,
    Series,
    burnish_schedule,
    cool_c,
    distance_km,
    peak_deceleration_ms2,
    plan,
    rotor_share,
    simulate,
    stop_energy_j,
    strokes_to_firm_pedal,
    temperature_rise_c,
    wait_for_c,
)
from scipy import integrate

from tests.published.comparison import Compare
from tests.units import pints_units


def value(name: str, unit: str | None = None) -> float:
    one = published.value(name)
    return one.value if unit is None else published.convert(one.value, one.unit, unit)


# --- energy and heat ----------------------------------------------------------------------------------------


def test_a_truck_on_a_descent(compare: Compare) -> None:
    # Source: OpenStax College Physics, specific-heat example: 10000 kg down 75.0 m, 9.80 m/s², into 100 kg of
    # brakes at 800 J/(kg K). A stop from the speed of that fall, sqrt(2 g h), has the same energy.
    mass, height = value("brake_heat_openstax_mass"), value("brake_heat_openstax_height")
    speed = published.convert(math.sqrt(2 * 9.80 * height), "m/s", "km/h")
    energy = stop_energy_j(mass, speed)
    compare.row("burnish.stop_energy_j", energy, "brake_heat_openstax_energy")
    rise = temperature_rise_c(energy, value("brake_heat_openstax_brake_mass"), value("brake_heat_openstax_c"))
    compare.row("burnish.temperature_rise_c", rise, "brake_heat_openstax_dt", within=0.5)


def test_a_car_that_stops_once() -> None:
    # Source: two physics problem pages, 750 kg from 24 and from 23 m/s into 15 kg of iron, 450 J/(kg K).
    mass, iron = value("brake_heat_ex2_mass"), value("brake_heat_ex2_iron")
    energy = stop_energy_j(mass, value("brake_heat_ex2_speed", "km/h"))
    assert energy == pytest.approx(value("brake_heat_ex2_energy"))
    assert temperature_rise_c(energy, iron, value("brake_heat_ex2_c")) == pytest.approx(
        value("brake_heat_ex2_dt"), abs=0.5
    )
    slower = stop_energy_j(mass, published.convert(23, "m/s", "km/h"))
    assert temperature_rise_c(slower, iron, value("brake_heat_ex2_c")) == pytest.approx(
        value("brake_heat_ex2_dt_23mps"), abs=0.05
    )


def test_energy_against_unit_aware_arithmetic_and_the_trap_of_miles() -> None:
    # Source: pint. 3500 lb from 40 to 20 mph. Taking mph for km/h would give 2.6 times too little.

    unit = pints_units()
    energy = 0.5 * 3500 * unit.lb * ((40 * unit.mph) ** 2 - (20 * unit.mph) ** 2)
    mass = published.convert(3500, "lb", "kg")
    fast, slow = (published.convert(mph, "mph", "km/h") for mph in (40, 20))
    assert stop_energy_j(mass, fast, slow) == pytest.approx(energy.to("J").magnitude)
    assert stop_energy_j(mass, fast, slow) / stop_energy_j(mass, 40, 20) == pytest.approx(2.59, abs=0.005)


def test_a_front_rotor_of_iron(compare: Compare) -> None:
    # Source: OpenStax Table 14.1, specific heat of iron 452 J/(kg K). The heat, counted by hand:
    # 1600 kg from 64.37 km/h: 255.8 kJ; 0.7 / 2 of it in 8 kg: 24.76 K.
    energy = stop_energy_j(1600, published.convert(40, "mph", "km/h")) * rotor_share(0.7)
    assert temperature_rise_c(energy, 8.0, value("specific_heat_iron_steel")) == pytest.approx(
        24.76, abs=0.02
    )
    compare(
        "burnish.rotor_share",
        "energy of all four rotors over the whole, 70 percent in front",
        math.fsum(
            rotor_share(0.7, axle, side=side) for axle in ("front", "rear") for side in ("left", "right")
        ),
        1,
        source="conservation of energy",
        how_known="counted",
    )


# --- cooling ------------------------------------------------------------------------------------------------


def test_a_small_sphere_cools_as_one_lump(compare: Compare) -> None:
    # Source: a heat-transfer textbook's example 4-1: 99 percent in about 10 s; Biot number 0.001, below 0.1.
    length = value("lumped_ex_d") / 6
    rate = value("lumped_ex_h") / (value("lumped_ex_rho") * value("lumped_ex_cp") * length)
    assert rate == pytest.approx(value("lumped_ex_run_b"), rel=1e-6)
    biot = value("lumped_ex_h") * length / value("lumped_ex_k")
    assert biot == pytest.approx(value("lumped_ex_bi"), rel=0.01)
    assert biot < value("biot_limit")
    seconds = wait_for_c(100.0, 1.0, 0.0, 1 / rate)
    compare.row("burnish.wait_for_c", seconds, "lumped_ex_t99", within=0.07)
    assert seconds == pytest.approx(9.94, abs=0.005)
    assert cool_c(100.0, 0.0, seconds, 1 / rate) == pytest.approx(1.0)


def test_a_cup_that_cools_from_75_to_41_degrees_above_the_room_in_half_an_hour(compare: Compare) -> None:
    # Source: numerical run, rate ln(75/41)/30 a minute.
    tau_s = 60 / value("cooling_ex_run_k")
    compare(
        "burnish.cool_c",
        "degrees above the room after half an hour, from 75",
        cool_c(20 + 75, 20, 30 * 60, tau_s) - 20,
        41,
        "K",
        within=0.001,
        source="Newton's law of cooling, numerical run (row cooling_ex_run_k)",
        how_known=published.value("cooling_ex_run_k").how_known,
    )
    assert wait_for_c(20 + 75, 20 + 41, 20, tau_s) == pytest.approx(1800, abs=0.05)


# --- the closed form, against numerical integration ---------------------------------------------------------

VEHICLES = [
    BurnishVehicle(2000, 0.7, 10.0, 450, 400, ambient_c=20),
    BurnishVehicle(1300, 0.8, 5.0, 500, 120, ambient_c=-10),
    BurnishVehicle(3500, 0.6, 14.0, 452, 1500, ambient_c=35),
]


def fade_test() -> Schedule:
    """Fifteen slowdowns from 120 to 60 km/h, one every 45 s, at 3 m/s²."""
    top, slowing = value("type1_fade_v1_max"), value("type1_fade_decel")
    end = value("type1_fade_v2_fraction") * top
    braking_s = published.convert(top - end, "km/h", "m/s") / slowing
    gap_s = value("type1_fade_cycle_time") - braking_s
    count = int(value("type1_fade_applications"))
    return Schedule("fade test", (Series(count, top, end, slowing, gap_s),), "71/320/EEC, Annex II, 1.3.1")


def integrated(
    table: tuple[Braking, ...], schedule: Schedule, vehicle: BurnishVehicle
) -> list[tuple[float, ...]]:
    """Start, hottest and end temperature of each braking, stepped through by scipy."""
    iron = vehicle.rotor_mass_kg * vehicle.specific_heat_j_kgk
    slowing = [series.deceleration_ms2 for series in schedule.series for _ in range(series.count)]
    warm, now, found = vehicle.ambient_c, 0.0, []
    for braking, rate in zip(table, slowing, strict=True):

        def cooling(_: float, t: np.ndarray) -> np.ndarray:
            return -(t - vehicle.ambient_c) / vehicle.time_constant_s

        def heating(s: float, t: np.ndarray, one: Braking = braking, rate: float = rate) -> np.ndarray:
            speed = one.from_kmh / 3.6 - rate * (s - one.start_s)
            watts = vehicle.mass_kg * rate * speed * vehicle.front_share / 2
            return cooling(s, t) + watts / iron

        options = {"rtol": 1e-9, "atol": 1e-9, "method": "DOP853"}
        if braking.start_s > now:
            warm = integrate.solve_ivp(cooling, (now, braking.start_s), [warm], **options).y[0, -1]
        run = integrate.solve_ivp(
            heating, (braking.start_s, braking.end_s), [warm], dense_output=True, **options
        )
        times = np.linspace(braking.start_s, braking.end_s, 400)
        found.append((warm, run.sol(times)[0].max(), run.y[0, -1]))
        warm, now = run.y[0, -1], braking.end_s
    return found


@pytest.mark.parametrize("vehicle", VEHICLES, ids=["van", "small car", "truck"])
@pytest.mark.parametrize("schedule", [burnish_schedule("road"), fade_test()], ids=["road", "fade test"])
def test_the_closed_form_is_the_solution_of_the_heat_equation(
    schedule: Schedule, vehicle: BurnishVehicle, compare: Compare
) -> None:
    # Source: scipy.integrate.solve_ivp on the equation itself: heat from the falling speed, cooling by air.
    # The fade test is that of Directive 71/320/EEC, Annex II (read), which the course's schedules do not use.
    table = simulate(schedule, vehicle)
    ours = [(one.start_c, one.peak_c, one.end_c) for one in table]
    theirs = integrated(table, schedule, vehicle)
    np.testing.assert_allclose(ours, theirs, atol=2e-4)
    compare(
        "burnish.simulate",
        f"hottest of the last braking, {schedule.name}, {vehicle.mass_kg:g} kg",
        ours[-1][1],
        theirs[-1][1],
        "°C",
        within=2e-4,
        source="scipy.integrate.solve_ivp on the heat equation",
        how_known="run",
    )


def test_the_fade_test_keeps_its_rhythm(compare: Compare) -> None:
    # Source: Directive 71/320/EEC, Annex II, 1.3.1: 15 applications, one every 45 s.
    table = simulate(fade_test(), VEHICLES[0])
    assert len(table) == 15
    assert all(b.start_s - a.start_s == pytest.approx(45) for a, b in pairwise(table))
    compare.row("burnish.peak_deceleration_ms2", peak_deceleration_ms2(fade_test()), "type1_fade_decel")


@pytest.mark.parametrize("schedule", [burnish_schedule("road"), fade_test()], ids=["road", "fade test"])
def test_the_distance_is_the_area_under_the_speed(schedule: Schedule, compare: Compare) -> None:
    # Source: scipy.integrate.trapezoid, exact for a speed made of straight lines.
    table = simulate(schedule, VEHICLES[0])
    times, speeds = [], []
    for one in table:
        # Up to speed at once after the braking before: the stated assumption.
        times += [times[-1] if times else one.start_s, one.start_s, one.end_s]
        speeds += [one.from_kmh, one.from_kmh, one.to_kmh]
    compare(
        "burnish.distance_km",
        f"distance of the schedule {schedule.name}",
        distance_km(table),
        integrate.trapezoid(speeds, times) / 3600,
        "km",
        source="scipy.integrate.trapezoid: area under the speed",
        how_known="run",
    )


def test_a_plans_waiting_is_confirmed_by_numerical_integration(compare: Compare) -> None:
    # Source: scipy.integrate.solve_ivp along the plan's own times.
    made = plan(VEHICLES[0], 100.0)
    hottest = max(peak for _, peak, _ in integrated(made.brakings, made.schedule, made.vehicle))
    assert made.waited_s > 60
    compare(
        "burnish.plan",
        "hottest that the rotor gets when 100 °C is the limit",
        hottest,
        100,
        "°C",
        within=1e-3,
        source="scipy.integrate.solve_ivp along the plan's own times",
        how_known="run",
    )


# --- the regulation's burnish -------------------------------------------------------------------------------


def test_the_regulations_burnish(compare: Compare) -> None:
    # Source: 49 CFR 571.135, S7.1. The 200 stops were read in a test-information form; the rest is memory.
    (series,) = burnish_schedule("regulation").series
    assert published.value("burnish_stops_135").how_known == "read"
    compare.row("burnish.burnish_schedule", series.count, "burnish_stops_135")
    remembered = ("burnish_speed_135", "burnish_decel_135", "burnish_ibt_max_135")  # memory
    assert (series.from_kmh, series.deceleration_ms2, series.ready_below_c) == tuple(map(value, remembered))
    # From memory: 2 km between stops; at the test speed of 80 km/h that is 90 s.
    interval = published.convert(value("burnish_interval_135"), "km", "m")  # memory
    assert series.gap_s == pytest.approx(interval / published.convert(series.from_kmh, "km/h", "m/s"))
    assert series.to_kmh == 0


def test_a_pedal_that_needs_pumping(compare: Compare) -> None:
    # Source: exact decimal arithmetic of the standard library.
    from decimal import ROUND_CEILING, Decimal

    for clearance, stroke in (("4.5", "1.5"), ("1.1", "0.1"), ("7.3", "2.4"), ("0.3", "0.1")):
        whole = (Decimal(clearance) / Decimal(stroke)).to_integral_value(ROUND_CEILING)
        compare(
            "burnish.strokes_to_firm_pedal",
            f"strokes of {stroke} mL that fill {clearance} mL",
            strokes_to_firm_pedal(float(clearance), float(stroke)),
            whole,
            source="exact decimal arithmetic of the standard library",
            how_known="counted",
        )
