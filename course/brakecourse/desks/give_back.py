"""The page ‘Give back’: a feedback page for each student."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from brakecourse.classroom.feedback import give_back
from brakecourse.classroom.folder import Progress
from brakecourse.classroom.zips import steady_zip
from brakecourse.desks.job import Job
from brakecourse.desks.parts import choose, heading, html, row, table
from brakecourse.desks.plain import count_of, in_desk_words
from brakecourse.desks.save_file import File, SaveFile
from brakecourse.desks.shell import Page
from brakecourse.desks.take_in import ALL
from brakecourse.errors import CourseError

_NONE = "–"


class GiveBackPage(Page):
    """Write the feedback pages, look at one, save them all."""

    def build(self) -> Sequence[widgets.Widget]:
        self.module = choose("Module", [ALL], ALL)
        self.job = Job(self.desk, "Write the pages", self._work, self._done)
        self.table = html("")
        self.page_of = choose("Page of", [_NONE], _NONE)
        self.look = SaveFile(self.desk, "Open the page", self.one_page, opens=True)
        self.save = SaveFile(self.desk, "Save all pages as one zip", self.all_pages)
        self.module.observe(lambda _: self._try(), "value")
        return (
            self.module,
            self.job,
            heading("Who has a page"),
            self.table,
            row(self.page_of, self.look),
            self.save,
            html(
                "<p>In the zip each student's pages lie in a folder with their id. Send each their own.</p>"
            ),
        )

    def opened(self) -> None:
        assigned = list(self.desk.state.cls.assigned)
        if list(self.module.options) != [ALL, *assigned]:
            self.module.options = [ALL, *assigned]
        self.show()

    def show(self) -> None:
        """Show who has a page, and who has not got one and why."""
        state = self.desk.state
        rows, pages = [], []
        for module in self._modules():
            for result in state.results(module):
                one = result.record
                path = state.cls.feedback_page(module, one.student_id)
                there = path.is_file()
                if there:
                    pages.append((f"{one.student_id} {one.first_name} {one.last_name}, {module}", path))
                why = "" if there else f"{one.status}. {in_desk_words(one.why)}".strip()
                name = f"{one.student_id} {one.first_name} {one.last_name}"
                rows.append((name, module, "yes" if there else "no", why))
        rows.sort(key=lambda one: one[2] == "yes")  # those without one first
        self.table.value = table("Pages", ["Student", "Module", "Has a page", "Why not"], rows)
        self.page_of.options = [(_NONE, None), *pages]
        self.save.able = self.look.able = bool(pages)
        if pages:
            self.page_of.value = pages[0][1]

    def one_page(self) -> File:
        """Return the page that is chosen."""
        path: Path | None = self.page_of.value
        if path is None:
            raise CourseError("A student's page was expected, but none is chosen; choose one.")
        return File(path.name, path.read_bytes(), "text/html")

    def all_pages(self) -> File:
        """Return the pages of the chosen module, or of all, in one zip."""
        root = self.desk.state.cls.root / "feedback"
        pages = {
            path.relative_to(root).as_posix(): path.read_bytes()
            for module in self._modules()
            for path in sorted(root.glob(f"*/{module}.html"))
        }
        return File("feedback-pages.zip", steady_zip(pages), "application/zip")

    def _modules(self) -> Sequence[str]:
        assigned: Sequence[str] = self.desk.state.cls.assigned
        return assigned if self.module.value == ALL else (self.module.value,)

    def _work(self, told: Progress) -> int:
        count, nothing = 0, 0
        for module in self._modules():
            try:
                count += len(give_back(self.desk.state.cls, module, told))
            except CourseError:
                # Of several modules, one of which nothing was graded yet is no trouble.
                if self.module.value != ALL:
                    raise
                nothing += 1
        if not count and nothing:
            raise CourseError(
                "Graded work was expected, but nothing was graded yet; use the page ‘Grade’ first."
            )
        return count

    def _done(self, count: Any) -> None:
        self.show()
        self.desk.say(f"Written: {count_of(count, 'page')}.")

    def _try(self) -> None:
        with self.desk.trying():
            self.show()
