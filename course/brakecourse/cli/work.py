"""The commands of a module's life, from handing out to exported grades, and the demo."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from brakecourse.classroom.folder import ClassFolder, open_class, parse_time
from brakecourse.cli.classes import ALL, Folder, Modules, handed_out
from brakecourse.cli.grading import grade_with_a_bar
from brakecourse.cli.history import grade_again, history
from brakecourse.cli.in_one_go import in_one_go
from brakecourse.cli.results import excuse, export_grades, feedback, hand_mark, observer_sheet, print_grades
from brakecourse.cli.screen import count_of, next_step, progress_bar, say, table
from brakecourse.cli.teach import teach_again

if TYPE_CHECKING:
    from brakecourse.classroom.collect import CollectReport
    from brakecourse.classroom.engine.farm import Farm


def add_to(app: typer.Typer) -> None:
    """Add this file's commands to the program."""
    for name, function in (
        ("assign", assign),
        ("collect", collect),
        ("grade", grade),
        ("observer-sheet", observer_sheet),
        ("hand-mark", hand_mark),
        ("excuse", excuse),
        ("history", history),
        ("feedback", feedback),
        ("teach-again", teach_again),
        ("export-grades", export_grades),
        ("in-one-go", in_one_go),
        ("demo", demo),
    ):
        app.command(name)(function)


def assign(
    folder: Folder,
    module: Modules,
    due: Annotated[
        str | None,
        typer.Option(
            help='When it is due, on the class\'s clock, such as "2026-12-04 18:00".',
            show_default=False,
        ),
    ] = None,
    attempt: Annotated[
        int, typer.Option(help="2 or more: hand it out once more, with another vehicle for each student.")
    ] = 1,
    student: Annotated[
        list[str] | None,
        typer.Option(help="Only to this student; may be given more than once.", show_default=False),
    ] = None,
) -> None:
    """Hand out a module, or all of them: draw a vehicle for each student and pack the kits.

    Give it again after a student joined: what the others have stays the same.

    Examples:

    brakecourse assign autumn 08_rotor_measurement --due "2026-12-04 18:00"

    brakecourse assign autumn all

    brakecourse assign autumn 08_rotor_measurement --attempt 2 --student s03
    """
    from brakecourse import marking
    from brakecourse.classroom import assign as room
    from brakecourse.classroom.attempts import assignment_name

    cls = open_class(folder)
    when = None if due is None else parse_time(due, cls.settings.zone)
    for one in marking.MODULES if module == ALL else (module,):
        with progress_bar(f"Packing kits of {one}") as told:
            kits = room.assign(cls, one, when, told, attempt=attempt, students=student or None)
        cls = open_class(folder)
        name = assignment_name(one, attempt)
        say(
            f"In {kits[0].parent}: {count_of(len(kits), 'kit')}, one zip for each student, "
            "named by student id."
        )
        say(f"Due: {_local(cls, cls.settings.due_utc(name)) or 'no time set, so nothing counts as late'}.")
    next_step(
        f"give each student the zip with their id; when work comes in: brakecourse collect {folder} "
        f"{ALL if module == ALL else name} FOLDER-OR-ZIP"
    )


def collect(
    folder: Folder,
    module: Modules,
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

    brakecourse collect autumn all inbox
    """
    from brakecourse.classroom import collect as room

    cls = open_class(folder)
    when = None if received is None else parse_time(received, cls.settings.zone)
    with progress_bar("Taking in") as told:
        if module == ALL:
            reports = room.collect_all(cls, source, received_at=when, progress=told)
        else:
            reports = [room.collect(cls, module, source, received_at=when, progress=told)]
    for report in reports:
        _print_taken_in(cls, report, brief=len(reports) > 1)
    refused = {item.where: item.why for report in reports for item in report.refused}
    if refused:
        table("Not taken in", ["Where", "Why"], list(refused.items()))
    if reports[0].left_out:
        say(f"Passed over: {count_of(reports[0].left_out, 'file')} such as come with a kit or a computer.")
    next_step(f"brakecourse grade {folder} {module}")


def _print_taken_in(cls: ClassFolder, report: CollectReport, brief: bool) -> None:
    missing = len(report.with_state("not handed in"))
    everyone = count_of(len(report.rows), "student")
    if not brief:
        late = {None: "", True: "late", False: "in time"}
        rows = [
            (row.student_id, row.state, _local(cls, row.received_at), late[row.late], row.words)
            for row in report.rows
        ]
        table(f"Taken in for {report.module}", ["Student", "State", "Handed in", "", "Remark"], rows)
    where = f" for {report.module}" if brief else ""
    say(f"Handed in{where}: {len(report.rows) - missing} of {everyone}; missing: {missing}.")


def grade(
    folder: Folder,
    module: Modules,
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
        bool,
        typer.Option(
            "--again",
            help="Grade again what was graded already: see first what would change. Hand marks are kept.",
        ),
    ] = False,
    yes: Annotated[
        bool, typer.Option("--yes", help="With --again: agree beforehand to whatever changes.")
    ] = False,
    on: Annotated[
        str | None,
        typer.Option(
            "--on",
            metavar="tcp://HOST:PORT",
            help="Run the notebooks on other computers: the address of a Dask scheduler. Whoever reaches it "
            "can run programs there, so use a network that you trust, or tls://.",
            show_default=False,
        ),
    ] = None,
) -> None:
    """Grade what was taken in. Work that was graded and has not changed is left as it is.

    Examples:

    brakecourse grade autumn 08_rotor_measurement

    brakecourse grade autumn all

    brakecourse grade autumn 08_rotor_measurement --again

    brakecourse grade autumn all --on tcp://192.168.1.20:8786
    """
    from brakecourse.classroom.records import grade_records

    cls = open_class(folder)
    modules = handed_out(cls, module)
    chosen = None if not student else [cls.student(one).student_id for one in student]
    waiting: list[tuple[str, str, str]] = []
    with _farm(on, trust) as farm:
        if again:
            grade_again(cls, modules, chosen, trust, agreed=yes, farm=farm)
        else:
            grade_with_a_bar(folder, cls, modules, chosen, trust, farm)
        for one in modules:
            records = grade_records(cls, one)
            print_grades(f"Grades for {one}", records)
            waiting += [
                (one, record.student_id, asked) for record in records for asked in record.waiting_questions
            ]
    if waiting:
        first, who, question = waiting[0]
        answers = count_of(len(waiting), "written answer")
        say(f"Waiting for a person: {answers}, in autograded/STUDENT/{first}/.")
        next_step(f"brakecourse hand-mark {folder} {first} {who} {question} POINTS --comment 'WORDS'")
    else:
        next_step(f"brakecourse feedback {folder} {module}")


@contextmanager
def _farm(on: str | None, trust: bool) -> Iterator[Farm | None]:
    """Say where notebooks run and what shuts them in; give the farm, or None for this computer."""
    from brakecourse.classroom import engine

    if on is None:
        say(engine.protection().words)
        yield None
        return
    from brakecourse.classroom.engine.dask_farm import DaskFarm

    with DaskFarm(on, trust) as farm:
        say(farm.words)
        say(farm.protection(trust).words)
        yield farm


def demo(
    out: Annotated[Path, typer.Option(help="Where the demo class goes.")] = Path("demo_out"),
    seed: Annotated[int, typer.Option(help="Another number gives another class.")] = 1,
    keep: Annotated[
        bool, typer.Option("--keep", help="Leave an earlier demo as it is; put this one beside it.")
    ] = False,
    whole: Annotated[
        bool, typer.Option("--all", help="Do every module and not one only. It takes some minutes.")
    ] = False,
) -> None:
    """Show the whole cycle with 12 simulated students, from hand-out to exported grades.

    Examples:

    brakecourse demo --out /tmp/demo

    brakecourse demo --all
    """
    from brakecourse import marking
    from brakecourse.demo import MODULE, run_demo

    run_demo(out, seed=seed, keep=keep, modules=marking.MODULES if whole else (MODULE,))


def _local(cls: ClassFolder, when: datetime | None) -> str:
    return "" if when is None else f"{when.astimezone(cls.settings.zone):%Y-%m-%d %H:%M}"
