"""A recipe proposes only what a vehicle can have been through."""

from __future__ import annotations

from dataclasses import replace

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.faults import HubRunOut, VariationFromRunOut, apply
from brakecourse.bench.recipes import _growth, draw_plan
from brakecourse.bench.rotor_condition import RotorCondition

VAN = motor_pool()["library_van"]
NEW = RotorCondition(
    nominal_mm=28.0, outer_radius_mm=145, inner_radius_mm=92, measuring_radius_mm=118.5, studs=5
)
TILTED = HubRunOut(0.05, 74, 0).act(NEW)  # 0.08 mm at the middle of the track


def test_the_distance_is_what_grows_the_variation_asked_for() -> None:
    grown = _growth(VAN, TILTED, 0.06)
    assert grown is not None
    assert grown.act(TILTED).grown_mm == pytest.approx(0.06)


def test_no_variation_is_proposed_that_cannot_have_grown() -> None:
    assert _growth(VAN, NEW, 0.06) is None  # nothing to grow from
    assert _growth(VAN, TILTED, 0.09) is None  # more than the run-out itself
    young = replace(VAN, odometer_km=12_000)
    assert _growth(young, TILTED, 0.06) is None  # it would have taken 18 700 km
    assert _growth(young, TILTED, 0.03) is not None


def test_a_plan_is_a_worn_rotor_with_its_faults_and_gauges_that_reach_it() -> None:
    met = 0
    for seed in range(200):
        plan = draw_plan(Draw(seed), "machine for variation", "normal")
        if plan is None:
            continue
        met += 1
        assert plan.condition == apply(replace(plan.condition, wear_mm=0), plan.faults[:1])
        thickness = plan.condition.between_anvils_mm(0, plan.vehicle.front.measuring_radius_mm)
        assert plan.micrometer.low_mm < thickness < plan.micrometer.high_mm
        assert abs(plan.micrometer.calibration_error_mm) <= plan.micrometer.error_limit_mm
        for fault in plan.faults:
            if isinstance(fault, VariationFromRunOut):
                assert fault.distance_km <= plan.vehicle.odometer_km
    assert met > 100
