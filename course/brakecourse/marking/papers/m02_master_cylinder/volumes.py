"""Areas and volumes: the right answers of 2.3, 2.4, 2.5 and 2.9, and the mistakes that they invite."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from brakecourse.bench.specification import WHEELS
from brakecourse.marking import basis, slips
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m02_master_cylinder.truth import LevelTruth
from brakecourse.marking.sealed import SealedMistake
from brakecourse.trade.fluid import CaliperTravel, WheelWear, piston_area_mm2, required_reservoir_ml
from brakecourse.views.units import both
from brakecourse.views.words import number

slip = slips.slip
Caliper = WheelWear | CaliperTravel
Slips = dict[str, tuple[float, ...]]

ROUNDED_MM2, ROUNDED_ML = 0.5, 0.05
"""Areas are asked in whole mm² and volumes to 0.1 mL, so rounding moves them by half of that."""

SCHOOL_PI = 3.14
"""π may be taken as 3.14, as a pocket calculator without it asks for."""

_RADIUS_TIMES = 4
"""A bore taken as the radius makes the area, and every volume, so many times too large."""


def areas(truth: LevelTruth, _given: Given) -> Basis:
    """2.3: the area of one piston at the front and at the rear."""
    right = [piston_area_mm2(one.piston_bore_mm) for one in truth.calipers]
    found: list[SealedMistake] = []
    for place, (one, area) in enumerate(zip(truth.calipers, right, strict=True), start=1):
        bore, near = one.piston_bore_mm, _area_near(area)
        named = [
            slip("bore_as_radius", _RADIUS_TIMES * area, _RADIUS_TIMES * near),
            slip("square_for_circle", bore * bore, ROUNDED_MM2),
            slip("circumference_for_area", 4 * area / bore, 4 * near / bore + ROUNDED_MM2),
            *slips.decimal_point(area, near),
        ]
        if one.pistons not in (1, _RADIUS_TIMES):  # four pistons look like the radius
            named.append(slip("all_pistons_for_one", one.pistons * area, one.pistons * near))
        found += [each.model_copy(update={"place": place}) for each in named]
    told = (
        f"{axle}: π ÷ 4 × {one.piston_bore_mm:.0f} mm × {one.piston_bore_mm:.0f} mm is {both(area, 'mm²')}."
        for axle, one, area in zip(("Front", "Rear"), truth.calipers, right, strict=True)
    )
    near_row = tuple(map(_area_near, right))
    how = f"{' '.join(told)} The bore is the diameter."
    return basis.table(right, near_row, found, how=how, places=0)


def _area_near(area: float) -> float:
    # Rounded to a whole mm², and worked with 3.14 for π.
    return ROUNDED_MM2 + area * (math.pi - SCHOOL_PI) / math.pi


def wheels(truth: LevelTruth, given: Given) -> Basis:
    """2.4: the fluid that the wear of each wheel asks for."""
    own = _with_areas(truth.wheels, given.row("2.3"), front=2)
    right = [one.volume_ml for one in own]
    found: list[SealedMistake] = []
    for place, (one, true) in enumerate(zip(own, truth.wheels, strict=True), start=1):
        named = [
            slip(name, value, ROUNDED_ML + _per_mm2(one) * ROUNDED_MM2)
            for name, values in _wheel_slips(one, true).items()
            for value in values
        ]
        found += [each.model_copy(update={"place": place}) for each in named]
    return basis.table(
        right,
        tuple(_volume_near(one, alone=True) for one in truth.wheels),
        found,
        how=" ".join(_wheel_words(name, one) for name, one in zip(WHEELS, own, strict=True)),
        places=1,
        carried=tuple(_volume_near(one, alone=False) for one in truth.wheels),
    )


def _with_areas(some: Sequence[WheelWear], given_mm2: Sequence[float], front: int) -> tuple[WheelWear, ...]:
    """Return the wear as the given areas make it: the first so many are at the front."""
    return tuple(
        replace(one, piston_bore_mm=_bore_mm(given_mm2[place >= front])) for place, one in enumerate(some)
    )


def _bore_mm(area_mm2: float) -> float:
    return math.sqrt(4 * area_mm2 / math.pi)


def _per_mm2(one: Caliper) -> float:
    """Return how much fluid each mm² of a piston's area takes, mL."""
    return one.volume_ml / piston_area_mm2(one.piston_bore_mm)


def _volume_near(one: Caliper, *, alone: bool) -> float:
    """Return how far an honest volume may be off, mL: bounds of rounding, so they add.

    Worked alone, the area may come with 3.14 for π; worked from the learner's own area only that one's
    rounding is left, because a calculator may still hold it in full.
    """
    area = piston_area_mm2(one.piston_bore_mm)
    return ROUNDED_ML + _per_mm2(one) * (_area_near(area) if alone else ROUNDED_MM2)


def _radius_ml(one: Caliper, true: Caliper) -> tuple[float, ...]:
    """Return the volume with the bore as radius; nothing where the given area shows that slip already."""
    shown = one.piston_bore_mm > math.sqrt(2) * true.piston_bore_mm
    return () if shown else (_RADIUS_TIMES * one.volume_ml,)


def _wheel_slips(one: WheelWear, true: WheelWear) -> Slips:
    """Return what each usual slip makes of one wheel's volume, mL."""
    right, rotor = one.volume_ml, one.rotor_wear_mm
    found: Slips = {"bore_as_radius": _radius_ml(one, true)}
    if one.caliper == "floating":
        one_pad = replace(one, lining_wear_mm=one.lining_wear_mm / 2)
        found["one_pad_only"] = (one_pad.volume_ml, replace(one_pad, rotor_wear_mm=0.0).volume_ml)
        if one.pistons > 1:
            found["one_piston_only"] = (right / one.pistons,)
        else:
            found["one_pad_only"] += (right / 2,)
    else:
        found["both_pads_in_fixed"] = (2 * right,)
        found["one_pad_only"] = (right / 2, replace(one, rotor_wear_mm=0.0).volume_ml / 2)
    if rotor:
        found["rotor_left_out"] = (replace(one, rotor_wear_mm=0.0).volume_ml,)
    found["cubic_millimetres"] = (1000 * right,)
    found["ten_times"] = (10 * right, right / 10)
    return found


def _wheel_words(name: str, one: WheelWear) -> str:
    wear, area = number(one.lining_wear_mm, 1), piston_area_mm2(one.piston_bore_mm)
    many, half = one.pistons, ""
    if one.caliper == "fixed":
        many, half = one.pistons // 2, ", half of the pistons with the way of both sides"
    times = "" if many == 1 else f"{many} pistons × "
    way = f"({wear} + {wear} + {number(one.rotor_wear_mm, 1)}) mm"
    return f"{name.capitalize()}: {times}{area:.0f} mm² × {way} ÷ 1000 is {both(one.volume_ml, 'mL')}{half}."


def all_wheels(truth: LevelTruth, given: Given) -> Basis:
    """2.5: the fluid that the wear of all four wheels asks for."""
    row = given.row("2.4")
    right, line = sum(row), 4 * ROUNDED_ML
    front_left, front_right, rear_left, rear_right = row
    return basis.number(
        right,
        sum(_volume_near(one, alone=True) for one in truth.wheels) + ROUNDED_ML,
        (
            slip("one_wheel_of_an_axle", front_left + rear_left, line),
            slip("one_wheel_of_an_axle", front_right + rear_right, line),
            slip("one_axle_only", front_left + front_right, line),
            slip("one_axle_only", rear_left + rear_right, line),
            slip("one_wheel_of_an_axle", front_left, line),
            slip("counted_twice", 2 * right, 2 * line),
            slip("cubic_millimetres", 1000 * right, 1000 * line),
        ),
        how=f"{' + '.join(number(one, 1) for one in row)} is {both(right, 'mL')}.",
        places=1,
        # A calculator may still hold the four volumes in full: four roundings, and the one of the sum.
        carried=5 * ROUNDED_ML,
    )


def must_hold(truth: LevelTruth, given: Given) -> Basis:
    """2.9: what a reservoir for this vehicle must hold by the regulation."""
    front, rear = (
        replace(one, piston_bore_mm=_bore_mm(area))
        for one, area in zip(truth.calipers, given.row("2.3"), strict=True)
    )
    right, line = required_reservoir_ml([front, front, rear, rear]), 5 * ROUNDED_ML
    # Each of the four volumes may be rounded on the way, and the sum once more.
    alone, carried = (
        2 * sum(_volume_near(one, alone=each) for one in truth.calipers) + ROUNDED_ML
        for each in (True, False)
    )
    one_each = front.volume_ml + rear.volume_ml
    radius = [2 * sum(_radius_ml(front, truth.calipers[0]) + _radius_ml(rear, truth.calipers[1]))]
    named = [slip("bore_as_radius", value, _RADIUS_TIMES * line) for value in radius if value > right]
    # A total that a likelier slip gives as well is left out: nobody could tell which one it was.
    named += [
        slip(name, total, line)
        for name, change in _TRAVEL_SLIPS.items()
        if not any(
            math.isclose(total := 2 * (change(front) + change(rear)), one) for one in (right, one_each)
        )
    ]
    return basis.number(
        right,
        alone,
        (
            slip("one_wheel_of_an_axle", one_each, line),
            slip("one_axle_only", 2 * front.volume_ml, line),
            slip("one_axle_only", 2 * rear.volume_ml, line),
            slip("one_wheel_of_an_axle", front.volume_ml, line),
            *named,
            slip("cubic_millimetres", 1000 * right, 1000 * line),
        ),
        how=f"{_travel_words('Front', front)} {_travel_words('Rear', rear)} Both wheels of each axle: 2 × "
        f"{number(front.volume_ml, 1)} mL + 2 × {number(rear.volume_ml, 1)} mL is {both(right, 'mL')}.",
        places=1,
        carried=carried,
    )


def _one_pad(one: CaliperTravel) -> float:
    """Return one caliper's volume with one pad counted; half of the way of both in a fixed caliper."""
    if one.caliper == "fixed":
        return one.volume_ml / 2
    per_pad = one.lining_new_mm - one.lining_worn_mm + one.clearance_mm
    return _per_mm2(one) * piston_area_mm2(one.piston_bore_mm) * (per_pad + one.rotor_wear_mm) / _way_mm(one)


def _way_mm(one: CaliperTravel) -> float:
    return 2 * (one.lining_new_mm - one.lining_worn_mm + one.clearance_mm) + one.rotor_wear_mm


# What each slip makes of one caliper's volume. Where it changes nothing, it is left out by itself.
_TRAVEL_SLIPS: dict[str, Callable[[CaliperTravel], float]] = {
    "one_pad_only": _one_pad,
    "both_pads_in_fixed": lambda one: one.volume_ml * (2 if one.caliper == "fixed" else 1),
    "one_piston_only": lambda one: one.volume_ml / (one.pistons if one.caliper == "floating" else 1),
    "worn_to_bare": lambda one: replace(one, lining_worn_mm=0.0).volume_ml,
    "clearance_left_out": lambda one: replace(one, clearance_mm=0.0).volume_ml,
    "rotor_left_out": lambda one: replace(one, rotor_wear_mm=0.0).volume_ml,
}


def _travel_words(axle: str, one: CaliperTravel) -> str:
    per_pad = one.lining_new_mm - one.lining_worn_mm + one.clearance_mm
    many = one.pistons if one.caliper == "floating" else one.pistons // 2
    times = "" if many == 1 else f"{many} pistons × "
    way = f"({number(per_pad)} + {number(per_pad)} + {number(one.rotor_wear_mm, 1)}) mm"
    return (
        f"{axle}: each pad moves by {number(one.lining_new_mm, 1)} − {number(one.lining_worn_mm, 1)} + "
        f"{number(one.clearance_mm)} = {number(per_pad)} mm, and {times}"
        f"{piston_area_mm2(one.piston_bore_mm):.0f} mm² × {way} ÷ 1000 is {both(one.volume_ml, 'mL')}."
    )
