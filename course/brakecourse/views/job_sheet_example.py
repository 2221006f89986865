"""An example for the job sheet: the readings of an invented vehicle, so that a learner can try the check."""

from __future__ import annotations

from collections.abc import Iterable

from brakecourse.bench.draw import Draw
from brakecourse.bench.gauges import GRADUATION_MM
from brakecourse.bench.job_cases import JobCase, measure_wheel
from brakecourse.bench.specification import Wheel
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import DryPins
from brakecourse.bench.vehicles import motor_pool
from brakecourse.views.units import both

EXAMPLE_KIND = "The numbers are those of an invented vehicle of the motor pool and fit no real car."
_SEED, _VEHICLE = 21, "library_van"


def example_case() -> VehicleCase:
    """Return the example's vehicle."""
    return draw_vehicle(_SEED, kinds=(DryPins,), vehicle=motor_pool()[_VEHICLE])


def _row(values: Iterable[float], places: int) -> str:
    return " ".join(f"{value:.{places}f}" for value in values)


def _readings(job: JobCase) -> dict[str, str]:
    side = job.wheel.split()[1]
    return {
        f"{side}_thickness": _row(job.readings_mm, 2),
        f"{side}_dial": _row(job.dial_readings_mm, 2),
        f"{side}_inner": _row(job.pads.inner.corners_mm, 1),
        f"{side}_outer": _row(job.pads.outer.corners_mm, 1),
    }


def _example() -> dict[str, str]:
    case = example_case()
    vehicle = case.vehicle
    brake, nut = vehicle.front, vehicle.wheel_nut
    sides: tuple[Wheel, Wheel] = ("front left", "front right")
    left, right = (measure_wheel(case, wheel, Draw(_SEED).child(wheel)) for wheel in sides)
    return {
        "vehicle": f"{vehicle.name}, {vehicle.fleet_number} (invented)",
        "axle": "front",
        "distance": both(vehicle.odometer_km, "km"),
        "person": "you",
        "complaint": "wears its front pads fast",
        "rotor_new": f"{brake.rotor.nominal_mm:g}",
        "discard": f"{brake.rotor.discard_mm:g}",
        "machine_to": f"{brake.rotor.machine_to_mm:g}",
        "variation": f"{brake.rotor.max_variation_mm:g}",
        "run_out": f"{brake.rotor.max_run_out_mm:g}",
        "lining": f"{brake.pad.minimum_mm:g}",
        "taper": f"{brake.pad.max_taper_mm:g}",
        "pair": f"{brake.pad.max_pair_difference_mm:g}",
        "nut_torque": f"{nut.torque_nm:g}",
        "micrometer_line": f"{GRADUATION_MM:g}",
        "micrometer_error": f"{left.micrometer.error_limit_mm:g}",
        "dial_line": f"{GRADUATION_MM:g}",
        "dial_error": f"{left.dial.error_limit_mm:g}",
        "depth_line": f"{left.pads.gauge.scale.line:g}",
        "depth_error": f"{left.pads.gauge.error_limit:g}",
        **_readings(left),
        **_readings(right),
        "nuts": f"{vehicle.studs}",
        "wrench": f"{nut.torque_nm:g}",
    }


EXAMPLE: dict[str, str] = _example()
"""What stands in each box of the example, by the field's id."""
