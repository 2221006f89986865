"""Whatever comes in, a mark comes out, with no more points than there are and no fewer than none."""

from __future__ import annotations

import json
import math

import pytest
from brakecourse.marking import SealedCase, judge
from hypothesis import given, settings
from hypothesis import strategies as st

MODULE = "08_rotor_measurement"
ASKED = [f"8.{number}" for number in range(1, 9)]
STATUSES = {"right", "partly right", "wrong", "no answer", "not readable"}

anything = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=True, allow_infinity=True)
    | st.text()
    | st.sampled_from(["within", "٢٣.٤١", "²", "23,41", "NaN", "Infinity", "\ud800", "\x00", "1e999"]),
    lambda inner: st.lists(inner, max_size=10) | st.dictionaries(st.text(max_size=5), inner, max_size=4),
    max_leaves=20,
)


def check(case: SealedCase, question: str, answer: object, earlier: dict[str, object]) -> None:
    mark = judge(case, question, answer, earlier)
    assert mark.status in STATUSES
    assert 0 <= mark.points <= mark.out_of and math.isfinite(mark.points)
    assert mark.words and mark.expected and mark.tolerance
    assert len(mark.given) < 500
    for text in (mark.given, mark.words, mark.how, mark.expected):
        text.encode("utf-8")  # can be written to any page
    assert (mark.points == mark.out_of) == (mark.status == "right")


@pytest.mark.slow
@settings(max_examples=250)
@given(st.sampled_from(ASKED), anything, st.dictionaries(st.sampled_from(ASKED), anything))
def test_any_json_at_all(case: SealedCase, question: str, answer: object, earlier: dict[str, object]) -> None:
    check(case, question, answer, earlier)


nearly_a_table = st.lists(
    st.floats(0, 60) | st.none() | st.integers(-3, 70) | st.text(max_size=3), max_size=10
)


@settings(max_examples=200)
@given(nearly_a_table, st.floats(-1, 60), st.floats(-1, 6), st.sampled_from(ASKED))
def test_answers_that_look_like_answers(
    case: SealedCase, table: list[object], thick: float, small: float, question: str
) -> None:
    earlier = {"8.1": table, "8.2": thick, "8.3": small, "8.4": small}
    for answer in (table, thick, small):
        check(case, question, answer, earlier)


def deep(levels: int) -> list[object]:
    found: list[object] = []
    for _ in range(levels):
        found = [found]
    return found


@pytest.mark.parametrize(
    "answer",
    [
        10**400,
        -(10**400),
        [10**400] * 8,
        [[1.0] * 8] * 8,
        deep(5000),
        "9" * 1_000_000,
        " " * 1_000_000,
        ["x" * 100_000] * 8,
        [math.nan] * 8,
        [math.inf, -math.inf, *[math.nan] * 6],
        [True] * 8,
        list(range(100_000)),
        {"__class__": "float"},
        object(),
        b"23.41",
        1j,
        float("1e308"),
        5e-324,
        -0.0,
    ],
    ids=lambda answer: type(answer).__name__,
)
@pytest.mark.parametrize("question", ASKED)
def test_the_worst_that_came_to_mind(case: SealedCase, question: str, answer: object) -> None:
    check(case, question, answer, {})
    check(case, question, answer, dict.fromkeys(ASKED, answer))


def test_true_is_not_one(case: SealedCase) -> None:
    assert judge(case, "8.7", True, {}).status == "not readable"
    assert judge(case, "8.1", [True] * 8, {}).points == 0


def test_a_mark_can_be_stored(case: SealedCase) -> None:
    mark = judge(case, "8.4", math.nan, {"8.1": math.inf})
    json.dumps(vars(mark), allow_nan=False)
