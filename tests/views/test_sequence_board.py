"""The board of steps, driven as a learner drives it: choose, move, drop, check, and read the reply."""

from __future__ import annotations

import random
import time
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.trade.job_order import PART_NAMES, a_good_order, check_order, missing, sub_job
from brakecourse.views.board_rules import (
    DANGER,
    Board,
    Fault,
    check_words,
    faults_of_next,
    marks_of,
    right_order,
    start_order,
    wrong_words,
)
from brakecourse.views.card_drag import CardDrag
from brakecourse.views.job_boards import job_board
from brakecourse.views.progress import Progress
from brakecourse.views.sequence_board import ALL_AT_ONCE, SequenceBoard

LESSON = "01_job_order"


def judge_pins(order: tuple[str, ...]) -> list[Fault]:
    """Wash before dry before oil; to oil a pin that is not dry is dangerous."""
    rules = (("wash", "dry", False), ("dry", "oil", True))
    place = {one: number for number, one in enumerate(order)}
    return [
        Fault(later, f"First {first}.", danger, first)
        for first, later, danger in rules
        if first in place and later in place and place[later] < place[first]
    ]


PINS = Board(
    "pins",
    {"oil": "Oil the pin.", "wash": "Wash the pin.", "dry": "Dry the pin."},
    judge_pins,
    praise="The pin will slide.",
    notes={"wash": "Wear gloves."},
)


class Pins(SequenceBoard):
    """Three steps."""

    title = "Pins"
    task = "Put them in order."
    lesson = LESSON
    topics = ("pins",)

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        return PINS


class Parts(SequenceBoard):
    """Any part of the job."""

    title = "Parts"
    task = "Put them in order."
    lesson = LESSON
    topics = PART_NAMES[1:]

    def draw_board(self, topic: str, difficulty: str, draw: Draw) -> Board:
        return job_board(topic)


def board(folder: Path, kind: type[SequenceBoard] = Pins, **more: Any) -> SequenceBoard:
    return kind(progress=Progress(folder / "progress.json"), **{"session": 3, **more})


def choose(one: SequenceBoard, card: str) -> None:
    one.list.cards.value = card
    one.add()


def tries(one: SequenceBoard) -> tuple[int, int]:
    (tally,) = one._record.tallies()
    return tally.tries, tally.right


# ------------------------------------------------------------------ one by one


def test_a_right_order_is_built_step_by_step(tmp_path: Path) -> None:
    one = board(tmp_path)
    assert one.one_by_one and one.order == [] and sorted(one.waiting) == ["dry", "oil", "wash"]
    choose(one, "wash")
    assert one.reply() == "Right. Wear gloves." and one.order == ["wash"]
    choose(one, "dry")
    assert one.reply() == "Right." and not one.done
    choose(one, "oil")
    assert one.done and one.reply() == "Right: every step is in a safe order. The pin will slide."
    (left,) = one.list.children[1].children  # nothing asks for a next step any more
    assert "The board is finished" in left.value and one.list.cards.layout.display == "none"
    assert tries(one) == (1, 1)
    one.add()
    assert "finished" in one.reply() and tries(one) == (1, 1)


def test_a_wrong_step_stays_and_the_danger_is_told(tmp_path: Path) -> None:
    one = board(tmp_path)
    choose(one, "oil")
    assert one.reply() == f"Not yet. First dry. {DANGER}"
    assert one.order == [] and "oil" in one.waiting
    choose(one, "dry")
    assert one.reply() == "Not yet. First wash."
    for card in ("wash", "dry", "oil"):
        choose(one, card)
    assert one.done and tries(one) == (1, 0)  # counted once, with its first wrong move


def test_the_words_and_the_picture_do_not_tell_what_comes_next(tmp_path: Path) -> None:
    one = board(tmp_path, Parts)
    told = one.words() + one.opening()
    assert not any(step.words in told for step in sub_job(PART_NAMES[1]).operations)
    assert "too early" not in one.picture()
    assert one.waiting != list(a_good_order(PART_NAMES[1]))


@pytest.mark.parametrize("part", PART_NAMES[1:])
def test_every_part_can_be_done_by_the_trades_own_order(part: str, tmp_path: Path) -> None:
    one = board(tmp_path, Parts)
    one.offers.topic.value = part
    for step in a_good_order(part):
        choose(one, step)
    assert one.done and one.reply().startswith("Right: every step")
    assert one.results[part] == (True,)


@pytest.mark.parametrize("part", PART_NAMES[1:])
def test_a_step_may_come_next_exactly_when_the_trade_says_so(part: str) -> None:
    """Against the trade's own judging of whole orders: a step is free if some right order begins this way."""
    made, chance = job_board(part), random.Random(5)
    order = list(a_good_order(part))
    for done in range(len(order)):
        card = chance.choice(order[done:])
        rest = [step for step in order[done:] if step != card]
        breaks = [found for found in check_order([*order[:done], card, *rest], part) if found.after == card]
        assert bool(faults_of_next(made, order[:done], card)) == bool(breaks)


# ------------------------------------------------------------------ all at once


def test_cards_are_moved_checked_and_marked(tmp_path: Path) -> None:
    one = board(tmp_path)
    one.offers.way.value = ALL_AT_ONCE
    assert sorted(one.order) == ["dry", "oil", "wash"] and one.waiting == [] and not one.done
    for place, card in enumerate(("oil", "dry", "wash")):
        one._place(card, place)
    one.check()
    assert one.reply() == f"Not yet: 2 cards come too early. One of them: First dry. {DANGER}"
    assert one.marks == {"oil": "danger: too early", "dry": "too early"}
    assert "danger: too early" in one.picture()
    one.list.cards.value = "wash"
    one.move(-1)
    one.move(-1)
    one.move(-1)  # already at the top
    assert one.order == ["wash", "oil", "dry"] and one.card == "wash" and one.marks == {}
    assert one.reply() == "It is step 1 of 3 now."
    one.list.cards.value = "oil"
    one.move(1)
    one.move(1)  # already at the bottom
    one.check()
    assert one.done and one.reply().startswith("Right: every step") and tries(one) == (1, 0)
    one.check()
    assert tries(one) == (1, 0)


def test_the_first_check_counts_as_right_and_a_streak_is_told(tmp_path: Path) -> None:
    one = board(tmp_path)
    one.offers.way.value = ALL_AT_ONCE
    for number in (1, 2):
        one.order[:] = ["wash", "dry", "oil"]
        one.check()
        assert ("2 right in a row" in one.reply()) == (number == 2)
        one.new_board()
    assert tries(one) == (2, 2)


# ------------------------------------------------------------------ the mouse


def test_a_click_does_a_step_next_and_a_drop_moves_a_card(tmp_path: Path) -> None:
    one = board(tmp_path)
    one.dropped("oil", "oil")
    assert one.reply().startswith("Not yet")
    one.dropped("wash", "wash")
    one.dropped("dry", "wash")  # dropped onto the laid row
    assert one.order == ["wash", "dry"]
    one.dropped("wash", "oil")  # a laid card stays
    one.dropped("oil", "nothing")
    one.dropped("stranger", "oil")
    assert one.order == ["wash", "dry"]
    one.offers.way.value = ALL_AT_ONCE
    first, _, last = one.order
    one.dropped(first, last)
    assert one.order[2] == first


def test_the_helper_passes_on_only_what_it_knows(tmp_path: Path) -> None:
    heard: list[tuple[str, str]] = []
    helper = CardDrag(lambda card, onto: heard.append((card, onto)))
    for content in ({"card": "a", "onto": "b"}, {"card": "a"}, "a", None):
        helper._receive(None, content, None)
    assert heard == [("a", "b")]
    (own,) = [child for child in board(tmp_path).children if isinstance(child, CardDrag)]
    assert own.layout.display == "none"


# ------------------------------------------------------------------ boards without end


def test_the_right_order_is_shown_on_demand_and_then_counts_as_not_right(tmp_path: Path) -> None:
    one = board(tmp_path)
    one.show_order()
    assert one.order == ["wash", "dry", "oil"] and "right order" in one.reply() and tries(one) == (1, 0)
    assert one.list.cards.layout.display == "none"
    one.new_board()
    assert one.order == [] and one.list.cards.layout.display is None


def test_the_first_board_is_fixed_and_a_weak_part_comes_more_often(tmp_path: Path) -> None:
    pages = [board(tmp_path, Parts, session=n)._repr_mimebundle_()["text/html"] for n in (1, 2)]
    assert pages[0] == pages[1]
    one = board(tmp_path, Parts)
    one._record.record(LESSON, "parts", "Parts", right=False, topic="bed in")
    came = []
    for _ in range(200):
        one.new_board()
        came.append(one.board.topic)
    assert 28 <= came.count("bed in") <= 75  # two shares of eight; four standard deviations
    assert "more likely bed in" in one._next.value
    one.offers.topic.value = "torque the wheel"
    assert one.board.topic == "torque the wheel" and "as you chose" in one._next.value


def test_a_control_with_one_choice_is_left_out(tmp_path: Path) -> None:
    class Plain(Pins):
        ways = (ALL_AT_ONCE,)

    assert board(tmp_path, Plain).offers.widgets == ()
    assert len(board(tmp_path).offers.widgets[0].children) == 1
    assert len(board(tmp_path, Parts).offers.widgets[0].children) == 2
    with pytest.raises(ValueError, match="needs at least one topic"):
        SequenceBoard(progress=Progress(tmp_path / "progress.json"))


def test_a_control_answers_at_once(tmp_path: Path) -> None:
    one = board(tmp_path, Parts)
    one.offers.way.value = ALL_AT_ONCE
    one.check()
    took = []
    for _ in range(20):
        begun = time.perf_counter()
        one.refresh()
        one.check()
        took.append(time.perf_counter() - begun)
    assert min(took) < 0.03


# ------------------------------------------------------------------ the rules of boards


def test_a_board_that_cannot_be_asked_is_refused() -> None:
    with pytest.raises(ValueError, match="At least two different cards"):
        Board("t", {"a": "One."}, judge_pins)
    with pytest.raises(ValueError, match="At least two different cards"):
        Board("t", {"a": "Same.", "b": "Same."}, judge_pins)
    with pytest.raises(ValueError, match="each card once"):
        Board("t", {"a": "One.", "b": "Two."}, judge_pins, right=("a",))
    stuck = Board("t", {"a": "One.", "b": "Two."}, lambda order: [Fault(order[0], "No.")])
    with pytest.raises(ValueError, match="No step may follow"):
        right_order(stuck)
    with pytest.raises(ValueError, match="'fly' is none of them"):
        job_board("bed in", ["fly"])


def test_the_right_order_is_found_or_the_boards_own() -> None:
    assert right_order(PINS) == ("wash", "dry", "oil")
    own = Board("t", PINS.steps, judge_pins, right=("oil", "dry", "wash"))
    assert right_order(own) == ("oil", "dry", "wash")


def test_the_cards_do_not_begin_in_a_right_order() -> None:
    assert all(judge_pins(tuple(start_order(PINS, Draw(seed)))) for seed in range(200))
    free = Board("t", PINS.steps, lambda _: [])
    assert sorted(start_order(free, Draw(1))) == sorted(PINS.steps)


def test_what_is_said_of_faults() -> None:
    plain, bad = Fault("a", "Plain."), Fault("a", "Bad.", dangerous=True)
    assert wrong_words([plain]) == "Not yet. Plain."
    assert wrong_words([plain, bad]) == check_words([plain, bad]) == f"Not yet. Bad. {DANGER}"
    two = [plain, Fault("b", "Other.")]
    assert check_words(two) == "Not yet: 2 cards come too early. One of them: Plain."
    assert marks_of([bad, plain, Fault("b", "Other.")]) == {"a": "danger: too early", "b": "too early"}


def test_steps_left_out_still_bind() -> None:
    made = job_board("lift the vehicle", ["chock_wheels", "lift_vehicle"])
    (fault,) = made.judge(("lift_vehicle", "chock_wheels"))
    assert fault.step == "lift_vehicle" and fault.first == "chock_wheels" and fault.dangerous
    assert missing(["chock_wheels", "lift_vehicle"], "lift the vehicle")


def test_a_direct_danger_is_told_before_one_by_way_of_steps_left_out() -> None:
    kept = ["push_piston", "caliper_on", "torque_nuts", "first_move"]
    faults = job_board("the whole job", kept).judge(
        ("first_move", "push_piston", "caliper_on", "torque_nuts")
    )
    assert len(faults) == 2 and all(fault.dangerous for fault in faults)
    assert faults[0].first == "torque_nuts" and "Left out" not in faults[0].words
    assert all("Left out between them here: “" in fault.words for fault in faults[1:])
    plain = job_board("retract the piston").judge(("open_bleeder", "push_piston", "wet_dust", "caliper_off"))
    assert [fault.dangerous for fault in plain] == sorted((f.dangerous for f in plain), reverse=True)


def test_a_danger_is_told_before_a_plain_slip() -> None:
    faults = job_board("lift the vehicle").judge(("lift_vehicle", "check_fluid", "loosen_nuts"))
    assert [(fault.first, fault.dangerous) for fault in faults] == [
        ("loosen_nuts", True),
        ("check_fluid", False),
    ]
