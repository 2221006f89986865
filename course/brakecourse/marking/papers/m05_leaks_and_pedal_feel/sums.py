"""Readings and sums: the right answers of 5.1, 5.2, 5.8 and 5.9, and the mistakes that they invite."""

from __future__ import annotations

import math
from collections.abc import Iterable

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.truth import DiagnosisTruth
from brakecourse.marking.readings import SealedReading, read_one, read_row
from brakecourse.marking.sealed import SealedMistake
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.trade.leaks import atmosphere_mpa
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

PLACES = 2
ROUNDED_ML = 0.005
"""Volumes are asked to 0.01 mL, so rounding moves them by half of that."""

ROUNDED_SHARE, ROUNDED_ROD_MM, ROUNDED_MM2, ROUNDED_LOST_ML = 0.0005, 0.005, 0.5, 0.005
"""On the way the lesson writes the share lost to 0.001, the push rod's way to 0.01 mm, the area to 1 mm² and
the volume lost to 0.01 mL; each is off by half of that."""

LESSON_QUARTER_PI, LESSON_AIR_MPA = 0.785, 0.101
"""The lesson takes π ÷ 4 and the pressure of the air round us so."""

_RADIUS_TIMES, _SQUARE_TIMES = 4.0, 4 / math.pi


def held_readings(truth: DiagnosisTruth, _given: Given) -> Basis:
    """5.1: the rule at the start and at the end of the hold."""
    told = (
        f"{when} the face stands {_where(one)}, to the nearest line: {mm(one.reading, 0)}."
        for when, one in zip(("At the start", "At the end"), truth.held, strict=True)
    )
    return read_row(truth.held, how=" ".join(told), places=0)


def soft_reading(truth: DiagnosisTruth, _given: Given) -> Basis:
    """5.8: the rule after the repair."""
    how = f"The face stands {_where(truth.soft)}, to the nearest line: {mm(truth.soft.reading, 0)}."
    return read_one(truth.soft, how=how, places=0)


def _where(read: SealedReading) -> str:
    ten = int(read.reading // 10 * 10)
    more = round(read.reading - ten)
    return f"{more} {'line' if more == 1 else 'lines'} past number {ten}" if more else f"at number {ten}"


def leak(truth: DiagnosisTruth, given: Given) -> Basis:
    """5.2: the fluid that leaves in a minute."""
    first, last = given.row("5.1")
    sunk_mm = last - first
    rate = sunk_mm * 60 / truth.hold_s
    right = truth.leak_ml_per_min(rate)
    rod_mm = rate / truth.pedal_ratio
    near = ROUNDED_ML + right * _worked_share(truth, rod_mm)
    per_mm = right / sunk_mm
    return basis.number(
        right,
        near + per_mm * tolerances.difference(truth.held[0].division),
        _slips(
            right,
            near,
            truth,
            [
                ("seconds_for_minute", right * truth.hold_s / 60),
                ("seconds_for_minute", right / 60),
                ("last_reading_for_sinking", truth.leak_ml_per_min(last * 60 / truth.hold_s)),
                ("last_reading_for_sinking", truth.leak_ml_per_min(last)),
                ("sinking_for_fluid", rate),
            ],
        ),
        how=f"The pedal sinks by {number(last, 0)} − {number(first, 0)} = {number(sunk_mm, 0)} mm in "
        f"{truth.hold_s} s, which is {mm(rate, 1)} in a minute. Divided by the pedal ratio "
        f"{truth.pedal_ratio:g} that is {number(rod_mm)} mm of the push rod. The bore's area is "
        f"{_area_words(truth)}. Rod times area, divided by 1000: {both(right, 'mL/min', 2)} leave.",
        places=PLACES,
        carried=near,
    )


def air(truth: DiagnosisTruth, given: Given) -> Basis:
    """5.9: the air at rest."""
    read_mm = given.number("5.8")
    extra_mm = read_mm - truth.usual_mm
    right, share = truth.air_ml(extra_mm), truth.share_lost
    rod_mm, lost_ml = extra_mm / truth.pedal_ratio, right * share
    # The air round us as the lesson writes it moves the share lost, which is rounded once more.
    air_share = abs(truth.pressure_mpa / (truth.pressure_mpa + LESSON_AIR_MPA) - share) / share
    written = ROUNDED_SHARE / share + ROUNDED_LOST_ML / lost_ml
    near = ROUNDED_ML + right * (_worked_share(truth, rod_mm) + air_share + written)
    return basis.number(
        right,
        near + right / extra_mm * tolerances.reading(truth.soft.division),
        _slips(
            right,
            near,
            truth,
            [
                ("lost_for_at_rest", lost_ml),
                ("lost_for_at_rest", lost_ml * share),
                ("whole_travel_for_extra", truth.air_ml(read_mm)),
                ("usual_travel_for_extra", truth.air_ml(truth.usual_mm)),
            ],
        ),
        how=f"The pedal goes {number(read_mm, 0)} − {number(truth.usual_mm, 0)} = {number(extra_mm, 0)} mm "
        f"further: {number(rod_mm)} mm of the push rod. The bore's area is {_area_words(truth)}. Rod times "
        f"area, divided by 1000: {both(lost_ml, 'mL', 2)} are lost. The share lost is "
        f"{number(truth.pressure_mpa, 1)} ÷ ({number(truth.pressure_mpa, 1)} + "
        f"{number(atmosphere_mpa(), 3)}) = {number(share, 3)}. Divided by that, the air at rest is "
        f"{both(right, 'mL', 2)}.",
        places=PLACES,
        carried=near,
    )


def _slips(
    right: float, near: float, truth: DiagnosisTruth, own: Iterable[tuple[str, float]]
) -> list[SealedMistake]:
    """Return the mistakes on the way from travel to volume, each with the right answer's relative width."""
    found = [
        *own,
        ("pedal_ratio_left_out", right * truth.pedal_ratio),
        ("pedal_ratio_left_out", right * truth.pedal_ratio**2),
        ("bore_as_radius", right * _RADIUS_TIMES),
        ("square_for_circle", right * _SQUARE_TIMES),
        ("cubic_millimetres", 1000 * right),
        ("ten_times", 10 * right),
        ("ten_times", right / 10),
    ]
    return [slips.slip(name, value, max(ROUNDED_ML, near * abs(value / right))) for name, value in found]


def _worked_share(truth: DiagnosisTruth, rod_mm: float) -> float:
    """Return how far off a volume worked as in the lesson may be, as a share: bounds, so they add."""
    quarter_pi = 1 - LESSON_QUARTER_PI / (math.pi / 4)
    area = piston_area_mm2(truth.master_bore_mm)
    return quarter_pi + ROUNDED_MM2 / area + ROUNDED_ROD_MM / rod_mm


def _area_words(truth: DiagnosisTruth) -> str:
    bore = number(truth.master_bore_mm, 2 if round(truth.master_bore_mm, 1) != truth.master_bore_mm else 1)
    area = both(piston_area_mm2(truth.master_bore_mm), "mm²")
    return f"π ÷ 4 × {bore} mm × {bore} mm = {area}"
