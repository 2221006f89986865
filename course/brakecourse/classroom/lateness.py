"""Late work: days begun after the due time, and the share of the points that they cost."""

from __future__ import annotations

import math
from datetime import datetime, timedelta


def days_late(when: datetime | None, due: datetime | None, extension: timedelta | None = None) -> int:
    """Return how many days were begun after the due time.

    Args:
        when: when the work was handed in, with its zone; None when that was not written down.
        due: when it was due, with its zone; None when no time was set.
        extension: more time that this student was given.

    >>> from datetime import UTC
    >>> due = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)
    >>> [days_late(due + timedelta(hours=hours), due) for hours in (0, 1, 48)]
    [0, 1, 2]
    """
    if when is None or due is None:
        return 0
    late = when - due - (extension or timedelta())
    return max(0, math.ceil(late / timedelta(days=1)))


def penalty_share(days: int, percent_per_day: float, cap_percent: float) -> float:
    """Return the share of the earned points that lateness takes off.

    >>> penalty_share(2, 10, 50), penalty_share(9, 10, 50)
    (0.2, 0.5)
    """
    return min(days * percent_per_day, cap_percent) / 100
