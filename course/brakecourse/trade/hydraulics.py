"""From the foot to the road: pedal, pressure, clamp force, torque, and the stop.

These numbers show how the parts work together. Whether a vehicle brakes well enough is decided by the
maker's data, the local inspection rule and a licensed person, not by this arithmetic.
"""

from __future__ import annotations

from typing import Literal, get_args

from brakecourse.trade import _checks
from brakecourse.trade._counts import whole
from brakecourse.trade._fluid_records import MOST_PISTONS
from brakecourse.trade._hydraulics_road import (
    STANDARD_GRAVITY_MS2,
    AxleLoads,
    axle_loads_n,
    deceleration_ms2,
    regulation_distance_m,
    stopping_distance_m,
)
from brakecourse.trade.fluid import piston_area_mm2

RadiusModel = Literal["uniform_wear", "uniform_pressure"]

__all__ = [
    "STANDARD_GRAVITY_MS2",
    "AxleLoads",
    "RadiusModel",
    "axle_loads_n",
    "brake_torque_nm",
    "clamp_force_n",
    "deceleration_ms2",
    "effective_radius_mm",
    "line_pressure_mpa",
    "pedal_travel_mm",
    "regulation_distance_m",
    "stopping_distance_m",
]


def line_pressure_mpa(
    pedal_force_n: float, pedal_ratio: float, master_bore_mm: float, assist_force_n: float = 0
) -> float:
    """Return the pressure that a foot on the pedal makes in the lines.

    Args:
        pedal_force_n: force of the foot, N, 0 or more.
        pedal_ratio: foot travel over push-rod travel, above 0.
        master_bore_mm: diameter of the master cylinder, mm, above 0.
        assist_force_n: force that the booster adds at the push-rod, N, 0 or more.

    Returns:
        Pressure above the air's, MPa (1 MPa is 1 N/mm²).

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Law of the lever, and pressure as force over area.

    Example:
        >>> round(line_pressure_mpa(250, 4.0, 22.2, assist_force_n=2000), 2)
        7.75
    """
    foot = _checks.not_negative(pedal_force_n, "pedal force in N")
    ratio = _checks.positive(pedal_ratio, "pedal ratio")
    assist = _checks.not_negative(assist_force_n, "assist force in N")
    return (foot * ratio + assist) / piston_area_mm2(_bore(master_bore_mm))


def clamp_force_n(pressure_mpa: float, piston_bore_mm: float, pistons: int = 1) -> float:
    """Return the force with which one pad is pressed on the rotor.

    A floating caliper presses the other pad just as hard by reaction: the two are one clamp force, and they
    are not added.

    Args:
        pressure_mpa: line pressure, MPa, 0 or more.
        piston_bore_mm: diameter of one piston, mm, above 0.
        pistons: how many pistons press on one side, 1 or more; in a fixed caliper, half of them all.

    Returns:
        Clamp force, N.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Pascal's principle: pressure times area.

    Example:
        >>> round(clamp_force_n(7.0, 54.0))
        16032
    """
    pressure = _checks.not_negative(pressure_mpa, "line pressure in MPa")
    count = whole(pistons, "number of pistons", 1, MOST_PISTONS)
    return pressure * count * piston_area_mm2(piston_bore_mm)


def brake_torque_nm(clamp_force_n: float, friction: float, effective_radius_mm: float) -> float:
    """Return the brake torque of one wheel: two faces rub.

    Args:
        clamp_force_n: clamp force, N, 0 or more.
        friction: coefficient of friction between pad and rotor, 0 or more.
        effective_radius_mm: where the friction acts, from the wheel's centre, mm, above 0.

    Returns:
        Torque, N·m.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Coulomb's law of friction on both faces, ``2 * friction * force * radius``.

    Example:
        >>> round(brake_torque_nm(16000, 0.38, 115))
        1398
    """
    clamp = _checks.not_negative(clamp_force_n, "clamp force in N")
    grip = _checks.not_negative(friction, "coefficient of friction")
    radius_m = _checks.positive(effective_radius_mm, "effective radius in mm") / 1000
    return 2 * grip * clamp * radius_m


def effective_radius_mm(outer_mm: float, inner_mm: float, model: RadiusModel = "uniform_wear") -> float:
    """Return the radius at which the friction of a pad seems to act.

    A pad that has bedded in wears evenly, and presses harder inside: the middle of the track. A stiff new pad
    presses evenly, and acts a little farther out.

    Args:
        outer_mm: outer radius of the track that the pad sweeps, mm. The radius, not the diameter.
        inner_mm: inner radius of that track, mm, above 0 and at most the outer one.
        model: ``"uniform_wear"`` or ``"uniform_pressure"``.

    Returns:
        Effective radius, mm.

    Raises:
        ValueError: a value is no number in its range, or the model is another word.

    Source:
        The two classical models of disc clutches and brakes; a pad shaped like a piece of the ring is taken.

    Example:
        >>> effective_radius_mm(140, 90)
        115.0
        >>> round(effective_radius_mm(140, 90, "uniform_pressure"), 1)
        116.8
    """
    _checks.one_of(model, "model", get_args(RadiusModel))
    outer = _checks.positive(outer_mm, "outer radius in mm")
    inner = _checks.positive(inner_mm, "inner radius in mm")
    if inner > outer:
        raise ValueError(
            f"inner radius in mm must be at most the outer one of {outer:g}, but it was {inner:g}."
        )
    middle = (outer + inner) / 2
    if model == "uniform_wear":
        return middle
    # Two thirds of (outer³ - inner³) / (outer² - inner²), written so that a thin ring loses no digits.
    return middle + (outer - inner) ** 2 / (12 * middle)


def pedal_travel_mm(volume_ml: float, master_bore_mm: float, pedal_ratio: float) -> float:
    """Return how far the pedal goes down to move a volume of fluid.

    Args:
        volume_ml: volume that the master cylinder sends out, mL, 0 or more.
        master_bore_mm: diameter of the master cylinder, mm, above 0.
        pedal_ratio: foot travel over push-rod travel, above 0.

    Returns:
        Travel of the foot, mm.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Geometry of the cylinder, and the law of the lever.

    Example:
        >>> round(pedal_travel_mm(4.0, 22.2, 4.0), 1)
        41.3
    """
    volume = _checks.not_negative(volume_ml, "volume in mL")
    ratio = _checks.positive(pedal_ratio, "pedal ratio")
    return 1000 * volume / piston_area_mm2(_bore(master_bore_mm)) * ratio


def _bore(master_bore_mm: object) -> float:
    return _checks.positive(master_bore_mm, "master cylinder bore in mm")
