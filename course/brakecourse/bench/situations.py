"""What a rotor case is about, how often each kind comes, and what makes a case fair."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from typing import Literal

from brakecourse.bench.gauges import GRADUATION_MM, SLEEVE_LINE_MM
from brakecourse.trade.rotor import Reason, RotorFinding

Difficulty = Literal["easy", "normal", "hard"]
Situation = Literal[
    "keep",
    "machine for variation",
    "machine for run-out",
    "replace below discard",
    "replace no metal left to true",
    "replace too close to call",
]

# How often each situation is drawn. The grey zone round a limit comes after the easy cases.
SHARES: dict[Difficulty, dict[Situation, float]] = {
    "easy": {
        "keep": 0.28,
        "machine for variation": 0.22,
        "machine for run-out": 0.18,
        "replace below discard": 0.16,
        "replace no metal left to true": 0.16,
        "replace too close to call": 0.0,
    },
    "normal": {
        "keep": 0.22,
        "machine for variation": 0.20,
        "machine for run-out": 0.16,
        "replace below discard": 0.16,
        "replace no metal left to true": 0.14,
        "replace too close to call": 0.12,
    },
    "hard": {
        "keep": 0.20,
        "machine for variation": 0.18,
        "machine for run-out": 0.16,
        "replace below discard": 0.14,
        "replace no metal left to true": 0.16,
        "replace too close to call": 0.16,
    },
}

# A margin is counted in guard bands. The verdict switches at 1, so nothing comes within 0.2 of that; and
# at 0 the probability is one half, its own opposite, so that a mistaken answer could not be told.
SWITCHING_ZONE = (0.8, 1.2)
NOT_ON_THE_LIMIT = 0.1
# Easy: one reading a line out changes no check. It moves a thickness, a variation or a run-out by one
# line; what is left after truing by two, because the smallest reading counts in the variation as well.
EASY_SPARE_LINES = {"thickness": 1, "variation": 1, "run-out": 1, "machining": 2}
# Hard: the deciding margin is no larger than this.
HARD_LARGEST_MARGIN = 3.0

# A smallest reading that is also the largest, or the mean, would hide who mixes them up; so would a run-out
# that is hardly more than its half.
LEAST_VARIATION_LINES: dict[Difficulty, int] = {"easy": 1, "normal": 2, "hard": 2}
LEAST_MEAN_ABOVE_SMALLEST_LINES = 0.5
LEAST_RUN_OUT_LINES = 3

# A reading this close to a sleeve line is a trap: the line shows when it should not, or the other way round.
TRAP_MM = 0.05


def situation_of(finding: RotorFinding) -> Situation:
    """Return which situation a finding is.

    Args:
        finding: from `trade.rotor.verdict`.
    """
    if finding.action == "keep":
        return "keep"
    if finding.action == "machine":
        return "machine for variation" if finding.deciding.check == "variation" else "machine for run-out"
    if finding.deciding.check == "machining":
        return "replace no metal left to true"
    outside = finding.deciding.decision.verdict == "outside"
    return "replace below discard" if outside else "replace too close to call"


def is_fair(finding: RotorFinding, difficulty: Difficulty) -> bool:
    """Tell whether every margin is clear enough for the difficulty, and the deciding one tight enough.

    Args:
        finding: from the correct rounded readings.
        difficulty: easy, normal or hard.
    """
    ratios = [abs(reason.decision.margin) / reason.decision.guard_band for reason in finding.reasons]
    if any(SWITCHING_ZONE[0] < ratio < SWITCHING_ZONE[1] or ratio < NOT_ON_THE_LIMIT for ratio in ratios):
        return False
    if difficulty == "easy":
        return all(_spare_lines(reason) >= EASY_SPARE_LINES[reason.check] for reason in finding.reasons)
    decision = finding.deciding.decision
    return difficulty == "normal" or abs(decision.margin) <= HARD_LARGEST_MARGIN * decision.guard_band


def is_telling(finding: RotorFinding, thickness_mm: Sequence[float], difficulty: Difficulty) -> bool:
    """Tell whether smallest, mean and largest differ enough to be told apart, and the run-out from its half.

    Args:
        finding: from the correct rounded readings.
        thickness_mm: those readings.
        difficulty: easy, normal or hard.
    """
    mean_above_mm = statistics.fmean(thickness_mm) - finding.smallest_mm
    return (
        _lines(finding.variation_mm) >= LEAST_VARIATION_LINES[difficulty]
        and _lines(mean_above_mm) >= LEAST_MEAN_ABOVE_SMALLEST_LINES
        and _lines(finding.run_out_mm) >= LEAST_RUN_OUT_LINES
    )


def has_half_line_trap(thickness_mm: Sequence[float]) -> bool:
    """Tell whether one reading at least stands within 0.05 mm of a sleeve line.

    >>> has_half_line_trap([22.31, 22.28, 22.52])
    True
    """
    return any(_from_sleeve_line_mm(thickness) <= TRAP_MM for thickness in thickness_mm)


def has_no_half_line(thickness_mm: Sequence[float]) -> bool:
    """Tell whether no reading shows a half-millimetre line, or comes within 0.05 mm of any sleeve line.

    >>> has_no_half_line([22.31, 22.28]), has_no_half_line([22.31, 22.81])
    (True, False)
    """
    return all(TRAP_MM < thickness % 1 < SLEEVE_LINE_MM - TRAP_MM for thickness in thickness_mm)


def suits(thickness_mm: Sequence[float], difficulty: Difficulty) -> bool:
    """Tell whether the readings are as plain, or as tricky, on the sleeve as the difficulty wants."""
    if difficulty == "easy":
        return has_no_half_line(thickness_mm)
    return difficulty == "normal" or has_half_line_trap(thickness_mm)


def _spare_lines(reason: Reason) -> float:
    """How many lines the measured value may move and still decide the same."""
    spare_mm = abs(reason.decision.margin) - reason.decision.guard_band
    return _lines(spare_mm)


def _lines(length_mm: float) -> float:
    return round(length_mm / GRADUATION_MM, 9)


def _from_sleeve_line_mm(thickness_mm: float) -> float:
    off = thickness_mm % SLEEVE_LINE_MM
    return min(off, SLEEVE_LINE_MM - off)
