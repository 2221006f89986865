"""What a sound vehicle of the motor pool does: one stop, worked out from the foot to the road.

The figures show that a vehicle's numbers belong together. They approve no vehicle for the road.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.bench.pedal import axle_pressure_mpa, fluid_sent_ml, line_pressure_mpa, pedal_travel_mm
from brakecourse.bench.specification import AXLES, Axle
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade import _checks, burnish, hydraulics

PEDAL_FORCE_N = 250.0
"""A firm push. Assumption, no source: half of the ceiling in performance tests, ``pedal_force_max``."""
SPEED_KMH = 100.0
"""Where the reference stop starts: the test speed of a regulation, ``stop_cold_effectiveness_speed``."""
SPECIFIC_HEAT_J_KGK = 450.0
"""Specific heat of a rotor's iron. Assumption, no source: ``specific_heat_iron_steel``, rounded."""
PAD_LIMIT_C, PAD_WORKING_C = 300.0, 200.0
"""What the pad maker does not want a rotor to pass while new pads are bedded in, and what it must reach once.
Invented."""
RESPONSE_S = 0.36
"""Time until the brakes act in full. From memory: what a regulation's formula lets the distance grow with the
speed itself, 0.1 m for each km/h (:func:`brakecourse.trade.hydraulics.regulation_distance_m`)."""

# Between which values a figure of a sound vehicle must lie.
PRESSURE_RANGE_MPA = (4.0, 10.0)
"""Assumption, no source: enough to feel the brakes bite finely, and far below what hoses and seals hold."""
DECELERATION_RANGE_MS2 = (6.4, 8.5)
"""Assumption, no source. The low end lets every vehicle keep the 70 m from 100 km/h of a regulation for light
vehicles (``stop_cold_effectiveness_distance_max``, read); the high end is what a dry road holds."""
PEDAL_SHARE_RANGE = (0.25, 0.60)
"""Pedal travel as a share of the way to the floor. Assumption, no source: two fifths stay in reserve."""
RISE_RANGE_C = (25.0, 150.0)
"""Warming of one rotor in one stop. Assumption, no source: many stops in a row must be possible."""
ADHESION_RANGE = (0.4, 0.9)
"""Share of an axle's load that its brakes ask of the road. Assumption, no source: a dry road gives 0.9."""


@dataclass(frozen=True)
class AxleStop:
    """The stop at one axle.

    Attributes:
        axle: which one.
        pressure_mpa: pressure in its calipers.
        clamp_force_n: force that presses one pad.
        torque_nm: brake torque of one wheel.
        load_n: what the axle carries while braking, both wheels.
        adhesion_use: braking force over load: the grip that the road must give.
        temperature_rise_c: how much warmer one rotor gets, nothing lost to the air.
    """

    axle: Axle
    pressure_mpa: float
    clamp_force_n: float
    torque_nm: float
    load_n: float
    adhesion_use: float
    temperature_rise_c: float


@dataclass(frozen=True)
class ReferenceStop:
    """One stop of a sound vehicle, new pads and rotors, fluid free of air.

    Attributes:
        pedal_force_n: force of the foot.
        line_pressure_mpa: pressure at the master cylinder.
        front, rear: what happens at each axle.
        deceleration_ms2: how hard it slows, as long as the road gives the grip.
        front_share: share of the braking that the front axle does.
        fluid_ml: what the master cylinder sends out.
        pedal_travel_mm: travel of the foot.
        stopping_distance_m: from the start speed, the brakes' response included, the driver's not.
    """

    pedal_force_n: float
    line_pressure_mpa: float
    front: AxleStop
    rear: AxleStop
    deceleration_ms2: float
    front_share: float
    fluid_ml: float
    pedal_travel_mm: float
    stopping_distance_m: float


def reference_stop(
    vehicle: Vehicle, pedal_force_n: float = PEDAL_FORCE_N, speed_kmh: float = SPEED_KMH
) -> ReferenceStop:
    """Work out one stop of a sound vehicle.

    Args:
        vehicle: the vehicle.
        pedal_force_n: force of the foot, N, above 0.
        speed_kmh: speed at the start, km/h, above 0.

    Returns:
        The figures of the stop. An adhesion use above the road's grip means: that axle would lock.

    Raises:
        ValueError: a value is no number above 0, or the rear wheels would leave the road.

    Source:
        :mod:`brakecourse.trade.hydraulics`, :mod:`brakecourse.trade.burnish`,
        :mod:`brakecourse.trade.leaks`.

    >>> from brakecourse.bench import motor_pool
    >>> stop = reference_stop(motor_pool()["library_van"])
    >>> round(stop.line_pressure_mpa, 1), round(stop.deceleration_ms2, 1)
    (7.9, 6.9)
    """
    foot = _checks.positive(pedal_force_n, "pedal force in N")
    speed = _checks.positive(speed_kmh, "speed in km/h")
    pressure = line_pressure_mpa(vehicle, foot)
    torques = [vehicle.axle(axle).torque_nm(axle_pressure_mpa(vehicle, axle, pressure)) for axle in AXLES]
    slowing = hydraulics.deceleration_ms2([*torques, *torques], vehicle.tyre_radius_mm, vehicle.mass_kg)
    fluid_ml = fluid_sent_ml(vehicle, pressure)
    return ReferenceStop(
        foot,
        pressure,
        _axle_stop(vehicle, "front", pressure, slowing, speed),
        _axle_stop(vehicle, "rear", pressure, slowing, speed),
        slowing,
        vehicle.front_share,
        fluid_ml,
        pedal_travel_mm(vehicle, fluid_ml),
        hydraulics.stopping_distance_m(speed, slowing, RESPONSE_S),
    )


def out_of_range(vehicle: Vehicle, stop: ReferenceStop) -> tuple[str, ...]:
    """Return which figures of a reference stop no sound vehicle has; empty when all are plausible.

    Args:
        vehicle: the vehicle.
        stop: its stop with :data:`PEDAL_FORCE_N` from 100 km/h.

    >>> from brakecourse.bench import motor_pool
    >>> out_of_range(motor_pool()["minibus"], reference_stop(motor_pool()["minibus"]))
    ()
    """
    figures = {
        "line pressure": (stop.line_pressure_mpa, PRESSURE_RANGE_MPA),
        "deceleration": (stop.deceleration_ms2, DECELERATION_RANGE_MS2),
        "pedal travel": (stop.pedal_travel_mm / vehicle.hydraulics.pedal_room_mm, PEDAL_SHARE_RANGE),
        "front adhesion": (stop.front.adhesion_use, ADHESION_RANGE),
        "rear adhesion": (stop.rear.adhesion_use, ADHESION_RANGE),
        "front rotor": (stop.front.temperature_rise_c, RISE_RANGE_C),
        "rear rotor": (stop.rear.temperature_rise_c, RISE_RANGE_C),
    }
    return tuple(name for name, (value, (low, high)) in figures.items() if not low <= value <= high)


def burnish_vehicle(vehicle: Vehicle, ambient_c: float = 20.0) -> burnish.BurnishVehicle:
    """Return what bedding-in needs to know of a vehicle.

    Args:
        vehicle: the vehicle.
        ambient_c: temperature of the air, °C.

    Raises:
        ValueError: the temperature is no number.

    >>> from brakecourse.bench import motor_pool
    >>> burnish_vehicle(motor_pool()["library_van"]).rotor_mass_kg
    8.5
    """
    return burnish.BurnishVehicle(
        vehicle.mass_kg,
        vehicle.front_share,
        vehicle.front.rotor_mass_kg,
        SPECIFIC_HEAT_J_KGK,
        vehicle.front.cooling_time_constant_s,
        ambient_c,
    )


def _axle_stop(vehicle: Vehicle, axle: Axle, line_mpa: float, slowing_ms2: float, kmh: float) -> AxleStop:
    brake = vehicle.axle(axle)
    pressure = axle_pressure_mpa(vehicle, axle, line_mpa)
    torque = brake.torque_nm(pressure)
    loads = hydraulics.axle_loads_n(
        vehicle.mass_kg, vehicle.wheelbase_mm, vehicle.cg_height_mm, vehicle.cg_to_front_mm, slowing_ms2
    )
    load = loads.front_n if axle == "front" else loads.rear_n
    force = 2 * torque * 1000 / vehicle.tyre_radius_mm
    energy = burnish.stop_energy_j(vehicle.mass_kg, kmh) * burnish.rotor_share(vehicle.front_share, axle)
    rise = burnish.temperature_rise_c(energy, brake.rotor_mass_kg, SPECIFIC_HEAT_J_KGK)
    clamp = brake.clamp_force_n(pressure)
    return AxleStop(axle, pressure, clamp, torque, load, force / load if load else math.inf, rise)
