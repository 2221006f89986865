"""Exercise 12 worked again by hand, and with scipy's solver, from the sealed values alone."""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import replace
from hashlib import sha256

import numpy as np
import pytest
from brakecourse import published
from brakecourse.bench.road_test import worst_sign
from brakecourse.marking import SealedCase, draw_sealed_case, judge, judge_all
from brakecourse.marking.papers.m12_pedal_and_burnish import PAPER
from brakecourse.marking.papers.m12_pedal_and_burnish.road import CLEAR_C
from brakecourse.marking.papers.m12_pedal_and_burnish.truth import BurnishTruth
from scipy.integrate import solve_ivp

from tests.marking.study import cases

MODULE = "12_pedal_and_burnish"
CASES = list(cases(MODULE, 16))
MPH = 1609.344 / 3600  # m/s, from the exact mile

each_case = pytest.mark.parametrize("case", CASES, ids=[one.student for one in CASES])


def truth_of(case: SealedCase) -> BurnishTruth:
    truth = PAPER.read_truth(case.truth)
    assert isinstance(truth, BurnishTruth)
    return truth


def expected(case: SealedCase, question: str) -> object:
    found = case.question(question)
    assert found is not None
    return found.expected


def slip(case: SealedCase, question: str, name: str) -> list[float | str]:
    found = case.question(question)
    assert found is not None
    return [one.value for one in found.mistakes if one.mistake == name]


def words(case: SealedCase, question: str, key: str) -> str:
    """The words of a choice, by its short name."""
    return next(one.text for one in case.choices if (one.question, one.key) == (question, key))


def right_answers(case: SealedCase) -> dict[str, object]:
    found: dict[str, object] = {}
    for one in case.questions:
        value = one.expected
        found[one.id] = [round(x, one.places) for x in value] if isinstance(value, tuple) else value
        if isinstance(value, float):
            found[one.id] = round(value, one.places)
    return found


def slowdown_rise(truth: BurnishTruth) -> float:
    """Rise of one front rotor in one slowdown, from the speeds themselves."""
    v, w = truth.high_mph * MPH, truth.low_mph * MPH
    joules = truth.heat.mass_kg * (v * v - w * w) / 2
    return joules * truth.heat.front_share / 2 / (truth.heat.rotor_kg * 450)


# ------------------------------------------------------------------ the right answers


@each_case
def test_strokes_and_level_follow_from_the_volumes(case: SealedCase) -> None:
    fluid = truth_of(case).fluid
    gaps, strokes, left = 2 * fluid.caliper_ml, 0, 2 * fluid.caliper_ml
    while left > 0:  # press until nothing is missing
        left, strokes = left - fluid.stroke_ml, strokes + 1
    assert expected(case, "12.1") == strokes
    assert expected(case, "12.3") == pytest.approx(
        round(fluid.level.indication) - 1000 * gaps / fluid.area_mm2
    )
    assert fluid.min_mm < float(str(expected(case, "12.3"))) < fluid.level.reading < fluid.max_mm


@each_case
def test_the_pedal_moves_only_when_it_is_high_and_stays(case: SealedCase) -> None:
    pedal = truth_of(case).pedal
    high = pedal.pressed.indication <= pedal.most_mm
    stays = pedal.held.indication - pedal.pressed.indication < 3
    key = "move-firm" if high and stays else "pump-low" if not high else "stay-sinks"
    assert expected(case, "12.2") == words(case, "12.2", key)
    assert stays or key == "stay-sinks"
    if key == "pump-low":
        assert pedal.press < float(str(expected(case, "12.1")))
    else:
        assert pedal.press == float(str(expected(case, "12.1"))) + 1


@each_case
def test_energy_and_ratio_follow_from_the_speeds(case: SealedCase) -> None:
    truth = truth_of(case)
    v, w = truth.high_mph * MPH, truth.low_mph * MPH
    stop, slowdown = (truth.heat.mass_kg * one / 2000 for one in (w * w, v * v - w * w))
    assert expected(case, "12.4") == pytest.approx(stop, rel=1e-9)
    assert expected(case, "12.5") == pytest.approx(slowdown / stop, rel=1e-9)
    assert expected(case, "12.6") == pytest.approx(slowdown_rise(truth), rel=1e-9)


def test_forty_to_twenty_takes_three_times_a_stop_from_twenty() -> None:
    """The published ratio of the two usual kinds of braking needs no book: 40² − 20² over 20²."""
    truth = truth_of(CASES[0]).model_copy(update={"low_mph": 20.0, "high_mph": 40.0})
    assert truth.ratio == 3


def test_an_open_textbooks_brakes_get_as_warm_as_it_says() -> None:
    """OpenStax College Physics, the truck on the hill: read. All its energy goes into one mass of brake."""
    names = ("energy", "brake_mass", "c", "dt")
    joules, mass, heat, rise = (published.value(f"brake_heat_openstax_{name}").value for name in names)
    one = truth_of(CASES[0])
    as_theirs = one.heat.model_copy(update={"rotor_kg": mass, "iron_kj": heat / 1000})
    told = one.model_copy(update={"heat": as_theirs}).rise_c(joules / 1000, share=1.0)
    assert told == pytest.approx(rise, abs=0.5)  # printed in whole degrees


@each_case
def test_cooling_is_what_a_solver_finds(case: SealedCase) -> None:
    """scipy: d(temperature)/dt falls in step with the difference to the air."""
    truth = truth_of(case)
    air, half = truth.heat.air_c, truth.heat.half_min

    def cools(_time: float, now: np.ndarray) -> np.ndarray:
        return -math.log(2) / half * (now - air)

    wait = float(str(expected(case, "12.7")))
    found = solve_ivp(cools, (0, wait), [truth.hat.reading], rtol=1e-9, atol=1e-9)
    assert found.y[0][-1] == pytest.approx(truth.next_c, abs=1e-4)
    plan, now = [], truth.start_c
    for _ in range(3):
        plan.append(now + truth.round_count * slowdown_rise(truth))
        now = solve_ivp(cools, (0, half), [plan[-1]], rtol=1e-9, atol=1e-9).y[0][-1]
        plan.append(now)
    assert expected(case, "12.8") == pytest.approx(plan[:5], abs=1e-4)


@each_case
def test_the_worst_sign_decides(case: SealedCase) -> None:
    """The rule once more, written apart from the course's own."""
    truth = truth_of(case)
    road, shown = truth.road, [one.reading for one in truth.road.rotors]
    apart = max(abs(shown[0] - shown[1]), abs(shown[2] - shown[3]))
    noise = " ".join(road.noises)
    if road.pedal or re.search("clunk|rattle", noise) or road.smoke.startswith("smoke"):
        action = "Stop"
    elif road.pulls or road.pulses or apart >= 60 or re.search("grinding|scraping|rubbing", noise):
        action = "Break off"
    else:
        action = "Drive on" if max(shown) > 300 else "Go on"
    assert str(expected(case, "12.9")).startswith(action)


def test_every_pedal_and_every_action_occurs() -> None:
    assert len(Counter(case.truth["pedal"]["state"] for case in CASES)) == 3
    assert len(Counter(str(expected(case, "12.9")).split()[0] for case in CASES)) == 4


# ------------------------------------------------------------------ the named mistakes


@each_case
def test_each_mistake_with_pedal_and_level_gives_its_value(case: SealedCase) -> None:
    fluid = truth_of(case).fluid
    quotient = 2 * fluid.caliper_ml / fluid.stroke_ml
    fall = 2000 * fluid.caliper_ml / fluid.area_mm2
    level = fluid.level.reading
    assert math.ceil(quotient / 2) in slip(case, "12.1", "one_caliper_only")
    assert slip(case, "12.1", "strokes_rounded_down") == [math.floor(quotient)]
    assert slip(case, "12.1", "strokes_not_rounded") == pytest.approx([quotient])
    for name, value in (
        ("level_raised", level + fall),
        ("level_not_lowered", level),
        ("one_caliper_only", level - fall / 2),
        ("from_the_minimum", level - fluid.min_mm - fall),
    ):
        assert slip(case, "12.3", name) == pytest.approx([value]), name


@each_case
def test_each_mistake_with_the_heat_gives_its_value(case: SealedCase) -> None:
    truth = truth_of(case)
    mass, low, high = truth.heat.mass_kg, truth.low_mph, truth.high_mph
    v = low * MPH
    assert slip(case, "12.4", "mph_as_ms") == pytest.approx([mass * low**2 / 2000])
    assert slip(case, "12.4", "kmh_as_ms") == pytest.approx([mass * (low * 1.609344) ** 2 / 2000])
    assert slip(case, "12.4", "speed_not_squared") == pytest.approx([mass * v / 2000])
    assert slip(case, "12.4", "half_left_out") == pytest.approx([mass * v * v / 1000])
    assert slip(case, "12.5", "speed_not_squared") == pytest.approx([(high - low) / low])
    assert slip(case, "12.5", "whole_stop") == pytest.approx([high**2 / low**2])
    rise = slowdown_rise(truth)
    share = truth.heat.front_share
    assert slip(case, "12.6", "all_heat_in_one_rotor") == pytest.approx([2 * rise / share])
    assert slip(case, "12.6", "axle_heat_in_one_rotor") == pytest.approx([2 * rise])
    assert slip(case, "12.6", "shared_evenly") == pytest.approx([rise / share / 2])
    air, half, next_c = truth.heat.air_c, truth.heat.half_min, truth.next_c
    bright = truth.face.reading
    cool = half * math.log2((bright - air) / (next_c - air)) if bright > next_c else 0.0
    assert slip(case, "12.7", "bright_face_believed") == pytest.approx([cool])
    round_c = truth.round_count * rise
    hot = [truth.start_c + round_c * times for times in (1, 1, 2, 2, 3)]
    question = case.question("12.8")
    assert question is not None
    kept = {one.place: one.value for one in question.mistakes if one.mistake == "no_cooling"}
    assert kept == pytest.approx({place: hot[place - 1] for place in (2, 3, 4, 5)})


# ------------------------------------------------------------------ decisions stand firm


@each_case
def test_no_reading_moved_by_its_uncertainty_changes_a_decision(case: SealedCase) -> None:
    truth = truth_of(case)
    pedal, signs = truth.pedal, truth.signs
    assert abs(pedal.pressed.reading - pedal.most_mm) > pedal.pressed.u
    sunk = pedal.held.reading - pedal.pressed.reading
    assert sunk == 0 or sunk > 3 * math.sqrt(2) * pedal.pressed.u
    for place, read in enumerate(truth.road.rotors):
        assert 2 * read.u < CLEAR_C
        for moved in (-read.u, read.u):
            row = list(signs.rotors_c)
            row[place] += moved
            assert worst_sign(replace(signs, rotors_c=tuple(row))) == worst_sign(signs)
    # The plan's verdict in the record: clear of both temperatures by more than an honest sum may be off.
    question = case.question("12.8")
    assert question is not None and isinstance(question.tolerance, tuple)
    hottest = max(truth.plan_c(slowdown_rise(truth)))
    for edge in (truth.heat.limit_c, truth.heat.working_c):
        assert abs(hottest - edge) > max(question.tolerance)


# ------------------------------------------------------------------ marks and words


def test_a_perfect_answer_gets_every_mark() -> None:
    for case in CASES[:8]:
        marks = judge_all(case, right_answers(case))
        assert all(mark.points == mark.out_of for mark in marks.values()), case.student


@each_case
def test_the_usual_mistakes_are_named(case: SealedCase) -> None:
    truth, answers = truth_of(case), right_answers(case)
    mass, low = truth.heat.mass_kg, truth.low_mph
    wrong: dict[str, tuple[object, str, float]] = {
        "12.1": (round(2 * truth.fluid.caliper_ml / truth.fluid.stroke_ml, 1), "strokes_not_rounded", 0.5),
        "12.3": (truth.fluid.level.reading, "level_not_lowered", 0),
        "12.4": (round(mass * low**2 / 2000), "mph_as_ms", 0),
        "12.6": (round(2 * slowdown_rise(truth), 1), "axle_heat_in_one_rotor", 0),
    }
    for question, (answer, name, share) in wrong.items():
        mark = judge(case, question, answer, answers)
        assert mark.mistake == name and mark.points == pytest.approx(share * mark.out_of), question
        assert mark.lesson.startswith("Lesson 12, part")
    mark = judge(case, "12.2", words(case, "12.2", "move-pumped"), answers)
    assert mark.mistake == "low_pedal_driven" and "no front brakes" in mark.words
    assert mark.points == (mark.out_of / 2 if truth.pedal.state == "firm" else 0)
    if truth.situation != "no trouble found":
        mark = judge(case, "12.9", words(case, "12.9", "on-none"), answers)
        assert mark.mistake == "sign_played_down" and mark.points == 0


@each_case
def test_own_energy_and_own_rise_are_carried_on(case: SealedCase) -> None:
    truth, answers = truth_of(case), right_answers(case)
    mass, low = truth.heat.mass_kg, truth.low_mph
    answers["12.4"] = round(mass * low**2 / 2000)  # mph for m/s: five times too much
    share = truth.heat.front_share / 2
    own = 1000 * float(str(answers["12.4"])) * truth.ratio * share / (truth.heat.rotor_kg * 450)
    mark = judge(case, "12.6", round(own, 1), answers)
    assert mark.points == mark.out_of and mark.carried_forward and "the value before it was off" in mark.words
    answers["12.6"] = round(own, 1)
    plan = [truth.start_c + truth.round_count * own]
    for _ in range(2):
        cooled = (plan[-1] + truth.heat.air_c) / 2
        plan += [cooled, cooled + truth.round_count * own]
    mark = judge(case, "12.8", [round(one) for one in plan], answers)
    assert mark.carried_forward and mark.points >= mark.out_of * 0.6


# ------------------------------------------------------------------ what the student gets


def test_the_drawings_can_be_read_and_tell_no_reading() -> None:
    for student in ("s01", "s02"):
        case = draw_sealed_case(MODULE, student, bytes(range(32)))
        truth, order = truth_of(case), case.work_order()
        assert len(str(order)) < 200_000
        reads = {
            "p1": truth.pedal.pressed,
            "p2": truth.pedal.held,
            "level": truth.fluid.level,
            "i1": truth.face,
            "i2": truth.hat,
            **{f"r{place}": one for place, one in enumerate(truth.road.rotors, start=1)},
        }
        for name, read in reads.items():
            svg = order["drawings"][name]["svg"]
            assert f'id="{name}-title"' in svg and "<desc" in svg
            told = re.sub(r"<[^>]*>", " ", svg)
            assert f"{read.indication:.3f}" not in svg and repr(read.indication) not in svg.split()
            if read.unit == "°C":  # seven-segment digits, told one by one
                assert f"{read.reading:.0f}" not in re.findall(r"\d+", told)
        assert case.truth["situation"] not in str(order)


def test_a_stop_too_hot_for_the_thermometer_is_drawn_again() -> None:
    # Of a thousand students two drew one at first.
    truth = truth_of(draw_sealed_case(MODULE, "s00134", sha256(b"whole program").digest()))
    assert all(read.indication <= 600 for read in truth.road.rotors)
