"""Lesson 03's activities: right answers, each named mistake, and fluid that is renewed when it must be."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from typing import Any, get_args

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.fluid import boiling_minima_c
from brakecourse.views import fluid_limit_tasks as limits
from brakecourse.views import fluid_margin_tasks as margins
from brakecourse.views import fluid_renew_rule as renew
from brakecourse.views import fluid_shelf as shelves
from brakecourse.views import fluid_tester_tasks as testers
from brakecourse.views.activity import Activity
from brakecourse.views.drawings import Bottle
from brakecourse.views.fluid_abs_order import STEPS, FluidOrder, faults
from brakecourse.views.fluid_choice import FluidChoice
from brakecourse.views.fluid_curve import BoilingCurve, days, margin_words
from brakecourse.views.fluid_limits import FluidLimits
from brakecourse.views.fluid_margin import VapourMargin
from brakecourse.views.fluid_renew import RenewFluid
from brakecourse.views.fluid_samples import curve, running, straight_c, water_tester, water_without_margin
from brakecourse.views.fluid_testers import FluidTesters
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import NumberTask, Quiz, Task

from tests.views.picture import values_of_lines

DIFFICULTIES: tuple[Difficulty, ...] = get_args(Difficulty)
QUIZZES: tuple[type[Quiz], ...] = (FluidTesters, FluidLimits, VapourMargin, FluidChoice, RenewFluid)
# The limits, read in a restatement of 49 CFR 571.116, S5.1.1 and S5.1.2: dry and wet, °C.
LAW = {"DOT 3": (205, 140), "DOT 4": (230, 155), "DOT 5.1": (260, 180)}


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def tries(mine: Progress) -> tuple[int, int]:
    (tally,) = mine.tallies()
    return tally.tries, tally.right


def cases(make: Any, topics: tuple[str, ...], count: int = 8) -> list[Any]:
    return [
        make(topic, level, Draw(seed).child(topic))
        for topic in topics
        for level in DIFFICULTIES
        for seed in range(count)
    ]


# ------------------------------------------------------------------ every quiz


@pytest.mark.parametrize("kind", QUIZZES)
def test_a_right_answer_is_right_in_every_topic_and_counts_once(kind: type[Quiz], mine: Progress) -> None:
    activity, asked = kind(progress=mine, session=5), 0
    for level in ("easier", "usual", "harder"):
        activity.difficulty.value = level
        for topic in activity.topics:
            activity.topic.value = topic
            answer_right(activity)
            assert activity.reply().startswith("Right"), (topic, level, activity.reply())
            answer_right(activity)
            asked += 1
    assert tries(mine) == (asked, asked)


def answer_right(activity: Quiz) -> None:
    task = activity.asked
    if isinstance(task, Task):
        activity.chosen.value = task.right
        activity.check()
    else:
        found = re.match(r"(−?[\d.]+)", task.answer)
        assert found, task.answer
        activity.check_number(found[1])


@pytest.mark.parametrize("kind", QUIZZES)
def test_it_says_what_was_expected(kind: type[Quiz], mine: Progress) -> None:
    activity = kind(progress=mine)
    if isinstance(activity.asked, Task):
        activity.check()
        assert activity.reply().startswith("Nothing is chosen yet")
    else:
        for typed, told in {
            "": "still empty",
            "wet": "was expected",
            "3 kg": "measures something else",
        }.items():
            activity.check_number(typed)
            assert told in activity.reply()
    assert not mine.tallies()


@pytest.mark.parametrize("kind", QUIZZES)
def test_the_words_never_give_the_answer_away(kind: type[Quiz], mine: Progress) -> None:
    activity = kind(progress=mine, session=9)
    for _ in range(30):
        activity.new_case()
        task = activity.asked
        if isinstance(task, NumberTask):
            right = re.match(r"−?[\d.]+ \S+", task.answer.replace("\N{NO-BREAK SPACE}", " "))
            assert right and right[0] not in activity.words().replace("\N{NO-BREAK SPACE}", " ")
        else:
            assert task.right not in activity.words()


# ------------------------------------------------------------------ the testers


def test_the_drawn_lines_are_those_of_the_bench_tester() -> None:
    drawn = values_of_lines(FluidTesters().picture(), "percent")
    assert drawn == pytest.approx(water_tester().scale.lines(), abs=0.01)


def test_a_water_reading_is_the_nearest_line_and_slips_are_named() -> None:
    for task in cases(testers.tester_task, (testers.WATER,)):
        sample = task.case.sample
        reading = sample.water_percent
        assert reading == pytest.approx(round(10 * sample.water_shown) / 10)
        assert task.rule(reading).right
        lines = round(10 * reading)
        if lines % 10 not in (0, 5) and lines > 10:
            for typed, told in {
                10 * reading: "counted the lines",
                lines // 10 + 0.2 * (lines % 10): "0.2 %",
                lines // 10 + 0.01 * (lines % 10): "0.01 %",
                lines // 10 + 1 - 0.1 * (lines % 10): "counted back",
            }.items():
                reply = task.rule(typed)
                assert not reply.right and told in reply.words, (reading, typed, reply.words)


def test_fahrenheit_is_told_from_celsius() -> None:
    kinds = Counter()
    for task in cases(testers.tester_task, (testers.BOILING,)):
        right = task.case.sample.boiling_c
        assert task.rule(right).right
        kinds[task.case.fahrenheit] += 1
        if task.case.fahrenheit:
            shown = round(1.8 * right + 32)
            wrong = {shown: "took its number for °C", shown - 32: "32 off and stopped", shown / 1.8: "32 off"}
        else:
            wrong = {(right - 32) / 1.8: "set to °C already", 1.8 * right + 32: "set to °C already"}
        for typed, told in wrong.items():
            assert told in task.rule(typed).words, (right, typed)
    assert kinds[True] >= 8 and kinds[False] >= 8


def test_a_tester_errs_to_the_bad_side() -> None:
    for task in cases(testers.tester_task, (testers.ERROR,)):
        sample, water = task.case.sample, task.case.water
        worst = sample.water_percent + 0.5 if water else sample.boiling_c - 3
        other = sample.water_percent - 0.5 if water else sample.boiling_c + 3
        assert task.rule(worst).right and "good side" in task.rule(other).words
        assert "reading itself" in task.rule(sample.water_percent if water else sample.boiling_c).words


# ------------------------------------------------------------------ the limits


def test_dry_and_wet_are_not_swapped() -> None:
    swaps = 0
    for task in cases(limits.limit_task, limits.TOPICS):
        held = task.case
        right = held.boiling_c - LAW[held.grade][held.used]
        assert task.rule(right).right and held.used is ("reservoir" in task.question)
        swapped = task.rule(held.boiling_c - LAW[held.grade][not held.used]).words
        assert f"You took the {'dry' if held.used else 'wet'} column" in swapped
        swaps += 1
        if abs(right) > 4:
            assert "sign" in task.rule(-right).words
    assert swaps == 72


def test_a_difference_in_fahrenheit_is_named() -> None:
    for task in cases(limits.limit_task, (limits.FAHRENHEIT,)):
        held = task.case
        shown = round(1.8 * held.boiling_c + 32)
        assert "set to °F" in task.rule(shown - held.limit_c).words
        if abs(held.above_c) > 6:
            assert "difference in °F" in task.rule(shown - (1.8 * held.limit_c + 32)).words


def test_bottles_that_stood_open_may_miss_the_limit_and_sealed_ones_keep_it() -> None:
    found = [task for task in cases(limits.limit_task, (limits.NEW,), 30)]
    opened = [task.case.above_c for task in found if "stood open" in task.question]
    sealed = [task.case.above_c for task in found if "sealed" in task.question]
    assert min(opened) < 0 and min(sealed) > -6 and len(opened) > 15


# ------------------------------------------------------------------ curve and margin


def test_the_curve_lies_below_the_straight_line() -> None:
    for grade, (dry, wet) in LAW.items():
        for water, boils in curve(grade, 3.6)[1:]:  # type: ignore[arg-type]
            assert wet < boils < straight_c(grade, water) < dry  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("margin", "told"), [(-4, "No margin"), (0.2, "no margin is left"), (9, "margin is 9")]
)
def test_a_margin_is_told_in_words(margin: float, told: str) -> None:
    assert told in margin_words(margin)


def test_the_explorer_names_the_straight_line(mine: Progress) -> None:
    activity, hot = BoilingCurve(progress=mine), running().hottest_c
    right = water_without_margin("DOT 4", hot)
    assert right is not None
    line = (230 - hot) / (230 - 155) * 3.7
    for typed, told in {
        line: "straight line",
        3.7: "wet limit",
        0: "Dry fluid",
        5: "too large",
        right: "Right",
    }.items():
        activity.check(f"{typed:.2f}")
        assert told in activity.reply(), typed
    activity.water.value = round(right, 1)
    assert "margin" in activity.words()
    activity.grade.value = "DOT 5.1"
    activity.day.value = next(name for name in days() if "saloon" in name)
    activity.check("3")
    assert "a margin is left as far as the curve goes" in activity.reply()
    assert tries(mine) == (5, 1)


def test_margins_are_worked_out_and_slips_named() -> None:
    straight = 0
    for task in cases(margins.margin_task, margins.TOPICS):
        margin, sample = task.case, task.case.sample
        right = margin.boils_c - sample.hottest_c
        assert task.rule(right).right
        dry, wet = LAW[sample.grade]
        if not margin.from_water and abs(right) > 5:
            words = task.rule(-right).words
            assert "sign" in words and "boiling point. Subtract" in task.rule(margin.boils_c).words
        if abs(dry - margin.boils_c) > 12:
            assert "dry limit" in task.rule(dry - sample.hottest_c).words
        if margin.from_water:
            line = dry + (wet - dry) / 3.7 * float(re.search(r"holds ([\d.]+) %", task.question)[1])  # type: ignore[index]
            if abs(line - margin.boils_c) > 7:
                straight += 1
                assert "straight line" in task.rule(line - sample.hottest_c).words
    assert straight >= 10


# ------------------------------------------------------------------ which bottle


def test_only_a_sealed_bottle_that_the_book_allows_may_be_used() -> None:
    rights = Counter()
    for task in cases(shelves.shelf_task, shelves.TOPICS, 40):
        shelf = task.case
        fits = [
            place + 1
            for place, one in enumerate(shelf.bottles)
            if one.sealed and one.grade in shelf.allowed and one.grade not in ("DOT 5", "mineral oil")
        ]
        assert len(fits) <= 1
        assert " or ".join(shelf.allowed) in (
            "DOT 3",
            "DOT 4",
            "DOT 5.1",
            "DOT 3 or DOT 4",
            "DOT 4 or DOT 5.1",
        )
        assert task.right == shelves.NONE if not fits else task.right.startswith(f"bottle {fits[0]}:")
        rights[task.right == shelves.NONE] += 1
        if task.topic == shelves.STRANGERS:
            assert any(one.grade in ("DOT 5", "mineral oil") for one in shelf.bottles)
    assert 40 < rights[True] < rights[False]


def test_each_wrong_bottle_has_its_reason() -> None:
    shelf = shelves.Shelf(running().vehicle, ("DOT 4",), (Bottle("DOT 4"),))
    for bottle, told in {
        Bottle("DOT 5"): "silicone-based",
        Bottle("mineral oil"): "swells the rubber",
        Bottle("DOT 3"): "boils earlier",
        Bottle("DOT 5.1"): "no permission",
        Bottle("DOT 4", 5): "open for 5 months",
        Bottle("DOT 4"): "still sealed",
    }.items():
        assert told in shelves.why(shelf, bottle)


# ------------------------------------------------------------------ renew or not


def test_fluid_stays_only_when_it_is_proven_above_both_limits() -> None:
    actions = Counter()
    for task in cases(renew.renew_task, renew.TOPICS, 25):
        sample = task.case
        fluid = sample.case.condition.fluid
        actions[task.right] += 1
        strange = fluid.present in ("DOT 5", "mineral oil")
        assert (task.right == renew.STOP) is strange
        if not strange:
            # 1.645 standard uncertainties: 3 °C and half a degree, both rectangular, and 1.5 °C.
            guard = 1.645 * (3**2 / 3 + 1.5**2 + 0.5**2 / 3) ** 0.5
            least = max(LAW[sample.grade][1], sample.hottest_c)
            assert (task.right == renew.KEEP) is (sample.boiling_c >= least + guard)
        assert all(task.reasons[task.right] in reason for reason in task.reasons.values())
    assert min(actions[one] for one in renew.CHOICES) >= 20, actions


def test_too_close_to_call_means_renew_and_says_so() -> None:
    close = [task for task in cases(renew.renew_task, (renew.CLOSE,), 40) if "too close" in str(task.reasons)]
    assert close and all(task.right == renew.RENEW for task in close)


def test_the_lessons_truck_keeps_its_grade_and_has_no_margin() -> None:
    truck = running()
    assert "a reading decides from 4 °C (7.2 °F) on" in renew.verdict(truck).why.replace("\xa0", " ")
    assert truck.boiling_c - truck.guard_c > boiling_minima_c("DOT 4")[1]
    assert truck.boiling_c + truck.guard_c < truck.hottest_c
    assert renew.verdict(truck).action == renew.RENEW


# ------------------------------------------------------------------ the order


@pytest.mark.parametrize(
    ("early", "late", "told", "danger"),
    [
        ("open", "fill", "goes through the ABS unit next", True),
        ("up", "shut", "draws air back in", True),
        ("others", "top_up", "sends air into the ABS unit", True),
        ("fill", "suck", "spoil the fresh fluid", False),
        ("hose", "look_up", "differs from vehicle to vehicle", False),
    ],
)
def test_a_step_too_early_is_told_with_its_reason(early: str, late: str, told: str, danger: bool) -> None:
    order = [step for step in STEPS if step != early]
    order = [step for step in STEPS if step not in (early, late)]
    place = min(list(STEPS).index(early), list(STEPS).index(late))
    found = faults((*order[:place], early, late, *order[place:]))
    assert any(told in fault.words and fault.dangerous is danger for fault in found)
    assert all(fault.step != late for fault in found)


def test_the_right_order_has_no_fault_and_any_swap_of_ends_has() -> None:
    assert not faults(tuple(STEPS))
    assert len({fault.step for fault in faults(tuple(reversed(STEPS)))}) == len(STEPS) - 1


def test_the_hose_may_go_on_before_or_after_the_reservoir_is_filled() -> None:
    order = ["look_up", "hose", "suck", "fill", *list(STEPS)[4:]]
    assert not faults(tuple(order))


def test_every_activity_draws_and_speaks(mine: Progress) -> None:
    made: list[Activity] = [kind(progress=mine) for kind in (*QUIZZES, BoilingCurve, FluidOrder)]
    for one in made:
        assert one.picture().startswith("<svg") and one.words()
        assert "(Run this cell to use it.)" in one._repr_mimebundle_()["text/plain"]
    assert len({one.uid for one in made}) == 7
