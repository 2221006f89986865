"""The commands that write a class's results in the forms of open standards."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from brakecourse.classroom.folder import open_class
from brakecourse.cli.classes import Folder
from brakecourse.cli.screen import count_of, next_step, say


def add_to(app: typer.Typer) -> None:
    """Add this file's commands to the program."""
    for name, function in (("export-oneroster", export_oneroster),):
        app.command(name)(function)


def export_oneroster(
    folder: Folder,
    out: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="The zip to write; left out, oneroster.zip in the class's exports folder.",
            show_default=False,
        ),
    ] = None,
) -> None:
    """Write the class list and all results as a OneRoster 1.2 bulk zip, for the school's own system.

    Bulk means that the zip is the whole truth about the class. So it always holds every student who is
    enrolled and every module that was handed out.

    Example:

    brakecourse export-oneroster autumn --out autumn.zip
    """
    from brakecourse.exports.oneroster import write_oneroster

    cls = open_class(folder)
    path = out or cls.exports / "oneroster.zip"
    written = write_oneroster(cls, path)
    say(f"Written: {path}")
    say(
        f"In it: {count_of(written.students, 'student')}, {count_of(written.modules, 'module')}, "
        f"{count_of(written.results, 'result')}."
    )
    for line in written.said:
        say(line)
    next_step("give the zip to whoever keeps the school's records; keep it private, for it names people")
