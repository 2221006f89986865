"""The activities of lesson 07, driven as a learner drives them."""

from __future__ import annotations

import csv
import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import nbformat
import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.pad_cases import CORNERS, draw_pad_case
from brakecourse.bench.pad_situations import CAUSES, PATTERNS, SITUATIONS
from brakecourse.tables import table_path
from brakecourse.trade.pads import mean_lining_mm, pair_difference_mm, smallest_lining_mm, taper_mm
from brakecourse.views import pad_replies
from brakecourse.views.pad_causes import SYMPTOMS, cause_reason
from brakecourse.views.pad_life import LifeCalculator
from brakecourse.views.pad_next import AXLE, CHOICES, KEEP, ONE_SIDE, WhatNext, next_reason, next_task
from brakecourse.views.pad_quiz import TOPICS, WearQuiz, cause_task, pattern_task
from brakecourse.views.pad_reader import WearReader
from brakecourse.views.pad_reasons import pattern_reason
from brakecourse.views.pad_sums import CornerSums, DistanceLeft
from brakecourse.views.pad_view import hands_table
from brakecourse.views.plan import plan
from brakecourse.views.progress import Progress

LESSON = Path(__file__).resolve().parents[2] / "course" / "lessons" / "07_pad_wear.ipynb"
SLOWEST_S = 0.25  # about 2 ms of Python on a quiet machine; a busy one takes its time


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def tally(mine: Progress) -> tuple[int, int]:
    (one,) = mine.tallies()
    return one.tries, one.right


# ------------------------------------------------------------------ the wear reader


def test_the_wear_reader_from_the_first_corner_to_the_sums(mine: Progress) -> None:
    reader = WearReader(progress=mine)
    case = reader.case
    reader.note_rest()
    assert reader.reply().startswith("Read 3 more corners yourself")
    reader.reading.box.value = f"{case.inner.leading_outer_mm + case.gauge.plate_mm:.1f}"
    assert "backing plate" in reader.reply() and not reader.noted
    for corner in case.inner.corners_mm[:3]:
        reader.reading.box.value = f"{corner:.1f}"
        assert reader.reply().startswith("Right") and reader.reading.box.value == ""
    assert reader.place == ("inner pad", 3)
    reader.note_rest()
    assert len(reader.noted) == 8 and "not noted" not in str(reader.facts())
    assert tally(mine) == (4, 3)
    least = min(*case.inner.corners_mm, *case.outer.corners_mm)
    for typed, words in (
        (max(*case.inner.corners_mm, *case.outer.corners_mm), "best corner"),
        (smallest_lining_mm(case.outer), "thinnest corner of the outer pad"),
        (least + case.gauge.plate_mm, "backing plate"),
        (least, "Right"),
    ):
        reader.smallest.box.value = f"{typed:.1f}"
        assert words in reader.reply(), typed
    reader.pair.box.value = f"{pair_difference_mm(case.inner, case.outer):.3f}"
    assert reader.reply().startswith("Right")
    reader.new_task()
    assert not reader.noted and reader.case is not case and reader.smallest.box.value == ""


def test_the_pad_is_turned_and_the_gauge_moved(mine: Progress) -> None:
    reader = WearReader(progress=mine)
    seen = {reader.picture()}
    for side in reader.side.options:
        reader.side.value = side
        seen.add(reader.picture())
    for corner in CORNERS:
        reader.corner.value = corner
        assert corner in reader.words()
        seen.add(reader.picture())
    reader.which.value = "outer pad"
    seen.add(reader.picture())
    assert len(seen) == 9
    reader.explain()
    assert "small line" in reader.reply() or "number itself" in reader.reply()


def test_nothing_tells_a_reading_before_it_is_taken(mine: Progress) -> None:
    reader = WearReader(progress=mine)
    for corner in CORNERS:
        reader.corner.value = corner
        reading = f"{reader.case.gauge.reading(reader.indication_mm):.1f}"
        desc = re.findall(r"<(?:title|desc)[^>]*>(.*?)</", reader.picture())
        assert reading not in " ".join([reader.words(), reader.reply(), *desc, str(reader.facts())])


@pytest.mark.parametrize("typed", ["", "abc", "nan", "1e999", "7,123", "6 kg"])
def test_bad_input_is_answered_in_one_sentence(typed: str, mine: Progress) -> None:
    reader = WearReader(progress=mine)
    reader.check_reading(typed)
    assert re.fullmatch(r"[^.!?]*(\d\.\d[^.!?]*)*[.!?]", reader.reply()) and not mine.tallies()


# ------------------------------------------------------------------ numbers and their mistakes


def test_each_mistake_with_a_taper_is_named() -> None:
    case = draw_pad_case(4, "seized pin", vehicle="library_van")
    pad = case.inner
    one = abs(pad.leading_outer_mm - pad.trailing_outer_mm)
    two = abs(pad.leading_inner_mm - pad.trailing_inner_mm)
    said = {
        taper_mm(pad, "length"): "Right",
        taper_mm(pad, "height"): "taper in height",
        min(one, two): "smaller of the two",
        one + two: "added",
        smallest_lining_mm(pad): "thinnest corner",
        max(pad.corners_mm): "thickest corner",
    }
    for answer, words in said.items():
        assert words in pad_replies.taper_reply(answer, pad, "length").words, answer


def test_each_mistake_with_the_difference_is_named() -> None:
    case = draw_pad_case(4, "seized pin", vehicle="library_van")
    inner, outer = mean_lining_mm(case.inner), mean_lining_mm(case.outer)
    for answer, words in (
        (inner + outer, "added"),
        (inner, "mean of the inner pad"),
        (outer, "mean of the outer pad"),
        (4 * abs(inner - outer), "Divide by four"),
        (max(case.outer.corners_mm) - max(case.inner.corners_mm), "best corner"),
        (abs(inner - outer), "Right"),
    ):
        assert words in pad_replies.pair_reply(answer, case).words, words


def test_each_mistake_with_the_distance_is_named() -> None:
    case = draw_pad_case(4, "seized pin", vehicle="library_van")
    spec, least = case.brake.pad, smallest_lining_mm(case.inner)
    rate = (spec.lining_new_mm - least) / case.km
    right = pad_replies.life_of(case).likely_km
    assert right == pytest.approx((least - spec.minimum_mm) / rate)
    best = max(case.inner.corners_mm)
    for answer, words in (
        (least / rate, "bare steel"),
        (case.km * (best - spec.minimum_mm) / (spec.lining_new_mm - best), "best corner"),
        ((least + case.gauge.plate_mm - spec.minimum_mm) / rate, "backing plate"),
        (case.km, "already"),
        (right / 1.609344, "miles"),
        (right, "Right"),
    ):
        assert words in pad_replies.distance_reply(answer, case).words, words


@pytest.mark.parametrize("kind", [CornerSums, DistanceLeft])
def test_the_shown_answer_is_judged_right(kind: Callable[..., Any], mine: Progress) -> None:
    quiz = kind(session=2, progress=mine)
    for _ in range(12):
        task = quiz.asked
        number = float(
            re.sub(r"[^\d.].*", "", task.answer.removeprefix("About ").replace("\N{NO-BREAK SPACE}", " "))
        )
        assert task.rule(number).right, task.answer
        quiz.new_case()


# ------------------------------------------------------------------ pattern, part, action


@pytest.mark.parametrize("situation", SITUATIONS)
def test_every_choice_has_a_reason_from_the_pads(situation: str) -> None:
    for seed in (1, 2):
        case = draw_pad_case(seed, situation)
        for pattern in PATTERNS:
            reason = pattern_reason(case, pattern)
            assert reason.endswith(".") and "None" not in reason and len(reason) < 700
            if pattern != case.pattern and case.pattern not in ("too close to call", "even"):
                assert case.pattern not in reason
        for cause in (*CAUSES, *SYMPTOMS):
            reason = cause_reason(case, cause)
            assert reason.endswith(".") and reason[0].isupper()
        assert "symptom" in cause_reason(case, SYMPTOMS[0])


def test_a_wrong_choice_is_never_told_what_the_pads_do_not_show() -> None:
    for seed in range(4):
        sound = draw_pad_case(seed, "sound")
        assert cause_reason(sound, SYMPTOMS[0]).startswith("They did not")
        assert "minimum is kept" in cause_reason(sound, "the pads stayed in too long")
        close = draw_pad_case(seed, "close to the minimum")
        assert "not proven" in cause_reason(close, "normal use")
        assert "not proven" in cause_reason(close, "the pads stayed in too long")
        assert "no face" in pattern_reason(close, "glazed face")
        assert "within the limit" in pattern_reason(close, "outer pad thin")
        assert "cannot tell" in pattern_reason(close, "even")
        greasy = draw_pad_case(seed, "greasy")
        assert "brake fluid has leaked: nowhere" in cause_reason(greasy, greasy.cause)
        assert "wet" not in pattern_reason(greasy, greasy.pattern)


def test_hands_tell_what_pads_that_are_too_close_do_not() -> None:
    for seed in range(4):
        case = draw_pad_case(seed, "close in shape")
        pins, others = case.condition.caliper.pin_slide_n, case.other.caliper.pin_slide_n
        assert pins and others and min(pins) > 2 * max(others)  # both pins are dry, whatever the pads prove
        task = cause_task("topic", case, Draw(seed))
        assert task.right == "both slide pins dry" and "not known yet" in task.choices
        assert "hands" in task.reasons[task.right] and "hands" in task.reasons["not known yet"]


def test_a_fixed_caliper_is_told_of_no_bracket() -> None:
    fixed = next(
        case
        for case in (draw_pad_case(seed, "sticking piston") for seed in range(60))
        if case.brake.caliper.pin is None
    )
    assert "without a bracket" in cause_reason(fixed, "the bracket's bolts loose")
    assert [row[0] for row in hands_table(fixed) if "bolts" in row[0]] == ["Caliper's bolts, looser one"]
    assert all(draw_pad_case(seed, "loose bracket").brake.caliper.pin for seed in range(8))


def test_the_topics_hold_every_situation_once() -> None:
    held = [situation for situations in TOPICS.values() for situation in situations]
    assert sorted(held) == sorted(SITUATIONS) and len(TOPICS) >= 10


def test_the_question_gives_nothing_away(mine: Progress) -> None:
    quiz = WearQuiz(session=5, progress=mine)
    for _ in range(15):
        task = quiz.asked
        told = " ".join([quiz.words(), *re.findall(r"<(?:title|desc)[^>]*>(.*?)</", quiz.picture())])
        assert task.right not in told and not any(cause in told for cause in CAUSES if len(cause) > 12)
        quiz.new_case()


def test_first_the_pattern_then_the_part(mine: Progress) -> None:
    quiz = WearQuiz(session=5, progress=mine)
    quiz.go_on()
    assert quiz.reply() == "Name the pattern first."
    case = quiz.asked.case
    quiz.chosen.value = next(one for one in quiz.asked.choices if one != case.pattern)
    quiz.check()
    assert quiz.reply().startswith("Not yet")
    assert case.pattern not in quiz._next.value  # the next topic would give it away
    quiz.chosen.value = case.pattern
    quiz.check()
    quiz.check()
    assert quiz.reply().startswith("Right") and tally(mine) == (1, 0)
    quiz.go_on()
    assert quiz.at_the_part and quiz.asked.case is case and len(quiz.asked.choices) == 5
    quiz.chosen.value = case.cause
    quiz.check()
    assert quiz.reply().startswith("Right") and tally(mine) == (2, 1)
    quiz.go_on()
    assert "New case" in quiz.reply()
    quiz.new_case()
    assert not quiz.at_the_part


def test_the_trap_of_the_symptom_is_always_set() -> None:
    for place, situation in enumerate(SITUATIONS):
        case = draw_pad_case(3, situation)
        task = cause_task("topic", case, Draw(place))
        assert len(set(task.choices) & set(SYMPTOMS)) == 1 and task.right == case.cause
        assert len(pattern_task("topic", case, Draw(place)).choices) == 5


@pytest.mark.parametrize("situation", ["worn out", "dry pins, too late", "close to the minimum"])
def test_one_side_only_is_named_and_too_close_is_not_proven(situation: str) -> None:
    case = draw_pad_case(2, situation)
    task = next_task("below", case)
    if case.finding.action == "replace":
        assert task.right == AXLE
        assert "axle set" in task.reasons[ONE_SIDE] and "pull" in task.reasons[ONE_SIDE]
        assert "best corner" in task.reasons[KEEP]


@pytest.mark.parametrize("situation", SITUATIONS)
def test_the_action_is_the_trades(situation: str) -> None:
    case = draw_pad_case(4, situation)
    actions = {"replace": 4, "find the cause": 2, "measure again": 1, "keep": 0}
    assert next_task("topic", case).right == CHOICES[actions[case.finding.action]]
    assert all(next_reason(case, one).endswith(".") for one in CHOICES)


# ------------------------------------------------------------------ life calculator, speed, record


def test_a_worse_gauge_promises_less_and_a_bare_pad_nothing(mine: Progress) -> None:
    calculator = LifeCalculator(progress=mine)
    fine = calculator.life
    calculator.u.value = 0.4
    assert calculator.life.low_km < fine.low_km < fine.likely_km < fine.high_km < calculator.life.high_km
    calculator.now.value = 2.0
    assert "nothing is left" in calculator.words() and calculator.picture().startswith("<svg")
    calculator.now.value = 18.0
    calculator.u.value = 0.5
    assert "Too little has worn off" in calculator.words() and calculator.picture().startswith("<svg")


@pytest.mark.parametrize("kind", [WearReader, CornerSums, WearQuiz, LifeCalculator, DistanceLeft, WhatNext])
def test_a_control_is_answered_at_once(kind: Callable[..., Any], mine: Progress) -> None:
    activity = kind(progress=mine)
    begun = time.process_time()
    activity.refresh()
    assert time.process_time() - begun < SLOWEST_S


def test_the_table_knows_every_activity_of_the_lesson(mine: Progress) -> None:
    kinds = [WearReader, CornerSums, WearQuiz, LifeCalculator, DistanceLeft, WhatNext]
    here = {(one.activity, one.title) for one in plan() if one.lesson == "07_pad_wear"}
    assert {(kind(progress=mine).uid, kind.title) for kind in kinds} == here


# ------------------------------------------------------------------ the lesson's page


def cells() -> list[Any]:
    return list(nbformat.read(LESSON, as_version=4).cells)


def test_the_numbers_in_the_prose_are_those_that_the_cells_show() -> None:
    shown = "".join(
        output.get("text", "") + output.get("data", {}).get("text/plain", "")
        for cell in cells()
        if cell.cell_type == "code"
        for output in cell.outputs
    )
    checked = 0
    for cell in cells():
        if cell.cell_type == "markdown" and re.search("-(worked|guard)$", cell.id):
            for value in re.findall(r"\*\*(?:about )?(\d[^*]*\))\*\*", cell.source):
                assert value in shown, f"{cell.id}: {value}"
                checked += 1
    assert checked >= 12


def test_minutes_add_up_and_parts_have_their_names() -> None:
    text = "\n".join(cell.source for cell in cells() if cell.cell_type == "markdown")
    total = int(re.search(r"about (\d+) minutes", text)[1])  # type: ignore[index]
    assert sum(map(int, re.findall(r"^\*(\d+) minutes\*$", text, re.M))) == total <= 45
    with table_path("course/lesson_parts.csv").open(encoding="utf-8", newline="") as handle:
        rows = [row for row in csv.DictReader(handle) if row["module"] == LESSON.stem]
    headings = re.findall(r"^## (Part \d: .+)$", text, re.M)
    assert headings == [f"Part {row['part']}: {row['title']}" for row in rows]


def test_the_published_check_names_its_source() -> None:
    (cell,) = (one for one in cells() if one.id == "check-minimum")
    assert "Source: 49 CFR 393.47" in cell.outputs[0].data["text/plain"]
