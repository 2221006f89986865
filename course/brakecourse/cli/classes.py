"""`brakecourse class`: make a class folder, look at one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from brakecourse.classroom.class_list import read_class_list
from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.classroom.kit import due_words
from brakecourse.classroom.oneroster import SeveralClasses
from brakecourse.cli.screen import a_day, a_number, next_step, say, table

app = typer.Typer(no_args_is_help=True, help="Make a class folder, or look at one.")

Folder = Annotated[Path, typer.Argument(metavar="DIR", help="The class folder.", show_default=False)]
Module = Annotated[
    str,
    typer.Argument(
        metavar="MODULE",
        help="The module's name, such as 08_rotor_measurement; a second attempt has '-attempt-2' behind it.",
        show_default=False,
    ),
]
Modules = Annotated[
    str,
    typer.Argument(
        metavar="MODULE",
        help="The module's name, such as 08_rotor_measurement, or 'all' for every module.",
        show_default=False,
    ),
]
ClassOption = Annotated[
    str | None,
    typer.Option(
        "--class",
        metavar="CLASS",
        help="Which class of a OneRoster zip that holds several: its id, code or title.",
        show_default=False,
    ),
]
ALL = "all"


def handed_out(cls: ClassFolder, module: str) -> tuple[str, ...]:
    """Return the modules that a command is for: the one that was named, or all that were handed out.

    Raises:
        CourseError: it was not handed out.
    """
    from brakecourse.classroom.collect import require_assigned

    if module == ALL and cls.assigned:
        return cls.assigned
    require_assigned(cls, module)
    return (module,)


@contextmanager
def listing_classes() -> Iterator[None]:
    """Print the classes of a package that holds several, before the sentence that asks for one."""
    try:
        yield
    except SeveralClasses as error:
        rows = [(one.sourced_id, one.title, one.code, one.students) for one in error.offers]
        table("Classes in the file", ["Class", "Title", "Code", ">Students"], rows)
        raise


@app.command("new")
def new(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="A folder that does not exist yet.", show_default=False)
    ],
    roster: Annotated[
        Path,
        typer.Option(
            help="The class list: a CSV file with the columns student_id, first_name, last_name and, "
            "if wished, email; or a OneRoster 1.1 or 1.2 zip.",
            show_default=False,
        ),
    ],
    name: Annotated[
        str, typer.Option(help="The class's name, as it stands on kits and grade tables.", show_default=False)
    ],
    term: Annotated[str, typer.Option(help="When the class runs, in words.")] = "",
    timezone: Annotated[
        str, typer.Option(help="Where the class's clock is, such as Europe/Paris or America/Chicago.")
    ] = "UTC",
    late_per_day: Annotated[
        float,
        typer.Option(
            parser=a_number,
            metavar="NUMBER",
            help="Percent of a student's points taken off for each day begun after the due time.",
        ),
    ] = 10.0,
    late_cap: Annotated[
        float,
        typer.Option(parser=a_number, metavar="NUMBER", help="The most percent that lateness takes off."),
    ] = 50.0,
    attempts: Annotated[
        str,
        typer.Option(
            metavar="best|last|average",
            help="Which of several attempts at a module counts: the best, the last, or the mean of all.",
        ),
    ] = "best",
    cell_timeout: Annotated[
        float,
        typer.Option(
            parser=a_number,
            metavar="NUMBER",
            help="Seconds that one notebook cell may run while it is graded.",
        ),
    ] = 20.0,
    gradebook: Annotated[
        str,
        typer.Option(
            metavar="gradebook.db|ADDRESS",
            help="Where the grades are kept: a file in the class folder, or, for large classes, the address "
            "of an empty PostgreSQL database, such as postgresql://teacher@localhost/evening_class. The "
            "password stays out of it; PostgreSQL's own file ~/.pgpass or variable PGPASSWORD holds it.",
        ),
    ] = "gradebook.db",
    wanted: ClassOption = None,
    school: Annotated[str, typer.Option(help="The school's name, for what goes to its office.")] = "",
    begins: Annotated[
        str | None,
        typer.Option(metavar="DAY", help="The first day, for the same: 2026-09-01.", show_default=False),
    ] = None,
    ends: Annotated[
        str | None, typer.Option(metavar="DAY", help="The last day, for the same.", show_default=False)
    ] = None,
) -> None:
    """Make a class folder from a class list.

    Examples:

    brakecourse class new autumn --roster roster.csv --name "Autumn evening class" --timezone Europe/Paris

    brakecourse class new autumn --roster school.zip --class BT-101 --name "Autumn evening class"
    """
    with listing_classes():
        cls = new_class(
            folder,
            roster,
            name=name,
            term=term,
            timezone=timezone,
            late_penalty_percent_per_day=late_per_day,
            late_penalty_cap_percent=late_cap,
            attempts_count=attempts,
            cell_timeout_s=cell_timeout,
            gradebook=gradebook,
            school=school,
            begins=a_day(begins),
            ends=a_day(ends),
            wanted=wanted,
        )
    found = read_class_list(roster, datetime.now(cls.settings.zone).date(), wanted)
    say(f"Roster: {found.words}.")
    say(f"The class '{cls.settings.name}' is in {cls.root}. Its clock is {cls.settings.timezone}.")
    say("Keep the folder private: the answers will lie in it. Its settings are in class.toml.")
    next_step(f'hand out a module: brakecourse assign {folder} MODULE --due "YEAR-MONTH-DAY HOUR:MINUTE"')


@app.command("show")
def show(folder: Folder) -> None:
    """Show a class: its settings, and how far each module is.

    Example:

    brakecourse class show autumn
    """
    cls = open_class(folder)
    kept = cls.settings
    say(f"{kept.name}{f', {kept.term}' if kept.term else ''}: {len(cls.roster)} students, in {cls.root}.")
    if cls.left:
        say(f"Left the class, work kept: {', '.join(one.student_id for one in cls.left)}.")
    say(
        f"Clock: {kept.timezone}. Lateness takes off {kept.late_penalty_percent_per_day:g} % "
        f"for each day begun, at most {kept.late_penalty_cap_percent:g} %."
    )
    if not cls.assigned:
        next_step(f"no module was handed out yet: brakecourse assign {folder} MODULE")
        return
    states = ["Graded", "Waiting for a hand mark", "Could not be graded", "Not handed in"]
    headings = ["Module", "Due", *(f">{state}" for state in states)]
    table("Modules", headings, [_module_row(cls, module) for module in cls.assigned])
    next_step(f"take in what came: brakecourse collect {folder} MODULE FOLDER-OR-ZIP")


def _module_row(cls: ClassFolder, module: str) -> list[object]:
    from brakecourse.classroom.records import grade_records

    count = Counter(record.status for record in grade_records(cls, module))
    due = cls.settings.due_utc(module)
    words = due_words(due.astimezone(cls.settings.zone), cls.settings.timezone) if due else "no time set"
    return [
        module,
        words,
        count["graded"],
        count["waiting for hand-grading"],
        count["could not be graded"],
        count["not handed in"],
    ]
