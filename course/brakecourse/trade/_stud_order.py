"""In which order to tighten the nuts of a wheel, so that it seats flat."""

from __future__ import annotations

from brakecourse.trade._counts import studs_of

STEP_SHARES = (1 / 3, 2 / 3, 1.0)
"""Shares of the torque in each round. Common practice, no source."""


def tightening_order(studs: int) -> tuple[int, ...]:
    """Return the order in which to tighten the wheel nuts: across and across, never round.

    Each next stud stands in the widest gap that is left, and as far across from the last one as can be.

    Args:
        studs: number of wheel studs, 3 to 10.

    Returns:
        Stud numbers from 1 on, counted round the hub; each stands once.

    Raises:
        ValueError: studs is no whole number from 3 to 10.

    Source:
        Common practice, no source.

    Example:
        >>> tightening_order(4), tightening_order(5), tightening_order(6)
        ((1, 3, 2, 4), (1, 3, 5, 2, 4), (1, 4, 2, 5, 3, 6))
    """
    count = studs_of(studs)
    order: list[int] = []
    while len(order) < count:
        order.append(min(set(range(count)) - set(order), key=lambda stud: _rank(stud, order, count)))
    return tuple(stud + 1 for stud in order)


def _rank(stud: int, order: list[int], count: int) -> tuple[int, int, int]:
    if not order:
        return 0, 0, stud
    gap = min(_apart(stud, tight, count) for tight in order)
    return -gap, -_apart(stud, order[-1], count), stud


def _apart(one: int, other: int, count: int) -> int:
    steps = abs(one - other)
    return min(steps, count - steps)
