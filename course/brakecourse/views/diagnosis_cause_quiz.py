"""Which cause fits: a vehicle with its complaint and the findings of a few checks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.diagnosis_cases import FIELDS, Job, deciding, draw_job, ranked, shares, worth
from brakecourse.views.diagnosis_words import (
    BOOSTER,
    BOOSTER_REASON,
    STRONG,
    cause_words,
    place_of,
    said,
    seen_words,
    sheet,
    times,
)
from brakecourse.views.drawings.bench_sheet import in_100
from brakecourse.views.pad_discreet import DiscreetQuiz
from brakecourse.views.quiz import Task

LIKELY: Mapping[Difficulty, float] = {"easy": 0.95, "normal": 0.85, "hard": 0.7}
"""How much must speak for the right cause before it is asked. Assumption, no source."""
MOST_CHECKS, CHOICES, _TRIES = 8, 4, 30


class WhichCause(DiscreetQuiz):
    """A complaint and what a few checks showed: which cause fits all of it?

    Args:
        name, seed, session: as for every quiz.
    """

    title = "Which cause fits?"
    task = "Read what the driver says and what the checks showed. Choose the cause that fits all of it."
    lesson = "05_leaks_and_pedal_feel"
    topics = tuple(FIELDS)
    first_difficulty = "easier"

    def __init__(self, name: str = "which-cause", **more: Any) -> None:
        super().__init__(name, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        job, findings = fitting_case(topic, difficulty, draw)
        return cause_task(topic, job, findings, draw.child("choices"))

    def picture(self) -> str:
        job, findings = self.asked.case
        return sheet(job, findings, self.uid, causes=0, note="That is the question.")


def fitting_case(topic: str, difficulty: Difficulty, draw: Draw) -> tuple[Job, dict[str, str]]:
    """Draw a vehicle and check it until enough speaks for its cause."""
    best: tuple[float, Job, dict[str, str]] | None = None
    for again in range(_TRIES):
        job = draw_job(draw.child(f"vehicle {again}"), FIELDS[topic], difficulty)
        findings, share = _checked(job, LIKELY[difficulty])
        if best is None or share > best[0]:
            best = share, job, findings
        if share >= LIKELY[difficulty]:
            break
    assert best is not None  # at least one vehicle was drawn
    return best[1], best[2]


def _checked(job: Job, likely: float) -> tuple[dict[str, str], float]:
    findings: dict[str, str] = {}
    share = 0.0
    while share < likely and len(findings) < MOST_CHECKS:
        check = worth(findings)[0].check
        findings[check] = job.finding(check)
        share = shares(findings)[job.cause]
    return findings, share


def cause_task(topic: str, job: Job, findings: Mapping[str, str], draw: Draw) -> Task:
    """Return the question for a vehicle and some findings."""
    others = [one.cause for one in ranked(findings) if one.cause != job.cause]
    chosen = [job.cause, *others[: CHOICES - 1]]
    reasons = {cause_words()[one]: cause_reason(job, findings, one) for one in chosen}
    if findings.get("pedal_hold") in {"creeps", "sinks"}:
        reasons[BOOSTER] = (
            f"{BOOSTER_REASON} Here {seen_words(('pedal_hold', findings['pedal_hold']))} was noted: "
            "look for where the fluid goes."
        )
    return Task(
        topic,
        f"{job.case.complaint} Which cause fits?",
        tuple(draw.shuffled(tuple(reasons))),
        cause_words()[job.cause],
        reasons,
        case=(job, dict(findings)),
    )


def cause_reason(job: Job, findings: Mapping[str, str], cause: str) -> str:
    """Return why a cause fits or not, from what was seen on this vehicle."""
    place = place_of(cause, findings)
    if cause == job.cause:
        return f"For it speaks: {said(place.evidence_for)}. It stands at {in_100(place.probability)}."
    finding, ratio = deciding(findings, job.cause, cause)
    told = f"It stands at {in_100(place.probability)}. What decides is {seen_words(finding)}"
    first = next(iter(place.evidence_for), None)
    if first and first.log_ratio >= STRONG and finding != (first.check, first.finding):
        told = f"{seen_words((first.check, first.finding))} fits, but do not stop there. {told}"
    return f"{told}: another of these causes shows that {times(ratio)} as often."
