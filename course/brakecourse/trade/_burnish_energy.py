"""The energy of a stop, the heat that one rotor gets, and how a part cools."""

from __future__ import annotations

import math
from typing import Literal, get_args

from brakecourse.trade import _checks

Axle = Literal["front", "rear"]
WheelSide = Literal["left", "right"]


def stop_energy_j(mass_kg: float, from_kmh: float, to_kmh: float = 0) -> float:
    """Return the energy that the brakes must take from the vehicle.

    Args:
        mass_kg: mass of the vehicle, kg, above 0.
        from_kmh: speed at the start, km/h, 0 or more.
        to_kmh: speed at the end, km/h, 0 up to the start.

    Returns:
        Energy, J. It grows with the square of the speed.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Kinetic energy; turning parts, air drag and the engine's drag are left out.

    Example:
        Slowing from 40 to 20 takes three times the energy of stopping from 20:

        >>> round(stop_energy_j(1600, 40, 20) / stop_energy_j(1600, 20), 9)
        3.0
    """
    mass = _checks.positive(mass_kg, "mass in kg")
    start = _checks.not_negative(from_kmh, "speed at the start in km/h")
    end = _checks.not_negative(to_kmh, "speed at the end in km/h")
    if end > start:
        raise ValueError(
            f"speed at the end in km/h must be at most the start of {start:g}, but it was {end:g}."
        )
    return mass / 2 * (start - end) * (start + end) / 3.6**2


def rotor_share(
    front_share: float, axle: Axle = "front", left_share: float = 0.5, side: WheelSide = "left"
) -> float:
    """Return the share of a stop's energy that one rotor takes.

    Args:
        front_share: share of the braking that the front axle does, 0 to 1.
        axle: ``"front"`` or ``"rear"``.
        left_share: share of an axle's braking that the left wheel does, 0 to 1; one half when even.
        side: ``"left"`` or ``"right"``.

    Returns:
        Share, 0 to 1. The four wheels' shares add up to 1.

    Raises:
        ValueError: a value is no number from 0 to 1, or a word is another one.

    Source:
        Conservation of energy; all heat is taken to go into the rotors (common practice, no source).

    Example:
        >>> rotor_share(0.75)
        0.375
        >>> rotor_share(0.75, "rear", left_share=0.6, side="right")
        0.1
    """
    front = _share(front_share, "front axle's share")
    left = _share(left_share, "left wheel's share")
    _checks.one_of(axle, "axle", get_args(Axle))
    _checks.one_of(side, "side", get_args(WheelSide))
    return (front if axle == "front" else 1 - front) * (left if side == "left" else 1 - left)


def temperature_rise_c(energy_j: float, mass_kg: float, specific_heat_j_kgk: float) -> float:
    """Return how much warmer a piece of metal gets from an amount of heat.

    Args:
        energy_j: heat, J, 0 or more.
        mass_kg: mass of the metal, kg, above 0.
        specific_heat_j_kgk: its specific heat, J/(kg K), above 0.

    Returns:
        Rise in °C (a difference; the same number in K), nothing lost to the air.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Definition of specific heat.

    Example:
        >>> round(temperature_rise_c(36_000, 8.0, 450), 1)
        10.0
    """
    heat = _checks.not_negative(energy_j, "energy in J")
    mass = _checks.positive(mass_kg, "mass in kg")
    return heat / mass / _checks.positive(specific_heat_j_kgk, "specific heat in J/(kg K)")


def cool_c(start_c: float, ambient_c: float, seconds: float, time_constant_s: float) -> float:
    """Return the temperature of a part after it has cooled for a while.

    Args:
        start_c: temperature at the start, °C.
        ambient_c: temperature of the air, °C.
        seconds: how long it cools, s, 0 or more.
        time_constant_s: time in which the difference to the air falls to 37 percent, s, above 0.

    Returns:
        Temperature, °C.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Newton's law of cooling for one lump (Biot number below 0.1).

    Example:
        >>> round(cool_c(220, 20, 300, 300))
        94
    """
    start = _checks.number(start_c, "temperature at the start in °C")
    air = _checks.number(ambient_c, "temperature of the air in °C")
    time = _checks.not_negative(seconds, "time in s")
    tau = _checks.positive(time_constant_s, "time constant in s")
    return air + (start - air) * math.exp(-time / tau)


def wait_for_c(start_c: float, target_c: float, ambient_c: float, time_constant_s: float) -> float:
    """Return how long a part must cool to reach a temperature.

    Args:
        start_c: temperature at the start, °C.
        target_c: wanted temperature, °C.
        ambient_c: temperature of the air, °C.
        time_constant_s: time in which the difference to the air falls to 37 percent, s, above 0.

    Returns:
        Time, s; 0 when the part is no warmer than wanted.

    Raises:
        ValueError: a value is no number in its range, or the part can never get so cold.

    Source:
        Newton's law of cooling for one lump, turned round.

    Example:
        >>> round(wait_for_c(220, 94, 20, 300))
        298
    """
    start = _checks.number(start_c, "temperature at the start in °C")
    target = _checks.number(target_c, "wanted temperature in °C")
    air = _checks.number(ambient_c, "temperature of the air in °C")
    tau = _checks.positive(time_constant_s, "time constant in s")
    if start <= target:
        return 0.0
    if target <= air:
        raise ValueError(
            f"wanted temperature in °C must be above the air's of {air:g}, but it was {target:g}."
        )
    return tau * math.log((start - air) / (target - air))


def _share(value: object, quantity: str) -> float:
    return _checks.within(value, quantity, 0.0, 1.0)
