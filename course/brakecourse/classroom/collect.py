"""Take in what students handed in.

Everything that is accepted is kept for good under `received/`; `submitted/` holds the newest as the working
copy that is graded. The place it came from is only read.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from brakecourse import marking
from brakecourse.classroom.attempts import assignment_name, attempt_of, module_of
from brakecourse.classroom.folder import ClassFolder, Progress, reporting_disk_trouble
from brakecourse.classroom.intake import FoundNotebook, Limits, Refusal, Source
from brakecourse.classroom.received import everything_received, in_order, keep, refresh_working_copy
from brakecourse.classroom.sorting import sort_all
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
    (report,) = _collect(cls, (module,), source, received_at, progress, limits or Limits())
    return report


def collect_all(
    cls: ClassFolder, source: Path, received_at: datetime | None = None, progress: Progress | None = None
) -> list[CollectReport]:
    """Take in the students' work for every module that was handed out, from one place.

    Returns:
        One report a module. A file is only refused when no module took it.

    Raises:
        CourseError: as for :func:`collect`, or nothing was handed out yet.
    """
    assigned = cls.assigned
    if not assigned:
        raise CourseError(
            f"No module was handed out to this class yet; give 'brakecourse assign {cls.root} MODULE' first."
        )
    for module in assigned:
        require_module(module)
    reports = _collect(cls, assigned, source, received_at, progress, Limits())
    nobodys = set.intersection(*({one.where for one in report.refused} for report in reports))
    return [
        replace(report, refused=tuple(one for one in report.refused if one.where in nobodys))
        for report in reports
    ]


def _collect(
    cls: ClassFolder,
    modules: Sequence[str],
    source: Path,
    received_at: datetime | None,
    progress: Progress | None,
    limits: Limits,
) -> list[CollectReport]:
    """Take in the work for some modules from one place, which is read once for all of them."""
    _refuse_own_folder(cls, source)
    if received_at is not None and received_at.tzinfo is None:
        received_at = received_at.replace(tzinfo=cls.settings.zone)
    reader = Source(Path(source), cls.settings.zone, limits)
    known = {*marking.MODULES, *cls.assigned}
    reports = []
    for pile in sort_all(cls, modules, reader):
        module, rows, taking = pile.module, [], cls.taking(pile.module)
        for done, student in enumerate(taking, start=1):
            chosen, note = pile.choose(student, known - {module})
            with reporting_disk_trouble(f"keep what student {student} handed in"):
                rows.append(_take_in(cls, module, student, chosen, note, received_at))
            if progress:
                progress(done, len(taking), student)
        reports.append(CollectReport(module, tuple(rows), tuple(pile.refused), reader.left_out))
    return reports


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


def _take_in(
    cls: ClassFolder,
    module: str,
    student: str,
    chosen: FoundNotebook | None,
    note: str,
    received_at: datetime | None,
) -> CollectRow:
    before = everything_received(cls, module, student)
    kept, notes = before, [note]
    state: State = "already in" if before else "not handed in"
    if chosen is not None and not any(item.holds(chosen.content) for item in before):
        when, time_from = _time_of(chosen, received_at)
        notes.append(time_from if time_from.startswith("the time of taking in") else "")
        kept = in_order((*before, keep(cls, module, student, chosen, when, time_from)))
        state = "handed in again" if before else "handed in"
        if when > datetime.now(UTC):
            notes.append("the file's time lies ahead of this computer's clock")
        if before and before[-1].received_at > when:
            state = "an older one came"
            notes.append("the newer one that is already in still counts")
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
