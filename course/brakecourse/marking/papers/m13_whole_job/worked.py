"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.basis import ARROW
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m13_whole_job.key_read import shown_f
from brakecourse.marking.papers.m13_whole_job.steps import words
from brakecourse.marking.papers.m13_whole_job.truth import JobTruth
from brakecourse.marking.worked_text import row


def worked(truth: JobTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    spec, gauges, torque, plan = truth.spec, truth.instruments, truth.torques, truth.bedding
    listed = [words(step) for step in truth.listed]
    steps = [listed.index(one) + 1 for one in str(given.basis("13.14").expected).split(ARROW)]
    return {
        "level_mm": f"{truth.level.reading:g}  # read at the flat of the fluid",
        "max_mm": f"{truth.max_mm:g}  # from the work order",
        "shown_f": f"{shown_f(truth)}  # the display is set to °F",
        "lining_mm": row(truth.lining_mm, 1),
        "thickness_mm": row(truth.thickness_mm),
        "dial_mm": row(truth.dial_mm),
        "the_cause": repr(given.words("13.7")),
        "pad_limit": (
            f'dict(limit={truth.pad_limits.minimum_mm:g}, side="minimum", '
            f"standard_uncertainty={truth.pad_limits.thickness_u_mm:g})"
        ),
        "the_pads": repr(given.words("13.8")),
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
        "the_rotor": repr(given.words("13.9")),
        "the_caliper": repr(given.words("13.10")),
        "fluid_limit": (
            f'dict(limit={truth.needed_c:g}, side="minimum", standard_uncertainty={truth.boiling_u_c:g})'
        ),
        "the_fluid": repr(given.words("13.11")),
        "new_parts": str([int(value) for value in given.row("13.12")]),
        "in_pound_feet": f"dict(nuts={torque.nut_lbfft:g}, bolts={torque.bolt_lbfft:g})",
        "wrench": f"dict(wrench_length_mm={torque.wrench_mm:g}, extension_mm={torque.extension_mm:g})",
        "the_order": f"{steps}  # the numbers in the list",
        "vehicle": (
            f"dict(mass_kg={plan.mass_kg:g}, front_share={plan.front_percent / 100:g}, "
            f"rotor_kg={plan.rotor_kg:g})"
        ),
        "start_c": f"{plan.start_c:g}",
        "half_times": f"{plan.half_times}",
    }
