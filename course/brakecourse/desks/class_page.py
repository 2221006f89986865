"""The page ‘Class’: open a class, make one, take over a new class list."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from html import escape
from pathlib import Path
from zoneinfo import available_timezones

import ipywidgets as widgets

from brakecourse.classroom.class_list import ClassList, read_class_list
from brakecourse.classroom.files import reporting_disk_trouble
from brakecourse.classroom.folder import new_class
from brakecourse.classroom.oneroster import SeveralClasses
from brakecourse.classroom.roster_changes import (
    change_roster,
    in_words,
    roster_changes,
    with_school_ids,
)
from brakecourse.desks.parts import (
    choose,
    fold,
    heading,
    html,
    note,
    number_field,
    shown,
    table,
    text_field,
)
from brakecourse.desks.shell import Page
from brakecourse.desks.source import Source
from brakecourse.desks.state import CLASSES, ClassState
from brakecourse.errors import CourseError
from brakecourse.tables import table_path

_ATTEMPTS = (("the best one", "best"), ("the last one", "last"), ("the mean of all", "average"))
_NONE = "(choose one)"


class ClassPage(Page):
    """Open a class, or make one from a class list."""

    def build(self) -> Sequence[widgets.Widget]:
        state: ClassState = self.desk.state
        self.folders = choose("Class folder", [_NONE], _NONE)
        self.folder_path = text_field("or its path", placeholder="a path on this computer")
        open_part = (
            heading("Open a class"),
            self.folders,
            self.folder_path,
            self.desk.button("Open the class", self.open_class, main=True),
        )
        self.name = text_field("Class name", placeholder="Autumn evening class")
        self.term = text_field("Term", placeholder="Autumn 2026")
        self.folder_name = text_field("Folder name", placeholder="left empty: made of the class name")
        self.zone = widgets.Combobox(
            description="Time zone",
            value="UTC",
            options=sorted(available_timezones()),
            ensure_option=False,
            tooltip="Time zone",
            style={"description_width": "13em"},
            layout={"width": "560px", "max_width": "100%"},
        )
        self.attempts = choose("Attempt that counts", _ATTEMPTS, "best")
        self.per_day = number_field("Late: % off for each day", 10.0, 0.0, 100.0, 1.0)
        self.cap = number_field("Late: at most, %", 50.0, 0.0, 100.0, 5.0)
        self.source = Source(state, "Class list", (".csv", ".zip"), extra=(_invented_list(),))
        self.offers = choose("Which class of the file", [_NONE], _NONE)
        shown(self.offers, False)
        make_part = fold(
            "Make a class",
            html(
                note(
                    "A class list is a CSV file with the columns student_id, first_name, last_name and, if "
                    "you wish, email; or a OneRoster 1.1 or 1.2 zip from the school's office."
                )
            ),
            self.name,
            self.term,
            self.folder_name,
            self.source,
            self.offers,
            self.zone,
            self.attempts,
            self.per_day,
            self.cap,
            self.desk.button("Make the class", self.make_class, main=True),
        )
        self.roster = html("")
        self.new_list = Source(state, "New class list", (".csv", ".zip"))
        self.new_offers = choose("Which class of the file", [_NONE], _NONE)
        shown(self.new_offers, False)
        self.what_changes = html("")
        self.take_over = self.desk.button("Take over", self.change_list, main=True)
        shown(self.take_over, False)
        self.changing = fold(
            "A new class list for this class",
            html(
                note(
                    "Everyone keeps their id. Those who are on the list no longer keep all that they "
                    "handed in."
                )
            ),
            self.new_list,
            self.new_offers,
            self.desk.button("Show what would change", self.show_changes),
            self.what_changes,
            self.take_over,
        )
        self._waiting: ClassList | None = None
        return (*open_part, make_part, self.roster, self.changing)

    def opened(self) -> None:
        state: ClassState = self.desk.state
        here = state.class_folders()
        kept = self.folders.value
        self.folders.options = [(_NONE, _NONE), *((path.name, path) for path in here)]
        self.folders.value = kept if kept in here else here[0] if here else _NONE
        for source in (self.source, self.new_list):
            source.look_again()
        shown(self.changing, bool(state.words))
        self.roster.value = self._roster() if state.words else ""

    def open_class(self) -> None:
        """Open the class that was chosen."""
        state: ClassState = self.desk.state
        typed = self.folder_path.value.strip()
        if not typed and self.folders.value == _NONE:
            raise CourseError(
                "A class folder was expected, but none was chosen; choose one, or make a class."
            )
        cls = state.open(state.base / Path(typed).expanduser() if typed else self.folders.value)
        self._show_it(f"The class ‘{cls.settings.name}’ is open. Next: the page ‘Hand out’.")

    def make_class(self) -> None:
        """Make a class of what was filled in."""
        state: ClassState = self.desk.state
        if not self.name.value.strip():
            raise CourseError("A class name was expected, but nothing was typed; give the class a name.")
        place = state.base / CLASSES
        with reporting_disk_trouble(f"make the folder {place}"):
            place.mkdir(exist_ok=True)
        try:
            cls = new_class(
                place / _folder_name(self.folder_name.value or self.name.value),
                self.source.path,
                name=self.name.value,
                term=self.term.value,
                timezone=self.zone.value,
                attempts_count=self.attempts.value,
                late_penalty_percent_per_day=self.per_day.value,
                late_penalty_cap_percent=self.cap.value,
                wanted=None if self.offers.value == _NONE else self.offers.value,
            )
        except SeveralClasses as error:
            _offer(self.offers, error)
            raise CourseError(
                f"The file holds {len(error.offers)} classes; choose yours under "
                f"‘{self.offers.description}’, then press ‘Make the class’ again."
            ) from error
        finally:
            self.source.tidy()
        state.open(cls.root)
        shown(self.offers, False)
        self._show_it(
            f"The class ‘{cls.settings.name}’ is made, with {len(cls.roster)} students. "
            "Keep its folder private: the answers will lie in it. Next: the page ‘Hand out’."
        )

    def show_changes(self) -> None:
        """Show what the new list would change. Nothing is changed."""
        cls = self.desk.state.cls
        today = datetime.now(cls.settings.zone).date()
        self._waiting = None
        shown(self.take_over, False)
        wanted = None if self.new_offers.value == _NONE else self.new_offers.value
        try:
            found = read_class_list(self.new_list.path, today, wanted, cls.everyone, cls.oneroster)
        except SeveralClasses as error:
            _offer(self.new_offers, error)
            raise CourseError(
                f"The file holds {len(error.offers)} classes; choose yours under "
                f"‘{self.new_offers.description}’, then press the button again."
            ) from error
        finally:
            self.new_list.tidy()
        changes = roster_changes(cls.everyone, with_school_ids(cls.everyone, found.entries))
        rows = list(in_words(changes))
        self.what_changes.value = (
            table("What would change", ["Student", "Name", "What"], rows) if rows else ""
        ) + f"<p>Unchanged: {len(changes.unchanged)} students.</p>"
        if changes.anything:
            self._waiting = found
            shown(self.take_over, True)
            self.desk.say("Nothing is changed yet. Look at the table, then press ‘Take over’.")
        else:
            self.desk.say("The list would change nothing.")

    def change_list(self) -> None:
        """Put the list into the class that was shown."""
        state: ClassState = self.desk.state
        if self._waiting is None:
            raise CourseError("A list that was looked at is expected; press ‘Show what would change’ first.")
        joined = len(state.cls.roster)
        cls = change_roster(state.cls, self._waiting, datetime.now(state.cls.settings.zone).date())
        state.read_again()
        self._waiting = None
        shown(self.take_over, False)
        self.what_changes.value = ""
        more = " Hand out its modules once more, so that new students get theirs." if cls.assigned else ""
        self._show_it(f"The list is taken over: {len(cls.roster)} students now, {joined} before.{more}")

    def _show_it(self, words: str) -> None:
        self.opened()
        self.desk.refresh_heading()
        self.desk.say(words)

    def _roster(self) -> str:
        cls = self.desk.state.cls
        kept = cls.settings
        rows = [(one.student_id, one.first_name, one.last_name, one.email) for one in cls.roster]
        rules = (
            f"<p>Clock: {escape(kept.timezone)}. Lateness takes off "
            f"{kept.late_penalty_percent_per_day:g} % for each day begun, at most "
            f"{kept.late_penalty_cap_percent:g} %. Of several attempts, what counts is "
            f"{dict((value, words) for words, value in _ATTEMPTS)[kept.attempts_count]}.</p>"
        )
        return rules + table("Students of the class", ["Student", "First name", "Last name", "Email"], rows)


def _offer(field: widgets.Dropdown, error: SeveralClasses) -> None:
    field.options = [
        (_NONE, _NONE),
        *((f"{one.title} ({one.students} students)", one.sourced_id) for one in error.offers),
    ]
    shown(field, True)


def _folder_name(words: str) -> str:
    """Return a folder name made of words.

    >>> _folder_name("Autumn evening class: Larkmoor/2")
    'autumn-evening-class-larkmoor-2'
    """
    parts = "".join(sign if sign.isalnum() else " " for sign in words.lower()).split()
    return "-".join(parts)[:80] or "class"


def _invented_list() -> Path:
    return table_path("demo_class/roster.csv")
