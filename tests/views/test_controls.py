"""The controls: two that agree, and what a person may type."""

from __future__ import annotations

import pytest
from brakecourse.views.controls import AnswerBox, NumberPair, choice, read_number


def test_slider_and_box_follow_each_other() -> None:
    pair = NumberPair("Size, in mm", 1.0, 0.0, 5.0, 0.01)
    seen: list[float] = []
    pair.on_change(lambda change: seen.append(change["new"]))
    pair.box.value = 2.5
    assert pair.slider.value == pair.value == 2.5
    pair.slider.value = 3.25
    assert pair.box.value == 3.25
    pair.value = 4.0
    assert (pair.slider.value, pair.box.value) == (4.0, 4.0)
    assert seen == [2.5, 3.25, 4.0]


def test_the_box_shows_a_sliders_number_without_its_dust() -> None:
    pair = NumberPair("Size, in mm", 22.0, 0.0, 40.0, 0.01)
    pair.slider.value = 22.070000000000004
    assert repr(pair.box.value) == "22.07"


@pytest.mark.parametrize(("typed", "kept"), [(9.0, 5.0), (-9.0, 0.0)])
def test_a_number_out_of_range_is_brought_back(typed: float, kept: float) -> None:
    pair = NumberPair("Size, in mm", 1.0, 0.0, 5.0, 0.01)
    pair.box.value = typed
    assert pair.value == kept


def test_whole_numbers_stay_whole() -> None:
    pair = NumberPair("Turns", 1, 0, 49, 1)
    pair.box.value = 7
    assert pair.value == 7 and isinstance(pair.value, int)


def test_an_answer_is_checked_by_enter_and_by_the_button_but_not_when_emptied() -> None:
    checked: list[str] = []
    answer = AnswerBox("Reading, in mm", checked.append)
    answer.box.value = "7.32"  # what Enter does: the box sends its text
    answer.button.click()
    answer.clear()
    assert checked == ["7.32", "7.32"]
    assert answer.box.continuous_update is False


def test_a_choice_may_begin_with_nothing_chosen() -> None:
    assert choice("I would", ["keep", "replace"]).value is None
    assert choice("I would", ["keep", "replace"], "keep").value == "keep"


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("23.87", 23.87),
        (" 23,87 mm ", 23.87),
        ("-0.04", -0.04),
        ("−0.04", -0.04),
        ("7 millimetres", 7.0),
        ("7 Millimeters", 7.0),
        ("0", 0.0),
        ("1e-2", 0.01),
    ],
)
def test_what_people_type_for_a_number_is_understood(typed: str, number: float) -> None:
    assert read_number(typed) == number


@pytest.mark.parametrize(
    "typed", ["", "  ", "mm", "abc", "1.2.3", "1,234.5", "0.9 in", "nan", "inf", "-inf", "1e9", "--1", "⅞"]
)
def test_anything_else_is_told_in_one_sentence(typed: str) -> None:
    with pytest.raises(ValueError, match=r"millimetres|below 1000 mm") as refusal:
        read_number(typed)
    sentence = str(refusal.value)
    assert sentence[0].isupper() and sentence.endswith(".") and "\n" not in sentence


def test_a_very_long_text_is_not_thrown_back_whole() -> None:
    with pytest.raises(ValueError) as refusal:
        read_number("x" * 10_000)
    assert len(str(refusal.value)) < 300
