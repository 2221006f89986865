"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.job_steps import in_order
from brakecourse.marking.papers.m01_job_order.truth import OrderTruth
from brakecourse.marking.worked_text import row


def worked(truth: OrderTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    lengths = [truth.mass_kg, truth.wheelbase_mm, truth.gravity_height_mm, truth.gravity_mm]
    right = in_order(truth.steps)
    return {
        "vehicle": row(lengths, 0),
        "end": repr(truth.axle),
        "which_set": repr(given.words("1.4")),
        "lifting": repr(given.words("1.5")),
        "dust": repr(given.words("1.6")),
        "bench": repr(given.words("1.7")),
        "first_of_two": row([pair.right for pair in truth.pairs], 0),
        "order": str([truth.steps.index(step) + 1 for step in right]),
    }
