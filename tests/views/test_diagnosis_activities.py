"""The activities of lesson 05, driven as a learner drives them."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.trade.leaks import diagnosis_table, next_checks
from brakecourse.views.diagnosis_air import AIR, EXTRA, LIGHT, AirInLines, AirNumbers, air_task
from brakecourse.views.diagnosis_bench import ALL, DiagnosisBench
from brakecourse.views.diagnosis_cases import (
    CHECK,
    FIELDS,
    SURE,
    draw_job,
    is_drive,
    may_be_driven,
    shares,
    times_as_likely,
    worth,
)
from brakecourse.views.diagnosis_cause_quiz import LIKELY, WhichCause, cause_reason, fitting_case
from brakecourse.views.diagnosis_next_quiz import NO_DRIVE, WhichCheckNext, next_task
from brakecourse.views.diagnosis_pedal_cases import sinking_pedal, soft_pedal
from brakecourse.views.diagnosis_replies import named_reply
from brakecourse.views.diagnosis_sink import LEAK, SINK, PedalSink, leak_reply, sink_reply, sink_task
from brakecourse.views.diagnosis_words import BOOSTER, cause_words, check_line, minutes
from brakecourse.views.plan import plan
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import DIFFICULTIES, Quiz, Task

LESSON = "05_leaks_and_pedal_feel"
SLOWEST_S = 0.25  # about 5 ms of Python on a quiet machine; a busy one takes its time
QUIZZES: list[Callable[..., Quiz]] = [PedalSink, WhichCause, WhichCheckNext, AirNumbers]


@pytest.fixture
def mine(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


@pytest.fixture
def bench(mine: Progress) -> DiagnosisBench:
    return DiagnosisBench(session=1, progress=mine)


def tally(mine: Progress) -> tuple[int, int]:
    (one,) = mine.tallies()
    return one.tries, one.right


def do(bench: DiagnosisBench, *checks: str) -> None:
    for check in checks:
        bench.next_check.value = check_line(check)
        bench.do_check()


def name(bench: DiagnosisBench, words: str) -> str:
    bench.cause.value = words
    bench.name_cause()
    return bench.reply()


def test_the_lesson_has_these_activities() -> None:
    assert {one.activity for one in plan() if one.lesson == LESSON} == {
        *(quiz().uid for quiz in QUIZZES),
        AirInLines().uid,
        DiagnosisBench().uid,
    }


# ------------------------------------------------------------------ the diagnosis bench


def test_a_check_costs_its_minutes_and_shows_what_the_vehicle_shows(bench: DiagnosisBench) -> None:
    do(bench, "pedal_hold", "wet_wheels")
    assert bench.findings == {one: bench.job.finding(one) for one in ("pedal_hold", "wet_wheels")}
    assert bench.reply().endswith("That took 6 minutes.") and "8 minutes spent" in bench.picture()
    assert not any("Hold the pedal" in line for line in bench.next_check.options)
    assert bench.facts()[0][0] == "Cause" and len(bench.facts()) == 4
    bench.show_ranking.value = False
    assert bench.facts() == () and "in 100" not in bench.picture()


def test_no_drive_before_the_pedal_has_proven_firm(bench: DiagnosisBench) -> None:
    do(bench, "drive_noise")
    assert bench.reply().startswith("First press the pedal") and not bench.findings
    do(bench, "pedal_hold", "drive_noise")
    assert bench.findings["pedal_hold"] in {"creeps", "sinks"}
    assert "is not driven" in bench.reply() and list(bench.findings) == ["pedal_hold"]
    sound = {"pedal_feel": "firm", "pedal_hold": "stays"}
    assert may_be_driven(sound) and any(is_drive(one.check) for one in worth(sound))
    for findings in ({}, {"pedal_feel": "firm"}, {"pedal_feel": "springy", "pedal_hold": "stays"}):
        assert not any(is_drive(one.check) for one in worth(findings))


def test_advice_is_the_check_that_tells_most_a_minute(bench: DiagnosisBench) -> None:
    bench.advise()
    first = next(one for one in next_checks({}) if not is_drive(one.check))
    assert bench.reply().startswith(first.words) and not bench.findings
    bench.do_check()
    assert list(bench.findings) == [first.check]


def test_each_mistake_at_the_bench_is_named(bench: DiagnosisBench, mine: Progress) -> None:
    bench.name_cause()
    assert bench.reply().startswith("No cause is chosen yet") and not mine.tallies()
    words = cause_words()
    assert bench.job.cause == "fitting_leak"
    assert "after no check" in name(bench, words["hose_leak"])
    do(bench, "pedal_hold")
    assert "after 1 check:" in name(bench, words["hose_leak"])
    assert "booster only helps the foot" in name(bench, BOOSTER) and "went down" in bench.reply()
    assert "where the master cylinder meets the booster" in name(bench, words["internal_bypass"])
    do(bench, "wet_wheels", "fluid_level")
    assert "Against it speaks" in name(bench, words["air_in_circuit"])
    assert name(bench, words["fitting_leak"]).startswith("Right: ") and "For it spoke" in bench.reply()
    assert bench.facts()[0][0] == "A good order" and tally(mine) == (1, 0)


def test_a_right_cause_counts_once_and_compares_the_minutes(bench: DiagnosisBench, mine: Progress) -> None:
    do(bench, *bench.job.good_order)
    spent = minutes(bench.findings)
    reply = name(bench, cause_words()[bench.job.cause])
    assert f"You spent {spent:g} minutes" in reply and "You were as quick." in reply
    name(bench, cause_words()[bench.job.cause])
    assert tally(mine) == (1, 1)


def test_a_guess_that_came_true_is_called_one(bench: DiagnosisBench) -> None:
    assert "a guess that came true" in name(bench, cause_words()[bench.job.cause])


def test_the_answer_is_told_to_who_asks_and_counts_as_not_right(
    bench: DiagnosisBench, mine: Progress
) -> None:
    bench.show_answer()
    assert cause_words()["fitting_leak"] in bench.reply() and tally(mine) == (1, 0)
    before = bench.job
    bench.new_vehicle()
    assert bench.job is not before and not bench.findings and bench.facts() == []
    bench.field.value = ALL
    assert bench.number == 2


def test_every_check_can_be_done_and_then_none_is_left(bench: DiagnosisBench) -> None:
    bench.job = draw_job(Draw(4), ("nothing_wrong",))
    for _ in range(3):
        for line in tuple(bench.next_check.options):
            bench.next_check.value = line
            bench.do_check()
    assert set(bench.findings) == set(CHECK)
    for press in (bench.do_check, bench.advise):
        press()
        assert bench.reply() == "Every check is done. Name the cause."
    wrong = name(bench, cause_words()["worn_pads"])
    assert "No check is left" in wrong or "where the master" in wrong


def test_nothing_names_the_cause_before_it_is_named(bench: DiagnosisBench) -> None:
    bench.show_ranking.value = False
    for seed in range(6):
        bench.new_vehicle()
        words = cause_words()[bench.job.cause]
        assert words not in " ".join([bench.words(), bench.reply(), bench.picture(), str(seed)])


def test_a_good_order_ends_where_the_cause_is_found_or_likeliest() -> None:
    for seed in range(12):
        job = draw_job(Draw(seed), FIELDS["fluid that goes, a pedal that sinks"])
        good = job.good_order
        shorter = dict(list(good.items())[:-1])
        assert shares(shorter)[job.cause] < SURE
        if shares(good)[job.cause] < SURE:  # then going on would not have helped
            further = good | {worth(good)[0].check: job.finding(worth(good)[0].check)}
            assert shares(further)[job.cause] <= shares(good)[job.cause]


def test_every_cause_of_the_table_is_in_one_field() -> None:
    drawn = [cause for causes in FIELDS.values() for cause in causes]
    assert sorted(drawn) == sorted(one.id for one in diagnosis_table().causes)


def test_the_ratio_of_two_causes_is_that_of_their_counts() -> None:
    # Bayes' theorem turned round: for one finding alone, the odds move by the ratio of the likelihoods.
    table = diagnosis_table()
    totals: dict[tuple[str, str], list[int]] = {}
    for row in table.counts:
        if row.check == "wet_master":
            totals.setdefault((row.cause, row.finding), []).append(row.count)
    vehicles = {
        cause: sum(sum(v) for (one, _), v in totals.items() if one == cause)
        for cause in ("primary_seal_leak", "internal_bypass")
    }
    leak, bypass = (
        (sum(totals.get((cause, "wet"), [0])) + 0.5) / (count + 1) for cause, count in vehicles.items()
    )
    ours = times_as_likely(("wet_master", "wet"), "primary_seal_leak", "internal_bypass")
    assert ours == pytest.approx(leak / bypass, rel=0.1)  # smoothing differs by severity


# ------------------------------------------------------------------ which cause fits


@pytest.mark.parametrize("topic", FIELDS)
@pytest.mark.parametrize("difficulty", DIFFICULTIES.values())
def test_the_right_cause_is_the_vehicles_and_stands_first(topic: str, difficulty: Any) -> None:
    job, findings = fitting_case(topic, difficulty, Draw(7))
    likeliest = max(shares(findings).items(), key=lambda one: one[1])
    assert likeliest[0] == job.cause and likeliest[1] >= LIKELY[difficulty]


def test_each_choice_has_its_reason_from_this_vehicle(mine: Progress) -> None:
    quiz = WhichCause(session=2, progress=mine)
    assert isinstance(quiz.asked, Task) and BOOSTER in quiz.asked.choices  # its pedal sinks
    for chosen in quiz.asked.choices:
        quiz.chosen.value = chosen
        quiz.check()
        right = chosen == quiz.asked.right
        assert quiz.reply().startswith("Right. For it speaks" if right else "Not yet. ")
        if not right:
            assert quiz.asked.right not in quiz.reply()
    assert tally(mine)[0] == 1
    assert "cannot let a held pedal sink" in quiz.asked.reasons[BOOSTER]


def test_who_stops_at_the_first_finding_is_told() -> None:
    findings = {"pedal_hold": "sinks", "wet_wheels": "hose", "fluid_level": "missing"}
    job = draw_job(Draw(1), ("hose_leak",))
    assert "do not stop there" in cause_reason(job, findings, "internal_bypass")


# ------------------------------------------------------------------ which check next


@pytest.mark.parametrize("difficulty", DIFFICULTIES.values())
def test_the_best_check_is_right_and_the_others_tell_less_a_minute(difficulty: Any) -> None:
    job = draw_job(Draw(3), ("seized_pin",))
    for findings in ({}, {"pedal_feel": "firm", "pedal_hold": "stays"}):
        task = next_task("halfway", job, findings, difficulty, Draw(5))
        best = worth(findings)[0]
        assert task.right == check_line(best.check) and len(task.choices) == 4
        worths = {check_line(one.check): one.bits_per_minute for one in worth(findings)}
        assert all(worths.get(one, 0) < best.bits_per_minute for one in task.choices if one != task.right)
        drives = [one for one in task.choices if task.reasons[one] == NO_DRIVE]
        assert len(drives) == (0 if findings else 1)
        assert any("takes parts off" in reason for reason in task.reasons.values())


# ------------------------------------------------------------------ pedals


@pytest.mark.parametrize("difficulty", DIFFICULTIES.values())
def test_each_mistake_with_a_sinking_pedal_is_named(difficulty: Any) -> None:
    pedal = sinking_pedal(Draw(11), difficulty)
    system = pedal.case.vehicle.hydraulics
    right = (pedal.read_mm[1] - pedal.read_mm[0]) * 60 / pedal.hold_s
    area = 3.14159 / 4 * system.master_bore_mm**2
    leak = right / system.pedal_ratio * area / 1000
    assert sink_reply(right, pedal).right and sink_reply(right + 60 / pedal.hold_s, pedal).right
    assert leak_reply(round(leak, 2), pedal).right
    said = {
        leak * system.pedal_ratio: "pedal ratio",
        leak * 4: "radius",
        leak * 1000: "cubic millimetres",
    }
    if pedal.hold_s < 60:
        said[leak * pedal.hold_s / 60] = f"in {pedal.hold_s} s"
        assert f"in {pedal.hold_s} s" in sink_reply(right * pedal.hold_s / 60, pedal).words
    for number, words in said.items():
        reply = leak_reply(number, pedal)
        assert not reply.right and words in reply.words, (number, reply)
    assert "Subtract where it stood at the start" in sink_reply(pedal.read_mm[1], pedal).words


def test_the_pedal_sinks_as_the_stopwatch_runs(mine: Progress) -> None:
    quiz = PedalSink(session=1, progress=mine)
    seen = [quiz.picture()]
    for seconds in (20, 60):
        quiz.time.value = seconds
        seen.append(quiz.picture())
    assert len(set(seen)) == 3 and "6, 0, point, 0" in seen[-1]
    quiz.difficulty.value = "harder"
    assert quiz.time.value == 0 and quiz.time.slider.max == 30


@pytest.mark.parametrize("difficulty", DIFFICULTIES.values())
def test_each_mistake_with_air_is_named(difficulty: Any) -> None:
    pedal = soft_pedal(Draw(12), difficulty)
    system, pressure = pedal.case.vehicle.hydraulics, pedal.pressure_mpa
    per_mm = 3.14159 / 4 * system.master_bore_mm**2 / 1000 / system.pedal_ratio  # mL for each mm of the foot
    lost = (pedal.read_mm - pedal.usual_mm) * per_mm
    air = lost * (pressure + 0.101325) / pressure  # Boyle's law by hand
    judge = air_task(AIR, pedal).rule
    assert judge(round(air, 2)).right
    for number, words in {
        air * pedal.read_mm / pedal.extra_mm: "whole travel",
        air * system.pedal_ratio: "pedal ratio",
        air * 4: "radius",
        air - lost: "what is left of the air",
    }.items():
        assert words in judge(number).words, (number, judge(number))
    assert air_task(EXTRA, pedal).rule(pedal.extra_mm).right
    assert "whole travel" in air_task(EXTRA, pedal).rule(pedal.read_mm).words
    judge, light = air_task(LIGHT, pedal).rule, pedal.light_mpa
    whole = pedal.told_air_ml / per_mm
    assert judge(whole * light / (light + 0.101325)).right
    proportion = whole * pressure / (pressure + 0.101325) * light / pressure
    assert "in proportion" in judge(proportion).words
    assert "air round us" in judge(whole * (1 - 0.101325 / light)).words
    assert "if all of the air were gone" in judge(whole).words


def test_more_air_takes_the_pedal_down_and_the_first_push_most() -> None:
    air = AirInLines()
    (_, *rows) = air.facts()
    first, last = (float(re.findall(r"^\d+", rows[place][2])[0]) for place in (0, -1))
    assert first > 0.8 * last
    before = air.words()
    air.air.value = 6.0
    air.push.value = 300
    assert air.words() != before
    air.vehicle.value = air.vehicle.options[0]
    air.air.value = 0
    assert "0 mm (0.00 in) more" in air.words()


# ------------------------------------------------------------------ all of them


@pytest.mark.parametrize("quiz", QUIZZES)
def test_a_quiz_has_all_its_topics_and_difficulties(quiz: Any, mine: Progress) -> None:
    one = quiz(session=4, progress=mine)
    for topic in one.topics:
        one.topic.value = topic
        for difficulty in DIFFICULTIES:
            one.difficulty.value = difficulty
            one.new_case()
            assert one.asked.topic == topic and one.picture().startswith("<svg")
    assert not mine.tallies()


@pytest.mark.parametrize("typed", ["", "abc", "nan", "1e999", "6 kg"])
@pytest.mark.parametrize("quiz", [PedalSink, AirNumbers])
def test_bad_input_is_answered_in_one_sentence(quiz: Any, typed: str, mine: Progress) -> None:
    one = quiz(session=4, progress=mine)
    one.check_number(typed)
    assert re.fullmatch(r"[^.!?]*(\d\.\d[^.!?]*)*[.!?]", one.reply()) and not mine.tallies()


def test_words_never_give_a_number_away() -> None:
    for seed in range(5):
        for task in (
            sink_task(SINK, sinking_pedal(Draw(seed), "easy")),
            sink_task(LEAK, sinking_pedal(Draw(seed), "easy")),
            air_task(AIR, soft_pedal(Draw(seed), "easy")),
        ):
            told = f"{task.question} {task.evidence}"
            answer = re.findall(r"[\d.]+", task.answer)[0]
            assert not re.search(rf"(?<![\d.]){re.escape(answer)}(?![\d.])", told), (answer, told)


def test_a_reply_is_quick() -> None:
    bench, air, sink = DiagnosisBench(session=1), AirInLines(), PedalSink(session=1)
    presses: list[Callable[[], Any]] = [
        bench.advise,
        bench.do_check,
        lambda: named_reply(bench.job, bench.findings, BOOSTER),
        lambda: air.push.on_change(air.refresh),
        lambda: setattr(air.push, "value", 90),
        lambda: setattr(sink.time, "value", 30),
        lambda: sink.check_number("12"),
    ]
    for press in presses:
        begun = time.perf_counter()
        press()
        assert time.perf_counter() - begun < SLOWEST_S
