"""`brakecourse class`: make a class folder, look at one."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Annotated

import typer

from brakecourse.classroom.folder import ClassFolder, new_class, open_class
from brakecourse.classroom.kit import due_words
from brakecourse.classroom.roster import read_roster_file
from brakecourse.cli.screen import a_number, next_step, say, table

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


@app.command("new")
def new(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="A folder that does not exist yet.", show_default=False)
    ],
    roster: Annotated[
        Path,
        typer.Option(
            help="The class list: a CSV file with the columns student_id, first_name, last_name and, "
            "if wished, email.",
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
) -> None:
    """Make a class folder from a class list.

    Example:

    brakecourse class new autumn --roster roster.csv --name "Autumn evening class" --timezone Europe/Paris
    """
    found = read_roster_file(roster)
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
    )
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
