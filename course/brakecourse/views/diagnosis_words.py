"""How a diagnosis is told: shares, evidence, minutes, the sheet."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cache

from brakecourse.trade.leaks import Evidence, RankedCause, diagnosis_table
from brakecourse.views.diagnosis_cases import CHECK, FINDING, Job, minutes, ranked, shares
from brakecourse.views.drawings.bench_sheet import SheetCause, SheetCheck, bench_sheet_svg, in_100

BOOSTER = "the brake booster no longer helps"
BOOSTER_REASON = (
    "A booster only helps the foot. When it fails, the pedal gets hard and the stop long. "
    "It holds no fluid back, so it cannot let a held pedal sink."
)
SHOWN_CAUSES = 5
MOST_TIMES = 1000.0
STRONG = math.log(3.0)  # a finding less telling than that is left out beside stronger ones
_EVIDENCE = 2  # so many findings are told for and against a cause


@cache
def cause_words() -> Mapping[str, str]:
    """Return the words of every cause, by its id."""
    return {one.id: one.words for one in diagnosis_table().causes}


def times(ratio: float) -> str:
    """Say how many times as likely, to two figures.

    >>> times(20.4), times(1e6), times(2.46)
    ('20 times', 'more than 1000 times', '2.5 times')
    """
    return "more than 1000 times" if ratio > MOST_TIMES else f"{float(f'{ratio:.2g}'):g} times"


def min_words(count: float) -> str:
    """Say some minutes.

    >>> min_words(1), min_words(12.0)
    ('1 minute', '12 minutes')
    """
    return f"{count:g} {'minute' if count == 1 else 'minutes'}"


def said(findings: Sequence[Evidence]) -> str:
    """Tell the strongest findings, each with how many times as likely it is; a weak one only when alone."""
    strong = [one for one in findings if abs(one.log_ratio) >= STRONG] or findings[:1]
    return "; ".join(
        f"{one.finding_words} ({times(math.exp(min(abs(one.log_ratio), 50.0)))} as likely "
        f"{'with' if one.log_ratio > 0 else 'without'} it)"
        for one in strong[:_EVIDENCE]
    )


def check_line(check: str) -> str:
    """Return what is done, and its minutes.

    >>> check_line("pedal_feel")
    'Press the pedal slowly and feel it (1 min)'
    """
    one = CHECK[check]
    return f"{one.words} ({one.minutes:g} min)"


def order_table(job: Job) -> list[tuple[str, ...]]:
    """Return a good order of checks on a vehicle: what each cost, what it showed, and what that did."""
    rows: list[tuple[str, ...]] = [("A good order", "What it shows here", "Right cause then")]
    so_far: dict[str, str] = {}
    for check, finding in job.good_order.items():
        so_far[check] = finding
        share = in_100(shares(so_far)[job.cause])
        rows.append((check_line(check), FINDING[check, finding], share))
    return rows


def seen_words(finding: tuple[str, str]) -> str:
    """Tell a finding as it was noted."""
    return f"“{FINDING[finding]}”"


def evidence_table(findings: Mapping[str, str], count: int = 3) -> list[tuple[str, ...]]:
    """Return the leading causes with what speaks for and against each; nothing before the first check."""
    if not findings:
        return []
    rows: list[tuple[str, ...]] = [("Cause", "Speaks for it", "Speaks against it")]
    for one in ranked(findings)[:count]:
        rows.append(
            (
                f"{one.words}: {in_100(one.probability)}",
                said(one.evidence_for) or "nothing yet",
                said(one.evidence_against) or "nothing yet",
            )
        )
    return rows


def sheet(
    job: Job, findings: Mapping[str, str], uid: str, *, causes: int = SHOWN_CAUSES, note: str = ""
) -> str:
    """Return the job sheet of a vehicle after some checks.

    Args:
        job: the vehicle.
        findings: what was done and seen, in its order.
        uid: a word that no other drawing on the page has.
        causes: how many causes to show as bars; with 0 the note stands there.
        note: what to say in their place.
    """
    done = [
        SheetCheck(
            CHECK[check].words, FINDING[check, finding], CHECK[check].minutes, bool(CHECK[check].cheap)
        )
        for check, finding in findings.items()
    ]
    bars = [SheetCause(one.words, one.probability) for one in ranked(findings)[:causes]] if causes else []
    vehicle = job.case.vehicle
    heading = f"{vehicle.name[:1].upper()}{vehicle.name[1:]}, {vehicle.fleet_number}"
    return bench_sheet_svg(done, bars, uid=uid, heading=heading, told=job.case.complaint, note=note or "-")


def place_of(cause: str, findings: Mapping[str, str]) -> RankedCause:
    """Return where one cause stands after some findings."""
    return next(one for one in ranked(findings) if one.cause == cause)


def spent_words(job: Job, findings: Mapping[str, str]) -> str:
    """Compare the minutes spent with those of a good order."""
    mine, good = minutes(findings), minutes(job.good_order)
    quick = " You were as quick." if 0 < mine <= good else ""
    return f"You spent {min_words(mine)}, the good order in the table takes {min_words(good)}.{quick}"
