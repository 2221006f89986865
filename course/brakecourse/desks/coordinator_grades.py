"""The page ‘Grades’: what counts in the chosen classes, and how the work came in over time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

import ipywidgets as widgets

from brakecourse.classroom.counting import Counted
from brakecourse.desks.coordinator_state import CoordinatorState, label, offers
from brakecourse.desks.figures import figure, sheet
from brakecourse.desks.parts import choose, fold, heading, html, note, row, table
from brakecourse.desks.shell import Page
from brakecourse.errors import CourseError
from brakecourse.exports.cells import rounded
from brakecourse.exports.facts import Facts

ALL = "all"
MOST_ROWS = 300
"""So many rows are shown. More than that nobody reads on a page, and the browser grows slow."""
STATUSES = ("graded", "waiting for hand-grading", "could not be graded", "not handed in", "excused")


class GradesPage(Page):
    """The grade table, and completion over time."""

    def build(self) -> Sequence[widgets.Widget]:
        self.of_class = choose("Class", [ALL], ALL)
        self.term = choose("Term", [ALL], ALL)
        self.module = choose("Module", [ALL], ALL)
        self.status = choose("Status", [ALL, *STATUSES], ALL)
        for field in (self.of_class, self.term, self.module, self.status):
            field.observe(self._changed, "value")
        self.table = html()
        self.when_class = choose("Class", [("–", None)], None)
        self.when_module = choose("Module", ["–"], "–")
        self.when_class.observe(self._other_class, "value")
        self.over_time = html()
        self._seen = -1
        return (
            row(self.of_class, self.term),
            row(self.module, self.status),
            self.table,
            fold(
                "What the statuses mean",
                html(
                    note(
                        "graded: the final score counts. waiting for hand-grading: a person still has to "
                        "read an "
                        "answer. could not be graded: see ‘Why’. not handed in: nothing came; the course's "
                        "rules say what that counts. excused: the module does not count for this student."
                    )
                ),
            ),
            heading("How the work came in"),
            row(self.when_class, self.when_module, self.desk.button("Show", self.show_over_time, main=True)),
            self.over_time,
        )

    def opened(self) -> None:
        state: CoordinatorState = self.desk.state
        if self._seen != state.changes:
            self._seen = state.changes
            modules = sorted({one.record.module for facts in state.chosen for one in facts.counted})
            terms = sorted({one.cls.settings.term for one in state.chosen if one.cls.settings.term})
            offer(self.of_class, [(ALL, ALL), *offers(state)])
            offer(self.term, [(ALL, ALL), *((one, one) for one in terms)])
            offer(self.module, [(ALL, ALL), *((one, one) for one in modules)])
            offer(self.when_class, offers(state))
            self._other_class()
            self.over_time.value = ""
        self.show_table()

    def _changed(self, _: object) -> None:
        with self.desk.trying():
            self.show_table()

    def show_table(self) -> None:
        """Show the rows that were asked for."""
        found = list(self.rows())
        headings = [
            "Student", "Name", "Class", "Module", "Status", ">Final score", ">Out of", ">Late penalty",
            ">Attempts", "Why",
        ]  # fmt: skip
        shown = found[:MOST_ROWS]
        more = (
            note(
                f"These are the first {MOST_ROWS} of {len(found)} rows. Choose a class or a module for fewer."
            )
            if len(found) > len(shown)
            else ""
        )
        words = f"{len(found)} rows; final: {sum(row[4] == 'graded' for row in found)}"
        self.table.value = more + table(f"What counts ({words})", headings, shown)

    def rows(self) -> Iterator[tuple[object, ...]]:
        """Return the rows of the grade table that were asked for."""
        for facts in self.desk.state.chosen:
            if self.of_class.value not in (ALL, facts.cls.root):
                continue
            if self.term.value not in (ALL, facts.cls.settings.term):
                continue
            for one in facts.counted:
                if self._wanted(one):
                    yield _row(facts, one)

    def _wanted(self, one: Counted) -> bool:
        return self.module.value in (ALL, one.record.module) and self.status.value in (ALL, one.record.status)

    def _other_class(self, _: object = None) -> None:
        if self.when_class.value is not None:
            modules = self.desk.state.facts(self.when_class.value).cls.assigned
            offer(self.when_module, [(ALL, ALL), *((one, one) for one in modules)])

    def show_over_time(self) -> None:
        """Show how the work of a class came in: a module's picture and table, or a row for each module."""
        from brakecourse.exports import again_sheets, chart_words, charts
        from brakecourse.exports.completion import completion
        from brakecourse.exports.pictures import Picture

        facts = self.desk.state.facts(self.when_class.value)
        settings = facts.cls.settings
        found = {
            one.module: completion(one.module, one.grades, settings.zone, settings.due_utc(one.module))
            for one in facts.records
        }
        if not found:
            raise CourseError("No module of this class was handed out yet, so nothing can have come in.")
        if self.when_module.value == ALL:
            told = (f"{one.module}: {chart_words.completion(one)}" for one in found.values())
            lines = "".join(f"<li>{escape(one)}</li>" for one in told)
            self.over_time.value = sheet(again_sheets.progress(tuple(found.values()))) + f"<ul>{lines}</ul>"
            return
        one = found[self.when_module.value]
        self.over_time.value = figure(
            Picture(
                f"{one.module}-handed-in",
                f"{one.module}: handed in and graded",
                chart_words.completion(one),
                again_sheets.completion(one),
                lambda: charts.completion(one),
            )
        )


def _row(facts: Facts, one: Counted) -> tuple[object, ...]:
    record = one.record
    return (
        record.student_id,
        f"{record.first_name} {record.last_name}",
        label(facts.cls),
        record.module,
        record.status,
        rounded(record.final_score),
        rounded(record.max_score),
        rounded(record.late_penalty) if record.late_penalty else "",
        len(one.attempts),
        " ".join(filter(None, (record.why, one.why))),
    )


def offer(field: widgets.Dropdown, options: Sequence[tuple[str, object]]) -> None:
    """Offer other lines; the chosen one stays where it can, else the first one is chosen."""
    kept, lines = field.value, list(options)
    field.options = lines
    values = [value for _, value in lines]
    field.value = kept if kept in values else values[0] if values else None
