"""Replies to practice answers: right is right, and a wrong answer hears which mistake gives it."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from brakecourse.bench.cases import RotorCase, draw_case
from brakecourse.bench.gauges import boxed_micrometer
from brakecourse.trade.conformity import decide
from brakecourse.trade.rotor import RotorSpec
from brakecourse.views.limit_words import decision_words, probability_words
from brakecourse.views.micrometer_replies import (
    how_read,
    how_set,
    opening_mm,
    reading_reply,
    setting_reply,
    turns_and_line,
)
from brakecourse.views.replies import MISTAKES, value_reply
from brakecourse.views.rotor_replies import (
    allowance_reply,
    curve_shape,
    left_reply,
    ridge_reply,
    run_out_reply,
    shape_reply,
    smallest_reply,
    variation_reply,
)
from hypothesis import given
from hypothesis import strategies as st

SMALL, LARGE = boxed_micrometer(0), boxed_micrometer(25)
hundredths = st.integers(min_value=300, max_value=2400)


# ------------------------------------------------------------------ the micrometer


@given(hundredths)
def test_a_size_is_set_by_its_full_turns_and_line_and_by_nothing_else(size: int) -> None:
    wanted = size / 100
    turns, line = divmod(size, 50)  # outside check: whole-number arithmetic on hundredths
    assert turns_and_line(wanted, SMALL) == (turns, line)
    assert opening_mm(turns, line, SMALL) == wanted
    assert setting_reply(wanted, turns, line, SMALL).right
    for wrong in (
        (turns + 1, line),
        (turns - 1, line),
        (turns, (line + 1) % 50),
        (turns + 3, (line + 7) % 50),
    ):
        assert not setting_reply(wanted, *wrong, SMALL).right


def test_a_setting_that_is_off_hears_what_is_off() -> None:
    assert "one full turn too wide" in setting_reply(12.84, 26, 34, SMALL).words
    assert "2 full turns too close" in setting_reply(12.84, 23, 34, SMALL).words
    assert "full turns are right" in setting_reply(12.84, 25, 33, SMALL).words
    assert "shows 12.33 mm" in setting_reply(12.84, 24, 33, SMALL).words


@given(hundredths)
def test_the_way_to_set_adds_up(size: int) -> None:
    turns_mm, line_mm = (Fraction(part) for part in re.findall(r"(\d+\.\d\d) mm", how_set(size / 100, SMALL)))
    assert turns_mm + line_mm == Fraction(size, 100)


@pytest.mark.parametrize("gauge", [SMALL, LARGE], ids=["0-25", "25-50"])
@given(hundredths, st.floats(min_value=-0.003, max_value=0.003))
def test_the_way_to_read_adds_up_and_only_the_nearest_line_is_right(gauge, size: int, off: float) -> None:  # type: ignore[no-untyped-def]
    shown = gauge.low_mm + size / 100 + off
    true = Fraction(size, 100) + Fraction(gauge.low_mm)
    words = how_read(shown, gauge)
    whole = Fraction(re.findall(r"last whole millimetre shown is (\d+)", words)[0])
    half = Fraction(1, 2) if "add 0.50" in words else Fraction(0)
    line = Fraction(re.findall(r"adds (\d\.\d\d)", words)[0])
    assert whole + half + line == true == Fraction(re.findall(r"Together (\d+\.\d\d)", words)[0])
    assert reading_reply(float(true), shown, gauge).right
    for wrong in (Fraction(1, 100), Fraction(1, 2), Fraction(1), Fraction(-1, 100)):
        assert not reading_reply(float(true + wrong), shown, gauge).right


@pytest.mark.parametrize(
    ("shown", "answer", "hears"),
    [
        (12.838, 12.34, MISTAKES["half_millimetre_line"]),
        (12.34, 12.84, MISTAKES["half_millimetre_line"]),
        (12.02, 11.52, MISTAKES["half_millimetre_line"]),
        (12.07, 12.70, MISTAKES["ten_times"]),
        (12.34, 12.35, "one thimble line off"),
        (12.34, 12.34 / 25.4, MISTAKES["inches_for_millimetres"]),
        (12.34, 20.0, "too large"),
        (12.34, 3.0, "too small"),
    ],
)
def test_a_misreading_is_named(shown: float, answer: float, hears: str) -> None:
    reply = reading_reply(answer, shown, SMALL)
    assert not reply.right and hears in reply.words


def test_a_right_answer_stays_right_even_if_a_mistake_gives_the_same_number() -> None:
    reply = value_reply(0.05, 0.05, {"half_of_total": 0.05}, because="So it is.", hint="")
    assert reply.right and reply.words == "Right: 0.05 mm (0.0020 in). So it is."


def test_every_mistake_is_told_in_whole_sentences() -> None:
    assert all(words[0].isupper() and words.endswith(".") and len(words) < 200 for words in MISTAKES.values())


# ------------------------------------------------------------------ the rotor


@pytest.fixture(scope="module")
def cases() -> list[RotorCase]:
    return [draw_case(seed) for seed in range(5000, 5025)]


SEATED = [0.0, 0.03, 0.06, 0.05, 0.02, -0.01, -0.02, -0.01]
LOOSE = [0.0, 0.10, 0.25, 0.20, 0.05, -0.05, -0.10, -0.04]


@pytest.mark.parametrize(
    ("answer", "right", "hears"),
    [
        (0.08, True, "Highest reading 0.06, lowest −0.02"),
        (0.09, True, ""),
        (0.07, True, ""),
        (0.04, False, MISTAKES["half_of_total"]),
        (0.35, False, MISTAKES["nuts_not_seated"]),
        (0.06, False, MISTAKES["highest_alone"]),
        (0.8, False, MISTAKES["ten_times"]),
        (0.12, False, "too large"),
        (0.0, False, "too small"),
    ],
)
def test_run_out(answer: float, right: bool, hears: str) -> None:
    reply = run_out_reply(answer, SEATED, LOOSE)
    assert reply.right is right and hears in reply.words


def test_the_total_of_the_eight_places_alone_is_right_and_hears_what_lies_between() -> None:
    turn = [0.0] * 360
    turn[90], turn[100], turn[225] = 0.05, 0.09, -0.02  # 90° and 225° are places, 100° is none
    assert run_out_reply(0.11, turn, LOOSE).right
    reply = run_out_reply(0.07, turn, LOOSE)
    assert (
        reply.right and "eight places: 0.07 mm" in reply.words and "whole turn gives 0.11 mm" in reply.words
    )
    assert not run_out_reply(0.09, turn, LOOSE).right


def test_a_small_run_out_is_not_right_when_halved() -> None:
    assert not run_out_reply(0.01, [0.0, 0.02] * 4, LOOSE).right
    assert run_out_reply(0.02, [0.0, 0.02] * 4, LOOSE).right


@pytest.mark.parametrize(
    ("readings", "shape"),
    [
        ([0.0, 0.03, 0.05, 0.03, 0.0, -0.03, -0.05, -0.03], "one hill"),
        ([0.0, 0.05, 0.0, -0.05, 0.0, 0.05, 0.0, -0.05], "several hills"),
        ([0.0, 0.04, 0.02, 0.0, 0.02, 0.02, -0.02, -0.03], None),
    ],
)
def test_the_shape_of_a_curve(readings: list[float], shape: str | None) -> None:
    assert curve_shape(readings) == shape
    if shape:
        replies = {chosen: shape_reply(chosen, readings) for chosen in ("one hill", "several hills")}  # type: ignore[arg-type]
        assert {chosen for chosen, reply in replies.items() if reply.right} == {shape}


def test_a_tilted_rotor_hears_its_high_and_low_place_and_what_to_do() -> None:
    words = shape_reply("one hill", [0.0, 0.03, 0.05, 0.03, 0.0, -0.03, -0.05, -0.03]).words
    assert "at place 3" in words and "at place 7" in words and "clean" in words


def test_the_ridge() -> None:
    assert ridge_reply(0.94, 28.06, 27.12).right
    assert MISTAKES["one_face_only"] in ridge_reply(0.47, 28.06, 27.12).words
    assert MISTAKES["wrong_sign"] in ridge_reply(-0.94, 28.06, 27.12).words


READINGS = [24.10, 24.06, 24.02, 24.05, 24.09, 24.11, 24.08, 24.10]
SPEC = RotorSpec(26.0, 23.4, 22.5, 0.03, 0.10)


@pytest.mark.parametrize(
    ("answer", "hears"),
    [
        (24.02, "Place 3 is the thinnest"),
        (24.11, MISTAKES["largest_for_smallest"]),
        (24.08, MISTAKES["mean_for_minimum"]),
        (26.2, MISTAKES["on_the_ridge"]),
        (24.02 / 25.4, MISTAKES["inches_for_millimetres"]),
        (24.04, "smallest of the eight"),
    ],
)
def test_the_smallest_thickness(answer: float, hears: str) -> None:
    reply = smallest_reply(answer, READINGS, 26.2)
    assert reply.right is (answer == 24.02) and hears in reply.words


def test_the_variation() -> None:
    assert variation_reply(0.09, READINGS).right
    assert not variation_reply(0.10, READINGS).right
    assert "Largest 24.11 minus smallest 24.02" in variation_reply(0.09, READINGS).words
    assert MISTAKES["ten_times"] in variation_reply(0.9, READINGS).words


@pytest.mark.parametrize(
    ("answer", "hears"),
    [
        (0.62, "Smallest thickness 24.02 minus machine-to thickness 23.40"),
        (1.52, MISTAKES["discard_for_machine_to"]),
        (0.68, MISTAKES["mean_for_minimum"]),
        (0.71, MISTAKES["largest_for_smallest"]),
        (0.31, MISTAKES["one_face_only"]),
        (0.5, "Below zero counts as 0"),
    ],
)
def test_the_machining_allowance(answer: float, hears: str) -> None:
    reply = allowance_reply(answer, READINGS, SPEC)
    assert reply.right is (answer == 0.62) and hears in reply.words


def test_a_rotor_at_its_limit_has_nothing_to_give() -> None:
    thin = [23.40, 23.35]
    assert allowance_reply(0.0, thin, SPEC).right
    assert "nothing may come off" in allowance_reply(0.0, thin, SPEC).words
    assert not allowance_reply(-0.05, thin, SPEC).right


def test_what_a_cut_leaves(cases: list[RotorCase]) -> None:
    checked = 0
    for case in cases:
        finding = case.finding
        if not any(reason.check == "machining" for reason in finding.reasons):
            continue
        checked += 1
        left = round(finding.smallest_mm - finding.variation_mm - finding.run_out_mm, 2)
        assert left_reply(left, finding).right
        for forgotten in (finding.variation_mm, finding.run_out_mm):
            reply = left_reply(left + forgotten, finding)
            assert not reply.right or forgotten < 0.005
    assert checked > 5


# ------------------------------------------------------------------ limits


def test_a_decision_in_words_tells_verdict_margin_guard_band_and_probability() -> None:
    words = decision_words(decide(22.03, 22.0, "minimum", 0.01)).replace("\N{NO-BREAK SPACE}", " ")
    assert words.startswith("Within.")
    assert "0.03 mm (0.0012 in) on the good side" in words
    assert "guard band is 0.0164 mm" in words and "more than 99.8 %" not in words and "99.9 %" in words
    assert "exactly on the limit" in decision_words(decide(22.0, 22.0, "minimum", 0.01))
    assert "on the bad side" in decision_words(decide(0.12, 0.10, "maximum", 0.005))


@pytest.mark.parametrize(
    ("probability", "words"),
    [
        (1.0, "more than 99.9 %"),
        (0.9984, "99.8 %"),
        (0.5, "50.0 %"),
        (0.0016, "0.2 %"),
        (0.0, "less than 0.1 %"),
    ],
)
def test_a_probability_is_never_certain(probability: float, words: str) -> None:
    assert probability_words(probability).replace("\N{NO-BREAK SPACE}", " ") == words
