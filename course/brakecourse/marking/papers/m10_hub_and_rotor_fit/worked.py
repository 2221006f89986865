"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m10_hub_and_rotor_fit.truth import FitTruth
from brakecourse.marking.worked_text import row


def worked(truth: FitTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    return {
        "found_mm": row(truth.found_mm),
        "thin_first": repr(given.words("10.3")),
        "first_step": repr(given.words("10.4")),
        "flake_mm": f"{truth.flake_mm:.2f}",
        "seat_radius_mm": f"{truth.seat_mm:.1f}",
        "track_radius_mm": f"{truth.track_mm:.1f}",
        "clean_mm": row(truth.clean_mm),
        "flange": f"hub_fit.RunOut(total_mm={truth.flange_mm:.3f}, high_deg={truth.hub_deg:.0f})",
        "rotor_alone": f"hub_fit.RunOut(total_mm={truth.rotor_mm:.2f}, high_deg={truth.rotor_deg:.0f})",
        "studs": f"{truth.studs}",
        "tried_mm": row(truth.tried_mm),
        "what_to_do": repr(given.words("10.9")),
    }
