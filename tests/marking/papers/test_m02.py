"""The exercise on the fluid's level: its answers and its named mistakes, worked another way.

Areas go by the radius here and volumes by a unit library, from what a student gets to see and the sealed
reading. What the verdicts rest on is written out once more as the lesson's table states it.
"""

from __future__ import annotations

import math
import re
from functools import cache
from html import unescape
from typing import Any

import pytest
from brakecourse.marking import SealedCase, draw_sealed_case, judge
from brakecourse.marking.mistakes import mistake
from brakecourse.published import value

from tests.marking.study import cases
from tests.units import pints_units

MODULE = "02_master_cylinder"
SECRET = bytes(range(32))
UNITS: Any = pints_units()
WHEELS = 4


@cache
def some() -> tuple[SealedCase, ...]:
    return tuple(cases(MODULE, 24))


def area_mm2(bore_mm: float) -> float:
    return math.pi * (bore_mm / 2) ** 2


def volume_ml(pistons: float, bore_mm: float, way_mm: float) -> float:
    area = area_mm2(bore_mm) * UNITS.mm**2
    return float((pistons * area * (way_mm * UNITS.mm)).to("mL").magnitude)


def following(one: dict[str, Any]) -> float:
    return one["pistons"] / (2 if one["caliper"] == "fixed" else 1)


def wheel_ml(one: dict[str, Any], bore_share: float = 1.0) -> float:
    way = one["lining_wear_mm"] + one["lining_wear_mm"] + one["rotor_wear_mm"]
    return volume_ml(following(one), bore_share * one["piston_bore_mm"], way)


def caliper_ml(one: dict[str, Any], pads: int = 2, bare: bool = False) -> float:
    pad = one["lining_new_mm"] - (0 if bare else one["lining_worn_mm"]) + one["clearance_mm"]
    return volume_ml(following(one), one["piston_bore_mm"], pads * pad + one["rotor_wear_mm"])


def gap_and_guard(truth: dict[str, Any], level_mm: float | None = None) -> tuple[float, float]:
    level = truth["level"]["reading"] if level_mm is None else level_mm
    missing = (truth["max_mm"] - level) * truth["area_mm2"] / 1000
    squares = truth["level_u_ml"] ** 2 + 2 * truth["front_u_ml"] ** 2 + 2 * truth["rear_u_ml"] ** 2
    return missing - sum(map(wheel_ml, truth["wheels"])), 1.645 * math.sqrt(squares)


def verdict(gap: float, guard: float) -> str:
    """The lesson's table, in its order."""
    if gap >= guard:
        return "suspect a leak"
    if gap <= -guard:
        return "fluid was added"
    return "wear explains it" if gap + guard <= 10 else "too close to call"


def expected(case: SealedCase, question: str) -> Any:
    found = case.question(question)
    assert found is not None
    return found.expected


def named(case: SealedCase, question: str, name: str, place: int | None = None) -> list[float]:
    found = case.question(question)
    assert found is not None
    return [
        float(one.value)
        for one in found.mistakes
        if one.mistake == name and (place is None or one.place == place)
    ]


# --- the answers, worked another way ------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(24))
def test_the_answers_worked_by_hand(number: int) -> None:
    case = some()[number]
    truth = case.truth
    level = round(truth["level"]["indication"])
    assert expected(case, "2.1") == level
    assert expected(case, "2.2") == pytest.approx((truth["max_mm"] - level) * truth["area_mm2"] / 1000)
    bores = [one["piston_bore_mm"] for one in truth["calipers"]]
    assert expected(case, "2.3") == pytest.approx([area_mm2(bore) for bore in bores])
    each = [wheel_ml(one) for one in truth["wheels"]]
    assert expected(case, "2.4") == pytest.approx(each)
    assert expected(case, "2.5") == pytest.approx(sum(each))
    gap, guard = gap_and_guard(truth)
    assert expected(case, "2.6") == pytest.approx(guard, abs=0.01)
    assert expected(case, "2.7") == verdict(gap, guard) == truth["situation"]
    front, rear = truth["calipers"]
    assert expected(case, "2.9") == pytest.approx(2 * caliper_ml(front) + 2 * caliper_ml(rear))


def test_what_to_do_follows_from_the_verdict() -> None:
    begins = {
        "wear explains it": "Go on with the job, and look for wet places",
        "suspect a leak": "Find the leak before the vehicle moves: more is missing",
        "too close to call": "Look for a leak as if there were one",
        "fluid was added": "Ask who added fluid",
    }
    seen = set()
    for case in some():
        assert str(expected(case, "2.8")).startswith(begins[str(expected(case, "2.7"))])
        seen.add(expected(case, "2.7"))
    assert seen == set(begins)


# --- the outside checks -------------------------------------------------------------------------------------


def test_the_area_leads_to_the_textbooks_force() -> None:
    """A free physics textbook: 500 N on a piston of 0.5 cm, and what a piston of 2.5 cm gives."""
    force = 500 * area_mm2(25) / area_mm2(5)
    assert force == pytest.approx(value("pascal_openstax_f2").value, rel=0.005)


def test_every_vehicles_own_reservoir_keeps_the_regulations_rule() -> None:
    """49 CFR 571.135, S5.4.2: new linings, drawn back, to worn ones, applied; all pistons."""
    rule = value("reservoir_rule_new_to_worn")  # read for the sister rule 571.105, which has the same words
    assert rule.section == "S5.4.2" and rule.how_known == "read"
    for case in some():
        truth = case.truth
        assert truth["area_mm2"] * truth["max_mm"] / 1000 >= float(expected(case, "2.9"))


# --- the named mistakes -------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(8))
def test_each_mistake_gives_its_value(number: int) -> None:
    case = some()[number]
    truth, level = case.truth, case.truth["level"]["reading"]
    per_mm = truth["area_mm2"] / 1000
    assert named(case, "2.1", "from_the_minimum") == [level - truth["min_mm"]]
    assert named(case, "2.1", "parallax") == [round(level + 5 * math.tan(math.radians(30)))]
    assert level * per_mm in named(case, "2.2", "fluid_left_for_missing")
    assert (truth["max_mm"] - level) in named(case, "2.2", "length_for_volume")
    for place, one in enumerate(truth["calipers"], start=1):
        bore = one["piston_bore_mm"]
        assert named(case, "2.3", "bore_as_radius", place) == pytest.approx([math.pi * bore**2])
        assert named(case, "2.3", "square_for_circle", place) == pytest.approx([bore**2])
        assert named(case, "2.3", "circumference_for_area", place) == pytest.approx([math.pi * bore])
    for place, one in enumerate(truth["wheels"], start=1):
        (radius,) = named(case, "2.4", "bore_as_radius", place)
        assert radius == pytest.approx(wheel_ml(one, bore_share=2))
        if one["caliper"] == "floating":
            own = volume_ml(
                one["pistons"], one["piston_bore_mm"], one["lining_wear_mm"] + one["rotor_wear_mm"]
            )
            assert any(math.isclose(own, found) for found in named(case, "2.4", "one_pad_only", place))
        else:
            assert named(case, "2.4", "both_pads_in_fixed", place) == pytest.approx([2 * wheel_ml(one)])
    each = [wheel_ml(one) for one in truth["wheels"]]
    assert named(case, "2.5", "one_wheel_of_an_axle")[0] == pytest.approx(each[0] + each[2])
    assert named(case, "2.5", "one_axle_only")[0] == pytest.approx(each[0] + each[1])
    u = [
        truth["level_u_ml"],
        truth["front_u_ml"],
        truth["front_u_ml"],
        truth["rear_u_ml"],
        truth["rear_u_ml"],
    ]
    assert named(case, "2.6", "guard_factor_left_out") == pytest.approx([math.dist([0] * 5, u)])
    assert named(case, "2.6", "added_not_squared")[0] == pytest.approx(1.645 * sum(u), rel=1e-3)
    front, rear = truth["calipers"]
    bare = 2 * (caliper_ml(front, bare=True) + caliper_ml(rear, bare=True))
    assert named(case, "2.9", "worn_to_bare") == pytest.approx([bare])
    halves = [caliper_ml(one, pads=1) if one["caliper"] == "floating" else caliper_ml(one) / 2
              for one in (front, rear)]  # fmt: skip
    assert named(case, "2.9", "one_pad_only") == pytest.approx([2 * sum(halves)])


def test_topping_up_and_pushing_back_first_are_always_wrong() -> None:
    for case in some():
        found = case.question("2.8")
        assert found is not None
        by_name = {one.mistake: str(one.value) for one in found.mistakes}
        assert by_name["topped_up_first"].startswith("Top it up") and "pistons_back_first" in by_name
    for name in ("topped_up_first", "pistons_back_first", "unproven_taken_for_sound", "ignored_uncertainty"):
        assert mistake(name).share == 0


# --- stability ----------------------------------------------------------------------------------------------


def test_the_verdict_stands_when_a_reading_moves_by_its_standard_uncertainty() -> None:
    """Or it is too close to call, and then rounding to 0.1 mL on the way does not change it."""
    for case in some():
        truth = case.truth
        gap, guard = gap_and_guard(truth)
        found = verdict(gap, guard)
        if found == "too close to call":
            moves = [-0.3, 0.3]
        else:
            front, rear = truth["front_u_ml"], truth["rear_u_ml"]
            moves = [sign * u for sign in (-1, 1) for u in (truth["level_u_ml"] - 0.01, front, rear)]
        assert {verdict(gap + move, guard) for move in moves} == {found}


# --- judging ------------------------------------------------------------------------------------------------


def test_an_error_is_carried_forward_and_named_once() -> None:
    for case in some()[:8]:
        level, per_mm = case.truth["level"]["reading"], case.truth["area_mm2"] / 1000
        wrong = level - case.truth["min_mm"]
        mark = judge(case, "2.1", wrong, {})
        assert (mark.points, mark.mistake) == (0, "from_the_minimum")
        own = round((case.truth["max_mm"] - wrong) * per_mm, 1)
        mark = judge(case, "2.2", own, {"2.1": wrong})
        assert mark.status == "right" and mark.carried_forward and "your own answer to 2.1" in mark.words

        areas = [round(4 * one) for one in expected(case, "2.3")]
        mark = judge(case, "2.3", areas, {})
        assert (mark.points, mark.mistake) == (0, "bore_as_radius")
        volumes = [round(4 * one, 1) for one in expected(case, "2.4")]
        mark = judge(case, "2.4", volumes, {"2.3": areas})
        assert mark.status == "right" and mark.carried_forward
        mark = judge(case, "2.5", round(sum(volumes), 1), {"2.4": volumes})
        assert mark.status == "right" and mark.carried_forward


def test_half_of_the_marks_for_the_right_action_with_a_wrong_reason() -> None:
    by_verdict = {case.truth["situation"]: case for case in some()}
    wear = by_verdict["wear explains it"]
    unproven = next(one.text for one in wear.choices if one.key == "go-on-unproven")
    assert judge(wear, "2.8", unproven, {}).points == 2
    close = by_verdict["too close to call"]
    mark = judge(close, "2.8", unproven, {})
    assert (mark.points, mark.mistake) == (0, "unproven_taken_for_sound")
    assert judge(close, "2.7", "wear explains it", {}).mistake == "unproven_taken_for_sound" or (
        gap_and_guard(close.truth)[0] <= 0
    )
    leak = next(one.text for one in close.choices if one.key == "leak-proven")
    assert judge(close, "2.8", leak, {}).points == 2


def test_one_wheel_of_an_axle_is_named_with_its_lesson() -> None:
    case = some()[0]
    row = [round(one, 1) for one in expected(case, "2.4")]
    mark = judge(case, "2.5", round(row[0] + row[2], 1), {"2.4": row})
    assert (mark.points, mark.mistake) == (0, "one_wheel_of_an_axle")
    assert "four wheels" in mark.words and mark.lesson.startswith("Lesson 02, part 3")


def test_one_line_off_is_forgiven_and_two_are_not() -> None:
    for case in some()[:8]:
        shown = case.truth["level"]["indication"]
        near, far = math.floor(shown), math.floor(shown) - 1
        assert judge(case, "2.1", float(near), {}).status == "right"
        assert judge(case, "2.1", float(far), {}).status != "right"


# --- what is given out --------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(4))
def test_a_person_can_read_the_drawing_and_it_tells_no_level(number: int) -> None:
    case = draw_sealed_case(MODULE, f"s{number}", SECRET)
    order = case.work_order()
    svg = order["drawings"]["r1"]["svg"]
    assert 'id="r1-title"' in svg and "<desc" in svg
    assert all(found.startswith("r1-") for found in re.findall(r' id="([^"]+)"', svg))
    scale = {str(ten) for ten in range(0, 70, 10)}
    marks = {f"{case.truth['max_mm']:g}", f"{case.truth['min_mm']:g}"}
    seen = set(re.findall(r"\d+(?:\.\d+)?", unescape(re.sub(r"<[^>]*>", " ", svg))))
    assert seen <= scale | marks
    assert repr(case.truth["level"]["indication"]) not in svg
    assert len(str(order)) < 400_000
    facts = dict(order["vehicle"]["facts"])
    lengths = [text for text in facts.values() if " mm" in text.replace("\N{NO-BREAK SPACE}", " ")]
    assert len(lengths) >= 13 and all(" in)" in text.replace("\N{NO-BREAK SPACE}", " ") or "in²" in text
                                      for text in lengths)  # fmt: skip
