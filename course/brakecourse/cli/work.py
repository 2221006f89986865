"""The commands of a module's life, from handing out to exported grades, and the demo."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from brakecourse.classroom.folder import ClassFolder, open_class, parse_time
from brakecourse.cli.classes import Folder
from brakecourse.cli.screen import a_number, next_step, progress_bar, say, table

if TYPE_CHECKING:
    from brakecourse.classroom.records import GradeRecord

Module = Annotated[
    str,
    typer.Argument(
        metavar="MODULE", help="The module's name, such as 08_rotor_measurement.", show_default=False
    ),
]


def add_to(app: typer.Typer) -> None:
    """Add this file's commands to the program."""
    for name, function in (
        ("assign", assign),
        ("collect", collect),
        ("grade", grade),
        ("hand-mark", hand_mark),
        ("excuse", excuse),
        ("feedback", feedback),
        ("export-grades", export_grades),
        ("demo", demo),
    ):
        app.command(name)(function)


def assign(
    folder: Folder,
    module: Module,
    due: Annotated[
        str | None,
        typer.Option(
            help='When it is due, on the class\'s clock, such as "2026-12-04 18:00".',
            show_default=False,
        ),
    ] = None,
) -> None:
    """Hand out a module: draw a vehicle for each student and pack the kits.

    Give it again after a student joined: what the others have stays the same.

    Example:

    brakecourse assign autumn 08_rotor_measurement --due "2026-12-04 18:00"
    """
    from brakecourse.classroom import assign as room

    cls = open_class(folder)
    when = None if due is None else parse_time(due, cls.settings.zone)
    with progress_bar("Packing kits") as told:
        kits = room.assign(cls, module, due=when, progress=told)
    cls = open_class(folder)
    say(f"{len(kits)} kits are in {kits[0].parent}, one zip for each student, named by student id.")
    say(f"Due: {_local(cls, cls.settings.due_utc(module)) or 'no time set, so nothing counts as late'}.")
    next_step(
        f"give each student the zip with their id; when work comes in: brakecourse collect {folder} {module} "
        "FOLDER-OR-ZIP"
    )


def collect(
    folder: Folder,
    module: Module,
    source: Annotated[
        Path,
        typer.Argument(
            metavar="FROM",
            help="A folder or a zip with the students' notebooks or zips; each name, or the name of "
            "its folder, must hold the student's id.",
            show_default=False,
        ),
    ],
    received: Annotated[
        str | None,
        typer.Option(
            help='When all of it was handed in, on the class\'s clock, such as "2026-12-04 17:30". Left out: '
            "each file's own time, which is only what the student's computer or the zip says.",
            show_default=False,
        ),
    ] = None,
) -> None:
    """Take in what students handed in. The place it comes from is only read.

    Everything accepted is kept for good under received/; the newest of each student is what will be graded.

    Examples:

    brakecourse collect autumn 08_rotor_measurement download.zip

    brakecourse collect autumn 08_rotor_measurement inbox --received "2026-12-04 17:30"
    """
    from brakecourse.classroom import collect as room

    cls = open_class(folder)
    when = None if received is None else parse_time(received, cls.settings.zone)
    with progress_bar("Taking in") as told:
        report = room.collect(cls, module, source, received_at=when, progress=told)
    late = {None: "", True: "late", False: "in time"}
    rows = [
        (row.student_id, row.state, _local(cls, row.received_at), late[row.late], row.words)
        for row in report.rows
    ]
    table(f"Taken in for {module}", ["Student", "State", "Handed in", "", "Remark"], rows)
    if report.refused:
        table("Not taken in", ["Where", "Why"], [(item.where, item.why) for item in report.refused])
    if report.left_out:
        say(f"{report.left_out} files that come with a kit or a computer were passed over.")
    missing = len(report.with_state("not handed in"))
    say(f"{len(report.rows) - missing} of {len(report.rows)} students have handed in; {missing} have not.")
    next_step(f"brakecourse grade {folder} {module}")


def grade(
    folder: Folder,
    module: Module,
    student: Annotated[
        list[str] | None,
        typer.Option(help="Grade only this student; may be given more than once.", show_default=False),
    ] = None,
    trust: Annotated[
        bool,
        typer.Option(
            "--i-trust-these-files",
            help="Run the notebooks even where this computer can't shut them in. Only for work of your own.",
        ),
    ] = False,
    again: Annotated[
        bool, typer.Option("--again", help="Grade again what was graded already. Hand marks are kept.")
    ] = False,
) -> None:
    """Grade what was taken in. Work that was graded and has not changed is left as it is.

    Example:

    brakecourse grade autumn 08_rotor_measurement
    """
    from brakecourse.classroom import engine
    from brakecourse.classroom.collect import require_assigned
    from brakecourse.classroom.records import grade_records

    cls = open_class(folder)
    require_assigned(cls, module)
    chosen = None if not student else [cls.student(one).student_id for one in student]
    with progress_bar("Grading") as told:
        engine.grade(cls, module, students=chosen, trust_files=trust, force=again, progress=told)
    records = grade_records(cls, module)
    print_grades(f"Grades for {module}", records)
    waiting = [(record.student_id, question) for record in records for question in record.waiting_questions]
    if waiting:
        one, question = waiting[0]
        say(f"{len(waiting)} written answers wait for a person; they are in autograded/STUDENT/{module}/.")
        next_step(f"brakecourse hand-mark {folder} {module} {one} {question} POINTS --comment 'WORDS'")
    else:
        next_step(f"brakecourse feedback {folder} {module}")


def hand_mark(
    folder: Folder,
    module: Module,
    student: Annotated[str, typer.Argument(metavar="STUDENT", help="The student's id.", show_default=False)],
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
    say(f"{student}, question {question}: {points:g} points are in the gradebook. {left} answers still wait.")
    next_step(
        f"brakecourse feedback {folder} {module}"
        if not left
        else f"the next one: brakecourse hand-mark {folder} {module} STUDENT QUESTION POINTS"
    )


def excuse(
    folder: Folder,
    module: Module,
    student: Annotated[str, typer.Argument(metavar="STUDENT", help="The student's id.", show_default=False)],
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


def feedback(folder: Folder, module: Module) -> None:
    """Write a feedback page for each student whose work was graded.

    Example:

    brakecourse feedback autumn 08_rotor_measurement
    """
    from brakecourse.classroom.collect import require_assigned
    from brakecourse.classroom.feedback import give_back

    cls = open_class(folder)
    require_assigned(cls, module)
    with progress_bar("Writing pages") as told:
        pages = give_back(cls, module, progress=told)
    if not pages:
        say("No page was written, because no work of this module was graded yet.")
        next_step(f"brakecourse grade {folder} {module}")
        return
    say(f"{len(pages)} feedback pages are in {cls.root / 'feedback'}, in a folder for each student id.")
    next_step(f"send each student their own page; then: brakecourse export-grades {folder}")


def export_grades(folder: Folder) -> None:
    """Write the grade table of all modules as a CSV file and as a workbook.

    Example:

    brakecourse export-grades autumn
    """
    from brakecourse.exports.tables import export_all

    cls = open_class(folder)
    written = export_all(cls)
    for path in written.files:
        say(f"Written: {path}")
    if written.not_final:
        say(f"{written.not_final} rows are not final; the column 'status' says which and why.")
    next_step("open the workbook, check the rows that are not 'graded', then pass it on")


def demo(
    out: Annotated[Path, typer.Option(help="Where the demo class goes.")] = Path("demo_out"),
    seed: Annotated[int, typer.Option(help="Another number gives another class.")] = 1,
    keep: Annotated[
        bool, typer.Option("--keep", help="Leave an earlier demo as it is; put this one beside it.")
    ] = False,
) -> None:
    """Show the whole cycle with 12 simulated students, from hand-out to exported grades.

    Example:

    brakecourse demo --out /tmp/demo
    """
    from brakecourse.demo import run_demo

    run_demo(out, seed=seed, keep=keep)


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


def _local(cls: ClassFolder, when: datetime | None) -> str:
    return "" if when is None else f"{when.astimezone(cls.settings.zone):%Y-%m-%d %H:%M}"
