"""What the diagnosis bench replies when a cause is named: right or not, on what evidence, at what cost."""

from __future__ import annotations

from collections.abc import Mapping

from brakecourse.views.diagnosis_cases import CHECK, Job, worth
from brakecourse.views.diagnosis_words import (
    BOOSTER,
    BOOSTER_REASON,
    cause_words,
    min_words,
    place_of,
    said,
    spent_words,
)
from brakecourse.views.drawings.bench_sheet import in_100
from brakecourse.views.replies import Reply

_AT_THE_MASTER = {"primary_seal_leak", "internal_bypass"}
_FEW = 2  # who names a cause after so few checks has stopped at the first finding
_LIKELY = 0.5


def named_reply(job: Job, findings: Mapping[str, str], named: str) -> Reply:
    """Reply to a named cause.

    Args:
        job: the vehicle.
        findings: what was done and seen.
        named: words of a cause, or ``BOOSTER``.
    """
    if named == BOOSTER:
        return Reply(False, f"Not yet. {BOOSTER_REASON} {_held(findings)}".strip())
    cause = next(id for id, words in cause_words().items() if words == named)
    return _right(job, findings) if cause == job.cause else _wrong(job, findings, cause)


def answer_words(job: Job, findings: Mapping[str, str]) -> str:
    """Tell the cause to who asks for it."""
    return f"The answer: {cause_words()[job.cause]}. {spent_words(job, findings)}"


def _held(findings: Mapping[str, str]) -> str:
    if findings.get("pedal_hold") in {"creeps", "sinks"}:
        return "This pedal went down while it was held: fluid gets out, or slips past inside."
    return ""


def _right(job: Job, findings: Mapping[str, str]) -> Reply:
    place = place_of(job.cause, findings)
    told = f"Right: {place.words}."
    if place.evidence_for:
        told += f" For it spoke: {said(place.evidence_for)}."
    if place.probability < _LIKELY:
        told += (
            f" But your findings gave it only {in_100(place.probability)}: a guess that came true. "
            "See it or measure it before you change a part."
        )
    return Reply(True, f"{told} {spent_words(job, findings)}")


def _wrong(job: Job, findings: Mapping[str, str], cause: str) -> Reply:
    place = place_of(cause, findings)
    if "wet_master" not in findings and {cause, job.cause} & _AT_THE_MASTER:
        return Reply(
            False,
            "Not yet. You have not looked where the master cylinder meets the booster. Fluid that leaves "
            "there runs into the booster and never reaches the floor.",
        )
    if len(findings) <= _FEW:
        done = "no check" if not findings else f"{len(findings)} check{'s' if len(findings) > 1 else ''}"
        return Reply(
            False,
            f"Not yet. You stopped early, after {done}: one finding fits many causes. So far this one has "
            f"{in_100(place.probability)}. {_go_on(findings)}",
        )
    against = f" Against it speaks: {said(place.evidence_against)}." if place.evidence_against else ""
    return Reply(
        False,
        f"Not yet. Your findings give it {in_100(place.probability)}.{against} {_go_on(findings)}",
    )


def _go_on(findings: Mapping[str, str]) -> str:
    open_checks = worth(findings)
    if not open_checks:
        return "No check is left: compare what speaks for and against the leading causes."
    best = open_checks[0]
    return f"A check worth its minutes now: {best.words} ({min_words(CHECK[best.check].minutes)})."
