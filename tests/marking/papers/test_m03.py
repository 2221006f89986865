"""The exercise on the fluid's condition: its answers and its named mistakes, worked another way.

Temperatures go through a unit library and the law's own °F column; the boiling curve is held against Raoult's
law solved by a scientific library, and against its two ends as published.
"""

from __future__ import annotations

import math
import re
from functools import cache
from typing import Any

import pytest
from brakecourse.marking import SealedCase, draw_sealed_case, judge
from brakecourse.marking.mistakes import mistake
from brakecourse.marking.papers.m03_brake_fluid.steps import STEPS
from brakecourse.published import value
from scipy.optimize import brentq

from tests.marking.study import cases
from tests.units import pints_units

MODULE = "03_brake_fluid"
SECRET = bytes(range(32))
UNITS: Any = pints_units()
GRADES = {"DOT 3": "dot3", "DOT 4": "dot4", "DOT 5.1": "dot5_1"}


@cache
def some() -> tuple[SealedCase, ...]:
    return tuple(cases(MODULE, 24))


def limit_c(grade: str, column: str) -> float:
    """From the law's °F column where the table has it; DOT 5.1 has the limits of the class DOT 5."""
    stem = {"DOT 3": "dot3", "DOT 4": "dot4", "DOT 5.1": "dot5"}[grade]
    fahrenheit = value(f"fluid_{stem}_{column}_erbp_min_f").value
    return float(round(UNITS.Quantity(fahrenheit, "degF").to("degC").magnitude))


def curve_c(dry: float, wet: float, at_percent: float, water_percent: float) -> float:
    """Raoult's law: water and fluid push by their shares of the molecules, together one atmosphere."""

    def kelvin(celsius: float) -> float:
        return celsius + 273.15

    boils = value("lib_coolprop_water_tsat_1mpa").value
    atmosphere = value("standard_atmosphere_pa").value
    slope = math.log(1e6 / atmosphere) / (1 / kelvin(100) - 1 / kelvin(boils))

    def water(at: float) -> float:
        return math.exp(slope * (1 / kelvin(100) - 1 / kelvin(at)))

    def fluid(at: float) -> float:
        return math.exp(88 / 8.3145 * (1 - kelvin(dry) / kelvin(at)))

    def share(percent: float, molar: float) -> float:
        moles = percent / 18.015
        return moles / (moles + (100 - percent) / molar)

    def pressure(at: float, percent: float, molar: float) -> float:
        part = share(percent, molar)
        return part * water(at) + (1 - part) * fluid(at) - 1

    molar = brentq(lambda molar: pressure(wet, at_percent, molar), 20, 2000)
    return float(brentq(lambda at: pressure(at, water_percent, molar), 101, dry + 1))


def hot(truth: dict[str, Any]) -> float:
    return max(limit_c(truth["grade"], "wet"), truth["hottest_c"])


def proven(boils: float, limit: float, u: float) -> str:
    if abs(boils - limit) < 1.645 * u:
        return "too close to call"
    return "proven above" if boils > limit else "proven below"


def expected(case: SealedCase, question: str) -> Any:
    found = case.question(question)
    assert found is not None
    return found.expected


def named(case: SealedCase, question: str, name: str) -> list[Any]:
    found = case.question(question)
    assert found is not None
    return [one.value for one in found.mistakes if one.mistake == name]


def text_of(case: SealedCase, question: str, key: str) -> str:
    return next(one.text for one in case.choices if (one.question, one.key) == (question, key))


# --- the answers, worked another way ------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(24))
def test_the_answers_worked_by_hand(number: int) -> None:
    case = some()[number]
    truth = case.truth
    water, boils = round(truth["water"]["indication"], 1), round(truth["boiling"]["indication"])
    assert expected(case, "3.1") == pytest.approx(water)
    assert expected(case, "3.2") == boils
    shown = round(UNITS.Quantity(boils, "degC").to("degF").magnitude)
    assert round(UNITS.Quantity(shown, "degF").to("degC").magnitude) == boils
    dry, wet = (limit_c(truth["grade"], column) for column in ("dry", "wet"))
    assert expected(case, "3.3") == boils - wet
    at = value("fluid_wet_reference_water_secondary").value
    assert expected(case, "3.4") == pytest.approx(curve_c(dry, wet, at, water), abs=0.05)
    assert expected(case, "3.5") == boils - 3 - truth["hottest_c"]
    assert expected(case, "3.6") == proven(boils, hot(truth), truth["boiling_u_c"])


def test_what_to_do_follows_from_every_test() -> None:
    begins = {
        "proven above": "Keep it, and",
        "proven below": "Renew all of it: it is proven",
        "too": "Renew all",
    }
    seen = set()
    for case in some():
        words = str(expected(case, "3.8"))
        seen.add(case.truth["situation"])
        if case.truth["stays_apart"] or case.truth["swollen"]:
            assert words.startswith("Do not drive it")
            assert ("rubber" in words) == case.truth["swollen"]
        else:
            verdict = expected(case, "3.6")
            assert words.startswith(begins.get(verdict, "Renew all of it: it boils"))
            assert ("too close" in words) == (verdict == "too close to call")
    assert seen == {"keep", "too low", "too close to call", "wrong fluid"}


def test_the_bottle_is_sealed_and_of_a_grade_in_the_book() -> None:
    for case in some():
        good = [
            f"bottle {place}"
            for place, one in enumerate(case.truth["bottles"], start=1)
            if one["grade"] in case.truth["allowed"] and not one["open_months"]
        ]
        assert len(good) <= 1
        assert expected(case, "3.7") == (good[0] if good else "none of them")
        silicone = next(p for p, one in enumerate(case.truth["bottles"], 1) if one["grade"] == "DOT 5")
        mark = judge(case, "3.7", f"bottle {silicone}", {})
        assert (mark.points, mark.mistake) == (0, "silicone_in_glycol")


# --- the outside checks -------------------------------------------------------------------------------------


@pytest.mark.parametrize("grade", GRADES)
@pytest.mark.parametrize("column", ["dry", "wet"])
def test_the_laws_two_columns_agree(grade: str, column: str) -> None:
    """49 CFR 571.116 states each limit in °C and in °F: the two columns must agree to a degree."""
    assert value(f"fluid_{GRADES[grade]}_{column}_erbp_min").value == limit_c(grade, column)


def test_the_curve_finds_the_laboratorys_middle() -> None:
    """A road laboratory's vapour points with 0, 1 and 3 % of water; from the ends to the middle, 5 °C."""
    ends = value("moist_trl_dry").value, value("moist_trl_3").value
    assert curve_c(*ends, 3.0, 1.0) == pytest.approx(value("moist_trl_1").value, abs=5)


# --- the named mistakes -------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(8))
def test_each_mistake_gives_its_value(number: int) -> None:
    case = some()[number]
    truth = case.truth
    water, boils, heat = expected(case, "3.1"), expected(case, "3.2"), truth["hottest_c"]
    shown = round(1.8 * boils + 32)
    dry, wet = (limit_c(truth["grade"], column) for column in ("dry", "wet"))
    assert named(case, "3.1", "marks_counted") == [round(10 * water)]
    lines = round(10 * (water % 1))
    if lines:
        assert int(water) + 0.2 * lines == pytest.approx(named(case, "3.1", "line_worth_wrong")[0])
    assert shown in named(case, "3.2", "fahrenheit_for_celsius")
    assert named(case, "3.2", "fahrenheit_half_converted") == pytest.approx([shown - 32, shown / 1.8])
    assert named(case, "3.2", "converted_wrong_way") == pytest.approx([1.8 * shown + 32])
    assert named(case, "3.3", "wet_dry_swapped") == [boils - dry]
    if abs(boils - wet) > 2:
        assert named(case, "3.3", "sign_turned") == [wet - boils]
        assert named(case, "3.3", "fahrenheit_difference") == pytest.approx([1.8 * (boils - wet)])
    assert named(case, "3.5", "error_limit_left_out") == [boils - heat]
    assert named(case, "3.5", "error_limit_wrong_way") == [boils + 3 - heat]
    straight = dry - (dry - wet) * water / value("fluid_wet_reference_water_secondary").value
    assert abs(straight - expected(case, "3.4")) < 3 or named(case, "3.4", "straight_line") == pytest.approx(
        [straight]
    )


def test_mistakes_that_could_take_the_brakes_away_earn_nothing() -> None:
    dangerous = ("silicone_in_glycol", "mineral_oil_in_system", "lower_limit_taken", "wrong_fluid_missed")
    dangerous += ("ignored_uncertainty", "error_limit_wrong_way", "wet_dry_swapped", "opened_bottle")
    assert [mistake(name).share for name in dangerous] == [0] * len(dangerous)


# --- stability ----------------------------------------------------------------------------------------------


def test_the_decision_stands_when_the_reading_moves_by_its_standard_uncertainty() -> None:
    """Or it is too close to call, and one degree more or less does not change that."""
    for case in some():
        truth, boils = case.truth, expected(case, "3.2")
        found = expected(case, "3.6")
        step = 1.0 if found == "too close to call" else truth["boiling"]["u"]
        for moved in (boils - step, boils + step):
            assert proven(moved, hot(truth), truth["boiling_u_c"]) == found


# --- judging ------------------------------------------------------------------------------------------------


def test_an_error_is_carried_forward_and_named_once() -> None:
    for case in some()[:8]:
        boils, wet = expected(case, "3.2"), limit_c(case.truth["grade"], "wet")
        shown = round(1.8 * boils + 32)
        mark = judge(case, "3.2", shown, {})
        assert (mark.points, mark.mistake) == (0, "fahrenheit_for_celsius")
        assert "150 °C" in mark.words and mark.lesson.startswith("Lesson 03, part 1")
        for question, own in (("3.3", shown - wet), ("3.5", shown - 3 - case.truth["hottest_c"])):
            mark = judge(case, question, own, {"3.2": shown})
            assert mark.status == "right" and mark.carried_forward
        mark = judge(case, "3.6", "proven above", {"3.2": shown})
        assert mark.status == "right"


def test_water_off_the_curve_does_not_spoil_the_next_answer() -> None:
    for case in some()[:8]:
        counted = round(10 * expected(case, "3.1"))
        mark = judge(case, "3.4", round(expected(case, "3.4")), {"3.1": counted})
        assert mark.status == "right"


def test_half_of_the_marks_for_the_right_action_with_a_wrong_reason() -> None:
    by_situation = {case.truth["situation"]: case for case in some()}
    dry = text_of(by_situation["too low"], "3.8", "renew-dry")
    assert judge(by_situation["too low"], "3.8", dry, {}).points == 2.5
    bare = text_of(by_situation["keep"], "3.8", "keep-bare")
    mark = judge(by_situation["too close to call"], "3.8", bare, {})
    assert (mark.points, mark.mistake) == (0, "ignored_uncertainty")
    mark = judge(by_situation["wrong fluid"], "3.8", bare, {})
    assert (mark.points, mark.mistake) == (0, "wrong_fluid_missed")


@pytest.mark.parametrize(
    ("first", "then", "name", "points"),
    [
        ("top up", "shut", "bleeder_open_as_pedal_rises", 0),
        ("open", "fill", "dirt_through_abs", 0),
        ("fill", "draw out", "dirt_through_abs", 3),
        ("others", "top up", "reservoir_run_empty", 0),
        ("firm", "others", "pedal_not_proved", 0),
    ],
)
def test_a_dangerous_order_is_named(first: str, then: str, name: str, points: float) -> None:
    """One step is put before the one that must come first."""
    case, order = some()[0], list(STEPS)
    order.remove(first)
    order.insert(order.index(then), first)
    mark = judge(case, "3.9", [STEPS[one] for one in order], {})
    assert (mark.points, mark.mistake) == (points, name)
    assert judge(case, "3.9", list(STEPS.values()), {}).points == 4


# --- what is given out --------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(4))
def test_a_person_can_read_the_drawings_and_they_tell_no_reading(number: int) -> None:
    case = draw_sealed_case(MODULE, f"s{number}", SECRET)
    order = case.work_order()
    texts = {}
    for name, one in order["drawings"].items():
        svg = one["svg"]
        assert f'id="{name}-title"' in svg and "<desc" in svg
        assert all(found.startswith(f"{name}-") for found in re.findall(r' id="([^"]+)"', svg))
        texts[name] = re.sub(r"<[^>]*>", " ", svg)
    water = set(re.findall(r"\d+(?:\.\d+)?", texts["w1"]))
    assert water <= {"0", "1", "2", "3", "4"}
    digits = re.findall(r"\d+", texts["b1"])
    assert all(len(one) == 1 for one in digits) and "°F" in texts["b1"]
    assert repr(case.truth["water"]["indication"]) not in order["drawings"]["w1"]["svg"]
    steps = next(one["choices"] for one in order["questions"] if one["id"] == "3.9")
    assert sorted(steps) == sorted(STEPS.values()) and len(str(order)) < 400_000
