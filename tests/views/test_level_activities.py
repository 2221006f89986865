"""The activities of the lesson on the fluid's level, driven as a learner drives them."""

from __future__ import annotations

import re
import time
import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.level_cases import VERDICTS, draw_level_case
from brakecourse.bench.level_sums import first_telling_mm, piston_travel_mm, rotor_wear_mm
from brakecourse.trade.fluid import piston_area_mm2, required_reservoir_ml
from brakecourse.views import level_mistakes as slips
from brakecourse.views.level_against_wear import AT_MIN, ONE_HIGH, ONE_LOW, TOO_EARLY, LevelAgainstWear
from brakecourse.views.level_capacity import CALIPER, ENOUGH, RESERVOIR, ReservoirCapacity
from brakecourse.views.level_follow import PistonFollows
from brakecourse.views.level_judge import NEXT, TELLS, JudgeLevel
from brakecourse.views.level_reading import LEVEL, MISSING, ReadReservoir
from brakecourse.views.level_reasons import ACTIONS, TOP_UP, action_reasons, verdict_reasons
from brakecourse.views.level_volumes import AREA, VEHICLE, WHEEL, WearVolumes, caliper_words
from brakecourse.views.plan import outcomes, plan
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import NumberTask, Quiz, Task

KINDS = (ReadReservoir, PistonFollows, WearVolumes, LevelAgainstWear, JudgeLevel, ReservoirCapacity)
QUIZZES = (ReadReservoir, WearVolumes, JudgeLevel, ReservoirCapacity)
each = pytest.mark.parametrize("kind", KINDS)


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def tries(mine: Progress) -> tuple[int, int]:
    (tally,) = mine.tallies()
    return tally.tries, tally.right


def asked(quiz: Quiz) -> NumberTask:
    assert isinstance(quiz.asked, NumberTask)
    return quiz.asked


def turn_to(quiz: Quiz, topic: str, difficulty: str = "usual") -> None:
    quiz.difficulty.value = difficulty
    quiz.topic.value = topic


# ------------------------------------------------------------------ all of them


@each
def test_it_is_in_the_plan_with_its_title_and_what_it_trains(kind: type, mine: Progress) -> None:
    activity = kind(progress=mine)
    (row,) = [one for one in plan() if (one.lesson, one.activity) == (slips.LESSON, activity.uid)]
    assert row.title == kind.title and set(row.outcomes) <= set(outcomes())


@each
def test_its_picture_is_sound_and_drawn_at_once(kind: type, mine: Progress) -> None:
    activity = kind(progress=mine)
    ET.fromstring(activity.picture())
    took = []
    for _ in range(5):
        begun = time.perf_counter()
        activity.refresh()
        took.append(time.perf_counter() - begun)
    assert min(took) < 0.03


@each
def test_it_shows_picture_and_words_without_a_kernel(kind: type, mine: Progress) -> None:
    bundle = kind(progress=mine)._repr_mimebundle_()
    assert bundle["image/svg+xml"].startswith("<svg") and "(Run this cell to use it.)" in bundle["text/plain"]


@each
def test_its_controls_have_names_that_stand_once(kind: type, mine: Progress) -> None:
    def inside(widget: Any) -> list[Any]:
        return [widget] + [one for child in getattr(widget, "children", ()) for one in inside(child)]

    activity = kind(progress=mine)
    names = [getattr(one, "tooltip", "") or "" for one in inside(activity)]
    named = [name for name in names if name]
    assert len(named) == len(set(named)) >= 3


@pytest.mark.parametrize("kind", QUIZZES)
def test_a_quiz_draws_sound_cases_of_each_topic_and_difficulty(kind: type[Quiz], mine: Progress) -> None:
    quiz = kind(progress=mine, session=5)
    for topic in kind.topics:
        for difficulty in kind.difficulties:
            turn_to(quiz, topic, difficulty)
            seen = set()
            for _ in range(6):
                quiz.new_case()
                ET.fromstring(quiz.picture())
                seen.add(quiz.picture() + quiz.words() + str(quiz.facts()))
                task = quiz.asked
                told = f"{quiz.words()} {quiz.facts()}"
                if isinstance(task, NumberTask):
                    answer = task.answer.replace("\xa0", " ").split(". ")[0]
                    assert answer not in told.replace("\xa0", " ")
                assert task.topic == topic
            assert len(seen) >= 3, (topic, difficulty)


@pytest.mark.parametrize("kind", [ReadReservoir, WearVolumes, ReservoirCapacity])
@pytest.mark.parametrize("typed", ["", "  ", "much", "1,234", "nan", "12 kg"])
def test_what_is_no_answer_gets_one_sentence_and_does_not_count(
    kind: type[Quiz], typed: str, mine: Progress
) -> None:
    quiz = kind(progress=mine)
    quiz.check_number(typed)
    assert re.fullmatch(r"[^.]+(\d\.\d[^.]*)*\.", quiz.reply()), quiz.reply()
    assert mine.tallies() == []


# ------------------------------------------------------------------ read the reservoir


def test_reading_a_level(mine: Progress) -> None:
    quiz = ReadReservoir(progress=mine)
    case = quiz.asked.case
    quiz.check_number(f"{case.reading_mm - case.vehicle.hydraulics.reservoir_min_mm:g}")
    assert slips.FROM_MIN in quiz.reply() and quiz.reply().startswith("Not yet")
    quiz.check_number(f"{case.reading_mm:g} mm")
    assert quiz.reply().startswith(f"Right: {case.reading_mm:.0f}") and "number" in quiz.reply()
    quiz.check_number(f"{case.reading_mm:g}")
    assert tries(mine) == (1, 0)  # only the first answer counts


def test_each_slip_with_the_reservoir_is_named(mine: Progress) -> None:
    quiz, named = ReadReservoir(progress=mine, session=3), set()
    for topic, mistakes in ((LEVEL, slips.level_mistakes), (MISSING, slips.missing_mistakes)):
        turn_to(quiz, topic)
        for _ in range(12):
            quiz.new_case()
            case = quiz.asked.case
            for sentence, wrong in mistakes(case).items():
                quiz.check_number(f"{wrong:.1f}")
                named |= {sentence} if sentence in quiz.reply() else set()
    wanted = {slips.ASIDE, slips.FROM_MIN, slips.FROM_MAX, slips.CUBIC_MM, slips.LEFT_OVER, slips.ABOVE_MIN}
    assert named >= wanted | {slips.ONLY_MM, slips.LINE_LOW, slips.LINE_HIGH}


def test_the_missing_fluid_is_right_in_us_units_too(mine: Progress) -> None:
    quiz = ReadReservoir(progress=mine)
    turn_to(quiz, MISSING)
    quiz.check_number(f"{quiz.asked.case.missing_ml / 16.387064:.2f} in³")
    assert "Right" in quiz.reply() and "You typed" in quiz.reply()


# ------------------------------------------------------------------ the piston follows


def test_the_piston_follows_both_pads(mine: Progress) -> None:
    activity = PistonFollows(progress=mine)
    before, words = activity.picture(), activity.words()
    activity.wear.box.value = 6.0
    assert activity.picture() != before and activity.words() != words
    activity.check("6.0")
    assert slips.ONE_PAD_ALONE in activity.reply()
    activity.check("12.0")
    assert slips.NO_ROTOR in activity.reply()
    activity.check("12.4")
    assert activity.reply().startswith("Right") and "both pads" in activity.reply()
    activity.check("12.4")
    assert tries(mine) == (3, 1)


def test_in_a_fixed_caliper_it_follows_its_own(mine: Progress) -> None:
    activity = PistonFollows(progress=mine)
    activity.caliper.value = "dog-warden's estate, rear: fixed"
    activity.wear.value = 5.0
    activity.check("10.3")
    assert slips.BOTH_IN_FIXED in activity.reply()
    activity.check(f"{piston_travel_mm(activity.brake, 5.0, 0.3):.2f}")
    assert activity.reply().startswith("Right") and "its own pad" in activity.reply()


def test_pads_wear_no_farther_than_they_may_and_no_wear_asks_nothing(mine: Progress) -> None:
    activity = PistonFollows(progress=mine)
    activity.wear.value = 13.0
    assert activity.wear_mm == 9.5 and "as far as these pads may wear" in activity.words()
    activity.wear.value = 0.0
    activity.check("0")
    assert "first" in activity.reply() and mine.tallies() == []


def test_the_words_never_say_how_far_the_piston_came(mine: Progress) -> None:
    activity = PistonFollows(progress=mine)
    for tenths in range(10, 95, 7):
        activity.wear.value = tenths / 10
        travel = piston_travel_mm(activity.brake, activity.wear_mm, rotor_wear_mm(activity.wear_mm))
        words = activity.words().replace("\xa0", " ").partition(" The level has sunk")[0]
        assert f"{travel:.1f} mm" not in words


def test_the_fall_of_the_level_is_not_the_pistons_way(mine: Progress) -> None:
    activity = PistonFollows(progress=mine)
    sunk = re.search(r"sunk by ([\d.]+)", activity.words())
    assert sunk
    activity.check(sunk[1])
    assert slips.LEVEL_FALL in activity.reply()


# ------------------------------------------------------------------ areas and volumes


def test_area_wheel_and_vehicle_are_judged(mine: Progress) -> None:
    quiz = WearVolumes(progress=mine, session=2)
    turn_to(quiz, AREA)
    bore = quiz.asked.case.brake.caliper.piston_bore_mm
    quiz.check_number(f"{3.14 / 4 * bore * bore:.0f}")
    assert quiz.reply().startswith("Right")
    for number in range(1, 9):
        turn_to(quiz, (WHEEL, VEHICLE)[number % 2], ("easier", "usual", "harder")[number % 3])
        quiz.new_case()
        one = quiz.asked.case
        words = asked(quiz).answer.replace("\xa0", " ")
        right = float(words.split(" mL")[0])
        quiz.check_number(f"{right}")
        assert quiz.reply().startswith("Right"), (one, words)


def test_the_three_common_slips_are_named(mine: Progress) -> None:
    quiz, named = WearVolumes(progress=mine, session=4), set()
    sentences = [told for name, told in vars(slips).items() if name.isupper()]
    for topic in (AREA, WHEEL, VEHICLE):
        for difficulty in ("easier", "harder"):
            turn_to(quiz, topic, difficulty)
            for _ in range(9):
                quiz.new_case()
                one, right = quiz.asked.case, asked(quiz)
                volume = float(right.answer.replace("\xa0", " ").split(" m")[0])
                guesses = [4 * volume, volume / 2, one.wear.volume_ml / 2]
                guesses += list(slips.volume_mistakes(one.wear).values())
                for guess in guesses:
                    quiz.check_number(f"{guess:.2f}")
                    named |= {told for told in sentences if told in quiz.reply()}
    assert named >= {slips.RADIUS, slips.ONE_PAD, slips.ONE_WHEEL, slips.BOTH_IN_FIXED, slips.NO_ROTOR}


def test_easier_cases_have_one_piston_a_caliper_and_harder_ones_more(mine: Progress) -> None:
    quiz = WearVolumes(progress=mine, session=1)
    for difficulty, simple in (("easier", True), ("harder", False)):
        turn_to(quiz, WHEEL, difficulty)
        seen = set()
        for _ in range(10):
            quiz.new_case()
            vehicle = quiz.asked.case.vehicle
            seen.add(caliper_words(vehicle.front) == caliper_words(vehicle.rear) == "floating, 1 piston")
        assert seen == {simple}


# ------------------------------------------------------------------ level against wear


def test_the_calculator_says_what_its_numbers_prove(mine: Progress) -> None:
    activity = LevelAgainstWear(progress=mine)
    seen = {}
    for level in range(36, 0, -1):
        activity.level.value = level
        seen.setdefault(activity.finding.verdict, activity.words())
    assert list(seen) == ["fluid was added", "wear explains it", "suspect a leak"]
    assert all(verdict.capitalize() in words for verdict, words in seen.items())
    activity.which.value = "street-lighting platform truck"
    seen = {}
    for level in range(46, 0, -1):
        activity.level.value = level
        seen.setdefault(activity.finding.verdict, level)
    assert "too close to call" in seen


def test_the_highest_telling_level_is_asked_and_slips_are_named(mine: Progress) -> None:
    activity = LevelAgainstWear(progress=mine)
    right = first_telling_mm(activity.vehicle, activity.wear, 0.65)
    bare = first_telling_mm(activity.vehicle, activity.wear, 0.0)
    assert right is not None and bare is not None and bare > right
    for typed, told in ((bare, TOO_EARLY), (9, AT_MIN), (right - 1, ONE_LOW), (right, "Right")):
        activity.check(f"{typed:g}")
        assert told in activity.reply(), typed
    assert tries(mine) == (4, 1)
    activity.u.value = 2.0
    wider = first_telling_mm(activity.vehicle, activity.wear, 2.0)
    assert wider is not None and wider < right
    activity.check(f"{wider + 1:g}")
    assert ONE_HIGH in activity.reply()


def test_a_reservoir_that_would_run_dry_first_is_told(mine: Progress) -> None:
    activity = LevelAgainstWear(progress=mine)
    activity.front.value, activity.rear.value = 13.0, 11.0
    activity.check("1")
    assert "no level proves a leak" in activity.reply()


# ------------------------------------------------------------------ wear or a leak


def test_each_choice_has_a_reason_from_the_cases_own_numbers(mine: Progress) -> None:
    quiz = JudgeLevel(progress=mine)
    case = quiz.asked.case
    for verdict in VERDICTS:
        quiz.chosen.value = verdict
        quiz.check()
        assert quiz.reply().startswith("Right" if verdict == case.finding.verdict else "Not yet")
        assert f"{case.missing_ml:.1f}" in quiz.reply() and f"{case.guard_ml:.1f}" in quiz.reply()
    assert tries(mine)[0] == 1


@pytest.mark.parametrize("verdict", VERDICTS)
def test_reasons_fit_the_verdict(verdict: str) -> None:
    for seed in range(6):
        case = draw_level_case(Draw(seed), "normal", verdict)  # type: ignore[arg-type]
        reasons = verdict_reasons(case)
        assert len(set(reasons.values())) >= 3
        assert "So " in reasons[verdict] and all(
            "So " not in reasons[one] for one in VERDICTS if one != verdict
        )
        acts = action_reasons(case)
        assert set(acts) == {TOP_UP, *ACTIONS.values()}
        assert f"{case.finding.expected_ml:.1f}" in acts[TOP_UP] and "come back" in acts[TOP_UP]
        assert verdict.capitalize() in acts[ACTIONS[verdict]]  # type: ignore[index]


def test_topping_up_first_is_never_right(mine: Progress) -> None:
    quiz = JudgeLevel(progress=mine, session=9)
    turn_to(quiz, NEXT)
    rights = set()
    for _ in range(25):
        quiz.new_case()
        assert isinstance(quiz.asked, Task) and quiz.asked.right != TOP_UP
        rights.add(quiz.asked.right)
    assert rights == set(ACTIONS.values())
    quiz.chosen.value = TOP_UP
    quiz.check()
    assert quiz.reply().startswith("Not yet") and "come back" in quiz.reply()


def test_nothing_shown_gives_the_verdict_away(mine: Progress) -> None:
    quiz = JudgeLevel(progress=mine, session=6)
    for topic in (TELLS, NEXT):
        turn_to(quiz, topic)
        for _ in range(8):
            quiz.new_case()
            case, root = quiz.asked.case, ET.fromstring(quiz.picture())
            told = f"{quiz.words()} {quiz.facts()} {''.join(root.itertext())}".lower()
            assert not any(verdict in told for verdict in VERDICTS)
            assert f"{case.missing_ml:.1f}" not in told


# ------------------------------------------------------------------ what the reservoir must hold


def test_capacity_is_that_of_all_four_calipers(mine: Progress) -> None:
    quiz = ReservoirCapacity(progress=mine, session=1)
    turn_to(quiz, RESERVOIR)
    vehicle = quiz.asked.case.vehicle
    front, rear = vehicle.front.travel, vehicle.rear.travel
    needed = required_reservoir_ml([front, front, rear, rear])
    for typed, told in (
        (needed / 2, slips.ONE_WHEEL),
        (2 * front.volume_ml, slips.FRONT_ONLY),
        (needed, "Right"),
    ):
        quiz.check_number(f"{typed:.1f}")
        assert told in quiz.reply()


def test_one_calipers_travel_stops_at_the_minimum(mine: Progress) -> None:
    quiz = ReservoirCapacity(progress=mine, session=1)
    turn_to(quiz, CALIPER, "easier")
    brake = quiz.asked.case.brake
    area, pad = piston_area_mm2(brake.caliper.piston_bore_mm), brake.pad
    assert brake.caliper.kind == "floating" and brake.caliper.pistons == 1
    gone = brake.rotor.nominal_mm - brake.rotor.discard_mm
    bare = area * (2 * (pad.lining_new_mm + brake.caliper.clearance_mm) + gone) / 1000
    quiz.check_number(f"{bare:.2f}")
    assert slips.TO_BARE in quiz.reply()
    quiz.check_number(f"{bare - area * 2 * pad.minimum_mm / 1000:.2f}")
    assert quiz.reply().startswith("Right")


def test_enough_and_too_little_both_come(mine: Progress) -> None:
    quiz, seen = ReservoirCapacity(progress=mine, session=3), set()
    turn_to(quiz, ENOUGH)
    for _ in range(12):
        quiz.new_case()
        assert isinstance(quiz.asked, Task)
        seen.add(quiz.asked.right)
    assert len(seen) == 2


MAKERS: tuple[Callable[..., Quiz], ...] = QUIZZES


@pytest.mark.parametrize("kind", MAKERS)
def test_showing_the_answer_explains_it_and_counts_as_not_right(kind: type[Quiz], mine: Progress) -> None:
    quiz = kind(progress=mine)
    quiz.show_answer()
    assert quiz.reply().startswith("The answer: ") and len(quiz.reply()) > 40
    assert tries(mine) == (1, 0)
