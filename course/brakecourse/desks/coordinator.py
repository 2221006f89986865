"""The coordinator's desk: its pages, in the order of use."""

from __future__ import annotations

from pathlib import Path

from brakecourse.desks.coordinator_state import CoordinatorState
from brakecourse.desks.shell import Desk, Entry

PAGES: tuple[Entry, ...] = (
    Entry(
        "Classes",
        "Tick the classes that you want to look at, of one term or of several, then press the button.",
        "brakecourse.desks.coordinator_classes:ClassesPage",
        needs_class=False,
    ),
    Entry(
        "Grades",
        "What counts of everyone's work, by each class's own rule. A missing paper is no score of 0, and a "
        "late penalty stands in a column of its own.",
        "brakecourse.desks.coordinator_grades:GradesPage",
    ),
    Entry(
        "Competencies",
        "What the class as a whole can do and what each student can, each with the reason.",
        "brakecourse.desks.coordinator_competencies:CompetenciesPage",
    ),
    Entry(
        "Exports",
        "Choose what to write and look at it first. What you have looked at is written, byte for byte.",
        "brakecourse.desks.export_page:ExportPage",
    ),
    Entry(
        "Badges",
        "A badge is a signed file that a student carries away: it says that a module or the course was "
        "completed. It is no licence and no certification.",
        "brakecourse.desks.badge_page:BadgePage",
    ),
    Entry(
        "Rules of grades",
        "How a final score comes about in each chosen class, and where each rule is written down.",
        "brakecourse.desks.rules_page:RulesPage",
    ),
    Entry(
        "Privacy",
        "What is stored of people, how to take one out, and how to talk about a class without its people.",
        "brakecourse.desks.privacy_page:PrivacyPage",
    ),
)


def build(base: Path) -> Desk:
    """Return the coordinator's desk.

    Args:
        base: the folder of the notebook; class folders lie in its folder ``classes``.
    """
    words = (
        "Run this cell (Shift and Enter): the grades and competencies of your classes then open here, and "
        "what leaves them."
    )
    return Desk("The coordinator's desk", CoordinatorState(base), PAGES, words)
