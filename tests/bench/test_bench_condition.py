"""What follows from the roots of a vehicle, checked against the laws that it stands on, worked out anew."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.condition import live, road_of
from brakecourse.bench.faults import HeatSpots
from brakecourse.bench.roots import Roots, RotorRoots, WheelRoots, sound_roots
from brakecourse.bench.specification import WHEELS, Wheel, axle_of
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.pads import PadLimits, classify_wear
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

VEHICLES = tuple(motor_pool().values())
VAN = motor_pool()["library_van"]
KM = 20_000.0
PERFECT = sound_roots("DOT 4")
GAUGE_U_MM = 0.05


def area_mm2(bore_mm: float) -> float:
    return math.pi / 4 * bore_mm**2


def clamp_n(vehicle: Vehicle, wheel: Wheel, front_mpa: float) -> float:
    """Pascal: pressure times the pistons that press one pad."""
    caliper = vehicle.axle(axle_of(wheel)).caliper
    share = 1 if axle_of(wheel) == "front" else vehicle.hydraulics.rear_pressure_share
    count = caliper.pistons if caliper.kind == "floating" else caliper.pistons // 2
    return front_mpa * share * count * area_mm2(caliper.piston_bore_mm)


# --- a perfect vehicle ----------------------------------------------------------------------------


@pytest.mark.parametrize("vehicle", VEHICLES, ids=lambda vehicle: vehicle.key)
def test_a_perfect_vehicle_wears_at_its_own_rate_and_nothing_else_happens(vehicle: Vehicle) -> None:
    perfect = live(vehicle, PERFECT, KM)
    for wheel in WHEELS:
        one, pad = perfect.wheel(wheel), vehicle.axle(axle_of(wheel)).pad
        rate = pad.wear_mm_per_1000km
        assert one.pads.inner_worn_mm == pytest.approx(rate * KM / 1000)
        assert one.pads.outer_worn_mm == pytest.approx(rate * KM / 1000)
        left = pad.lining_new_mm - rate * KM / 1000
        assert one.pads.inner.corners_mm == pytest.approx((left,) * 4)
        assert one.drag.inner_n == one.drag.outer_n == one.rotor.run_out_mm == 0
        assert one.rotor.variation_mm == pytest.approx(0, abs=1e-12)
        assert one.noises == one.wet_places == ()
    assert perfect.road.pull_share == perfect.road.rolling_pull_nm == 0
    assert perfect.pedal.words == ("firm",) and perfect.pedal.spongy_share == 0
    assert perfect.wet_places == perfect.noises == ()


@pytest.mark.parametrize("vehicle", VEHICLES, ids=lambda vehicle: vehicle.key)
def test_wear_moves_as_much_fluid_as_the_pistons_follow(vehicle: Vehicle) -> None:
    perfect = live(vehicle, PERFECT, KM)
    moved_mm3 = 0.0
    for wheel in WHEELS:
        one, brake = perfect.wheel(wheel), vehicle.axle(axle_of(wheel))
        # Both pads and both faces: in a floating caliper by every piston, in a fixed one by half of them.
        gap_mm = one.pads.inner_worn_mm + one.pads.outer_worn_mm + one.rotor.rotor.wear_mm
        count = brake.caliper.pistons if brake.caliper.kind == "floating" else brake.caliper.pistons / 2
        moved_mm3 += gap_mm * count * area_mm2(brake.caliper.piston_bore_mm)
    assert perfect.fluid.wear_explains_ml == pytest.approx(moved_mm3 / 1000)
    assert perfect.fluid.drop_ml == perfect.fluid.wear_explains_ml and perfect.fluid.lost_ml == 0
    fell_mm = vehicle.hydraulics.reservoir_max_mm - perfect.fluid.level_mm
    assert fell_mm == pytest.approx(moved_mm3 / vehicle.hydraulics.reservoir_area_mm2)


@pytest.mark.parametrize("vehicle", VEHICLES, ids=lambda vehicle: vehicle.key)
def test_brake_torque_and_stop_follow_from_the_foot(vehicle: Vehicle) -> None:
    perfect, system = live(vehicle, PERFECT, KM), vehicle.hydraulics
    push_n = perfect.pedal.force_n * system.pedal_ratio
    assist_n = min((system.assist_factor - 1) * push_n, system.assist_limit_n)
    pressure = (push_n + assist_n) / area_mm2(system.master_bore_mm)
    assert perfect.pedal.pressure_mpa == pytest.approx(pressure)
    torques = []
    for wheel in WHEELS:
        brake = vehicle.axle(axle_of(wheel))
        arm_m = brake.effective_radius_mm / 1000
        torques.append(2 * brake.pad.friction * clamp_n(vehicle, wheel, pressure) * arm_m)
        assert perfect.wheel(wheel).brake_torque_nm == pytest.approx(torques[-1])
    slowing = min(sum(torques) / (vehicle.tyre_radius_mm / 1000) / vehicle.mass_kg, 0.9 * 9.80665)
    assert perfect.road.deceleration_ms2 == pytest.approx(slowing)
    assert perfect.road.stopping_distance_m == pytest.approx((60 / 3.6) ** 2 / 2 / slowing)
    assert road_of(vehicle, PERFECT) == perfect.road


def test_the_pedal_goes_as_far_as_the_volumes_ask() -> None:
    perfect, system = live(VAN, PERFECT, KM).pedal, VAN.hydraulics
    gaps_ml = 0.0
    for wheel in WHEELS:
        caliper = VAN.axle(axle_of(wheel)).caliper
        gaps_ml += 2 * caliper.clearance_mm * caliper.pistons * area_mm2(caliper.piston_bore_mm) / 1000
    lines_ml = system.system_ml - system.reservoir_ml
    elastic_ml = perfect.pressure_mpa * (system.expansion_ml_per_mpa + lines_ml / 1700)
    per_ml = 1000 / area_mm2(system.master_bore_mm) * system.pedal_ratio
    assert perfect.travel_mm == pytest.approx(system.free_play_mm + per_ml * (gaps_ml + elastic_ml))
    assert perfect.pumped_mm == pytest.approx(system.free_play_mm + per_ml * (0.3 * gaps_ml + elastic_ml))


def test_the_rotors_warm_as_the_equation_of_heat_says() -> None:
    # Outside check: scipy integrates m c dT/dt = P - m c (T - air) / tau.
    roots = PERFECT.with_wheel("front left", piston_drag_n=1500.0)
    found, brake = live(VAN, roots, KM), VAN.front
    one = found.wheels[0]
    whole = sum(wheel.brake_torque_nm for wheel in found.wheels)
    speed_ms = 50 / 3.6
    stops_w = VAN.mass_kg * speed_ms**2 / 2 / 120 * one.brake_torque_nm / whole
    rubbing_nm = brake.pad.friction * one.drag.inner_n * brake.effective_radius_mm / 1000
    power_w = stops_w + rubbing_nm * speed_ms / (VAN.tyre_radius_mm / 1000)
    capacity = brake.rotor_mass_kg * 460
    tau = brake.cooling_time_constant_s

    def slope(_: float, t_c: list[float]) -> list[float]:
        return [power_w / capacity - (t_c[0] - 20) / tau]

    solved = solve_ivp(slope, (0, 1200), [20.0], rtol=1e-9, atol=1e-9)
    assert one.rotor_c == pytest.approx(solved.y[0][-1], abs=1e-3)
    assert one.rotor_c > found.wheels[1].rotor_c + 10


# --- laws that hold for every root ----------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(
    leading=st.floats(0, 1500), trailing=st.floats(0, 1500), bar=st.sampled_from([v.key for v in VEHICLES])
)
def test_the_force_split_is_the_wear_split(leading: float, trailing: float, bar: str) -> None:
    vehicle = motor_pool()[bar]
    wheel: Wheel = "front left" if vehicle.front.caliper.pin else "rear left"
    roots = PERFECT.with_wheel(wheel, pin_drag_n=(leading, trailing))
    pads = live(vehicle, roots, KM).wheel(wheel).pads
    clamp = clamp_n(vehicle, wheel, 1.5)
    outer = max(0.0, clamp - leading - trailing)
    assert pads.outer_worn_mm == pytest.approx(pads.inner_worn_mm * outer / clamp, abs=1e-12)
    mean = sum(pads.outer.corners_mm) / 4
    assert mean == pytest.approx(vehicle.axle(axle_of(wheel)).pad.lining_new_mm - pads.outer_worn_mm)


@settings(max_examples=30, deadline=None)
@given(
    st.floats(0, 0.12),
    st.floats(0, 0.12),
    st.floats(0, 360),
    st.floats(0, 360),
)
def test_tilts_of_hub_and_rotor_add_as_arrows(hub: float, rotor: float, at: float, high: float) -> None:
    front = VAN.front
    tilted = RotorRoots(
        flange_run_out_mm=hub, flange_high_deg=at, rotor_run_out_mm=rotor, rotor_high_deg=high
    )
    found = live(VAN, PERFECT.with_wheel("front right", rotor=tilted), KM).wheels[1].rotor
    hub_mm = hub * front.measuring_radius_mm / front.seat_radius_mm
    arrow = hub_mm * complex(math.cos(math.radians(at)), math.sin(math.radians(at)))
    arrow += rotor * complex(math.cos(math.radians(high)), math.sin(math.radians(high)))
    assert found.run_out_mm == pytest.approx(abs(arrow), abs=1e-9)


def test_smallest_and_variation_are_those_of_a_fine_scan() -> None:
    for seed in range(12):
        case = draw_vehicle(seed, 2)
        for one in case.condition.wheels:
            rotor = one.rotor.rotor
            scan = [rotor.between_anvils_mm(angle, rotor.measuring_radius_mm) for angle in range(360)]
            assert one.rotor.smallest_mm == pytest.approx(min(scan), abs=0.004)
            assert one.rotor.variation_mm == pytest.approx(max(scan) - min(scan), abs=0.006)


def test_deposits_and_heat_spots_do_not_hide_each_other() -> None:
    spotted = RotorRoots(faults=(HeatSpots(4, 0.05, 10.0),))
    for deposit_mm, spots, height in ((0.02, 4, 0.05), (0.08, 3, 0.08)):
        roots = PERFECT.with_wheel("front left", rotor=spotted, deposit_mm=deposit_mm)
        rotor = live(VAN, roots, KM).wheels[0].rotor.rotor
        assert (rotor.spots, rotor.spot_height_mm) == (spots, height)


def test_a_pedal_never_goes_through_the_floor_nor_a_level_below_the_bottom() -> None:
    soft = replace(PERFECT, air_ml=(30.0, 30.0), booster_leak=20.0)
    found = live(VAN, soft, 50_000)
    assert found.pedal.travel_mm == found.pedal.pumped_mm == VAN.hydraulics.pedal_room_mm
    assert "goes to the floor" in found.pedal.words and "low" not in found.pedal.words
    assert found.fluid.level_mm == 0


def test_a_lining_never_wears_below_nothing() -> None:
    bare = live(VAN, PERFECT, 500_000)
    assert min(bare.wheels[0].pads.inner.corners_mm) == 0
    assert "grinding when braking" in bare.noises


# --- vehicles in good order -----------------------------------------------------------------------


def test_a_vehicle_in_good_order_is_never_perfect_and_keeps_every_limit() -> None:
    for seed in range(60):
        case = draw_vehicle(seed, 0)
        condition = case.condition
        assert case.faults == () and case.roots == case.sound_roots
        assert condition.pedal.words == ("firm",), seed
        assert condition.noises == () and condition.wet_places == ()
        assert condition.road.pull == condition.road.rolling_pull == "neither"
        assert condition.road.pull_share != 0
        assert condition.fluid.vapour_margin_c > 0
        assert condition.fluid.level_mm > 0
        for one in condition.wheels:
            brake = case.vehicle.axle(axle_of(one.wheel))
            assert one.rotor.smallest_mm > brake.rotor.discard_mm
            assert 0 < one.rotor.run_out_mm < brake.rotor.max_run_out_mm
            assert 0 < one.rotor.variation_mm < brake.rotor.max_variation_mm
            pad = brake.pad
            limits = PadLimits(
                pad.minimum_mm,
                pad.max_taper_mm,
                pad.max_pair_difference_mm,
                pad.max_step_mm,
                GAUGE_U_MM,
                GAUGE_U_MM,
            )
            finding = classify_wear(one.pads.inner, one.pads.outer, limits)
            assert finding.patterns == ("even",) and finding.action in ("keep", "replace")
            assert one.pads.inner.corners_mm != one.pads.outer.corners_mm
            for fasteners in (one.nuts, one.bolts, one.bracket_bolts):
                assert 0.85 < fasteners.least_share <= fasteners.most_share < 1.15


# --- what is refused ------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [field.name for field in fields(WheelRoots)])
@pytest.mark.parametrize("bad", ["text", math.nan, math.inf, -1e9, None])
def test_roots_of_a_wheel_refuse_what_they_cannot_be(name: str, bad: object) -> None:
    whole = WheelRoots()
    now = getattr(whole, name)
    given = (bad, bad) if isinstance(now, tuple) else bad
    if name.endswith("_deg") and bad == -1e9:
        return  # an angle may be any number
    with pytest.raises(ValueError, match=r" must be .* but "):
        replace(whole, **{name: given})


@pytest.mark.parametrize("name", [field.name for field in fields(RotorRoots)])
@pytest.mark.parametrize("bad", ["text", math.nan, math.inf])
def test_roots_of_a_rotor_refuse_what_they_cannot_be(name: str, bad: object) -> None:
    with pytest.raises(ValueError, match=r" must be .* but "):
        replace(RotorRoots(), **{name: (bad,) if name == "faults" else bad})


@pytest.mark.parametrize("name", [field.name for field in fields(Roots)])
@pytest.mark.parametrize("bad", ["text", math.nan, math.inf, -1e9])
def test_roots_of_a_vehicle_refuse_what_they_cannot_be(name: str, bad: object) -> None:
    given = (bad, bad) if isinstance(getattr(PERFECT, name), tuple) else bad
    with pytest.raises(ValueError, match=r" must be .* but "):
        replace(PERFECT, **{name: given})


def test_live_refuses_what_is_no_vehicle_no_roots_and_no_distance() -> None:
    for bad in (math.nan, -1.0, "far", True):
        with pytest.raises(ValueError, match="km"):
            live(VAN, PERFECT, bad)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="vehicle must be"):
        live("van", PERFECT, KM)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="roots must be"):
        live(VAN, WheelRoots(), KM)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="wheel must be"):
        live(VAN, PERFECT, KM).wheel("spare")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="wheel must be"):
        PERFECT.wheel("spare")  # type: ignore[arg-type]
