"""An answer's kind and range are looked at, and told in one sentence; never whether it is right."""

from __future__ import annotations

import json
import math
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pandas as pd
import pytest
from brakecourse.workorder.answers import look_at
from brakecourse.workorder.order import Question
from hypothesis import given, settings
from hypothesis import strategies as st

Questions = dict[str, Question]


@pytest.mark.parametrize(
    ("given", "understood"),
    [
        (23.41, 23.41),
        (23, 23.0),
        (0, 0.0),
        (60, 60.0),
        (np.float64(23.41), 23.41),
        (np.int64(23), 23.0),
        (np.array(23.41), 23.41),
        (Decimal("23.41"), 23.41),
        (Fraction(47, 2), 23.5),
        ("23.41", 23.41),
        (" 23.41 ", 23.41),
        ("+23.41", 23.41),
        (".5", 0.5),
        ("5.", 5.0),
    ],
)
def test_numbers_are_understood(questions: Questions, given: object, understood: float) -> None:
    seen = look_at(questions["0.2"], given)
    assert (seen.answer, seen.problem) == (understood, None)
    assert type(seen.answer) is float
    assert seen.words.startswith("0.2 is handed in: ") and " mm. " in seen.words


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ("23.41 mm", "you gave '23.41 mm'; type only the number"),
        ("23,41", "use a decimal point, not a comma"),
        ((23, 41), "you gave 23,41; use a decimal point"),
        ("about 23", "you gave the text 'about 23'; type a number"),
        ("٢٣", "you gave the text '٢٣'; type a number"),
        ("23²", "type only the number"),
        ("1e5", "type only the number"),
        ("nan", "you gave the text 'nan'"),
        (True, "you gave True"),
        (math.nan, "no finite number"),
        (math.inf, "no finite number"),
        (10**400, "no finite number"),
        (-0.35, "you gave \N{MINUS SIGN}0.35, which lies outside that range"),
        (236, "you gave 236.00, which lies outside that range"),
        (1e300, "you gave 1e+300, which lies outside"),
        ([1, 2, 3], "you gave a list; type one number, without brackets"),
        ({"a": 1}, "of the kind 'dict'"),
        (1j, "of the kind 'complex'"),
        (len, "of the kind 'builtin_function_or_method'"),
    ],
)
def test_what_is_no_number_is_told_in_one_sentence(
    questions: Questions, given: object, sentence: str
) -> None:
    seen = look_at(questions["0.2"], given)
    assert seen.problem is not None and sentence in seen.problem
    assert seen.problem.startswith("0.2 asks for one number in millimetres from 0 to 60 (thing 0.2); ")
    assert seen.words == seen.problem and seen.problem.endswith(".") and "\n" not in seen.problem
    json.dumps(seen.answer, allow_nan=False)


def test_out_of_range_still_reaches_the_instructor_as_it_was_typed(questions: Questions) -> None:
    assert look_at(questions["0.2"], 236).answer == 236
    assert look_at(questions["0.2"], "23.41 mm").answer == "23.41 mm"
    assert look_at(questions["0.1"], [1, 2]).answer == [1, 2]


def test_a_possible_number_gets_no_comment_on_its_size(questions: Questions) -> None:
    """0.93 may be inches, or not: only the marking can tell."""
    seen = look_at(questions["0.2"], 0.93)
    assert seen.problem is None and "inch" not in seen.words


@pytest.mark.parametrize("nothing", [None, ..., "", "   "])
@pytest.mark.parametrize("question", ["0.1", "0.2", "0.3", "0.4", "0.5", "0.6", "0.7"])
def test_nothing_is_told_as_empty(questions: Questions, question: str, nothing: object) -> None:
    seen = look_at(questions[question], nothing)
    assert (seen.answer, seen.problem) == (None, None)
    assert seen.words.startswith(f"{question} is still empty: ")


@pytest.mark.parametrize(
    "given",
    [
        [1.0, 2, 3.5],
        (1.0, 2, 3.5),
        np.array([1.0, 2, 3.5]),
        pd.Series([1.0, 2, 3.5]),
        ["1.0", "2", 3.5],
        [Decimal(1), Fraction(2), np.float32(3.5)],
    ],
    ids=["list", "tuple", "array", "series", "texts", "mixed"],
)
def test_rows_are_understood(questions: Questions, given: object) -> None:
    seen = look_at(questions["0.1"], given)
    assert (seen.answer, seen.problem) == ([1.0, 2.0, 3.5], None)
    assert "1.00, 2.00, 3.50 mm" in seen.words


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ([1, 2], "you gave two values"),
        ([1, 2, 3, 4], "you gave four values"),
        (list(range(20)), "you gave 20 values"),
        (23.41, "put the numbers between square brackets"),
        ("1, 2, 3", "you gave the text '1, 2, 3'; put the numbers between square brackets"),
        ([1, "x", 3], "at place 2 you gave the text 'x'"),
        ([1, 2, 77], "at place 3 you gave 77.00, which lies outside that range"),
        ([1, [2], 3], "at place 2 you gave a list"),
        ([1, True, 3], "at place 2 you gave True"),
        ([1, math.nan, 3], "at place 2 you gave no finite number"),
        ({1, 2, 3}, "put the numbers between square brackets"),
        ({"a": 1}, "put the numbers between square brackets"),
        ([[1, 2, 3]], "you gave one value"),
    ],
)
def test_what_is_no_row_is_told_in_one_sentence(questions: Questions, given: object, sentence: str) -> None:
    seen = look_at(questions["0.1"], given)
    assert seen.problem is not None and sentence in seen.problem
    assert seen.problem.startswith("0.1 asks for a list of 3 numbers, each in millimetres from 0 to 60 ")


def test_a_row_with_gaps_is_handed_in_and_the_gaps_are_told(questions: Questions) -> None:
    seen = look_at(questions["0.1"], [1.0, None, 3.0])
    assert (seen.answer, seen.problem) == ([1.0, None, 3.0], None)
    assert "with nothing yet at place 2" in seen.words
    assert look_at(questions["0.1"], [None, None, None]).answer is None


@pytest.mark.parametrize(
    "given", ["too close to call", "Too Close To Call", "  too  close to call. ", 3, np.int64(3)]
)
def test_choices_are_understood(questions: Questions, given: object) -> None:
    seen = look_at(questions["0.3"], given)
    assert (seen.answer, seen.problem) == ("too close to call", None)


def test_a_sentence_can_be_chosen_by_its_number(questions: Questions) -> None:
    assert look_at(questions["0.4"], 6).answer == "Do it because of reason f."
    assert look_at(questions["0.4"], "do it because of reason F").answer == "Do it because of reason f."


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ("to close to call", "the nearest one is 'too close to call', so type that if you mean it"),
        ("withn", "the nearest one is 'within'"),
        ("banana", "you gave 'banana', which is none of them"),
        (0, "the list goes from 1 to 3"),
        (4, "the list goes from 1 to 3"),
        (True, "type its words between quotes"),
        (2.0, "type its words between quotes"),
        (["within"], "type its words between quotes"),
        ("x" * 100_000, "which is none of them"),
    ],
)
def test_what_is_no_choice_is_told_with_the_nearest_spelling(
    questions: Questions, given: object, sentence: str
) -> None:
    seen = look_at(questions["0.3"], given)
    assert seen.problem is not None and sentence in seen.problem
    assert seen.problem.startswith(
        "0.3 asks for one of the words 'within', 'outside', 'too close to call'; you gave '"
    ) or isinstance(given, int)
    assert len(seen.problem) < 300


def test_many_choices_are_not_all_said_again(questions: Questions) -> None:
    problem = look_at(questions["0.4"], "no idea").problem
    assert problem is not None and "one of the listed sentences or its number, 1 to 6" in problem


def test_percent_is_told_in_percent(questions: Questions) -> None:
    assert "0.5 is handed in: 62.5 %." in look_at(questions["0.5"], 62.5).words
    assert "0.5 is handed in: 62 %." in look_at(questions["0.5"], 62).words
    problem = look_at(questions["0.5"], 101).problem
    assert problem is not None and "one number in percent from 0 to 100" in problem


@pytest.mark.parametrize(
    "given",
    [[2, 3, 1], (2, 3, 1), np.array([2, 3, 1]), pd.Series([2.0, 3.0, 1.0]), ["2", "3", "1"]],
    ids=["list", "tuple", "array", "series", "texts"],
)
def test_the_order_of_steps_is_understood(questions: Questions, given: object) -> None:
    seen = look_at(questions["0.7"], given)
    assert (seen.answer, seen.problem) == (["Lift it <safely>.", "Work on it.", "Lower it."], None)
    assert seen.words == "0.7 is handed in: 2, 3, 1. You may change it and run both cells again."


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ([2, 3], "you gave 2 of them; 1 is missing."),
        ([3], "you gave 1 of them; 1 and 2 are missing."),
        ([2, 3, 2], "you gave 2 more than once; give each step once."),
        ([2, 3, 1, 1], "you gave 1 more than once; give each step once."),
        ([2, 3, 4], "you gave 4; the steps are numbered from 1 to 3."),
        ([0, 1, 2], "you gave 0; the steps are numbered from 1 to 3."),
        ([1, 2.5, 3], "you gave 2.5; the steps are numbered from 1 to 3."),
        ([1, None, 3], "place 2 of your list is still empty."),
        ([1, "two", 3], "at place 2 of your list you gave the text 'two'; type a number, without quotes."),
        ([1, True, 3], "at place 2 of your list you gave True; type the number itself."),
        (231, "you gave '231'; put the numbers between square brackets, with commas between them."),
        ("2, 3, 1", "you gave the text '2, 3, 1'; put the numbers between square brackets"),
        ({2, 3, 1}, "put the numbers between square brackets"),
    ],
)
def test_what_is_no_order_of_steps_is_told_in_one_sentence(
    questions: Questions, given: object, sentence: str
) -> None:
    seen = look_at(questions["0.7"], given)
    assert seen.problem is not None and sentence in seen.problem, seen.problem
    assert seen.problem.startswith(
        "0.7 asks for the numbers of all 3 listed steps, each once, in the order of work; "
    )
    assert seen.words == seen.problem


def test_a_written_answer_has_its_own_cell(questions: Questions) -> None:
    problem = look_at(questions["0.6"], "Dear customer").problem
    assert problem is not None and "write it in its own cell" in problem


class Awkward:
    """Somebody's own class, where everything goes wrong."""

    def __str__(self) -> str:
        raise RuntimeError("no")

    __repr__ = __str__

    def tolist(self) -> list[int]:
        raise RuntimeError("no")

    def __len__(self) -> int:
        raise RuntimeError("no")


@pytest.mark.parametrize("question", ["0.1", "0.2", "0.3", "0.4", "0.5", "0.6", "0.7"])
@pytest.mark.parametrize(
    "value",
    [Awkward(), Awkward, [Awkward()] * 3, object(), 10**5000, "\ud800\x00"],
    ids=lambda value: type(value).__name__,
)
def test_nothing_ends_in_an_error(questions: Questions, question: str, value: object) -> None:
    seen = look_at(questions[question], value)
    assert seen.problem is not None and len(seen.problem) < 400
    json.dumps(seen.answer, allow_nan=False)
    seen.words.encode("utf-8")


anything = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text()
    | st.decimals()
    | st.binary(max_size=9),
    lambda inner: st.lists(inner, max_size=5) | st.tuples(inner, inner) | st.dictionaries(st.text(), inner),
    max_leaves=8,
)


@settings(max_examples=300)
@given(st.sampled_from(["0.1", "0.2", "0.3", "0.4", "0.5", "0.7"]), anything)
def test_anything_is_handed_in_as_plain_data(questions: Questions, question: str, value: object) -> None:
    seen = look_at(questions[question], value)
    json.dumps(seen.answer, allow_nan=False)
    assert seen.words.endswith(".")
    assert (seen.problem is None) or seen.words == seen.problem
