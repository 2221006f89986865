"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.basis import ARROW
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m09_bracket_and_pins.draw import PART
from brakecourse.marking.papers.m09_bracket_and_pins.truth import BracketTruth
from brakecourse.marking.worked_text import row
from brakecourse.trade.job_order import sub_job


def worked(truth: BracketTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    bore = truth.bore
    listed = [{step.id: step.words for step in sub_job(PART).operations}[one] for one in truth.step_order]
    right = given.words("9.9").split(ARROW)
    return {
        "pull_n": row(truth.pulls_n, 0),
        "clamp_n": f"{truth.clamp_n:.0f}",
        "bore": (
            f"dict(bore_mm={bore.bore_mm:.2f}, depth_mm={bore.depth_mm:.1f}, pin_mm={bore.pin_mm:.2f}, "
            f"seated_length_mm={bore.seated_mm:.1f})"
        ),
        "pressed_in_ml": f"{truth.pressed_in_ml:.2f}",
        "part_at_fault": repr(given.words("9.7")),
        "what_it_needs": repr(given.words("9.8")),
        "service_order": repr([listed.index(step) + 1 for step in right]),
    }
