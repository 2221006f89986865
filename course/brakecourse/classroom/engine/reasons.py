"""Why a submission is graded, or why its marks could be others now, in words."""

from __future__ import annotations

import brakecourse
from brakecourse.classroom.engine.ledger import Outcome
from brakecourse.classroom.engine.plan import Plan


def why_graded(before: Outcome | None, plan: Plan, submission_sha256: str, case_version: str) -> str:
    """Say why a submission is graded now.

    Args:
        before: how it was graded last, or None.
        plan: what the module asks now.
        submission_sha256: of the submission now.
        case_version: of the student's sealed case now.
    """
    # An outcome without a fingerprint is this machine's fault of before, with nothing known of the work.
    if before is None or not before.submission_sha256:
        return "First grading."
    if before.submission_sha256 != submission_sha256:
        return "Something newer was handed in."
    return " ".join(key_changes(before, plan, case_version)) or "Graded again on request."


def key_changes(before: Outcome, plan: Plan, case_version: str) -> list[str]:
    """Say what has changed of the answer key since a submission was graded, a sentence each.

    Args:
        before: how it was graded.
        plan: what the module asks now.
        case_version: of the student's sealed case now; empty when it can't be read.
    """
    words = []
    if not case_version:
        words.append("The sealed case can't be read any more; put it back from a copy.")
    elif before.case_version != case_version:
        words.append("The sealed case is another one than it was marked by.")
    if before.template_sha256 != plan.sha256:
        words.append("The handed-out notebook is another one than it was marked by.")
    if before.course_version != brakecourse.__version__:
        words.append(f"The course was version {before.course_version} and is now {brakecourse.__version__}.")
    return words
