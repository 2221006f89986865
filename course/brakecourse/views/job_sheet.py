"""The shop's job sheet: type back what was written on it, and have it checked against its own limits."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from itertools import groupby
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from brakecourse.views.activity import Activity
from brakecourse.views.controls import button, choice, row
from brakecourse.views.drawings.job_sheet import MOST_LETTERS, job_sheet_svg
from brakecourse.views.job_sheet_check import Checked, check_sheet
from brakecourse.views.job_sheet_example import EXAMPLE, EXAMPLE_KIND
from brakecourse.views.job_sheet_fields import FIELDS, METRIC, US, Units, tokens
from brakecourse.views.printing import save_page, sheet_page
from brakecourse.views.shown import table
from brakecourse.views.whole_job import LESSON

SYSTEMS: dict[str, Units] = {"mm, N·m and °C": METRIC, "in, lbf·ft and °F": US}
_MOST_PROBLEMS = 3
_WIDE = {"width": "700px", "max_width": "100%"}


class JobSheet(Activity):
    """One axle, both wheels. The limits are typed from the real vehicle's own service information.

    Args:
        name: a short name, one of its kind on the page.
        example: begin with the numbers of an invented vehicle; else with an empty sheet.
        folder: where a page to print is saved; by default beside the notebook.
    """

    title = "The job sheet"
    task = (
        "Type the limits from the vehicle's own service information, and the readings from your sheet. "
        "Put a space between readings. Then press Check the sheet."
    )
    lesson = LESSON

    def __init__(
        self, name: str = "job-sheet", *, example: bool = False, folder: Path | None = None, **more: Any
    ) -> None:
        self.checked: Checked | None = None
        self._folder = folder or Path()
        self._starts_filled = example
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.system = choice("A number without a unit is in", tuple(SYSTEMS), next(iter(SYSTEMS)))
        self.system.observe(self.changed, "value")
        start = EXAMPLE if self._starts_filled else {}
        self.boxes = {
            field.id: widgets.Text(
                value=start.get(field.id, ""),
                description=field.label,
                tooltip=field.label,
                continuous_update=False,
                style={"description_width": "22em"},
                layout=_WIDE,
            )
            for field in FIELDS
        }
        for box in self.boxes.values():
            box.observe(self.changed, "value")
        parts = []
        for section, group in groupby(FIELDS, key=lambda field: field.section):
            parts.append(widgets.HTML(f'<p class="bc-task"><b>{escape(section)}</b></p>'))
            parts += [self.boxes[field.id] for field in group]
        form = widgets.VBox(parts)
        return self.system, form

    def answers(self) -> Sequence[widgets.Widget]:
        return (
            row(
                button("Check the sheet", self.check),
                button("Fill in the example", self.fill_example),
                button("Empty the sheet", self.clear),
                button("Save to print", self.save),
            ),
        )

    def picture(self) -> str:
        written = {
            field.id: tokens(text) if field.kind == "lengths" else [text]
            for field, text in ((field, self.texts[field.id][:MOST_LETTERS]) for field in FIELDS)
            if text.strip()
        }
        found = self.checked.findings if self.checked else ()
        return job_sheet_svg(
            written,
            [f"{one.place}: {one.short}." for one in found],
            units=self.system.value if written else "",
            uid=self.uid,
        )

    def words(self) -> str:
        if not any(text.strip() for text in self.texts.values()):
            return "An empty job sheet for one axle, to print and to write on."
        if self.texts["vehicle"] == EXAMPLE["vehicle"]:
            return f"The sheet as it was typed. {EXAMPLE_KIND}"
        return "The sheet as it was typed."

    def facts(self) -> Sequence[Sequence[str]]:
        if not self.checked or not self.checked.findings:
            return ()
        rows = [(one.place, one.short.partition(" (")[0], one.words) for one in self.checked.findings]
        return [("What", "The readings say", "Because"), *rows]

    def opening(self) -> str:
        return "The course carries no limit of any real vehicle. It checks against what you type."

    @property
    def texts(self) -> dict[str, str]:
        """What stands in each box."""
        return {id: box.value for id, box in self.boxes.items()}

    @property
    def units(self) -> Units:
        """What a number without a unit is taken for."""
        return SYSTEMS[self.system.value]

    def check(self) -> None:
        """Hold every reading against its limit, and say what is still missing."""
        self.checked = found = check_sheet(self.texts, self.units)
        complete = not found.problems and not found.missing
        told = self.count(tuple(self.texts.items()), right=complete) if found.findings else ""
        self.refresh()
        if found.problems:
            more = len(found.problems) - _MOST_PROBLEMS
            also = f"And {more} more like this." if more > 0 else ""
            self.say(*found.problems[:_MOST_PROBLEMS], also, told)
        elif found.missing:
            self.say(_missing(found), told)
        else:
            self.say(
                "The sheet is complete. What the readings say stands on it, and the reasons in the table. "
                "The decision, and the signature, are yours.",
                told,
            )

    def fill_example(self) -> None:
        """Fill in the numbers of an invented vehicle."""
        self.system.value = next(iter(SYSTEMS))
        self._fill(EXAMPLE)
        self.say(f"{EXAMPLE_KIND} Press Check the sheet.")

    def clear(self) -> None:
        """Empty every box."""
        self._fill({})
        self.say(self.opening())

    def save(self) -> None:
        """Save the sheet as it stands as a page to print."""
        self.say(
            save_page(
                self._folder, "my_job_sheet", sheet_page(self.title, self.picture(), table(self.facts()))
            )
        )

    def changed(self, *_: object) -> None:
        """Draw the sheet anew; what was checked before no longer holds."""
        if not self._filling:
            self.checked = None
            self.refresh()

    _filling = False

    def _fill(self, texts: dict[str, str]) -> None:
        self._filling = True
        for id, box in self.boxes.items():
            box.value = texts.get(id, "")
        self._filling = False
        self.changed()


def _missing(found: Checked) -> str:
    first, *others = found.missing
    also = f" and {len(others)} more" if others else ""
    done = "What can be checked already is in the table. " if found.findings else ""
    return f"{done}Still empty: “{first}”{also}. A limit comes from the vehicle's own service information."
