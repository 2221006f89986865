"""The reference stop: figures in stated ranges, published rules kept, and ranges that can be left."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from brakecourse import published
from brakecourse.bench import motor_pool, pedal, reference
from brakecourse.bench.reference import burnish_vehicle, out_of_range, reference_stop
from brakecourse.bench.specification import AXLES, Axle, axle_of
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade import burnish

POOL = motor_pool()
VAN = POOL["library_van"]
GRAVITY_MS2 = 9.80665  # exact by international agreement
each_vehicle = pytest.mark.parametrize("vehicle", POOL.values(), ids=POOL.keys())


@each_vehicle
def test_every_figure_of_a_sound_vehicle_is_plausible(vehicle: Vehicle) -> None:
    assert out_of_range(vehicle, reference_stop(vehicle)) == ()


@each_vehicle
def test_it_stops_as_a_regulation_asks_of_a_light_vehicle(vehicle: Vehicle) -> None:
    # 49 CFR 571.135, S7.5, read in a government letter: 70 m from 100 km/h, at most 500 N on the pedal.
    # The rule is for light vehicles; the two heavier ones of the pool are held to it too.
    stop = reference_stop(vehicle)
    assert stop.pedal_force_n <= published.value("pedal_force_max").value
    assert stop.stopping_distance_m <= published.value("stop_cold_effectiveness_distance_max").value


@each_vehicle
@pytest.mark.parametrize("kind", ["car", "light_truck", "other_pass"])
def test_it_slows_as_an_inspection_rule_asks(vehicle: Vehicle, kind: str) -> None:
    # 67 Pa. Code ch. 175, Table I (read): from 20 mph; the row of the car asks the most.
    speed = published.convert(published.value("perf_test_speed").value, "mph", "km/hour")
    stop = reference_stop(vehicle, speed_kmh=speed)
    least = published.convert(published.value(f"perf_{kind}_decel").value, "ft/s**2", "m/s**2")
    assert stop.deceleration_ms2 >= least
    share = published.value(f"perf_{kind}_brake_force_pct").value
    assert 100 * stop.deceleration_ms2 / GRAVITY_MS2 >= share


@each_vehicle
@pytest.mark.parametrize("mph", [20, 30, 40, 50, 60, 70])
def test_it_stops_within_the_typical_distance_of_a_driver_handbook(vehicle: Vehicle, mph: int) -> None:
    # UK Highway Code figures on an instructor page (read): braking distances, the response not counted.
    stop = reference_stop(vehicle, speed_kmh=published.convert(mph, "mph", "km/hour"))
    speed_ms = published.convert(mph, "mph", "m/s")
    braking_m = stop.stopping_distance_m - speed_ms * reference.RESPONSE_S
    assert braking_m <= published.value(f"highway_code_{mph}_brake").value + 0.5  # printed in whole metres
    assert braking_m == pytest.approx(speed_ms**2 / (2 * stop.deceleration_ms2))


@each_vehicle
def test_forces_and_energy_balance(vehicle: Vehicle) -> None:
    # Newton's second law, balance of moments about the rear contact, conservation of energy.
    stop = reference_stop(vehicle)
    forces = [2 * part.torque_nm / (vehicle.tyre_radius_mm / 1000) for part in (stop.front, stop.rear)]
    assert sum(forces) == pytest.approx(vehicle.mass_kg * stop.deceleration_ms2)
    assert forces[0] / sum(forces) == pytest.approx(stop.front_share)
    weight = vehicle.mass_kg * GRAVITY_MS2
    assert stop.front.load_n + stop.rear.load_n == pytest.approx(weight)
    behind_mm = vehicle.wheelbase_mm - vehicle.cg_to_front_mm
    tipping = vehicle.mass_kg * stop.deceleration_ms2 * vehicle.cg_height_mm
    assert stop.front.load_n * vehicle.wheelbase_mm == pytest.approx(weight * behind_mm + tipping)
    assert stop.front.adhesion_use == pytest.approx(forces[0] / stop.front.load_n)
    heat = reference.SPECIFIC_HEAT_J_KGK
    warmed = sum(
        2 * part.temperature_rise_c * vehicle.axle(part.axle).rotor_mass_kg * heat
        for part in (stop.front, stop.rear)
    )
    assert warmed == pytest.approx(vehicle.mass_kg / 2 * (100 / 3.6) ** 2)


@each_vehicle
@pytest.mark.parametrize("force_n", [60.0, 250.0, 500.0])
def test_the_front_axle_always_asks_more_of_the_road(vehicle: Vehicle, force_n: float) -> None:
    stop = reference_stop(vehicle, force_n)
    if stop.deceleration_ms2 <= 0.85 * GRAVITY_MS2:
        assert stop.front.adhesion_use > stop.rear.adhesion_use
    assert stop.rear.pressure_mpa < stop.front.pressure_mpa == stop.line_pressure_mpa


@each_vehicle
def test_the_pedal_goes_as_far_as_three_volumes_ask(vehicle: Vehicle) -> None:
    # Worked by hand: gaps of both pads at four wheels, hoses, and volume x pressure / bulk modulus.
    stop, system = reference_stop(vehicle), vehicle.hydraulics
    gaps_ml = 0.0
    for axle in AXLES:
        caliper = vehicle.axle(axle).caliper
        following = caliper.pistons // (2 if caliper.kind == "fixed" else 1)
        gaps_ml += 2 * following * math.pi / 4 * caliper.piston_bore_mm**2 * 2 * caliper.clearance_mm / 1000
    full_ml = system.system_ml - system.reservoir_area_mm2 * system.reservoir_max_mm / 1000
    swell_ml = system.expansion_ml_per_mpa * stop.line_pressure_mpa
    by_hand = gaps_ml + swell_ml + full_ml * stop.line_pressure_mpa / 1700
    assert stop.fluid_ml == pytest.approx(by_hand)
    rod_mm = 1000 * by_hand / (math.pi / 4 * system.master_bore_mm**2)
    assert stop.pedal_travel_mm == pytest.approx(system.free_play_mm + rod_mm * system.pedal_ratio)
    assert rod_mm < system.master_stroke_mm


def test_a_pedal_without_a_foot_makes_no_pressure_and_the_booster_has_an_end() -> None:
    assert pedal.line_pressure_mpa(VAN, 0.0) == 0.0
    area = math.pi / 4 * VAN.hydraulics.master_bore_mm**2
    push_n = 2000.0 * VAN.hydraulics.pedal_ratio
    most = (push_n + VAN.hydraulics.assist_limit_n) / area
    assert pedal.line_pressure_mpa(VAN, 2000.0) == pytest.approx(most)
    with pytest.raises(ValueError, match="axle must be"):
        pedal.axle_pressure_mpa(VAN, "middle", 5.0)  # type: ignore[arg-type]


def _caliper(axle: Axle, vehicle: Vehicle, factor: float) -> Vehicle:
    brake = vehicle.axle(axle)
    caliper = replace(brake.caliper, piston_bore_mm=brake.caliper.piston_bore_mm * factor)
    return replace(vehicle, **{axle: replace(brake, caliper=caliper)})  # type: ignore[arg-type]


def _system(vehicle: Vehicle, name: str, factor: float) -> Vehicle:
    changed = getattr(vehicle.hydraulics, name) * factor
    return replace(vehicle, hydraulics=replace(vehicle.hydraulics, **{name: changed}))


def _pads(vehicle: Vehicle) -> Vehicle:
    """Give both axles pads that grip less."""
    axles = {
        axle: replace(vehicle.axle(axle), pad=replace(vehicle.axle(axle).pad, friction=0.27))
        for axle in AXLES
    }
    return replace(vehicle, **axles)  # type: ignore[arg-type]


@each_vehicle
@pytest.mark.parametrize(
    ("change", "figure"),
    [
        (lambda v: _caliper("front", v, 0.5), None),
        (lambda v: _caliper("rear", v, 0.5), "deceleration"),
        (lambda v: _system(v, "master_bore_mm", 0.7), "line pressure"),
        (lambda v: _system(v, "master_bore_mm", 1.5), "line pressure"),
        (lambda v: _system(v, "assist_factor", 0.4), "deceleration"),
        (lambda v: _system(v, "expansion_ml_per_mpa", 8.0), "pedal travel"),
        (_pads, "deceleration"),
        (lambda v: replace(v, mass_kg=1.4 * v.mass_kg), "deceleration"),
        (lambda v: replace(v, mass_kg=0.7 * v.mass_kg), "deceleration"),
    ],
)
def test_one_changed_number_is_refused_or_leaves_a_range(
    vehicle: Vehicle, change: Callable[[Vehicle], Vehicle], figure: str | None
) -> None:
    try:
        changed = change(vehicle)
    except ValueError:
        return  # refused: the vehicle does not even exist
    found = out_of_range(changed, reference_stop(changed))
    assert found
    assert figure is None or figure in found


def test_an_overloaded_or_a_bare_rotor_leaves_its_range() -> None:
    stop = reference_stop(VAN)
    for axle in AXLES:
        part = getattr(stop, axle)
        for rise in (20.0, 160.0):
            hot = replace(stop, **{axle: replace(part, temperature_rise_c=rise)})
            assert out_of_range(VAN, hot) == (f"{axle} rotor",)
        slippery = replace(stop, **{axle: replace(part, adhesion_use=1.0)})
        assert out_of_range(VAN, slippery) == (f"{axle} adhesion",)


@each_vehicle
def test_bedding_in_knows_the_vehicle(vehicle: Vehicle) -> None:
    told = burnish_vehicle(vehicle, ambient_c=5.0)
    assert told.ambient_c == 5.0
    assert told.front_share == pytest.approx(reference_stop(vehicle).front_share)
    # The same heat as in the reference stop, reckoned by the burnish: one stop, nothing lost to the air.
    still = replace(told, time_constant_s=1e9)
    stop = reference_stop(vehicle)
    series = burnish.Series(1, 100.0, 0.0, stop.deceleration_ms2, 0.0)
    (braking,) = burnish.simulate(burnish.Schedule("one stop", (series,), "the test"), still)
    assert braking.end_c - 5.0 == pytest.approx(stop.front.temperature_rise_c, rel=1e-3)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, "250", True, None])
def test_what_is_no_force_or_speed_is_refused_in_one_sentence(bad: object) -> None:
    with pytest.raises(ValueError, match="pedal force in N must be"):
        reference_stop(VAN, bad)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="speed in km/h must be"):
        reference_stop(VAN, speed_kmh=bad)  # type: ignore[arg-type]


def test_the_assumed_figures_are_near_published_ones() -> None:
    # OpenStax College Physics, Table 14.1 (read); test speed: 49 CFR 571.135 as quoted in a letter (read).
    heat = published.value("specific_heat_iron_steel").value
    assert pytest.approx(heat, rel=0.01) == reference.SPECIFIC_HEAT_J_KGK
    assert published.value("stop_cold_effectiveness_speed").value == reference.SPEED_KMH
    # The formula is from memory: its part that grows with the speed itself, as a time.
    linear = published.value("stop_formula_linear").value  # memory
    assert pytest.approx(linear * 3.6) == reference.RESPONSE_S


def test_a_wheel_leads_to_the_brakes_of_its_axle() -> None:
    assert VAN.axle(axle_of("rear right")) is VAN.rear
