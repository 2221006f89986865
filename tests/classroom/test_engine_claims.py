"""Claims: which of a cell's outputs counts, and that nothing but plain data comes through."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest
from brakecourse.classroom.engine.claims import NO_PLAIN_VALUE, answer_of, answers
from brakecourse.classroom.engine.execute import ANSWER_MIME
from brakecourse.classroom.engine.plan import PlannedQuestion
from brakecourse.marking import SealedCase, draw_sealed_case, judge
from brakecourse.workorder import desk
from hypothesis import given
from hypothesis import strategies as st
from nbformat.v4 import new_code_cell, new_markdown_cell


@cache
def a_case() -> SealedCase:
    return draw_sealed_case("08_rotor_measurement", "s01", bytes(32))


def bundle(question: Any, answer: Any, kind: str = "display_data", **more: Any) -> dict[str, Any]:
    data = {ANSWER_MIME: {"question": question, "answer": answer, "problem": None}, "text/plain": "8"}
    return {"output_type": kind, "data": data, **more}


def test_the_students_side_and_the_grading_speak_of_the_same_kind_of_output() -> None:
    assert ANSWER_MIME == desk.ANSWER_MIME


def test_the_last_bundle_for_the_cells_own_question_counts() -> None:
    outputs = [bundle("8.2", 1.0), bundle("8.2", 2.0), bundle("8.3", 3.0)]
    assert answer_of(outputs, "8.2") == 2.0


@pytest.mark.parametrize(
    "output",
    [
        {"output_type": "stream", "name": "stdout", "text": "8.2 = 1.0"},
        {"output_type": "execute_result", "data": {"text/plain": "3.0"}},
        bundle("8.2", 1.0, kind="execute_result"),
        bundle("8.20", 1.0),
        bundle(["8.2"], 1.0),
        {"output_type": "display_data", "data": {ANSWER_MIME: "8.2"}},
        {"output_type": "display_data", "data": {ANSWER_MIME: ["question", "8.2"]}},
        {"output_type": "display_data", "data": {}},
        {"output_type": "error", "ename": "8.2", "evalue": "", "traceback": []},
    ],
)
def test_nothing_else_is_an_answer(output: dict[str, Any]) -> None:
    assert answer_of([output], "8.2") is None


@pytest.mark.parametrize(
    "answer",
    [
        math.nan,
        math.inf,
        -math.inf,
        10**100,
        "x" * 20_001,
        [1.0] * 1_001,
        [[[[[1.0]]]]],
        {"points": 40},
        {"__class__": "Mark"},
        ["a" * 15_000, "b" * 15_000],
        (1.0, {"a": 1}),
    ],
)
def test_what_is_no_plain_value_of_a_sensible_size_can_not_be_marked(answer: Any) -> None:
    case = a_case()
    found = answer_of([bundle("8.2", answer)], "8.2")
    assert found == NO_PLAIN_VALUE
    for question in case.questions:
        if question.kind != "written":
            mark = judge(case, question.id, found, {})
            assert (mark.status, mark.points) == ("not readable", 0.0)


@pytest.mark.parametrize("answer", [None, True, 0, -3, 21.31, "within", [1, 2.5, None], [], ""])
def test_plain_values_come_through_as_they_are(answer: Any) -> None:
    assert answer_of([bundle("8.2", answer)], "8.2") == answer


def test_half_characters_become_harmless() -> None:
    found = answer_of([bundle("8.2", ["a\ud800\x00"])], "8.2")
    assert found == ["a?"]


def test_every_machine_marked_question_has_an_entry_and_only_code_cells_speak() -> None:
    questions = (
        PlannedQuestion("8.1", "q8_1", "readings", 8, False),
        PlannedQuestion("8.2", "q8_2", "smallest", 3, False),
        PlannedQuestion("8.9", "q8_9", "letter", 4, True),
    )
    cells = [
        new_code_cell("x", metadata={"nbgrader": {"grade_id": "q8_2"}}),
        new_code_cell("forged", metadata={}),
        new_markdown_cell("x", metadata={"nbgrader": {"grade_id": "q8_1"}}),
    ]
    cells[0]["outputs"] = [bundle("8.2", 21.3)]
    cells[1]["outputs"] = [bundle("8.1", [1])]
    cells[2]["outputs"] = [bundle("8.1", [1])]
    assert answers(cells, questions) == {"8.1": None, "8.2": 21.3}


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=30),
    lambda inner: st.lists(inner, max_size=9) | st.dictionaries(st.text(max_size=9), inner, max_size=3),
)


@pytest.mark.slow
@given(json_values)
def test_whatever_is_claimed_can_be_judged(answer: Any) -> None:
    case = a_case()
    found = answer_of([bundle("8.1", answer)], "8.1")
    for question in ("8.1", "8.5"):
        mark = judge(case, question, found, {"8.1": found, "8.2": found})
        assert 0.0 <= mark.points <= mark.out_of
