"""The activities of the hydraulics lesson, driven as a learner drives them."""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.published import convert
from brakecourse.trade.hydraulics import stopping_distance_m
from brakecourse.views import force_replies as rules
from brakecourse.views.activity import Activity
from brakecourse.views.force_axles import FrontAndRear
from brakecourse.views.force_bores import FRONT_FIRST, LOCKS, REAR_FIRST, ChangedBore
from brakecourse.views.force_chain import follow, foot_for
from brakecourse.views.force_flow import FootToRoad
from brakecourse.views.force_gauge import ReadPressure
from brakecourse.views.force_numbers import ClampNumbers, ForceNumbers, TorqueNumbers
from brakecourse.views.force_stop_replies import distance_reply, fastest_kmh
from brakecourse.views.force_stopping import StoppingDistance
from brakecourse.views.plan import plan
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import DIFFICULTIES, NumberTask, Quiz, Task

LESSON = "04_pedal_to_pad"
POOL = motor_pool()
ESTATE, SALOON, VAN = POOL["dog_wardens_estate"], POOL["night_patrol_saloon"], POOL["library_van"]
ALL: tuple[type[Activity], ...] = (
    FootToRoad, ReadPressure, ClampNumbers, TorqueNumbers, FrontAndRear, ChangedBore, StoppingDistance,
    ForceNumbers,
)  # fmt: skip
QUIZZES: tuple[type[Quiz], ...] = (ReadPressure, ClampNumbers, TorqueNumbers, ChangedBore, ForceNumbers)


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def inside(widget: Any) -> list[Any]:
    return [widget] + [one for child in getattr(widget, "children", ()) for one in inside(child)]


def press(widget: Any, description: str) -> None:
    next(
        one
        for one in inside(widget)
        if getattr(one, "description", "") == description and hasattr(one, "click")
    ).click()


def tries(mine: Progress) -> tuple[int, int]:
    (tally,) = mine.tallies()
    assert tally.lesson == LESSON
    return tally.tries, tally.right


# ------------------------------------------------------------------ all of them


def test_the_plan_names_each_activity_of_the_lesson(mine: Progress) -> None:
    made = {one.uid: one.title for one in (kind(progress=mine) for kind in ALL)}
    assert {one.activity: one.title for one in plan() if one.lesson == LESSON} == made


@pytest.mark.parametrize("kind", ALL)
def test_a_reply_is_quick(kind: type[Activity], mine: Progress) -> None:
    activity = kind(progress=mine)
    activity.refresh()
    took = []
    for _ in range(5):
        begun = time.perf_counter()
        activity.refresh()
        took.append(time.perf_counter() - begun)
    assert min(took) < 0.03


@pytest.mark.parametrize("kind", ALL)
def test_controls_are_told_apart(kind: type[Activity], mine: Progress) -> None:
    tips = [one.tooltip for one in inside(kind(progress=mine)) if getattr(one, "tooltip", None)]
    assert len(tips) == len(set(tips)) and all(tips)


# ------------------------------------------------------------------ from the foot to the road


def test_the_wanted_deceleration_is_set(mine: Progress) -> None:
    activity = FootToRoad(progress=mine)
    foot = foot_for(ESTATE, activity.wanted_ms2, 400)
    assert foot
    for set_to, words in ((foot - 40, "Push more."), (foot + 40, "Push less."), (foot, "Right:")):
        activity.foot.value = set_to
        press(activity, "Check")
        assert words in activity.reply()
    press(activity, "Check")  # the same answer again counts no more
    assert tries(mine) == (3, 1)
    press(activity, "New deceleration")
    assert activity.reply().startswith("Wanted:")


def test_a_changed_bore_shows_in_the_picture_and_in_the_table(mine: Progress) -> None:
    activity = FootToRoad(progress=mine)
    before = activity.picture()
    activity.bore.value, activity.change.value = "rear pistons", 4.0
    assert activity.picture() != before
    assert list(activity.facts()[-1]) == ["Locks first", "front", "rear"]
    press(activity, "Check")
    assert "back to 0" in activity.reply() and mine.tallies() == []


def test_a_push_beyond_the_road_and_the_booster_is_told(mine: Progress) -> None:
    activity = FootToRoad(progress=mine)
    assert "No dry road" not in activity.words() and "limit" not in activity.words()
    activity.foot.value = 400
    assert "the front wheels would lock first" in activity.words() and "limit" in activity.words()


@pytest.mark.parametrize("key", POOL)
def test_every_vehicle_can_be_set_to_every_wanted_deceleration(key: str, mine: Progress) -> None:
    activity = FootToRoad(vehicle=key, progress=mine)
    for _ in range(15):
        activity.number += 1
        foot = foot_for(POOL[key], activity.wanted_ms2, 400)
        assert foot and 10 <= foot <= 400


# ------------------------------------------------------------------ quizzes


@pytest.mark.parametrize("kind", QUIZZES)
@pytest.mark.parametrize("level", DIFFICULTIES)
def test_many_cases_have_an_answer_that_is_right_and_is_not_given_away(
    kind: type[Quiz], level: str, mine: Progress
) -> None:
    quiz = kind(session=4, progress=mine)
    for nth in range(40):
        topic = quiz.topics[nth % len(quiz.topics)]
        task = quiz.draw_task(topic, DIFFICULTIES[level], Draw(nth).child(level))
        quiz.asked = task
        seen = f"{task.question} {task.evidence} {quiz.picture()}"
        if isinstance(task, Task):
            assert task.right in task.choices
            continue
        # The told answer ends a sum with "= value unit", or "together value unit"; a reading stands alone.
        told = task.answer.replace("\N{NO-BREAK SPACE}", " ")
        value = re.findall(rf"(?:= |together |^)([\d.]+) {re.escape(task.unit)} \(", told)[-1]
        assert task.rule(float(value)).right, told
        assert value not in seen.split() and f">{value}" not in seen
        assert not task.rule(float(value) * 1.07 + 1).right


def test_the_gauge_is_read_and_each_misreading_is_named(mine: Progress) -> None:
    quiz = ReadPressure(session=1, progress=mine)
    shown = quiz.asked.case
    right = shown.gauge.reading(shown.indication_mpa)
    wrong = shown.gauge.misreadings(shown.indication_mpa)
    quiz.check_number(f"{wrong['psi_for_mpa']:.0f}")
    assert "inner ring" in quiz.reply()
    if "line_step" in wrong:
        quiz.check_number(f"{wrong['line_step']}")
        assert "each line as a tenth" in quiz.reply()
    quiz.check_number(f"{10 * right}")
    assert "decimal point" in quiz.reply()
    quiz.check_number(f"{convert(right, 'MPa', 'psi'):.0f} psi")
    assert "You typed" in quiz.reply() and "Right:" in quiz.reply()
    assert tries(mine) == (1, 0)  # the first answer counted


@pytest.mark.parametrize("level", DIFFICULTIES.values())
def test_whether_a_pressure_fits_follows_from_its_own_numbers(level: Any, mine: Progress) -> None:
    quiz, seen = ReadPressure(progress=mine), set()
    for nth in range(60):
        task = quiz.draw_task("does it fit the push?", level, Draw(nth))
        assert isinstance(task, Task)
        facts = {row[0]: row[1].replace("\N{NO-BREAK SPACE}", " ").split()[0] for row in task.evidence[1:]}
        push = float(facts["Foot on the pedal"]) * float(facts["Pedal ratio"])
        area = 0.785398 * float(facts["Master cylinder, bore"]) ** 2
        sound = (push + float(facts["Booster adds, at the rod"])) / area
        share = task.case.indication_mpa / sound
        found = (
            "It fits"
            if 0.88 < share < 1.15
            else "Too low"
            if share < 0.6
            else "Too high"
            if share > 1.2
            else "?"
        )
        assert task.right.startswith(found), (sound, task.case.indication_mpa)
        seen.add(found)
    assert seen == {"It fits", "Too low", "Too high"}


@pytest.mark.parametrize("level", DIFFICULTIES.values())
def test_what_a_bore_does_is_told_by_the_chain(level: Any, mine: Progress) -> None:
    quiz, seen = ChangedBore(progress=mine), set()
    for nth in range(60):
        topic = quiz.topics[nth % 3]
        task = quiz.draw_task(topic, level, Draw(nth))
        larger = task.case.new_mm > task.case.old_mm
        seen.add((topic, task.right))
        if topic == LOCKS:
            assert "Never fit these" in task.reasons[REAR_FIRST] or task.right == FRONT_FIRST
        elif task.case.what == "master cylinder":
            assert task.right.startswith("less pressure" if larger else "more pressure")
            assert task.right.endswith("less" if larger else "further")
        else:
            assert ("more clamp force" if larger else "less clamp force") in task.right
        assert all(any(digit in reason for digit in "0123456789") for reason in task.reasons.values())
    assert len(seen) >= 7


# ------------------------------------------------------------------ mistakes, each by its own number


def named(reply: Any, words: str) -> None:
    assert not reply.right and words in reply.words, reply.words


def test_mistakes_about_pressure_are_named() -> None:
    right = follow(ESTATE, 250).line_mpa
    area = 0.7853981634 * 23.8**2
    for number, words in (
        (929, "That number is in psi"),
        (2850 / (3.1415926536 * 23.8**2), "bore for the radius"),
        (950 / area, "booster out"),
        ((250 + 1900) / area, "lever out"),
        ((250 + 1900) * 3.8 / area, "already acts at the rod"),
        (6406, "kilopascals"),
        (64.06, "decimal point"),
    ):
        named(rules.pressure_reply(number, ESTATE, 250), words)
    assert rules.pressure_reply(6.4, ESTATE, 250).right and rules.pressure_reply(right, ESTATE, 250).right
    named(rules.pressure_reply(8.8, ESTATE, 250), "too large")


def test_mistakes_about_the_clamp_force_are_named() -> None:
    right = 7 * 0.7853981634 * 54**2
    for number, words in (
        (2 * right, "In a floating caliper the outer pad is pressed by reaction"),
        (4 * right, "bore for the radius"),
        (1015.26 * right / 7, "pressure in as psi"),
        (right / 1000, "kilonewtons"),
    ):
        named(rules.clamp_reply(number, ESTATE, "front", 7.0), words)
    assert rules.clamp_reply(right, ESTATE, "front", 7.0).right
    fixed = 2 * 7 * 0.7853981634 * 38**2  # two of the four pistons press one pad
    assert rules.clamp_reply(fixed, SALOON, "front", 7.0).right
    named(rules.clamp_reply(2 * fixed, SALOON, "front", 7.0), "count one side only")
    named(rules.clamp_reply(fixed / 2, SALOON, "front", 7.0), "You counted one piston. 2 of them")


def test_mistakes_about_the_torque_are_named() -> None:
    right = 2 * 0.38 * 15000 * 0.116
    for number, words in (
        (right / 2, "one pad only"),
        (2 * right, "twice the torque"),
        (1000 * right, "millimetres"),
        (right / 0.38, "friction out"),
        (right * 0.737562, "pound-force feet"),
    ):
        named(rules.torque_reply(number, ESTATE, "front", 15000), words)
    assert rules.torque_reply(right, ESTATE, "front", 15000).right


def test_mistakes_about_the_deceleration_are_named() -> None:
    chain = follow(ESTATE, 250)
    right = chain.slowing_ms2
    for number, words in (
        (right / 2, "half of it"),
        (2 * chain.front.torque_nm / 0.31 / 1580, "front axle only"),
        (right / 9.80665, "share of gravity"),
        (right / 1000, "millimetres"),
        (right * 3.28084, "feet per second"),
    ):
        named(rules.slowing_reply(number, ESTATE, chain), words)
    assert rules.slowing_reply(7.12, ESTATE, chain).right


def test_mistakes_about_the_way_to_a_stop_are_named() -> None:
    speed = 80 / 3.6
    braking, reaction = speed**2 / 14, speed * 1.5
    for number, words in (
        (braking, "reaction out"),
        (80 * 1.5 + 80**2 / 14, "km/h"),
        (reaction + 2 * braking, "the 2 under the line"),
        (reaction, "reaction alone"),
        ((reaction + braking) * 3.28084, "feet"),
    ):
        named(distance_reply(number, 80, 7.0, 1.5), words)
    assert distance_reply(reaction + braking, 80, 7.0, 1.5).right
    assert "reaction" not in distance_reply(2 * braking, 80, 7.0, 0.0).words


def test_mistakes_about_a_load_are_named() -> None:
    chain = follow(ESTATE, 250)
    for one, other in ((chain.front, chain.rear), (chain.rear, chain.front)):
        assert rules.load_reply(one.braking_n, one, other).right
        named(rules.load_reply(one.standing_n, one, other), "when standing")
        named(rules.load_reply(2 * one.standing_n - one.braking_n, one, other), "the wrong way")
        named(rules.load_reply(other.braking_n, one, other), "other axle")


# ------------------------------------------------------------------ front and rear, and the road


def test_the_table_shows_what_was_found_and_nothing_else(mine: Progress) -> None:
    activity = FrontAndRear(progress=mine)
    for nth, (what, axle) in enumerate(activity.boxes, 1):
        value = f"{activity.right(what, axle):.0f}"
        cells = [cell.replace("\N{NO-BREAK SPACE}", " ") for row in activity.facts() for cell in row]
        assert not any(cell.startswith(f"{value} ") for cell in cells)
        activity.boxes[what, axle].box.value = value
        assert activity.reply().startswith("Right"), (what, axle, activity.reply())
        assert f"{6 - nth} of 6" in activity.words() or nth == 6
    assert "All six" in activity.words() and tries(mine) == (6, 6)
    press(activity, "New vehicle")
    assert not activity.found and all(not box.box.value for box in activity.boxes.values())


@pytest.mark.parametrize(
    ("typed", "words"),
    [("", "still empty"), ("much", "was expected"), ("nan", "was expected"), ("5 mm", "measures")],
)
def test_bad_input_gets_one_sentence_and_does_not_count(typed: str, words: str, mine: Progress) -> None:
    activity = FrontAndRear(progress=mine)
    activity.boxes["clamp force", "front"].box.value = "1"
    before = tries(mine)
    box = activity.boxes["clamp force", "rear"]
    box.box.value = typed
    press(box, "Check")
    assert words in activity.reply() and activity.reply().count(". ") == 0
    assert tries(mine) == before


def test_the_highest_safe_speed_is_found(mine: Progress) -> None:
    activity = StoppingDistance(progress=mine)
    ahead = activity.danger
    activity.slowing.value, activity.reaction.value = ahead.slowing_ms2 - 1, ahead.reaction_s
    press(activity, "Check")
    assert activity.reply().startswith("First set") and mine.tallies() == []
    activity.slowing.value = ahead.slowing_ms2
    most = fastest_kmh(ahead.gap_m, ahead.slowing_ms2, ahead.reaction_s)
    for speed, words in ((most + 1, "Go slower"), (most - 5, "higher speed"), (most, "Right:")):
        activity.speed.value = speed
        press(activity, "Check")
        assert words in activity.reply()
    assert tries(mine) == (3, 1)


def test_every_danger_can_be_met_with_the_sliders(mine: Progress) -> None:
    activity = StoppingDistance(progress=mine)
    for _ in range(60):
        activity.number += 1
        ahead = activity.danger
        most = fastest_kmh(ahead.gap_m, ahead.slowing_ms2, ahead.reaction_s)
        assert activity.speed.slider.min <= most < activity.speed.slider.max
        assert activity.slowing.slider.min <= ahead.slowing_ms2 <= activity.slowing.slider.max
        assert stopping_distance_m(most, ahead.slowing_ms2, ahead.reaction_s) <= ahead.gap_m
        assert stopping_distance_m(most + 1, ahead.slowing_ms2, ahead.reaction_s) > ahead.gap_m


def test_first_cases_are_numbers_or_choices_as_told(mine: Progress) -> None:
    assert isinstance(ClampNumbers(progress=mine).asked, NumberTask)
    assert isinstance(ChangedBore(progress=mine).asked, Task)
    assert {VAN.name, ESTATE.name} <= {one.name for one in POOL.values()}
