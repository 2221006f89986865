"""Grading on other computers: the same marks, nothing lost when a worker dies, and one sentence for trouble.

Outside the project stand a real Dask scheduler and real workers, started here on loopback.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from pathlib import Path

import brakecourse
import pytest
from brakecourse.classroom.engine import dask_farm, dask_workers, grade
from brakecourse.classroom.engine.dask_farm import DaskFarm
from brakecourse.classroom.engine.farm import Farm, Job
from brakecourse.classroom.engine.plan import Plan
from brakecourse.classroom.records import grade_records, mark_history
from brakecourse.cli import main
from brakecourse.errors import CourseError

from tests.classroom.engine_class import (
    MODULE,
    filled,
    fresh_class,
    hand_in,
    points_in_gradebook,
    released,
    right_answers,
)
from tests.classroom.own_farm import OwnFarm, own_farm, play
from tests.classroom.shared_farm import shared_farm

pytestmark = pytest.mark.slow

PLAN = Plan(MODULE, (), (), {}, "")
NO_PROGRAMS = {"PATH": "/nonexistent"}


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OwnFarm]:
    """A scheduler. Each test sees to the workers that it needs; the last one ends the scheduler."""
    with own_farm(tmp_path_factory.mktemp("farm")) as started:
        yield started


def _with_workers(own: OwnFarm, many: int) -> set[str]:
    """See to it that there are so many workers, and return their addresses."""
    there = _there(own)
    for _ in range(many - len(there)):
        own.new_worker()
    until = time.monotonic() + 120
    while len(there) < many and time.monotonic() < until:
        time.sleep(0.1)
        there = _there(own)
    assert len(there) >= many
    return there


def _there(own: OwnFarm) -> set[str]:
    """The addresses of the workers, by Dask's own library."""
    from distributed import Client

    with Client(own.address, set_as_default=False) as client:
        return set(client.scheduler_info()["workers"])


def _jobs(*contents: str) -> list[Job]:
    return [Job(f"s{number}", PLAN, text.encode(), "", b"") for number, text in enumerate(contents)]


def _told(farm: Farm) -> str:
    with pytest.raises(CourseError) as error, farm:
        list(farm.run(_jobs("go")))
    said = str(error.value)
    assert "\n" not in said and said.endswith(".")
    return said


def test_without_a_worker_the_sentence_says_how_to_start_some(own: OwnFarm) -> None:
    said = _told(DaskFarm(own.address, work_by=play))
    assert "has no worker that could grade" in said and f"dask worker {own.address}" in said


@pytest.mark.sandbox
def test_the_marks_are_the_same_also_when_a_worker_is_killed(own: OwnFarm, tmp_path: Path) -> None:
    here, there = fresh_class(tmp_path / "here", 5), fresh_class(tmp_path / "there", 5)
    for cls in (here, there):
        for student in ("s01", "s02", "s03"):
            hand_in(cls, student, filled(released(cls), right_answers(cls, student)))
        hand_in(cls, "s04", filled(released(cls), right_answers(cls, "s04") | {"8.2": 1.0}))
        hand_in(cls, "s05", b"junk")
    grade(here, MODULE, farm=shared_farm())
    _with_workers(own, 3)
    victim = own.workers[-1]

    def kill_one(done: int, total: int, words: str) -> None:
        if done == 1:
            own.kill(victim)

    with DaskFarm(own.address) as farm:
        assert "3 workers" in farm.words and "3 at a time" in farm.words
        report = grade(there, MODULE, progress=kill_one, farm=farm)
    assert report.fresh == 5 and report.protection.missing == ()
    assert victim.returncode == -9
    points = points_in_gradebook(there)
    assert points == points_in_gradebook(here)
    assert len({value for value in points.values()}) > 3
    assert grade_records(there, MODULE) == grade_records(here, MODULE)
    # Nothing was graded twice: each mark has one line of history.
    lines = [(one.student_id, one.question_id) for one in mark_history(there, MODULE)]
    assert len(lines) == len(set(lines)) == len(mark_history(here, MODULE)) > 20


@pytest.mark.sandbox
def test_each_job_comes_back_once_and_jobs_are_taken_as_there_is_room(own: OwnFarm) -> None:
    workers = len(_with_workers(own, 2))
    taken, came = [], []

    def jobs() -> Iterator[Job]:
        for job in _jobs(*["wait 0.02"] * 30, "fail by itself"):
            taken.append(job.student_id)
            yield job

    with DaskFarm(own.address, work_by=play) as farm:
        for done in farm.run(jobs()):
            came.append(done)
            assert len(taken) - len(came) <= 2 * (workers * 2)
    assert sorted(done.record.student_id for done in came) == sorted(taken)
    assert len(taken) == 31
    by_words = {done.record.why.split()[0] for done in came}
    assert by_words == {"done", "Grading"}
    (failed,) = [done.record for done in came if done.record.why.startswith("Grading")]
    assert (failed.student_id, failed.submission_sha256) == ("s30", "")
    assert "met something unforeseen (by itself)" in failed.why
    # Each worker had its share.
    assert len({done.record.why for done in came if done.record.why.startswith("done")}) == workers


@pytest.mark.sandbox
def test_a_submission_that_kills_workers_is_given_up_and_stops_nobody(
    own: OwnFarm, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(dask_farm, "_LAST_CHANCES", 1)
    before = len(_with_workers(own, 3))
    with DaskFarm(own.address, work_by=play) as farm:
        came = {
            done.record.student_id: done.record.why
            for done in farm.run(_jobs("wait 0.1", "die", *["wait 0.1"] * 8))
        }
    assert len(came) == 10
    assert came.pop("s1").startswith("Each worker that ran it died, so it was given up")
    assert all(why.startswith("done by ") for why in came.values())
    assert len(_there(own)) == before - 2


def test_another_version_is_refused(own: OwnFarm, monkeypatch: pytest.MonkeyPatch) -> None:
    _with_workers(own, 1)
    here = brakecourse.__version__
    monkeypatch.setattr(brakecourse, "__version__", "9.9")
    said = _told(DaskFarm(own.address, work_by=play))
    assert f"Version 9.9 of the course was expected on every computer, but the one at {own.address}" in said
    assert f"has version {here}; install the same version there" in said
    # On the workers alone: they are looked at too.
    monkeypatch.setattr(dask_workers.Workers, "_look_at_scheduler", lambda self: None)
    said = _told(DaskFarm(own.address, work_by=play))
    assert own.address not in said and "install the same version there" in said


@pytest.mark.sandbox
def test_workers_without_protection_are_left_out_or_named(
    own: OwnFarm, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = _with_workers(own, 1)
    naked = own.new_worker(**NO_PROGRAMS)
    while len(_there(own)) < len(before) + 1:
        time.sleep(0.1)
    (address,) = _there(own) - before
    with DaskFarm(own.address, work_by=play) as farm:
        assert f"Left out, because bubblewrap is not at work there: {address}." in farm.words
        came = [done.record.why for done in farm.run(_jobs(*["go"] * 12))]
    assert len(came) == 12 and f"done by {naked.pid}" not in came
    with DaskFarm(own.address, True, work_by=play) as farm:
        assert f"NO PROTECTION on {address}" in farm.words and farm.protection(True).missing
        assert f"done by {naked.pid}" in [done.record.why for done in farm.run(_jobs(*["go"] * 12))]
    for process in own.workers:
        if process is not naked and process.poll() is None:
            own.kill(process)
    while _there(own) != {address}:
        time.sleep(0.1)
    said = _told(DaskFarm(own.address, work_by=play))
    assert f"no worker can shut them in because bubblewrap is not at work on {address}" in said
    cls = fresh_class(tmp_path)
    hand_in(cls, "s01", b"junk")
    assert main(["grade", str(cls.root), MODULE, "--on", own.address]) == 1
    assert "--i-trust-these-files" in capsys.readouterr().err
    assert main(["grade", str(cls.root), MODULE, "--on", own.address, "--i-trust-these-files"]) == 0
    assert "NO PROTECTION" in capsys.readouterr().out


def test_a_scheduler_that_goes_in_the_middle_is_one_sentence(own: OwnFarm) -> None:
    _with_workers(own, 1)
    with DaskFarm(own.address, True, work_by=play) as farm:
        coming = farm.run(_jobs("go", "wait 30"))
        assert next(coming).record.student_id == "s0"
        own.kill(own.process)
        with pytest.raises(CourseError, match="can't be reached any more"):
            next(coming)


def test_no_scheduler_or_no_package_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dask_workers, "CONNECT_WAIT_S", 1)
    assert "needs certificates" in _told(DaskFarm("tls://127.0.0.1:1", work_by=play))
    assert "No scheduler answers at tcp://127.0.0.1:1 (" in _told(DaskFarm("tcp://127.0.0.1:1", work_by=play))
    for address in ("nonsense", "http://127.0.0.1:1", "tcp://127.0.0.1"):
        assert f"was expected, but '{address}' was found" in _told(DaskFarm(address, work_by=play))
    monkeypatch.setitem(sys.modules, "distributed", None)
    assert "pip install 'brakecourse[farm]'" in _told(DaskFarm("tcp://127.0.0.1:1"))
