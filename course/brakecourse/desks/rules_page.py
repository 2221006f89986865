"""The page ‘Rules of grades’: by which rules each chosen class's grades come about, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import ipywidgets as widgets

from brakecourse.classroom.folder import ClassFolder
from brakecourse.classroom.settings import AttemptsCount
from brakecourse.desks.coordinator_state import label
from brakecourse.desks.parts import html, note, table
from brakecourse.desks.shell import Page

_COUNTS: dict[AttemptsCount, str] = {
    "best": "The best graded attempt counts.",
    "last": "The last graded attempt counts.",
    "average": "The mean of all graded attempts counts.",
}


class RulesPage(Page):
    """The rules in words, and where each comes from."""

    def build(self) -> Sequence[widgets.Widget]:
        self.rules = html()
        return (self.rules,)

    def opened(self) -> None:
        parts = [
            table(
                label(one.cls),
                ["Rule", "What is done", "Where it stands"],
                list(rules_of(one.cls)),
                tall=True,
            )
            for one in self.desk.state.chosen
        ]
        self.rules.value = "".join(parts) + note(
            "To change a class's own rule, change its line in class.toml with any editor, and look at the "
            "classes again. Nothing that was marked changes by that: scores are worked out anew from the "
            "marks."
        )


def rules_of(cls: ClassFolder) -> Iterator[tuple[str, str, str]]:
    """Say each rule of a class's grades in words: what it is about, what is done, where it is written "
    "down."""
    own, course = cls.settings, "the course"
    yield (
        "Several attempts",
        (
            f"{_COUNTS[own.attempts_count]} As long as one of a student's attempts waits to be marked, "
            f"nothing is "
            "final."
        ),
        "class.toml, attempts_count",
    )
    yield (
        "Late work",
        (
            f"{own.late_penalty_percent_per_day:g} % of the earned points are taken off for each day begun "
            f"after the "
            f"due time, at most {own.late_penalty_cap_percent:g} %. More time that a student was given "
            f"counts first. "
            "The raw score stays in its own column."
        ),
        "class.toml, late_penalty_percent_per_day and late_penalty_cap_percent",
    )
    yield "Due times", _due(cls), "class.toml, due and timezone"
    yield "Missing work", "It is ‘not handed in’ and has no score. It is never turned into a 0.", course
    yield (
        "Excused",
        "The module counts neither for nor against the student.",
        "the gradebook; the reason with it",
    )
    yield "Waiting for hand-grading", "There is no final score before a person has read every answer.", course
    yield (
        "Marks by hand",
        (
            "They go before the machine's, also when the work is graded again. Where the answer changed "
            "since, it "
            "waits to be read again."
        ),
        "the gradebook",
    )
    yield (
        "A corrected answer key",
        (
            "Grading again shows each mark before and after. Nothing is written before a person agrees, "
            "and every "
            "change stays in the history."
        ),
        "the gradebook, its history",
    )
    yield (
        "Rounding",
        (
            "Points are rounded to two places, percentages to one, halves up: once, where shown, and "
            "nowhere before."
        ),
        course,
    )
    yield (
        "Badges",
        (f"{own.pass_percent:g} % of the marks, and no competency of the module ‘not yet’ mastered."),
        "class.toml, pass_percent; datasets/course/awards.csv",
    )


def _due(cls: ClassFolder) -> str:
    due = {module: cls.settings.due_utc(module) for module in cls.assigned}
    told = [
        f"{module}: {when.astimezone(cls.settings.zone):%Y-%m-%d %H:%M}"
        for module, when in due.items()
        if when
    ]
    without = sum(when is None for when in due.values())
    more = f" {without} modules have no due time, so nothing is late there." if without else ""
    return f"On the clock of {cls.settings.timezone}: {'; '.join(told) or 'none is set'}.{more}"
