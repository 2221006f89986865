"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m12_pedal_and_burnish.truth import BurnishTruth


def worked(truth: BurnishTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    fluid, heat = truth.fluid, truth.heat
    return {
        "caliper_ml": f"{fluid.caliper_ml:.1f}",
        "stroke_ml": f"{fluid.stroke_ml:.1f}",
        "may_it_move": repr(given.words("12.2")),
        "level_mm": f"{fluid.level.reading:.0f}",
        "surface_mm2": f"{fluid.area_mm2:.0f}",
        "mass_kg": f"{heat.mass_kg:.0f}",
        "low_mph": f"{truth.low_mph:.0f}",
        "high_mph": f"{truth.high_mph:.0f}",
        "front_share": f"{heat.front_share:.2f}",
        "rotor_kg": f"{heat.rotor_kg:.1f}",
        "hat_c": f"{truth.hat.reading:.0f}",
        "next_c": f"{truth.next_c:.0f}",
        "air_c": f"{heat.air_c:.0f}",
        "half_time_min": f"{heat.half_min:.1f}",
        "in_a_round": f"{truth.round_count}",
        "start_c": f"{truth.start_c:.0f}",
        "what_now": repr(given.words("12.9")),
    }
