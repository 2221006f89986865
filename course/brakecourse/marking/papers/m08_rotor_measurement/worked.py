"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.given import Given
from brakecourse.marking.papers.m08_rotor_measurement.truth import RotorTruth
from brakecourse.marking.worked_text import row


def worked(rotor: RotorTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    spec, gauges = rotor.spec, rotor.instruments
    return {
        "thickness_mm": row(rotor.readings_mm),
        "dial_mm": row(rotor.dial_readings_mm),
        "limits": (
            f"rotor.RotorSpec(nominal_mm={spec.nominal_mm:.2f}, machine_to_mm={spec.machine_to_mm:.2f}, "
            f"discard_mm={spec.discard_mm:.2f}, max_variation_mm={spec.max_variation_mm:.3f}, "
            f"max_run_out_mm={spec.max_run_out_mm:.2f})"
        ),
        "gauges": (
            f"rotor.Instruments(thickness_u_mm={gauges.thickness_u_mm:.4f}, "
            f"thickness_difference_u_mm={gauges.thickness_difference_u_mm:.4f}, "
            f"dial_difference_u_mm={gauges.dial_difference_u_mm:.4f})"
        ),
        "what_to_do": repr(given.words("8.8")),
    }
