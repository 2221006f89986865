"""A whole class through the whole course: make, hand out, do, take in, grade, give back, export.

    python -m tests.benchmarks.whole_program STUDENTS MODULES [--keep FOLDER] [--again TIMES]

Prints for each stage the seconds, the pieces a second, the processor seconds a piece (of all processes
together), and the memory of all processes together at its end. The students are simulated and the names
invented. Nothing is asserted; what the figures should be is for the tests and for who reads them.
"""

from __future__ import annotations

import argparse
import hashlib
import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import nbformat
import psutil
from brakecourse import marking
from brakecourse.bench.draw import Draw
from brakecourse.classroom import engine
from brakecourse.classroom.assign import assign, read_case
from brakecourse.classroom.collect import collect_all
from brakecourse.classroom.engine.farm import Done, LocalFarm
from brakecourse.classroom.feedback import give_back
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.demo.homework import as_typed, fill_in
from brakecourse.exports.tables import export_all
from brakecourse.marking.simulated import Student

SECRET = hashlib.sha256(b"whole program").digest()


@dataclass(frozen=True)
class Stage:
    """What one stage of the work took, and the memory that all processes held together at its end."""

    name: str
    pieces: int
    seconds: float
    cpu_s: float
    memory_mb: float

    @property
    def words(self) -> str:
        """One line of the table."""
        return (
            f"{self.name:<22}{self.pieces:>7}{self.seconds:>10.1f}{self.pieces / self.seconds:>10.1f}"
            f"{1000 * self.cpu_s / self.pieces:>12.1f}{self.memory_mb:>10.0f}"
        )


HEADING = f"{'stage':<22}{'pieces':>7}{'seconds':>10}{'a second':>10}{'CPU ms each':>12}{'MB in all':>10}"


def family() -> list[psutil.Process]:
    """This process and all that it started."""
    own = psutil.Process()
    return [own, *own.children(recursive=True)]


def cpu_s() -> float:
    """Processor seconds of this process and all that it started, the ended ones included."""
    total = 0.0
    for process in family():
        try:
            times = process.cpu_times()
        except psutil.Error:
            continue
        total += times.user + times.system + times.children_user + times.children_system
    return total


def memory_mb() -> float:
    """Memory of this process and all that it started; what they share is counted once."""
    total = 0
    for process in family():
        try:
            total += process.memory_full_info().pss
        except psutil.Error:
            continue
    return total / 1e6


@contextmanager
def stage(stages: list[Stage], name: str, pieces: int) -> Iterator[None]:
    """Time a block. It is told at once, because the next one can take long."""
    started, before = time.perf_counter(), cpu_s()
    yield
    seconds, used = time.perf_counter() - started, cpu_s() - before
    stages.append(Stage(name, pieces, seconds, used, memory_mb()))
    print(stages[-1].words, flush=True)


def make_class(root: Path, students: int) -> ClassFolder:
    """Make a class of that many invented students."""
    roster = root.with_name("roster.csv")
    rows = [f"s{n:05},Amara{n},Quillstone,s{n:05}@class.example" for n in range(1, students + 1)]
    roster.write_text("\n".join(["student_id,first_name,last_name,email", *rows]) + "\n", encoding="utf-8")
    return new_class(root, roster, name="A large class (simulated)", secret=SECRET)


def do_homework(cls: ClassFolder, module: str, inbox: Path) -> None:
    """Let everybody fill the handed-out notebook in, and put it into the inbox."""
    handed_out = nbformat.read(cls.release_notebook(module), as_version=4)
    text = nbformat.writes(handed_out)
    for number, student_id in enumerate(cls.student_ids):
        notebook = nbformat.reads(text, as_version=4)
        student = Student((number % 11) / 10, frozenset())
        draw = Draw(7).child(module).child(student_id)
        case = read_case(cls, module, student_id)
        fill_in(notebook, as_typed(case, student.answers(case, draw)))
        path = inbox / student_id / f"{module}.ipynb"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(nbformat.writes(notebook), encoding="utf-8")


class Watched(LocalFarm):
    """The usual farm, whose memory is looked at every so often."""

    def __init__(self, workers: int, every: int, tell: Callable[[int, float], None]) -> None:
        super().__init__(workers)
        self._every, self._tell, self._count = every, tell, 0

    def run(self, jobs):  # type: ignore[no-untyped-def]
        """As usual."""
        for done in super().run(jobs):
            self._count += 1
            if self._count % self._every == 0:
                self._tell(self._count, memory_mb())
            yield _checked(done)


def _checked(done: Done) -> Done:
    if done.worked is None or done.record.why:
        print(f"{done.record.student_id} {done.module}: {done.record.status} {done.record.why}", flush=True)
    return done


def run(
    folder: Path, students: int, modules: tuple[str, ...], workers: int = 2, again: int = 0
) -> list[Stage]:
    """Take a class through modules and return what each stage took."""
    stages: list[Stage] = []
    print(HEADING, flush=True)
    pieces = students * len(modules)
    with stage(stages, "make the class", students):
        cls = make_class(folder / "class", students)
    with stage(stages, "hand out", pieces):
        for module in modules:
            assign(cls, module)
            cls = open_class(cls.root)
    inbox = folder / "inbox"
    with stage(stages, "(students at work)", pieces):
        for module in modules:
            do_homework(cls, module, inbox)
    with stage(stages, "take in", pieces):
        collect_all(cls, inbox)
    memories: list[tuple[int, float]] = []
    with Watched(workers, max(50, pieces // 40), lambda *seen: memories.append(seen)) as farm:
        with stage(stages, "grade", pieces):
            engine.grade_modules(cls, modules, farm=farm)
        for number in range(again):
            with stage(stages, f"grade again, {number + 1}", pieces):
                engine.grade_modules(cls, modules, force=True, farm=farm)
    with stage(stages, "grade, all unchanged", pieces):
        engine.grade_modules(cls, modules, workers=workers)
    with stage(stages, "feedback", pieces):
        for module in modules:
            give_back(cls, module)
    with stage(stages, "export", pieces):
        export_all(cls)
    print("memory while grading:", ", ".join(f"{count}: {mb:.0f} MB" for count, mb in memories))
    return stages


def main() -> None:
    """Run as a program."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.whole_program")
    parser.add_argument("students", type=int)
    parser.add_argument("modules", type=int, help="the first so many of the course's modules")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--again", type=int, default=0, help="grade everything again so many times")
    parser.add_argument("--keep", type=Path, help="work in this new folder, and leave it")
    asked = parser.parse_args()
    modules = tuple(marking.MODULES)[: asked.modules]
    folder = asked.keep or Path(tempfile.mkdtemp(prefix="whole-program-"))
    folder.mkdir(parents=True, exist_ok=True)
    started = time.perf_counter()
    try:
        run(folder, asked.students, modules, asked.workers, asked.again)
        seconds = time.perf_counter() - started
        pieces = asked.students * len(modules)
        print(f"{pieces} submissions end to end in {seconds:.0f} s: {pieces / seconds:.1f} a second")
    finally:
        if asked.keep is None:
            shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    sys.exit(main())
