"""The figures of item analysis, from plain numbers: intervals, item-rest correlation, reliability.

Each says in words why it has no value where it would mean nothing. A figure of a small class is a guess, so
none stands without its interval, and a coefficient has none at all under :data:`FEWEST_STUDENTS`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist, correlation, fmean, pvariance

FEWEST_STUDENTS = 20
"""Below this many students no coefficient is given: even at 20 a correlation of 0.4 has an interval from
-0.05 to 0.72. The number is common practice, no source."""

FEWEST_QUESTIONS = 2
"""One question has no rest to go with."""

_NO_SPREAD = 1e-9
"""A variance below this is rounding, not spread: marks have two decimals."""


@dataclass(frozen=True)
class Interval:
    """Where a figure lies as far as so few students can tell, with 95 % confidence unless said otherwise."""

    low: float
    high: float


@dataclass(frozen=True)
class Coefficient:
    """A coefficient, or why there is none.

    Attributes:
        name: which one.
        value: None where it would mean nothing.
        interval: None without a value.
        why: why there is no value; empty with one.
        students: how many it rests on.
        questions: how many it rests on.
    """

    name: str
    value: float | None
    interval: Interval | None
    why: str
    students: int
    questions: int


def wilson(successes: int, of: int, confidence: float = 0.95) -> Interval | None:
    """Return Wilson's interval for a share, which also holds for few students and for all or none of them.

    Args:
        successes: how many, 0 up to ``of``.
        of: out of how many; for 0 there is no interval.
        confidence: between 0 and 1.

    Raises:
        ValueError: the numbers don't fit each other.

    Source:
        E. B. Wilson, "Probable inference, the law of succession, and statistical inference",
        J. Amer. Statist. Assoc. 22 (1927), 209–212 (from memory).

    Example:
        >>> found = wilson(9, 24)
        >>> round(found.low, 3), round(found.high, 3)
        (0.212, 0.573)
    """
    if not 0 <= successes <= of:
        raise ValueError(f"A count from 0 to {of} was expected, but found {successes}.")
    if of == 0:
        return None
    z = _z(confidence)
    share, shrink = successes / of, 1 + z * z / of
    middle = (share + z * z / (2 * of)) / shrink
    half = z * math.sqrt(share * (1 - share) / of + (z / (2 * of)) ** 2) / shrink
    # At none and at all of them one end is exactly the share; rounding must not put it beside.
    low = 0.0 if successes == 0 else max(0.0, middle - half)
    return Interval(low, 1.0 if successes == of else min(1.0, middle + half))


def item_rest(item: Sequence[float], rest: Sequence[float]) -> Coefficient:
    """Return the correlation of a question's marks with the rest of the marks, the question left out.

    For a question that is right or wrong this is the corrected point-biserial correlation. The interval is
    Fisher's.

    Args:
        item: each student's marks for the question.
        rest: the same students' marks for all other questions.

    Source:
        Point-biserial correlation is Pearson's with one variable 0 or 1; interval after R. A. Fisher's
        transformation (from memory).
    """
    count = len(item)
    why = _too_few(count) or _without_spread(
        (item, "everybody earned the same marks for it"), (rest, "everybody earned the same for the rest")
    )
    if why:
        return Coefficient("item-rest correlation", None, None, why, count, 0)
    value = max(-1.0, min(1.0, correlation(item, rest)))
    return Coefficient("item-rest correlation", value, _fisher(value, count), "", count, 0)


def reliability(rows: Sequence[Sequence[float]], out_of: Sequence[float]) -> Coefficient:
    """Return how well the questions go together: KR-20 where each is right or wrong, else Cronbach's alpha.

    The two are one formula; KR-20 is its name where there is nothing between none and all of the marks. The
    interval is Bonett's.

    Args:
        rows: one a student, each with the marks for every question: no gaps.
        out_of: what each question is worth.

    Source:
        G. F. Kuder and M. W. Richardson, Psychometrika 2 (1937), 151–160, formula 20; L. J. Cronbach,
        Psychometrika 16 (1951), 297–334; interval: D. G. Bonett, J. Educ. Behav. Statist. 27 (2002), 335–340
        (all three from memory).
    """
    two_valued = all(mark in (0, most) for row in rows for mark, most in zip(row, out_of, strict=True))
    name = "KR-20" if two_valued and rows else "Cronbach's alpha"
    students, questions = len(rows), len(out_of)

    def without(why: str) -> Coefficient:
        return Coefficient(name, None, None, why, students, questions)

    if questions < FEWEST_QUESTIONS:
        return without("it takes at least two questions that were marked")
    if _too_few(students):
        return without(_too_few(students))
    spread = pvariance([sum(row) for row in rows])
    if spread <= _NO_SPREAD:
        return without("everybody earned the same marks")
    value = alpha(rows)
    return Coefficient(name, value, _bonett(value, students, questions), "", students, questions)


def alpha(rows: Sequence[Sequence[float]]) -> float:
    """Return Cronbach's alpha, which is KR-20 for marks of 0 and 1. At most 1; it can lie below 0.

    Raises:
        ValueError: fewer than two questions or students, or everybody earned the same.

    Source:
        As :func:`reliability`.

    Example:
        >>> round(alpha([(1, 1), (0, 0), (1, 0), (0, 0)]), 3)
        0.727
    """
    columns = list(zip(*rows, strict=True))
    total = pvariance([sum(row) for row in rows]) if len(rows) > 1 else 0.0
    if len(columns) < FEWEST_QUESTIONS or total <= _NO_SPREAD:
        raise ValueError("Marks of two questions and two students that differ were expected.")
    count = len(columns)
    return count / (count - 1) * (1 - sum(pvariance(column) for column in columns) / total)


def share(earned: float, out_of: float) -> float | None:
    """Return a share of the marks in percent, or None of nothing.

    >>> share(6, 8), share(0, 0)
    (75.0, None)
    """
    return 100 * earned / out_of if out_of else None


def _too_few(students: int) -> str:
    if students >= FEWEST_STUDENTS:
        return ""
    return f"it takes at least {FEWEST_STUDENTS} students whose work was marked, and there are {students}"


def _without_spread(*checks: tuple[Sequence[float], str]) -> str:
    return next((why for values, why in checks if _variance(values) <= _NO_SPREAD), "")


def _variance(values: Sequence[float]) -> float:
    middle = fmean(values)
    return fmean((value - middle) ** 2 for value in values)


def _fisher(value: float, students: int) -> Interval:
    if abs(value) >= 1 - 1e-12:
        return Interval(value, value)
    middle, half = math.atanh(value), _z(0.95) / math.sqrt(students - 3)
    return Interval(math.tanh(middle - half), math.tanh(middle + half))


def _bonett(value: float, students: int, questions: int) -> Interval:
    if value >= 1 - 1e-12:
        return Interval(value, value)
    half = _z(0.95) * math.sqrt(2 * questions / ((questions - 1) * (students - 2)))
    middle = math.log(1 - value) - math.log(students / (students - 1))
    return Interval(1 - math.exp(middle + half), 1 - math.exp(middle - half))


def _z(confidence: float) -> float:
    if not 0 < confidence < 1:
        raise ValueError(f"A confidence between 0 and 1 was expected, but found {confidence}.")
    return NormalDist().inv_cdf(0.5 + confidence / 2)
