"""The whole job: every step judged by the trade, named mistakes, the record, single questions."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.job_cases import draw_whole_job
from brakecourse.bench.vehicle_faults import FAULTS
from brakecourse.trade import job_order
from brakecourse.trade.leaks import diagnosis_table
from brakecourse.trade.rotor import verdict
from brakecourse.views import whole_job_worked as worked
from brakecourse.views.diagnosis_words import cause_words
from brakecourse.views.progress import Progress
from brakecourse.views.quiz import NumberTask, Task
from brakecourse.views.whole_job import WholeJob
from brakecourse.views.whole_job_case import COUNT, SHOWN, WholeJobCase
from brakecourse.views.whole_job_customer import telling
from brakecourse.views.whole_job_measure import ROTOR_CHOICES, deciding, measuring
from brakecourse.views.whole_job_quiz import JobQuestions
from brakecourse.views.whole_job_remedies import REMEDIES
from brakecourse.views.whole_job_work import NEW_PADS, finishing, rubs_anew, working, works

LEVELS = ("easy", "normal", "hard")
JOBS = [draw_whole_job(seed, level) for level in LEVELS for seed in range(8)]


@pytest.fixture
def progress(tmp_path: Path) -> Progress:
    return Progress(tmp_path / "progress.json")


def all_steps(job: object) -> list:
    draw = Draw(3)
    return [*measuring(job), *deciding(job), *working(job, draw), *finishing(job, draw), telling(job, draw)]


def answer(activity: WholeJob) -> None:
    """Give the right answer to the open step; the torque is shown."""
    step = activity.case.step
    assert step is not None
    if isinstance(step.task, Task):
        activity.chosen.value = step.task.right
        activity.check()
    elif step.id == "torque":
        activity.show_answer()
    else:
        activity.check_number(re.split(r"\s", step.written)[0])


def test_each_cause_of_the_trade_has_its_remedy() -> None:
    causes = {one.id for one in diagnosis_table().causes} - {"nothing_wrong"}
    assert set(REMEDIES) == causes == {kind.id for kind in FAULTS}
    for one in REMEDIES.values():
        assert one.plain.endswith(".") and one.means.endswith(".") and not one.work.endswith(".")


@pytest.mark.parametrize("job", JOBS, ids=lambda job: f"{job.case.difficulty}-{job.case.seed}")
def test_the_steps_of_a_job_agree_with_the_trade(job: object) -> None:
    steps = {one.id: one for one in all_steps(job)}
    found = verdict(job.readings_mm, job.dial_readings_mm, job.brake.rotor, job.instruments)
    assert ROTOR_CHOICES[steps["rotor"].task.right] == found.action
    assert steps["thickness"].task.rule(min(job.readings_mm)).right
    assert steps["run-out"].task.rule(max(job.dial_readings_mm) - min(job.dial_readings_mm)).right
    corners = [*job.pads.inner.corners_mm, *job.pads.outer.corners_mm]
    assert steps["lining"].task.rule(min(corners)).right
    if job.lining.action == "replace":
        assert "new pads" in " ".join(works(job)) or NEW_PADS in works(job)
    no_plan = steps["bed-in"].task.right.startswith("no bedding-in")
    assert no_plan is not rubs_anew(job)
    if rubs_anew(job):
        assert steps["bed-in"].task.reasons[steps["bed-in"].task.right].startswith("It passes")


def test_the_order_before_it_moves_breaks_no_rule_and_each_wrong_one_does() -> None:
    task = finishing(JOBS[0], Draw(1))[0].task
    assert isinstance(task, Task) and len(task.choices) == 4
    rules = {rule.reason for rule in job_order.sub_job("bed in").rules}
    for one in task.choices:
        assert (one == task.right) is not any(reason in task.reasons[one] for reason in rules)


@pytest.mark.parametrize("job", JOBS[::3], ids=lambda job: f"{job.case.difficulty}-{job.case.seed}")
def test_named_mistakes_are_recognised(job: object) -> None:
    steps = {one.id: one for one in all_steps(job)}
    run_out = max(job.dial_readings_mm) - min(job.dial_readings_mm)
    if run_out >= 0.04:
        assert "half of it" in steps["run-out"].task.rule(run_out / 2).words
        assert "decimal point" in steps["run-out"].task.rule(10 * run_out).words
    plate = steps["lining"].task.rule(min(job.pads.inner.corners_mm + job.pads.outer.corners_mm) + 5.5)
    assert "backing plate" in plate.words
    torque = job.brake.caliper.bracket_bolt.torque_nm
    assert not steps["torque"].task.rule(torque).right
    assert "extension" in steps["torque"].task.rule(torque).words


@pytest.mark.parametrize("job", JOBS[::2], ids=lambda job: f"{job.case.difficulty}-{job.case.seed}")
def test_no_question_gives_its_answer_away(job: object) -> None:
    for step in all_steps(job):
        if isinstance(step.task, Task):
            assert step.task.right not in step.task.question
            assert len({step.task.reasons[one] for one in step.task.choices}) > 1
        else:
            assert isinstance(step.task, NumberTask)
            right = re.search(r"\d+\.\d+ (?:mm|N·m)", step.task.answer.replace("\xa0", " "))
            assert right is None or right[0] not in step.task.question.replace("\xa0", " ")


def test_the_record_fills_line_by_line_and_is_signed_only_when_it_is_full(progress: Progress) -> None:
    activity = WholeJob(progress=progress)
    activity.sign()
    assert activity.reply().startswith(f"Not yet: {COUNT} lines are still open.")
    activity.cause.value = cause_words()[activity.case.hidden[0]]
    activity.name_cause()
    assert activity.reply().startswith("Right")
    for done in range(COUNT - 1):
        assert sum(bool(one.text) for one in activity.case.lines()) == done + 1
        answer(activity)
    assert activity.case.finished and not activity.case.signed
    assert "Not signed yet" in activity.picture()
    activity.sign()
    assert activity.case.signed in activity.picture()
    assert activity.reply().startswith(f"The record is signed. {COUNT - 1} of {COUNT} steps were right")
    assert activity.case.notes.count(SHOWN) == 1


def test_a_wrong_answer_is_explained_noted_and_counted_once(progress: Progress) -> None:
    activity = WholeJob(progress=progress)
    activity.name_cause()
    assert activity.reply().startswith("No cause is chosen")
    wrong = next(words for id, words in cause_words().items() if id not in activity.case.hidden)
    activity.cause.value = wrong
    activity.name_cause()
    assert activity.reply().startswith("Not yet")
    activity.cause.value = cause_words()[activity.case.hidden[0]]
    activity.name_cause()
    assert activity.case.notes == ["right at the second answer"]
    activity.check_number("")
    assert activity.reply().startswith("The box is still empty")
    activity.check_number("thick")
    assert "type one number" in activity.reply()
    activity.check_number("99")
    (row,) = [one for one in progress.tallies() if one.activity == "whole-job"]
    assert (row.tries, row.right) == (2, 0)


def test_a_vehicle_is_not_driven_before_its_pedal_is_proven(progress: Progress) -> None:
    activity = WholeJob(progress=progress)
    assert activity.next_check.value.startswith("Drive")
    activity.do_check()
    assert not activity.case.findings and "pedal" in activity.reply()


def test_new_vehicles_differ_and_two_faults_are_both_told(progress: Progress) -> None:
    activity = WholeJob(session=4, progress=progress)
    first = activity.case.job.case
    activity.difficulty.value = "harder"
    assert activity.case.job.case != first and len(activity.case.hidden) == 2
    activity.show_answer()
    for words in (cause_words()[one] for one in activity.case.hidden):
        assert words in activity.reply() and words in activity.case.record("r")
    assert activity.case.notes == [SHOWN]


def test_saving_writes_a_page_and_never_over_another(tmp_path: Path, progress: Progress) -> None:
    activity = WholeJob(folder=tmp_path, progress=progress)
    activity.save()
    activity.save()
    assert sorted(path.name for path in tmp_path.glob("*.html")) == [
        "my_job_record.html",
        "my_job_record_2.html",
    ]
    assert activity.case.job.vehicle.fleet_number in (tmp_path / "my_job_record.html").read_text("utf-8")
    lost = WholeJob(folder=tmp_path / "nowhere", progress=progress)
    lost.save()
    assert lost.reply().startswith("The page was not saved")


@pytest.mark.parametrize("topic", JobQuestions.topics)
def test_a_single_question_of_each_topic(topic: str, progress: Progress) -> None:
    quiz = JobQuestions(session=2, progress=progress)
    quiz.topic.value = topic
    for level in ("easier", "usual", "harder"):
        quiz.difficulty.value = level
        task = quiz.asked
        assert isinstance(task, Task) and task.topic == topic
        for chosen in task.choices:
            quiz.chosen.value = chosen
            quiz.check()
            assert quiz.reply().startswith("Right" if chosen == task.right else "Not yet")
        assert task.right not in quiz.picture()


def test_the_worked_job_is_the_one_that_the_lesson_tells() -> None:
    pickup = worked.running()
    assert pickup.cause == "thickness_variation" and pickup.job.rotor.action == "machine"
    assert worked.extended(pickup).share == pytest.approx((450 + 120) / 450)
    assert worked.cut_mm(pickup) == pytest.approx(0.10 + 0.08)
    assert worked.show_record(pickup, uid="w").svg.count("still open") == 0


def test_a_step_is_drawn_and_judged_at_once(progress: Progress) -> None:
    activity = WholeJob(progress=progress)
    activity.show_answer()
    took = []
    for _ in range(COUNT - 1):
        begun = time.perf_counter()
        answer(activity)
        took.append(time.perf_counter() - begun)
    print(f"step: median {1000 * sorted(took)[len(took) // 2]:.1f} ms, most {1000 * max(took):.1f} ms")
    assert sorted(took)[len(took) // 2] < 0.1


def test_a_job_of_its_own_can_be_made_from_any_case() -> None:
    case = WholeJobCase(JOBS[0], Draw(1))
    assert case.step is None and not case.finished
    case.found(case.hidden[0], "x")
    assert case.step is not None and case.step.id == "lining"
