"""The figures of item analysis against published worked examples, and against scipy and statsmodels."""

from __future__ import annotations

import math
from statistics import fmean

import numpy as np
import pytest
import scipy.stats
from brakecourse.exports.statistics import (
    FEWEST_STUDENTS,
    alpha,
    item_rest,
    reliability,
    share,
    wilson,
)
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.proportion import proportion_confint

# Ten students, ten items. Source (read): K. L. Wuensch, East Carolina University, KR20.txt; it prints
# each item's p, q and pq, and 5.84 as the variance of the totals; the coefficient follows by the formula.
QUIZ = [
    [1, 1, 1, 1, 1, 1, 0, 1, 1, 0],
    [1, 0, 1, 1, 0, 1, 1, 1, 0, 1],
    [1, 1, 1, 1, 0, 1, 1, 0, 0, 1],
    [0, 0, 1, 0, 0, 0, 1, 0, 0, 0],
    [0, 0, 0, 0, 0, 1, 0, 0, 1, 0],
    [1, 1, 1, 0, 1, 1, 1, 1, 1, 1],
    [1, 1, 0, 1, 1, 1, 0, 1, 1, 1],
    [1, 1, 1, 1, 1, 1, 1, 1, 0, 1],
    [0, 1, 0, 1, 1, 1, 1, 1, 0, 1],
    [1, 1, 0, 1, 1, 0, 1, 1, 1, 0],
]
PRINTED_PQ = [0.21, 0.21, 0.24, 0.21, 0.24, 0.16, 0.21, 0.21, 0.25, 0.24]
PRINTED_VARIANCE = 5.84

# Ten customers, three questions. Source (read): Statology, "How to Calculate Cronbach's Alpha in Python"; the
# package pingouin prints (0.7734375, [0.336, 0.939]) for it, with Feldt's interval.
SURVEY = list(
    zip(
        [1, 2, 2, 3, 2, 2, 3, 3, 2, 3],
        [1, 1, 1, 2, 3, 3, 2, 3, 3, 3],
        [1, 1, 2, 1, 2, 3, 3, 3, 2, 3],
        strict=True,
    )
)

marks = st.integers(0, 8).map(lambda quarters: quarters / 4)


def spread_rows(students: int) -> st.SearchStrategy[list[list[float]]]:
    return st.integers(2, 8).flatmap(
        lambda width: st.lists(
            st.lists(marks, min_size=width, max_size=width), min_size=students, max_size=students + 20
        )
    )


def test_kr20_of_a_published_quiz() -> None:
    columns = list(zip(*QUIZ, strict=True))
    assert [round(fmean(c) * (1 - fmean(c)), 4) for c in columns] == PRINTED_PQ  # typed as it was printed
    expected = 10 / 9 * (1 - sum(PRINTED_PQ) / PRINTED_VARIANCE)
    assert alpha(QUIZ) == pytest.approx(expected, abs=1e-12)
    twice = reliability([*QUIZ, *QUIZ], [1] * 10)
    assert twice.name == "KR-20" and twice.value == pytest.approx(expected)  # the same shares, the same value


def test_cronbachs_alpha_of_a_published_survey() -> None:
    assert alpha(SURVEY) == pytest.approx(0.7734375, abs=1e-12)
    found = reliability([*SURVEY, *SURVEY], [3, 3, 3])
    assert (found.name, found.value) == ("Cronbach's alpha", pytest.approx(0.7734375))


def test_the_intervals_of_the_two_methods_agree() -> None:
    """Ours is Bonett's; Feldt's exact one needs the F distribution, which scipy has. They agree to 0.02."""
    generator = np.random.default_rng(7)
    for students, questions in ((24, 9), (60, 5), (200, 19)):
        ability = generator.normal(size=(students, 1))
        rows = (ability + generator.normal(size=(students, questions))).tolist()
        found = reliability(rows, [1.0] * questions)
        assert found.value is not None and found.interval is not None
        free, more = students - 1, (students - 1) * (questions - 1)
        low = 1 - (1 - found.value) * scipy.stats.f.ppf(0.975, free, more)
        high = 1 - (1 - found.value) * scipy.stats.f.ppf(0.025, free, more)
        assert found.interval.low == pytest.approx(low, abs=0.02)
        assert found.interval.high == pytest.approx(high, abs=0.02)


@given(st.integers(0, 250).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))), st.floats(0.5, 0.999))
def test_wilsons_interval_is_statsmodels(counts: tuple[int, int], confidence: float) -> None:
    successes, of = counts
    found = wilson(successes, of, confidence)
    if of == 0:
        assert found is None
        return
    low, high = proportion_confint(successes, of, alpha=1 - confidence, method="wilson")
    assert found is not None
    assert (found.low, found.high) == (pytest.approx(low, abs=1e-9), pytest.approx(high, abs=1e-9))
    assert 0 <= found.low <= successes / of <= found.high <= 1


@pytest.mark.parametrize(("successes", "of", "confidence"), [(-1, 3, 0.95), (4, 3, 0.95), (1, 3, 1.0)])
def test_counts_that_do_not_fit_are_refused(successes: int, of: int, confidence: float) -> None:
    with pytest.raises(ValueError, match="was expected, but found"):
        wilson(successes, of, confidence)


@given(st.data())
def test_item_rest_is_scipys_point_biserial_with_fishers_interval(data: st.DataObject) -> None:
    count = data.draw(st.integers(FEWEST_STUDENTS, 60))
    item = data.draw(st.lists(st.integers(0, 1), min_size=count, max_size=count))
    rest = data.draw(st.lists(marks, min_size=count, max_size=count))
    found = item_rest(item, rest)
    if len(set(item)) == 1 or len(set(rest)) == 1:
        assert found.value is None and "everybody earned the same" in found.why
        return
    assert found.value == pytest.approx(scipy.stats.pointbiserialr(item, rest).statistic, abs=1e-9)
    assert found.interval is not None and -1 <= found.interval.low <= found.interval.high <= 1
    if abs(found.value) < 0.999:
        expected = scipy.stats.pearsonr(item, rest).confidence_interval(0.95)
        assert (found.interval.low, found.interval.high) == (
            pytest.approx(expected.low, abs=1e-6), pytest.approx(expected.high, abs=1e-6),
        )  # fmt: skip


@given(spread_rows(FEWEST_STUDENTS), st.randoms(use_true_random=False))
def test_reliability_is_bounded_and_does_not_mind_who_sits_where(
    rows: list[list[float]], order: object
) -> None:
    worth = [2.0] * len(rows[0])
    found = reliability(rows, worth)
    mixed = list(rows)
    order.shuffle(mixed)  # type: ignore[attr-defined]
    again = reliability(mixed, worth)
    if found.value is None:
        assert found.why == "everybody earned the same marks" == again.why
        assert len({round(sum(row), 6) for row in rows}) == 1
        return
    covariance = np.cov(np.array(rows).T, ddof=1)
    width = len(worth)
    by_covariances = width / (width - 1) * (1 - np.trace(covariance) / covariance.sum())
    assert found.value == pytest.approx(by_covariances, abs=1e-7)
    assert found.value <= 1 + 1e-12 and again.value == pytest.approx(found.value, abs=1e-9)
    assert found.interval is not None and found.interval.low <= found.interval.high <= 1


def test_questions_that_say_the_same_are_perfectly_reliable() -> None:
    rows = [[1.0, 2.0, 4.0] if number % 2 else [0.0, 1.0, 3.0] for number in range(30)]
    found = reliability(rows, [1, 2, 4])
    assert found.value == pytest.approx(1.0) and found.interval is not None
    assert found.interval.low == found.interval.high == found.value
    same = item_rest([row[0] for row in rows], [row[1] for row in rows])
    assert same.value == pytest.approx(1.0) and same.interval is not None and same.interval.low > 0.99


@pytest.mark.parametrize(
    ("rows", "worth", "why"),
    [
        ([], [], "at least two questions"),
        ([], [1, 1], "at least 20 students whose work was marked, and there are 0"),
        ([[1]] * 30, [1], "at least two questions"),
        ([[1, 0]] * 19, [1, 1], "at least 20 students whose work was marked, and there are 19"),
        ([[1, 1]] * 30, [1, 1], "everybody earned the same marks"),
        ([[0, 0]] * 30, [1, 1], "everybody earned the same marks"),
    ],
)
def test_no_reliability_where_it_means_nothing(rows: list[list[float]], worth: list[float], why: str) -> None:
    found = reliability(rows, worth)
    assert (found.value, found.interval) == (None, None) and why in found.why


def test_right_and_wrong_only_is_told_from_partial_marks() -> None:
    half = [[4, 0, 2]] * 15 + [[0, 2, 2]] * 14
    assert reliability([*half, [4, 2, 0]], [4, 2, 2]).name == "KR-20"
    assert reliability([*half, [4, 1, 0]], [4, 2, 2]).name == "Cronbach's alpha"


def test_alpha_itself_refuses_what_it_can_not_be() -> None:
    for rows in ([], [[1, 0]], [[1], [0]], [[1, 0], [0, 1]]):
        with pytest.raises(ValueError, match="were expected"):
            alpha(rows)


def test_a_share_of_nothing_is_none() -> None:
    assert share(0, 0) is None
    assert math.isclose(share(1, 3) or 0, 100 / 3)
