"""A farm on this computer: every job once, taken only when there is room, and nothing left running."""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import psutil
import pytest
from brakecourse.classroom.engine import farm
from brakecourse.classroom.engine.farm import Done, Job, LocalFarm, do
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.lives import KernelTrouble
from brakecourse.classroom.engine.plan import case_bytes, read_plan
from brakecourse.classroom.engine.sandbox import Protection
from brakecourse.classroom.engine.work import Worked
from brakecourse.classroom.engine.write import COULD_NOT, GRADED, RunRecord
from brakecourse.classroom.folder import ClassFolder

from tests.classroom.engine_class import MODULE, filled, fresh_class, hand_in, released, right_answers

pytestmark = pytest.mark.slow


def job_of(cls: ClassFolder, student: str, content: bytes = b"") -> Job:
    case = case_bytes(cls, MODULE, student)
    return Job(student, read_plan(cls, MODULE), content, "0" * 64, case, limits=Limits(cell_s=5, total_s=60))


@pytest.fixture(scope="module")
def some_job(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return job_of(fresh_class(tmp_path_factory.mktemp("farm")), "s01")


def numbered(job: Job, number: int) -> Job:
    return Job(str(number), job.plan, job.content, job.submission_sha256, job.case_json)


def at_once(job: Job) -> Done:
    return Done(job.plan.module, RunRecord(job.student_id, GRADED, why=str(os.getpid())))


def ends_itself(job: Job) -> Done:
    if job.student_id == "3":
        os.kill(os.getpid(), signal.SIGKILL)
    return at_once(job)


def ends_itself_once(job: Job) -> Done:
    """The job's content names a file that is there when it was tried before."""
    sign = Path(job.content.decode())
    if job.student_id == "3" and not sign.exists():
        sign.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return at_once(job)


def sleeps(job: Job) -> Done:
    time.sleep(60)
    return at_once(job)


def sleepers() -> set[int]:
    return {
        one.pid for one in psutil.Process().children(recursive=True) if "forkserver" in " ".join(cmd(one))
    }


def cmd(process: psutil.Process) -> list[str]:
    try:
        return process.cmdline()
    except psutil.Error:
        return []


def test_every_job_is_done_once_and_taken_only_when_there_is_room(some_job: Job) -> None:
    taken = 0
    done: list[Done] = []

    def jobs() -> Iterator[Job]:
        nonlocal taken
        for number in range(9):
            taken += 1
            yield numbered(some_job, number)

    with LocalFarm(2, at_once) as farm:
        for one in farm.run(jobs()):
            done.append(one)
            assert taken <= len(done) + 2 + 2  # what runs, and what came at the same moment
        assert [one.module for one in farm.run([numbered(some_job, 10)])] == [MODULE]  # it can go on
    assert sorted(one.record.student_id for one in done) == [str(number) for number in range(9)]
    assert len({one.record.why for one in done} | {str(os.getpid())}) >= 2  # not in this process
    assert list(LocalFarm(2, at_once).run([])) == []


def test_a_worker_that_ends_costs_its_own_job_only(some_job: Job) -> None:
    with LocalFarm(2, ends_itself) as farm:
        done = {
            one.record.student_id: one.record for one in farm.run(numbered(some_job, n) for n in range(7))
        }
    assert len(done) == 7
    assert done["3"].status == COULD_NOT and "ended of itself" in done["3"].why
    assert done["3"].submission_sha256 == ""  # so it is tried again
    assert {record.status for student, record in done.items() if student != "3"} == {GRADED}


def test_a_job_whose_worker_was_ended_is_done_by_another(some_job: Job, tmp_path: Path) -> None:
    content = str(tmp_path / "tried").encode()
    with LocalFarm(2, ends_itself_once) as farm:
        jobs = [replace(numbered(some_job, n), content=content) for n in range(6)]
        done = {one.record.student_id: one.record.status for one in farm.run(jobs)}
    assert (tmp_path / "tried").exists()
    assert done == {str(n): GRADED for n in range(6)}


@pytest.mark.parametrize("missed", [1, 2])
def test_a_start_that_failed_once_is_tried_again(
    some_job: Job, monkeypatch: pytest.MonkeyPatch, missed: int
) -> None:
    tries: list[str] = []

    def works(*_: object) -> Worked:
        tries.append("try")
        if len(tries) <= missed:
            raise KernelTrouble("too busy")
        return Worked("{}", {}, ())

    monkeypatch.setattr(farm, "work", works)
    monkeypatch.setattr(farm, "require_protection", lambda _: Protection("bwrap"))
    done = do(some_job)
    assert len(tries) == 2
    assert (done.record.status, bool(done.record.submission_sha256)) == (
        (GRADED, True) if missed == 1 else (COULD_NOT, False)
    )


def test_leaving_early_ends_what_runs(some_job: Job) -> None:
    before = sleepers()
    started = time.monotonic()
    with pytest.raises(KeyboardInterrupt), LocalFarm(2, sleeps) as farm:
        running = farm.run(numbered(some_job, n) for n in range(4))
        signal.signal(signal.SIGALRM, lambda *_: signal.raise_signal(signal.SIGINT))
        signal.alarm(2)
        next(running)
    assert time.monotonic() - started < 30
    assert len(sleepers() - before) <= 1  # the one that starts workers may stay


def test_workers_end_with_the_one_who_wants_their_results(some_job: Job, tmp_path: Path) -> None:
    (tmp_path / "job").write_bytes(pickle.dumps(some_job))
    program = tmp_path / "program.py"
    program.write_text(
        textwrap.dedent(f"""
        import os, pickle, sys, time
        from brakecourse.classroom.engine.farm import LocalFarm

        def sleeps(job):
            open({str(tmp_path / "pid")!r}, "w").write(str(os.getpid()) + " ")
            time.sleep(300)

        if __name__ == "__main__":
            with LocalFarm(1, sleeps) as farm:
                list(farm.run([pickle.load(open({str(tmp_path / "job")!r}, "rb"))]))
        """)
    )
    running = subprocess.Popen([sys.executable, str(program)])
    for _ in range(1500):
        time.sleep(0.1)
        if (tmp_path / "pid").is_file() and (tmp_path / "pid").read_text().endswith(" "):
            break
    worker = psutil.Process(int((tmp_path / "pid").read_text()))
    running.kill()
    running.wait()
    assert psutil.wait_procs([worker], timeout=30)[1] == []


@pytest.mark.sandbox
def test_a_job_and_its_result_travel_as_bytes(tmp_path: Path) -> None:
    cls = fresh_class(tmp_path)
    path = hand_in(cls, "s01", filled(released(cls), right_answers(cls, "s01")))
    job = pickle.loads(pickle.dumps(job_of(cls, "s01", path.read_bytes())))
    done = pickle.loads(pickle.dumps(do(job)))
    assert done.record.status == GRADED, done.record.why
    assert done.record.submission_sha256 == job.submission_sha256
    assert sum(one.mark.points for one in done.worked.judged if one.mark is not None) == 36
    assert done.worked.slow == ""  # it ran warm


def test_what_can_not_be_read_is_a_result_too(some_job: Job) -> None:
    record = do(some_job).record
    assert record.status == COULD_NOT and "empty" in record.why
    assert record.submission_sha256 == some_job.submission_sha256
    strange = Job("s02", some_job.plan, b"{}", "0" * 64, some_job.case_json)
    assert "belongs to another student" in do(strange).record.why
