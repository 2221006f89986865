"""A big class with a full gradebook, made without running a notebook: for the tests of speed.

A few vehicles a module are drawn, a few simulated students work on each, the marking judges them, and the
results go round the class. The rows are written straight into the gradebook's tables, as grading leaves them.
Names and ids are invented.

    python -m tests.exports.big_class FOLDER [STUDENTS]
"""

from __future__ import annotations

import hashlib
import os
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache
from itertools import cycle, islice
from pathlib import Path
from typing import Any
from uuid import uuid4

from brakecourse import marking
from brakecourse.bench.draw import Draw
from brakecourse.classroom.engine import prepare_assignment
from brakecourse.classroom.engine.judging import WAITING
from brakecourse.classroom.engine.ledger import Ledger, Outcome, QuestionMark
from brakecourse.classroom.engine.plan import Plan, PlannedQuestion, read_plan
from brakecourse.classroom.engine.write import GRADED
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.marking.simulated import Student
from nbgrader.api import Comment, Grade, SubmittedAssignment, SubmittedNotebook
from nbgrader.api import Student as NbgraderStudent
from sqlalchemy import insert

SECRET = bytes(range(32))
FIRST_DUE = datetime(2026, 3, 6, 18, 0, tzinfo=UTC)
VEHICLES = 2
"""So many vehicles are drawn a module. Drawing one takes up to half a second, so they go round."""
WORKERS = 12
"""So many simulated students work on each vehicle."""
EVERY_NTH_MISSING = 9
"""Every ninth hand-in is missing, another ninth one is late."""


@dataclass(frozen=True)
class Marked:
    """One judged answer: the answer, and what the marking says; nothing where a person is waited for."""

    mark: marking.Mark | None
    answer: object


def make_big_class(
    folder: Path,
    students: int = 200,
    modules: Sequence[str] | None = None,
    *,
    hand_marked: bool = True,
    all_cases: bool = False,
) -> ClassFolder:
    """Make a class folder of s001, s002 … whose work in every module is graded.

    Args:
        folder: where; the class lies in its folder ``class``.
        students: how many.
        modules: which; None for all of the course.
        hand_marked: whether written answers and tasks have their marks; else they wait.
        all_cases: write everybody's sealed case too (needed for feedback pages only, a lot of files).
    """
    folder.mkdir(parents=True, exist_ok=True)
    roster = folder / "roster.csv"
    rows = [f"s{n:03},Amara{n:03},Quillstone,s{n:03}@class.example" for n in range(1, students + 1)]
    roster.write_text("\n".join(["student_id,first_name,last_name,email", *rows]) + "\n", encoding="utf-8")
    cls = new_class(folder / "class", roster, name="Big evening class (invented)", secret=SECRET)
    names = tuple(modules or marking.MODULES)
    for number, module in enumerate(names):
        _put_cases(cls, module, all_cases)
        cls = cls.with_due(module, FIRST_DUE + timedelta(weeks=number))
        prepare_assignment(cls, module)
    with Ledger(cls) as ledger, ledger.transaction() as book:
        book.db.execute(insert(NbgraderStudent.__table__), [_student_row(one) for one in cls.roster])
        for module in names:
            _fill(cls, book, read_plan(cls, module), hand_marked)
    return open_class(cls.root)


def _student_row(entry: Any) -> dict[str, object]:
    return {
        "id": entry.student_id,
        "first_name": entry.first_name,
        "last_name": entry.last_name,
        "email": entry.email,
    }


@cache
def _cases(module: str) -> tuple[marking.SealedCase, ...]:
    return tuple(marking.draw_sealed_case(module, f"s{n:03}", SECRET) for n in range(1, VEHICLES + 1))


@cache
def judged_work(module: str) -> tuple[dict[str, Marked], ...]:
    """Return judged work to share out, a dict by question each: able students and weak ones, with habits."""
    habits = sorted({m.mistake for c in _cases(module) for q in c.questions for m in q.mistakes})
    found = []
    for number, case in enumerate(_cases(module)):
        for worker in range(WORKERS):
            draw = Draw(2026).child(f"{module} {number} {worker}")
            own = [name for name in habits if draw.child(name).uniform() < 0.12]
            student = Student(0.25 + 0.7 * draw.child("ability").uniform(), frozenset(own))
            answers = student.answers(case, draw.child("work"))
            marks = marking.judge_all(case, answers)
            found.append({q.id: Marked(marks.get(q.id), answers[q.id]) for q in case.questions})
    return tuple(found)


def _put_cases(cls: ClassFolder, module: str, everyone: bool) -> None:
    takers = cls.student_ids if everyone else cls.student_ids[:1]
    for student, case in zip(takers, cycle(_cases(module)), strict=False):
        path = cls.case_file(module, student)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(case.model_copy(update={"student": student}).model_dump_json(), encoding="utf-8")


def _fill(cls: ClassFolder, book: Any, plan: Plan, hand_marked: bool) -> None:
    """Write everybody's rows of one module."""
    release = cls.release_notebook(plan.module)
    sha256 = hashlib.sha256(release.read_bytes()).hexdigest()
    assignment = book.find_assignment(plan.module)
    notebook = assignment.notebooks[0]
    by_name = {cell.name: cell.id for cell in (*notebook.grade_cells, *notebook.task_cells)}
    comments = [cell.id for cell in (*notebook.solution_cells, *notebook.task_cells)]
    rows: dict[Any, list[dict[str, object]]] = {
        table: [] for table in (SubmittedAssignment, SubmittedNotebook, Grade, Comment, Outcome, QuestionMark)
    }
    for student, work, when in _hand_ins(cls, plan.module):
        _put_notebook(cls, plan.module, student, release, when)
        own, sheet = uuid4().hex, uuid4().hex
        rows[SubmittedAssignment].append(
            {
                "id": own,
                "assignment_id": assignment.id,
                "student_id": student,
                "timestamp": when.replace(tzinfo=None),
            }
        )
        rows[SubmittedNotebook].append(
            {"id": sheet, "assignment_id": own, "notebook_id": notebook.id, "flagged": False}
        )
        rows[Comment] += [{"id": uuid4().hex, "notebook_id": sheet, "cell_id": cell} for cell in comments]
        rows[Outcome].append(_outcome(plan, student, sha256, when))
        for question in plan.questions:
            one = work[question.id]
            cell = {"id": uuid4().hex, "notebook_id": sheet, "cell_id": by_name[question.grade_id]}
            rows[Grade].append(cell | _grade(question, one, student, hand_marked))
            rows[QuestionMark].append(_mark(plan, student, question, one))
    for table, found in rows.items():
        book.db.execute(insert(table.__table__), found)


def _hand_ins(cls: ClassFolder, module: str) -> Iterator[tuple[str, dict[str, Marked], datetime]]:
    """Tell who handed in what and when: most in the week before it is due, some late, some never."""
    due = cls.settings.due_utc(module) or FIRST_DUE
    start = marking.MODULES.index(module)
    work = islice(cycle(judged_work(module)), start, None)
    for number, (student, one) in enumerate(zip(cls.student_ids, work, strict=False)):
        place = (number + start) % EVERY_NTH_MISSING
        if place == EVERY_NTH_MISSING - 1 and number:
            continue
        late = place == EVERY_NTH_MISSING - 2
        hours = 30 if late else -(number * 37 % 168) - 1
        yield student, one, due + timedelta(hours=hours)


def _put_notebook(cls: ClassFolder, module: str, student: str, release: Path, when: datetime) -> None:
    path = cls.submitted_notebook(module, student)
    path.parent.mkdir(parents=True, exist_ok=True)
    os.link(release, path)  # the same bytes for everyone, so that thousands of files cost nothing
    path.with_name("timestamp.txt").write_text(f"{when:%Y-%m-%d %H:%M:%S.%f} UTC\n", encoding="utf-8")


def _outcome(plan: Plan, student: str, sha256: str, when: datetime) -> dict[str, object]:
    return {
        "module": plan.module,
        "student_id": student,
        "status": GRADED,
        "why": "",
        "healed": [],
        "submission_sha256": sha256,
        "case_version": "big class",
        "template_sha256": plan.sha256,
        "course_version": "big class",
        "shut_in": True,
        "graded_at": (when + timedelta(days=1)).replace(tzinfo=None),
        "duration_s": 1.0,
    }


def _grade(question: PlannedQuestion, one: Marked, student: str, hand_marked: bool) -> dict[str, object]:
    auto = None if one.mark is None or question.by_hand else one.mark.points
    empty = question.by_hand and not question.task and not one.answer
    auto = 0.0 if empty else auto
    waits = auto is None and not hand_marked
    share = (2 + int(student[1:]) % 3) / 4  # half, three quarters, or all of the marks
    manual = round(question.points * share * 2) / 2 if auto is None and hand_marked else None
    return {"auto_score": auto, "manual_score": manual, "needs_manual_grade": waits}


def _mark(plan: Plan, student: str, question: PlannedQuestion, one: Marked) -> dict[str, object]:
    mark = None if question.by_hand else one.mark
    row: dict[str, object] = {
        "module": plan.module,
        "student_id": student,
        "question_id": question.id,
        "out_of": question.points,
        "answer": one.answer,
    }
    names = ("points", "status", "given", "expected", "tolerance", "how", "mistake", "words", "lesson")
    if mark is None:
        empty = {"points": None, "status": WAITING, "mistake": None, "given": str(one.answer or "")}
        return row | dict.fromkeys(names, "") | empty | {"carried_forward": False}
    return (
        row | {name: getattr(mark, name) for name in names} | {"carried_forward": bool(mark.carried_forward)}
    )


def main(arguments: Sequence[str]) -> None:
    """Make one from the command line and say how long it took."""
    started = time.perf_counter()
    students = int(arguments[1]) if len(arguments) > 1 else 200
    cls = make_big_class(Path(arguments[0]), students)
    print(f"{cls.root}: {students} students, {time.perf_counter() - started:.1f} s")


if __name__ == "__main__":
    main(sys.argv[1:])
