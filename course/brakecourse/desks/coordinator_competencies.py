"""The page ‘Competencies’: what a class can do, and each student."""

from __future__ import annotations

from collections.abc import Sequence

import ipywidgets as widgets

from brakecourse.desks.coordinator_grades import offer
from brakecourse.desks.coordinator_state import CoordinatorState, offers
from brakecourse.desks.figures import figure
from brakecourse.desks.parts import choose, fold, html, note, row, table
from brakecourse.desks.shell import Page
from brakecourse.errors import CourseError
from brakecourse.exports.cells import rounded
from brakecourse.exports.facts import Facts
from brakecourse.exports.mastery import State, rules

MARKS: dict[State, str] = {
    "mastered": "✓ mastered",
    "not yet": "✗ not yet",
    "too little to tell": "– too little to tell",
}
CLASS = "the whole class"


class CompetenciesPage(Page):
    """What a class can do, and each student."""

    def build(self) -> Sequence[widgets.Widget]:
        self.of_class = choose("Class", [("–", None)], None)
        self.student = choose("Who", [CLASS], CLASS)
        self.of_class.observe(lambda _: self._students(), "value")
        self.picture = html()
        self._seen = -1
        return (
            row(self.of_class, self.student, self.desk.button("Show", self.show, main=True)),
            self.picture,
            fold("When a competency counts as mastered", html(_rules())),
        )

    def opened(self) -> None:
        state: CoordinatorState = self.desk.state
        if self._seen != state.changes:
            self._seen = state.changes
            offer(self.of_class, offers(state))
            self._students()
            self.picture.value = ""

    def _students(self) -> None:
        if self.of_class.value is None:
            return
        roster = self.desk.state.facts(self.of_class.value).cls.roster
        names = [
            (f"{one.student_id} {one.first_name} {one.last_name}", one.student_id)
            for one in sorted(roster, key=lambda one: one.student_id)
        ]
        pages = max(1, -(-len(roster) // 25))
        maps = [
            (f"every student, page {page} of {pages}" if pages > 1 else "every student", page)
            for page in range(1, pages + 1)
        ]
        offer(self.student, [(CLASS, CLASS), *maps, *names])

    def show(self) -> None:
        """Show the class, a page of students, or one student."""
        from brakecourse.exports.pictures import class_pictures

        facts = self.desk.state.facts(self.of_class.value)
        if not facts.records:
            raise CourseError("No module of this class was handed out yet, so nothing is known of anybody.")
        who = self.student.value
        if who == CLASS or isinstance(who, int):
            bars, *maps = class_pictures(facts.mastery, rules())
            self.picture.value = figure(bars if who == CLASS else maps[who - 1])
        else:
            self.picture.value = student_table(facts, who)


def student_table(facts: Facts, student: str) -> str:
    """Return what one student can do as HTML."""
    statements = {rule.competency: rule.statement for rule in rules()}
    own = [one for one in facts.mastery if one.student_id == student]
    counts = ", ".join(f"{sum(one.state == state for one in own)} {state}" for state in MARKS)
    rows = [
        (
            one.competency.replace("-", " "),
            f"The student {statements[one.competency]}.",
            MARKS[one.state],
            rounded(one.percent, 1),
            one.why,
        )
        for one in own
    ]
    return table(
        f"Competencies of {student}: {counts}",
        ["Competency", "What it is", "How far", ">Marks, %", "Why"],
        rows,
        tall=True,
    )


def _rules() -> str:
    rows = [
        (one.competency.replace("-", " "), f"{one.percent:g}", one.questions, one.modules) for one in rules()
    ]
    words = note(
        "So many percent of the marks, over so many questions from so many modules, and no safety-critical "
        "question missed. Fewer questions tell nothing either way. The rule stands in "
        "datasets/course/competencies.csv."
    )
    return words + table("The rule", ["Competency", ">Marks, %", ">Questions", ">Modules"], rows)
