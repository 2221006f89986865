"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m03_brake_fluid.numbers import shown_f
from brakecourse.marking.papers.m03_brake_fluid.steps import STEPS
from brakecourse.marking.papers.m03_brake_fluid.truth import FluidTruth


def worked(truth: FluidTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    places = [truth.listed.index(name) + 1 for name in STEPS]
    return {
        "shown_percent": f"[{truth.water.reading:.1f}]",
        "shown_f": f"[{shown_f(truth)}]",
        "fluid_facts": f"({truth.grade!r}, {truth.hottest_c:.1f}, {truth.boiling_limit_c:.1f})",
        "tester_u": f"[{truth.boiling_u_c:.2f}]",
        "which_bottle": repr(given.words("3.7")),
        "what_to_do": repr(given.words("3.8")),
        "order_of_steps": repr(places),
    }
