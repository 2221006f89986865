"""Take in what students handed in.

Everything that is accepted is kept for good under `received/`; `submitted/` holds the newest as the working
copy that is graded. The place it came from is only read.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from brakecourse import marking
from brakecourse.classroom.attempts import assignment_name, attempt_of, attempt_said, module_of
from brakecourse.classroom.folder import ClassFolder, Progress, reporting_disk_trouble
from brakecourse.classroom.intake import FoundNotebook, Limits, Refusal, Source
from brakecourse.classroom.matching import CLOSE_ENOUGH, closeness, is_an_exercise, is_usual_name, whose
from brakecourse.classroom.received import everything_received, keep, refresh_working_copy
from brakecourse.errors import CourseError

_FIRST_YEAR = 2000

State = Literal["handed in", "handed in again", "already in", "an older one came", "not handed in"]


@dataclass(frozen=True)
class CollectRow:
    """What was collected of one student.

    Attributes:
        received_at: when the working copy was handed in, in UTC; None when there is none.
        late: whether that is after the due time; None when no due time was set.
    """

    student_id: str
    state: State
    received_at: datetime | None
    late: bool | None
    words: str


@dataclass(frozen=True)
class CollectReport:
    """Who handed in, who did not, what was refused and why."""

    module: str
    rows: tuple[CollectRow, ...]
    refused: tuple[Refusal, ...]
    left_out: int

    def with_state(self, *states: State) -> tuple[str, ...]:
        """The ids of the students in one of these states."""
        return tuple(row.student_id for row in self.rows if row.state in states)


def collect(
    cls: ClassFolder,
    module: str,
    source: Path,
    received_at: datetime | None = None,
    progress: Progress | None = None,
    limits: Limits | None = None,
) -> CollectReport:
    """Take in the students' work for one module.

    Args:
        cls: the class.
        module: the module that was assigned.
        source: a folder, a zip (such as a learning platform's download) or one notebook. It is only read.
        received_at: when the work was handed in; left out, each file's own time counts.
        progress: told how far the work is.
        limits: how much is taken in.

    Returns:
        One row for each student of the roster, and what was refused.

    Raises:
        CourseError: the module was not assigned, the source can't be read, or the class folder not written.
    """
    require_assigned(cls, module)
    _refuse_own_folder(cls, source)
    if received_at is not None and received_at.tzinfo is None:
        received_at = received_at.replace(tzinfo=cls.settings.zone)
    reader = Source(Path(source), cls.settings.zone, limits or Limits())
    notebooks, refused = _sort_by_student(cls, module, reader)
    rows = []
    taking = cls.taking(module)
    for done, student in enumerate(taking, start=1):
        chosen, note = _choose(cls, notebooks.get(student, []), module, student, refused)
        with reporting_disk_trouble(f"keep what student {student} handed in"):
            rows.append(_take_in(cls, module, student, chosen, note, received_at))
        if progress:
            progress(done, len(taking), student)
    return CollectReport(module, tuple(rows), tuple(refused), reader.left_out)


def collect_all(
    cls: ClassFolder, source: Path, received_at: datetime | None = None, progress: Progress | None = None
) -> list[CollectReport]:
    """Take in the students' work for every module that was handed out, from one place.

    Returns:
        One report a module. A file is only refused when no module took it.

    Raises:
        CourseError: as for :func:`collect`, or nothing was handed out yet.
    """
    if not cls.assigned:
        raise CourseError(
            f"No module was handed out to this class yet; give 'brakecourse assign {cls.root} MODULE' first."
        )
    reports = [collect(cls, module, source, received_at, progress) for module in cls.assigned]
    nobodys = set.intersection(*({one.where for one in report.refused} for report in reports))
    return [
        replace(report, refused=tuple(one for one in report.refused if one.where in nobodys))
        for report in reports
    ]


def require_module(module: str) -> None:
    """Refuse a module that the course does not have.

    Raises:
        CourseError: it is unknown.
    """
    assignment_name(module_of(module), attempt_of(module))


def require_assigned(cls: ClassFolder, module: str) -> None:
    """Refuse a module that was not handed out to this class.

    Raises:
        CourseError: it is unknown, or not assigned yet.
    """
    require_module(module)
    if module not in cls.assigned:
        raise CourseError(
            f"Module {module} was not handed out to this class yet; "
            f"give 'brakecourse assign {cls.root} {module}' first."
        )


def _refuse_own_folder(cls: ClassFolder, source: Path) -> None:
    place, own = Path(source).resolve(), cls.root.resolve()
    if place == own or own in place.parents or place in own.parents:
        raise CourseError(
            f"{source} holds the class folder or lies in it; put the students' work in a folder of its own."
        )


def _sort_by_student(
    cls: ClassFolder, module: str, reader: Source
) -> tuple[dict[str, list[FoundNotebook]], list[Refusal]]:
    notebooks: dict[str, list[FoundNotebook]] = defaultdict(list)
    refused: list[Refusal] = []
    taken = 0
    for item in reader.read():
        if isinstance(item, Refusal):
            refused.append(item)
            continue
        owner = whose(item.parts, cls.student_ids, module, outer=reader.path.stem)
        if owner.student_id is None:
            refused.append(
                Refusal(item.where, f"{owner.why_not}; rename it to the student's id and collect it again.")
            )
            continue
        own = notebooks[owner.student_id]
        if any(_same(item, other) for other in own):
            continue
        # One student's flood of files costs that student, and not the class.
        if sum(len(other.content) for other in own) + len(item.content) > reader.limits.student_bytes:
            refused.append(Refusal(item.where, _flood(owner.student_id, reader.limits.student_bytes)))
            continue
        taken += len(item.content)
        if taken > reader.limits.all_bytes:
            raise CourseError(
                f"{reader.path} holds more than {reader.limits.all_bytes // 1_000_000} MB of notebooks; "
                "collect it in smaller parts."
            )
        own.append(item)
    return notebooks, refused


def _flood(student: str, most: int) -> str:
    return (
        f"more than {most // 1_000_000} MB of notebooks came for student {student}, and no more is taken; "
        "hand in the one that counts."
    )


def _same(one: FoundNotebook, other: FoundNotebook) -> bool:
    """Tell whether a notebook came twice: the same content, for the same attempt."""
    return one.content == other.content and attempt_said(one.parts[-1]) == attempt_said(other.parts[-1])


def _choose(
    cls: ClassFolder, found: list[FoundNotebook], module: str, student: str, refused: list[Refusal]
) -> tuple[FoundNotebook | None, str]:
    """Pick the notebook that is the module's exercise, and say how it was picked."""
    asked = [question.id for question in marking.questions(module_of(module))]
    exercises = [item for item in found if is_an_exercise(item.content, asked) is not False]
    if not exercises:
        why = "no cell of it hands in an answer of this module, so it is not the exercise; a lesson, perhaps."
        refused.extend(Refusal(item.where, why) for item in found)
        return None, "what came was refused" if found else ""
    fitting = [item for item in exercises if _fits(cls, item, module, student, alone=len(exercises) == 1)]
    if not fitting:
        why = (
            f"its name is not like '{module}'; if it is the exercise, give it that name and collect it again."
        )
        refused.extend(Refusal(item.where, why) for item in exercises)
        return None, "what came was refused"
    newest = max(fitting, key=lambda item: (item.modified, closeness(item.parts[-1], module, student)))
    if len(fitting) > 1:
        return newest, f"the newest of {len(fitting)} notebooks was taken: {newest.where}"
    name = newest.parts[-1]
    return newest, "" if is_usual_name(name, module, student) else f"it was named '{name}'"


def _fits(cls: ClassFolder, item: FoundNotebook, module: str, student: str, alone: bool) -> bool:
    own = closeness(item.parts[-1], module, student)
    names = {*marking.MODULES, *cls.assigned} - {module}
    best_other = max((closeness(item.parts[-1], other, student) for other in names), default=0.0)
    if own >= CLOSE_ENOUGH:
        return own >= best_other
    return alone and best_other < CLOSE_ENOUGH


def _take_in(
    cls: ClassFolder,
    module: str,
    student: str,
    chosen: FoundNotebook | None,
    note: str,
    received_at: datetime | None,
) -> CollectRow:
    before = everything_received(cls, module, student)
    notes = [note]
    state: State = "already in" if before else "not handed in"
    if chosen is not None and not any(item.holds(chosen.content) for item in before):
        when, time_from = _time_of(chosen, received_at)
        notes.append(time_from if time_from.startswith("the time of taking in") else "")
        keep(cls, module, student, chosen, when, time_from)
        state = "handed in again" if before else "handed in"
        if when > datetime.now(UTC):
            notes.append("the file's time lies ahead of this computer's clock")
        if before and before[-1].received_at > when:
            state = "an older one came"
            notes.append("the newer one that is already in still counts")
    kept = everything_received(cls, module, student)
    if not kept:
        return CollectRow(student, "not handed in", None, None, note)
    newest = kept[-1]
    refresh_working_copy(cls, module, student, newest, force=state.startswith("handed in"))
    due = cls.settings.due_utc(module)
    late = None if due is None else newest.received_at > due
    return CollectRow(student, state, newest.received_at, late, "; ".join(filter(None, notes)))


def _time_of(item: FoundNotebook, given: datetime | None) -> tuple[datetime, str]:
    """Return when something was handed in, in UTC, and where that time comes from."""
    if given is not None:
        return given.astimezone(UTC), "given by the instructor"
    # A zip starts its calendar in 1980, and so does a kit: that is no time at which anybody saved.
    if item.modified.year < _FIRST_YEAR:
        return datetime.now(UTC), "the time of taking in, because the file carries no usable time"
    return item.modified, "the file's own time"
