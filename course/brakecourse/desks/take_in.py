"""The page ‘Take in’: collect what students handed in."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

import ipywidgets as widgets

from brakecourse.classroom.collect import CollectReport, collect, collect_all
from brakecourse.classroom.folder import Progress, parse_time
from brakecourse.desks.job import Job
from brakecourse.desks.parts import choose, heading, html, note, table, text_field
from brakecourse.desks.plain import count_of
from brakecourse.desks.shell import Page
from brakecourse.desks.source import Source

ALL = "every module"


class TakeInPage(Page):
    """Collect what students handed in. The place it comes from is only read."""

    def build(self) -> Sequence[widgets.Widget]:
        self.module = choose("Module", [ALL], ALL)
        self.source = Source(self.desk.state, "Folder or zip", (".zip", ".ipynb"), folders=True)
        self.when = text_field(
            "Handed in at", placeholder="2026-12-04 17:30; left empty: each file's own time"
        )
        self.job = Job(self.desk, "Take in", self._work, self._done, self._ready)
        self.report = html("")
        return (
            html(
                note(
                    "Each file's name, or its folder's, must hold the student's id. Large zips (more than "
                    "8 MB): drag them into the file list at the left of JupyterLab, then choose them here."
                )
            ),
            self.module,
            self.source,
            self.when,
            self.job,
            heading("What came in"),
            self.report,
        )

    def opened(self) -> None:
        assigned = self.desk.state.cls.assigned
        if list(self.module.options) != [ALL, *assigned]:
            self.module.options = [ALL, *assigned]
        self.source.look_again()

    def _ready(self) -> None:
        cls = self.desk.state.cls
        typed = self.when.value.strip()
        self._from = self.source.path
        self._at: datetime | None = parse_time(typed, cls.settings.zone) if typed else None

    def _work(self, told: Progress) -> list[CollectReport]:
        cls = self.desk.state.cls
        try:
            if self.module.value == ALL:
                return collect_all(cls, self._from, self._at, told)
            return [collect(cls, self.module.value, self._from, self._at, told)]
        finally:
            self.source.tidy()

    def _done(self, reports: Any) -> None:
        self.desk.state.forget()
        self.report.value = "".join(self._said(report) for report in reports) + self._refused(reports)
        came = sum(len(one.with_state("handed in", "handed in again")) for one in reports)
        refused = {item.where for report in reports for item in report.refused}
        bad = ""
        if refused:
            verb = "was" if len(refused) == 1 else "were"
            bad = f" {count_of(len(refused), 'file')} {verb} not taken in; see the table."
        self.desk.say(f"New: {count_of(came, 'notebook')}.{bad} Next: the page ‘Grade’.")

    def _said(self, report: CollectReport) -> str:
        zone = self.desk.state.cls.settings.zone
        late = {None: "", True: "late", False: "in time"}
        rows = [
            (
                one.student_id,
                one.state,
                "" if one.received_at is None else f"{one.received_at.astimezone(zone):%Y-%m-%d %H:%M}",
                late[one.late],
                one.words,
            )
            for one in report.rows
        ]
        missing = len(report.with_state("not handed in"))
        words = f"{report.module}: {len(rows) - missing} of {len(rows)} handed in"
        return table(words, ["Student", "State", "Handed in at", "In time", "Remark"], rows)

    @staticmethod
    def _refused(reports: Sequence[CollectReport]) -> str:
        refused = {item.where: item.why for report in reports for item in report.refused}
        left = reports[0].left_out if reports else 0
        passed = f"<p>Passed over: {left} files such as come with a kit or a computer.</p>" if left else ""
        if not refused:
            return passed
        return table("Not taken in", ["File", "Why, and what to do"], list(refused.items())) + passed
