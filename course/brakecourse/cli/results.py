"""The commands after grading: marks by hand, excuses, pages for the students, tables for the office."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from brakecourse.classroom.folder import open_class
from brakecourse.cli.classes import Folder, Module, Modules, handed_out
from brakecourse.cli.screen import a_number, count_of, next_step, progress_bar, say, table

if TYPE_CHECKING:
    from brakecourse.classroom.records import GradeRecord

StudentId = Annotated[str, typer.Argument(metavar="STUDENT", help="The student's id.", show_default=False)]


def hand_mark(
    folder: Folder,
    module: Module,
    student: StudentId,
    question: Annotated[
        str, typer.Argument(metavar="QUESTION", help="The question, such as 8.9.", show_default=False)
    ],
    points: Annotated[
        float,
        typer.Argument(parser=a_number, metavar="POINTS", help="The points for it.", show_default=False),
    ],
    comment: Annotated[str, typer.Option(help="Words for the student's feedback page.")] = "",
) -> None:
    """Give the points for a written answer that you have read.

    Example:

    brakecourse hand-mark autumn 08_rotor_measurement s03 8.9 3 --comment "Clear, but no word on the limit."
    """
    from brakecourse.classroom import engine
    from brakecourse.classroom.collect import require_assigned
    from brakecourse.classroom.records import grade_records

    cls = open_class(folder)
    require_assigned(cls, module)
    engine.set_hand_mark(cls, module, cls.student(student).student_id, question, points, comment=comment)
    left = sum(len(record.waiting_questions) for record in grade_records(cls, module))
    say(f"{student}, question {question}: {points:g} points are in the gradebook.")
    say(f"Still waiting: {count_of(left, 'answer')}.")
    next_step(
        f"brakecourse feedback {folder} {module}"
        if not left
        else f"the next one: brakecourse hand-mark {folder} {module} STUDENT QUESTION POINTS"
    )


def observer_sheet(folder: Folder, module: Module) -> None:
    """Write a sheet to print for whoever watches the students' work on a real vehicle.

    Example:

    brakecourse observer-sheet autumn 13_whole_job
    """
    from brakecourse.classroom.collect import require_assigned
    from brakecourse.classroom.observer_sheet import write_observer_sheet

    cls = open_class(folder)
    require_assigned(cls, module)
    path = write_observer_sheet(cls, module)
    say(f"Written: {path}")
    next_step(
        "open it in your browser, print it on A4, and tick what you see; "
        f"then: brakecourse hand-mark {folder} {module} STUDENT QUESTION POINTS"
    )


def excuse(
    folder: Folder,
    module: Module,
    student: StudentId,
    why: Annotated[str, typer.Option(help="The reason, for the grade table.")] = "",
    end: Annotated[bool, typer.Option("--end", help="Let the module count for the student again.")] = False,
) -> None:
    """Excuse a student from a module: it counts neither for nor against them.

    Examples:

    brakecourse excuse autumn 08_rotor_measurement s03 --why "Ill from 1 to 5 December."

    brakecourse excuse autumn 08_rotor_measurement s03 --end
    """
    from brakecourse.classroom import engine
    from brakecourse.classroom.collect import require_assigned

    cls = open_class(folder)
    require_assigned(cls, module)
    student_id = cls.student(student).student_id
    if end:
        engine.end_excuse(cls, module, student_id)
        say(f"{student_id}: {module} counts again.")
        next_step(f"brakecourse grade {folder} {module}")
    else:
        engine.excuse(cls, module, student_id, why)
        say(f"{student_id} is excused from {module}.")
        next_step(f"brakecourse export-grades {folder}")


def feedback(folder: Folder, module: Modules) -> None:
    """Write a feedback page for each student whose work was graded.

    Examples:

    brakecourse feedback autumn 08_rotor_measurement

    brakecourse feedback autumn all
    """
    from brakecourse.classroom.feedback import give_back

    cls = open_class(folder)
    pages = 0
    for one in handed_out(cls, module):
        with progress_bar(f"Writing pages of {one}") as told:
            pages += len(give_back(cls, one, progress=told))
    say(f"In {cls.root / 'feedback'}: {count_of(pages, 'page')}, in a folder for each student id.")
    next_step(f"send each student their own page; then: brakecourse export-grades {folder}")


def export_grades(folder: Folder) -> None:
    """Write the tables of all modules: grades, what counts, competencies; as CSV files and as a workbook.

    Example:

    brakecourse export-grades autumn
    """
    from brakecourse.exports.tables import export_all

    cls = open_class(folder)
    written = export_all(cls)
    for path in written.files:
        say(f"Written: {path}")
    if written.not_final:
        say(f"Not final: {count_of(written.not_final, 'row')}; see the columns 'status' and 'why'.")
    next_step("open the workbook, check the rows that are not 'graded', then pass it on")


def print_grades(title: str, records: Sequence[GradeRecord]) -> None:
    """Print a grade table."""
    rows = [
        (
            record.student_id,
            record.status,
            _points(record.raw_score),
            _points(record.max_score),
            record.days_late or "",
            _points(record.late_penalty) if record.late_penalty else "",
            _points(record.final_score),
            "; ".join(filter(None, [record.why, *record.healed])),
        )
        for record in records
    ]
    headings = ["Student", "Status", ">Raw", ">Out of", ">Days late", ">Late penalty", ">Final", "Remark"]
    table(title, headings, rows)


def _points(value: float | None) -> str:
    from brakecourse.exports.cells import rounded

    number = rounded(value)
    return "" if number is None else f"{number:f}"
