"""`brakecourse class forget` and `class anonymous-copy`: a class without one person, or without any."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from brakecourse.classroom.folder import open_class
from brakecourse.cli.classes import Folder
from brakecourse.cli.screen import count_of, next_step, say, table

Student = Annotated[str, typer.Argument(metavar="STUDENT", help="The student's id.", show_default=False)]


def add_to(app: typer.Typer) -> None:
    """Add the commands to those of a class."""
    app.command("forget")(forget_student)
    app.command("anonymous-copy")(copy_without_people)


def forget_student(
    folder: Folder,
    student: Student,
    yes: Annotated[bool, typer.Option("--yes", help="Do it; left out, it is only shown.")] = False,
) -> None:
    """Show all that tells of a student; with --yes, take it out of the class for good.

    Roster, cases, kits, everything handed in, marks and their history, feedback, exports, badges and lines of
    the log. Copies elsewhere (backups, what was sent out) are out of reach.

    Examples:

    brakecourse class forget autumn s03

    brakecourse class forget autumn s03 --yes
    """
    from brakecourse.classroom.forget import forget, in_words, plan_forgetting

    cls = open_class(folder)
    plan = plan_forgetting(cls, student)
    table(f"What tells of {student}", ["Where", ">How many", "What becomes of it"], list(in_words(cls, plan)))
    if not yes:
        say("Nothing was changed.")
        next_step(f"brakecourse class forget {folder} {student} --yes")
        return
    forget(cls, plan)
    say(f"{student} is forgotten in {cls.root}.")
    say("Copies elsewhere (backups, kits and pages that were sent out) are out of reach of this command.")
    next_step(f"write the tables again: brakecourse export {folder}")


def copy_without_people(
    folder: Folder,
    copy: Annotated[
        Path, typer.Argument(metavar="NEWDIR", help="A folder that does not exist yet.", show_default=False)
    ],
) -> None:
    """Make a copy of a class to talk about: the same marks and figures, but nobody to be recognised.

    New ids in an order drawn by chance, no names, no written answers, no comments, times as whole days. The
    notebooks themselves, kits, pages, exports, the secret and the signing key are left out.

    Example:

    brakecourse class anonymous-copy autumn autumn-for-discussion
    """
    from brakecourse.classroom.anonymous import anonymous_copy

    made = anonymous_copy(open_class(folder), copy)
    say(f"The copy is in {made.root}: {count_of(len(made.roster), 'student')} with new ids and no names.")
    say("The list of who is who is nowhere.")
    say("Still, in a small class the marks alone can tell; think before you share it.")
    next_step(f"brakecourse class show {copy}")
