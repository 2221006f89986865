"""Module 04: answers worked by hand from the sealed values, mistakes worked apart, and published numbers."""

from __future__ import annotations

import math
import re
from typing import Any

import pint
import pytest
from brakecourse import published
from brakecourse.bench.draw import Draw
from brakecourse.marking import SealedCase, judge
from brakecourse.marking.given import Given
from brakecourse.marking.paper import paper
from brakecourse.marking.papers.m04_pedal_to_pad.near import near
from brakecourse.marking.papers.m04_pedal_to_pad.sheet import sheet
from brakecourse.marking.papers.m04_pedal_to_pad.truth import Brake, ForceTruth, Offer

from tests.marking.study import cases
from tests.units import pints_units

MODULE = "04_pedal_to_pad"
PAPER = paper(MODULE)
CASES = list(cases(MODULE, 12))
U: pint.UnitRegistry[Any] = pints_units()


def truth_of(case: SealedCase) -> ForceTruth:
    return ForceTruth.model_validate(case.truth)


def expected(case: SealedCase, question: str) -> Any:
    asked = case.question(question)
    assert asked is not None
    return asked.expected


def by_hand(push: ForceTruth) -> dict[str, Any]:
    """The whole chain, in newtons, metres and pascals, with nothing of the course's own."""

    def circle(mm: float) -> float:
        return math.pi * (mm / 2000) ** 2

    line = (push.foot_n * push.pedal_ratio + push.booster_n) / circle(push.master_mm)
    clamps = [
        line * circle(push.front.bore_mm) * push.front.pushing,
        line * push.rear_share * circle(push.rear.bore_mm) * push.rear.pushing,
    ]
    torques = [
        force * one.friction * one.radius_mm / 1000 * 2
        for force, one in zip(clamps, (push.front, push.rear), strict=True)
    ]
    rate = 2 * sum(torques) / (push.tyre_mm / 1000) / push.mass_kg
    moved = push.mass_kg * rate * push.height_mm / push.wheelbase_mm
    speed = push.speed_kmh / 3.6
    now = rate * push.gauge.reading * 1e6 / line
    return {
        "4.1": line / 1e6,
        "4.4": clamps,
        "4.5": torques[0],
        "4.6": rate,
        "4.7": [push.front.standing_n + moved, push.rear.standing_n - moved],
        "4.8": speed * push.reaction_s + speed * speed / now / 2,
        "now": now,
    }


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_the_numbers_are_those_worked_by_hand(case: SealedCase) -> None:
    hand = by_hand(truth_of(case))
    for question in ("4.1", "4.4", "4.5", "4.6", "4.7", "4.8"):
        assert expected(case, question) == pytest.approx(hand[question], rel=1e-12)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_the_reading_is_the_nearest_line(case: SealedCase) -> None:
    push = truth_of(case)
    lines = [0.2 * count for count in range(81)]
    nearest = min(lines, key=lambda line: abs(line - push.gauge.indication))
    assert expected(case, "4.2") == pytest.approx(nearest)
    assert judge(case, "4.2", round(nearest, 1), {}).status == "right"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_the_decision_and_the_bore_are_those_worked_by_hand(case: SealedCase) -> None:
    push = truth_of(case)
    should, shown = by_hand(push)["4.1"], push.gauge.reading
    apart = abs(shown - should) > push.off_mpa
    word = "It fits" if not apart else "Too low" if shown < should else "Too high"
    assert expected(case, "4.3").startswith(word)
    bare = push.foot_n * push.pedal_ratio / (math.pi / 4 * push.master_mm**2)
    assert (word == "Too low") == (push.situation == "no booster")
    assert word != "Too low" or abs(shown - bare) <= push.off_mpa
    assert expected(case, "4.9") == _bore_by_hand(push.offer)


def _bore_by_hand(offer: Offer) -> str:
    larger = offer.new_mm > offer.old_mm
    if offer.part == "master":
        pressure, pedal = ("Less", "less") if larger else ("More", "further")
        return f"{pressure} pressure at every wheel, and the pedal goes down {pedal}."
    word = "more" if larger else "less"
    return f"The same pressure, and {word} clamp force at the {offer.part} wheels only."


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_no_small_shift_of_a_reading_changes_the_decision(case: SealedCase) -> None:
    """The gauge's standard uncertainty, and its neighbouring lines that a sound eye may take."""
    push = truth_of(case)
    for shift in (-push.gauge.u, push.gauge.u, -push.gauge.division, push.gauge.division):
        own = {"4.1": round(push.should_mpa, 2), "4.2": round(push.gauge.reading + shift, 3)}
        given = Given(push, PAPER.key, case.choices, own)
        assert given.basis("4.3").expected == expected(case, "4.3")


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_bores_change_by_more_than_anybody_could_misread(case: SealedCase) -> None:
    offer = truth_of(case).offer
    assert abs(offer.new_mm - offer.old_mm) >= 1.0
    before, after = offer.line_mpa
    if offer.part == "master":
        assert (after < before) == (offer.new_mm > offer.old_mm)
        assert (offer.travel_mm[1] < offer.travel_mm[0]) == (offer.new_mm > offer.old_mm)
    else:
        assert after == before
        assert (offer.clamp_n[1] > offer.clamp_n[0]) == (offer.new_mm > offer.old_mm)


def _mistakes_by_hand(push: ForceTruth) -> list[tuple[str, Any, str]]:
    """Question, the answer that each mistake gives on this vehicle, and its name."""
    hand = by_hand(push)
    line, (front, rear), torque = hand["4.1"], hand["4.4"], hand["4.5"]
    speed = push.speed_kmh / 3.6
    reaction = speed * push.reaction_s
    area = math.pi * push.master_mm**2 / 4
    rear_torque = hand["4.6"] * push.mass_kg * push.tyre_mm / 2000 - torque
    unconverted = push.speed_kmh * push.reaction_s + push.speed_kmh**2 / (2 * hand["now"])
    moved = hand["4.7"][0] - push.front.standing_n
    return [
        ("4.1", line / 4, "bore_as_radius"),
        ("4.1", (line * U.MPa).to("psi").magnitude, "psi_for_mpa"),
        ("4.1", push.foot_n * push.pedal_ratio / area, "booster_left_out"),
        ("4.1", (push.foot_n + push.booster_n) / area, "lever_left_out"),
        ("4.1", (push.foot_n + push.booster_n) * push.pedal_ratio / area, "booster_times_lever"),
        ("4.2", 50 * round((push.gauge.indication * U.MPa).to("psi").magnitude / 50), "psi_for_mpa"),
        ("4.4", [4 * front, 4 * rear], "bore_as_radius"),
        ("4.4", [2 * front, 2 * rear], _twice(push.front)),
        ("4.4", [front, rear / push.rear_share], "valve_left_out"),
        ("4.4", [rear, front], "axles_swapped"),
        ("4.5", torque / 2, "one_pad_face"),
        ("4.5", torque * 1000, "millimetres_for_metres"),
        ("4.5", torque / push.front.friction, "friction_left_out"),
        ("4.5", (torque * U.newton * U.metre).to("lbf*ft").magnitude, "lbfft_for_nm"),
        ("4.6", 2 * torque / (push.tyre_mm / 1000) / push.mass_kg, "front_axle_only"),
        ("4.6", (torque + rear_torque) / (push.tyre_mm / 1000) / push.mass_kg, "two_wheels_counted"),
        ("4.6", hand["4.6"] / 9.81, "share_of_gravity"),
        ("4.7", [push.front.standing_n, push.rear.standing_n], "standing_for_braking"),
        ("4.7", [push.front.standing_n - moved, push.rear.standing_n + moved], "load_wrong_way"),
        ("4.8", unconverted, "kmh_as_ms"),
        ("4.8", hand["4.8"] - reaction, "reaction_left_out"),
        ("4.8", 2 * hand["4.8"] - reaction, "half_forgotten"),
        ("4.8", (hand["4.8"] * U.metre).to("foot").magnitude, "feet_for_metres"),
    ]


def _twice(brake: Brake) -> str:
    return "floating_clamp_doubled" if brake.kind == "floating" else "both_sides_counted"


PLACES = {"4.1": 2, "4.2": 0, "4.4": 0, "4.5": 0, "4.6": 2, "4.7": 0, "4.8": 1}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.student)
def test_each_mistake_worked_apart_is_named_and_earns_its_share(case: SealedCase) -> None:
    half = {"psi_for_mpa", "millimetres_for_metres", "lbfft_for_nm", "share_of_gravity", "feet_for_metres"}
    for question, value, name in _mistakes_by_hand(truth_of(case)):
        places = PLACES[question]
        answer = [round(one) for one in value] if isinstance(value, list) else round(value, places)
        mark = judge(case, question, answer, {})
        assert mark.mistake == name or _also(mark.mistake, name), (question, name, mark)
        if name in half:
            assert mark.points == mark.out_of / 2
        elif name != "valve_left_out":  # there the front value is right
            assert mark.points == 0


def _also(found: str | None, name: str) -> bool:
    """Mistakes that give the same number on some vehicle: nobody could tell them apart from it alone."""
    same = {
        frozenset({"floating_clamp_doubled", "both_sides_counted"}),
        frozenset({"bore_as_radius", "booster_left_out"}),  # a booster that makes three times the lever
    }
    return frozenset({str(found), name}) in same


def test_every_situation_occurs_and_the_mistakes_that_must_show_do() -> None:
    assert {case.truth["situation"] for case in CASES} == set(PAPER.shares)
    for case in CASES:
        for question, names in PAPER.must_show.items():
            asked = case.question(question)
            assert asked is not None and set(names) <= {one.mistake for one in asked.mistakes}


# --- worked on from an answer that is off ----------------------------------------------------------


def _right(case: SealedCase) -> dict[str, Any]:
    hand = by_hand(truth_of(case))
    answers = {key: [round(one) for one in hand[key]] for key in ("4.4", "4.7")}
    answers |= {key: round(hand[key], PLACES[key]) for key in ("4.1", "4.5", "4.6", "4.8")}
    return {
        **answers,
        "4.2": round(expected(case, "4.2"), 1),
        **{q: expected(case, q) for q in ("4.3", "4.9")},
    }


@pytest.mark.parametrize("case", CASES[:8], ids=lambda case: case.student)
def test_a_right_sheet_earns_everything(case: SealedCase) -> None:
    answers = _right(case)
    marks = [judge(case, question, answer, answers) for question, answer in answers.items()]
    assert [mark.status for mark in marks] == ["right"] * 9
    assert sum(mark.points for mark in marks) == 36


@pytest.mark.parametrize("case", CASES[:8], ids=lambda case: case.student)
def test_a_bore_taken_for_a_radius_costs_its_own_question_only(case: SealedCase) -> None:
    push, answers = truth_of(case), _right(case)
    quarter = answers["4.1"] = round(answers["4.1"] / 4, 2)
    share = quarter / by_hand(push)["4.1"]
    answers["4.4"] = [round(one * share) for one in by_hand(push)["4.4"]]
    answers["4.5"] = round(by_hand(push)["4.5"] * share)
    assert judge(case, "4.1", quarter, answers).mistake == "bore_as_radius"
    for question in ("4.4", "4.5"):
        mark = judge(case, question, answers[question], answers)
        assert mark.status == "right" and mark.points == mark.out_of
    assert judge(case, "4.4", answers["4.4"], answers).carried_forward


def test_a_failed_booster_is_never_marked_as_sound() -> None:
    """Who forgets the booster finds that the gauge fits. The vehicle is unsafe all the same."""
    for case in (one for one in CASES if one.truth["situation"] == "no booster"):
        push = truth_of(case)
        own = {"4.1": round(push.bare_mpa, 2), "4.2": push.gauge.reading}
        fits = next(one.text for one in case.choices if one.key == "fits")
        mark = judge(case, "4.3", fits, own)
        assert (mark.status, mark.points, mark.mistake) == ("wrong", 0, "booster_left_out")
        assert judge(case, "4.3", expected(case, "4.3"), own).status == "right"


def test_psi_is_not_carried_on_as_megapascals() -> None:
    case = CASES[0]
    push = truth_of(case)
    psi = round((push.should_mpa * U.MPa).to("psi").magnitude)
    own = {"4.1": float(psi)}
    right = [round(one) for one in by_hand(push)["4.4"]]
    assert judge(case, "4.4", right, own).status == "right"
    with_psi = [round(one / push.should_mpa * psi) for one in by_hand(push)["4.4"]]
    mark = judge(case, "4.4", with_psi, own)
    assert mark.mistake == "psi_for_mpa" and mark.points == mark.out_of / 2


def test_half_of_the_marks_for_the_right_verdict_with_another_reason() -> None:
    case = next(one for one in CASES if one.truth["situation"] == "no booster")
    valve = next(one.text for one in case.choices if one.key == "low-valve")
    mark = judge(case, "4.3", valve, {})
    assert (mark.points, mark.mistake) == (2, "valve_at_the_master")


def test_the_last_places_are_forgiven_and_no_more() -> None:
    """3.14 for pi and areas in whole mm2 are how the lesson writes it; a percent off is an error."""
    for case in CASES:
        push = truth_of(case)
        area = round(3.14 / 4 * push.master_mm**2)
        line = round((push.foot_n * push.pedal_ratio + push.booster_n) / area, 2)
        assert judge(case, "4.1", line, {}).status == "right" or abs(line - push.should_mpa) > near(2)
        assert judge(case, "4.1", round(push.should_mpa * 1.01, 2), {}).status == "wrong"


# --- outside the project ---------------------------------------------------------------------------


def _with(push: ForceTruth, **changes: Any) -> ForceTruth:
    return push.model_copy(update=changes)


def test_the_key_gives_an_open_textbook_its_own_number() -> None:
    """OpenStax College Physics, 11.5: 500 N on 0.5 cm give 12 500 N at 2.5 cm."""
    small, large = (
        published.convert(published.value(f"pascal_openstax_d{n}").value, "cm", "mm") for n in (1, 2)
    )
    push = truth_of(CASES[0])
    front = push.front.model_copy(update={"bore_mm": large, "pushing": 1})
    force = published.value("pascal_openstax_f1").value
    book = _with(push, foot_n=force, pedal_ratio=1.0, booster_n=0.0, master_mm=small, front=front)
    given = Given(book, PAPER.key, CASES[0].choices)
    clamp = PAPER.key["4.4"](book, given).expected
    assert isinstance(clamp, tuple)
    assert clamp[0] == pytest.approx(published.value("pascal_openstax_f2").value, rel=1e-9)


@pytest.mark.parametrize("road", ["dry", "wet"])
def test_the_key_gives_an_open_textbook_its_own_braking_distance(road: str) -> None:
    """OpenStax College Physics, 2.5: 30.0 m/s at 7.00 or 5.00 m/s2 need 64.3 m or 90.0 m."""
    push = _with(truth_of(CASES[0]), reaction_s=0.0)
    speed = published.convert(published.value("stop_openstax_v0").value, "m/s", "km/hour")
    rate = published.value(f"stop_openstax_{road}_decel").value
    book = _with(push, speed_kmh=speed)
    # With these answers before it, the deceleration now is the book's.
    line = push.gauge.reading
    sealed = [one for one in CASES[0].questions if one.id in ("4.1", "4.2", "4.6")]
    values = {"4.1": line, "4.2": line, "4.6": rate}
    told = [one.model_copy(update={"expected": values[one.id]}) for one in sealed]
    given = Given(book, PAPER.key, CASES[0].choices, {}, told)
    assert PAPER.key["4.8"](book, given).expected == pytest.approx(
        published.value(f"stop_openstax_{road}").value, abs=0.05
    )


def test_as_the_maker_built_it_every_vehicle_keeps_the_published_distance() -> None:
    """49 CFR 571.135, S7.5: 70 m from 100 km/h with cold brakes (limit read; 500 N pedal limit from memory).

    A harder push than the exercise's is allowed there: the deceleration is scaled to what a dry road holds.
    """
    limit = published.value("stop_cold_effectiveness_distance_max").value
    speed = published.value("stop_cold_effectiveness_speed").value / 3.6
    for case in CASES:
        push, rate = truth_of(case), expected(case, "4.6")
        hardest = rate * 500 / push.foot_n
        assert speed**2 / (2 * min(hardest, 0.85 * 9.80665)) <= limit


# --- what the student sees -------------------------------------------------------------------------


@pytest.mark.parametrize("case", CASES[:6], ids=lambda case: case.student)
def test_the_drawings_can_be_read_and_hold_no_reading(case: SealedCase) -> None:
    push = truth_of(case)
    drawings = sheet(push).drawings
    for name, one in drawings.items():
        assert f'id="{name}-title"' in one.svg and f'id="{name}-desc"' in one.svg
        assert all(found.startswith(f"{name}-") for found in re.findall(r' id="([^"]+)"', one.svg))
    gauge = drawings["g1"].svg
    assert f"{push.gauge.indication:.3f}" not in gauge and repr(push.gauge.indication) not in gauge
    seen = re.sub(r"<[^>]*>", " ", gauge)
    if push.gauge.reading % 2:
        assert f" {push.gauge.reading:.1f} " not in seen


@pytest.mark.parametrize("case", CASES[:6], ids=lambda case: case.student)
def test_the_facts_hold_everything_and_no_answer(case: SealedCase) -> None:
    push = truth_of(case)
    facts = dict(sheet(push).facts)
    text = " ".join(facts.values())
    assert facts["Foot on the pedal"].startswith(f"{push.foot_n:.0f}\N{NO-BREAK SPACE}N")
    assert f"{push.should_mpa:.2f}" not in text and f"{expected(case, '4.4')[0]:.0f}" not in text
    for unit, other in (("N", "lbf"), ("mm", "in"), ("MPa", "psi"), ("kg", "lb")):
        for value in facts.values():
            if re.search(rf"\d\s{unit}\b", value):
                assert other in value


def test_the_same_seed_gives_the_same_push() -> None:
    seed = Draw(5).seed
    assert PAPER.draw(seed, "normal", None) == PAPER.draw(seed, "normal", None)
    assert PAPER.draw(seed, "hard", "too high").situation == "too high"
