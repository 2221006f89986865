"""Chance: reproducible, in range, and refused in one sentence when asked for nonsense."""

from __future__ import annotations

import random
import statistics

import pytest
from brakecourse.bench.draw import Draw
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

SEEDS = st.integers(min_value=0, max_value=2**256)


def test_uniform_is_the_promised_sequence_of_the_standard_library() -> None:
    # Source: Python's documentation of `random`, "Notes on Reproducibility": random() keeps its sequence.
    draw, kept = Draw(12), random.Random(12)
    assert [draw.uniform() for _ in range(5)] == [kept.random() for _ in range(5)]


def test_the_first_values_of_a_seed_are_as_they_always_were() -> None:
    # Frozen on purpose: another value here would change every case ever given out.
    draw = Draw(2024)
    assert round(draw.uniform(), 12) == 0.470090718431
    assert round(draw.between(10, 20), 12) == 17.282642914232
    assert round(draw.normal(0, 1), 9) == -0.513641418
    assert draw.integer(1, 6) == 6
    assert draw.choice("abcdef") == "c"
    assert draw.shuffled(range(6)) == [5, 3, 2, 0, 1, 4]
    assert round(draw.child("wear").uniform(), 12) == 0.630487925083


@given(SEEDS)
def test_the_same_seed_gives_the_same_values(seed: int) -> None:
    one, two = Draw(seed), Draw(seed)
    assert [one.uniform(), one.normal(3, 2), one.integer(0, 9)] == [
        two.uniform(),
        two.normal(3, 2),
        two.integer(0, 9),
    ]


@given(SEEDS, st.floats(-1e6, 1e6), st.floats(0, 1e6))
def test_between_stays_between(seed: int, low: float, width: float) -> None:
    assert low <= Draw(seed).between(low, low + width) <= low + width


@given(SEEDS, st.integers(-1000, 1000), st.integers(0, 1000))
def test_integer_includes_both_ends(seed: int, low: int, width: int) -> None:
    assert low <= Draw(seed).integer(low, low + width) <= low + width


def test_every_integer_of_the_range_comes() -> None:
    draw = Draw(5)
    assert {draw.integer(1, 6) for _ in range(300)} == {1, 2, 3, 4, 5, 6}


def test_normal_follows_the_normal_distribution() -> None:
    # Against scipy: Kolmogorov-Smirnov, and the mean and the standard deviation of the sample.
    draw = Draw(99)
    sample = [draw.normal(5, 2) for _ in range(5000)]
    assert stats.kstest(sample, "norm", args=(5, 2)).pvalue > 0.01
    assert statistics.fmean(sample) == pytest.approx(5, abs=0.1)
    assert statistics.stdev(sample) == pytest.approx(2, abs=0.1)


def test_no_spread_gives_the_mean() -> None:
    assert Draw(1).normal(4.2, 0) == 4.2


@given(SEEDS, st.lists(st.integers(), max_size=20))
def test_shuffled_keeps_the_items(seed: int, items: list[int]) -> None:
    before = list(items)
    assert sorted(Draw(seed).shuffled(items)) == sorted(items)
    assert items == before


def test_weighted_keeps_the_shares() -> None:
    draw = Draw(3)
    found = [draw.weighted({"a": 3, "b": 1, "never": 0}) for _ in range(4000)]
    assert found.count("a") / 4000 == pytest.approx(0.75, abs=0.03)
    assert "never" not in found


@given(SEEDS, st.integers(0, 5))
def test_a_child_does_not_depend_on_what_was_drawn_before(seed: int, drawn: int) -> None:
    draw = Draw(seed)
    for _ in range(drawn):
        draw.uniform()
    assert draw.child("rust").uniform() == Draw(seed).child("rust").uniform()


def test_children_differ_by_label_and_by_parent() -> None:
    values = {Draw(seed).child(label).uniform() for seed in (1, 2) for label in ("a", "b")}
    assert len(values) == 4


@pytest.mark.parametrize("seed", [-1, 1.0, True, "7", None, float("nan")])
def test_a_seed_that_is_no_whole_number_is_refused(seed: object) -> None:
    with pytest.raises(ValueError, match="seed must be a whole number, 0 or more"):
        Draw(seed)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda draw: draw.between(2, 1), "b must be 2 or more"),
        (lambda draw: draw.between(float("nan"), 1), "a must be a finite number"),
        (lambda draw: draw.normal(0, -1), "sd must be 0 or more"),
        (lambda draw: draw.normal("0", 1), "mean must be a number"),
        (lambda draw: draw.integer(3, 2), "b must be a or more"),
        (lambda draw: draw.integer(0.5, 2), "a must be a whole number"),
        (lambda draw: draw.choice([]), "at least one item"),
        (lambda draw: draw.weighted({}), "at least one share above 0"),
        (lambda draw: draw.weighted({"a": -1}), "share of 'a' must be 0 or more"),
        (lambda draw: draw.child(""), "label must be a text"),
    ],
)
def test_nonsense_is_refused_in_a_sentence(ask: object, sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        ask(Draw(0))  # type: ignore[operator]
