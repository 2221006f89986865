"""`brakecourse history`: every change of a mark, and what grading again would change."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from brakecourse.classroom.folder import ClassFolder, open_class
from brakecourse.cli.classes import Folder
from brakecourse.cli.screen import count_of, next_step, progress_bar, say, table
from brakecourse.errors import CourseError

if TYPE_CHECKING:
    from brakecourse.classroom.engine import Change, GradeRow, Preview
    from brakecourse.classroom.engine.farm import Farm


def history(
    folder: Folder,
    module: Annotated[
        str | None, typer.Option(help="Only this module, such as 08_rotor_measurement.", show_default=False)
    ] = None,
    student: Annotated[str | None, typer.Option(help="Only this student.", show_default=False)] = None,
) -> None:
    """Show every change of a mark: when, whose, from what to what, by which answer key, and why.

    Examples:

    brakecourse history autumn

    brakecourse history autumn --module 08_rotor_measurement --student s03
    """
    from brakecourse.classroom.records import mark_history

    cls = open_class(folder)
    changes = mark_history(cls, module, student)
    rows = [
        (
            f"{one.at.astimezone(cls.settings.zone):%Y-%m-%d %H:%M:%S}",
            one.module,
            one.student_id,
            one.question_id or "all of it",
            one.kind,
            _points(one.old_points),
            _points(one.new_points),
            f"{one.case_version or '-'}, course {one.course_version}" if one.course_version else "",
            one.why,
        )
        for one in changes
    ]
    headings = ["When", "Module", "Student", "Question", "What", ">From", ">To", "Answer key", "Why"]
    table("Changes of marks", headings, rows)
    say(f"{count_of(len(changes), 'change')}, the oldest first, on the clock of {cls.settings.timezone}.")
    next_step(f"brakecourse export-grades {folder}")


def grade_again(
    cls: ClassFolder,
    modules: Sequence[str],
    students: Sequence[str] | None,
    trust: bool,
    agreed: bool,
    farm: Farm | None = None,
) -> None:
    """Show what grading again would change, and store it when the person agrees.

    Raises:
        CourseError: nobody can be asked, and nobody agreed beforehand; nothing is written then.
    """
    from brakecourse.classroom import engine

    for one in modules:
        with progress_bar(f"Looking at {one}") as told:
            found = engine.preview(cls, one, students, trust, told, farm=farm)
        _show(found)
        if found.changes and not agreed and not _agreed():
            say("Nothing was stored; the marks stay as they were.")
            continue
        with progress_bar(f"Storing {one}") as told:
            report = engine.accept(cls, found, told)
        for row in report.rows:
            if row.why == engine.CHANGED_SINCE:
                say(f"{row.student_id}: {row.why}")


def say_what_is_held(folder: object, module: str, held: Sequence[GradeRow]) -> None:
    """Name the students who were marked by another answer key than today's."""
    if not held:
        return
    say(f"Marked by another answer key than today's: {', '.join(row.student_id for row in held)}.")
    for why in dict.fromkeys(row.held for row in held):
        say(f"  {why}")
    say(f"Their marks stay. To see what would change: brakecourse grade {folder} {module} --again")


def _show(found: Preview) -> None:
    headings = ["Student", "Question", ">From", ">To", ">Out of", "Why"]
    if found.changes:
        table(f"Grading {found.module} again would change", headings, [_row(one) for one in found.changes])
    if found.stays:
        table("Marks given by hand stay", headings, [_row(one) for one in found.stays])
    if found.first:
        say(f"Never graded before: {', '.join(found.first)}.")
    for row in found.left:
        if row.why and row.status != "excused":
            say(f"{row.student_id}: could not be looked at, so the marks stay. {row.why}")
    people = len({one.student_id for one in found.changes})
    if people:
        say(f"{count_of(len(found.changes), 'mark')} of {count_of(people, 'student')} would be another one.")
    else:
        say(f"{found.module}: no mark changes.")


def _agreed() -> bool:
    if not sys.stdin.isatty():
        raise CourseError(
            "Grading again would change these marks, and here nobody can be asked; nothing was written: "
            "give --yes to agree beforehand."
        )
    return typer.confirm("Store these changes?")


def _row(one: Change) -> tuple[object, ...]:
    question = one.question_id or "all of it"
    return (one.student_id, question, _points(one.old), _points(one.new), f"{one.out_of:g}", one.why)


def _points(points: float | None) -> str:
    return "-" if points is None else f"{points:g}"
