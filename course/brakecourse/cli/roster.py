"""`brakecourse class roster`: show what a new class list would change, and change it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from brakecourse.classroom.folder import open_class
from brakecourse.cli.classes import ClassOption, Folder, listing_classes
from brakecourse.cli.screen import count_of, next_step, say, table


def add_to(app: typer.Typer) -> None:
    """Add the command to those of a class."""
    app.command("roster")(change)


def change(
    folder: Folder,
    source: Annotated[
        Path,
        typer.Argument(
            metavar="FILE",
            help="The new class list: a CSV file with every student, or a OneRoster 1.1 or 1.2 zip.",
            show_default=False,
        ),
    ],
    wanted: ClassOption = None,
    yes: Annotated[bool, typer.Option("--yes", help="Change it; left out, it is only shown.")] = False,
) -> None:
    """Show what a new class list would change; with --yes, change it.

    Everyone keeps their id. Those who are on the list no longer keep all that they handed in: they are only
    marked as having left.

    Examples:

    brakecourse class roster autumn school.zip

    brakecourse class roster autumn school.zip --yes
    """
    from brakecourse.classroom.class_list import read_class_list
    from brakecourse.classroom.roster_changes import change_roster, in_words, roster_changes, with_school_ids

    cls = open_class(folder)
    today = datetime.now(cls.settings.zone).date()
    with listing_classes():
        found = read_class_list(source, today, wanted, cls.everyone, cls.oneroster)
    say(f"Class list: {found.words}.")
    changes = roster_changes(cls.everyone, with_school_ids(cls.everyone, found.entries))
    rows = list(in_words(changes))
    if rows:
        table("What changes", ["Student", "Name", "What"], rows)
    say(f"Unchanged: {count_of(len(changes.unchanged), 'student')}.")
    if yes:
        cls = change_roster(cls, found, today)
        say(f"The roster of {cls.root} is changed; {count_of(len(cls.roster), 'student')} are in it.")
        if changes.joined and cls.assigned:
            next_step(f"give the new students their kits: brakecourse assign {folder} MODULE")
    elif changes.anything:
        next_step("nothing was changed yet; give the same command with --yes to change it")
    else:
        say("Nothing would change.")
