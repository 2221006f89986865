"""`brakecourse teach-again`: what went wrong most, in words, and where the lessons treat it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from brakecourse.classroom.folder import open_class
from brakecourse.cli.classes import Folder, Modules, handed_out
from brakecourse.cli.screen import count_of, next_step, progress_bar, say, table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from brakecourse.classroom.folder import ClassFolder
    from brakecourse.classroom.records import ModuleRecords
    from brakecourse.exports.again import ModuleAgain

FEW = 5
"""No more questions and findings than this are told a module; the written tables have them all."""


def teach_again(
    folder: Folder,
    module: Modules,
    pictures: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR",
            help="Also write pictures (PNG) and the whole tables (CSV) into this folder.",
            show_default=False,
        ),
    ] = None,
) -> None:
    """Show what to teach again: the hardest questions, what went wrong, and the lesson parts for it.

    Examples:

    brakecourse teach-again autumn 08_rotor_measurement

    brakecourse teach-again autumn all --pictures autumn-pictures
    """
    from brakecourse.classroom.records import module_records
    from brakecourse.exports.again import class_again

    cls = open_class(folder)
    records = [module_records(cls, one) for one in handed_out(cls, module)]
    found = class_again(cls, records)
    for one in found:
        print_again(one)
    if pictures is None:
        next_step(f"the whole tables and pictures: brakecourse teach-again {folder} {module} --pictures DIR")
        return
    count = _write(cls, found, records, pictures)
    say(f"In {pictures}: {count_of(count, 'file')}, each picture with its table.")
    next_step("open the pictures; a student's id stands in the tables, so show those to nobody else")


def print_again(found: ModuleAgain) -> None:
    """Print what to teach again in one module."""
    if not found.graded:
        say(f"{found.module}: nothing was graded yet.")
        return
    say(f"{found.module}: work graded of {count_of(found.graded, 'student')}.")
    if found.caution:
        say(f"  {found.caution}")
    hardest = [
        (
            one.question,
            one.asked.short,
            f"{one.percent:.0f} %",
            f"{one.full} of {one.marked}",
            "" if one.interval is None else f"{100 * one.interval.low:.0f}–{100 * one.interval.high:.0f} %",
            one.asked.lesson,
        )
        for one in found.hardest_first[:FEW]
        if one.percent is not None and one.percent < 100
    ]
    if hardest:
        headings = ["Question", "What was asked", ">Marks", ">All marks", ">95 % interval", "Lesson"]
        table("Fewest marks", headings, hardest)
    for sentence in found.sentences[:FEW]:
        say(f"  {sentence}")
    say("")


def _write(
    cls: ClassFolder, found: Sequence[ModuleAgain], records: Sequence[ModuleRecords], folder: Path
) -> int:
    """Write the pictures of these modules and, where it is every module, of the competencies too."""
    from brakecourse.exports.mastery import everyones_mastery, rules
    from brakecourse.exports.pictures import class_pictures, module_pictures, write_pictures

    wanted = [picture for one in found for picture in module_pictures(one)]
    if len(records) == len(cls.assigned):
        wanted += class_pictures(everyones_mastery(cls, records), rules())
    with progress_bar("Drawing") as told:
        return len(write_pictures(wanted, folder, told))
