"""The commands of a module's life, from handing out to exported grades, and the demo."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from brakecourse.classroom.folder import ClassFolder, open_class, parse_time
from brakecourse.cli.classes import Folder, Module
from brakecourse.cli.results import excuse, export_grades, feedback, hand_mark, print_grades
from brakecourse.cli.screen import count_of, next_step, progress_bar, say, table


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
    say(f"In {kits[0].parent}: {count_of(len(kits), 'kit')}, one zip for each student, named by student id.")
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
        say(f"Passed over: {count_of(report.left_out, 'file')} such as come with a kit or a computer.")
    missing = len(report.with_state("not handed in"))
    everyone = count_of(len(report.rows), "student")
    say(f"Handed in: {len(report.rows) - missing} of {everyone}; missing: {missing}.")
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
    say(engine.protection().words)
    chosen = None if not student else [cls.student(one).student_id for one in student]
    with progress_bar("Grading") as told:
        engine.grade(cls, module, students=chosen, trust_files=trust, force=again, progress=told)
    records = grade_records(cls, module)
    print_grades(f"Grades for {module}", records)
    waiting = [(record.student_id, question) for record in records for question in record.waiting_questions]
    if waiting:
        one, question = waiting[0]
        answers = count_of(len(waiting), "written answer")
        say(f"Waiting for a person: {answers}, in autograded/STUDENT/{module}/.")
        next_step(f"brakecourse hand-mark {folder} {module} {one} {question} POINTS --comment 'WORDS'")
    else:
        next_step(f"brakecourse feedback {folder} {module}")


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


def _local(cls: ClassFolder, when: datetime | None) -> str:
    return "" if when is None else f"{when.astimezone(cls.settings.zone):%Y-%m-%d %H:%M}"
