"""No mark can be lost: graders die at certain moments, and the next run makes the same gradebook.

Outside checks: the system itself ends them, with nothing cleaned up; SQLite's own check finds the gradebook
whole. For graders that are killed at random moments see `test_engine_killed.py`.
"""

from __future__ import annotations

import os
import shutil
from contextlib import nullcontext
from pathlib import Path
from typing import Any

import pytest
from brakecourse.classroom.engine import grade, kept, set_hand_mark, write
from brakecourse.classroom.engine.farm import Job
from brakecourse.classroom.engine.kernel import Limits
from brakecourse.classroom.engine.ledger import Ledger
from brakecourse.classroom.engine.lives import ENDED_THE_PROGRAM, CellEnded, Lives
from brakecourse.classroom.folder import ClassFolder, open_class
from nbformat.v4 import new_code_cell, new_notebook

from tests.classroom import quick_farm
from tests.classroom.engine_class import MODULE, filled, fresh_class, hand_in, released, right_answers
from tests.classroom.kill_study import _kept
from tests.classroom.meaning import fingerprints, meaning
from tests.classroom.quick_farm import QuickFarm


@pytest.fixture(scope="module")
def handed_in(tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    """A class in which everyone has handed in, and s03 was graded and has a mark by hand; it stays so."""
    made = fresh_class(tmp_path_factory.mktemp("handed in"))
    for student in made.student_ids:
        hand_in(made, student, filled(released(made), right_answers(made, student), f"Letter of {student}."))
    grade(made, MODULE, students=["s03"], farm=QuickFarm())
    set_hand_mark(made, MODULE, "s03", "8.9", 3)
    return made


@pytest.fixture(scope="module")
def undisturbed(handed_in: ClassFolder, tmp_path_factory: pytest.TempPathFactory) -> ClassFolder:
    """The same when all were graded and nothing went wrong."""
    made = _copy(handed_in, tmp_path_factory.mktemp("undisturbed"))
    grade(made, MODULE, farm=QuickFarm())
    return made


@pytest.fixture
def cls(handed_in: ClassFolder, tmp_path: Path) -> ClassFolder:
    """A copy for one test."""
    return _copy(handed_in, tmp_path)


def _copy(cls: ClassFolder, folder: Path) -> ClassFolder:
    return open_class(Path(shutil.copytree(cls.root, folder / "Klasse für Bremsen")))


MOMENTS = {
    "before a job is done": (quick_farm, "read_only"),
    "before the notebook is written aside": (kept, "write_bytes_whole"),
    "before the marks are written": (write, "store_records"),
    "before the history is written": (write, "record_changes"),
    "before the marks are stored for good": (Ledger, "transaction"),
    "before the notebook is put in its place": (kept, "_put_in_place"),
    "before the notebook gets its name": (os, "replace"),
}


@pytest.mark.slow
@pytest.mark.parametrize("moment", MOMENTS)
@pytest.mark.parametrize("time", [1, 2])
def test_a_grader_that_dies_at_a_certain_moment_is_finished_by_the_next_run(
    cls: ClassFolder, handed_in: ClassFolder, undisturbed: ClassFolder, moment: str, time: int
) -> None:

    # A process of its own is really ended there: no `finally` and no `except` of it is run.
    child = os.fork()
    if child == 0:
        _die_at(*MOMENTS[moment], time)
        try:
            grade(cls, MODULE, farm=QuickFarm())
        finally:
            os._exit(1)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9, "it did not die where it should"

    grade(cls, MODULE, farm=QuickFarm())
    assert meaning(cls.gradebook_file) == meaning(undisturbed.gradebook_file)
    assert _kept(cls) == _kept(undisturbed)
    assert all(line.endswith("True True") for line in _kept(cls))
    assert fingerprints(cls.root / "submitted") == fingerprints(handed_in.root / "submitted")


def _die_at(owner: Any, name: str, time: int) -> None:
    """Let this process end, as by SIGKILL, when something is done for so many times."""
    real, left = getattr(owner, name), time

    def dies(*rest: Any, **more: Any) -> Any:
        nonlocal left
        left -= 1
        if left == 0:
            os._exit(9)
        return real(*rest, **more)

    setattr(owner, name, dies)


def test_what_a_killed_run_left_lying_is_cleared_when_nobody_can_be_writing_it(
    cls: ClassFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = cls.root / "autograded" / "s03" / MODULE
    for name in (f".{MODULE}.part", ".part-abc"):
        (folder / name).write_bytes(b"half a note")
    grade(cls, MODULE, farm=QuickFarm())
    assert len(list(folder.glob(".*part*"))) == 2  # another run might be at it just now
    monkeypatch.setattr(kept, "ABANDONED_S", -1.0)
    grade(cls, MODULE, farm=QuickFarm())
    assert sorted(path.name for path in folder.iterdir()) == [f"{MODULE}.ipynb", "timestamp.txt"]
    assert all(line.endswith("True True") for line in _kept(cls))


def test_two_runs_at_a_time_store_everything_once(cls: ClassFolder, undisturbed: ClassFolder) -> None:
    """A second run that begins while the first one is at s02 finds the same and loses nothing."""

    def second(job: Job) -> None:
        if job.student_id == "s02":
            grade(cls, MODULE, farm=QuickFarm())

    grade(cls, MODULE, farm=QuickFarm(second))
    assert meaning(cls.gradebook_file) == meaning(undisturbed.gradebook_file)
    assert _kept(cls) == _kept(undisturbed)


@pytest.mark.parametrize(("deaths", "ran", "notes"), [(0, 3, 0), (1, 3, 0), (2, 2, 1)])
def test_an_interpreter_killed_from_outside_costs_the_student_nothing(
    deaths: int, ran: int, notes: int
) -> None:
    """Who ended it can't be seen. So the cell it was at is run once more before it is left out."""
    notebook = new_notebook(cells=[new_code_cell(f"cell {n}") for n in range(3)])
    left, kept_of = deaths, set()

    class OneLife:
        def run(self, place: int, seconds: float, recording: bool) -> bool:
            nonlocal left
            if place == 1 and left:
                left -= 1
                raise CellEnded(ENDED_THE_PROGRAM)
            kept_of.update({place} if recording else ())
            return False

    lives = Lives(Limits())
    lives.run(notebook, lambda: nullcontext(OneLife()))
    assert (len(kept_of), len(lives.notes)) == (ran, notes)
