"""The causes of the three complaints: what is right, and what each other answer shows."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.jobs import (
    IN_THE_MASTER,
    WORDS,
    Job,
    first_fault,
    is_in_order,
    log_ratio,
    shares,
    speaks_against,
)
from brakecourse.trade.leaks import diagnosis_table
from brakecourse.views.words import number

BOOSTER = "booster"
_TOLD = 2  # so many findings are told as those that decide
_INSIDE = " It is dry at the wheels, and dry behind the master cylinder: so the fluid slips past inside."


def cause(question: str, job: Job, given: Given) -> Basis:
    """Return the cause that the whole sheet leads to."""
    offered = [one.key for one in given.choices(question) if one.key != BOOSTER]
    pairs = [(name, key) for key in offered if key != job.cause for name in _shown_by(job, key, offered)]
    return given.choice(question, (job.cause,), pairs, how=_how(job))


def _shown_by(job: Job, key: str, offered: Sequence[str]) -> list[str]:
    """Return the mistake that another cause shows, the most telling one; none where nothing tells."""
    found = job.found
    if job.cause == IN_THE_MASTER[0] and found.get("wet_master") == "wet":
        return ["behind_master_not_looked"]
    if key == _leads_first(job, offered):
        return ["stopped_at_first_finding"]
    return ["against_not_weighed"] if speaks_against(job.findings, key) else []


def _leads_first(job: Job, offered: Sequence[str]) -> str:
    """Return which of the wrong causes leads after the first finding that is not in order."""
    after = shares([first_fault(job.findings)])
    return max((one for one in offered if one != job.cause), key=lambda one: after[one])


def _how(job: Job) -> str:
    """Tell what decides, and how the causes stand."""
    best, then = sorted(shares(job.findings).items(), key=lambda one: -one[1])[:2]
    words = {one.id: one.words for one in diagnosis_table().causes}
    wrong = [one for one in job.findings if not is_in_order(one)]
    wrong.sort(key=lambda one: -log_ratio(one, job.cause))
    first, *others = (f"“{WORDS[one]}”" for one in wrong[:_TOLD])
    told = " ".join([f"{first} speaks most for it.", *(f"{one} fits too." for one in others)])
    inside = _INSIDE if job.cause == "internal_bypass" and job.found.get("wet_master") == "dry" else ""
    return (
        f"{told}{inside} Weighed with all the other findings this cause stands at {_in_100(best[1])}; "
        f"the next, “{words[then[0]]}”, at {_in_100(then[1])}."
    )


def _in_100(share: float) -> str:
    if share > 0.99:
        return "above 99 in 100"
    return f"{number(100 * share, 0)} in 100" if share >= 0.01 else "below 1 in 100"
