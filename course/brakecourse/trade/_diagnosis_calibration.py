"""Whether stated probabilities can be believed, told by many cases whose truth is known."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist

from brakecourse.trade import _checks
from brakecourse.trade._counts import whole

MOST_BINS = 1000
_SUM_ROUNDING = 1e-6


@dataclass(frozen=True)
class ReliabilityRow:
    """The cases whose stated probability fell into one bin.

    Attributes:
        low: lower end of the bin.
        high: upper end of the bin.
        count: how many cases fell into it.
        mean_stated: mean of the probabilities that were stated.
        share_right: share of the cases in which what was stated came true.
        interval_low: lower end of the interval in which the long-run share lies.
        interval_high: its upper end.
    """

    low: float
    high: float
    count: int
    mean_stated: float
    share_right: float
    interval_low: float
    interval_high: float


def brier_score(probabilities: Sequence[Mapping[str, float]], truths: Sequence[str]) -> float:
    """Return how far stated probabilities are from what was true, over many cases: 0 is best, 2 is worst.

    Args:
        probabilities: for each case the probability of each cause, by id; each case's sum to 1.
        truths: for each case the id of the cause that was there.

    Returns:
        Mean over the cases of the sum over the causes of the squared difference from 1 (the true cause) or
        0 (every other one).

    Raises:
        ValueError: there is no case, the rows are not alike in number, a probability is not from 0 to 1, a
            case's do not sum to 1, or a truth is none of the causes.

    Source:
        Brier's score in its first form, for any number of classes. For two classes it is twice the form
        that counts one of them only.

    Example:
        >>> round(brier_score([{"air": 0.8, "leak": 0.2}, {"air": 0.4, "leak": 0.6}], ["air", "leak"]), 2)
        0.2
    """
    cases, truth_row = _checks.row(probabilities, "probabilities", 1), _checks.row(truths, "truths", 1)
    _same_length(len(cases), len(truth_row), "truths")
    return math.fsum(
        _squared(case, truth, place)
        for place, (case, truth) in enumerate(zip(cases, truth_row, strict=True), start=1)
    ) / len(cases)


def reliability_table(
    probabilities: Sequence[float], hits: Sequence[bool], bins: int = 10, confidence: float = 0.95
) -> tuple[ReliabilityRow, ...]:
    """Return how often things came true that were stated with about the same probability.

    Args:
        probabilities: for each case the probability that was stated, 0 to 1.
        hits: for each case whether it came true.
        bins: into how many bins of equal width 0 to 1 is parted, 1 to 1000.
        confidence: wanted probability of the interval, two-sided, above 0 and below 1.

    Returns:
        One row for each bin that holds a case, from low to high. A probability on the border of two bins
        falls into the lower one; 0 falls into the first.

    Raises:
        ValueError: there is no case, the rows are not alike in number, or a value is out of its range.

    Source:
        Wilson's score interval for a share; textbook statistics.

    Example:
        Ten times 0.9 was stated, and it came true nine times.

        >>> (row,) = reliability_table([0.9] * 10, [True] * 9 + [False], bins=5)
        >>> row.count, row.share_right, round(row.interval_low, 3), round(row.interval_high, 3)
        (10, 0.9, 0.596, 0.982)
    """
    stated = [
        _checks.within(value, f"probabilities, place {place},", 0.0, 1.0)
        for place, value in enumerate(_checks.row(probabilities, "probabilities", 1), start=1)
    ]
    came_true = [_hit(value, place) for place, value in enumerate(_checks.row(hits, "hits", 1), start=1)]
    _same_length(len(stated), len(came_true), "hits")
    count = whole(bins, "number of bins", 1, MOST_BINS)
    level = _checks.number(confidence, "confidence")
    if not 0 < level < 1:
        raise _checks._refuse("confidence", "above 0 and below 1", confidence)
    by_bin: dict[int, list[tuple[float, bool]]] = {}
    for value, hit in zip(stated, came_true, strict=True):
        by_bin.setdefault(_bin(value, count), []).append((value, hit))
    z = NormalDist().inv_cdf((1 + level) / 2)
    return tuple(_row(place, count, by_bin[place], z) for place in sorted(by_bin))


def _bin(value: float, bins: int) -> int:
    place = max(0, math.ceil(value * bins) - 1)
    # The product can be rounded across a border that the value itself does not reach.
    return place + 1 if place + 1 < bins and value > (place + 1) / bins else place


def _row(place: int, bins: int, cases: Sequence[tuple[float, bool]], z: float) -> ReliabilityRow:
    count = len(cases)
    share = sum(hit for _, hit in cases) / count
    mean = math.fsum(value for value, _ in cases) / count
    spread = z * math.sqrt(share * (1 - share) / count + z * z / (4 * count * count))
    middle, scale = share + z * z / (2 * count), 1 + z * z / count
    low, high = (middle - spread) / scale, (middle + spread) / scale
    return ReliabilityRow(place / bins, (place + 1) / bins, count, mean, share, max(0.0, low), min(1.0, high))


def _squared(case: object, truth: object, place: int) -> float:
    if not isinstance(case, Mapping):
        raise _checks._refuse(f"probabilities, case {place},", "a dict from cause to probability", case)
    if not isinstance(truth, str) or truth not in case:
        raise _checks._refuse(f"truths, case {place},", "one of that case's causes", truth)
    stated = {
        cause: _checks.within(value, f"probabilities, case {place},", 0.0, 1.0)
        for cause, value in case.items()
    }
    total = math.fsum(stated.values())
    if abs(total - 1) > _SUM_ROUNDING:
        raise _checks._refuse(f"probabilities, case {place},", "1 in sum", total)
    return math.fsum((value - (cause == truth)) ** 2 for cause, value in stated.items())


def _hit(value: object, place: int) -> bool:
    # Told by == so that an array library's own True and False will do.
    if isinstance(value, (str, bytes)) or hasattr(value, "__len__") or not (value == True or value == False):  # noqa: E712
        raise _checks._refuse(f"hits, place {place},", "True or False", value)
    return bool(value)


def _same_length(expected: int, found: int, quantity: str) -> None:
    if expected != found:
        raise ValueError(
            f"{quantity} must be as many as the probabilities, {expected}, but there were {found}."
        )
