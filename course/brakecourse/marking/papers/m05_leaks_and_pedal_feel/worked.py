"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.basis import ARROW
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.order import words
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.truth import DiagnosisTruth
from brakecourse.marking.worked_text import row


def worked(truth: DiagnosisTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    listed = [words(one) for one in truth.listed]
    right = str(given.basis("5.7").expected).split(ARROW)
    return {
        "held_mm": row([one.reading for one in truth.held], 1),
        "held_s": str(truth.hold_s),
        "pedal_ratio": f"{truth.pedal_ratio:g}",
        "bore_mm": f"{truth.master_bore_mm:.2f}",
        **{f"found_{name}": repr(job.found) for name, job in zip("abc", truth.jobs, strict=True)},
        "what_next": repr(given.words("5.6")),
        "order": repr([listed.index(one) + 1 for one in right]),
        "soft_mm": f"{truth.soft.reading:.1f}",
        "usual_mm": f"{truth.usual_mm:.1f}",
        "pressure_mpa": f"{truth.pressure_mpa:.1f}",
    }
