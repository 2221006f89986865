"""Bed in new pads and rotors: the energy of a stop, the heat, and a plan that keeps a limit.

The pad maker's instructions come first. The rotor is taken as one lump of iron, all the vehicle's energy as
going into the brakes, and the air's cooling as even; so a plan is a guide, not a promise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import cast

from brakecourse.trade import _checks
from brakecourse.trade._burnish_energy import (
    Axle,
    WheelSide,
    cool_c,
    rotor_share,
    stop_energy_j,
    temperature_rise_c,
    wait_for_c,
)
from brakecourse.trade._burnish_heat import Heating
from brakecourse.trade._burnish_records import Braking, BurnishVehicle, Plan, Schedule, Series
from brakecourse.trade._burnish_schedules import ScheduleName, burnish_schedule, peak_deceleration_ms2

__all__ = [
    "Axle",
    "Braking",
    "BurnishVehicle",
    "Plan",
    "Schedule",
    "ScheduleName",
    "Series",
    "WheelSide",
    "burnish_schedule",
    "cool_c",
    "distance_km",
    "peak_deceleration_ms2",
    "plan",
    "rotor_share",
    "simulate",
    "stop_energy_j",
    "strokes_to_firm_pedal",
    "temperature_rise_c",
    "wait_for_c",
]


def simulate(
    schedule: Schedule, vehicle: BurnishVehicle, start_c: float | None = None
) -> tuple[Braking, ...]:
    """Return what happens to a front rotor at each braking of a schedule.

    Args:
        schedule: the brakings, e.g. from :func:`burnish_schedule`.
        vehicle: the vehicle's numbers.
        start_c: rotor temperature before the first braking, °C; the air's when left out.

    Returns:
        One :class:`Braking` for each, in order: a table of times, energies and temperatures.

    Raises:
        ValueError: an argument is another thing, or the temperature is no number.

    Source:
        Conservation of energy and Newton's law of cooling, solved exactly for a steady deceleration.

    Example:
        >>> van = BurnishVehicle(2000, 0.7, 10.0, 450, 400, ambient_c=20)
        >>> table = simulate(burnish_schedule("road"), van)
        >>> len(table), round(table[0].peak_c, 1), round(table[-1].peak_c)
        (20, 26.2, 171)
    """
    brakings, _ = _run(schedule, vehicle, start_c, limit_c=None)
    return brakings


def plan(vehicle: BurnishVehicle, limit_c: float, schedule: ScheduleName | Schedule = "road") -> Plan:
    """Return a burnish with as much waiting as keeps the rotor at or below a limit.

    Args:
        vehicle: the vehicle's numbers; the rotor starts at the air's temperature.
        limit_c: temperature that the rotor must not pass, °C: the pad maker's figure.
        schedule: ``"road"``, ``"regulation"``, or a :class:`Schedule` of one's own.

    Returns:
        The plan: every braking, the extra cooling before each, time and distance.

    Raises:
        ValueError: an argument is another thing, or one braking alone, from cold, passes the limit.

    Source:
        As :func:`simulate`. Waiting is driving without brakes, never standing with the pedal down (common
        practice, no source).

    Example:
        >>> van = BurnishVehicle(2000, 0.7, 10.0, 450, 400, ambient_c=20)
        >>> plan(van, 300).waited_s
        0.0
        >>> tight = plan(van, 100)
        >>> round(tight.hottest_c, 1), round(tight.waited_s / 60)
        (100.0, 9)
    """
    limit = _checks.number(limit_c, "limit in °C")
    chosen = schedule if isinstance(schedule, Schedule) else burnish_schedule(schedule)
    brakings, waits = _run(chosen, vehicle, None, limit)
    return Plan(chosen, vehicle, limit, brakings, waits, distance_km(brakings))


def distance_km(brakings: Sequence[Braking]) -> float:
    """Return how far a vehicle drives from the start of the first braking to the end of the last.

    Args:
        brakings: a row of :class:`Braking`, at least one, e.g. from :func:`simulate`.

    Returns:
        Distance, km: a steady slowing in each braking, and between them a drive at the next one's speed
        (assumption, no source: getting up to speed takes a little less road).

    Raises:
        ValueError: no braking, or one that is no such record.

    Source:
        Speed times time; mean of first and last speed while braking.

    Example:
        >>> van = BurnishVehicle(2000, 0.7, 10.0, 450, 400)
        >>> round(distance_km(simulate(burnish_schedule("road"), van)), 1)
        8.3
    """
    row = _checks.row(brakings, "brakings", at_least=1)
    for one in row:
        _checks.record(one, "braking", Braking)
    table = cast(list[Braking], row)
    braked = math.fsum((one.end_s - one.start_s) * (one.from_kmh + one.to_kmh) / 2 for one in table)
    between = math.fsum((later.start_s - sooner.end_s) * later.from_kmh for sooner, later in pairwise(table))
    return (braked + between) / 3600


def strokes_to_firm_pedal(clearance_ml: float, stroke_ml: float) -> int:
    """Return how many strokes of the pedal take up the clearance after pistons were pushed back.

    Always pump the pedal until it is firm before the vehicle moves, whatever this number is.

    Args:
        clearance_ml: volume between the pistons and firm pads, all calipers of the circuit, mL, 0 or more.
        stroke_ml: volume that one full stroke sends out, mL, above 0.

    Returns:
        Whole strokes; 0 when there is no clearance.

    Raises:
        ValueError: a value is no number in its range.

    Source:
        Conservation of volume; the fluid is taken as stiff and free of air.

    Example:
        >>> strokes_to_firm_pedal(23.0, 6.0)
        4
    """
    clearance = _checks.not_negative(clearance_ml, "clearance in mL")
    stroke = _checks.positive(stroke_ml, "volume of one stroke in mL")
    # As decimals: 1.1 mL at 0.1 mL a stroke are 11 strokes, not 12.
    return math.ceil(Fraction(repr(clearance)) / Fraction(repr(stroke)))


def _run(
    schedule: Schedule, vehicle: BurnishVehicle, start_c: float | None, limit_c: float | None
) -> tuple[tuple[Braking, ...], tuple[float, ...]]:
    """Return every braking, and the extra waiting before each that a limit asks for."""
    _checks.record(schedule, "schedule", Schedule)
    _checks.record(vehicle, "vehicle", BurnishVehicle)
    air, tau = vehicle.ambient_c, vehicle.time_constant_s
    now_c = air if start_c is None else _checks.number(start_c, "rotor temperature at the start in °C")
    now_s = 0.0
    brakings: list[Braking] = []
    waits: list[float] = []
    for series in schedule.series:
        heating = Heating.of(series, vehicle)
        warmest_c = math.inf if limit_c is None else _warmest_start_c(heating, air, limit_c)
        for _ in range(int(series.count)):
            gap_s = _gap_s(series, now_c, air, tau) if brakings else 0.0
            ready_c = cool_c(now_c, air, gap_s, tau)
            wait_s = wait_for_c(ready_c, warmest_c, air, tau) if ready_c > warmest_c else 0.0
            begin_c, begin_s = min(ready_c, warmest_c), now_s + gap_s + wait_s
            now_c, now_s = air + heating.end(begin_c - air), begin_s + series.braking_s
            braking = Braking(
                number=len(brakings) + 1,
                from_kmh=series.from_kmh,
                to_kmh=series.to_kmh,
                start_s=begin_s,
                end_s=now_s,
                energy_j=stop_energy_j(vehicle.mass_kg, series.from_kmh, series.to_kmh),
                start_c=begin_c,
                peak_c=air + heating.peak(begin_c - air),
                end_c=now_c,
            )
            brakings.append(braking)
            waits.append(wait_s)
    return tuple(brakings), tuple(waits)


def _gap_s(series: Series, now_c: float, air: float, tau: float) -> float:
    """Return the schedule's own gap: its whole length, or less once the rotor is ready."""
    if series.ready_below_c is None or (now_c > series.ready_below_c and series.ready_below_c <= air):
        return series.gap_s
    cooled = wait_for_c(now_c, series.ready_below_c, air, tau)
    return min(series.gap_s, max(series.least_gap_s, cooled))


def _warmest_start_c(heating: Heating, air: float, limit_c: float) -> float:
    warmest = air + heating.warmest_start(limit_c - air)
    if warmest <= air:
        alone = air + heating.peak(0.0)
        raise ValueError(
            f"limit in °C must be above {alone:.1f}, where one braking alone takes the rotor from cold, "
            f"but it was {limit_c:g}."
        )
    return warmest
