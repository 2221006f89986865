"""What a diagnosis answers: causes with their evidence, and checks with their worth."""

from __future__ import annotations

import math
from dataclasses import dataclass

MOST_TOLD = 1000
"""Larger ratios than this are told as "more than": the counts behind them are too few for a figure."""


@dataclass(frozen=True)
class Evidence:
    """What one finding says about one cause, before anything else is known.

    Attributes:
        check: id of the check.
        finding: id of what it showed.
        finding_words: the finding as a learner reads it.
        log_ratio: natural logarithm of how many times as likely the finding is with this cause as with the
            mixture of all others; above 0 it speaks for the cause, below 0 against it.
    """

    check: str
    finding: str
    finding_words: str
    log_ratio: float

    @property
    def words(self) -> str:
        """The evidence in one sentence."""
        times = math.exp(min(abs(self.log_ratio), 700.0))
        told = f"more than {MOST_TOLD}" if times > MOST_TOLD else f"{float(f'{times:.2g}'):g}"
        order = "with this cause as without" if self.log_ratio > 0 else "without this cause as with it"
        return f"{self.finding_words}: {told} times as likely {order}."


@dataclass(frozen=True)
class NextCheck:
    """A check that was not done yet, and what it is worth.

    Attributes:
        check: id of the check.
        words: the check as a learner reads it.
        minutes: what it costs, min.
        information_bits: what its finding is expected to tell, bits. 1 bit halves the field.
        bits_per_minute: information for each minute of work.
    """

    check: str
    words: str
    minutes: float
    information_bits: float
    bits_per_minute: float


@dataclass(frozen=True)
class RankedCause:
    """One cause and what speaks for and against it.

    Attributes:
        cause: id of the cause.
        words: the cause as a learner reads it.
        probability: how probable it is after all findings, 0 to 1, if exactly one cause of the table is
            there.
        evidence_for: findings that speak for it, the strongest first.
        evidence_against: findings that speak against it, the strongest first.
        next_check: the open check that tells most for its minutes whether it is this cause or another one;
            None when every check is done.
    """

    cause: str
    words: str
    probability: float
    evidence_for: tuple[Evidence, ...]
    evidence_against: tuple[Evidence, ...]
    next_check: NextCheck | None
