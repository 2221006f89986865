"""The activities of lesson 11: right answers are right, and each usual slip is named kindly.

Sources: 1 lbf·ft = 1.355 818 N·m (read in the published table of units); textbook statics for the extension;
Shigley's torque factor for clamp loads. Across and across is common practice, no source.
"""

from __future__ import annotations

import itertools
import math
import re
import time
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.shop_gauges import torque_wrench
from brakecourse.bench.vehicles import motor_pool
from brakecourse.published import value
from brakecourse.trade import fasteners
from brakecourse.views import torque_sums
from brakecourse.views.board_rules import right_order
from brakecourse.views.plan import plan
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import DIFFICULTIES, NumberTask, Quiz, Task
from brakecourse.views.torque_clamp import IMPACT, LOOSER, TOO_MUCH, WIDER, ClampLoad
from brakecourse.views.torque_extension import SetWithExtension, TryExtension
from brakecourse.views.torque_extension_tasks import ANGLED, GOT, STRAIGHT
from brakecourse.views.torque_judge import TorqueJudge
from brakecourse.views.torque_order import WHEELS, RefitOrder, WheelNutOrder, nut_board
from brakecourse.views.torque_preload import LOAD, OILED, SHARE, ClampSums
from brakecourse.views.torque_tolerance import OnTester
from brakecourse.views.torque_units import ConvertTorque, slips
from brakecourse.views.torque_words import nm
from brakecourse.views.torque_wrench_use import WRENCHES, ReadTorqueWrench, SetTorqueWrench

LESSON = "11_reassembly_and_torque"
NM_PER_LBFFT = 1.355818
QUIZZES: tuple[type[Quiz], ...] = (ConvertTorque, ReadTorqueWrench, SetWithExtension, ClampSums, TorqueJudge)
OTHERS = (SetTorqueWrench, TryExtension, RefitOrder, WheelNutOrder, ClampLoad)


def made(kind: Any, folder: Path, **more: Any) -> Any:
    return kind(progress=Progress(folder / "progress.json"), **more)


def asked(activity: Quiz, topic: str, difficulty: str, number: int) -> Any:
    """Put a case before the learner, and return the activity."""
    activity.asked = activity.draw_task(topic, DIFFICULTIES[difficulty], Draw(number).child("case"))
    activity.number += 1
    return activity


def cases(kind: type[Quiz], folder: Path, many: int = 25) -> Any:
    activity = made(kind, folder)
    for topic, difficulty in itertools.product(kind.topics, kind.difficulties):
        for number in range(many):
            yield topic, difficulty, asked(activity, topic, difficulty, number)


def tries(folder: Path) -> dict[str, tuple[int, int]]:
    return {one.activity: (one.tries, one.right) for one in Progress(folder / "progress.json").tallies()}


# --- what all of them keep -----------------------------------------------------------------------------


def test_the_table_lists_what_the_lesson_has(tmp_path: Path) -> None:
    listed = {one.activity: one.title for one in plan() if one.lesson == LESSON}
    assert listed == {made(kind, tmp_path).uid: kind.title for kind in (*QUIZZES, *OTHERS)}
    assert all(kind.lesson == LESSON for kind in (*QUIZZES, *OTHERS))


@pytest.mark.parametrize("kind", [*QUIZZES, *OTHERS], ids=lambda kind: kind.__name__)
def test_it_draws_and_replies_fast_enough_for_a_slider(kind: Any, tmp_path: Path) -> None:
    activity = made(kind, tmp_path)
    took = []
    for _ in range(5):
        begun = time.perf_counter()
        activity.refresh()
        took.append(time.perf_counter() - begun)
    assert min(took) < 0.03


@pytest.mark.parametrize("kind", QUIZZES, ids=lambda kind: kind.__name__)
def test_the_cases_of_a_session_hardly_repeat(kind: type[Quiz], tmp_path: Path) -> None:
    seen = {(a.asked.question, a.asked.evidence, str(a.asked.case)) for _, _, a in cases(kind, tmp_path, 12)}
    assert len(seen) > 30


# --- units ---------------------------------------------------------------------------------------------


def test_every_conversion_is_right_by_the_published_factors(tmp_path: Path) -> None:
    in_nm = {"N·m": 1.0, "lbf·ft": value("unit_lbfft_nm").value, "lbf·in": value("unit_lbfin_nm").value}
    for _, _, activity in cases(ConvertTorque, tmp_path):
        case = activity.asked.case
        right = case.value * in_nm[case.given] / in_nm[case.wanted]
        assert case.right == pytest.approx(right, rel=2e-5)
        assert activity.asked.rule(right).right
        shown = f"{right:.0f}" if right >= 100 else f"{right:.1f}"
        assert activity.asked.rule(float(shown)).right
        told = float(activity.asked.answer.split()[0])
        assert told == pytest.approx(right, abs=0.51 if right >= 100 else 0.051)
        assert shown not in activity.words().split()
        for sentence, number in slips(case):
            reply = activity.asked.rule(number)
            assert not reply.right and sentence in reply.words, (case, sentence, number)
        assert "Look at the levers" in activity.asked.rule(right * 1.31).words


def test_a_typed_unit_is_taken_and_the_given_one_refused(tmp_path: Path) -> None:
    activity = asked(made(ConvertTorque, tmp_path), "N·m to lbf·ft", "usual", 1)
    case = activity.asked.case
    activity.check_number(f"{case.value:g} N·m")
    assert "Convert it first" in activity.reply() and not tries(tmp_path)
    activity.check_number(f"{case.right:.1f} ft-lb")
    assert activity.reply().startswith("Right")
    for bad in ("", "many", "12 34", "85 mm", "nan"):
        activity.check_number(bad)
        assert (
            activity.reply().count(".") <= 4 and "expected" in activity.reply()
        ) or "empty" in activity.reply()
    assert tries(tmp_path) == {"convert-torque": (1, 1)}


# --- the wrench ----------------------------------------------------------------------------------------


def set_to(activity: SetTorqueWrench, largest: float, torque_nm: float) -> None:
    wrench = torque_wrench(largest)
    activity.wrench_list.value = next(name for name, one in WRENCHES.items() if one.largest_nm == largest)
    activity.turns.value, activity.line.value = torque_sums.turns_and_line(wrench, torque_nm)
    activity.check()


@pytest.mark.parametrize(("turns", "line", "torque"), [(0, 0, 40), (7, 5, 115), (16, 0, 200), (16, 9, 200)])
def test_turns_and_lines_make_the_setting_that_is_drawn(
    turns: int, line: int, torque: float, tmp_path: Path
) -> None:
    activity = made(SetTorqueWrench, tmp_path)
    activity.turns.value, activity.line.value = turns, line
    assert activity.set_nm == torque
    assert torque_sums.turns_and_line(torque_wrench(200), 115) == (7, 5)


@pytest.mark.parametrize(
    ("unit", "largest", "torque", "told"),
    [
        ("N·m", 200, 115, "Right: set to 115"),
        ("N·m", 200, 156, "on the lbf·ft scale"),
        ("N·m", 200, 116, "line of the grip again"),
        ("N·m", 200, 125, "Count the turns again"),
        ("N·m", 200, 61, "too low"),
        ("N·m", 40, 30, "Take another wrench"),
        ("N·m", 400, 116, "Right: set to 116"),  # its lines are 2 N·m apart: the nearest is right
        ("lbf·ft", 200, 85, "on the N·m scale"),
        ("lbf·ft", 200, 115, "Right"),
    ],
)
def test_a_setting_is_judged_and_its_slip_named(
    unit: str, largest: float, torque: float, told: str, tmp_path: Path
) -> None:
    activity = made(SetTorqueWrench, tmp_path)
    activity.unit.value = unit
    activity.number = 0
    set_to(activity, largest, torque)
    assert told in activity.reply()


def test_pound_inches_for_pound_feet_is_named_with_its_danger(tmp_path: Path) -> None:
    activity = made(SetTorqueWrench, tmp_path)
    activity.unit.value = "lbf·in"
    while not 200 < activity.wanted.number < 260:
        activity.new_task()
    feet = activity.wanted.number * NM_PER_LBFFT
    set_to(activity, 400, 2 * round(feet / 2))
    assert "took lbf·in for lbf·ft" in activity.reply() and "break" in activity.reply()
    set_to(activity, 40, activity.wanted.torque_nm)
    assert activity.reply().startswith("Right")


def test_every_torque_of_the_motor_pool_can_be_set_on_some_wrench(tmp_path: Path) -> None:
    activity = made(SetTorqueWrench, tmp_path)
    for unit, number in itertools.product(("N·m", "lbf·ft", "lbf·in"), range(30)):
        activity.unit.value, activity.number = unit, number
        wanted = activity.wanted.torque_nm
        assert any(wrench.scale.holds(wanted) for wrench in WRENCHES.values())
        assert f"{activity.wanted.number:g}" in activity.words()


def test_readings_are_right_and_the_misreadings_of_the_bench_are_named(tmp_path: Path) -> None:
    for _, difficulty, activity in cases(ReadTorqueWrench, tmp_path):
        wrench, set_nm = activity.asked.case
        rule, line, turn = activity.asked.rule, wrench.scale.line, wrench.largest_nm / 20
        assert wrench.scale.holds(set_nm) and wrench.reading(set_nm) == pytest.approx(set_nm)
        assert rule(set_nm).right and not rule(set_nm + line).right
        assert "lbf·ft scale" in rule(wrench.misreadings(set_nm)["lbfft_for_nm"]).words
        for off in (turn, -turn):
            assert "full turn out" in rule(set_nm + off).words
        if difficulty == "harder":
            assert min(set_nm % turn, turn - set_nm % turn) < 1.01 * line
        assert set_nm in (10, turn) or not re.search(rf"\b{set_nm:g}\b", activity.words())


# --- the extension -------------------------------------------------------------------------------------


def moment(set_nm: float, wrench: float, extension: float, angle_deg: float) -> float:
    """Return the bolt's torque by statics: the hand's force, square to the wrench, about the bolt."""
    force = set_nm / wrench
    turn = math.radians(angle_deg)
    return force * (wrench + extension * math.cos(turn))


def test_settings_and_torques_with_an_extension_are_right_by_statics(tmp_path: Path) -> None:
    for topic, _, activity in cases(SetWithExtension, tmp_path):
        case, rule = activity.asked.case, activity.asked.rule
        target = case.bolt.fastener.torque_nm
        got = moment(1.0, case.wrench_mm, case.extension_mm, case.angle_deg)
        assert case.share == pytest.approx(got)
        right = target * got if topic == GOT else target / got
        assert rule(right).right and rule(round(right, 1)).right
        assert case.wrench.scale.holds(target if topic == GOT else right)
        if topic == STRAIGHT:
            assert case.angle_deg == 0 and "sheet" in rule(target).words
            assert "fraction round" in rule(target * got).words
            assert "shorter" in rule(target / (2 - got)).words or "longer" in rule(target / (2 - got)).words
        if topic == GOT and case.angle_deg != 90:
            assert "wrench was set to" in rule(target).words
            assert "fraction round" in rule(target / got).words
        if topic == ANGLED and case.angle_deg == 90:
            assert rule(target).right


def test_the_picture_shows_what_the_extension_task_is_about(tmp_path: Path) -> None:
    for _, _, activity in cases(SetWithExtension, tmp_path, 4):
        case, svg = activity.asked.case, activity.picture()
        assert f"extension {case.extension_mm:g} mm" in svg or f"{case.extension_mm:g} mm" in svg
        assert f"{case.wrench_mm:g} mm from the middle of the grip" in svg


def test_turning_the_extension_tells_less_the_same_and_more(tmp_path: Path) -> None:
    activity = made(TryExtension, tmp_path)
    told = []
    for angle in (0, 45, 90, 120):
        activity.angle.value = angle
        told.append(activity.direction)
        got = moment(100, 450, 100, angle)
        assert dict(activity.facts())["If you forget the extension, the bolt gets"] == nm(got)
        assert dict(activity.facts())["Set on the wrench"] == nm(100 * 100 / got)
    assert told == ["less", "less", "the same", "more"]
    assert tries(tmp_path) == {"try-extension": (1, 1)}
    activity.extension.value = 0
    assert "Without an extension" in activity.words()
    for target, extension, angle in itertools.product((70, 115), (0, 250), (0, 90, 135)):
        activity.target.value, activity.extension.value, activity.angle.value = target, extension, angle
        assert activity.wrench.scale.holds(activity.setting)  # so that the picture shows it


# --- the order -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("studs", [4, 5, 6])
def test_exactly_the_stars_of_the_trade_are_right_from_any_nut_and_either_way(studs: int) -> None:
    vehicle = next(one for one in motor_pool().values() if one.studs == studs)
    board = nut_board("x", vehicle)
    star = [nut - 1 for nut in fasteners.tightening_order(studs)]
    stars = {
        tuple(str((start + way * nut) % studs + 1) for nut in star)
        for start, way in itertools.product(range(studs), (1, -1))
    }
    right = {
        order for order in itertools.permutations([str(nut) for nut in range(1, studs + 1)])
        if not board.judge(order)
    }  # fmt: skip
    assert right == stars and right_order(board) in right


@pytest.mark.parametrize("topic", WHEELS)
def test_a_nut_out_of_order_stays_and_gets_its_reason(topic: str, tmp_path: Path) -> None:
    activity = made(WheelNutOrder, tmp_path)
    activity.offers.topic.value = topic
    studs = WHEELS[topic]
    activity.list.cards.value = "1"
    activity.add()
    wrong = next(nut for nut in range(2, studs + 1) if nut not in torque_sums.farthest_left((1,), studs))
    activity.list.cards.value = str(wrong)
    activity.add()
    assert activity.order == ["1"] and f"Nut {wrong} stands beside nut 1" in activity.reply()
    allowed = torque_sums.farthest_left((1,), studs)
    assert not any(f"ut {nut} " in activity.reply() for nut in allowed)  # the answer is not given away
    while activity.waiting:
        activity.list.cards.value = str(torque_sums.farthest_left(tuple(map(int, activity.order)), studs)[0])
        activity.add()
    nuts = activity.board.case.wheel_nut.torque_nm
    assert activity.reply().startswith("Right") and f"{nuts:g}" in activity.reply()
    for round_nm in (round(nuts / 3), round(2 * nuts / 3)):
        assert nm(round_nm) in activity.reply()
    assert tries(tmp_path) == {"wheel-nut-order": (1, 0)}


def test_the_brake_is_put_together_by_the_trades_rules(tmp_path: Path) -> None:
    activity = made(RefitOrder, tmp_path)
    for step in right_order(activity.board):
        activity.list.cards.value = step
        activity.add()
    assert activity.done and tries(tmp_path) == {"refit-order": (1, 1)}


# --- what a torque buys --------------------------------------------------------------------------------


def test_oil_and_the_impact_wrench_do_what_the_textbook_says(tmp_path: Path) -> None:
    activity = made(ClampLoad, tmp_path)
    assert activity.wrongs == [] and activity.bolt.fastener.finish == "plain"
    dry = activity.yours_n[1]
    assert dry == pytest.approx(100 / (value("torque_k_plain").value * 0.012))
    activity.threads.value = "oiled"
    ratio = value("torque_k_plain").value / value("torque_k_lubricated").value
    assert activity.yours_n[1] / dry == pytest.approx(ratio)
    assert activity.wrongs == [TOO_MUCH]
    activity.threads.value = next(iter(activity.threads.options))
    activity.tool.value = IMPACT
    assert set(activity.wrongs) >= {LOOSER, WIDER}
    assert "You found all three." in activity.reply()
    assert tries(tmp_path) == {"clamp-load": (3, 3)}


@pytest.mark.parametrize("percent", [50, 100, 130])
def test_every_fastener_of_the_estate_can_be_tried(percent: int, tmp_path: Path) -> None:
    activity = made(ClampLoad, tmp_path)
    for name, threads, tool in itertools.product(
        activity.which.options, activity.threads.options, activity.tool.options
    ):
        activity.which.value, activity.threads.value, activity.tool.value = name, threads, tool
        activity.percent.value = percent
        low, middle, high = activity.yours_n
        assert low < middle < high and activity.picture().startswith("<svg")


def test_clamp_loads_and_shares_are_right_and_each_slip_is_named(tmp_path: Path) -> None:
    for topic, difficulty, activity in cases(ClampSums, tmp_path):
        bolt, rule = activity.asked.case, activity.asked.rule
        one = bolt.fastener
        load = one.torque_nm / (fasteners.nut_factor(one.finish) * one.diameter_mm)
        if topic == LOAD:
            assert rule(load).right and rule(round(load, 1)).right
            assert "radius" in rule(2 * load).words
            assert "newtons" in rule(1000 * load).words
            assert "nut factor out" in rule(one.torque_nm / one.diameter_mm).words
        elif topic == SHARE:
            right = 100 * one.proof_share
            assert rule(right).right and rule(round(right)).right
            assert "fraction round" in rule(1e4 / right).words
            stress = {"8.8": 580, "10.9": 830, "12.9": 970}  # ISO 898-1, from memory
            other = next(name for name in stress if name != one.property_class)
            assert f"class {other}" in rule(right * stress[one.property_class] / stress[other]).words
        else:
            oiled = one.torque_nm / (value("torque_k_lubricated").value * one.diameter_mm)
            assert topic == OILED and rule(oiled).right
            assert "dry threads" in rule(load).words
        if difficulty != "easier" and topic == SHARE:
            assert len(activity.facts()) == 4


# --- judging -------------------------------------------------------------------------------------------


def test_a_wrench_is_judged_as_its_standard_and_the_guard_band_say(tmp_path: Path) -> None:
    judge = made(TorqueJudge, tmp_path)
    found = set()
    for number, difficulty in itertools.product(range(40), TorqueJudge.difficulties):
        activity = asked(judge, TorqueJudge.topics[0], difficulty, number)
        case = activity.asked.case
        assert isinstance(case, OnTester)
        share = value("torque_wrench_tol_above_10").value / 100
        inside = share * case.set_nm - abs(case.shown_nm - case.set_nm)
        band = 1.645 * case.u_nm  # 95 % on one side, from memory of the normal distribution
        expected = "in tolerance" if inside >= band else "out of" if inside <= -band else "too close"
        assert activity.asked.right.startswith(expected)
        found.add(expected)
    assert len(found) == 3


def test_a_bolt_goes_back_only_if_the_sheet_allows_it_and_it_is_sound(tmp_path: Path) -> None:
    judge = made(TorqueJudge, tmp_path)
    rights = set()
    for number, difficulty in itertools.product(range(60), TorqueJudge.difficulties):
        task = asked(judge, "a used bolt", difficulty, number).asked
        evidence = dict(task.evidence)
        spoilt = "clean and whole" not in evidence.get("The bolt itself", "clean and whole")
        once = "once" in evidence["The sheet says"]
        assert once == (not task.case.fastener.reusable)
        assert task.right == (
            "fit a new one of the same class" if spoilt or once else "clean it and use it again"
        )
        rights.add((task.right, spoilt, once))
    assert len(rights) == 3


def test_each_tool_question_comes_and_names_its_mistake(tmp_path: Path) -> None:
    judge = made(TorqueJudge, tmp_path)
    said: dict[str, str] = {}
    for number in range(120):
        task: Task = asked(judge, "tool and threads", "harder", number).asked
        said |= task.reasons
    words = " ".join(said.values())
    for mistake in (
        "An impact wrench is no torque wrench",
        "the same torque clamps",
        "lbf·in taken for lbf·ft",
        "Past the click nothing is measured",
        "not part of the lever",
        "bring the vehicle off its stands",
    ):
        assert mistake in words, mistake


def test_the_sheets_row_never_tells_the_converted_number(tmp_path: Path) -> None:
    judge = made(TorqueJudge, tmp_path)
    for number in range(120):
        task = asked(judge, "tool and threads", "harder", number).asked
        if "old sheet" in task.question:
            sheet = dict(task.evidence)["The sheet says"].replace("\xa0", " ")
            assert "lbf·in" in sheet and task.right.removeprefix("set ") not in sheet


def test_a_first_answer_counts_once_in_each_quiz(tmp_path: Path) -> None:
    for kind in QUIZZES:
        activity = made(kind, tmp_path)
        if isinstance(activity.asked, NumberTask):
            activity.check_number("1")
            activity.check_number("2")
        else:
            activity.chosen.value = activity.asked.right
            activity.check()
            activity.check()
    assert all(count == 1 for count, _ in tries(tmp_path).values()) and len(tries(tmp_path)) == len(QUIZZES)
