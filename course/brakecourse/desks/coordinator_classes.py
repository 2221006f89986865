"""The page ‘Classes’: which classes there are, and how far each is."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import ipywidgets as widgets

from brakecourse.classroom.folder import open_class
from brakecourse.desks.coordinator_state import CoordinatorState, label
from brakecourse.desks.job import Job
from brakecourse.desks.parts import html, note, row, shown, table, text_field, tick
from brakecourse.desks.shell import Page
from brakecourse.errors import CourseError

if TYPE_CHECKING:
    from brakecourse.exports.facts import Facts

_UNREAD = "not looked at yet"


class ClassesPage(Page):
    """Choose one class or more."""

    def build(self) -> Sequence[widgets.Widget]:
        self._added: list[Path] = []
        self.ticks: dict[Path, widgets.Checkbox] = {}
        self._boxes = widgets.VBox()
        self.trouble = html()
        self.typed = text_field("Another class folder", placeholder="a path on this computer")
        self.job = Job(self.desk, "Look at the ticked classes", self._read, self._done, self._ready)
        self.table = html()
        return (
            self._boxes,
            self.trouble,
            row(self.typed, self.desk.button("Add it to the list", self.add)),
            self.job,
            self.table,
        )

    def opened(self) -> None:
        state: CoordinatorState = self.desk.state
        names, wrong = {}, []
        for folder in dict.fromkeys((*state.class_folders(), *self._added)):
            try:
                cls = open_class(folder)
            except CourseError as error:
                wrong.append(note(f"{folder.name} is left out. {error}"))
            else:
                names[folder] = f"{label(cls)}: folder {folder.name}, {len(cls.roster)} students"
        if list(names) != list(self.ticks):
            kept = {folder: box.value for folder, box in self.ticks.items()}
            self.ticks = {one: tick(words, kept.get(one, True)) for one, words in names.items()}
            self._boxes.children = tuple(self.ticks.values())
        if not names and not wrong:
            wrong = [
                note(
                    "No class folder was found in the folder ‘classes’ beside this notebook. Type the path "
                    "of "
                    "one below. The instructor's desk makes classes."
                )
            ]
        self.trouble.value = "".join(wrong)
        shown(self.job, bool(names))
        self.show_table()

    def add(self) -> None:
        """Put the typed folder on the list."""
        typed = self.typed.value.strip()
        if not typed:
            raise CourseError("The path of a class folder was expected, but nothing was typed; type one.")
        folder = (self.desk.state.base / os.path.expanduser(typed)).absolute()
        open_class(folder)
        self._added.append(folder)
        self.opened()
        self.desk.say("It is on the list. Now press ‘Look at the ticked classes’.")

    def _ready(self) -> None:
        wanted = [folder for folder, box in self.ticks.items() if box.value]
        if not wanted:
            raise CourseError("At least one class was expected, but none is ticked; tick one.")
        self.desk.state.choose(wanted)
        self.desk.refresh_heading()

    def _read(self, progress: object) -> None:
        self.desk.state.read(progress)

    def _done(self, _: object) -> None:
        self.show_table()
        self.desk.say("The results are read. The other pages show these classes.")

    def show_table(self) -> None:
        """Show the chosen classes."""
        rows = list(_rows(self.desk.state))
        headings = ["Class", "Term", ">Students", ">Modules handed out", "Graded", "Folder"]
        self.table.value = table("The chosen classes", headings, rows) if rows else ""


def _rows(state: CoordinatorState) -> Iterator[tuple[object, ...]]:
    for facts in state.chosen:
        cls = facts.cls
        graded = graded_words(facts) if state.is_read(cls.root) else _UNREAD
        modules = len({one.split("-attempt-")[0] for one in cls.assigned})
        yield (
            cls.settings.name,
            cls.settings.term or "not told",
            len(cls.roster),
            modules,
            graded,
            cls.root,
        )


def graded_words(facts: Facts) -> str:
    """Say how much of what is expected is graded. Who is excused is expected nothing of."""
    expected = [one for one in facts.counted if one.record.status != "excused"]
    graded = sum(one.record.status == "graded" for one in expected)
    if not expected:
        return "nothing is expected yet"
    return f"{100 * graded / len(expected):.0f} % ({graded} of {len(expected)} pieces of work)"
