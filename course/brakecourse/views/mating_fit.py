"""The sizes of a rotor and its hub for the drawings, and what a dial shows of a flake alone."""

from __future__ import annotations

from brakecourse.bench.faults import HubRunOut
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.bench.specification import Wheel, axle_of
from brakecourse.bench.vehicles import Vehicle
from brakecourse.views.drawings.hub_shapes import HubAndRotor


def size_of(vehicle: Vehicle, wheel: Wheel = "front left") -> HubAndRotor:
    """Return the sizes of a vehicle's hub and rotor, for the drawings."""
    brake = vehicle.axle(axle_of(wheel))
    return HubAndRotor(
        outer_mm=brake.rotor_outer_radius_mm,
        inner_mm=brake.rotor_inner_radius_mm,
        measuring_mm=brake.measuring_radius_mm,
        seat_mm=brake.seat_radius_mm,
        thickness_mm=brake.rotor.nominal_mm,
        stud_circle_mm=vehicle.stud_circle_mm,
        studs=vehicle.studs,
    )


def flake_dial_mm(vehicle: Vehicle, flake_mm: float, flake_deg: float, turned_deg: float) -> float:
    """Return what a dial on a front rotor shows with a flake under it, set to zero at the chalk mark.

    Args:
        vehicle: whose front hub and rotor.
        flake_mm: thickness of the flake; all else is perfect.
        flake_deg: where it lies at the edge of the seat, in turning order from the chalk mark.
        turned_deg: the place that stands at the dial.
    """
    brake = vehicle.front
    true = RotorCondition(
        nominal_mm=brake.rotor.nominal_mm,
        outer_radius_mm=brake.rotor_outer_radius_mm,
        inner_radius_mm=brake.rotor_inner_radius_mm,
        measuring_radius_mm=brake.measuring_radius_mm,
        studs=vehicle.studs,
    )
    tilted = HubRunOut(flake_mm, brake.seat_radius_mm, flake_deg).act(true)
    return tilted.face_offset_mm(turned_deg) - tilted.face_offset_mm(0)
