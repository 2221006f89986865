"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m07_pad_wear.truth import PadTruth
from brakecourse.marking.worked_text import row


def worked(truth: PadTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    limits = truth.limits
    return {
        "corners_mm": row(truth.readings_mm, 1),
        "step_mm": row(truth.step_mm, 1),
        "limits": (
            f"pads.PadLimits(minimum_mm={limits.minimum_mm:.1f}, max_taper_mm={limits.max_taper_mm:.1f}, "
            f"max_pair_difference_mm={limits.max_pair_difference_mm:.1f}, "
            f"max_step_mm={limits.max_step_mm:.1f}, thickness_u_mm={limits.thickness_u_mm:.3f}, "
            f"difference_u_mm={limits.difference_u_mm:.3f})"
        ),
        "new_mm": f"{truth.lining_new_mm:.1f}",
        "gone_km": f"{truth.km:.0f}",
        "pattern": repr(given.words("7.6")),
        "cause": repr(given.words("7.7")),
        "what_to_do": repr(given.words("7.9")),
    }
