"""What a foot on the pedal of a sound vehicle does: the pressure it makes and how far it goes down."""

from __future__ import annotations

import math

from brakecourse.bench.checks import number
from brakecourse.bench.specification import AXLES, Axle, AxleBrake, Hydraulics
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade import hydraulics, leaks

BULK_MODULUS_MPA = 1700.0
"""Stiffness of brake fluid. Assumption, no source: a round figure between those of oils and of water."""


def line_pressure_mpa(vehicle: Vehicle, pedal_force_n: float) -> float:
    """Return the pressure that the master cylinder makes, the booster helping up to its limit.

    Args:
        vehicle: the vehicle.
        pedal_force_n: force of the foot, N, 0 or more.

    Raises:
        ValueError: the force is no number of 0 or more.

    >>> from brakecourse.bench import motor_pool
    >>> round(line_pressure_mpa(motor_pool()["minibus"], 250.0), 1)
    8.2
    """
    return pressure_mpa(vehicle.hydraulics, pedal_force_n, engine_running=True)


def pressure_mpa(system: Hydraulics, pedal_force_n: float, *, engine_running: bool) -> float:
    """Return the pressure that the master cylinder makes; without the engine no booster helps, MPa.

    >>> from brakecourse.bench import motor_pool
    >>> round(pressure_mpa(motor_pool()["minibus"].hydraulics, 250.0, engine_running=False), 1)
    1.3
    """
    assist_n = system.assist_n(pedal_force_n) if engine_running else 0.0
    return hydraulics.line_pressure_mpa(pedal_force_n, system.pedal_ratio, system.master_bore_mm, assist_n)


def axle_pressure_mpa(vehicle: Vehicle, axle: Axle, line_pressure_mpa: float) -> float:
    """Return the pressure in the calipers of an axle: the valve holds the rear back.

    Args:
        vehicle: the vehicle.
        axle: ``"front"`` or ``"rear"``.
        line_pressure_mpa: pressure at the master cylinder, MPa, 0 or more.

    Raises:
        ValueError: the pressure is no number of 0 or more, or there is no such axle.

    >>> from brakecourse.bench import motor_pool
    >>> round(axle_pressure_mpa(motor_pool()["minibus"], "rear", 8.0), 2)
    7.12
    """
    pressure = number("line_pressure_mpa", line_pressure_mpa, 0)
    return (
        pressure if vehicle.axle(axle) is vehicle.front else pressure * vehicle.hydraulics.rear_pressure_share
    )


def clearance_ml(brake: AxleBrake) -> float:
    """Return the fluid that closes the gaps between the pads and rotors of an axle, both wheels, mL.

    >>> from brakecourse.bench import motor_pool
    >>> round(clearance_ml(motor_pool()["library_van"].front), 2)
    1.53
    """
    return 2 * brake.wear(brake.caliper.clearance_mm).volume_ml


def fluid_sent_ml(vehicle: Vehicle, line_pressure_mpa: float) -> float:
    """Return what the master cylinder must send out for a pressure, the fluid free of air.

    Three volumes: the pads' gaps, the swelling of hoses and seals, the fluid's own shrinking.

    Args:
        vehicle: the vehicle.
        line_pressure_mpa: pressure at the master cylinder, MPa, 0 or more.

    Raises:
        ValueError: the pressure is no number of 0 or more.

    Source:
        :func:`brakecourse.trade.leaks.compressibility_ml`. Model (assumption, no source): the whole system
        swells and shrinks as at the master cylinder's pressure, though the rear's is a little lower.

    >>> from brakecourse.bench import motor_pool
    >>> round(fluid_sent_ml(motor_pool()["library_van"], 8.0), 1)
    5.8
    """
    gaps_ml = math.fsum(clearance_ml(vehicle.axle(axle)) for axle in AXLES)
    return gaps_ml + elastic_ml(vehicle.hydraulics, line_pressure_mpa)


def elastic_ml(system: Hydraulics, line_pressure_mpa: float) -> float:
    """Return what hoses and seals swell and the fluid shrinks under a pressure, mL.

    Args and raises: as :func:`fluid_sent_ml`.

    >>> from brakecourse.bench import motor_pool
    >>> round(elastic_ml(motor_pool()["library_van"].hydraulics, 8.0), 1)
    3.7
    """
    pressure = number("line_pressure_mpa", line_pressure_mpa, 0)
    under_pressure_ml = system.system_ml - system.reservoir_ml
    shrinking_ml = leaks.compressibility_ml(under_pressure_ml, pressure, BULK_MODULUS_MPA)
    return system.expansion_ml_per_mpa * pressure + shrinking_ml


def pedal_travel_mm(vehicle: Vehicle, fluid_ml: float) -> float:
    """Return how far the foot goes down, the free play included, to send out a volume of fluid.

    Args:
        vehicle: the vehicle.
        fluid_ml: what the master cylinder sends out, mL, 0 or more.

    Raises:
        ValueError: the volume is no number of 0 or more.

    >>> from brakecourse.bench import motor_pool
    >>> round(pedal_travel_mm(motor_pool()["library_van"], 6.0), 1)
    52.4
    """
    system = vehicle.hydraulics
    moved = hydraulics.pedal_travel_mm(fluid_ml, system.master_bore_mm, system.pedal_ratio)
    return system.free_play_mm + moved
