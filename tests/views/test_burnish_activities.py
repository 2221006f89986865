"""Lesson 12's activities: right answers, each named mistake, and nothing moves too early."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.pushed_back import PushedBack
from brakecourse.bench.situations import Difficulty
from brakecourse.views.burnish_pedal import drawn
from brakecourse.views.energy_ratio import GOALS, EnergyRatio
from brakecourse.views.energy_tasks import SLOWDOWN, STOP, TIMES, energy_task
from brakecourse.views.final_level import FinalLevel
from brakecourse.views.pedal_strokes import PedalStrokes
from brakecourse.views.progress import Progress
from brakecourse.views.rotor_heat_tasks import PAUSE, RISE, WARM, after_wait_c, half_time_s, rotor_task
from brakecourse.views.wait_calculator import WaitCalculator

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


# ------------------------------------------------------------------ the pedal


@pytest.mark.parametrize("seed", range(40))
def test_the_strokes_are_those_of_geometry(seed: int) -> None:
    """Volumes worked out here from bores and travels, not by the course's functions."""
    case = drawn(Draw(seed))
    front, system = case.vehicle.front, case.vehicle.hydraulics
    pistons_mm2 = front.caliper.pistons * math.pi / 4 * front.caliper.piston_bore_mm**2
    travel_mm = case.gap_mm * (2 if front.caliper.kind == "floating" else 1)
    assert case.clearance_ml == pytest.approx(2 * pistons_mm2 * travel_mm / 1000, abs=0.11)
    master_mm2 = math.pi / 4 * system.master_bore_mm**2
    stroke_mm = (system.pedal_room_mm / 2 - system.free_play_mm) / system.pedal_ratio
    assert case.stroke_ml == pytest.approx(master_mm2 * stroke_mm / 1000, abs=0.051)
    assert (case.strokes - 1) * case.stroke_ml < case.clearance_ml <= case.strokes * case.stroke_ml + 1e-9
    assert case.drop_mm == pytest.approx(case.clearance_ml * 1000 / system.reservoir_area_mm2)
    assert 0 < case.final_level_mm < case.level_mm <= system.reservoir_max_mm


@pytest.mark.parametrize("seed", range(12))
def test_the_pedal_stops_high_only_once_the_gaps_are_closed(seed: int) -> None:
    case = drawn(Draw(seed))
    travels = [case.travel_mm(stroke) for stroke in range(case.strokes + 3)]
    assert travels[0] == 0
    assert all(travel == case.stroke_mm for travel in travels[1 : case.strokes])
    assert travels[case.strokes + 1] == travels[case.strokes + 2] < case.stroke_mm
    assert travels[case.strokes] >= travels[case.strokes + 1]
    assert [case.is_firm(stroke) for stroke in range(case.strokes + 2)] == [False] * case.strokes + [True] * 2


def test_it_never_moves_before_the_pedal_is_firm(mine: Progress) -> None:
    activity = PedalStrokes(progress=mine)
    for _ in range(activity.case.strokes):
        press(activity, "Let the vehicle move")
        assert activity.reply().startswith("It stays where it is") and "low pedal" in activity.reply()
        press(activity, "Press the pedal once")
    press(activity, "Let the vehicle move")
    assert activity.reply().startswith("It stays where it is") and "press once more" in activity.reply()
    assert "firm at the end" in activity.words()
    press(activity, "Press the pedal once")
    assert "stays up" in activity.words()
    press(activity, "Let the vehicle move")
    press(activity, "Let the vehicle move")
    assert activity.reply().startswith("It may move")
    assert tries(mine) == (activity.case.strokes + 1, 1)
    press(activity, "New vehicle")
    assert activity.strokes == 0 and "may move" not in activity.reply()


def test_mistakes_about_the_strokes_are_named(mine: Progress) -> None:
    activity = PedalStrokes(progress=mine)
    for typed, told in {
        "3": "rounded down",
        "2": "one caliper only",
        "3.1": "Round up",
        "3,14": "Round up",
        "9": "too large",
        "4": "Right: 4",
        "four": "expected",
        "4 mm": "measures something else",
    }.items():
        activity.check(typed)
        assert told in activity.reply(), typed
    for _ in range(30):
        press(activity, "New vehicle")
        activity.check(str(activity.case.strokes))
        assert activity.reply().startswith("Right")
        assert str(activity.case.strokes) not in re.sub(r"[\d.]+ (mL|in³)|LM-\d+", "", activity.words())


# ------------------------------------------------------------------ the level


def test_mistakes_about_the_level_are_named(mine: Progress) -> None:
    activity = FinalLevel(progress=mine)
    case: PushedBack = activity.case
    for typed, told in {
        case.drop_mm: "how far it falls",
        case.level_mm + case.drop_mm: "You let it rise",
        case.level_mm: "before pumping",
        case.level_mm - case.drop_mm / 2: "half the fluid",
        20.0: "too small",
        case.final_level_mm: "Right: 29.3",
    }.items():
        activity.check_level(f"{typed:.2f}")
        assert told in activity.reply(), typed
    for typed, told in {
        case.clearance_ml: "what the gaps took",
        case.to_pour_ml - case.clearance_ml: "before pumping",
        case.to_pour_ml * 1000: "cubic millimetres",
        case.to_pour_ml: "Right: 110",
    }.items():
        activity.check_pour(f"{typed:.2f}")
        assert told in activity.reply(), typed
    activity.check_level("")
    assert "still empty" in activity.reply()


def test_the_reservoir_shows_the_level_before_and_after(mine: Progress) -> None:
    activity, low = FinalLevel(progress=mine), 0
    before = activity.picture()
    activity.pumped.value = True
    assert activity.picture() != before and "pumped firm" in activity.words()
    for _ in range(60):
        press(activity, "New vehicle")
        assert not activity.pumped.value
        case = activity.case
        activity.check_level(f"{case.final_level_mm:.1f}")
        assert activity.reply().startswith("Right")
        below = case.final_level_mm < case.vehicle.hydraulics.reservoir_min_mm
        assert ("below MIN" in activity.reply()) is below
        low += below
    assert low


# ------------------------------------------------------------------ energy


def joules(kg: float, high_mph: float, low_mph: float) -> float:
    """Kinetic energy with the exact mile, worked out here."""
    return kg / 2 * (high_mph**2 - low_mph**2) * (1609.344 / 3600) ** 2


@pytest.mark.parametrize("difficulty", ["easy", "normal", "hard"])
@pytest.mark.parametrize("topic", [STOP, SLOWDOWN])
def test_mistakes_about_the_energy_are_named(topic: str, difficulty: Difficulty) -> None:
    for seed in range(25):
        task = energy_task(topic, difficulty, Draw(seed))
        ((high, low),) = task.case
        kg = float(dict(task.evidence)["Mass"].split("\N{NO-BREAK SPACE}")[0])
        right = joules(kg, high, low) / 1000
        assert task.rule(right).right and task.rule(round(right)).right
        for factor, told in (
            (5.0, "mph as if"),
            (12.96, "km/h as if"),
            (2.0, "half in front"),
            (1000, "joules"),
        ):
            wrong = right * (factor if factor != 5.0 else (3600 / 1609.344) ** 2)
            assert told in task.rule(wrong).words, (seed, told)
        metres = (high - low) * 1609.344 / 3600
        assert "not squared" in task.rule(kg / 2 * metres / 1000).words
        if low:
            differs = abs((high - low) ** 2 / (high**2 - low**2) - 1) > 0.1
            assert (
                not differs or "difference of the speeds" in task.rule(joules(kg, high - low, 0) / 1000).words
            )
            assert "to standstill" in task.rule(joules(kg, high, 0) / 1000).words


def test_how_many_times_is_three_for_the_common_schedule(mine: Progress) -> None:
    assert EnergyRatio(progress=mine).ratio == pytest.approx(3.0)
    for seed in range(40):
        task = energy_task(TIMES, "normal", Draw(seed))
        (first, _), (high, low) = task.case
        right = (high**2 - low**2) / first**2
        assert task.rule(right).right
        for wrong in ((high - low) / first, 1 / right, high**2 / first**2):
            if abs(wrong / right - 1) > 0.03:
                reply = task.rule(wrong)
                assert not reply.right and not re.search("too (large|small)", reply.words), (seed, wrong)


def test_the_bars_tasks_can_be_done_and_slips_are_told(mine: Progress) -> None:
    activity = EnergyRatio(progress=mine)
    for nth, (speeds, slip) in enumerate(
        (
            ((20, 0, 40, 0), "Both brakings must end at standstill"),
            ((20, 0, 29, 21), "must be another one"),
            ((20, 0, 60, 40), "Both brakings must lose the same speed"),
        )
    ):
        assert activity.reply() == f"Task {nth + 1} of {len(GOALS)}: find {GOALS[nth][1]}."
        pairs = (activity.first_from, activity.first_to, activity.then_from, activity.then_to)
        for pair, value in zip(
            pairs, {0: (20, 0, 40, 20), 1: (20, 0, 30, 0), 2: (20, 0, 60, 30)}[nth], strict=True
        ):
            pair.value = value
        press(activity, "Check")
        assert slip in activity.reply()
        for pair, value in zip(pairs, speeds, strict=True):
            pair.value = value
        press(activity, "Check")
        assert activity.reply().startswith("Right"), activity.reply()
        press(activity, "Next task")
    assert activity.goal == 0 and tries(mine) == (6, 3)
    activity.then_from.value = 21
    activity.then_to.value = 0
    press(activity, "Check")
    assert "too little; 4 times is asked" in activity.reply()
    activity.first_to.value = 50
    assert "must end slower" in activity.reply() and "<svg" in activity.picture()


# ------------------------------------------------------------------ heat


@pytest.mark.parametrize("difficulty", ["easy", "normal", "hard"])
def test_mistakes_about_the_heat_are_named(difficulty: Difficulty) -> None:
    for seed in range(25):
        task = rotor_task(RISE, difficulty, Draw(seed))
        facts = {name: value.replace("\N{NO-BREAK SPACE}", " ") for name, value in task.evidence}
        kj = float(facts["Energy of the braking"].split()[0])
        share = float(facts["The front axle's share"].split()[0]) / 100
        kg = float(facts["Mass of one front rotor"].split()[0])
        rise = kj * share / 2 / kg / 0.45
        assert task.rule(rise).right
        assert "all the energy to one rotor" in task.rule(kj / kg / 0.45).words
        assert "An axle has two" in task.rule(2 * rise).words
        assert "shares evenly by four" in task.rule(kj / 4 / kg / 0.45).words
        assert "mass is missing" in task.rule(rise * kg).words
        warm = rotor_task(WARM, difficulty, Draw(seed))
        assert warm.rule(warm.case + rise).right
        assert "rise alone" in warm.rule(rise).words or warm.case <= 20
        pause = rotor_task(PAUSE, difficulty, Draw(seed))
        after = pause.case + rise
        assert pause.rule((after + 20) / 2 + rise).right
        for wrong, told in (
            (after + rise, "leaves out the cooling"),
            (20 + rise, "right down to the air"),
            (after / 2 + rise, "difference to the air"),
        ):
            reply = pause.rule(wrong)
            assert reply.right or told in reply.words, (seed, told, reply.words)


def test_half_of_the_difference_goes_in_each_half_time() -> None:
    for vehicle in POOL:
        half = half_time_s(vehicle)
        assert half == pytest.approx(vehicle.front.cooling_time_constant_s * math.log(2))
        assert after_wait_c(vehicle, 220, 2 * half) == pytest.approx(70)


def test_mistakes_about_the_wait_are_named(mine: Progress) -> None:
    activity = WaitCalculator(progress=mine)
    half = activity.half_minutes
    assert activity.wait_minutes == pytest.approx(2 * half)
    for typed, told in {
        half * math.log2(260 / 80): "halved the temperature",
        2.0: "number of half-times",
        half: "one half-time",
        120 * half: "seconds",
        0.0: "leaves out the cooling",
        25.0: "too large",
        2 * half: "Right: 13.9",
    }.items():
        activity.check(f"{typed:.2f}")
        assert told in activity.reply(), typed
    assert "No minute" in activity.words()
    activity.minutes.box.value = 14
    assert (
        activity.now_c == pytest.approx(20 + 240 * 0.5 ** (14 / half))
        and "After 14 minutes" in activity.words()
    )
    for _ in range(40):
        press(activity, "New case")
        assert activity.minutes.value == 0 and activity.air_c < activity.target_c < activity.start_c
        activity.check(f"{activity.wait_minutes:.1f}")
        assert activity.reply().startswith("Right") and activity.wait_minutes < 40
