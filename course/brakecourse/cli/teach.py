"""`brakecourse teach-again`: what went wrong most, in words, and where the lessons treat it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from brakecourse.classroom.folder import open_class
from brakecourse.cli.classes import Folder, Modules, handed_out
from brakecourse.cli.screen import count_of, next_step, say, table

if TYPE_CHECKING:
    from brakecourse.exports.again import ModuleAgain

FEW = 5
"""No more questions and mistakes than this are told a module."""


def teach_again(folder: Folder, module: Modules) -> None:
    """Show what to teach again: the hardest questions, the named mistakes, and the lesson parts for them.

    Examples:

    brakecourse teach-again autumn 08_rotor_measurement

    brakecourse teach-again autumn all
    """
    from brakecourse.exports.again import module_again

    cls = open_class(folder)
    for one in handed_out(cls, module):
        print_again(module_again(cls, one))
    next_step(f"the whole tables, competencies too: brakecourse export-grades {folder}")


def print_again(found: ModuleAgain) -> None:
    """Print what to teach again in one module."""
    if not found.graded:
        say(f"{found.module}: nothing was graded yet.")
        return
    say(f"{found.module}: work graded of {count_of(found.graded, 'student')}.")
    hardest = [
        (one.question, one.short, f"{one.percent:.0f} %", one.lesson)
        for one in found.questions[:FEW]
        if one.percent < 100
    ]
    if hardest:
        table("Fewest marks", ["Question", "What was asked", ">Marks", "Lesson"], hardest)
    for sentence in found.sentences[:FEW]:
        say(f"  {sentence}")
    say("")
