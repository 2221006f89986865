"""The right answers, how they follow, and the mistakes that each question invites."""

from __future__ import annotations

import math

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers import job_steps
from brakecourse.marking.papers.m06_caliper_off import findings
from brakecourse.marking.papers.m06_caliper_off.moments import moments_basis
from brakecourse.marking.papers.m06_caliper_off.truth import CaliperTruth
from brakecourse.marking.readings import read_one
from brakecourse.trade.fluid import level_drop_mm, piston_area_mm2, wear_volume_ml
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

slip = slips.slip

ROUNDED = 0.05
"""Ways and volumes are asked to a tenth, so rounding moves them by half of one."""

ROUNDED_MM2 = 0.5
"""An area may be written down in whole mm² before it is multiplied."""

SCHOOL_PI = 3.14
"""π may be taken as 3.14, as a pocket calculator without it asks for."""

WHEELS = 2


def travel(truth: CaliperTruth, _given: Given) -> Basis:
    """6.1: how far the pistons go back."""
    new, inner, outer = truth.new_mm, truth.inner_mm, truth.outer_mm
    right, near = truth.travel_mm, ROUNDED / 2
    return basis.number(
        right,
        ROUNDED,
        (
            slip("one_pad_for_two", new - inner, near),
            slip("one_pad_for_two", new - outer, near),
            slip("one_pad_for_two", right / 2, ROUNDED),
            slip("lining_left", inner + outer, near),
            slip("down_to_the_least", 2 * (new - truth.least_mm), near),
            slip("whole_lining", 2 * new, near),
            *slips.of_any_length(right, near),
        ),
        how=f"Inner pad: {number(new, 1)} − {number(inner, 1)} = {number(new - inner, 1)} mm. Outer pad: "
        f"{number(new, 1)} − {number(outer, 1)} = {number(new - outer, 1)} mm. Both together, because the "
        f"body of a floating caliper slides: {mm(right, 1)}.",
        places=1,
    )


def _volume_near(truth: CaliperTruth, way_mm: float, off_mm: float) -> float:
    """Return how far an honest volume may be off, mL: bounds of rounding, so they add."""
    area, each = piston_area_mm2(truth.bore_mm), truth.pistons / 1000
    school = area * (math.pi - SCHOOL_PI) / math.pi
    return ROUNDED + each * (off_mm * area + way_mm * (ROUNDED_MM2 + school))


def volume(truth: CaliperTruth, given: Given) -> Basis:
    """6.2: the fluid that comes into the bottle."""
    way, many = given.number("6.1"), truth.pistons
    right, near = wear_volume_ml(truth.bore_mm, many, way / 2), ROUNDED
    bore, area = number(truth.bore_mm, 0), piston_area_mm2(truth.bore_mm)
    pi = 4 / math.pi
    # With two pistons one of them gives what one pad gives: nobody could tell the two apart.
    halved = slip("one_piston_only" if many > 1 else "one_pad_for_two", right / 2, near)
    times = f"{many} × " if many > 1 else ""
    return basis.number(
        right,
        _volume_near(truth, way, ROUNDED),
        (
            slip("bore_as_radius", 4 * right, 4 * _volume_near(truth, way, 0.0)),
            slip("square_for_circle", pi * right, pi * near),
            halved,
            slip("cubic_millimetres", 1000 * right, 1000 * near),
            *slips.decimal_point(right, near),
        ),
        how=f"Area of one piston: π ÷ 4 × {bore} × {bore} = {both(area, 'mm²')}. {times}{number(area, 0)} × "
        f"{number(way, 1)} ÷ 1000 = {both(right, 'mL')}.",
        places=1,
        carried=_volume_near(truth, way, 0.0),
    )


def level(truth: CaliperTruth, _given: Given) -> Basis:
    """6.3: the level on the rule."""
    read = truth.level
    below_mm = truth.max_mm - read.reading
    counted_down = slip("from_the_maximum", below_mm, tolerances.rounded(read.division))
    return read_one(
        read,
        [counted_down] if below_mm > 0 else [],
        how=f"The flat of the fluid stands at {both(read.reading, 'mm', 0)}, to the nearest line.",
        places=0,
    )


def rise(truth: CaliperTruth, given: Given) -> Basis:
    """6.4: how far the level would rise with both bleeders shut."""
    one_ml = given.number("6.2")
    right, near = level_drop_mm(WHEELS * one_ml, truth.area_mm2), ROUNDED
    per_ml = WHEELS * 1000 / truth.area_mm2
    return basis.number(
        right,
        near + per_ml * _volume_near(truth, truth.travel_mm, ROUNDED),
        (
            slip("one_wheel_for_two", right / WHEELS, near),
            slip("level_for_rise", truth.level.reading + right, tolerances.reading(truth.level.division)),
            slip("thousand_left_out", right / 1000, near / 100),
            *slips.of_any_length(right, near),
        ),
        how=f"2 × {number(one_ml, 1)} mL × 1000 ÷ {number(truth.area_mm2, 0)} mm² = {mm(right, 1)}.",
        places=1,
        # A calculator may still hold the volume in full.
        carried=near + per_ml * ROUNDED,
    )


def shut(truth: CaliperTruth, given: Given) -> Basis:
    """6.5: what the level would do, and what that means."""
    stood, up = given.number("6.3"), given.number("6.4")
    top, alone = stood + up, _where(truth, up)
    where = {
        "below-max": f"That stays below MAX, {mm(truth.max_mm, 0)}.",
        "above-max": f"That is above MAX, {mm(truth.max_mm, 0)}, and below the lid, {mm(truth.lid_mm, 0)}.",
        "over": f"That is above the lid, {mm(truth.lid_mm, 0)}: it runs over.",
    }
    found = _where(truth, top)
    return given.choice(
        "6.5",
        (found,),
        (("level_left_out", alone), *(("wrong_mark", one) for one in where if one != alone)),
        how=f"{number(stood, 0)} mm + {number(up, 1)} mm = {mm(top, 1)}. {where[found]} In any case the old "
        "fluid and its dirt went through the ABS unit.",
    )


def _where(truth: CaliperTruth, top_mm: float) -> str:
    if top_mm > truth.lid_mm:
        return "over"
    return "above-max" if top_mm > truth.max_mm else "below-max"


def bleeder(truth: CaliperTruth, _given: Given) -> Basis:
    """6.6: what the bleeder must be at five moments."""
    return moments_basis(truth.moments)


def order(truth: CaliperTruth, _given: Given) -> Basis:
    """6.9: the steps of the part in order."""
    return job_steps.sequence(truth.steps)


KEY: dict[str, Answer] = {
    "6.1": travel,
    "6.2": volume,
    "6.3": level,
    "6.4": rise,
    "6.5": shut,
    "6.6": bleeder,
    "6.7": findings.hose,
    "6.8": findings.caliper,
    "6.9": order,
}
