"""The page ‘Shop floor’: what is seen of the students' work on a real vehicle, with large buttons."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from html import escape

import ipywidgets as widgets

from brakecourse.classroom.observation_list import ListRead, read_list
from brakecourse.classroom.observations import (
    STOPPED,
    Observation,
    add_observations,
    observations,
    put_into_gradebook,
    standing,
    tasks_of,
)
from brakecourse.classroom.observer_sheet import ObservedTask, write_observer_sheet
from brakecourse.desks.parts import caution, choose, fold, heading, html, note, row, shown, table, text_field
from brakecourse.desks.plain import count_of
from brakecourse.desks.save_file import File, SaveFile
from brakecourse.desks.shell import Page
from brakecourse.desks.source import Source
from brakecourse.errors import CourseError

_NONE = "–"


class TaskCard(widgets.VBox):
    """One task: a large button for each point of its scheme, pressed when the point was seen."""

    def __init__(self, task: ObservedTask) -> None:
        self.task = task
        self.points = {
            number: widgets.ToggleButton(tooltip=words)
            for number, (_, words) in enumerate(task.points, start=1)
        }
        self.stopped = widgets.ToggleButton(tooltip=task.stop)
        scheme = "".join(f"<li><b>{escape(name)}</b>: {escape(words)}</li>" for name, words in task.points)
        parts: list[widgets.Widget] = [
            html(f"<h3>{escape(task.id)} {escape(task.title)}, {task.marks:g} marks</h3><ol>{scheme}</ol>"),
            row(*self.points.values()),
        ]
        if task.stop:
            parts += [html(caution(task.stop)), self.stopped]
        self.total = html("")
        for button in (*self.points.values(), self.stopped):
            button.observe(lambda _: self._named(), "value")
        super().__init__([*parts, self.total])
        self.add_class("bc-shop")
        self.set({})

    def set(self, seen: dict[int, bool]) -> None:
        """Show what is known."""
        for number, button in self.points.items():
            button.value = seen.get(number, False)
        self.stopped.value = seen.get(STOPPED, False)
        self._named()

    @property
    def marks(self) -> float:
        """The marks by the scheme for what is pressed."""
        if self.stopped.value:
            return 0.0
        seen = sum(button.value for button in self.points.values())
        return round(self.task.marks * seen / len(self.points), 2)

    @property
    def seen(self) -> dict[int, bool]:
        """What is pressed, by the points' numbers."""
        points = {number: bool(button.value) for number, button in self.points.items()}
        return points | ({STOPPED: bool(self.stopped.value)} if self.task.stop else {})

    def _named(self) -> None:
        for number, button in self.points.items():
            name = self.task.points[number - 1][0]
            button.description = f"{number}. {name}: {'seen' if button.value else 'not yet'}"
        self.stopped.description = "Work was stopped: yes" if self.stopped.value else "Work was stopped: no"
        self.total.value = f"<p>Marks by the scheme: {self.marks:g} of {self.task.marks:g}</p>"


class ShopFloorPage(Page):
    """Record what was seen of the tasks on a real vehicle."""

    def build(self) -> Sequence[widgets.Widget]:
        self.module = choose("Module", [_NONE], _NONE)
        self.student = choose("Student", [_NONE], _NONE)
        self.day = widgets.DatePicker(description="Date", tooltip="Date", style={"description_width": "13em"})
        self.observer = text_field("Observer's initials", placeholder="AQ")
        self.cards: dict[str, TaskCard] = {}
        self.area = widgets.VBox()
        self.table = html("")
        self.sheet = SaveFile(self.desk, "A sheet to print and tick", self.observer_page, opens=True)
        self.source = Source(self.desk.state, "List of observations", (".csv",))
        self.preview = html("")
        self.take = self.desk.button("Record these observations", self.record_list, main=True)
        shown(self.take, False)
        self._list: ListRead | None = None
        who = widgets.VBox([self.module, self.student, self.day, self.observer])
        who.add_class("bc-shop")
        buttons = row(
            self.desk.button("Save what was seen", self.save, main=True),
            self.desk.button("Next student", self.next_student),
        )
        buttons.add_class("bc-shop")
        self.module.observe(lambda _: self._try(self.show_module), "value")
        self.student.observe(lambda _: self._try(self.show_student), "value")
        return (
            html(
                caution(
                    "The vehicle's own service information and local law come first. Work on a road "
                    "vehicle's brakes belongs under a licensed or qualified person's supervision."
                )
            ),
            who,
            self.area,
            buttons,
            heading("Everybody"),
            self.table,
            row(self.desk.button("Put waiting marks into the gradebook", self.put_all), self.sheet),
            fold(
                "Take in a list of observations (CSV)",
                html(
                    note(
                        "Columns: student, task (13.17), seen (seen or not yet), date (2026-12-04), "
                        "observer; and, if you wish, point: the number of one point of the task."
                    )
                ),
                self.source,
                self.desk.button("Look at the list", self.look_at_list),
                self.preview,
                self.take,
            ),
        )

    def opened(self) -> None:
        cls = self.desk.state.cls
        if self.day.value is None:
            self.day.value = datetime.now(cls.settings.zone).date()
        modules = [module for module in cls.assigned if tasks_of(cls, module)]
        if list(self.module.options) != (modules or [_NONE]):
            self.module.options = modules or [_NONE]
            self.module.value = self.module.options[0]
        if not modules:
            self.desk.say("No module with tasks on a real vehicle was handed out yet, such as 13_whole_job.")
        self.source.look_again()
        self.show_module()

    def show_module(self) -> None:
        """Show the chosen module's tasks and students."""
        cls, module = self.desk.state.cls, self.module.value
        if module in (_NONE, None):
            self.area.children, self.table.value = (), ""
            return
        tasks = tasks_of(cls, module)
        if tuple(self.cards) != tuple(task.id for task in tasks):
            self.cards = {task.id: TaskCard(task) for task in tasks}
            self.area.children = tuple(self.cards.values())
        taking = set(cls.taking(module))
        names = [
            (f"{one.student_id} {one.first_name} {one.last_name}", one.student_id)
            for one in cls.roster
            if one.student_id in taking
        ]
        if list(self.student.options) != names:
            self.student.options = names
        self.show_student()
        self._show_everybody()

    def show_student(self) -> None:
        """Show what is known of the chosen student."""
        if self.module.value == _NONE or self.student.value is None or not self.cards:
            return
        found = observations(self.desk.state.cls, self.module.value, self.student.value)
        for card in self.cards.values():
            card.set(dict(standing(card.task, found).seen))

    def save(self) -> None:
        """Keep what is pressed, and put the marks into the gradebook where they can go there."""
        cls, module, student = self.desk.state.cls, self.module.value, self.student.value
        if self.day.value is None:
            raise CourseError("The day was expected, but none is chosen; choose the day you watched.")
        known = {
            (one.task, one.point): one.seen for one in observations(cls, module, student)
        }  # what was there before is not written once more
        new = [
            Observation(student, task, point, seen, self.day.value, self.observer.value)
            for task, card in self.cards.items()
            for point, seen in card.seen.items()
            if seen != known.get((task, point), False)
        ]
        if not new:
            self.desk.say("Nothing new was pressed, so there is nothing to save.")
            return
        add_observations(cls, module, new)
        self._put_in(module, [student], f"{student}: saved.")

    def next_student(self) -> None:
        """Choose the next student of the list."""
        at = self.student.index
        many = len(self.student.options)
        if many:
            self.student.index = 0 if at is None else (at + 1) % many

    def put_all(self) -> None:
        """Put the marks that wait into the gradebook."""
        if self.module.value == _NONE:
            raise CourseError(
                "A module with tasks was expected, but none was handed out; hand one out first."
            )
        self._put_in(self.module.value, self.desk.state.cls.taking(self.module.value), "")

    def observer_page(self) -> File:
        """Return the sheet to print."""
        path = write_observer_sheet(self.desk.state.cls, self.module.value)
        return File(path.name, path.read_bytes(), "text/html")

    def look_at_list(self) -> None:
        """Show what a list holds. Nothing is recorded."""
        cls = self.desk.state.cls
        self._list = None
        shown(self.take, False)
        try:
            content = self.source.path.read_bytes()
        finally:
            self.source.tidy()
        found = read_list(cls, tasks_of(cls, self.module.value), content)
        rows = [
            (one.student_id, one.task, one.point, "seen" if one.seen else "not yet", one.on, one.observer)
            for one in found.found
        ]
        headings = ["Student", "Task", ">Point", "Seen", "Date", "Observer"]
        said = table("What would be recorded", headings, rows) if rows else ""
        if found.refused:
            said += table("Lines that can't be used", [">Line", "Why"], found.refused)
        self.preview.value = said
        if rows:
            self._list = found
            shown(self.take, True)
        self.desk.say(
            f"To record: {count_of(len(rows), 'point')}; "
            f"not to be used: {count_of(len(found.refused), 'line')}."
        )

    def record_list(self) -> None:
        """Record the list that was looked at."""
        if self._list is None:
            raise CourseError("A list that was looked at is expected; press ‘Look at the list’ first.")
        found, module = self._list.found, self.module.value
        add_observations(self.desk.state.cls, module, found)
        self._list, self.preview.value = None, ""
        shown(self.take, False)
        students = dict.fromkeys(one.student_id for one in found)
        self._put_in(module, list(students), f"Recorded: {count_of(len(found), 'point')}.")

    def _put_in(self, module: str, students: Sequence[str], words: str) -> None:
        put = put_into_gradebook(self.desk.state.cls, module, students)
        self.desk.state.forget(module)
        self.show_student()
        self._show_everybody()
        waiting = (
            f"Kept, but not yet in the gradebook, because their exercise was not graded: "
            f"{', '.join(put.waiting)}."
            if put.waiting
            else ""
        )
        self.desk.say(words, f"Marks in the gradebook: {put.marks}." if put.marks else "", waiting)

    def _show_everybody(self) -> None:
        cls, module = self.desk.state.cls, self.module.value
        tasks = tasks_of(cls, module)
        rows = []
        for student in cls.taking(module):
            found = observations(cls, module, student)
            entry = cls.student(student)
            cells = []
            for task in tasks:
                one = standing(task, found)
                seen = sum(value for point, value in one.seen.items() if point != STOPPED)
                cells.append(
                    "not yet"
                    if one.points is None
                    else f"stopped, 0 of {task.marks:g}"
                    if one.seen.get(STOPPED)
                    else f"{seen} of {len(task.points)} seen, {one.points:g} of {task.marks:g} marks"
                )
            last = f"{found[-1].on.isoformat()}, {found[-1].observer}" if found else ""
            rows.append((f"{student} {entry.first_name} {entry.last_name}", *cells, last))
        headings = ["Student", *(f"{task.id} {task.title}" for task in tasks), "Last seen by"]
        self.table.value = table("What was seen", headings, rows)

    def _try(self, action: object) -> None:
        with self.desk.trying():
            action()  # type: ignore[operator]
