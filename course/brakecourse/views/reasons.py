"""Why an action is right, and why another is not: taken from the evidence of the rotor itself."""

from __future__ import annotations

from brakecourse.trade.rotor import Action, Check, RotorFinding, RotorSpec
from brakecourse.views.replies import Reply
from brakecourse.views.words import mm


def decision_reply(chosen: Action, finding: RotorFinding) -> Reply:
    """Judge a chosen action against what the readings show.

    Args:
        chosen: what the learner would do.
        finding: what the readings of this rotor lead to.

    Returns:
        Right or not, and the reason from this rotor's own readings.
    """
    if chosen == finding.action:
        return Reply(True, f"Right: {chosen} it. {_why(finding)}")
    return Reply(False, f"Not {chosen}. {_why_not(chosen, finding)}")


def _why(finding: RotorFinding) -> str:
    deciding = finding.deciding
    if finding.action == "keep":
        return (
            "Thickness, variation and run-out all keep their limits by more than the guard band. "
            f"The tightest of them: {deciding.words}"
        )
    if finding.action == "machine":
        return f"It cannot stay as it is. {deciding.words} A cut can true it. {_words(finding, 'machining')}"
    if deciding.check == "machining":
        return f"It cannot stay as it is, and a cut would leave too little. {deciding.words}"
    return f"A cut would only make it thinner. {deciding.words}"


def _why_not(chosen: Action, finding: RotorFinding) -> str:
    deciding = finding.deciding
    if finding.action == "keep":
        if chosen == "machine":
            return (
                "Nothing needs truing: variation and run-out keep their limits. "
                "A cut would only use up thickness."
            )
        return f"Nothing speaks against this rotor. {_words(finding, 'thickness')}"
    if chosen == "keep":
        unproven = next(reason for reason in finding.reasons if reason.decision.verdict != "within")
        return f"It cannot go back as it is. {unproven.words}"
    if chosen == "machine":
        if deciding.check == "machining":
            return f"The cut would leave too little. {deciding.words}"
        return f"A cut makes a thin rotor thinner. {deciding.words}"
    return f"There is metal enough to true it. {_words(finding, 'machining')}"


def _words(finding: RotorFinding, check: Check) -> str:
    return next(reason.words for reason in finding.reasons if reason.check == check)


def evidence(finding: RotorFinding, spec: RotorSpec) -> list[tuple[str, str, str, str]]:
    """Return the readings beside their limits, as rows to show, the heads first."""
    bands = {reason.check: mm(reason.decision.guard_band, 4) for reason in finding.reasons}
    return [
        ("What", "Found", "Limit", "Guard band"),
        (
            "Smallest thickness",
            mm(finding.smallest_mm),
            f"discard below {mm(spec.discard_mm)}",
            bands["thickness"],
        ),
        (
            "Thickness variation",
            mm(finding.variation_mm),
            f"at most {mm(spec.max_variation_mm, 3)}",
            bands["variation"],
        ),
        ("Total run-out", mm(finding.run_out_mm), f"at most {mm(spec.max_run_out_mm)}", bands["run-out"]),
        ("After a cut", "work it out", f"leave at least {mm(spec.machine_to_mm)}", bands["thickness"]),
    ]
