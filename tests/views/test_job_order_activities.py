"""The activities of lesson 01: hazards, stands, what comes first, the whole job. Slips are named kindly."""

from __future__ import annotations

import itertools
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import AXLES
from brakecourse.bench.vehicles import motor_pool
from brakecourse.published import value
from brakecourse.trade.job_order import WHOLE_JOB, check_order, implied_pairs, operations, precedence, sub_job
from brakecourse.views import worked_order
from brakecourse.views.before_what import BeforeWhat
from brakecourse.views.before_what_tasks import EITHER, before_what_task
from brakecourse.views.before_what_tasks import TOPICS as PARTS_ASKED
from brakecourse.views.board_rules import DANGER
from brakecourse.views.drawings.workshop import STATES
from brakecourse.views.hazard_spotting import HazardSpotting
from brakecourse.views.hazard_tasks import hazard_task
from brakecourse.views.hazards import SPOTS
from brakecourse.views.hazards import TOPICS as HAZARD_TOPICS
from brakecourse.views.order_boards import (
    STEPS_OF_THE_WHOLE,
    OrderOnePart,
    OrderTheJob,
    OrderTheLift,
    kept_steps,
)
from brakecourse.views.plan import plan
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import NumberTask, Task
from brakecourse.views.stand_loads import axle_load_kg, rating_needed_kg, smallest_size_kg, stand_load_kg
from brakecourse.views.stand_rating import StandRating
from brakecourse.views.stand_tasks import LOAD, RATING, WHICH, stand_task

LEVELS: tuple[Difficulty, ...] = ("easy", "normal", "hard")
SHORT = {step.words.split(". ")[0].rstrip("."): step.id for step in operations()}
KINDS = (OrderTheLift, StandRating, HazardSpotting, BeforeWhat, OrderOnePart, OrderTheJob)


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def draws(many: int) -> Iterator[Draw]:
    return (Draw(seed) for seed in range(many))


def tries(mine: Progress) -> tuple[int, int]:
    (tally,) = mine.tallies()
    return tally.tries, tally.right


# ------------------------------------------------------------------ all of them


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_it_is_in_the_plan_by_its_name_and_title(kind: Any, mine: Progress) -> None:
    made = kind(progress=mine)
    (row,) = [one for one in plan() if (one.lesson, one.activity) == ("01_job_order", made.uid)]
    assert row.title == kind.title and made.counts_for == "01_job_order"


@pytest.mark.usefixtures("somebody_listens")
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_it_shows_its_picture_and_a_sentence_without_a_kernel(kind: Any, mine: Progress) -> None:
    shown = kind(progress=mine, session=1)._repr_mimebundle_()
    assert shown["text/plain"].endswith("(Run this cell to use it.)")
    assert shown == kind(progress=mine, session=2)._repr_mimebundle_() | {
        "application/vnd.jupyter.widget-view+json": shown["application/vnd.jupyter.widget-view+json"]
    }
    assert not mine.tallies()


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_it_answers_at_once(kind: Any, mine: Progress) -> None:
    made = kind(progress=mine)
    took = []
    for _ in range(10):
        begun = time.perf_counter()
        made.refresh()
        took.append(time.perf_counter() - begun)
    assert min(took) < 0.03


# ------------------------------------------------------------------ hazards


def test_the_table_of_hazards_and_the_drawing_know_the_same_places() -> None:
    told = {name: {spot.state, *(one.state for one in spot.hazards)} for name, spot in SPOTS.items()}
    assert told == {name: set(states) for name, states in STATES.items()}
    assert all(STATES[name][0] == spot.state for name, spot in SPOTS.items())
    for spot in SPOTS.values():
        for words in (spot.seen, spot.fine, *(text for one in spot.hazards for text in (one.seen, one.why))):
            assert words[0].isupper() and words.endswith("."), words
        for hazard in spot.hazards:
            assert len(hazard.wrong) >= 2 and hazard.control not in hazard.wrong


@pytest.mark.parametrize("topic", HAZARD_TOPICS)
@pytest.mark.parametrize("level", LEVELS)
def test_one_place_hurts_and_all_others_are_in_order(topic: str, level: Difficulty) -> None:
    for draw in draws(40):
        task = hazard_task(topic, level, draw)
        shown = task.case
        bad = [name for name, state in shown.spots.items() if state != SPOTS[name].state]
        assert len(bad) == 1 and SPOTS[bad[0]].topic == topic
        assert list(shown.spots)[shown.place - 1] == bad[0]
        assert task.right.startswith(f"place {shown.place}: ")
        assert sum(one.startswith(f"place {shown.place}:") for one in task.choices) >= 3
        assert any(not one.startswith(f"place {shown.place}:") for one in task.choices)
        assert [row[1] for row in task.evidence[1:]] == list(shown.told)
        assert all(
            "in order" in task.reasons[one] for one in task.choices if f"place {shown.place}:" not in one
        )


def test_harder_scenes_have_more_places() -> None:
    sizes = [len(hazard_task("brake dust", level, Draw(1)).case.spots) for level in LEVELS]
    assert sizes == sorted(set(sizes)) and sizes[0] >= 3


def test_every_hazard_and_every_wrong_control_comes_up() -> None:
    right, chosen = set(), set()
    for topic in HAZARD_TOPICS:
        for draw in draws(60):
            task = hazard_task(topic, "hard", draw)
            right.add(task.right.split(": ", 1)[1])
            chosen |= {one.split(": ", 1)[1] for one in task.choices}
    every = [hazard for spot in SPOTS.values() for hazard in spot.hazards]
    assert right == {hazard.control for hazard in every}
    assert {wrong for hazard in every for wrong in hazard.wrong} <= chosen


def test_dry_brushing_and_blowing_are_named(mine: Progress) -> None:
    made = HazardSpotting(progress=mine, session=2)
    made.topic.value = "brake dust"
    told = set()
    for _ in range(30):
        task = made.asked
        assert isinstance(task, Task)
        for one in task.choices:
            if "brush" in one or "blow" in one or "air gun" in one:
                made.chosen.value = one
                made.check()
                assert made.reply().startswith("Not yet. The place is right, but that does not help.")
                told.add(made.reply().split("help. ")[1].split(" That is")[0])
        made.new_case()
    assert {"A dry brush throws the dust up, and your mask guards nobody else.",
            "Air throws the dust up, and everybody breathes it."} <= told  # fmt: skip


def test_a_hazard_counts_once(mine: Progress) -> None:
    made = HazardSpotting(progress=mine)
    made.chosen.value = made.asked.right  # type: ignore[union-attr]
    made.check()
    made.check()
    assert made.reply().startswith("Right. ") and tries(mine) == (1, 1)
    made.chosen.value = None
    made.check()
    assert made.reply().startswith("Nothing is chosen yet") and tries(mine) == (1, 1)


# ------------------------------------------------------------------ stands


@pytest.mark.parametrize("vehicle", motor_pool().values(), ids=lambda one: one.key)
def test_the_loads_balance_the_weight_and_its_moment(vehicle: Any) -> None:
    """Statics: the loads add up to the weight, and their moments about the front axle to the weight's."""
    front, rear = (axle_load_kg(vehicle, axle) for axle in AXLES)
    assert front + rear == pytest.approx(vehicle.mass_kg)
    assert rear * vehicle.wheelbase_mm == pytest.approx(vehicle.mass_kg * vehicle.cg_to_front_mm)
    assert 2 * stand_load_kg(vehicle, "front") == pytest.approx(front)


@pytest.mark.parametrize("level", LEVELS)
def test_the_slips_with_the_load_are_named(level: Difficulty) -> None:
    for draw in draws(30):
        task = stand_task(LOAD, level, draw)
        assert isinstance(task, NumberTask)
        one, axle = task.case.vehicle, task.case.axle
        right, whole = stand_load_kg(one, axle), axle_load_kg(one, axle)
        assert task.rule(round(right)).right and not task.rule(0).right
        assert "Two stands share it" in task.rule(round(whole)).words and not task.rule(round(whole)).right
        assert "newtons" in task.rule(round(right * 9.81)).words
        shown = " ".join(itertools.chain(*task.evidence))
        assert f"{right:.0f} kg" not in shown.replace("\xa0", " ") + task.question
        quarter = task.rule(one.mass_kg / 4)
        assert quarter.right or "do not carry alike" in quarter.words or "other axle" in quarter.words


def test_the_slips_with_the_margin_are_named() -> None:
    for draw in draws(30):
        task = stand_task(RATING, "normal", draw)
        assert isinstance(task, NumberTask)
        load = stand_load_kg(task.case.vehicle, task.case.axle)
        assert task.rule(round(1.5 * load)).right
        assert "margin is still missing" in task.rule(round(load)).words
        assert "Two stands share it" in task.rule(round(3 * load)).words
        assert "makes the rating larger" in task.rule(round(load / 1.5)).words


@pytest.mark.parametrize("level", LEVELS)
def test_the_stands_to_take_are_strong_enough_and_the_others_are_not(level: Difficulty) -> None:
    for draw in draws(60):
        task = stand_task(WHICH, level, draw)
        assert isinstance(task, Task)
        needed = rating_needed_kg(task.case.vehicle, task.case.axle)
        marks = {one: int(one.split("marked ")[1].split("\xa0")[0]) for one in task.choices}
        assert marks[task.right] == smallest_size_kg(needed) >= needed
        for one, mark in marks.items():
            if one != task.right and "jack" not in one and "bent" not in one:
                assert (mark / 2 if "pair" in one else mark) < needed
            if "pair" in one:
                assert f"each is good for {mark / 2:.0f}\xa0kg" in task.reasons[one]
        assert any("jack" in one and "does not hold" in task.reasons[one] for one in task.choices)
        assert level == "easy" or any("pair" in one for one in task.choices)


def test_no_stand_of_the_workshop_carries_everything() -> None:
    with pytest.raises(ValueError, match="at most 6000 kg"):
        smallest_size_kg(6001)


def test_a_load_is_typed_in_pounds_and_nonsense_is_answered_in_a_sentence(mine: Progress) -> None:
    made = StandRating(progress=mine)
    right = stand_load_kg(made.asked.case.vehicle, made.asked.case.axle)
    for typed in ("", "heavy", "3 mm", "1e99"):
        made.check_number(typed)
        assert made.reply().count(".") <= 2 and not mine.tallies(), typed
    made.check_number(f"{right / 0.45359237:.0f} lb")
    assert "Right:" in made.reply() and tries(mine) == (1, 1)


# ------------------------------------------------------------------ what comes first


@pytest.mark.parametrize("topic", PARTS_ASKED)
@pytest.mark.parametrize("level", LEVELS)
def test_the_right_answer_keeps_the_trades_rules(topic: str, level: Difficulty) -> None:
    tied, reasons = implied_pairs(precedence()), {rule.reason for rule in precedence()}
    for draw in draws(60):
        task = before_what_task(topic, level, draw)
        one, other = (name for name, _ in task.case)
        if EITHER not in task.choices:  # the reason is asked
            assert set(task.choices) <= reasons and len(task.choices) == 3
            (rule,) = [rule for rule in precedence() if {rule.before, rule.after} == {one, other}]
            assert task.right == rule.reason
        elif task.right == EITHER:
            assert level != "easy" and (one, other) not in tied and (other, one) not in tied
        else:
            first = SHORT[task.right]
            then = other if first == one else one
            assert check_order([first, then]) == () and check_order([then, first])
            assert task.reasons[EITHER].startswith("There is a rule.")


def test_easier_questions_are_about_slips_that_hurt() -> None:
    for topic in PARTS_ASKED:
        for draw in draws(20):
            task = before_what_task(topic, "easy", draw)
            wrong = next(one for one in task.choices if one not in (task.right, EITHER))
            assert task.reasons[wrong].endswith(DANGER)


# ------------------------------------------------------------------ the whole job


@pytest.mark.parametrize("level", STEPS_OF_THE_WHOLE)
def test_a_board_of_the_whole_job_has_its_number_of_steps_and_can_be_done(level: str, mine: Progress) -> None:
    made = OrderTheJob(progress=mine, session=4)
    made.offers.difficulty.value = level
    for _ in range(3):
        assert len(made.board.steps) == STEPS_OF_THE_WHOLE[level]
        for step in made.board.right:
            made.list.cards.value = step
            made.add()
        assert made.done
        made.new_board()
    assert tries(mine) == (3, 3)


def test_boards_of_the_whole_job_differ_and_always_bring_the_worst_slips() -> None:
    seen = {kept_steps(12, draw) for draw in draws(30)}
    assert len(seen) > 20
    assert all({"loosen_nuts", "open_bleeder", "pump_pedal", "wet_dust"} <= set(one) for one in seen)
    assert all(set(one) <= set(sub_job(WHOLE_JOB).ids) and len(one) == 12 for one in seen)
    hurting = {step for rule in precedence() if rule.safety_critical for step in (rule.before, rule.after)}
    assert all(len(hurting & set(one)) >= 10 for one in seen)  # the four pairs, and half of the others


@pytest.mark.parametrize(
    ("early", "reason"),
    [
        ("lift_vehicle", "A hard pull can bring a raised vehicle down."),
        ("push_piston", "A shut bleeder sends old fluid and dirt into the ABS unit."),
        ("first_move", "Until the pedal is firm there is no brake."),
        ("caliper_off", "Dust that is wet does not fly when parts are moved."),
    ],
)
def test_the_common_slips_are_named_and_told_as_dangerous(early: str, reason: str, mine: Progress) -> None:
    made = OrderTheJob(progress=mine)
    made.board = made.draw_board(WHOLE_JOB, "easier", Draw(1))
    made.order, made.waiting = [], list(made.board.steps)
    made._show_cards()
    while (step := made.board.right[len(made.order)]) != early:
        if reason in " ".join(fault.words for fault in made.board.judge((early, *made.order, step))):
            break
        made.list.cards.value = step
        made.add()
    made.list.cards.value = early
    made.add()
    assert reason in made.reply() and made.reply().startswith("Not yet. “") and DANGER in made.reply()


# ------------------------------------------------------------------ the worked example


def test_a_slip_is_shown_with_its_reason_and_a_sound_order_is_refused() -> None:
    shown = worked_order.show_slip("lift_vehicle", "loosen_nuts")
    assert "A hard pull can bring a raised vehicle down." in shown.text and DANGER in shown.text
    with pytest.raises(ValueError, match="breaks a rule"):
        worked_order.show_slip("loosen_nuts", "lift_vehicle")


def test_the_pools_pad_jobs_follow_from_its_wear() -> None:
    """By hand for one vehicle: metal to the minimum, over the wear of a year."""
    van = motor_pool()["library_van"]
    years = [(pad.lining_new_mm - pad.minimum_mm) / (pad.wear_mm_per_1000km * van.km_per_year / 1000)
             for pad in (van.front.pad, van.rear.pad)]  # fmt: skip
    assert worked_order.pad_jobs_a_week({"v": van}) == pytest.approx(sum(1 / one for one in years) / 52)
    # 29 CFR 1910.1001 Appendix F: up to 5 pairs a week the simple wet method may be used.
    assert worked_order.pad_jobs_a_week(motor_pool()) < value("dust_wet_method_jobs_max").value == 5


def test_which_of_two_comes_first_is_yes_or_no() -> None:
    assert worked_order.comes_first("wet_dust", "caliper_off") == 1
    assert worked_order.comes_first("caliper_off", "wet_dust") == 0
