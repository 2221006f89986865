"""The controls: two that agree, and what a person may type."""

from __future__ import annotations

import pytest
from brakecourse.views.controls import AnswerBox, NumberPair, choice, dropdown, read_number
from brakecourse.views.units import UNITS, both, read_typed


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
    "typed", ["", "  ", "mm", "abc", "1.2.3", "1,234.5", "0.9 psi", "nan", "inf", "-inf", "1e9", "--1", "⅞"]
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


def test_a_box_shows_an_example_in_its_unit() -> None:
    assert (
        AnswerBox("Torque, in N·m", print, unit="N·m").box.placeholder
        == "for example 110\N{NO-BREAK SPACE}N·m"
    )
    assert AnswerBox("Torque", print, placeholder="your own", unit="N·m").box.placeholder == "your own"
    assert AnswerBox("Reading, in mm", print).box.placeholder == ""
    with pytest.raises(ValueError, match="the unit was 'furlong'"):
        AnswerBox("Distance", print, unit="furlong")


def test_a_list_to_choose_from_has_a_name() -> None:
    made = dropdown("Topic", ["hoses", "boots"], "boots")
    assert (made.description, made.tooltip, made.value) == ("Topic", "Topic", "boots")


@pytest.mark.parametrize(
    ("typed", "unit", "number"),
    [
        ("15,2 mL", "mL", 15.2),
        ("15.2 cc", "mL", 15.2),
        ("15.2 cm³", "mL", 15.2),
        ("180 °C", "°C", 180),
        ("180°", "°C", 180),
        ("-5 ºC", "°C", -5),
        ("95 K", "°C rise", 95),
        ("4.25 MPa", "MPa", 4.25),
        ("450 newtons", "N", 450),
        ("110 Nm", "N·m", 110),
        ("110 N-m", "N·m", 110),
        ("110 N.m", "N·m", 110),
        ("62 %", "%", 62),
        ("62 per cent", "%", 62),
        ("45°", "°", 45),
        ("18 000 km", "km", 18000),
        ("18\u202f000", "km", 18000),
        ("5.8 m/s²", "m/s²", 5.8),
        ("5.8 m/s^2", "m/s²", 5.8),
        ("30 sec", "s", 30),
        ("12 min", "minutes", 12),
        ("3.2", "plain", 3.2),
        ("3.2 times", "plain", 3.2),
        ("2290 mm2", "mm²", 2290),
        ("+3", "plain", 3),
        (".5", "mm", 0.5),
        ("1.5 mL/min", "mL/min", 1.5),
    ],
)
def test_each_unit_is_understood_in_its_usual_spellings(typed: str, unit: str, number: float) -> None:
    read = read_typed(typed, unit)
    assert read.number == pytest.approx(number, abs=0) and read.note == ""


# Source of the factors: NIST SP 811, appendix B.8 (from memory), typed here apart from the converter.
@pytest.mark.parametrize(
    ("typed", "unit", "number"),
    [
        ("0.9 in", "mm", 22.86),
        ('0.9"', "mm", 22.86),
        ("3/32 in", "mm", 25.4 * 3 / 32),
        ("1 3/8 inches", "mm", 25.4 * 1.375),
        ("2.4 cm", "mm", 24),
        ("1200 µm", "mm", 1.2),
        ("1000 psi", "MPa", 6.894757),
        ("40 bar", "MPa", 4),
        ("100 lb", "N", 444.8222),
        ("81 lbf·ft", "N·m", 109.8213),
        ("81 ft-lb", "N·m", 109.8213),
        ("81 lb ft", "N·m", 109.8213),
        ("100 in-lbs", "N·m", 11.29848),
        ("356 °F", "°C", 180),
        ("180 °F", "°C rise", 100),
        ("12 miles", "km", 19.31212),
        ("100 ft", "m", 30.48),
        ("37.5 mph", "km/h", 60.35040),
        ("60 km/h", "m/s", 16.66667),
        ("0.6 g", "m/s²", 5.88399),
        ("5 min", "s", 300),
        ("90 s", "minutes", 1.5),
        ("3300 lb", "kg", 1496.855),
        ("62 %", "plain", 0.62),
        ("0.95 in³", "mL", 15.56770),
        ("0.5 l", "mL", 500),
        ("22.9 cm²", "mm²", 2290),
    ],
)
def test_another_unit_is_converted_and_said(typed: str, unit: str, number: float) -> None:
    read = read_typed(typed, unit)
    assert read.number == pytest.approx(number, rel=1e-5)
    assert read.note.startswith(f"You typed {typed}: that is ") and read.note.endswith(".")


@pytest.mark.parametrize(
    ("typed", "unit", "trouble"),
    [
        ("2 oz", "mL", "can mean two things"),
        ("12 psi", "mm", "measures something else"),
        ("12 mm", "N·m", "measures something else"),
        ("45 °", "%", "measures something else"),
        ("12 furlongs", "mm", "is not known here"),
        ("12,000", "km", "type 12000 for the thousands, or 12.000 with a point"),
        ("2000000", "N", "below 1000000"),
        ("400 in", "mm", "below 1000"),
        ("12 or 13", "mm", "type one number"),
        ("3/0 in", "mm", "type one number"),
        ("12 13", "mm", "type one number"),
    ],
)
def test_a_unit_that_does_not_fit_is_refused_in_one_sentence(typed: str, unit: str, trouble: str) -> None:
    with pytest.raises(ValueError, match=trouble) as refusal:
        read_typed(typed, unit)
    sentence = str(refusal.value)
    assert sentence.endswith(".") and "\n" not in sentence and typed in sentence


def test_an_example_fits_the_quantity_and_a_difference_may_be_negative() -> None:
    assert {key: UNITS[key].example for key in ("mm", "mm run-out", "mm wear", "mm travel")} == {
        "mm": "12.34",
        "mm run-out": "0.06",
        "mm wear": "2.5",
        "mm travel": "17",
    }
    assert AnswerBox("Run-out, in mm", print, unit="mm run-out").box.placeholder == (
        "for example 0.06\N{NO-BREAK SPACE}mm"
    )
    assert UNITS["°C rise"].symbol == "°C" and read_typed("-10 °C", "°C rise").number == -10
    with pytest.raises(ValueError, match=r"0\.06"):
        read_typed("", "mm run-out")


@pytest.mark.parametrize("unit", UNITS)
def test_each_unit_asks_in_words_and_reads_its_own_example(unit: str) -> None:
    asked = UNITS[unit]
    assert read_typed(f"{asked.example}{asked.after}", unit).note == ""
    with pytest.raises(ValueError) as refusal:
        read_typed(" ", unit)
    assert asked.asked in str(refusal.value) and asked.example in str(refusal.value)
    assert asked.example and both(float(asked.example), unit)


@pytest.mark.parametrize(
    ("value", "unit", "places", "words"),
    [
        (24, "mm", None, "24.00 mm (0.945 in)"),
        (0.03, "mm", None, "0.03 mm (0.0012 in)"),
        (36, "mm", 0, "36 mm (1.42 in)"),
        (9, "mm", 0, "9 mm (0.35 in)"),
        (0.3, "mm", 1, "0.3 mm (0.012 in)"),
        (551, "mL", 0, "551 mL (33.62 in³)"),
        (20, "m", 0, "20 m (66 ft)"),
        (0.3, "MPa", 1, "0.3 MPa (43.5 psi)"),
        (4.25, "MPa", None, "4.25 MPa (616 psi)"),
        (15.2, "mL", None, "15.2 mL (0.93 in³)"),
        (95, "°C rise", None, "95 °C (171 °F)"),
        (95, "°C", None, "95 °C (203 °F)"),
        (62, "%", None, "62 %"),
        (45, "°", None, "45°"),
        (2.5, "plain", 1, "2.5"),
        (5, "N", None, "5 N (1.1 lbf)"),
        (0, "N", None, "0 N (0 lbf)"),
    ],
)
def test_a_value_is_written_with_its_us_unit_beside_it(
    value: float, unit: str, places: int | None, words: str
) -> None:
    assert both(value, unit, places).replace("\N{NO-BREAK SPACE}", " ") == words


def test_the_places_of_the_us_unit_may_be_asked_for() -> None:
    assert both(15.49, "kN", 2, us_places=0).replace("\N{NO-BREAK SPACE}", " ") == "15.49 kN (3482 lbf)"
