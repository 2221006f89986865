"""What a torque buys: the pull in a bolt, and how near that comes to its proof load."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple, get_args

from brakecourse import published
from brakecourse.trade import _checks

PropertyClass = Literal["8.8", "10.9", "12.9"]
Finish = Literal["plain", "zinc", "lubricated", "cadmium", "antiseize", "locking_grip"]

# Where the table of proof loads is read for the stress: its largest size, the least touched by rounding.
_PROOF_SIZE = "bolt_m12"


class PreloadRange(NamedTuple):
    """Between which bounds the clamping force of a bolt lies, in N.

    Attributes:
        low_n: least preload: wrench low, friction high.
        high_n: largest preload: wrench high, friction low.
    """

    low_n: float
    high_n: float


def tensile_stress_area_mm2(diameter_mm: float, pitch_mm: float) -> float:
    """Return the area of a threaded bolt that carries the pull.

    Args:
        diameter_mm: nominal thread diameter, mm, above 0.
        pitch_mm: thread pitch, mm, above 0, at most half the diameter.

    Returns:
        The stress area, mm2: a circle whose diameter is the mean of pitch diameter and root diameter.

    Raises:
        ValueError: a value is no number above 0, or the pitch is too coarse for the diameter.

    Source:
        ISO 898-1 (the definition is from memory), with the basic thread profile of ISO metric threads.

    Example:
        >>> round(tensile_stress_area_mm2(12.0, 1.75), 1)
        84.3
    """
    diameter = _checks.positive(diameter_mm, "thread diameter in mm")
    pitch = _checks.positive(pitch_mm, "thread pitch in mm")
    if pitch > diameter / 2:
        raise ValueError(
            f"thread pitch in mm must be at most half the diameter of {diameter:g}, but it was {pitch:g}."
        )
    triangle = math.sqrt(3) / 2 * pitch  # height of the sharp thread
    pitch_diameter = diameter - 3 / 4 * triangle
    root_diameter = diameter - 5 / 4 * triangle - triangle / 6
    return math.pi / 4 * ((pitch_diameter + root_diameter) / 2) ** 2


def nut_factor(finish: Finish) -> float:
    """Return the nut factor K of a thread finish.

    Friction takes most of a torque. Oil, anti-seize or a plating let more of it become pull.

    Args:
        finish: ``"plain"`` (non-plated, dry), ``"zinc"``, ``"lubricated"``, ``"cadmium"``,
            ``"antiseize"`` or ``"locking_grip"``.

    Returns:
        K in ``torque = K x preload x diameter``.

    Raises:
        ValueError: ``finish`` is another word.

    Source:
        Shigley's Mechanical Engineering Design, 9th ed., Table 8-15.

    Example:
        >>> nut_factor("plain"), nut_factor("lubricated")
        (0.3, 0.18)
    """
    return published.value(f"torque_k_{_checks.one_of(finish, 'finish', get_args(Finish))}").value


def preload_n(torque_nm: float, diameter_mm: float, nut_factor: float) -> float:
    """Return the pull that a torque puts into a bolt.

    Args:
        torque_nm: torque at the fastener, N·m, 0 or more.
        diameter_mm: nominal thread diameter, mm, above 0.
        nut_factor: K of the threads and the seat, a plain number, above 0 (:func:`nut_factor`).

    Returns:
        The preload, N: ``torque / (K x diameter)``.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        Shigley's Mechanical Engineering Design, 9th ed., torque factor equation above Table 8-15.

    Example:
        110 N·m on dry and on oiled M12 studs: the oil adds two thirds to the pull.

        >>> round(preload_n(110.0, 12.0, 0.30)), round(preload_n(110.0, 12.0, 0.18))
        (30556, 50926)
    """
    torque = _checks.not_negative(torque_nm, "torque in N·m")
    diameter = _checks.positive(diameter_mm, "thread diameter in mm")
    return 1000 * torque / diameter / _checks.positive(nut_factor, "nut factor")


def lubricated_scatter() -> float:
    """Return how much bolts scatter that were tightened alike, as a share of the mean preload.

    Two sample standard deviations of ten lubricated bolts over their mean; about 95 percent lie inside.

    Returns:
        Scatter, a share of the mean preload; about 0.17.

    Source:
        Shigley's Mechanical Engineering Design, 9th ed., Table 8-14.

    Example:
        >>> round(lubricated_scatter(), 2)
        0.17
    """
    return 2 * published.value("preload_scatter_sd").value / published.value("preload_scatter_mean").value


def preload_range_n(
    torque_nm: float,
    diameter_mm: float,
    nut_factor: float,
    wrench_tolerance: float,
    nut_factor_scatter: float,
) -> PreloadRange:
    """Return between which bounds the preload lies.

    Args:
        torque_nm: torque that was set, N·m, 0 or more.
        diameter_mm: nominal thread diameter, mm, above 0.
        nut_factor: middle value of K, above 0.
        wrench_tolerance: how far the wrench may be off, as a share, 0 up to below 1.
        nut_factor_scatter: how far K may be off, as a share, 0 up to below 1.

    Returns:
        ``(low_n, high_n)``, N: both errors at their worst, in one direction and in the other.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        The equation of :func:`preload_n`, worst case of both.

    Example:
        >>> [round(n, -2) for n in preload_range_n(110.0, 12.0, 0.20, 0.04, 0.17)]
        [37600.0, 57400.0]
    """
    middle = preload_n(torque_nm, diameter_mm, nut_factor)
    wrench = _checks.between(wrench_tolerance, "wrench tolerance as a share", 0.0, 1.0)
    scatter = _checks.between(nut_factor_scatter, "nut factor scatter as a share", 0.0, 1.0)
    return PreloadRange(middle * (1 - wrench) / (1 + scatter), middle * (1 + wrench) / (1 - scatter))


def proof_fraction(
    preload_n: float, diameter_mm: float, pitch_mm: float, property_class: PropertyClass
) -> float:
    """Return how much of its proof load a bolt carries. Above 1 it may stay longer for good.

    Args:
        preload_n: pull in the bolt, N, 0 or more.
        diameter_mm: nominal thread diameter, mm, above 0.
        pitch_mm: thread pitch, mm, above 0, at most half the diameter.
        property_class: ``"8.8"``, ``"10.9"`` or ``"12.9"``, as marked on the bolt's head.

    Returns:
        Preload over proof load, a plain number. For class 8.8 above 16 mm the standard allows a little
        more (from memory), so there it errs to the safe side.

    Raises:
        ValueError: a value is no number or out of its range, or the class is another word.

    Source:
        ISO 898-1 proof loads, as given in a fastener reference table: stress = load over area, M12 row.

    Example:
        >>> round(proof_fraction(36_700.0, 12.0, 1.75, "8.8"), 2)
        0.75
    """
    pull = _checks.not_negative(preload_n, "preload in N")
    area = tensile_stress_area_mm2(diameter_mm, pitch_mm)
    name = _checks.one_of(property_class, "property class", get_args(PropertyClass)).replace(".", "_")
    load = published.value(f"{_PROOF_SIZE}_proof_{name}").value
    return pull / (load / published.value(f"{_PROOF_SIZE}_stress_area").value * area)
