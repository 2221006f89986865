"""From the wheels to the road: deceleration, the load on each axle, and the way to a stop."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse import published
from brakecourse.trade import _checks

STANDARD_GRAVITY_MS2 = 9.80665
"""Exact by international agreement (third general conference on weights and measures, 1901)."""

_SECONDS_PER_HOUR = 3600.0


@dataclass(frozen=True)
class AxleLoads:
    """The weight that each axle carries on the road, in N.

    Attributes:
        front_n: load of the front axle, both wheels together.
        rear_n: load of the rear axle, both wheels together.
    """

    front_n: float
    rear_n: float


def deceleration_ms2(torques_nm: Sequence[float], tyre_radius_mm: float, mass_kg: float) -> float:
    """Return how hard the brakes slow the vehicle, as long as no wheel locks.

    Args:
        torques_nm: brake torque of every braked wheel, N·m, each 0 or more, at least one.
        tyre_radius_mm: wheel centre to road, mm, above 0.
        mass_kg: mass of the loaded vehicle, kg, above 0.

    Returns:
        Deceleration, m/s². The road may give less: no tyre holds more than its grip.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Newton's second law; the wheels' own inertia is left out.

    Example:
        >>> round(deceleration_ms2([1500, 1500, 500, 500], 310, 1600), 2)
        8.06
    """
    radius_m = _checks.positive(tyre_radius_mm, "tyre radius in mm") / 1000
    mass = _checks.positive(mass_kg, "mass in kg")
    name = "brake torque in N·m"
    torques = _checks.row(torques_nm, name, at_least=1)
    whole = math.fsum(
        _checks.not_negative(torque, f"{name}, place {place},") for place, torque in enumerate(torques, 1)
    )
    return whole / radius_m / mass


def axle_loads_n(
    mass_kg: float,
    wheelbase_mm: float,
    cg_height_mm: float,
    cg_to_front_mm: float,
    deceleration_ms2: float,
) -> AxleLoads:
    """Return what each axle carries while braking on a level road.

    Braking shifts ``mass * deceleration * height / wheelbase`` from the rear axle to the front.

    Args:
        mass_kg: mass of the loaded vehicle, kg, above 0.
        wheelbase_mm: front axle to rear axle, mm, above 0.
        cg_height_mm: height of the centre of gravity above the road, mm, 0 or more.
        cg_to_front_mm: centre of gravity to front axle, along the road, mm, 0 up to the wheelbase.
        deceleration_ms2: deceleration, m/s², 0 or more.

    Returns:
        Load of the front and of the rear axle, N.

    Raises:
        ValueError: a value is no number in its range, or the rear wheels would leave the road.

    Source:
        Balance of forces and moments; standard gravity.

    Example:
        >>> standing = axle_loads_n(1600, 2600, 550, 1100, 0)
        >>> braking = axle_loads_n(1600, 2600, 550, 1100, 7)
        >>> round(standing.front_n), round(braking.front_n)
        (9052, 11422)
    """
    mass = _checks.positive(mass_kg, "mass in kg")
    wheelbase = _checks.positive(wheelbase_mm, "wheelbase in mm")
    height = _checks.not_negative(cg_height_mm, "height of the centre of gravity in mm")
    back = _checks.not_negative(cg_to_front_mm, "centre of gravity to front axle in mm")
    slowing = _checks.not_negative(deceleration_ms2, "deceleration in m/s²")
    if back > wheelbase:
        raise ValueError(
            f"centre of gravity to front axle in mm must be at most the wheelbase of {wheelbase:g}, "
            f"but it was {back:g}."
        )
    weight = mass * STANDARD_GRAVITY_MS2
    shift = mass * slowing * height / wheelbase
    rear = weight * back / wheelbase - shift
    if rear < -1e-12 * weight:
        raise ValueError(
            "deceleration in m/s² must be small enough that the rear wheels stay on the road, "
            f"but it was {slowing:g}."
        )
    return AxleLoads(weight * (1 - back / wheelbase) + shift, max(0.0, rear))


def stopping_distance_m(speed_kmh: float, deceleration_ms2: float, reaction_s: float = 0) -> float:
    """Return how far a vehicle goes until it stands.

    Args:
        speed_kmh: speed at the start, km/h, 0 or more.
        deceleration_ms2: steady deceleration, m/s², above 0.
        reaction_s: time before the brakes act, s, 0 or more.

    Returns:
        Distance, m: at full speed during the reaction time, then slowing steadily.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Motion under constant deceleration, ``v * t + v² / (2 a)``.

    Example:
        >>> round(stopping_distance_m(50, 7.0, reaction_s=1.0), 1)
        27.7
    """
    speed_ms = 1000 * _checks.not_negative(speed_kmh, "speed in km/h") / _SECONDS_PER_HOUR
    slowing = _checks.positive(deceleration_ms2, "deceleration in m/s²")
    wait = _checks.not_negative(reaction_s, "reaction time in s")
    return speed_ms * wait + speed_ms**2 / (2 * slowing)


def regulation_distance_m(speed_kmh: float) -> float:
    """Return the stopping distance that a regulation allows a light vehicle with cold brakes.

    The formula is from memory; only its value at 100 km/h, 70 m, was read. It says how the rule grows with
    speed. No vehicle is judged by it: a law's own text, or the inspection rule of the place, does that.

    Args:
        speed_kmh: test speed, km/h, above 0.

    Returns:
        Distance, m: ``0.1 V + 0.006 V²`` with V in km/h.

    Raises:
        ValueError: the speed is no number above 0.

    Source:
        49 CFR 571.135, S7.5, cold effectiveness: formula from memory; 70 m from 100 km/h read in a
        government letter.

    Example:
        >>> round(regulation_distance_m(100), 1)
        70.0
    """
    speed = _checks.positive(speed_kmh, "speed in km/h")
    linear = published.value("stop_formula_linear").value  # memory
    quadratic = published.value("stop_formula_quad_cold").value  # memory
    return linear * speed + quadratic * speed**2
