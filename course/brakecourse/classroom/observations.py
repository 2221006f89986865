"""What was seen of a student's work on a real vehicle: kept point by point, and put into the gradebook.

Each student has a file `observations/ID.csv` in the class folder. It only grows; the newest line of a point
counts. So an observation is never lost, also one that comes before the student's work was graded.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import nbformat

from brakecourse.classroom.attempts import module_of
from brakecourse.classroom.files import reporting_disk_trouble, write_text_whole
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.observer_sheet import ObservedTask, observed_tasks
from brakecourse.errors import CourseError

STOPPED = 0
"""The number that stands for what ends the work at once, where a point's number stands otherwise."""

_COLUMNS = ("module", "task", "point", "seen", "date", "observer")
_LONGEST_OBSERVER = 60


@dataclass(frozen=True)
class Observation:
    """One point of a marking scheme, looked at once.

    Attributes:
        student_id, task: whose, and which task, e.g. ``13.17``.
        point: its number in the scheme, the first being 1; `STOPPED` for what ends the work.
        seen: whether it was seen; False says not yet.
        on: the day.
        observer: who saw it, as initials or a name.
    """

    student_id: str
    task: str
    point: int
    seen: bool
    on: date
    observer: str


@dataclass(frozen=True)
class Standing:
    """How a student stands in a task by what was observed.

    Attributes:
        task: which task.
        seen: each point's number, and whether it was seen.
        points: the marks by the scheme; None while nothing was seen.
        words: what was seen, by whom and when, for the student.
    """

    task: ObservedTask
    seen: Mapping[int, bool]
    points: float | None
    words: str


def tasks_of(cls: ClassFolder, module: str) -> tuple[ObservedTask, ...]:
    """Return the tasks on a real vehicle of a module that was handed out; empty where it has none.

    Raises:
        CourseError: it was not handed out, or a task has no marking scheme.
    """
    source = cls.source_notebook(module)
    if not source.is_file():
        raise CourseError(
            f"Module {module} was not handed out to this class yet; "
            f"give 'brakecourse assign {cls.root} {module}' first."
        )
    return observed_tasks(module_of(module), nbformat.read(source, as_version=4))


def add_observations(cls: ClassFolder, module: str, found: Iterable[Observation]) -> None:
    """Keep observations.

    Raises:
        CourseError: a student or an observer's name is not there, or the class folder can't be written.
    """
    by_student: dict[str, list[Observation]] = {}
    for one in found:
        cls.student(one.student_id)
        if not one.observer.strip() or len(one.observer) > _LONGEST_OBSERVER:
            raise CourseError(
                f"The observer's initials or name was expected (at most {_LONGEST_OBSERVER} letters), but "
                f"'{one.observer[:_LONGEST_OBSERVER]}' was found; type who watched."
            )
        by_student.setdefault(one.student_id, []).append(one)
    for student, lines in by_student.items():
        path = cls.root / "observations" / f"{student}.csv"
        text = io.StringIO()
        writer = csv.writer(text, lineterminator="\n")
        if not path.is_file():
            writer.writerow(_COLUMNS)
        for one in lines:
            seen = "seen" if one.seen else "not yet"
            writer.writerow((module, one.task, one.point, seen, one.on.isoformat(), one.observer.strip()))
        with reporting_disk_trouble(f"write {path}"):
            old = path.read_text(encoding="utf-8") if path.is_file() else ""
            write_text_whole(path, old + text.getvalue())


def observations(cls: ClassFolder, module: str, student: str) -> list[Observation]:
    """Return what was observed of a student in a module, the oldest first.

    Raises:
        CourseError: the file is damaged.
    """
    path = cls.root / "observations" / f"{student}.csv"
    if not path.is_file():
        return []
    try:
        rows = list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"))))
        return [
            Observation(
                student,
                row["task"],
                int(row["point"]),
                row["seen"] == "seen",
                date.fromisoformat(row["date"]),
                row["observer"],
            )
            for row in rows
            if row["module"] == module
        ]
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise CourseError(
            f"The observations {path} can't be read; put the file back from a copy, or move it away and "
            "record the work again."
        ) from error


def standing(task: ObservedTask, found: Sequence[Observation]) -> Standing:
    """Return how a student stands in a task.

    Args:
        task: the task with the points of its marking scheme.
        found: what was observed of the student, the oldest first.
    """
    own = [one for one in found if one.task == task.id]
    seen = {one.point: one.seen for one in own}
    names = {number: name for number, (name, _) in enumerate(task.points, start=1)}
    done = [name for number, name in names.items() if seen.get(number)]
    if not own or not (done or seen.get(STOPPED)):
        return Standing(task, seen, None, "")
    last = own[-1]
    when = f"on {last.on.isoformat()}, observer {last.observer}"
    if seen.get(STOPPED):
        return Standing(task, seen, 0.0, f"Stopped {when}: {task.stop}")
    missing = [name for name in names.values() if name not in done]
    words = f"Seen {when}: {', '.join(done)}."
    if missing:
        words += f" Not seen yet: {', '.join(missing)}."
    return Standing(task, seen, round(task.marks * len(done) / len(names), 2), words)


@dataclass(frozen=True)
class PutIn:
    """What became of observations.

    Attributes:
        marks: how many marks are in the gradebook now.
        waiting: the students whose marks wait until their work is graded.
    """

    marks: int
    waiting: tuple[str, ...]


def put_into_gradebook(cls: ClassFolder, module: str, students: Iterable[str]) -> PutIn:
    """Put the marks that follow from the observations into the gradebook, as marks by hand.

    A task of which nothing was seen keeps waiting. Where an earlier mark by hand says something else than
    the observations, the observations count.

    Args:
        cls: the class.
        module: the module's name.
        students: whose.

    Raises:
        CourseError: the gradebook can't be written.
    """
    from brakecourse.classroom import engine
    from brakecourse.classroom.results import student_results

    tasks = tasks_of(cls, module)
    there = {result.record.student_id: result for result in student_results(cls, module)}
    marks, waiting = 0, []
    for student in students:
        found = observations(cls, module, student)
        known = {} if student not in there else {one.question.id: one for one in there[student].questions}
        for one in (standing(task, found) for task in tasks):
            before = known.get(one.task.id)
            if before is None:
                if one.points is not None and student not in waiting:
                    waiting.append(student)
            elif one.points is not None:
                if (before.hand_points, before.comment) != (one.points, one.words):
                    engine.set_hand_mark(cls, module, student, one.task.id, one.points, comment=one.words)
                marks += 1
            elif one.seen and before.hand_points is not None:
                engine.take_back_hand_mark(cls, module, student, one.task.id)
    return PutIn(marks, tuple(waiting))
