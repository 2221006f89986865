"""What stands on a student's record: plain data, so that the page only has to be drawn."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from brakecourse import marking
from brakecourse.classroom.counting import Counted, count
from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import ModuleRecords, class_records
from brakecourse.classroom.settings import Paper
from brakecourse.classroom.settled import settled_at
from brakecourse.exports.cells import rounded
from brakecourse.exports.mastery import Mastery, State, everyones_mastery, rules
from brakecourse.tables import read_table

NOT_HANDED_OUT = "not handed out"

IT_IS = (
    "This record tells what the student did in the course up to its date: the marks for exercises on "
    "simulated vehicles, another one for each student, and what these marks say of each competency."
)
IT_IS_NOT = (
    "It is no licence, no certification and no permit, and it does not say that anybody may work on brakes. "
    "Who may do so is for local law and licensed practice to say; on any vehicle the maker's data come first."
)
STATES = (
    "Mastered: enough of the marks, over enough questions from enough modules, and no safety-critical "
    "question missed. Too little to tell: too few of its questions have been marked so far."
)


@dataclass(frozen=True)
class ModuleLine:
    """One module: number, title, how it stands in words, and the marks ("36.5 of 40") where there are any."""

    number: str
    title: str
    status: str
    marks: str
    percent: str


@dataclass(frozen=True)
class CompetencyLine:
    """One competency: what the student can do, its state, and the share of the marks."""

    statement: str
    state: State
    percent: str


@dataclass(frozen=True)
class RecordPage:
    """One student's record.

    Attributes:
        student_id, name: whose.
        class_name, term: of which class.
        as_of: when the last mark was given, in the class's time zone; None where there is none.
        modules: every module of the course, in order.
        competencies: every competency, in the table's order.
        paper: what it is printed on.
    """

    student_id: str
    name: str
    class_name: str
    term: str
    as_of: datetime | None
    modules: tuple[ModuleLine, ...]
    competencies: tuple[CompetencyLine, ...]
    paper: Paper


def record_pages(cls: ClassFolder, records: Sequence[ModuleRecords] | None = None) -> list[RecordPage]:
    """Return everyone's record, in the roster's order.

    Args:
        cls: the class.
        records: everyone's results where they were read already; None reads them.

    Raises:
        CourseError: the gradebook can't be read.
    """
    results: dict[str, dict[str, Counted]] = defaultdict(dict)
    records = class_records(cls) if records is None else records
    for one in count((one for module in records for one in module.grades), cls.settings.attempts_count):
        results[one.record.student_id][one.record.module] = one
    known: dict[str, list[Mastery]] = defaultdict(list)
    settled: dict[str, datetime] = {}
    if cls.assigned:
        for mastery in everyones_mastery(cls, records):
            known[mastery.student_id].append(mastery)
        for (_, student), when in settled_at(cls).items():
            settled[student] = max(when, settled.get(student, when))
    return [
        RecordPage(
            entry.student_id,
            f"{entry.first_name} {entry.last_name}",
            cls.settings.name,
            cls.settings.term,
            settled[entry.student_id].astimezone(cls.settings.zone) if entry.student_id in settled else None,
            module_lines(results[entry.student_id]),
            competency_lines(known[entry.student_id]),
            cls.settings.paper,
        )
        for entry in cls.roster
    ]


def module_lines(results: dict[str, Counted]) -> tuple[ModuleLine, ...]:
    """Return a line for each module of the course."""
    rows = {row["module"]: row for row in read_table("course/modules.csv")}
    return tuple(
        _module_line(rows[module]["number"], rows[module]["title"], results.get(module))
        for module in marking.MODULES
    )


def _module_line(number: str, title: str, result: Counted | None) -> ModuleLine:
    if result is None:
        return ModuleLine(number, title, NOT_HANDED_OUT, "", "")
    own = result.record
    if own.final_score is None or not own.max_score:
        return ModuleLine(number, title, own.status, "", "")
    status = f"{own.status}, {own.days_late} {'day' if own.days_late == 1 else 'days'} late"
    return ModuleLine(
        number,
        title,
        status if own.days_late else own.status,
        f"{_plain(own.final_score, 2)} of {_plain(own.max_score, 2)}",
        f"{rounded(100 * own.final_score / own.max_score, 1)} %",
    )


def _plain(value: float, places: int) -> str:
    text = str(rounded(value, places))
    return text.rstrip("0").rstrip(".") if "." in text else text


def competency_lines(known: list[Mastery]) -> tuple[CompetencyLine, ...]:
    """Return a line for each competency; without any result it is too little to tell."""
    by_name = {one.competency: one for one in known}
    lines: list[CompetencyLine] = []
    for rule in rules():
        own = by_name.get(rule.competency)
        state: State = own.state if own is not None else "too little to tell"
        percent = f"{rounded(own.percent, 0)} %" if own is not None and own.percent is not None else ""
        lines.append(CompetencyLine(rule.statement, state, percent))
    return tuple(lines)
