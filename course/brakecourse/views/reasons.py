"""Why an action is right, and why another is not: taken from the evidence of the rotor itself."""

from __future__ import annotations

from typing import Literal, get_args

from brakecourse.trade.rotor import RotorFinding, RotorSpec
from brakecourse.views.replies import Reply
from brakecourse.views.words import mm

Action = Literal["keep", "machine", "replace"]
ACTIONS: tuple[Action, ...] = get_args(Action)


def decision_reply(chosen: Action, finding: RotorFinding, spec: RotorSpec) -> Reply:
    """Judge a chosen action against what the readings show.

    Args:
        chosen: what the learner would do.
        finding: what the readings of this rotor lead to.
        spec: the rotor's limits.

    Returns:
        Right or not, and the reason from this rotor's own readings.
    """
    if chosen not in ACTIONS:
        raise ValueError(f"One of {', '.join(ACTIONS)} was expected, but got {chosen!r}.")
    if chosen == finding.action:
        return Reply(True, f"Right: {chosen} it. {_why(finding)}")
    return Reply(False, f"Not {chosen}. {_why_not(chosen, finding, spec)}")


def _why(finding: RotorFinding) -> str:
    if finding.action == "keep":
        return "All three checks prove it: thickness, variation and run-out are within their limits by more than the guard band."
    if finding.action == "machine":
        return f"{finding.deciding.words} A cut that trues it leaves enough metal. {_check(finding, 'machining')}"
    if finding.deciding.check == "machining":
        return f"It needs truing, and a cut would leave too little. {finding.deciding.words}"
    return finding.deciding.words


def _why_not(chosen: Action, finding: RotorFinding, spec: RotorSpec) -> str:
    if finding.action == "keep":
        if chosen == "machine":
            return "Nothing needs truing: variation and run-out are within their limits. A cut would only use up thickness."
        return f"Nothing is wrong with it. {_check(finding, 'thickness')}"
    if chosen == "keep":
        return f"It cannot go back as it is. {_failing(finding)}"
    if chosen == "machine":
        if finding.deciding.check == "thickness":
            return f"A cut makes a thin rotor thinner. {finding.deciding.words}"
        return f"The cut would leave too little. {finding.deciding.words}"
    return f"There is metal enough to true it. {_check(finding, 'machining')}"


def _failing(finding: RotorFinding) -> str:
    return next(
        (reason.words for reason in finding.reasons if reason.decision.verdict != "within"), finding.deciding.words
    )


def _check(finding: RotorFinding, check: str) -> str:
    return next((reason.words for reason in finding.reasons if reason.check == check), "")


def evidence(finding: RotorFinding, spec: RotorSpec) -> list[tuple[str, str, str]]:
    """Return the readings beside their limits, as rows to show: what, measured, limit."""
    return [
        ("Smallest thickness", mm(finding.smallest_mm), f"discard below {mm(spec.discard_mm)}"),
        ("Thickness variation", mm(finding.variation_mm), f"at most {mm(spec.max_variation_mm, 3)}"),
        ("Total run-out, nuts fitted", mm(finding.run_out_mm), f"at most {mm(spec.max_run_out_mm)}"),
        ("Machine-to thickness", "", f"leave at least {mm(spec.machine_to_mm)}"),
    ]
