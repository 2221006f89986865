"""What is seen, heard and felt of a wheel and of the whole vehicle."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench._condition_records import RoadCondition, Side
from brakecourse.bench._wheel_records import (
    DragCondition,
    FastenerSet,
    PadsCondition,
    RotorFit,
)
from brakecourse.bench.roots import WheelRoots
from brakecourse.bench.specification import WHEELS
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.hydraulics import STANDARD_GRAVITY_MS2, deceleration_ms2, stopping_distance_m

# What tyres hold on a dry road, as a share of the weight. Assumption, no source.
TYRE_GRIP = 0.9
REFERENCE_SPEED_KMH = 60.0
"""The speed from which the stopping distance counts. Assumption, no source."""

# From where it is noticed. Assumptions, no source.
SEEN_LEAK = 0.02
FELT_PULL_SHARE = 0.06
FELT_ROLLING_PULL_NM = 15.0
HEARD_DRAG_NM = 4.0
HEARD_BARE_MM = 0.5
HEARD_GROOVE_MM = 0.2
HEARD_LOOSE_SHARE = 0.6
HEARD_SQUEAL = 0.15
HEARD_RIDGE_MM = 0.6


def wet_places(roots: WheelRoots) -> tuple[str, ...]:
    """Return where fluid is seen at a wheel."""
    seen = {
        "hose": roots.hose_leak,
        "caliper piston's boot": roots.caliper_seal_leak,
        "fitting at the caliper": roots.fitting_leak,
    }
    return tuple(place for place, leak in seen.items() if leak >= SEEN_LEAK)


def noises(
    roots: WheelRoots,
    pads: PadsCondition,
    drag: DragCondition,
    rotor: RotorFit,
    fasteners: Sequence[FastenerSet],
) -> tuple[str, ...]:
    """Return what is heard of a wheel. Source: common practice, no source."""
    least_mm = min(*pads.inner.corners_mm, *pads.outer.corners_mm)
    loose = any(one.least_share <= HEARD_LOOSE_SHARE for one in fasteners)
    heard = {
        "squeal when braking": max(roots.glaze, 1 - roots.bedding) >= HEARD_SQUEAL,
        "grinding when braking": least_mm <= HEARD_BARE_MM,
        "scraping when braking": rotor.rotor.groove_depth_mm >= HEARD_GROOVE_MM
        or (roots.rotor.rides_on_ridge and rotor.ridge_mm >= HEARD_RIDGE_MM),
        "rubbing when rolling": drag.torque_nm >= HEARD_DRAG_NM,
        "clunk when braking starts": loose,
        "rattle over bumps": roots.pins_swapped or loose,
    }
    return tuple(noise for noise, there in heard.items() if there)


def road_condition(vehicle: Vehicle, torques_nm: Sequence[float], drags_nm: Sequence[float]) -> RoadCondition:
    """Return what the vehicle does on the road.

    Args:
        vehicle: which one.
        torques_nm, drags_nm: brake torque at the reference force, and drag torque, of each wheel.

    Source:
        Newton's second law (:mod:`brakecourse.trade.hydraulics`); the tyres' grip: assumption, no source.
    """
    slowing = deceleration_ms2(torques_nm, vehicle.tyre_radius_mm, vehicle.mass_kg)
    slowing = min(slowing, TYRE_GRIP * STANDARD_GRAVITY_MS2)
    left, right = _sides(torques_nm)
    pull = (left - right) / (left + right)
    dragged = _sides(drags_nm)
    rolling = dragged[0] - dragged[1]
    return RoadCondition(
        deceleration_ms2=slowing,
        stopping_distance_m=stopping_distance_m(REFERENCE_SPEED_KMH, slowing),
        pull_share=pull,
        pull=_side(pull, FELT_PULL_SHARE),
        rolling_pull_nm=rolling,
        rolling_pull=_side(rolling, FELT_ROLLING_PULL_NM),
    )


def _sides(values: Sequence[float]) -> tuple[float, float]:
    pairs = list(zip(WHEELS, values, strict=True))
    left, right = (sum(value for wheel, value in pairs if wheel.endswith(side)) for side in ("left", "right"))
    return left, right


def _side(value: float, felt: float) -> Side:
    if abs(value) < felt:
        return "neither"
    return "left" if value > 0 else "right"
