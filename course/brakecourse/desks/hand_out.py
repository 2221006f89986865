"""The page ‘Hand out’: choose modules, a due time, and who gets them; save the kits."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

import ipywidgets as widgets

from brakecourse import marking
from brakecourse.classroom.assign import assign
from brakecourse.classroom.attempts import MOST_ATTEMPTS, assignment_name
from brakecourse.classroom.folder import Progress, parse_time
from brakecourse.classroom.kit import due_words
from brakecourse.classroom.zips import steady_zip
from brakecourse.desks.job import Job
from brakecourse.desks.parts import choose, fold, heading, html, note, row, table, text_field, tick
from brakecourse.desks.plain import count_of
from brakecourse.desks.save_file import File, SaveFile
from brakecourse.desks.shell import Page
from brakecourse.errors import CourseError
from brakecourse.marking import catalogue


class HandOutPage(Page):
    """Draw a vehicle for each student and pack the kits."""

    def build(self) -> Sequence[widgets.Widget]:
        self.ticks = {one: tick(f"{one[:2]} {catalogue.title(one)}") for one in marking.MODULES}
        boxes = widgets.GridBox(
            list(self.ticks.values()),
            layout={"grid_template_columns": "repeat(auto-fill, minmax(300px, 1fr))", "width": "100%"},
        )
        self.day = widgets.DatePicker(
            description="Due on", tooltip="Due on", style={"description_width": "13em"}
        )
        self.time = text_field("at, on the class's clock", "18:00")
        self.attempt = widgets.BoundedIntText(
            description="Attempt",
            value=1,
            min=1,
            max=MOST_ATTEMPTS,
            tooltip="Attempt",
            style={"description_width": "13em"},
        )
        self.only = widgets.SelectMultiple(
            description="Only to", rows=6, tooltip="Only to", style={"description_width": "13em"}
        )
        self.job = Job(self.desk, "Hand out", self._work, self._done, self._ready)
        self.states = html("")
        self.saved = choose("Kits of", ["–"], "–")
        self.save = SaveFile(self.desk, "Save all its kits as one zip", self.kits_zip)
        return (
            heading("Which modules"),
            row(
                self.desk.button("Tick all", lambda: self.tick_all(True)),
                self.desk.button("Tick none", lambda: self.tick_all(False)),
            ),
            boxes,
            heading("When it is due"),
            html("<p>Left empty, nothing counts as late, or what was set before stays.</p>"),
            self.day,
            self.time,
            fold(
                "A second attempt, or only some students",
                html(
                    note(
                        "A second attempt gives another vehicle. Mark the students who get it; mark nobody, "
                        "and everybody gets it. Hold Ctrl for more than one."
                    )
                ),
                self.attempt,
                self.only,
            ),
            self.job,
            self.states,
            heading("Give the kits to your students"),
            html(
                "<p>Each student gets the zip with their own id. It holds a page that says how to begin.</p>"
            ),
            row(self.saved, self.save),
        )

    def opened(self) -> None:
        cls = self.desk.state.cls
        names = [(f"{one.student_id} {one.first_name} {one.last_name}", one.student_id) for one in cls.roster]
        if list(self.only.options) != names:
            self.only.options = names
        rows = []
        for module in cls.assigned:
            due = cls.settings.due_utc(module)
            words = (
                due_words(due.astimezone(cls.settings.zone), cls.settings.timezone) if due else "no time set"
            )
            folder = cls.root / "kits" / module
            rows.append((module, words, len(list(folder.glob("*.zip"))), folder.relative_to(cls.root)))
        self.states.value = (
            table(
                "Handed out so far", ["Module", "Due", ">Kits", "Folder in the class folder"], rows, tall=True
            )
            if rows
            else "<p>Nothing was handed out yet.</p>"
        )
        self.saved.options = [row[0] for row in rows] or ["–"]
        self.save.able = bool(rows)

    def tick_all(self, value: bool) -> None:
        """Tick every module, or none."""
        for box in self.ticks.values():
            box.value = value

    def kits_zip(self) -> File:
        """Return all kits of the chosen module in one zip."""
        module, root = self.saved.value, self.desk.state.cls.root
        kits = sorted((root / "kits" / module).glob("*.zip"))
        if not kits:
            raise CourseError(f"Kits of {module} were expected, but there are none; hand it out first.")
        content = steady_zip({f"{module}-{path.name}": path.read_bytes() for path in kits}, press=False)
        return File(f"{module}-kits.zip", content, "application/zip")

    def _ready(self) -> None:
        cls = self.desk.state.cls
        self._modules = [module for module, box in self.ticks.items() if box.value]
        if not self._modules:
            raise CourseError("At least one module was expected, but none is ticked; tick one.")
        self._due: datetime | None = None
        if self.day.value is not None:
            self._due = parse_time(f"{self.day.value} {self.time.value.strip()}", cls.settings.zone)

    def _work(self, told: Progress) -> int:
        count = 0
        for number, module in enumerate(self._modules):

            def told_of_all(
                done: int, total: int, item: str, number: int = number, module: str = module
            ) -> None:
                told(number * total + done, total * len(self._modules), f"{module}: kit of {item}")

            cls = self.desk.state.read_again()
            kits = assign(
                cls,
                module,
                self._due,
                told_of_all,
                attempt=self.attempt.value,
                students=list(self.only.value) or None,
            )
            count += len(kits)
        return count

    def _done(self, count: Any) -> None:
        self.desk.state.read_again()
        self.opened()
        self.saved.value = assignment_name(self._modules[-1], self.attempt.value)
        self.desk.say(f"Packed: {count_of(count, 'kit')}. Save them below, and give each student their own.")
