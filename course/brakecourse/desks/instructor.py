"""The instructor's desk: its pages, in the order of use."""

from __future__ import annotations

from pathlib import Path

from brakecourse.desks.shell import Desk, Entry
from brakecourse.desks.state import ClassState

PAGES: tuple[Entry, ...] = (
    Entry(
        "Class",
        "Open your class, or make one from a class list. Everything a class owns lies in one folder.",
        "brakecourse.desks.class_page:ClassPage",
        needs_class=False,
    ),
    Entry(
        "Hand out",
        "Tick modules and press the button: each student gets a kit with a vehicle of their own.",
        "brakecourse.desks.hand_out:HandOutPage",
    ),
    Entry(
        "Take in",
        "Take in what your students handed in: a folder, a zip, or files from your computer.",
        "brakecourse.desks.take_in:TakeInPage",
    ),
    Entry(
        "Grade",
        "Run each notebook and mark its answers. Work that has not changed since is left as it is.",
        "brakecourse.desks.grade_page:GradePage",
    ),
    Entry(
        "Who is where",
        "See who is stuck and what waits for you; look at one student's work, and mark it by hand.",
        "brakecourse.desks.who_is_where:WhoIsWherePage",
    ),
    Entry(
        "Shop floor",
        "Record what you see while a student works on a real vehicle. Tick only what you saw yourself.",
        "brakecourse.desks.shop_floor:ShopFloorPage",
    ),
    Entry(
        "Give back",
        "Write each student's page: every answer, what was expected, and what to read again.",
        "brakecourse.desks.give_back:GiveBackPage",
    ),
    Entry(
        "What to teach again",
        "See what went wrong most in a module, and which part of the lesson treats it.",
        "brakecourse.desks.teach_page:TeachPage",
    ),
)


def build(base: Path) -> Desk:
    """Return the desk.

    Args:
        base: the folder of the notebook; class folders lie in its folder ``classes``.
    """
    words = "Run this cell (Shift and Enter): your class then opens here, with a button for each step."
    return Desk("The instructor's desk", ClassState(base), PAGES, words)
