"""12.1 to 12.3: the strokes, the proof of the pedal, and where the level ends."""

from __future__ import annotations

import math

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m12_pedal_and_burnish.truth import BurnishTruth, PedalState
from brakecourse.trade.burnish import strokes_to_firm_pedal
from brakecourse.trade.conformity import combine
from brakecourse.trade.fluid import level_drop_mm
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

slip = slips.slip

TENTH = 0.05
"""A value to one decimal place is off by up to half of a tenth."""

_RIGHT: dict[PedalState, str] = {"firm": "move-firm", "low": "pump-low", "sinks": "stay-sinks"}
_WRONG: dict[PedalState, tuple[tuple[str, str], ...]] = {
    "firm": (("firm_not_believed", "pump-low"), ("firm_not_believed", "stay-sinks")),
    "low": (("low_pedal_driven", "move-firm"), ("firm_not_believed", "stay-sinks")),
    "sinks": (("sink_overlooked", "move-firm"), ("sink_overlooked", "pump-low")),
}


def strokes(truth: BurnishTruth, _given: Given) -> Basis:
    """12.1: strokes until the pedal is firm."""
    gaps, one, stroke = truth.fluid.gaps_ml, truth.fluid.caliper_ml, truth.fluid.stroke_ml
    right = strokes_to_firm_pedal(gaps, stroke)
    return basis.number(
        float(right),
        0.0,
        (
            slip("one_caliper_only", float(strokes_to_firm_pedal(one, stroke)), 0.0),
            slip("strokes_rounded_down", float(math.floor(gaps / stroke)), 0.0),
            slip("strokes_not_rounded", gaps / stroke, TENTH),
            slip("one_caliper_only", one / stroke, TENTH),
            slip("stroke_over_gaps", stroke / gaps, TENTH),
        ),
        how=(
            f"Both calipers take 2 × {number(one, 1)} = {both(gaps, 'mL')}. {number(gaps, 1)} ÷ "
            f"{number(stroke, 1)} = {number(gaps / stroke)}, rounded up: {right} strokes."
        ),
        places=0,
    )


def proven(truth: BurnishTruth, given: Given) -> Basis:
    """12.2: may it move?"""
    pedal = truth.pedal
    pressed, held = pedal.pressed.reading, pedal.held.reading
    told = (
        f"At press {pedal.press} the pedal stops after {mm(pressed, 0)}; at most "
        f"{mm(pedal.most_mm, 0)} is sound. After {pedal.held_s:g} s it stands at {mm(held, 0)}."
    )
    ends = {
        "firm": "It stops high and stays up.",
        "low": "That is too far down: the gaps are not filled yet.",
        "sinks": "It went down while it was held, so fluid or pressure is lost somewhere.",
    }
    return given.choice(
        "12.2", (_RIGHT[pedal.state],), _WRONG[pedal.state], how=f"{told} {ends[pedal.state]}"
    )


def final_level(truth: BurnishTruth, _given: Given) -> Basis:
    """12.3: where the fluid stands once the gaps are filled."""
    fluid = truth.fluid
    level, fall = fluid.level.reading, level_drop_mm(fluid.gaps_ml, fluid.area_mm2)
    near = tolerances.rounded(fluid.level.division)
    misread = [
        slip(name, value - fall, near)
        for name, value in sorted(
            fluid.level.misreadings.items(), key=lambda one: one[0] not in fluid.level.likely
        )
    ]
    return basis.number(
        level - fall,
        # Half a division for the nearest line and half for the eye, and the rounding of the answer.
        combine(tolerances.reading(fluid.level.division), TENTH),
        (
            slip("level_raised", level + fall, near),
            slip("level_not_lowered", level, near),
            slip("one_caliper_only", level - fall / 2, near),
            slip("fall_alone", fall, TENTH),
            slip("stroke_for_gaps", level - level_drop_mm(fluid.stroke_ml, fluid.area_mm2), TENTH),
            *misread,
            *slips.of_any_length(level - fall, TENTH),
        ),
        how=(
            f"The level stands at {mm(level, 0)}. The gaps take {number(fluid.gaps_ml, 1)} mL, that is "
            f"{1000 * fluid.gaps_ml:.0f} mm³. The fall is {1000 * fluid.gaps_ml:.0f} ÷ {fluid.area_mm2:.0f} "
            f"= {mm(fall, 1)}. So it ends at {mm(level - fall, 1)}."
        ),
        places=1,
    )
