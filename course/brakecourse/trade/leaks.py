"""What the pedal tells: air in the lines, fluid that leaves, and which cause fits the findings.

These numbers show what a cause does to the pedal. They release no vehicle: a pedal that sinks, or
reaches lower than the maker allows, stays in the workshop until its cause is found and put right.
"""

from __future__ import annotations

from functools import cache

from brakecourse import published
from brakecourse.trade import _checks
from brakecourse.trade._diagnosis import next_checks, rank_causes
from brakecourse.trade._diagnosis_answers import Evidence, NextCheck, RankedCause
from brakecourse.trade._diagnosis_calibration import ReliabilityRow, brier_score, reliability_table
from brakecourse.trade._diagnosis_files import diagnosis_table
from brakecourse.trade._diagnosis_records import Cause, Check, Count, Finding
from brakecourse.trade._diagnosis_table import DiagnosisTable
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.trade.hydraulics import pedal_travel_mm

__all__ = [
    "Cause",
    "Check",
    "Count",
    "DiagnosisTable",
    "Evidence",
    "Finding",
    "NextCheck",
    "RankedCause",
    "ReliabilityRow",
    "air_ml_from_travel",
    "air_travel_mm",
    "atmosphere_mpa",
    "brier_score",
    "compressibility_ml",
    "diagnosis_table",
    "leak_ml_per_min_from_sink",
    "next_checks",
    "rank_causes",
    "reliability_table",
    "sink_rate_mm_per_min",
]


@cache
def atmosphere_mpa() -> float:
    """Return the pressure of the air round us, as the published tables give the standard atmosphere.

    Returns:
        Absolute pressure, MPa.

    Raises:
        CourseError: the table of published values is missing.

    Source:
        The published value ``standard_atmosphere_pa``.

    Example:
        >>> round(atmosphere_mpa(), 4)
        0.1013
    """
    standard = published.value("standard_atmosphere_pa")
    # One MPa is a million Pa. The unit library would take a second to load for this one step.
    return standard.value / 1e6


def air_travel_mm(air_ml: float, pressure_mpa: float, master_bore_mm: float, pedal_ratio: float) -> float:
    """Return how much further the pedal goes because air in the lines is pressed together.

    Air gives way at once: at a mere 1 MPa (145 psi) nine tenths of it are gone, and the foot has paid for
    them. So the first push goes far and feels soft, and a harder push hardly goes further.

    Args:
        air_ml: volume of the air while the pedal is at rest, mL, 0 or more.
        pressure_mpa: line pressure that the foot makes, above the air's, MPa, 0 or more.
        master_bore_mm: diameter of the master cylinder, mm, above 0.
        pedal_ratio: foot travel over push-rod travel, above 0.

    Returns:
        Extra travel of the foot, mm.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Boyle's law with absolute pressures; the air keeps its temperature, and none of it dissolves.

    Example:
        2 mL of air, a brake pressed to 7 MPa (1015 psi):

        >>> round(air_travel_mm(2.0, 7.0, 22.2, 4.0), 1)
        20.4
    """
    air = _checks.not_negative(air_ml, "air in mL")
    return pedal_travel_mm(air * _share_lost(pressure_mpa), master_bore_mm, pedal_ratio)


def air_ml_from_travel(
    extra_travel_mm: float, pressure_mpa: float, master_bore_mm: float, pedal_ratio: float
) -> float:
    """Return how much air is in the lines, from how much further the pedal goes than it should.

    Args:
        extra_travel_mm: travel of the foot beyond that of the same brake without air, mm, 0 or more.
        pressure_mpa: line pressure at that travel, above the air's, MPa, above 0.
        master_bore_mm: diameter of the master cylinder, mm, above 0.
        pedal_ratio: foot travel over push-rod travel, above 0.

    Returns:
        Volume of the air while the pedal is at rest, mL.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Boyle's law with absolute pressures: :func:`air_travel_mm`, turned round.

    Example:
        >>> round(air_ml_from_travel(20.4, 7.0, 22.2, 4.0), 2)
        2.0
    """
    pressure = _checks.positive(pressure_mpa, "line pressure in MPa")
    return _volume_ml(extra_travel_mm, "extra travel in mm", master_bore_mm, pedal_ratio) / _share_lost(
        pressure
    )


def sink_rate_mm_per_min(leak_ml_per_min: float, master_bore_mm: float, pedal_ratio: float) -> float:
    """Return how fast a held pedal sinks while fluid leaves.

    It is the same whether the fluid drips on the floor or slips past the seal inside the master cylinder.
    Only a look, and the level, tell these two apart.

    Args:
        leak_ml_per_min: fluid that leaves while the pedal is held, mL a minute, 0 or more.
        master_bore_mm: diameter of the master cylinder, mm, above 0.
        pedal_ratio: foot travel over push-rod travel, above 0.

    Returns:
        Sinking of the foot, mm a minute.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Geometry of the cylinder, and the law of the lever.

    Example:
        >>> round(sink_rate_mm_per_min(1.5, 22.2, 4.0), 1)
        15.5
    """
    leak = _checks.not_negative(leak_ml_per_min, "leak in mL a minute")
    return pedal_travel_mm(leak, master_bore_mm, pedal_ratio)


def leak_ml_per_min_from_sink(
    sink_rate_mm_per_min: float, master_bore_mm: float, pedal_ratio: float
) -> float:
    """Return how much fluid leaves while a pedal is held, from how fast the pedal sinks.

    Args:
        sink_rate_mm_per_min: sinking of the foot, mm a minute, 0 or more.
        master_bore_mm: diameter of the master cylinder, mm, above 0.
        pedal_ratio: foot travel over push-rod travel, above 0.

    Returns:
        Fluid that leaves, mL a minute.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Geometry of the cylinder, and the law of the lever: :func:`sink_rate_mm_per_min`, turned round.

    Example:
        A pedal that sinks 12 mm (0.47 in) in a minute:

        >>> round(leak_ml_per_min_from_sink(12.0, 22.2, 4.0), 2)
        1.16
    """
    return _volume_ml(sink_rate_mm_per_min, "sinking in mm a minute", master_bore_mm, pedal_ratio)


def compressibility_ml(volume_ml: float, pressure_mpa: float, bulk_modulus_mpa: float) -> float:
    """Return how much a volume of fluid shrinks under pressure.

    It is little: a sound pedal is firm. Air in the same lines gives way hundreds of times as much.

    Args:
        volume_ml: fluid under pressure, mL, 0 or more.
        pressure_mpa: line pressure, above the air's, MPa, 0 or more, below the bulk modulus.
        bulk_modulus_mpa: the fluid's stiffness, MPa, above 0.

    Returns:
        Volume lost, mL.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Definition of the bulk modulus, the mean one over the rise of pressure:
        ``volume * pressure / bulk modulus``.

    Example:
        60 mL of a fluid of 1800 MPa, a brake pressed to 7 MPa (1015 psi):

        >>> round(compressibility_ml(60.0, 7.0, 1800.0), 2)
        0.23
    """
    volume = _checks.not_negative(volume_ml, "volume in mL")
    modulus = _checks.positive(bulk_modulus_mpa, "bulk modulus in MPa")
    pressure = _checks.between(pressure_mpa, "line pressure in MPa", 0.0, modulus)
    return volume * (pressure / modulus)


def _share_lost(pressure_mpa: float) -> float:
    """Return the share of its volume that air loses when the line pressure comes on."""
    pressure = _checks.not_negative(pressure_mpa, "line pressure in MPa")
    return pressure / (atmosphere_mpa() + pressure)


def _volume_ml(travel_mm: float, quantity: str, master_bore_mm: float, pedal_ratio: float) -> float:
    """Return what the master cylinder sends out while the foot goes that far."""
    travel = _checks.not_negative(travel_mm, quantity)
    ratio = _checks.positive(pedal_ratio, "pedal ratio")
    bore = _checks.positive(master_bore_mm, "master cylinder bore in mm")
    return travel / ratio * piston_area_mm2(bore) / 1000
