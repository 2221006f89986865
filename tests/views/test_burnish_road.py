"""Lesson 12's plan, thermometer and road test, what all its activities keep, and the lesson's prose."""

from __future__ import annotations

import re
import time
from collections import Counter
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.road_test_cases import APART_C, HEAT, TOPICS, RoadTest, road_test
from brakecourse.views.activity import Activity
from brakecourse.views.burnish_pedal import running
from brakecourse.views.burnish_planner import BurnishPlanner
from brakecourse.views.burnish_plans import (
    LIMIT_C,
    OWN,
    OwnNumbers,
    curve,
    outcome,
    schedule_of,
    verdict_words,
)
from brakecourse.views.energy_ratio import EnergyRatio
from brakecourse.views.final_level import FinalLevel
from brakecourse.views.heat_quizzes import EnergyOfBraking, WarmthOfRotor
from brakecourse.views.pedal_strokes import LESSON, PedalStrokes
from brakecourse.views.progress import Progress
from brakecourse.views.road_test_advice import ACTIONS, BACK, COOL, GO_ON, advice, evidence, reasons
from brakecourse.views.road_test_advice import STOP as HALT
from brakecourse.views.road_test_quiz import RoadTestQuiz
from brakecourse.views.rotor_infrared import RotorInfrared
from brakecourse.views.wait_calculator import WaitCalculator

ROOT = Path(__file__).resolve().parents[2]
NOTEBOOK = ROOT / "course" / "lessons" / f"{LESSON}.ipynb"
KINDS: tuple[type[Activity], ...] = (
    PedalStrokes,
    FinalLevel,
    EnergyRatio,
    EnergyOfBraking,
    WarmthOfRotor,
    WaitCalculator,
    BurnishPlanner,
    RotorInfrared,
    RoadTestQuiz,
)
POOL = list(motor_pool().values())


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def press(widget: Any, description: str) -> None:
    def inside(one: Any) -> Any:
        yield one
        for child in getattr(one, "children", ()):
            yield from inside(child)

    (found,) = (
        one
        for one in inside(widget)
        if getattr(one, "description", "") == description and hasattr(one, "click")
    )
    found.click()


def tries(mine: Progress) -> tuple[int, int]:
    (tally,) = mine.tallies()
    return tally.tries, tally.right


# ------------------------------------------------------------------ the plan


def test_a_wait_is_never_told_as_nothing() -> None:
    told = [
        verdict_words(outcome(vehicle, 20.0, schedule_of(OWN, OwnNumbers(count, 20, 40, pause))))
        for vehicle in POOL
        for count in (6, 10, 15, 20)
        for pause in (15, 30, 60)
    ]
    waits = [found[1] for words in told if (found := re.search(r"pauses \((.+?) more in all", words))]
    assert any(wait.endswith(" s") for wait in waits) and any(wait.endswith("minutes") for wait in waits)
    assert all(re.fullmatch(r"[1-9]\d? s|[1-9]\d*\.\d minutes", wait) for wait in waits), waits


def test_the_planner_says_what_the_curve_does(mine: Progress) -> None:
    activity = BurnishPlanner(progress=mine)
    press(activity, "Check")
    assert activity.reply().startswith("It overheats: braking 18 passes 300")
    press(activity, "Show the waits it needs")
    assert (
        activity.waits
        and activity.waits.hottest_c <= LIMIT_C + 1e-6
        and "with the waits" in activity.picture()
    )
    activity.schedule.index = 2
    assert activity.waits is None and "with the waits" not in activity.picture()
    activity.pause.value = 60
    press(activity, "Check")
    assert activity.reply().startswith("It passes") and tries(mine) == (2, 1)
    activity.count_of.value = 2
    press(activity, "Check")
    assert activity.reply().startswith("It stays too cool")
    activity.schedule.index = 1
    press(activity, "Check")
    assert "from memory" in activity.reply() and "200 brakings" in activity.words()
    activity.which.value = "night-patrol saloon, LM-15"
    activity.schedule.index = 0
    press(activity, "Show the waits it needs")
    assert "needs no wait" in activity.reply()


def test_every_vehicle_can_be_bedded_in_with_own_numbers() -> None:
    for vehicle in POOL:
        verdicts = Counter(
            outcome(vehicle, 20.0, schedule_of(OWN, OwnNumbers(10, 20, high, pause))).verdict
            for high in (40, 50, 60)
            for pause in (10, 30, 45, 60, 75, 90, 120)
        )
        assert verdicts["passes"] >= 2, (vehicle.key, verdicts)


@pytest.mark.parametrize("name", ["road", "regulation"])
def test_the_curve_goes_through_the_brakings_that_it_shows(name: str) -> None:
    found = outcome(POOL[0], 20.0, schedule_of(name, OwnNumbers(1, 20, 40, 30)))
    points = curve(found.brakings, POOL[0], 20.0)
    times = [x for x, _ in points]
    assert times == sorted(set(times)) and len(points) < 250
    assert points[0] == (0.0, 20.0) and points[-1][0] == found.minutes
    told = {round(one.end_s / 60, 9): one.peak_c for one in found.brakings}
    shown = [(round(x, 9), y) for x, y in points if round(x, 9) in told]
    assert len(shown) >= 20 and all(told[x] == y for x, y in shown)


def test_one_braking_that_is_too_much_says_that_no_wait_helps(mine: Progress) -> None:
    activity = BurnishPlanner(progress=mine)
    activity.schedule.index = 2
    activity.air.value = 40
    heavy = next(name for name, one in activity.names.items() if one.key == "street_lighting_truck")
    activity.which.value = heavy
    activity.high.value = 70
    press(activity, "Show the waits it needs")
    assert activity.reply() and "<svg" in activity.picture()
    with pytest.raises(ValueError, match="was expected"):
        schedule_of("fast", OwnNumbers(1, 20, 40, 30))


# ------------------------------------------------------------------ thermometer and road test


def test_only_the_dull_hat_is_believed(mine: Progress) -> None:
    activity = RotorInfrared(progress=mine)
    met: Counter[str] = Counter()
    for _ in range(40):
        hat, face, caliper = (activity.shown_c[place] for place in ("hat", "rotor", "caliper"))
        assert hat - activity.true_c == pytest.approx(0, abs=6) and face < hat - 40 and caliper < face - 10
        for typed, told in (
            (f"{face:.0f}", "bright face"),
            (f"{caliper:.0f}", "That is the caliper"),
            (f"{hat * 1.8 + 32:.0f}", "Fahrenheit"),
            (f"{hat:.0f}", "Right"),
            (f"{hat * 1.8 + 32:.0f} °F", "Right"),
        ):
            activity.check(typed)
            assert told in activity.reply(), (typed, activity.reply())
        press(activity, "Check what I would do")
        assert "Nothing is chosen" in activity.reply()
        activity.next.index = 0
        press(activity, "Check what I would do")
        met[activity.reply().split(".")[0]] += 1
        assert activity.reply().startswith("Right") <= (hat + activity.rise_c < LIMIT_C)
        press(activity, "New brake")
    assert min(met["Right"], met["Not yet"]) >= 5
    assert "204" not in RotorInfrared(progress=mine).words()


@cache
def every() -> list[RoadTest]:
    return [
        road_test(topic, level, Draw(seed))
        for topic in TOPICS
        for level in ("easy", "normal", "hard")
        for seed in range(12)
    ]


@pytest.mark.slow
def test_each_action_is_right_for_someone() -> None:
    met = Counter(advice(test).action for test in every())
    assert set(met) == set(ACTIONS) and min(met.values()) >= 6, met


def test_the_worst_sign_decides() -> None:
    """The rule once more, written apart from the course's own, from what the learner sees."""
    for test in every():
        seen = dict(evidence(test)[1:])
        left_right = [abs(test.shown_c[0] - test.shown_c[1]), abs(test.shown_c[2] - test.shown_c[3])]
        noise = seen["Noise"]
        if (
            seen["Pedal"] != "firm and high"
            or "clunk" in noise
            or "rattle" in noise
            or "smoke at" in seen["Smell and smoke"]
        ):
            expected = HALT
        elif (
            "pulls" in seen["Steering"]
            or "pulses" in seen["Beat in the pedal"]
            or max(left_right) >= APART_C
            or re.search("grinding|scraping|rubbing", noise)
        ):
            expected = BACK
        else:
            expected = COOL if max(test.shown_c) > LIMIT_C else GO_ON
        assert advice(test).action == expected, seen


def test_each_choice_gets_a_reason_from_this_case() -> None:
    for test in every():
        told, right = reasons(test), advice(test)
        assert set(told) == set(ACTIONS) and len({*told.values()}) >= 2
        assert all(right.sign in words for words in told.values())
        for action in ACTIONS[: ACTIONS.index(right.action)]:
            assert told[action].startswith("That is not enough.")


@pytest.mark.slow
def test_heat_on_one_side_is_told_from_brakings_too_fast() -> None:
    kinds = Counter(advice(road_test(HEAT, "normal", Draw(seed))).action for seed in range(60))
    assert min(kinds[action] for action in (HALT, BACK, COOL, GO_ON)) >= 4, kinds


def test_the_question_and_the_picture_do_not_name_the_action(mine: Progress) -> None:
    activity = RoadTestQuiz(progress=mine, session=5)
    for _ in range(20):
        shown = (activity.words() + activity.picture()).lower()
        assert not any(words in shown for words in ("go on as", "break off", "stop at the", "drive on"))
        press(activity, "New case")


# ------------------------------------------------------------------ all of them


def least_s(acts: Callable[[], object]) -> float:
    took = []
    for _ in range(5):
        begun = time.process_time()
        acts()
        took.append(time.process_time() - begun)
    return min(took)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_an_activity_draws_and_replies_quickly(kind: type[Activity], mine: Progress) -> None:
    activity: Any = kind(progress=mine)
    assert least_s(activity.refresh) < 0.03
    if isinstance(activity, BurnishPlanner):
        activity.schedule.index = 1  # two hundred brakings
        assert least_s(activity.refresh) < 0.03 and least_s(activity.check) < 0.03


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_an_activity_counts_for_this_lesson(kind: type[Activity]) -> None:
    assert kind.lesson == LESSON


# ------------------------------------------------------------------ the lesson's prose


def _plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_each_number_in_bold_is_one_that_a_cell_shows() -> None:
    notebook = nbformat.read(NOTEBOOK, as_version=4)
    shown = _plain(
        "\n".join(
            output.get("text") or output["data"]["text/plain"]
            for cell in notebook.cells
            if cell.cell_type == "code"
            for output in cell.outputs
        )
    )
    checked = 0
    for cell in notebook.cells:
        if cell.cell_type == "markdown" and (cell.id.endswith("-worked") or cell.id == "part-1-proof"):
            for number in re.findall(r"\*\*([−\d.]+[^*]*)\*\*", cell.source):
                assert _plain(number) in shown, f"{cell.id}: {number}"
                checked += 1
    assert checked >= 18


def test_the_minutes_add_up_to_the_stated_time() -> None:
    text = "\n".join(cell.source for cell in nbformat.read(NOTEBOOK, as_version=4).cells)
    stated = int(re.findall(r"\*\*Time:\*\* about (\d+) minutes", text)[0])
    assert sum(map(int, re.findall(r"^\*(\d+) minutes\*$", text, re.M))) == stated == 45


def test_the_safety_box_names_each_hazard_of_its_step() -> None:
    (box,) = (cell.source for cell in nbformat.read(NOTEBOOK, as_version=4).cells if cell.id == "safety")
    for hazard in ("First movement", "The road", "Hot parts", "Standing hot", "Smoke", "Brake fluid"):
        assert f"**{hazard}" in box, hazard


def test_the_published_checks_name_a_source_and_say_what_is_from_memory() -> None:
    checks = {
        cell.id: cell.outputs[0]["data"]["text/plain"]
        for cell in nbformat.read(NOTEBOOK, as_version=4).cells
        if cell.id.startswith("check-")
    }
    assert len(checks) == 4 and all("Source: " in text for text in checks.values())
    memory = {name for name, text in checks.items() if "from memory" in text}
    assert memory == {"check-regulation-deceleration"}


def test_the_running_vehicle_is_the_lessons() -> None:
    assert running().vehicle.key == "minibus" and running().strokes == 4
