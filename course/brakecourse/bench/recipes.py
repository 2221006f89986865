"""Draw a rotor, its faults and its gauges so that a wanted situation is likely.

A recipe only aims. Whether it hit is decided by the readings (`cases.draw_case`), never here.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from brakecourse.bench.draw import Draw
from brakecourse.bench.faults import (
    GROWTH_PER_RUN_OUT_AND_1000_KM,
    EvenWear,
    Fault,
    Grooves,
    HeatSpots,
    HubRunOut,
    VariationFromRunOut,
    apply,
)
from brakecourse.bench.gauges import (
    DialIndicator,
    Micrometer,
    boxed_micrometer,
    dial_indicator,
    shop_micrometer,
)
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.bench.situations import Difficulty, Situation
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.bench.wear import draw_wear_mm

SECOND_FAULT_SHARE = 0.35  # of the normal cases; easy ones have none, hard ones always
SHOP_MICROMETER_SHARE = 0.5
# A rotor without a fault is not perfect either: shares of its limits, assumption, no source.
FIT_SHARE = (0.4, 0.9)
TRUE_FIT_SHARE = (0.05, 0.2)  # where a bad hub is to blame, so that the hub decides the run-out
MOST_MADE_SHARE = 0.6


@dataclass(frozen=True)
class Plan:
    """A rotor ready to be measured: the vehicle, what happened to it, and the gauges to read it with."""

    vehicle: Vehicle
    faults: tuple[Fault, ...]
    condition: RotorCondition
    micrometer: Micrometer
    dial: DialIndicator


@dataclass(frozen=True)
class _Aim:
    uneven: bool  # variation beyond its limit
    wobbling: bool  # run-out beyond its limit


_SOUND, _UNEVEN, _WOBBLING, _BOTH = _Aim(False, False), _Aim(True, False), _Aim(False, True), _Aim(True, True)
# Which limits are passed in each situation, and how often; an easy case has one fault, so never both.
_AIMS: dict[Situation, dict[_Aim, float]] = {
    "keep": {_SOUND: 1},
    "machine for variation": {_UNEVEN: 3, _BOTH: 1},
    "machine for run-out": {_WOBBLING: 1},
    "replace below discard": {_SOUND: 2, _UNEVEN: 1, _WOBBLING: 1},
    "replace no metal left to true": {_UNEVEN: 2, _WOBBLING: 2, _BOTH: 1},
    "replace too close to call": {_SOUND: 2, _UNEVEN: 1, _WOBBLING: 1},
}
# How far beyond a limit: variation, run-out.
_BEYOND_MM: dict[Difficulty, tuple[tuple[float, float], tuple[float, float]]] = {
    "easy": ((0.020, 0.050), (0.024, 0.090)),
    "normal": ((0.006, 0.050), (0.010, 0.090)),
    "hard": ((0.004, 0.024), (0.012, 0.034)),
}


def draw_plan(draw: Draw, situation: Situation, difficulty: Difficulty) -> Plan | None:
    """Draw one plan aimed at a situation, or None when the parts drawn cannot give it.

    Args:
        draw: where the chance comes from.
        situation: what the readings should come to.
        difficulty: easy, normal or hard.
    """
    vehicle = draw.choice(list(motor_pool().values()))
    micrometer = _draw_micrometer(draw, vehicle, situation)
    dial = dial_indicator()
    dial = replace(dial, calibration_error_mm=draw.between(-dial.error_limit_mm, dial.error_limit_mm))
    aims = _AIMS[situation]
    aim = draw.weighted({key: share for key, share in aims.items() if difficulty != "easy" or key != _BOTH})
    rotor = _draw_new_rotor(draw, vehicle, TRUE_FIT_SHARE if aim.wobbling else FIT_SHARE)
    shaping = _draw_faults(draw, vehicle, rotor, aim, difficulty)
    if shaping is None:
        return None
    shaped = apply(rotor, shaping)
    wear_mm = draw_wear_mm(draw, vehicle, shaped, micrometer, situation, difficulty)
    if wear_mm is None:
        return None
    faults = (EvenWear(wear_mm), *shaping)
    return Plan(vehicle, faults, apply(rotor, faults), micrometer, dial)


def _draw_micrometer(draw: Draw, vehicle: Vehicle, situation: Situation) -> Micrometer:
    # With the boxed micrometer a line beside the limit is already decided, so the grey zone needs the other.
    shop = situation == "replace too close to call" or draw.uniform() < SHOP_MICROMETER_SHARE
    gauge = (shop_micrometer if shop else boxed_micrometer)(0 if vehicle.front.rotor.nominal_mm < 25 else 25)
    return replace(gauge, calibration_error_mm=draw.between(-gauge.error_limit_mm, gauge.error_limit_mm))


def _draw_new_rotor(draw: Draw, vehicle: Vehicle, fit_share: tuple[float, float]) -> RotorCondition:
    """A rotor as fitted: never perfect, and seated with some run-out within its limit."""
    fit_mm = vehicle.front.rotor.max_run_out_mm * draw.between(*fit_share)
    slope = fit_mm / (2 * vehicle.front.measuring_radius_mm)
    angle = math.radians(draw.between(0, 360))
    return RotorCondition(
        nominal_mm=vehicle.front.rotor.nominal_mm,
        outer_radius_mm=vehicle.front.rotor_outer_radius_mm,
        inner_radius_mm=vehicle.front.rotor_inner_radius_mm,
        measuring_radius_mm=vehicle.front.measuring_radius_mm,
        studs=vehicle.studs,
        ridge_width_mm=draw.between(2, 4),
        rust_mm=draw.between(0.02, 0.10),
        made_variation_mm=draw.between(0.006, MOST_MADE_SHARE * vehicle.front.rotor.max_variation_mm),
        made_thick_deg=draw.between(0, 360),
        tilt_across=slope * math.cos(angle),
        tilt_along=slope * math.sin(angle),
        loose_rock_mm=draw.between(0.25, 0.60),
        loose_high_deg=draw.between(0, 360),
    )


def _draw_faults(
    draw: Draw, vehicle: Vehicle, rotor: RotorCondition, aim: _Aim, difficulty: Difficulty
) -> list[Fault] | None:
    """The faults besides even wear, in the order in which they act; None when nobody would believe them."""
    beyond_variation, beyond_run_out = _BEYOND_MM[difficulty]
    limits = vehicle.front.rotor
    faults: list[Fault] = []
    if aim.wobbling:
        faults.append(_hub(draw, vehicle, limits.max_run_out_mm + draw.between(*beyond_run_out)))
    if aim.uneven:
        variation_mm = limits.max_variation_mm + draw.between(*beyond_variation)
        grown = _growth(vehicle, apply(rotor, faults), variation_mm)
        if draw.uniform() < 0.4:
            faults.append(HeatSpots(draw.integer(3, 5), variation_mm, draw.between(0, 120)))
        elif grown is None:
            return None
        else:
            faults.append(grown)
    if not faults and difficulty != "hard" and draw.uniform() < 0.5:
        faults.append(_grooves(draw))
    elif difficulty == "normal" and len(faults) == 1 and draw.uniform() < SECOND_FAULT_SHARE:
        _add_extra(draw, vehicle, rotor, faults)
    while difficulty == "hard" and len(faults) < 2:
        _add_extra(draw, vehicle, rotor, faults)
    return faults


def _add_extra(draw: Draw, vehicle: Vehicle, rotor: RotorCondition, faults: list[Fault]) -> None:
    """Add one more fault that is not there yet and stays within the limits."""
    kinds = {type(fault) for fault in faults}
    options: list[Callable[[], None]] = []
    if Grooves not in kinds:
        options.append(lambda: faults.append(_grooves(draw)))
    if HubRunOut not in kinds:
        small_mm = vehicle.front.rotor.max_run_out_mm * draw.between(0.3, 0.8)
        options.append(lambda: faults.insert(0, _hub(draw, vehicle, small_mm)))
    grown_mm = vehicle.front.rotor.max_variation_mm * draw.between(0.2, 0.7)
    grown = _growth(vehicle, apply(rotor, faults), grown_mm)
    if not kinds & {VariationFromRunOut, HeatSpots} and grown is not None:
        options.append(lambda: faults.append(grown))
    draw.choice(options)()


def _hub(draw: Draw, vehicle: Vehicle, run_out_mm: float) -> HubRunOut:
    seat_mm = run_out_mm * vehicle.front.seat_radius_mm / vehicle.front.measuring_radius_mm
    return HubRunOut(seat_mm, vehicle.front.seat_radius_mm, draw.between(0, 360))


def _grooves(draw: Draw) -> Grooves:
    return Grooves(draw.between(0.1, 0.6), draw.between(0.10, 0.40), draw.between(1.2, 3.0))


def _growth(vehicle: Vehicle, condition: RotorCondition, variation_mm: float) -> VariationFromRunOut | None:
    """The distance that grows a variation from the run-out that is there, if the vehicle can have gone it."""
    per_1000_km = GROWTH_PER_RUN_OUT_AND_1000_KM * condition.tilt_run_out_mm
    if per_1000_km == 0:
        return None
    distance_km = 1000 * variation_mm / per_1000_km
    if variation_mm > condition.tilt_run_out_mm or distance_km > vehicle.odometer_km:
        return None
    return VariationFromRunOut(distance_km)
