"""Kill the grader, or any program it has started, at a random moment; go on; then nothing may be lost.

    python -m tests.classroom.kill_study 100

prints what became of 100 kills. Outside check: the operating system's own SIGKILL, which nothing can catch,
sent to whichever process psutil finds; the undisturbed run is what every resumed one is held against.
"""

from __future__ import annotations

import contextlib
import functools
import hashlib
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import nbformat
import psutil
from brakecourse.classroom.engine import grade, set_hand_mark
from brakecourse.classroom.folder import ClassFolder, open_class
from nbgrader.utils import determine_grade, is_grade

from tests.classroom.engine_class import MODULE, filled, hand_in, make_class, released, right_answers
from tests.classroom.meaning import fingerprints, meaning
from tests.classroom.shared_farm import shared_farm

STUDENTS = 6
# A helper that is just starting notices the end of its grader only when it has loaded its libraries.
_MOST_S_TO_END = 60.0
_ROOT = Path(__file__).resolve().parents[2]
_GRADER = (
    "import sys; from pathlib import Path; from brakecourse.classroom.engine import grade; "
    "from brakecourse.classroom.folder import open_class; cls = open_class(Path(sys.argv[1])); "
    "print('ready', flush=True); grade(cls, sys.argv[2]); print('done', flush=True)"
)


@dataclass
class Outcome:
    """What became of a number of kills."""

    killed: Counter[str] = field(default_factory=Counter)
    lost: list[str] = field(default_factory=list)
    left_running: list[str] = field(default_factory=list)
    seconds: float = 0.0

    @property
    def words(self) -> str:
        """A line or more for a person."""
        who = ", ".join(f"{name} {many}" for name, many in self.killed.most_common())
        lines = [f"{sum(self.killed.values())} kills in {self.seconds:.0f} s ({who})."]
        lines += [f"LOST: {one}" for one in self.lost] or [
            "Every resumed gradebook equals the undisturbed one."
        ]
        lines += [f"LEFT RUNNING: {one}" for one in self.left_running]
        return "\n".join(lines)


class Study:
    """One class whose undisturbed grading is known, and copies of it in which things are killed.

    s05 and s06 were graded before and have marks by hand. Then s06 handed in newer work with the same letter,
    so one run grades s01 to s04 as new ones and s06 again.
    """

    def __init__(self, folder: Path, seed: int = 1) -> None:
        self._folder = folder
        self._chance = random.Random(seed)
        self._number = 0
        self.outcome = Outcome()
        cls = make_class(folder, STUDENTS)
        for number, student in enumerate(cls.student_ids):
            answers = right_answers(cls, student)
            # Each has another two answers wrong, so that no student's marks pass for another's.
            wrong = {"8.2": 1.0 + number} if number % 2 else {"8.4": 0.9, "8.6": 0.1 * number}
            hand_in(cls, student, filled(released(cls), answers | wrong, f"Letter {number}."))
        grade(cls, MODULE, students=["s05", "s06"], farm=shared_farm())
        set_hand_mark(cls, MODULE, "s05", "8.9", 2.5, "Kind.")
        set_hand_mark(cls, MODULE, "s06", "8.9", 3.5, "Clear.")
        set_hand_mark(cls, MODULE, "s06", "8.1", 1)
        newer = right_answers(cls, "s06")
        hand_in(cls, "s06", filled(released(cls), newer, "Letter 5."))
        self._handed_in = fingerprints(cls.root / "submitted")
        self._template = cls.root
        self._undisturbed, self.run_s = self._undisturbed_run()

    def kill(self, many: int, lives: int = 1, told: Callable[[str], object] = lambda _: None) -> Outcome:
        """Kill something so many times.

        Args:
            many: how many kills.
            lives: how many times one class's grading is killed before it may go on undisturbed.
            told: told of each class that was compared.
        """
        started = time.monotonic()
        left = many
        while left > 0:
            cls = self._copy()
            story = []
            for _ in range(min(lives, left)):
                story.append(self._one_kill(cls))
                left -= 1
            self._resume(cls)
            self._compare(cls, "; ".join(story))
            shutil.rmtree(cls.root)
            troubles = f"lost {len(self.outcome.lost)}, left running {len(self.outcome.left_running)}"
            told(f"{many - left} of {many}: {'; '.join(story)} ({troubles})")
        self.outcome.seconds += time.monotonic() - started
        return self.outcome

    def _copy(self) -> ClassFolder:
        self._number += 1
        return open_class(Path(shutil.copytree(self._template, self._folder / f"copy-{self._number}")))

    def _undisturbed_run(self) -> tuple[dict[str, object], float]:
        cls = self._copy()
        with _grader(cls) as process:
            started = time.monotonic()
            assert process.stdout is not None and process.stdout.readline() == "done\n"
            seconds = time.monotonic() - started
        return self._state(cls), seconds

    def _one_kill(self, cls: ClassFolder) -> str:
        """Start grading, kill one of its programs at a random moment, and wait until the rest has ended."""
        with _grader(cls) as process:
            delay = self._chance.uniform(0, self.run_s)
            with contextlib.suppress(subprocess.TimeoutExpired):
                process.wait(delay)
            family = _family(process.pid)
            if not family:
                self.outcome.killed["nobody, it was done"] += 1
                return f"nobody after {delay:.2f} s"
            victim = family[0] if self._chance.random() < 0.4 else self._chance.choice(family)
            name = _name(victim, family[0])
            with contextlib.suppress(psutil.NoSuchProcess):
                victim.kill()
            process.wait(120)
        self.outcome.killed[name] += 1
        self._see_that_all_end(family, name)
        return f"{name} after {delay:.2f} s"

    def _see_that_all_end(self, family: list[psutil.Process], name: str) -> None:
        deadline = time.monotonic() + _MOST_S_TO_END
        while (alive := [one for one in family if _runs(one)]) and time.monotonic() < deadline:
            time.sleep(0.1)
        for process in alive:
            self.outcome.left_running.append(f"{_name(process, family[0])} after {name} was killed")
            with contextlib.suppress(psutil.NoSuchProcess):
                process.kill()

    def _resume(self, cls: ClassFolder) -> None:
        # A second time: what this machine could not do is tried again by the next run.
        for _ in range(2):
            grade(cls, MODULE, farm=shared_farm())

    def _compare(self, cls: ClassFolder, story: str) -> None:
        state = self._state(cls)
        for what, undisturbed in self._undisturbed.items():
            if state[what] != undisturbed:
                self.outcome.lost.append(f"{story}: {what}: {_difference(undisturbed, state[what])}")
        if fingerprints(cls.root / "submitted") != self._handed_in:
            self.outcome.lost.append(f"{story}: something handed in was changed")

    def _state(self, cls: ClassFolder) -> dict[str, object]:
        return {"gradebook": meaning(cls.gradebook_file), "kept notebooks": _kept(cls)}


def _kept(cls: ClassFolder) -> list[str]:
    """Return what each kept notebook says, and whether it is the one that the gradebook knows."""
    with sqlite3.connect(cls.gradebook_file) as database:
        known = dict(database.execute("SELECT student_id, sha256 FROM brakecourse_kept_notebook"))
    database.close()
    said = []
    for student in cls.student_ids:
        path = cls.root / "autograded" / student / MODULE / f"{MODULE}.ipynb"
        content = path.read_bytes() if path.is_file() else b""
        cells = nbformat.reads(content.decode("utf-8"), 4).cells if content else []
        points = [determine_grade(cell)[0] for cell in cells if is_grade(cell)]
        same = known.get(student) == hashlib.sha256(content).hexdigest()
        said.append(f"{student}: {points} {path.with_name('timestamp.txt').is_file()} {same}")
    return said


@contextlib.contextmanager
def _grader(cls: ClassFolder) -> Iterator[subprocess.Popen[str]]:
    """Start a grader and wait until it begins."""
    process = subprocess.Popen(
        [sys.executable, "-c", _GRADER, str(cls.root), MODULE],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        cwd=_ROOT,
        start_new_session=True,
    )
    try:
        assert process.stdout is not None and process.stdout.readline() == "ready\n"
        yield process
    finally:
        process.kill()
        process.wait()


def _family(pid: int) -> list[psutil.Process]:
    try:
        parent = psutil.Process(pid)
        if parent.status() == psutil.STATUS_ZOMBIE:
            return []
        return [parent, *parent.children(recursive=True)]
    except psutil.NoSuchProcess:
        return []


def _runs(process: psutil.Process) -> bool:
    with contextlib.suppress(psutil.NoSuchProcess):
        return bool(process.is_running() and process.status() != psutil.STATUS_ZOMBIE)
    return False


def _name(process: psutil.Process, grader: psutil.Process) -> str:
    if process == grader:
        return "the grader"
    with contextlib.suppress(psutil.Error):
        words = process.cmdline()
        if any("forkserver" in word for word in words):
            # A worker is a copy of the fork server, so it goes by the same words.
            return "the fork server" if process.ppid() == grader.pid else "a worker"
        known = {"bwrap": "a sandbox", "warm": "a warm interpreter or its child"}
        return next((name for word, name in known.items() if any(word in one for one in words)), "a helper")
    return "a program that had ended"


def _difference(one: object, other: object) -> str:
    if isinstance(one, list) and isinstance(other, list):
        missing, more = sorted(set(one) - set(other)), sorted(set(other) - set(one))
        return f"missing {missing[:3]}, instead {more[:3]} ({len(missing)} and {len(more)} rows)"
    return f"{one} became {other}"


def main() -> None:
    """Print what became of as many kills as the first argument says."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    folder = Path(tempfile.mkdtemp(prefix="kill-study-"))
    try:
        study = Study(folder, seed)
        print(f"An undisturbed run takes {study.run_s:.1f} s.", flush=True)
        told = functools.partial(print, file=sys.stderr, flush=True)
        print(study.kill(many, lives=2, told=told).words)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    main()
