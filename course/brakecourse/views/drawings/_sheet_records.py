"""What stands on a job sheet: checks with their findings, causes with their shares, and words for both."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from brakecourse.views.drawings._inputs import within

MOST_CHECKS, MOST_CAUSES, MOST_LETTERS, MOST_TOLD = 40, 8, 120, 300
MOST_MINUTES = 600.0


class SheetCheck(NamedTuple):
    """One check that was done: its words, what it showed, minutes, and whether it is a cheap one."""

    words: str
    finding: str
    minutes: float
    cheap: bool


class SheetCause(NamedTuple):
    """One cause and its share, 0 to 1."""

    words: str
    share: float


def sheet_words(words: object, quantity: str, most: int = MOST_LETTERS) -> str:
    """Return words that fit on the sheet; refuse others in one sentence."""
    if not isinstance(words, str) or not words.strip() or len(words) > most:
        raise ValueError(
            f"The {quantity} on the sheet must be 1 to {most} letters, but it was {words!r:.40}."
        )
    return words


def sheet_checks(checks: Sequence[SheetCheck]) -> list[SheetCheck]:
    """Return the checks; refuse what cannot be written."""
    if len(checks) > MOST_CHECKS:
        raise ValueError(f"A sheet holds at most {MOST_CHECKS} checks, but there were {len(checks)}.")
    return [
        SheetCheck(
            sheet_words(words, "check"),
            sheet_words(finding, "finding"),
            within(minutes, "minutes of a check", 0, MOST_MINUTES),
            bool(cheap),
        )
        for words, finding, minutes, cheap in checks
    ]


def sheet_causes(causes: Sequence[SheetCause]) -> list[SheetCause]:
    """Return the causes; refuse what cannot be drawn."""
    if len(causes) > MOST_CAUSES:
        raise ValueError(f"A sheet holds at most {MOST_CAUSES} causes, but there were {len(causes)}.")
    return [SheetCause(sheet_words(words, "cause"), within(share, "share", 0, 1)) for words, share in causes]


def in_100(share: float) -> str:
    """Say a share.

    >>> in_100(0.876), in_100(0.001), in_100(0.999)
    ('88 in 100', 'below 1 in 100', 'above 99 in 100')
    """
    if 0 < share < 0.005:
        return "below 1 in 100"
    return "above 99 in 100" if 0.995 <= share < 1 else f"{100 * share:.0f} in 100"
