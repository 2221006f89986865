"""Who is where: everyone's status in each module, and who needs the instructor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape

from markupsafe import Markup

from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.records import GradeRecord
from brakecourse.classroom.results import StudentResult
from brakecourse.desks.parts import table
from brakecourse.desks.plain import in_desk_words

_SHORT = {
    "graded": "graded",
    "waiting for hand-grading": "waits for you",
    "could not be graded": "could not be graded",
    "not handed in": "not handed in",
    "excused": "excused",
}


@dataclass(frozen=True)
class Need:
    """One reason to look at a student's work."""

    student_id: str
    name: str
    module: str
    why: str
    hand_marking: bool = False


def overview(cls: ClassFolder, results: dict[str, list[StudentResult]], now: datetime) -> str:
    """Return the table of students and modules, each cell with its status in words.

    Args:
        cls: the class.
        results: everyone's results by module.
        now: with its zone; it decides what is overdue.
    """
    records = {
        (one.record.student_id, module): one.record for module, many in results.items() for one in many
    }
    rows = [
        (
            f"{entry.student_id} {entry.first_name} {entry.last_name}",
            *(_cell(cls, records.get((entry.student_id, module)), now) for module in results),
        )
        for entry in cls.roster
    ]
    headings = ["Student", *(_short_name(module) for module in results)]
    return table("Students and modules", headings, rows)


def _short_name(module: str) -> str:
    """Return a module's number, and its attempt where it is a later one.

    >>> _short_name("08_rotor_measurement"), _short_name("08_rotor_measurement-attempt-2")
    ('08', '08, attempt 2')
    """
    number, _, rest = module.partition("_")
    attempt = rest.partition("-attempt-")[2]
    return f"{number}, attempt {attempt}" if attempt else number


def _cell(cls: ClassFolder, record: GradeRecord | None, now: datetime) -> Markup | str:
    if record is None:
        return "–"
    words = _SHORT[record.status]
    if record.status == "graded" and record.final_score is not None:
        words = f"graded {record.final_score:g} of {record.max_score:g}"
    elif record.status == "not handed in" and is_overdue(cls, record, now):
        words = "not handed in, overdue"
    kind = ""
    if record.status == "could not be graded" or words.endswith("overdue"):
        kind = "bc-alert"
    elif record.status == "waiting for hand-grading":
        kind = "bc-wait"
    return Markup(f'<span class="bc-mark {kind}">{escape(words)}</span>')


def is_overdue(cls: ClassFolder, record: GradeRecord, now: datetime) -> bool:
    """Tell whether work that did not come in should be there by now."""
    due = cls.settings.due_utc(record.module)
    return record.status == "not handed in" and due is not None and now > due


def needs(cls: ClassFolder, results: dict[str, list[StudentResult]], now: datetime) -> Iterator[Need]:
    """Yield every reason to look at somebody's work, module by module.

    Args:
        cls, results, now: as for `overview`.
    """
    for module, many in results.items():
        for one in many:
            record = one.record
            who = record.student_id, f"{record.first_name} {record.last_name}", module
            if record.status == "could not be graded":
                yield Need(*who, f"Could not be graded. {in_desk_words(record.why)}".strip())
            elif is_overdue(cls, record, now):
                yield Need(*who, "Nothing came in, and the due time is over.")
            unreadable = [q.question.id for q in one.questions if q.status == "not readable"]
            if unreadable:
                yield Need(*who, f"The answer to {', '.join(unreadable)} can't be read.")
            if record.waiting_questions:
                yield Need(*who, f"Waits for you: {', '.join(record.waiting_questions)}.", hand_marking=True)


def needs_table(found: Sequence[Need]) -> str:
    """Return the reasons as a table; those who are stuck come first."""
    if not found:
        return "<p>Nobody is stuck, and nothing waits for you.</p>"
    ordered = sorted(found, key=lambda one: (one.hand_marking, one.module))
    rows = [(f"{one.student_id} {one.name}", one.module, one.why) for one in ordered]
    return table("Who needs you", ["Student", "Module", "Why"], rows)
