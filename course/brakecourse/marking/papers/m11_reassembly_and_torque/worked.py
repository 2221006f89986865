"""The values that the solved notebook is worked with."""

from __future__ import annotations

from brakecourse.marking.basis import ARROW
from brakecourse.marking.given import Given
from brakecourse.marking.papers.job_steps import words
from brakecourse.marking.papers.m11_reassembly_and_torque.key_order import nut
from brakecourse.marking.papers.m11_reassembly_and_torque.truth import TorqueTruth


def worked(case: TorqueTruth, given: Given) -> dict[str, str]:
    """Return, for each name in the solved notebook, the text of its value."""
    wrench, bolt, tested = case.wrench, case.bolt, case.tested
    nuts = given.basis("11.4").expected
    steps = given.basis("11.5").expected
    return {
        "old_sheet": f"dict(nut_lbfft={case.old.nut_lbfft:g}, small_lbfin={case.old.small_lbfin:g})",
        "left_nm": f"{wrench.left.reading:g}  # the line at the hairline, and what the grip adds",
        "wrench": (
            f"dict(wrench_length_mm={wrench.length_mm:g}, extension_mm={wrench.extension_mm:g}, "
            f"angle_deg={wrench.angle_deg:g})"
        ),
        "bolt": (
            f"dict(torque_nm={bolt.torque_nm:g}, diameter_mm={bolt.diameter_mm:g}, dry={bolt.dry:g}, "
            f"oiled={bolt.oiled:g}, proof_kn={bolt.proof_kn:g})"
        ),
        "star": _numbers(str(nuts), [nut(one) for one in range(1, case.wheel.studs + 1)]),
        "steps": _numbers(str(steps), [words(one) for one in case.listed]),
        "on_tester": (
            f"dict(applied_nm={tested.shown_nm:g}, target_nm={tested.set_nm:g}, tolerance={tested.share:g}, "
            f"standard_uncertainty_nm={tested.u_nm:g})"
        ),
        "verdict_words": repr(given.words("11.8")),
        "goes_back": repr(given.words("11.9")),
    }


def _numbers(order: str, listed: list[str]) -> str:
    """Return the numbers that the steps of an order have in the list."""
    return str([listed.index(one) + 1 for one in order.split(ARROW)]) + "  # the numbers in the list"
