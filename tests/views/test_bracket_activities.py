"""The activities of lesson 09: drag and wear, grease and gap, the part at fault, the bench, the order."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench._forces import SERVICE_PRESSURE_MPA, service_clamp_n
from brakecourse.bench.draw import Draw
from brakecourse.bench.parts import SlidePin
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.slide_pins import (
    free_volume_ml,
    grease_limit_ml,
    pad_force_split_n,
    seated_gap_mm,
    wear_ratio,
)
from brakecourse.views import bracket_case as found
from brakecourse.views import bracket_worked as worked
from brakecourse.views.activity import Activity
from brakecourse.views.bracket_bench_tasks import AMOUNT, BOOTS, BORES, CLIPS, KIND, bench_task
from brakecourse.views.bracket_bench_tasks import TOPICS as BENCH_TOPICS
from brakecourse.views.bracket_case import FAULTS, draw_bracket, look_of
from brakecourse.views.bracket_drag import PinDrag
from brakecourse.views.bracket_grease import GreaseFill
from brakecourse.views.bracket_order import BRACKET, PIN, PIN_STEPS, ServiceOrder, pin_board
from brakecourse.views.bracket_quizzes import TOPICS, BenchChoice, BoreSums, SplitSums, WhichPart, fault_task
from brakecourse.views.bracket_reasons import fault_reason
from brakecourse.views.bracket_replies import force_reply, free_reply, gap_reply, limit_reply, ratio_reply
from brakecourse.views.bracket_sum_tasks import BORE_TOPICS, SPLIT_TOPICS, bore_task, split_task
from brakecourse.views.plan import plan
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import Task
from brakecourse.views.replies import Reply
from brakecourse.views.sequence_board import ALL_AT_ONCE
from brakecourse.views.units import asked_unit

LEVELS: tuple[Difficulty, ...] = ("easy", "normal", "hard")
KINDS: dict[str, type[Activity]] = {
    "pin-drag": PinDrag,
    "split-sums": SplitSums,
    "grease-fill": GreaseFill,
    "bore-sums": BoreSums,
    "which-part": WhichPart,
    "bench-choice": BenchChoice,
    "service-order": ServiceOrder,
}
VAN_PIN = SlidePin(10.3, 56, 10.0, 47)
DRAGS = (930.0, 700.0)


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def tries(mine: Progress) -> tuple[int, int]:
    (tally,) = mine.tallies()
    return tally.tries, tally.right


def typed_answer(answer: str) -> str:
    found_number = re.match(r"\d+(\.\d+)?", answer)
    assert found_number, answer
    return found_number[0]


# All of them.


def test_the_plan_names_each_activity_of_the_lesson() -> None:
    rows = {one.activity: one for one in plan() if one.lesson == "09_bracket_and_pins"}
    assert list(rows) == list(KINDS)
    assert all(
        rows[name].title == kind.title and kind.lesson == rows[name].lesson for name, kind in KINDS.items()
    )


@pytest.mark.parametrize("name", KINDS)
def test_a_reply_is_quick(name: str, mine: Progress) -> None:
    one = KINDS[name](name, progress=mine)
    begun = time.perf_counter()
    for _ in range(5):
        one.refresh()
    assert (time.perf_counter() - begun) / 5 < 0.03


@pytest.mark.parametrize("name", ["pin-drag", "split-sums", "grease-fill", "bore-sums"])
@pytest.mark.parametrize("typed", ["", "much", "nan", "inf", "1 000 000 000", "3 psi"])
def test_bad_input_gets_one_sentence_and_does_not_count(name: str, typed: str, mine: Progress) -> None:
    one: Any = KINDS[name](name, progress=mine)
    (one.check_number if hasattr(one, "check_number") else one.check)(typed)
    assert one.reply().endswith((".", ".”")) and len(re.findall(r"\. [A-Z]", one.reply())) == 0
    assert not mine.tallies()


# Numbers.


def test_everyday_pressure_is_the_benchs_own() -> None:
    assert found.EVERYDAY_MPA == SERVICE_PRESSURE_MPA
    for kind in (found.DRY, found.PISTON):
        case = draw_bracket(kind, "normal", Draw(5))
        if case.brake.axle == "front":
            assert case.clamp_n == pytest.approx(service_clamp_n(case.brake, 1.0))


@pytest.mark.parametrize("level", LEVELS)
def test_many_number_tasks_have_an_answer_that_is_right_and_is_not_given_away(level: Difficulty) -> None:
    for seed in range(25):
        tasks = [bore_task(topic, level, Draw(seed)) for topic in BORE_TOPICS]
        tasks += [split_task(topic, level, Draw(seed)) for topic in SPLIT_TOPICS]
        for task in tasks:
            number = typed_answer(task.answer)
            reply = task.rule(float(number))
            assert reply.right, (task.question, task.answer, reply.words)
            told = " ".join([task.question, *(cell for row in task.evidence for cell in row)])
            assert f" {number} {asked_unit(task.unit).symbol}" not in told.replace("\xa0", " ")
            assert not task.rule(0.5 * float(number)).right and not task.rule(-1.0).right


def area(d: float) -> float:
    return 3.14159265 / 4 * d**2


FREE, LIMIT = free_volume_ml(10.3, 56, 10, 47), grease_limit_ml(10.3, 56, 10, 47)
OVER = 1000 * (1.26 - FREE)
RATIO = wear_ratio(3828, sum(DRAGS))


@pytest.mark.parametrize(
    ("reply", "words"),
    [
        (lambda: free_reply(area(10.3) * 0.056, VAN_PIN), "whole bore"),
        (lambda: free_reply(area(10) * 0.047, VAN_PIN), "pin alone"),
        (lambda: free_reply(4 * FREE, VAN_PIN), "diameter for the radius"),
        (lambda: free_reply(area(10.3) * 0.009, VAN_PIN), "below the pin only"),
        (lambda: free_reply((area(10.3) - area(10)) * 0.056, VAN_PIN), "bore's depth for the pin"),
        (lambda: free_reply((area(10.3) - area(10)) * 0.047, VAN_PIN), "thin ring round the pin only"),
        (lambda: free_reply(1000 * FREE, VAN_PIN), "cubic millimetres"),
        (lambda: limit_reply(FREE, VAN_PIN), "packs the bore full"),
        (lambda: limit_reply(area(10.3) * 0.056, VAN_PIN), "without the pin"),
        (lambda: limit_reply(area(10.3) * 0.028, VAN_PIN), "First subtract the pin"),
        (lambda: limit_reply(LIMIT / 2, VAN_PIN), "half as much"),
        (lambda: limit_reply(4 * LIMIT, VAN_PIN), "diameter for the radius"),
        (lambda: gap_reply(1260 / area(10), 1.26, VAN_PIN), "all the grease"),
        (lambda: gap_reply(1000 * (1.26 - LIMIT) / area(10), 1.26, VAN_PIN), "from the most grease"),
        (lambda: gap_reply(OVER / area(10.3), 1.26, VAN_PIN), "area of the bore"),
        (lambda: gap_reply(OVER / (area(10.3) - area(10)), 1.26, VAN_PIN), "thin ring"),
        (lambda: gap_reply(OVER / area(20), 1.26, VAN_PIN), "diameter for the radius"),
        (lambda: force_reply(3828, 3828, DRAGS), "inner pad"),
        (lambda: force_reply(3828 + 1630, 3828, DRAGS), "added the drag"),
        (lambda: force_reply(1630, 3828, DRAGS), "what the pins hold back"),
        (lambda: force_reply(3828 - 930, 3828, DRAGS), "leading pin only"),
        (lambda: force_reply(3828 - 700, 3828, DRAGS), "trailing pin only"),
        (lambda: force_reply(3828 - 3260, 3828, DRAGS), "twice"),
        (lambda: force_reply(2198 / 2, 3828, DRAGS), "half of it"),
        (lambda: force_reply(2 * 3828 - 1630, 3828, DRAGS), "doubled"),
        (lambda: force_reply(6000 / 2 - 1630, 6000, DRAGS, 2), "one piston only"),
        (lambda: ratio_reply(1 / RATIO, 3828, DRAGS), "wrong way round"),
        (lambda: ratio_reply(3828 / 1630, 3828, DRAGS), "by the drag"),
        (lambda: ratio_reply(1630 / 3828, 3828, DRAGS), "drag by the piston"),
        (lambda: ratio_reply((3828 + 1630) / 3828, 3828, DRAGS), "added the drag"),
        (lambda: ratio_reply(3828 / (3828 - 930), 3828, DRAGS), "left out the trailing"),
        (lambda: ratio_reply(3828 / (3828 - 700), 3828, DRAGS), "left out the leading"),
        (lambda: ratio_reply(RATIO - 1, 3828, DRAGS), "one more"),
    ],
)
def test_each_slip_is_named(reply: Callable[[], Reply], words: str) -> None:
    said = reply()
    assert not said.right and words in said.words, said.words


@pytest.mark.parametrize(
    ("reply", "words"),
    [
        (lambda: free_reply(FREE, VAN_PIN), "0.97"),
        (lambda: limit_reply(0.49, VAN_PIN), "0.49"),
        (lambda: gap_reply(3.6, 1.26, VAN_PIN), "3.6"),
        (lambda: force_reply(2198, 3828, DRAGS), "2198"),
        (lambda: ratio_reply(1.74, 3828, DRAGS), "1.74"),
    ],
)
def test_the_right_number_is_right_with_its_sum(reply: Callable[[], Reply], words: str) -> None:
    assert reply().right and reply().words.startswith(f"Right: {words}")


def test_the_explorer_shows_less_for_the_outer_pad_and_its_slower_wear(mine: Progress) -> None:
    one = PinDrag(progress=mine)
    assert "alike" in one.words() and one.linings_mm == (12.0, 12.0)
    still = one.picture()
    one.drag.value, one.distance.value = 1850, 20000
    inner, outer = one.linings_mm
    assert one.picture() != still
    assert (12 - inner) / (12 - outer) == pytest.approx(wear_ratio(one.clamp_n, 1850))
    assert one.split == pad_force_split_n(one.clamp_n, 1850)
    one.pressure.value = 0.5
    assert "not pressed at all" in one.words()
    one.check("2")
    assert "no ratio" in one.reply() and not mine.tallies()
    one.distance.value = 40000
    assert one.linings_mm[0] == 0 and "used up" in one.words()
    one.new_task()
    assert one.vehicle.key != "meals_delivery_van" and one.distance.value == 0


def test_progress_is_counted_once_for_each_setting(mine: Progress) -> None:
    one = PinDrag(progress=mine)
    one.drag.value = 1000
    right = f"{wear_ratio(one.clamp_n, 1000):.2f}"
    for typed in ("0.74", "0.74", right, right):
        one.check(typed)
    assert tries(mine) == (2, 1)


def test_the_bore_fills_and_the_pin_comes_out(mine: Progress) -> None:
    one = GreaseFill(progress=mine)
    words = []
    for grease in (0.0, 0.5, 1.3):
        one.grease.value = grease
        words.append(one.words())
    assert "dry" in words[0] and "some air" in words[1] and "No air" in words[2]
    assert not re.search(r"0\.4[89]|0\.97", " ".join(words) + str(one.facts()) + one.opening())
    one.check("0.97")
    assert "packs the bore full" in one.reply()
    one.check("0.49")
    assert (
        one.reply().startswith("Right") and f"{seated_gap_mm(1.3, 10.3, 56, 10, 47):.1f} mm (" in one.reply()
    )
    assert tries(mine) == (2, 1)
    for _ in range(len(one.order)):
        one.new_task()
        one.grease.value = one.grease.slider.max
        assert "No air" in one.words() and one.picture()
        one.more()
        assert one.grease.value == one.grease.slider.max


# Which part?


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("fault", FAULTS)
def test_what_is_at_fault_shows_and_each_choice_has_its_own_reason(fault: str, level: Difficulty) -> None:
    topic = next(topic for topic, kinds in TOPICS.items() if fault in kinds)
    for seed in range(12):
        case = draw_bracket(fault, level, Draw(seed))
        task = fault_task(topic, case, level, Draw(seed).child("c"))
        assert task.right == fault and len(task.choices) == 5
        assert fault not in task.question and fault not in str(task.evidence)
        reasons = [fault_reason(case, one) for one in FAULTS]
        assert all(reason.endswith(".") and "  " not in reason for reason in reasons)
        look = look_of(case)
        seen = {
            found.DRY: all(pin.scored and pin.grease_share < 0.6 for pin in look.pins),
            found.SEIZED: sum(pin.scored for pin in look.pins) == 1
            and not any(p.boot_torn for p in look.pins),
            found.PACKED: max(pin.grease_share for pin in look.pins) > 1.2,
            found.SWAPPED: look.pins[0].flat and not look.pins[1].flat,
            found.RUST: max(look.clip_rust_mm) > 0.25,
            found.PISTON: not look.piston_boot_torn,
            found.PIN_BOOT: sum(pin.boot_torn for pin in look.pins) == 1,
            found.PISTON_BOOT: look.piston_boot_torn,
            found.SOUND: not any(pin.scored or pin.boot_torn for pin in look.pins) and look.pins[1].flat,
        }
        assert seen[fault], (case.vehicle.name, case.wheel, look)
        clean = {found.PACKED, found.PIN_BOOT, found.PISTON_BOOT, found.SWAPPED, found.RUST} - {fault}
        assert not any(seen[other] for other in clean)


def test_a_cause_is_told_from_what_followed_from_it() -> None:
    torn = draw_bracket(found.PIN_BOOT, "normal", Draw(3))
    assert "let the water in" in fault_reason(torn, found.SEIZED)
    piston = draw_bracket(found.PISTON_BOOT, "normal", Draw(3))
    assert "boot is not whole" in fault_reason(piston, found.PISTON)
    rust = draw_bracket(found.RUST, "normal", Draw(3))
    assert "A new clip on that rust binds as well" in fault_reason(rust, found.RUST)


def test_the_quiz_for_the_part_counts_the_first_answer_and_names_no_topic(mine: Progress) -> None:
    one = WhichPart("which-part", session=4, progress=mine)
    task = one.asked
    assert isinstance(task, Task)
    wrong = next(choice for choice in task.choices if choice != task.right)
    for choice in (wrong, task.right):
        one.chosen.value = choice
        one.check()
    assert one.reply().startswith("Right") and tries(mine) == (1, 0)
    assert not any(topic in one._next.value for topic in one.topics)


# The bench.


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("topic", BENCH_TOPICS)
def test_every_moment_at_the_bench_has_reasons_and_no_fixed_place_for_the_right_one(
    topic: str, level: Difficulty
) -> None:
    tasks = [bench_task(topic, level, Draw(seed)) for seed in range(12)]
    assert len({task.choices.index(task.right) for task in tasks}) > 1
    assert len({task.question for task in tasks}) > 2
    assert all(len(task.choices) == (3 if level == "easy" else 4) for task in tasks)


@pytest.mark.parametrize(
    ("topic", "chosen", "reason"),
    [
        (CLIPS, "Snap the new clips in", "New clips over rust are lifted"),
        (BORES, "put them in either way", "one rattles and the other binds"),
        (KIND, "petroleum", "swells the rubber"),
        (KIND, "Engine oil", "swells the rubber"),
        (AMOUNT, "so that no room is left", "no air is left"),
        (AMOUNT, "to the brim", "short"),
        (BOOTS, "Fresh grease only", "washes that grease out"),
    ],
)
def test_the_four_bad_habits_are_explained(topic: str, chosen: str, reason: str) -> None:
    task = bench_task(topic, "normal", Draw(2))
    (habit,) = (one for one in task.choices if chosen in one)
    assert habit != task.right and reason in task.reasons[habit]


# The order.


def test_the_bracket_board_is_the_trades_and_clips_over_rust_are_refused(mine: Progress) -> None:
    one = ServiceOrder("service-order", session=1, progress=mine)
    assert one.board.topic == BRACKET
    one.list.cards.value = "renew_clips"
    one.add()
    assert one.reply().startswith("Not yet") and one.order == []
    one.offers.way.value = ALL_AT_ONCE
    one.offers.topic.value = BRACKET
    ids = list(one.board.right)
    early = ids.index("clean_bracket"), ids.index("renew_clips")
    ids[early[0]], ids[early[1]] = ids[early[1]], ids[early[0]]
    one.order = ids
    one.check()
    assert "Rust under a clip lifts it" in one.reply()


def test_each_rule_of_one_pin_is_told_when_it_is_broken(mine: Progress) -> None:
    board = pin_board()
    assert board.judge(board.right) == []
    told = set()
    for nth in range(1, len(board.right)):
        for to in range(nth):
            moved = [step for step in board.right if step != board.right[nth]]
            moved.insert(to, board.right[nth])
            told |= {fault.words for fault in board.judge(tuple(moved))}
    assert len(told) == 9
    assert any("Swapped, one binds and one rattles" in words for words in told)
    one = ServiceOrder("service-order", session=1, progress=mine)
    one.offers.topic.value = PIN
    for step in PIN_STEPS:
        one.list.cards.value = step
        one.add()
    assert one.done and "air is left" in one.reply() and tries(mine) == (1, 1)


# The worked example.


def test_the_lessons_van_has_dry_pins_left_and_a_packed_bore_right() -> None:
    left, right = worked.van()
    assert left.gaps_mm == (0.0, 0.0) and max(right.gaps_mm) > 3
    pads = left.condition.wheel("front left").pads
    ratio = pads.inner_worn_mm / pads.outer_worn_mm
    assert ratio == pytest.approx(wear_ratio(left.clamp_n, sum(left.slides_n())), rel=0.03)
    assert worked.packed_ml(right) == 1.26
