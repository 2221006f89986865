"""The page ‘Privacy’: what is stored, one student forgotten everywhere, a copy without people."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import ipywidgets as widgets

from brakecourse.classroom.forget import Forgetting, forget, in_words, plan_forgetting
from brakecourse.desks.coordinator_grades import offer
from brakecourse.desks.coordinator_state import CoordinatorState, offers
from brakecourse.desks.parts import caution, choose, heading, html, note, shown, table, text_field
from brakecourse.desks.shell import Page
from brakecourse.desks.state import CLASSES
from brakecourse.errors import CourseError

STORED = (
    "A class folder holds each student's id, name and, if the list has it, email address; what they handed "
    "in, "
    "the marks with their history, and what was exported. It holds no date of birth, sex, origin, address, "
    "telephone number or any other such figure, no password and no picture of anybody; a OneRoster package's "
    "demographics and passwords are not taken over. Nothing is sent over the network: what leaves the "
    "class are "
    "the files that you write yourself."
)


class PrivacyPage(Page):
    """Forget one student; copy a class without its people."""

    def build(self) -> Sequence[widgets.Widget]:
        self.of_class = choose("Class", [("–", None)], None)
        self.student = choose("Student", [("–", "")], "")
        self.of_class.observe(lambda _: self._students(), "value")
        self.student.observe(lambda _: self._put_away(), "value")
        self.plan = html()
        self.once = self.desk.button("Forget this student …", self.ask_again)
        self.typed = text_field("Type the student's id")
        self.twice = self.desk.button("Yes, forget this student for good", self.forget_it)
        self._first = widgets.VBox([self.plan, self.once])
        self._second = widgets.VBox(
            [
                html(caution("This can't be undone. Marks, history and all that was handed in go for good.")),
                self.typed,
                self.twice,
            ]
        )
        self.copy_name = text_field("Name of the copy's folder", placeholder="autumn-for-discussion")
        self.make_copy_button = self.desk.button("Make the anonymous copy", self.make_copy)
        self._plan: Forgetting | None = None
        return (
            html(note(STORED)),
            self.of_class,
            heading("Forget one student"),
            self.student,
            self.desk.button("Show what tells of this student", self.show_plan, main=True),
            self._first,
            self._second,
            heading("A copy for discussion"),
            html(
                note(
                    "The same marks and figures under new ids, in an order drawn by chance, without names, "
                    "written "
                    "answers and comments. In a small class the marks alone can tell who is who."
                )
            ),
            self.copy_name,
            self.make_copy_button,
        )

    def opened(self) -> None:
        state: CoordinatorState = self.desk.state
        offer(self.of_class, offers(state))
        self._students()

    def _students(self) -> None:
        if self.of_class.value is not None:
            everyone = self.desk.state.facts(self.of_class.value).cls.everyone
            names = [
                (f"{one.student_id} {one.first_name} {one.last_name}", one.student_id) for one in everyone
            ]
            offer(self.student, [("(choose one)", ""), *names])
        self._put_away()

    def _put_away(self) -> None:
        self._plan = None
        self.typed.value = ""
        shown(self._first, False)
        shown(self._second, False)

    def show_plan(self) -> None:
        """Show all that tells of the student. Nothing is changed."""
        if not self.student.value:
            raise CourseError("A student was expected, but none is chosen; choose one from the list.")
        cls = self.desk.state.facts(self.of_class.value).cls
        self._put_away()
        self._plan = plan_forgetting(cls, self.student.value)
        rows = list(in_words(cls, self._plan))
        self.plan.value = table(
            f"What tells of {self.student.value}",
            ["Where", ">How many", "What becomes of it"],
            rows,
            tall=True,
        )
        shown(self._first, True)
        self.desk.say("Nothing is changed yet.")

    def ask_again(self) -> None:
        """Ask a second time."""
        shown(self._second, True)
        self.desk.say("Are you sure? Type the student's id below and press the second button.")

    def forget_it(self) -> None:
        """Forget the student, when asked twice and the id is typed."""
        if self._plan is None:
            raise CourseError(
                "A look at what goes is expected; press ‘Show what tells of this student’ first."
            )
        student = self._plan.entry.student_id
        if self.typed.value.strip() != student:
            raise CourseError(
                f"The id '{student}' was expected, but '{self.typed.value.strip()}' was typed; type it as "
                f"it stands "
                "in the list. Nothing was changed."
            )
        state: CoordinatorState = self.desk.state
        forget(state.facts(self.of_class.value).cls, self._plan)
        state.again(self.of_class.value)
        self._students()
        self.desk.say(
            f"{student} is forgotten in this class. Copies elsewhere (backups, what was sent out) are out "
            f"of reach. "
            "Write the exports again."
        )

    def make_copy(self) -> None:
        """Make a copy of the class without its people, beside the others."""
        from brakecourse.classroom.anonymous import anonymous_copy

        state: CoordinatorState = self.desk.state
        name = self.copy_name.value.strip()
        if not name or Path(name).name != name:
            raise CourseError("A folder's name was expected, such as 'autumn-for-discussion'; type one.")
        place = state.base / CLASSES
        place.mkdir(exist_ok=True)
        made = anonymous_copy(state.facts(self.of_class.value).cls, place / name)
        self.desk.say(
            f"The copy is in {made.root}: {len(made.roster)} students with new ids and no names. The list "
            f"of who is "
            "who is nowhere."
        )
