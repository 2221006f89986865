"""The grade table's columns: one list for the CSV file, the workbook and the sheet that explains them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from brakecourse.exports.cells import rounded, safe_text

if TYPE_CHECKING:
    from brakecourse.classroom.records import GradeRecord

Value = str | int | Decimal | None


@dataclass(frozen=True)
class Column:
    """One column of the grade table.

    Attributes:
        key: the heading in the CSV file.
        heading: the heading in the workbook.
        meaning: what it holds, for the sheet that explains.
        width: of the workbook's column, in characters.
        value: how a record gives it.
    """

    key: str
    heading: str
    meaning: str
    width: int
    value: Callable[[GradeRecord], Value]


def _text(name: str) -> Callable[[GradeRecord], Value]:
    return lambda record: safe_text(str(getattr(record, name) or ""))


def _points(name: str) -> Callable[[GradeRecord], Value]:
    return lambda record: rounded(getattr(record, name))


def _joined(name: str) -> Callable[[GradeRecord], Value]:
    return lambda record: safe_text("; ".join(_as_texts(getattr(record, name))))


def _as_texts(value: object) -> Iterable[str]:
    return [str(item) for item in value] if isinstance(value, list | tuple) else [str(value or "")]


def _percent(record: GradeRecord) -> Value:
    if record.final_score is None or not record.max_score:
        return None
    return rounded(100 * record.final_score / record.max_score, 1)


COLUMNS: tuple[Column, ...] = (
    Column("student_id", "Student id", "The student's id, as in the roster.", 14, _text("student_id")),
    Column("last_name", "Last name", "As in the roster.", 18, _text("last_name")),
    Column("first_name", "First name", "As in the roster.", 16, _text("first_name")),
    Column("module", "Module", "The module that was handed out.", 24, _text("module")),
    Column(
        "status",
        "Status",
        "graded: the final score counts. "
        "waiting for hand-grading: a person still has to read an answer, so there is no final score yet. "
        "could not be graded: see 'Why'; somebody has to look. "
        "not handed in: nothing came; this is no score of 0, the course's rules say what it counts. "
        "excused: does not count.",
        24,
        _text("status"),
    ),
    Column("why", "Why", "The reason for the status, where there is one.", 40, _text("why")),
    Column(
        "auto_points",
        "Marked by the course",
        "Points for the answers that the course marks itself.",
        12,
        _points("auto_points"),
    ),
    Column(
        "hand_points",
        "Marked by hand",
        "Points a person gave for written answers; empty while one is waiting.",
        12,
        _points("hand_points"),
    ),
    Column(
        "waiting_questions",
        "Waiting questions",
        "The written answers that nobody has marked yet.",
        14,
        _joined("waiting_questions"),
    ),
    Column(
        "raw_score",
        "Raw score",
        "All points before lateness is counted; points so far while an answer is waiting.",
        12,
        _points("raw_score"),
    ),
    Column("max_score", "Out of", "The most points there are.", 10, _points("max_score")),
    Column(
        "handed_in_at",
        "Handed in (UTC)",
        "When the notebook that was graded came in, in universal time.",
        18,
        lambda record: "" if record.handed_in_at is None else f"{record.handed_in_at:%Y-%m-%d %H:%M}",
    ),
    Column(
        "days_late",
        "Days late",
        "Days begun after the due time; 0 when in time or when no due time was set.",
        10,
        lambda record: record.days_late,
    ),
    Column("late_penalty", "Late penalty", "Points taken off for lateness.", 12, _points("late_penalty")),
    Column(
        "final_score",
        "Final score",
        "Raw score less late penalty. Empty unless the status is 'graded'.",
        12,
        _points("final_score"),
    ),
    Column("percent", "Final, %", "Final score as a share of the most points.", 10, _percent),
    Column(
        "healed",
        "Put right",
        "What the course had to repair in the notebook before it could be graded.",
        40,
        _joined("healed"),
    ),
)


def in_order(records: Iterable[GradeRecord]) -> list[GradeRecord]:
    """Sort by module, then by student id, as texts."""
    return sorted(records, key=lambda record: (record.module, record.student_id))
