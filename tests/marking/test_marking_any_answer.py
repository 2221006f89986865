"""Whatever comes in, a mark comes out, with no more points than there are and no fewer than none."""

from __future__ import annotations

import json
import math
from collections.abc import Callable

import pytest
from brakecourse.marking import Mark, SealedCase, judge, judge_all
from brakecourse.marking.sealed import BY_HAND, SealedQuestion
from hypothesis import HealthCheck, given, settings
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
    check_mark(judge(case, question, answer, earlier))


def check_mark(mark: Mark) -> None:
    assert mark.status in STATUSES
    assert 0 <= mark.points <= mark.out_of and math.isfinite(mark.points)
    assert mark.words and mark.expected and mark.tolerance
    assert len(mark.given) < 2000  # an order of work is told in its own words, anything else is clipped
    for text in (mark.given, mark.words, mark.how, mark.expected):
        text.encode("utf-8")  # can be written to any page
    assert (mark.points == mark.out_of) == (mark.status == "right")


@pytest.mark.slow
@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_any_json_in_any_module(
    module: str, full_case: Callable[[str], SealedCase], data: st.DataObject
) -> None:
    """Nearly right answers as well: those get deep into what follows from own values."""
    case = full_case(module)
    asked = {one.id: one for one in case.questions if one.kind not in BY_HAND}
    odd = data.draw(st.sampled_from(sorted(asked)))
    answers: dict[str, object] = {
        name: data.draw(anything if name == odd else near_to(question)) for name, question in asked.items()
    }
    marks = judge_all(case, answers)
    assert set(marks) == set(asked)
    for mark in marks.values():
        check_mark(mark)


def near_to(question: SealedQuestion) -> st.SearchStrategy[object]:
    """Answers of the right kind: right, off by anything, or what a named mistake gives."""
    right = question.expected
    named = st.sampled_from([one.value for one in question.mistakes] or [0.0])
    factor = st.sampled_from([1.0, -1.0, 0.0, 1e-9, 1.1, 0.9, 10.0, 1e300])
    if isinstance(right, tuple):
        return st.lists(st.one_of(*(factor.map(lambda by, one=one: one * by) for one in right), named),
                        min_size=len(right), max_size=len(right))  # fmt: skip
    if question.kind == "sequence":
        return st.permutations(list(question.steps))
    return named | (factor.map(lambda by: right * by) if isinstance(right, float) else st.just(right))


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
