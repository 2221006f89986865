"""9.1 to 9.6: the pull of the pins, the forces on the pads, room and grease in a bore."""

from __future__ import annotations

import math
from collections.abc import Sequence

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers import units_text as both
from brakecourse.marking.papers.m09_bracket_and_pins.truth import Bore, BracketTruth
from brakecourse.marking.readings import read_row
from brakecourse.published import convert
from brakecourse.trade import slide_pins
from brakecourse.trade.conformity import combine
from brakecourse.views.words import mm, number

slip = slips.slip

NEWTON_ROUNDING, RATIO_ROUNDING, ML_ROUNDING, GAP_ROUNDING_MM = 0.5, 0.005, 0.005, 0.05
"""Half of the last place that each answer is asked to."""

AREA_ROUNDING_MM2 = 0.05
"""An area that was written down in between to 0.1 mm2."""


def pulls(truth: BracketTruth, _given: Given) -> Basis:
    """9.1: the pull gauge at both pins."""
    how = " ".join(
        f"{pin} pin: one line is {read.division:g} N, and the pointer stands at {both.newtons(read.reading)}."
        for pin, read in zip(("Leading", "Trailing"), truth.pulls, strict=True)
    )
    return read_row(truth.pulls, how=how, places=0)


def outer_force(truth: BracketTruth, given: Given) -> Basis:
    """9.2: what presses the outer pad."""
    leading, trailing = _pins(given)
    clamp, drag = truth.clamp_n, leading + trailing
    right = slide_pins.pad_force_split_n(clamp, drag).outer_n
    near = _outer_near(truth, alone=True)
    return basis.number(
        right,
        near,
        (
            slip("inner_for_outer", clamp, near),
            slip("drag_added", clamp + drag, near),
            slip("drag_for_force", drag, near),
            slip("one_pin_only", clamp - leading, near),
            slip("one_pin_only", clamp - trailing, near),
            slip("drag_twice", clamp - 2 * drag, near),
            slip("halved_force", right / 2, near),
            slip("floating_clamp_doubled", 2 * clamp - drag, near),
            slip("lbf_for_newton", convert(right, "N", "lbf"), near / 2),
            *slips.decimal_point(right, near),
        ),
        how=(
            f"The pins hold {number(leading, 0)} + {number(trailing, 0)} = {both.newtons(drag)} back: "
            f"{number(clamp, 0)} − {number(drag, 0)} = {both.newtons(right)}."
        ),
        places=0,
        carried=_outer_near(truth, alone=False),
    )


def ratio(truth: BracketTruth, given: Given) -> Basis:
    """9.3: how many times as fast the inner pad wears."""
    clamp = truth.clamp_n
    outer = _positive(given.number("9.2"), truth)
    leading, trailing = _pins(given)
    drag = clamp - outer
    right = clamp / outer
    rounding = combine(RATIO_ROUNDING, right / outer * NEWTON_ROUNDING)
    near = combine(RATIO_ROUNDING, right / outer * _outer_near(truth, alone=True))
    candidates = [
        slip("ratio_upside_down", 1 / right, near),
        slip("drag_added", (clamp + drag) / clamp, near),
        slip("drag_for_force", clamp / drag if drag > 0 else 0.0, near),
        slip("one_pin_only", clamp / (clamp - leading) if clamp > leading else 0.0, near),
        slip("one_pin_only", clamp / (clamp - trailing) if clamp > trailing else 0.0, near),
        slip("drag_for_force", drag / clamp, near),
        slip("percent_for_ratio", 100 * right, 100 * near),
    ]
    return basis.number(
        right,
        near,
        candidates,
        how=f"Inner over outer force: {number(clamp, 0)} ÷ {number(outer, 0)} = {number(right)}.",
        carried=rounding,
    )


def free_volume(truth: BracketTruth, _given: Given) -> Basis:
    """9.4: room for grease and air in one bore, the pin seated."""
    bore = truth.bore
    right, near = slide_pins.free_volume_ml(*bore.measures), _free_near(bore)
    wide, thin = area_mm2(bore.bore_mm), area_mm2(bore.pin_mm)
    return basis.number(
        right,
        near,
        (
            slip("whole_bore", wide * bore.depth_mm / 1000, near),
            slip("bore_as_radius", 4 * right, 4 * near),
            slip("room_below_only", wide * (bore.depth_mm - bore.seated_mm) / 1000, near),
            slip("ring_only", (wide - thin) * bore.seated_mm / 1000, near),
            slip("depth_for_length", (wide - thin) * bore.depth_mm / 1000, near),
            slip("pin_alone", thin * bore.seated_mm / 1000, near),
            slip("mm3_for_ml", 1000 * right, 1000 * near),
            *slips.decimal_point(right, near),
        ),
        how=(
            f"Bore {number(wide, 1)} mm² × {bore.depth_mm:g} mm less pin {number(thin, 1)} mm² × "
            f"{bore.seated_mm:g} mm is {number(1000 * right, 0)} mm³: {both.millilitres(right, 3)}."
        ),
    )


def most_grease(truth: BracketTruth, given: Given) -> Basis:
    """9.5: half of the free volume."""
    bore, free = truth.bore, given.number("9.4")
    share = 1 - slide_pins.AIR_SHARE
    right, near = share * free, combine(ML_ROUNDING, share * _free_near(bore))
    whole = area_mm2(bore.bore_mm) * bore.depth_mm / 1000
    return basis.number(
        right,
        near,
        (
            slip("packed_full", free, near),
            slip("whole_bore", share * whole, near),
            slip("whole_bore", whole, near),
            slip("halved_twice", share * right, near),
            slip("bore_as_radius", 4 * right, 4 * near),
            slip("mm3_for_ml", 1000 * right, 1000 * near),
            *slips.decimal_point(right, near),
        ),
        how=f"Half of the free volume stays air: {number(free, 3)} ÷ 2 is {both.millilitres(right, 3)}.",
        carried=near,
    )


def gap(truth: BracketTruth, given: Given) -> Basis:
    """9.6: how far short of its seat the pin would stop."""
    bore, grease, free = truth.bore, truth.pressed_in_ml, given.number("9.4")
    wide, thin = area_mm2(bore.bore_mm), area_mm2(bore.pin_mm)
    over = 1000 * max(0.0, grease - free)
    right = over / thin
    near = combine(GAP_ROUNDING_MM, 1000 * _free_near(bore) / thin)
    return basis.number(
        right,
        near,
        (
            slip("all_the_grease", 1000 * grease / thin, near),
            slip("from_the_limit", 1000 * (grease - (1 - slide_pins.AIR_SHARE) * free) / thin, near),
            slip("area_of_the_bore", over / wide, near),
            slip("area_of_the_ring", over / (wide - thin), near),
            slip("bore_as_radius", right / 4, near),
            *slips.of_any_length(right, near),
        ),
        how=(
            f"Too much: {number(grease, 3)} − {number(free, 3)} mL = {number(over, 0)} mm³. Divided by the "
            f"area of the pin, {number(thin, 1)} mm²: {mm(right, 1)}."
        ),
        places=1,
        carried=near,
    )


def area_mm2(diameter_mm: float) -> float:
    """Return the area of a circle, mm2.

    >>> round(area_mm2(10), 1)
    78.5
    """
    return math.pi / 4 * diameter_mm**2


def _pins(given: Given) -> tuple[float, float]:
    leading, trailing = (max(0.0, one) for one in given.row("9.1"))
    return leading, trailing


def _positive(outer_n: float, truth: BracketTruth) -> float:
    """Return a force to divide by; the true one when the learner's own cannot press a pad."""
    if outer_n > 0:
        return outer_n
    return slide_pins.pad_force_split_n(truth.clamp_n, sum(truth.pulls_n)).outer_n


def _outer_near(truth: BracketTruth, alone: bool) -> float:
    """Return how far the outer pad's force may be off: each pin's reading, and rounding."""
    each = tolerances.reading if alone else tolerances.carried
    errors: Sequence[float] = [each(read.division) for read in truth.pulls]
    return combine(*errors, NEWTON_ROUNDING)


def _free_near(bore: Bore) -> float:
    """Return how far a free volume may be off: both areas rounded on the way, and the answer."""
    return combine(
        ML_ROUNDING, AREA_ROUNDING_MM2 * bore.depth_mm / 1000, AREA_ROUNDING_MM2 * bore.seated_mm / 1000
    )
