"""Copy a gradebook without its people: the same marks, new ids, no names, free words or exact times.

Only tables and columns that are known here are copied. What a later version adds is left out until somebody
has thought about it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from nbgrader.api import Assignment, SubmittedAssignment
from nbgrader.api import Base as NbgraderBase
from sqlalchemy import Table, insert, inspect, select

from brakecourse.classroom.anonymous_answers import REMOVED, may_stay
from brakecourse.classroom.engine.history_table import HistoryRow
from brakecourse.classroom.engine.ledger import Base, HandMark, Ledger, Outcome, QuestionMark, make_gradebook
from brakecourse.classroom.folder import ClassFolder

Row = dict[str, Any]
NO_RESPONSE = "No response."  # nbgrader's own words

# nbgrader's tables of what was asked; they tell of nobody. Its course is made with the new gradebook.
_ASKED = (
    "assignment", "notebook", "base_cell", "source_cell", "grade_cells", "solution_cells", "task_cells",
)  # fmt: skip


@dataclass(frozen=True)
class Veil:
    """How rows are made anonymous.

    Attributes:
        new_id: the new id of each student that is copied, by the old one.
        day: coarsens a time of one student's work in one assignment (assignment, old id, time).
        fingerprints: of the new submission and the new case, by assignment and old id.
        offered: the words that a question offered, by assignment, old id and question.
    """

    new_id: Mapping[str, str]
    day: Callable[[str, str, datetime], datetime]
    fingerprints: Callable[[str, str, str, str], tuple[str, str]]
    offered: Callable[[str, str, str], frozenset[str]]


def copy_rows(cls: ClassFolder, copy: ClassFolder, veil: Veil) -> None:
    """Copy the gradebook's rows into a new one.

    Args:
        cls: the class.
        copy: the new class, without a gradebook yet.
        veil: makes them anonymous.

    Raises:
        CourseError: a gradebook can't be read or written.
    """
    make_gradebook(copy)
    with Ledger(cls) as ledger, ledger.reading() as book:
        present = set(inspect(book.db.connection()).get_table_names())

        def rows(table: Any) -> list[Row]:
            wanted = table if isinstance(table, Table) else table.__table__
            if wanted.name not in present:
                return []
            return [dict(row) for row in book.db.execute(select(wanted)).mappings()]

        known = {table.name: table for table in NbgraderBase.metadata.sorted_tables}
        out = [(known[name], rows(known[name])) for name in _ASKED]
        out += _work(known, rows, veil)
        out += [
            (Outcome.__table__, _veiled(rows(Outcome), veil, _outcome)),
            (QuestionMark.__table__, _veiled(rows(QuestionMark), veil, _mark)),
            (HandMark.__table__, _veiled(rows(HandMark), veil, _hand_mark)),
            (HistoryRow.__table__, _numbered(_veiled(rows(HistoryRow), veil, _history))),
        ]
    with Ledger(copy) as ledger, ledger.transaction() as book:
        Base.metadata.create_all(book.db.connection())
        for table, found in out:
            if found:
                book.db.execute(insert(table), found)


def extensions(cls: ClassFolder) -> dict[tuple[str, str], timedelta]:
    """Return the extra time that students were given, by assignment and student id.

    Raises:
        CourseError: the gradebook can't be read.
    """
    query = select(Assignment.name, SubmittedAssignment.student_id, SubmittedAssignment.extension)
    joined = query.join(SubmittedAssignment, SubmittedAssignment.assignment_id == Assignment.id)
    with Ledger(cls) as ledger, ledger.reading() as book:
        return {(module, student): extra for module, student, extra in book.db.execute(joined) if extra}


def _work(
    known: Mapping[str, Table], rows: Callable[[Table], list[Row]], veil: Veil
) -> list[tuple[Any, list[Row]]]:
    """Return nbgrader's rows of what the students did; those of anybody who is not copied are left out."""
    names = {row["id"]: row["name"] for row in rows(known["assignment"])}
    submissions = [row for row in rows(known["submitted_assignment"]) if row["student_id"] in veil.new_id]
    for row in submissions:
        if row["timestamp"] is not None:
            row["timestamp"] = veil.day(names[row["assignment_id"]], row["student_id"], row["timestamp"])
        row["student_id"] = veil.new_id[row["student_id"]]
    own = {row["id"] for row in submissions}
    sheets = [row for row in rows(known["submitted_notebook"]) if row["assignment_id"] in own]
    inside = {row["id"] for row in sheets}
    grades = [row for row in rows(known["grade"]) if row["notebook_id"] in inside]
    comments = [row for row in rows(known["comment"]) if row["notebook_id"] in inside]
    for row in comments:
        row["manual_comment"] = None
        row["auto_comment"] = NO_RESPONSE if row["auto_comment"] == NO_RESPONSE else None
    students = [{"id": new} for new in sorted(veil.new_id.values())]
    tables = ("submitted_assignment", "submitted_notebook", "grade", "comment")
    # By their random ids: the order in which students were put in would tell who is who.
    sorted_rows = (
        sorted(found, key=lambda row: str(row["id"])) for found in (submissions, sheets, grades, comments)
    )
    return [
        (known["student"], students),
        *((known[name], found) for name, found in zip(tables, sorted_rows, strict=True)),
    ]


def _veiled(found: Iterable[Row], veil: Veil, change: Callable[[Row, Veil], Row]) -> list[Row]:
    """Return the rows of those who are copied, changed, under their new ids and in these ids' order."""
    kept = [
        {**change(row, veil), "student_id": veil.new_id[row["student_id"]]}
        for row in found
        if row["student_id"] in veil.new_id
    ]
    return sorted(kept, key=lambda row: (row["module"], row["student_id"], str(row.get("at", ""))))


def _outcome(row: Row, veil: Veil) -> Row:
    module, student = row["module"], row["student_id"]
    sha256, version = veil.fingerprints(module, student, row["submission_sha256"], row["case_version"])
    return {
        **_only(row, ("module", "status", "template_sha256", "course_version", "shut_in", "duration_s")),
        "why": "",
        "healed": [],  # what was put right can quote the name of a student's file
        "submission_sha256": sha256,
        "case_version": version,
        "graded_at": veil.day(module, student, row["graded_at"]),
    }


def _mark(row: Row, veil: Veil) -> Row:
    offered = veil.offered(row["module"], row["student_id"], row["question_id"])
    stays = may_stay(row["answer"], offered)
    return {
        **_only(row, ("module", "question_id", "points", "out_of", "status", "expected", "tolerance", "how")),
        **_only(row, ("mistake", "lesson", "carried_forward")),
        "answer": row["answer"] if stays else None,
        "given": row["given"] if stays else REMOVED,
        "words": row["words"] if stays else "",
    }


def _hand_mark(row: Row, veil: Veil) -> Row:
    offered = veil.offered(row["module"], row["student_id"], row["question_id"])
    return {
        **_only(row, ("module", "question_id")),
        "answer": row["answer"] if may_stay(row["answer"], offered) else None,
        "comment": "",
        "given_at": veil.day(row["module"], row["student_id"], row["given_at"]),
    }


def _history(row: Row, veil: Veil) -> Row:
    module, student = row["module"], row["student_id"]
    return {
        **_only(
            row, ("module", "question_id", "kind", "course_version", "old_points", "new_points", "by_hand")
        ),
        "case_version": "",
        "why": "",
        "at": veil.day(module, student, row["at"]),
        "id": row["id"],
    }


def _numbered(found: list[Row]) -> list[Row]:
    """Number the history anew: one student's changes in their order, the students in their new ids' order."""
    found.sort(key=lambda row: (row["student_id"], row["module"], row["id"]))
    return [{**row, "id": number} for number, row in enumerate(found, start=1)]


def _only(row: Row, names: Iterable[str]) -> Row:
    return {name: row[name] for name in names}
