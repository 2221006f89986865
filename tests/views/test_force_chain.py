"""The chain from the foot to the road: the bench's reference stop, unit-aware arithmetic, brute force."""

from __future__ import annotations

import math
from dataclasses import replace

import pint
import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.reference import reference_stop
from brakecourse.views.drawings.force_flow import MOST_FOOT_N
from brakecourse.views.force_chain import DRY_ROAD_GRIP, bores_of, follow, foot_for, with_bore
from brakecourse.views.force_flow import MOST_CHANGE_MM

from tests.units import pints_units

UNIT: pint.UnitRegistry = pints_units()
POOL = motor_pool()
each_vehicle = pytest.mark.parametrize("key", POOL)


@each_vehicle
@pytest.mark.parametrize("foot", [10, 250, MOST_FOOT_N])
def test_with_its_own_bores_it_is_the_reference_stop(key: str, foot: int) -> None:
    vehicle = POOL[key]
    chain, stop = follow(vehicle, foot), reference_stop(vehicle, foot)
    assert chain.line_mpa == pytest.approx(stop.line_pressure_mpa)
    assert chain.slowing_ms2 == pytest.approx(stop.deceleration_ms2)
    assert chain.travel_mm == pytest.approx(stop.pedal_travel_mm)
    for ours, theirs in ((chain.front, stop.front), (chain.rear, stop.rear)):
        assert ours.pressure_mpa == pytest.approx(theirs.pressure_mpa)
        assert ours.clamp_n == pytest.approx(theirs.clamp_force_n)
        assert ours.torque_nm == pytest.approx(theirs.torque_nm)
        assert ours.braking_n == pytest.approx(theirs.load_n)
        assert ours.grip == pytest.approx(theirs.adhesion_use)
    assert chain.front.share == pytest.approx(stop.front_share)
    assert chain.front.share + chain.rear.share == pytest.approx(1)


@each_vehicle
def test_changed_bores_agree_with_arithmetic_that_carries_its_units(key: str) -> None:
    # Source: pint. Force over area, pressure times area, two faces, Newton's second law.
    vehicle = POOL[key]
    bores = with_bore(with_bore(bores_of(vehicle), "master", 1.5), "rear", -2)
    chain = follow(vehicle, 200, bores)
    system = vehicle.hydraulics
    push = (200 * system.pedal_ratio + system.assist_n(200)) * UNIT.newton
    pressure = push / (math.pi * (bores.master_mm * UNIT.mm / 2) ** 2)
    assert chain.line_mpa == pytest.approx(pressure.to("MPa").magnitude)
    whole = 0 * UNIT.newton
    for axle, share in (("front", 1.0), ("rear", system.rear_pressure_share)):
        brake = vehicle.axle(axle)  # type: ignore[arg-type]
        area = math.pi * (getattr(bores, f"{axle}_mm") * UNIT.mm / 2) ** 2
        clamp = share * pressure * area * brake.caliper.pushing_pistons
        assert getattr(chain, axle).clamp_n == pytest.approx(clamp.to("N").magnitude)
        friction = 2 * 2 * brake.pad.friction * clamp  # two wheels, two faces each
        whole += friction * brake.effective_radius_mm / vehicle.tyre_radius_mm
    assert chain.slowing_ms2 == pytest.approx((whole / (vehicle.mass_kg * UNIT.kg)).to("m/s**2").magnitude)


@each_vehicle
@pytest.mark.parametrize("which", ["master", "front", "rear"])
@pytest.mark.parametrize("change", [-MOST_CHANGE_MM, 0, MOST_CHANGE_MM])
def test_every_setting_of_the_explorer_can_be_worked_out(key: str, which: str, change: float) -> None:
    vehicle = POOL[key]
    bores = with_bore(bores_of(vehicle), which, change)
    before = 0.0
    for foot in (10, 100, 200, 300, MOST_FOOT_N):
        chain = follow(vehicle, foot, bores)
        loads = (chain.front, chain.rear)
        weight = sum(one.standing_n for one in loads)
        assert sum(one.braking_n for one in loads) == pytest.approx(weight)
        assert chain.rear.braking_n > 0
        assert chain.slowing_ms2 > before
        before = chain.slowing_ms2


@each_vehicle
@pytest.mark.parametrize(("which", "change"), [("front", 0), ("rear", 4), ("front", -4), ("rear", -3)])
def test_the_axle_that_locks_first_is_found_by_pushing_harder(key: str, which: str, change: float) -> None:
    # Independent: raise the push without a booster in small steps until an axle asks for more than the road
    # gives. Without one, everything grows in step with the foot.
    one = POOL[key]
    vehicle = replace(one, hydraulics=replace(one.hydraulics, assist_factor=1.0))
    bores = with_bore(bores_of(vehicle), which, change)
    for foot in range(100, 5000, 2):
        chain = follow(vehicle, foot, bores)
        over = [axle.axle for axle in (chain.front, chain.rear) if axle.grip > DRY_ROAD_GRIP]
        assert chain.too_much is bool(over)
        if over:
            break
    if len(over) == 1:  # both in the same step: nobody can say which was first
        assert follow(vehicle, 100, bores).locks_first == over[0]
    assert 100 * min(follow(vehicle, 100, bores).locks_at.values()) == pytest.approx(foot, abs=2)


def test_as_built_the_front_wheels_lock_first() -> None:
    assert {follow(vehicle, 250).locks_first for vehicle in POOL.values()} == {"front"}


def test_the_push_for_a_deceleration_is_found_or_refused() -> None:
    estate = POOL["dog_wardens_estate"]
    foot = foot_for(estate, 5.0, 400)
    assert foot and abs(follow(estate, foot).slowing_ms2 - 5.0) < 0.02
    assert foot_for(estate, 30.0, 400) is None
