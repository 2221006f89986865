"""The page ‘What to teach again’: sentences, pictures and tables, module by module, and by competency."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from html import escape
from typing import Any

import ipywidgets as widgets

from brakecourse.classroom.folder import Progress
from brakecourse.classroom.records import ModuleRecords, module_records
from brakecourse.desks.job import Job
from brakecourse.desks.parts import choose, fold, html, note, table
from brakecourse.desks.plain import count_of
from brakecourse.desks.shell import Page
from brakecourse.exports.again import ModuleAgain, again
from brakecourse.exports.mastery import everyones_mastery, rules
from brakecourse.exports.pictures import Picture, class_pictures, module_pictures
from brakecourse.exports.sheets import Table

BY_COMPETENCY = "all modules, by competency"


class TeachPage(Page):
    """What went wrong most, and where the lessons treat it."""

    def build(self) -> Sequence[widgets.Widget]:
        self.module = choose("Module", [BY_COMPETENCY], BY_COMPETENCY)
        self.job = Job(self.desk, "Show", self._work, self._done)
        self.words = html("")
        self.pictures = widgets.VBox()
        return (
            html(note("Students' ids stand in the tables, so show those to nobody else.")),
            self.module,
            self.job,
            self.words,
            self.pictures,
        )

    def opened(self) -> None:
        assigned = list(self.desk.state.cls.assigned)
        if list(self.module.options) != [*assigned, BY_COMPETENCY]:
            self.module.options = [*assigned, BY_COMPETENCY]
            self.module.value = self.module.options[0]

    def _work(self, told: Progress) -> tuple[str, list[tuple[Picture, bytes]]]:
        cls, chosen = self.desk.state.cls, self.module.value
        if chosen == BY_COMPETENCY:
            records: list[ModuleRecords] = []
            for done, module in enumerate(cls.assigned):
                told(done, len(cls.assigned), module)
                records.append(module_records(cls, module))
            wanted = class_pictures(everyones_mastery(cls, records), rules())
            words = ""
        else:
            found = again(module_records(cls, chosen), cls.settings.zone, cls.settings.due_utc(chosen))
            wanted, words = (module_pictures(found) if found.graded else ()), said(found)
        drawn = []
        for done, picture in enumerate(wanted):
            told(done, len(wanted), picture.title)
            drawn.append((picture, picture.png()))
        return words, drawn

    def _done(self, found: Any) -> None:
        self.words.value, drawn = found
        parts: list[widgets.Widget] = []
        for picture, content in drawn:
            parts += [
                html(figure(picture, content)),
                fold(f"Table: {picture.title}", html(sheet(picture.table))),
            ]
        self.pictures.children = parts
        self.desk.say("Here it is." if parts else "Nothing was graded in this module yet.")


def said(found: ModuleAgain) -> str:
    """Return what to teach again in sentences, as HTML."""
    if not found.graded:
        return ""
    lines = "".join(f"<li>{escape(one)}</li>" for one in found.sentences)
    careful = note(found.caution) if found.caution else ""
    body = f"<ol>{lines}</ol>" if lines else "<p>No mistake stands out.</p>"
    return f"<p>Marked: the work of {count_of(found.graded, 'student')}.</p>{careful}{body}"


def figure(picture: Picture, png: bytes) -> str:
    """Return a picture with its words, as HTML."""
    shown = b64encode(png).decode("ascii")
    return (
        f'<figure><img src="data:image/png;base64,{shown}" alt="{escape(picture.alt)}">'
        f"<figcaption>{escape(picture.sentence)}</figcaption></figure>"
    )


def sheet(found: Table) -> str:
    """Return a table of the exports as HTML."""
    headings = [one.heading for one in found.headings]
    return table(found.title, headings, found.rows)
