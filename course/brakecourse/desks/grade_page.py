"""The page ‘Grade’: run and mark what was taken in; grade again only after a look at what would change."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any

import ipywidgets as widgets

from brakecourse.classroom import engine
from brakecourse.classroom.engine import GradeReport, Preview
from brakecourse.classroom.folder import Progress
from brakecourse.classroom.records import GradeRecord
from brakecourse.desks.job import Job
from brakecourse.desks.parts import caution, choose, fold, html, note, row, shown, table, tick
from brakecourse.desks.plain import count_of, in_desk_words
from brakecourse.desks.shell import Page
from brakecourse.desks.take_in import ALL


class GradePage(Page):
    """Grade what was taken in."""

    def build(self) -> Sequence[widgets.Widget]:
        self.shut_in = html("")
        self.trust = tick("I trust these files: I know who wrote each of them")
        self.module = choose("Module", [ALL], ALL)
        self.job = Job(self.desk, "Grade", self._grade, self._graded, self._ready)
        self.table = html("")
        self.again_module = choose("Module", ["–"], "–")
        self.look = Job(self.desk, "Look what would change", self._preview, self._looked, self._ready_again)
        self.changes = html("")
        self.write = Job(self.desk, "Write these changes", self._accept, self._accepted)
        self.leave = self.desk.button("Leave all as it is", self.leave_it)
        self.agree = row(self.write, self.leave)
        shown(self.agree, False)
        self._looked_at: Preview | None = None
        return (
            self.shut_in,
            self.trust,
            self.module,
            self.job,
            self.table,
            fold(
                "Grade again what was graded before",
                html(
                    note(
                        "Everything is worked out once more, and you see each mark before and after. Nothing "
                        "is written before you agree. Marks given by hand stay."
                    )
                ),
                self.again_module,
                self.look,
                self.changes,
                self.agree,
            ),
        )

    def opened(self) -> None:
        state = self.desk.state
        if state.farm is None:
            found = engine.protection()
            self.shut_in.value = caution(found.words) if found.missing else note(found.words)
            shown(self.trust, bool(found.missing))
        else:
            self.shut_in.value = note(state.farm.words)
            shown(self.trust, False)
        assigned = list(state.cls.assigned)
        if list(self.module.options) != [ALL, *assigned]:
            self.module.options = [ALL, *assigned]
            self.again_module.options = assigned or ["–"]

    def leave_it(self) -> None:
        """Put away what was looked at."""
        self._looked_at = None
        self.changes.value = ""
        shown(self.agree, False)
        self.desk.say("Nothing was changed.")

    def _ready(self) -> None:
        cls = self.desk.state.cls
        self._modules = cls.assigned if self.module.value == ALL else (self.module.value,)

    def _grade(self, told: Progress) -> Sequence[GradeReport]:
        state = self.desk.state
        try:
            return engine.grade_modules(
                state.cls, self._modules, trust_files=self.trust.value, progress=told, farm=state.farm
            )
        finally:  # also what was graded before Stop is new
            state.forget(*self._modules)

    def _graded(self, reports: Any) -> None:
        state = self.desk.state
        records = [one.record for report in reports for one in state.results(report.module)]
        self.table.value = grade_table(records, several=len(reports) > 1)
        fresh = sum(report.fresh for report in reports)
        held = sum(len(report.held) for report in reports)
        waiting = sum(len(record.waiting_questions) for record in records)
        self.desk.say(
            f"Graded now: {count_of(fresh, 'notebook')}.",
            f"Of {held}, the answer key changed: look under ‘Grade again’." if held else "",
            f"Waiting for you: {count_of(waiting, 'answer')}; see the page ‘Who is where’."
            if waiting
            else "",
            "Next: the page ‘Give back’." if not waiting else "",
        )

    def _ready_again(self) -> None:
        self._looked_at = None
        self.changes.value = ""
        shown(self.agree, False)

    def _preview(self, told: Progress) -> Preview:
        state = self.desk.state
        return engine.preview(
            state.cls,
            self.again_module.value,
            trust_files=self.trust.value,
            progress=told,
            farm=state.farm,
        )

    def _looked(self, found: Any) -> None:
        self._looked_at = found
        self.changes.value = changes_table(found)
        agreeable = bool(found.changes or found.first)
        shown(self.agree, agreeable)
        if agreeable:
            self.desk.say("Nothing is written yet. Look at the table, then decide.")
        else:
            self.desk.say("Grading again would change nothing.")

    def _accept(self, told: Progress) -> GradeReport | None:
        if self._looked_at is None:
            return None
        try:
            return engine.accept(self.desk.state.cls, self._looked_at, told)
        finally:
            self.desk.state.forget(self._looked_at.module)

    def _accepted(self, report: Any) -> None:
        self.leave_it()
        if report is None:
            return
        left = [one.student_id for one in report.rows if one.why == engine.CHANGED_SINCE]
        self.desk.say(
            f"The changes of {report.module} are written.",
            f"Left as they are, because they changed meanwhile: {', '.join(left)}." if left else "",
        )


def grade_table(records: Sequence[GradeRecord], several: bool) -> str:
    """Return the grades as a table: a row for each student and module."""
    rows = []
    for one in records:
        remark = in_desk_words("; ".join(filter(None, [one.why, *one.healed])))
        lost = f"{one.days_late} days, {one.late_penalty:g} points" if one.late_penalty else ""
        cells = (
            f"{one.student_id} {one.first_name} {one.last_name}",
            one.status,
            number(one.raw_score),
            number(one.max_score),
            lost,
            number(one.final_score),
            remark,
        )
        rows.append((cells[0], one.module, *cells[1:]) if several else cells)
    headings = ["Student", "Status", ">Points", ">Out of", "Taken off for lateness", ">Counts", "Remark"]
    if several:
        headings.insert(1, "Module")
    name = "Grades" if several or not records else f"Grades of {records[0].module}"
    return table(name, headings, rows)


def changes_table(found: Preview) -> str:
    """Return what grading again would change, before and after."""
    rows = [
        (
            one.student_id,
            one.question_id or "the whole work",
            number(one.old) or "waits",
            number(one.new) or "waits",
            number(one.out_of),
            "a person" if one.by_hand else "the machine",
            one.why,
        )
        for one in (*found.changes, *found.stays)
    ]
    headings = ["Student", "Question", ">Before", ">After", ">Out of", "Given by", "Why"]
    first = f"<p>Graded for the first time: {escape(', '.join(found.first))}.</p>" if found.first else ""
    if not rows:
        return first
    return table(f"{found.module}: before and after", headings, rows) + first


def number(value: float | None) -> str:
    """Return points in words; nothing where there are none.

    >>> number(2.50), number(None)
    ('2.5', '')
    """
    return "" if value is None else f"{value:g}"
