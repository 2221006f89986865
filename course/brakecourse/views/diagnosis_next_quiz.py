"""Which check next: judged by what it is expected to tell for each minute that it costs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.leaks import NextCheck
from brakecourse.views.diagnosis_cases import (
    CHECK,
    FIELDS,
    SURE,
    Job,
    draw_job,
    is_drive,
    may_be_driven,
    shares,
    worth,
)
from brakecourse.views.diagnosis_words import check_line, min_words, sheet
from brakecourse.views.quiz import Quiz, Task

TOPICS: Mapping[str, tuple[int, int]] = {"the first checks": (0, 1), "halfway": (2, 4), "later": (5, 7)}
"""The quiz's topics, and how many checks are done by then, from and to."""

BEHIND: Mapping[Difficulty, float] = {"easy": 0.3, "normal": 0.5, "hard": 0.75}
"""A wrong choice is worth at most this share of the best one, a minute. Assumption, no source."""
CHOICES, _TRIES = 4, 20
_HARDLY_BITS = 0.03
_DRIVES = tuple(filter(is_drive, CHECK))
NO_DRIVE = "No vehicle goes on the road before its pedal has proven firm and has stayed while it was held."

Done = tuple[Job, dict[str, str]]


class WhichCheckNext(Quiz):
    """A job sheet with some checks done: which one is worth its minutes now?

    Args:
        name, seed, session: as for every quiz.
    """

    title = "Which check next?"
    task = "Look at the causes that still stand. Choose the check that tells most for its minutes."
    lesson = "05_leaks_and_pedal_feel"
    topics = tuple(TOPICS)
    first_difficulty = "easier"

    def __init__(self, name: str = "which-next", **more: Any) -> None:
        super().__init__(name, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        job, findings = begun_job(topic, difficulty, draw)
        return next_task(topic, job, findings, difficulty, draw.child("choices"))

    def picture(self) -> str:
        job, findings = self.asked.case
        return sheet(job, findings, self.uid)


def begun_job(topic: str, difficulty: Difficulty, draw: Draw) -> Done:
    """Draw a vehicle and do as many checks as the topic says, with the cause not found yet."""
    every = tuple(cause for causes in FIELDS.values() for cause in causes)
    for again in range(_TRIES):
        turn = draw.child(f"vehicle {again}")
        job = draw_job(turn, every, difficulty)
        findings: dict[str, str] = {}
        for _ in range(turn.child("checks done").integer(*TOPICS[topic])):
            check = worth(findings)[0].check
            findings[check] = job.finding(check)
        if max(shares(findings).values()) < SURE:
            break
    return job, findings


def next_task(topic: str, job: Job, findings: Mapping[str, str], difficulty: Difficulty, draw: Draw) -> Task:
    """Return the question for a vehicle and what was done on it."""
    best, *others = worth(findings)
    behind = [one for one in others if one.bits_per_minute <= BEHIND[difficulty] * best.bits_per_minute]
    behind = behind or others[-CHOICES:]
    near = behind[: 2 * CHOICES]
    on_the_road = [] if may_be_driven(findings) else [draw.child("drive").choice(_DRIVES)]
    wrong = draw.child("near").shuffled(near)[: CHOICES - 2 - len(on_the_road)]
    dear = [one for one in behind if not CHECK[one.check].cheap and one not in wrong]
    rest = dear or [one for one in behind if one not in wrong]
    wrong += draw.child("dear").shuffled(rest)[:1]
    reasons = {check_line(one.check): check_reason(one, best) for one in (best, *wrong)}
    reasons |= {check_line(one): NO_DRIVE for one in on_the_road}
    return Task(
        topic,
        f"{job.case.complaint} Which check next?",
        tuple(draw.child("order").shuffled(tuple(reasons))),
        check_line(best.check),
        reasons,
        case=(job, dict(findings)),
    )


def check_reason(check: NextCheck, best: NextCheck) -> str:
    """Return why a check is worth its minutes now, or not."""
    told = (
        f"It is expected to tell {check.information_bits:.2f} bit in {min_words(check.minutes)}: "
        f"{check.bits_per_minute:.3f} a minute."
    )
    if check == best:
        return f"{told} No other open check tells as much a minute."
    told += f" The best of these tells {best.bits_per_minute:.3f} a minute."
    if not CHECK[check.check].cheap:
        return f"{told} A check that takes parts off comes when cheap ones no longer tell the causes apart."
    if check.information_bits < _HARDLY_BITS:
        return f"{told} What is known already says what this one will show."
    if check.information_bits > best.information_bits:
        return f"{told} It tells more in all, yet each of its minutes tells less."
    return told
