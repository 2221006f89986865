"""The practice adapts: what went wrong comes more often, by the stated share, and nothing vanishes."""

from __future__ import annotations

from collections import Counter

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.views.adapt import RULE, is_weak, next_topic, shares, why


@pytest.mark.parametrize(
    ("results", "weak"),
    [
        ([], False),
        ([True], False),
        ([False], True),
        ([True, True, False], True),
        ([False, True], True),
        ([False, True, False, True], True),
        ([False, True, True], False),
        ([False, False, True, True, True], False),
        ([False, True, True, False], True),
    ],
)
def test_a_topic_is_weak_from_a_mistake_until_it_is_right_twice_running(
    results: list[bool], weak: bool
) -> None:
    assert is_weak(results) is weak


def test_a_weak_topic_comes_twice_as_often_as_each_other() -> None:
    found = shares({"a": [], "b": [False], "c": [True, True]})
    assert found == {"a": 0.25, "b": 0.5, "c": 0.25}
    assert "twice as often" in RULE and "twice running" in RULE
    assert shares({"a": [False], "b": [False, True]}) == {"a": 0.5, "b": 0.5}
    assert shares({"only": [False]}) == {"only": 1.0}


def test_no_topic_is_refused() -> None:
    with pytest.raises(ValueError, match="At least one topic"):
        shares({})


def simulated(always_wrong: set[str], rounds: int) -> tuple[Counter[str], dict[str, list[bool]]]:
    """Let a learner who never gets some topics right answer what comes, and count what came."""
    record: dict[str, list[bool]] = {topic: [] for topic in ("hose", "boot", "bore", "bracket")}
    came: Counter[str] = Counter()
    for number in range(rounds):
        topic = next_topic(record, Draw(5).child(str(number)))
        came[topic] += 1
        record[topic] = [*record[topic], topic not in always_wrong][-6:]
    return came, record


def test_a_learners_weak_topic_comes_by_the_stated_share_and_the_others_stay() -> None:
    rounds = 2000
    came, record = simulated({"bore"}, rounds)
    # Shares 2 : 1 : 1 : 1. Four standard deviations of a binomial count either way.
    for topic, share in {"hose": 0.2, "boot": 0.2, "bore": 0.4, "bracket": 0.2}.items():
        assert abs(came[topic] - share * rounds) < 4 * (rounds * share * (1 - share)) ** 0.5, topic
    assert shares(record)["bore"] == 0.4


def test_a_learner_who_masters_all_gets_all_equally() -> None:
    came, record = simulated(set(), 2000)
    assert set(shares(record).values()) == {0.25}
    assert min(came.values()) > 400


def test_the_reason_names_the_weak_topics_only() -> None:
    assert why({"hose": [True], "boot": []}) == "Next: each topic is equally likely."
    one = why({"hose": [True], "boot": [False]})
    assert "more likely boot, because you got it wrong" in one and "hose" not in one
    assert "more likely hose or boot, because you got them wrong" in why(
        {"hose": [False], "boot": [False], "bore": [True]}
    )
    assert "because each one needs more practice" in why({"hose": [False], "boot": [False]})
