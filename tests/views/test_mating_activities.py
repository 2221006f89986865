"""The activities of lesson 10: the flake, the arrows, the sums, what to do. Slips are named kindly."""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.fit_cases import SITUATIONS, Situation, draw_fit
from brakecourse.bench.rotor_fits import PLACES_DEG
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.hub_fit import best_index, debris_run_out_mm, stack_run_out_mm
from brakecourse.views import mating_worked as worked
from brakecourse.views.mating_decisions import (
    CHOICES,
    CLEAN,
    HUB,
    INDEX,
    LEAVE,
    ROTOR,
    TOPICS,
    dirty,
    fit_task,
)
from brakecourse.views.mating_fit import flake_dial_mm
from brakecourse.views.mating_flake import PLACES, FlakeUnderHat
from brakecourse.views.mating_index import RotorIndexing
from brakecourse.views.mating_number_tasks import FLAKE, TOGETHER, number_task
from brakecourse.views.mating_number_tasks import TOPICS as SUMS
from brakecourse.views.mating_off_tasks import FACES, HAMMER, OFF, PRESS, SCREW, TAP, off_task
from brakecourse.views.mating_quizzes import FitDecision, OffAndClean, SeatToTrack, TwoArrows
from brakecourse.views.mating_replies import flake_reply, position_reply
from brakecourse.views.plan import plan
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import NumberTask, Task

LEVELS: tuple[Difficulty, ...] = ("easy", "normal", "hard")
NAMED: dict[str, Any] = {
    "off-and-clean": OffAndClean,
    "flake-under-hat": FlakeUnderHat,
    "seat-to-track": SeatToTrack,
    "rotor-indexing": RotorIndexing,
    "two-arrows": TwoArrows,
    "fit-decision": FitDecision,
}


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def tries(mine: Progress) -> tuple[int, int]:
    (tally,) = mine.tallies()
    return tally.tries, tally.right


# ------------------------------------------------------------------ the cases come from the bench


@pytest.mark.parametrize("situation", SITUATIONS)
@pytest.mark.parametrize("difficulty", LEVELS)
def test_the_bench_and_the_dial_bear_each_situation_out(situation: Situation, difficulty: Difficulty) -> None:
    for seed in range(4):
        fit = draw_fit(situation, difficulty, Draw(seed))
        assert fit == draw_fit(situation, difficulty, Draw(seed))
        limit, (best, least, table) = fit.limit_mm, fit.best
        assert dirty(fit) == situation.startswith("clean")
        assert (fit.total_mm <= limit) == (situation == "leave")
        assert abs(fit.total_mm - limit) >= 0.0149  # the dial can decide
        # The bench's own turn of the rotor gives what the sum of the arrows says.
        clean = fit.cleaned()
        for index in range(fit.studs):
            assert clean.turned_on(index).found.run_out_mm == pytest.approx(table[index], abs=1e-9)
        if "index" in situation:
            assert best != 0 and least < limit and clean.turned_on(best).total_mm <= limit
        if situation in ("hub", "rotor"):
            assert least > limit
            assert (fit.hub.total_mm > limit) == (situation == "hub")
            assert (fit.rotor.total_mm > limit) == (situation == "rotor")
        if situation == "clean":
            assert clean.total_mm <= limit


def test_an_unknown_situation_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^One of leave, clean.*\.$"):
        draw_fit("polish", "easy", Draw(1))  # type: ignore[arg-type]


@pytest.mark.parametrize("place", PLACES.values())
def test_the_dial_swings_by_what_the_trade_says(place: int) -> None:
    for vehicle in motor_pool().values():
        turn = [flake_dial_mm(vehicle, 0.07, place, angle) for angle in PLACES_DEG]
        brake = vehicle.front
        right = debris_run_out_mm(0.07, brake.seat_radius_mm, brake.measuring_radius_mm)
        assert max(turn) - min(turn) == pytest.approx(right, abs=1e-9) and turn[0] == 0


# ------------------------------------------------------------------ a flake under the hat


@pytest.mark.parametrize(
    ("slip", "words"),
    [
        (lambda flake, s, r: flake, "thickness of the flake"),
        (lambda flake, s, r: flake * r / (2 * s), "seat's diameter"),
        (lambda flake, s, r: flake * 2 * r / s, "diameter of the dial's circle"),
        (lambda flake, s, r: flake * s / r, "wrong way round"),
    ],
)
def test_each_slip_about_a_flake_is_named(slip: Any, words: str) -> None:
    for vehicle in motor_pool().values():
        brake = vehicle.front
        s, r = brake.seat_radius_mm, brake.measuring_radius_mm
        for flake in (0.03, 0.08, 0.14):
            reply = flake_reply(slip(flake, s, r), flake, s, r)
            assert not reply.right and reply.words.startswith("Not yet") and words in reply.words
            assert flake_reply(debris_run_out_mm(flake, s, r), flake, s, r).right


def test_the_flake_is_judged_and_counted_once(mine: Progress) -> None:
    activity = FlakeUnderHat(progress=mine)
    brake = activity.vehicle.front
    activity.flake.value = 0.1
    right = debris_run_out_mm(0.1, brake.seat_radius_mm, brake.measuring_radius_mm)
    for typed in ("0.1", f"{right:.2f}", f"{right:.2f} mm", f"{right / 25.4:.4f} in"):
        activity.check(typed)
    assert activity.reply().split(". ", 1)[1].startswith("Right")  # after the note on inches
    assert tries(mine) == (3, 2)  # the same number twice counts once
    before = activity.picture()
    activity.next_place()
    assert activity.angle.value == 45 and activity.picture() != before
    vehicle = activity.vehicle
    activity.new_task()
    assert activity.vehicle != vehicle and activity.angle.value == 0 and activity.answer.box.value == ""


def test_nothing_under_the_hat_makes_nothing(mine: Progress) -> None:
    activity = FlakeUnderHat(progress=mine)
    activity.flake.value = 0
    assert "Nothing lies between" in activity.words()
    activity.check("0")
    assert activity.reply().startswith("Right")
    activity.check("0.05")
    assert activity.reply().startswith("Not yet")


@pytest.mark.parametrize("typed", ["", "wide", "nan", "1 2", "5 N", "9e9"])
def test_bad_input_is_answered_in_one_sentence(mine: Progress, typed: str) -> None:
    for activity in (FlakeUnderHat(progress=mine), RotorIndexing(progress=mine)):
        activity.check(typed)
        assert re.fullmatch(r"[^\n]*(was expected|still empty)[^\n]*\.", activity.reply()), activity.reply()
    assert not mine.tallies()


def test_the_words_of_the_flake_never_tell_the_run_out(mine: Progress) -> None:
    activity = FlakeUnderHat(progress=mine)
    brake = activity.vehicle.front
    for flake in (0.03, 0.09, 0.13):
        activity.flake.value = flake
        right = debris_run_out_mm(flake, brake.seat_radius_mm, brake.measuring_radius_mm)
        told = activity.words() + str(activity.facts()) + activity.reply()
        assert f"{right:.2f}" not in told.replace(f"{brake.rotor.max_run_out_mm:.2f}", "")


# ------------------------------------------------------------------ from stud to stud


def test_the_best_position_is_told_after_the_answer_only(mine: Progress) -> None:
    for seed in range(1, 8):
        activity = RotorIndexing(seed=seed, progress=mine)
        best, _, table = best_index(activity.fit.hub, activity.fit.rotor, activity.fit.studs)
        for _ in range(activity.fit.studs):
            assert "best)" not in str(activity.facts()) and "Right" not in activity.reply()
            activity.next_stud()
        assert "not measured" not in str(activity.facts())
        activity.check(str(best))
        assert activity.reply().startswith("Right") and f"{best} (best)" in str(activity.facts())
        shown = [row[2] for row in activity.facts()[1:]]
        assert [float(one.split(" ")[0]) for one in shown] == [round(one, 2) for one in table]


def test_a_wrong_position_is_told_why(mine: Progress) -> None:
    activity = RotorIndexing(progress=mine)
    fit = activity.fit
    best, _, table = fit.best
    told = {index: position_reply(index, fit.hub, fit.rotor, fit.studs).words for index in range(fit.studs)}
    worst = table.index(max(table))
    assert told[best].startswith("Right")
    assert all(words.startswith("Not yet") for index, words in told.items() if index != best)
    assert "other way round" in told[fit.studs - best]
    if worst != fit.studs - best:
        assert "worst position" in told[worst]
    for odd in (fit.studs, 1.5, -1):
        assert "whole studs" in position_reply(odd, fit.hub, fit.rotor, fit.studs).words


def test_a_new_rotor_is_not_turned_and_hides_its_table(mine: Progress) -> None:
    activity = RotorIndexing(progress=mine)
    studs = set()
    for _ in range(12):
        activity.check(str(activity.fit.best[0]))
        activity.new_task()
        assert activity.index.value == 0 and not activity.solved and activity.tried == {0}
        assert activity.index.slider.max == activity.index.box.max == activity.fit.studs - 1
        studs.add(activity.fit.studs)
        activity.index.value = activity.fit.studs - 1
        assert activity.picture() == activity._picture.value
    assert len(studs) > 1


# ------------------------------------------------------------------ the sums


@pytest.mark.parametrize("topic", SUMS)
@pytest.mark.parametrize("difficulty", LEVELS)
def test_the_right_number_is_right_and_the_question_does_not_tell_it(
    topic: str, difficulty: Difficulty
) -> None:
    for seed in range(6):
        task = number_task(topic, difficulty, Draw(seed))
        assert isinstance(task, NumberTask) and task.topic == topic
        right = float(re.findall(r"= ([\d.]+) mm\.$", task.answer)[0])
        assert task.rule(right).right, task.answer
        assert not task.rule(right * 1.5 + 0.02).right
        told = task.question + str([row[1] for row in task.evidence])
        assert f"{right:.3f} mm" not in told


@pytest.mark.parametrize("difficulty", LEVELS)
def test_slips_of_the_sums_are_named(difficulty: Difficulty) -> None:
    seen = set()
    for seed in range(12):
        task = number_task(FLAKE, difficulty, Draw(seed))
        words = task.rule(task.case.own.debris_mm).words
        assert "thickness of the flake" in words
        arrows = number_task(TOGETHER, difficulty, Draw(seed))
        hub, rotor = arrows.case.hub, arrows.case.rotor
        together = arrows.rule(hub.total_mm + rotor.total_mm)
        seen.add(together.right or "added the two sizes" in together.words)
        start = arrows.rule(stack_run_out_mm(hub, rotor, 0, arrows.case.studs))
        seen.add(start.right or "before the rotor is turned" in start.words or "Not yet" in start.words)
    assert seen == {True}


# ------------------------------------------------------------------ off, clean, index, replace


def test_the_friction_face_is_never_hammered() -> None:
    answers = set()
    for seed in range(40):
        task = off_task(OFF, "normal", Draw(seed))
        case = task.case
        assert task.right == (SCREW if case.screw else PRESS if case.holes else TAP)
        assert "bends the disc" in task.reasons[HAMMER]
        answers.add(task.right)
    assert answers == {SCREW, PRESS, TAP}


@pytest.mark.parametrize("difficulty", LEVELS)
def test_rust_and_oil_are_cleaned_in_different_ways(difficulty: Difficulty) -> None:
    rights = {}
    for seed in range(20):
        task = off_task(FACES, difficulty, Draw(seed))
        rights.setdefault(task.case.state, set()).add(task.right)
        assert all("Right" not in reason for reason in task.reasons.values())
    assert all(len(found) == 1 for found in rights.values()) and len(rights) == 2


@pytest.mark.parametrize("difficulty", LEVELS)
def test_what_to_do_follows_from_the_case_and_every_choice_has_its_reason(difficulty: Difficulty) -> None:
    answers = set()
    for topic in TOPICS:
        for seed in range(14):
            task = fit_task(topic, difficulty, Draw(seed))
            fit = task.case
            answers.add(task.right)
            assert task.choices == CHOICES
            if dirty(fit):
                assert task.right == CLEAN and f"{fit.own.debris_mm:.2f} mm" in task.reasons[CLEAN]
            elif fit.total_mm <= fit.limit_mm:
                assert task.right == LEAVE
            elif fit.best[1] <= fit.limit_mm:
                assert task.right == INDEX and f"{fit.best[1]:.2f} mm" in task.reasons[INDEX]
            else:
                assert task.right == (HUB if fit.hub.total_mm > fit.limit_mm else ROTOR)
                assert "best of the" in task.reasons[INDEX]
            assert "see the picture" in str(task.evidence)
    assert answers == set(CHOICES)


def test_a_choice_is_answered_with_its_reason_and_counted_once(mine: Progress) -> None:
    for kind in (OffAndClean, FitDecision):
        activity = kind(progress=mine)
        task = activity.asked
        assert isinstance(task, Task)
        activity.check()
        assert "Nothing is chosen yet" in activity.reply()
        for option in task.choices:
            activity.chosen.value = option
            activity.check()
            start = "Right. " if option == task.right else "Not yet. "
            assert activity.reply().startswith(start + task.reasons[option])
    assert sorted(tally.tries for tally in mine.tallies()) == [1, 1]


def test_pictures_show_what_the_case_says(mine: Progress) -> None:
    activity = FitDecision(progress=mine, session=5)
    for _ in range(12):
        activity.new_case()
        assert ('data-part="flake"' in activity.picture()) == dirty(activity.asked.case)
    stuck = OffAndClean(progress=mine, session=5)
    stuck.topic.value = OFF
    for _ in range(8):
        stuck.new_case()
        case = stuck.asked.case
        assert ('data-part="screw"' in stuck.picture()) == case.screw
        assert ('data-part="threaded-hole"' in stuck.picture()) == case.holes


# ------------------------------------------------------------------ the lesson's rotor, the plan, time


def test_the_lessons_rotor_is_cleaned_and_then_indexed() -> None:
    fit = worked.estate()
    assert dirty(fit) and fit.wheel == "front left"
    assert fit.total_mm > fit.cleaned().total_mm > fit.limit_mm > fit.best[1]
    for shown in (
        worked.show_known(fit),
        worked.show_dial(fit, uid="a"),
        worked.show_faces(fit, uid="b"),
        worked.show_faces(fit.cleaned(), uid="c"),
        worked.show_flake(fit, uid="d"),
        worked.show_arrows(fit, 1, uid="e"),
        worked.show_positions(fit),
        worked.show_decision(fit),
    ):
        assert shown.text and shown.html
    assert "bare metal" in worked.show_faces(fit.cleaned(), uid="c").text


def test_the_small_angle_is_where_the_slope_series_says() -> None:
    # Source: tan a = a + a^3/3 + 2 a^5/15 + ..., so 1 - a / tan a = a^2/3 + a^4/45 + ... (Taylor's series).
    tilt = worked.one_percent_tilt_rad(66, 116)
    assert tilt**2 / 3 + tilt**4 / 45 == pytest.approx(0.01, rel=1e-4)
    assert worked.one_percent_tilt_rad(108, 146) == pytest.approx(tilt, rel=1e-9)


def test_the_activities_are_those_of_the_plan() -> None:
    planned = {one.activity: one.title for one in plan() if one.lesson == "10_hub_and_rotor_fit"}
    assert planned == {name: kind.title for name, kind in NAMED.items()}


@pytest.mark.parametrize("name", NAMED)
def test_an_activity_redraws_at_once(name: str, mine: Progress) -> None:
    activity = NAMED[name](name, progress=mine)
    activity.refresh()
    took = []
    for _ in range(5):
        begun = time.perf_counter()
        activity.refresh()
        took.append(time.perf_counter() - begun)
    assert min(took) < 0.03


@pytest.mark.parametrize("name", NAMED)
def test_controls_have_names_of_their_own(name: str, mine: Progress) -> None:
    def inside(widget: Any) -> list[Any]:
        return [widget] + [one for child in getattr(widget, "children", ()) for one in inside(child)]

    parts = inside(NAMED[name](name, progress=mine))
    named = [one.tooltip or one.description for one in parts if getattr(one, "description", "")]
    assert len(named) == len(set(named)) > 3, named
