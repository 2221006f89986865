"""The activities of lesson 06, driven as a learner drives them."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.hose_cases import draw_hose_case
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.job_order import a_good_order
from brakecourse.views.bleeder_state import BleederState, moment_task
from brakecourse.views.bleeder_table import BARE, CHOICES, MOMENTS, OPEN, SHUT
from brakecourse.views.bleeder_table import TOPICS as MOMENT_TOPICS
from brakecourse.views.caliper_support import GO_ON, HELD, OFF_HOSE, RIGHT, CaliperSupport, hung_task
from brakecourse.views.hose_check import HoseCheck, look_svg, look_task
from brakecourse.views.hose_reasons import KEEP_BOOTS, KEEP_BORE, KEEP_HOSE, OVERHAUL, PART_OF, RENEW_HOSE
from brakecourse.views.hose_reasons import TOPICS as LOOK_TOPICS
from brakecourse.views.plan import plan
from brakecourse.views.progress import Progress
from brakecourse.views.retract_bench import LESSON, RetractionBench
from brakecourse.views.retract_cases import draw_push_back, worked_case
from brakecourse.views.retract_order import PART, OrderTheRetraction
from brakecourse.views.retract_replies import AFTER_PRESS, WITH_PRESS, Way, way_reply
from brakecourse.views.retract_replies import OPEN as WAY_OPEN
from brakecourse.views.retract_replies import SHUT as WAY_SHUT
from brakecourse.views.retract_sums import LEVEL, TOPICS, TRAVEL, VOLUME, RetractionSums, sum_task

LEVELS: tuple[Difficulty, ...] = ("easy", "normal", "hard")
KINDS = (RetractionBench, RetractionSums, BleederState, OrderTheRetraction, HoseCheck, CaliperSupport)


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def draws(many: int) -> Iterator[Draw]:
    return (Draw(seed) for seed in range(many))


def tries(mine: Progress) -> tuple[int, int]:
    (tally,) = mine.tallies()
    return tally.tries, tally.right


def plain(words: str) -> str:
    return words.replace("\xa0", " ")


# ------------------------------------------------------------------ all of them


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_it_is_in_the_plan_by_its_name_and_title(kind: Any, mine: Progress) -> None:
    made = kind(progress=mine)
    (row,) = [one for one in plan() if (one.lesson, one.activity) == (LESSON, made.uid)]
    assert row.title == kind.title and made.counts_for == LESSON


@pytest.mark.usefixtures("somebody_listens")
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_it_shows_the_same_picture_and_sentence_without_a_kernel(kind: Any, mine: Progress) -> None:
    view = "application/vnd.jupyter.widget-view+json"
    shown = kind(progress=mine, session=1)._repr_mimebundle_()
    assert shown["text/plain"].endswith("(Run this cell to use it.)")
    again = kind(progress=mine, session=2)._repr_mimebundle_()
    assert {**shown, view: 0} == {**again, view: 0}
    assert not mine.tallies()


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_it_answers_at_once(kind: Any, mine: Progress) -> None:
    made, took = kind(progress=mine), []
    for _ in range(10):
        begun = time.perf_counter()
        made.refresh()
        took.append(time.perf_counter() - begun)
    assert min(took) < 0.03


# ------------------------------------------------------------------ the bench


def test_the_bench_from_the_worst_way_to_the_right_one(mine: Progress) -> None:
    bench = RetractionBench(progress=mine)
    bench.check()
    assert bench.reply().startswith("Nothing has been pushed") and not mine.tallies()
    bench.pushed.value = bench.case.travel_mm
    bench.check()
    assert "bleeder is shut" in bench.reply() and "42.8 mL" in plain(bench.reply())
    bench.bleeder.value, bench.shut_when.value = WAY_OPEN, AFTER_PRESS
    bench.check()
    assert "too late" in bench.reply() and "air" in bench.words() + bench.reply()
    bench.shut_when.value = WITH_PRESS
    bench.pushed.value = 10.0
    bench.check()
    assert "8.7 mm" in plain(bench.reply()) and "short of home" in bench.reply()
    bench.pushed.value = bench.case.travel_mm
    bench.check()
    assert bench.reply().startswith("Right")
    assert tries(mine) == (4, 1)
    bench.check()
    assert tries(mine) == (4, 1), "the same way counts once"


def test_the_bench_tells_where_each_millilitre_is() -> None:
    bench = RetractionBench()
    bench.pushed.value = 5.0
    facts = {row[0]: plain(row[1]) for row in bench.facts()}
    out = plain(facts["Fluid that has left the caliper"])
    assert facts["Of this back through the ABS unit"] == out and facts["Of this into the bottle"].startswith(
        "0.0 "
    )
    bench.bleeder.value = WAY_OPEN
    facts = {row[0]: plain(row[1]) for row in bench.facts()}
    assert facts["Of this into the bottle"] == out
    assert facts["Level in the reservoir"].startswith(f"{bench.case.level_mm:.1f} mm")


def test_the_press_stays_until_the_piston_is_home() -> None:
    bench = RetractionBench()
    bench.bleeder.value, bench.shut_when.value, bench.pushed.value = WAY_OPEN, AFTER_PRESS, 5.0
    assert 'data-part="press"' in bench.picture() and 'data-part="bubble"' not in bench.picture()
    bench.pushed.value = bench.case.travel_mm
    assert 'data-part="press"' not in bench.picture() and 'data-part="bubble"' in bench.picture()


def test_another_wheel_begins_anew_and_keeps_the_slider_in_range(mine: Progress) -> None:
    bench = RetractionBench(session=3, progress=mine)
    for _ in range(12):
        bench.pushed.value = bench.case.travel_mm
        bench.bleeder.value = WAY_OPEN
        bench.new_wheel()
        assert (bench.pushed.value, bench.bleeder.value) == (0.0, WAY_SHUT)
        assert bench.pushed.slider.max == bench.pushed.box.max == bench.case.travel_mm
        assert bench.words().endswith("Nothing has been pushed back yet.")
    assert not mine.tallies()


def test_the_air_is_what_the_clearance_lets_in() -> None:
    case = worked_case()
    caliper = case.brake.caliper
    by_hand = 3.14159265 / 4 * caliper.piston_bore_mm**2 * caliper.clearance_mm * caliper.pistons / 1000
    assert case.air_ml == pytest.approx(by_hand)
    assert f"{by_hand:.2f}" in way_reply(case, Way(case.travel_mm, True, True)).words


def test_a_reservoir_that_runs_over_is_told() -> None:
    over = [
        case
        for case in (draw_push_back(draw, "hard") for draw in draws(40))
        if case.level_mm + case.rise_mm(case.volume_ml) > case.height_mm
    ]
    case = over[0] if over else worked_case()
    words = way_reply(case, Way(case.travel_mm, False, False)).words
    assert ("runs over" in words) == bool(over)


# ------------------------------------------------------------------ the sums


@pytest.mark.parametrize("topic", TOPICS)
@pytest.mark.parametrize("level", LEVELS)
def test_the_right_number_is_right_and_slips_are_named(topic: str, level: Difficulty) -> None:
    for draw in draws(25):
        case = draw_push_back(draw, level)
        task = sum_task(topic, case, level)
        wheels = 2 if level == "hard" else 1
        right = {
            TRAVEL: case.travel_mm,
            VOLUME: case.volume_ml,
            LEVEL: case.rise_mm(wheels * case.volume_ml),
        }[topic]
        assert task.rule(round(right, 1)).right and task.rule(round(right, 1)).words.startswith("Right")
        assert not task.rule(right * 1.2 + 0.3).right
        assert f"{right:.1f}" in task.answer
        given = " ".join(cell for row in task.evidence for cell in row) + task.question
        assert not re.search(rf"(?<![\d.]){right:.1f}(?![\d])", given), (topic, given)


def test_each_slip_of_the_way_back_is_recognised() -> None:
    case = worked_case()
    rule = sum_task(TRAVEL, case, "normal").rule
    for typed, words in (
        (9.5, "inner pad alone"),
        (9.2, "outer pad alone"),
        (18.7 / 2, "mean wear of one pad"),
        (4.3, "old lining that is left"),
        (18.0, "least lining"),
        (23.0, "whole lining"),
        (3.0, "too small"),
    ):
        assert words in rule(typed).words, typed


def test_each_slip_of_the_volume_is_recognised() -> None:
    case = draw_push_back(Draw(2), "hard")
    rule, right = sum_task(VOLUME, case, "hard").rule, case.volume_ml
    for typed, words in (
        (4 * right, "diameter in the place of the radius"),
        (right * 1.2732, "bore by bore"),
        (1000 * right, "mm³"),
        (right / case.brake.caliper.pistons, "one piston"),
        (right * 0.7, "too small"),
    ):
        assert words in rule(typed).words, typed
    single = draw_push_back(Draw(2), "easy")
    assert "wear of both pads" in sum_task(VOLUME, single, "easy").rule(single.volume_ml / 2).words


def test_each_slip_of_the_level_is_recognised() -> None:
    case = draw_push_back(Draw(4), "normal")
    rule, right = sum_task(LEVEL, case, "normal").rule, case.rise_mm(case.volume_ml)
    assert "left out the thousand" in rule(right / 1000).words
    assert "Divide it by" in rule(case.volume_ml).words
    assert "two wheels" in rule(2 * right).words
    assert "one wheel" in sum_task(LEVEL, case, "hard").rule(right).words


@pytest.mark.parametrize("typed", ["", "a lot", "nan", "1,234", "18.7 mL", "1e99"])
def test_what_is_no_length_is_answered_in_one_sentence(typed: str, mine: Progress) -> None:
    quiz = RetractionSums(session=1, progress=mine)
    quiz.check_number(typed)
    assert quiz.reply().endswith(".") and not quiz.reply().startswith("Right") and not mine.tallies()


def test_inches_are_taken_and_it_counts_once(mine: Progress) -> None:
    quiz = RetractionSums(session=1, progress=mine)
    quiz.check_number(f"{quiz.asked.case.travel_mm / 25.4:.3f} in")
    assert "Right" in quiz.reply() and "You typed" in quiz.reply()
    quiz.check_number("3")
    assert tries(mine) == (1, 1)


# ------------------------------------------------------------------ the bleeder


def test_the_table_of_moments_is_whole() -> None:
    for moment in MOMENTS:
        assert {moment.right, *(one for one, _ in moment.wrong)} == set(CHOICES)
        for words in (moment.seen, moment.why, *(reason for _, reason in moment.wrong)):
            assert words[0].isupper() and words.endswith("."), words
        assert moment.right != BARE
        assert not re.search(r"must be (open|shut)", moment.seen)
    for topic in MOMENT_TOPICS:
        for level in LEVELS:
            assert any(one.topic == topic and level in one.levels for one in MOMENTS), (topic, level)


@pytest.mark.parametrize("level", LEVELS)
def test_every_moment_comes_up_with_its_bleeder_hidden(level: Difficulty, mine: Progress) -> None:
    seen = set()
    for topic in MOMENT_TOPICS:
        for draw in draws(40):
            task = moment_task(topic, level, draw)
            seen.add(task.case.moment.seen)
    assert seen == {one.seen for one in MOMENTS if level in one.levels}
    quiz = BleederState(session=1, progress=mine)
    for _ in range(8):
        quiz.new_case()
        assert 'data-part="bleeder"' not in quiz.picture()


def test_a_bleeder_shut_while_pushing_is_the_named_mistake(mine: Progress) -> None:
    quiz = BleederState(session=1, progress=mine)
    quiz.asked = next(
        task
        for task in (moment_task(MOMENT_TOPICS[1], "easy", draw) for draw in draws(9))
        if task.right == OPEN
    )
    quiz._show_answer_controls()
    quiz.chosen.value = SHUT
    quiz.check()
    assert "ABS unit" in quiz.reply()
    quiz.chosen.value = OPEN
    quiz.check()
    assert quiz.reply().startswith("Right") and tries(mine) == (1, 0)


# ------------------------------------------------------------------ the order


def test_the_order_from_a_wrong_move_to_the_end(mine: Progress) -> None:
    board = OrderTheRetraction(session=1, progress=mine)
    board.list.cards.value = "push_piston"
    board.add()
    assert "ABS unit" in board.reply() and board.order == []
    for step in a_good_order(PART):
        board.list.cards.value = step
        board.add()
    assert board.reply().startswith("Right: every step") and tries(mine) == (1, 0)


def test_pads_before_the_hook_are_the_named_mistake(mine: Progress) -> None:
    board = OrderTheRetraction(session=1, progress=mine)
    for step in ("look_for_leaks", "wet_dust", "caliper_off", "pads_out"):
        board.list.cards.value = step
        board.add()
    assert "hose that carries the caliper" in board.reply()


# ------------------------------------------------------------------ hose, boots, bore


@pytest.mark.parametrize("topic", LOOK_TOPICS)
@pytest.mark.parametrize("level", LEVELS)
def test_what_may_stay_follows_from_what_was_found(topic: str, level: Difficulty) -> None:
    rights = set()
    for draw in draws(30):
        case = draw_hose_case(PART_OF[topic], level, draw)
        task = look_task(topic, case, draw)
        rights.add(task.right)
        keeps = task.right in (KEEP_HOSE, KEEP_BOOTS, KEEP_BORE)
        fine = case.hose_may_stay if topic == LOOK_TOPICS[0] else case.kind is None
        assert keeps == fine
        assert set(task.reasons) == set(task.choices)
        assert all(words[0].isupper() and words.endswith(".") for words in task.reasons.values())
        svg = look_svg(case, uid="t")
        shown = ('data-part="drop"' in svg, "tear" in svg)
        wet = [one for one in case.there.wet_places if one != "hose" or topic == LOOK_TOPICS[0]]
        assert shown[0] == bool(wet)
    assert len(rights) >= 2


def test_a_collapsed_hose_is_told_from_the_table_and_not_from_the_picture(mine: Progress) -> None:
    for draw in draws(60):
        case = draw_hose_case("hose", "easy", draw)
        if case.hose_holds:
            break
    task = look_task(LOOK_TOPICS[0], case, draw)
    assert task.right == RENEW_HOSE and "collapsed inside" in task.reasons[RENEW_HOSE]
    assert 'data-part="cords"' not in look_svg(case, uid="t")
    assert len(task.evidence) == 4


def test_a_sticking_piston_has_its_two_forces_in_the_reason() -> None:
    for draw in draws(60):
        case = draw_hose_case("bore", "normal", draw)
        if case.piston_sticks:
            break
    task = look_task(LOOK_TOPICS[2], case, draw)
    assert task.right == OVERHAUL
    for one in (case.there, case.partner):
        assert f"{one.caliper.piston_push_back_n:.0f} N" in plain(task.reasons[OVERHAUL])


# ------------------------------------------------------------------ the hook


def test_each_way_of_hanging_has_its_own_answer() -> None:
    said = {held: choice.split(": ")[1] for held, choice in RIGHT.items()}
    assert said == {
        "hook": "go on",
        "strap": "go on",
        "hose": "its hose carries it",
        "arm": "it can slide off",
        "twisted": "its hose is twisted",
        "taut": "its hose is taut",
    }


@pytest.mark.parametrize("topic", HELD)
def test_every_way_of_hanging_comes_up_and_gets_its_reason(topic: str) -> None:
    seen = set()
    for draw in draws(60):
        task = hung_task(topic, draw)
        held = task.case.held
        seen.add(held)
        assert task.right == RIGHT[held] and not task.question.count("hose")
        assert len(set(task.reasons.values())) == len(task.choices)
    assert seen == set(HELD[topic])


def test_a_hose_that_carries_the_caliper_is_the_named_mistake(mine: Progress) -> None:
    quiz = CaliperSupport(session=1, progress=mine)
    quiz.asked = next(
        task for task in (hung_task("where its weight goes", d) for d in draws(60)) if task.right == OFF_HOSE
    )
    quiz._show_answer_controls()
    quiz.chosen.value = GO_ON
    quiz.check()
    assert "tear inside" in quiz.reply() and quiz.reply().startswith("Not yet")
