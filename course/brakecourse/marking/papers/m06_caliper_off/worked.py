"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.job_steps import in_order
from brakecourse.marking.papers.m06_caliper_off.moments import moments_basis
from brakecourse.marking.papers.m06_caliper_off.truth import CaliperTruth
from brakecourse.marking.worked_text import row


def worked(truth: CaliperTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    states = moments_basis(truth.moments).expected
    assert isinstance(states, tuple)
    return {
        "linings_mm": row([truth.new_mm, truth.inner_mm, truth.outer_mm], 1),
        "bore_mm": f"{truth.bore_mm:.1f}",
        "pistons": str(truth.pistons),
        "level_mm": f"{truth.level.reading:.0f}",
        "area_mm2": f"{truth.area_mm2:.0f}",
        "what_shut_does": repr(given.words("6.5")),
        "bleeder": row(states, 0),
        "hose": repr(given.words("6.7")),
        "caliper": repr(given.words("6.8")),
        "order": str([truth.steps.index(step) + 1 for step in in_order(truth.steps)]),
    }
