"""The page ‘Who is where’: everyone's status, one student's work, marks by hand."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

import ipywidgets as widgets

from brakecourse.classroom import engine
from brakecourse.classroom.assign import read_case
from brakecourse.classroom.folder import Progress
from brakecourse.classroom.grading_page import grading_page
from brakecourse.classroom.records import mark_history
from brakecourse.classroom.results import QuestionResult, StudentResult
from brakecourse.desks import standing, student_view
from brakecourse.desks.job import Job
from brakecourse.desks.parts import choose, fold, heading, html, note, number_field, row, text_field
from brakecourse.desks.save_file import SaveFile, Steps
from brakecourse.desks.shell import Page
from brakecourse.errors import CourseError

_NONE = "–"
_OTHER_CLASS = (
    "nbgrader's grading pages could not show this answer. They show one class for as long as JupyterLab "
    "runs: stop JupyterLab and start it again, then press the button once more. Marking on the desk works "
    "without them."
)


class WhoIsWherePage(Page):
    """Everyone's status; one student's case, answers and marks."""

    def build(self) -> Sequence[widgets.Widget]:
        self.job = Job(self.desk, "Read again", self._read, self._was_read, self.desk.state.forget)
        self.overview, self.needs = html(""), html("")
        self.student = choose("Student", [_NONE], _NONE)
        self.module = choose("Module", [_NONE], _NONE)
        self.story, self.drawings = html(""), html("")
        self.question = choose("Question", [_NONE], _NONE)
        self.answer = html("")
        self.points = number_field("Points", 0.0, 0.0, 100.0, 0.5)
        self.comment = widgets.Textarea(
            description="Comment for the student",
            tooltip="Comment for the student",
            rows=3,
            style={"description_width": "13em"},
            layout={"width": "620px", "max_width": "100%"},
        )
        self.why = text_field("Reason, for the grade table")
        self.history = html("")
        self.grader = SaveFile(self.desk, "Open it in nbgrader's grading page", self.grading_page, opens=True)
        self._shown_changes = -1
        for field in (self.student, self.module):
            field.observe(lambda _: self._try(self.show_student), "value")
        self.question.observe(lambda _: self._try(self.show_question), "value")
        return (
            self.job,
            self.overview,
            self.needs,
            heading("One student"),
            row(self.student, self.module),
            self.story,
            fold("Drawings of this work order", self.drawings),
            heading("Mark by hand"),
            html(note("Your points count instead of the machine's, also after grading again.")),
            self.question,
            self.answer,
            self.points,
            self.comment,
            row(
                self.desk.button("Save the mark", self.save_mark, main=True),
                self.desk.button("Take the mark back", self.take_back),
                self.desk.button("Next answer that waits", self.next_waiting),
                self.grader,
            ),
            fold(
                "Excuse this student from this module",
                html(note("It then counts neither for nor against them. Nothing is thrown away.")),
                self.why,
                row(
                    self.desk.button("Excuse", self.excuse),
                    self.desk.button("Let it count again", self.end_excuse),
                ),
            ),
            fold("Every change of this student's marks", self.history),
        )

    def opened(self) -> None:
        state = self.desk.state
        cls = state.cls
        names = [(f"{one.student_id} {one.first_name} {one.last_name}", one.student_id) for one in cls.roster]
        if [value for _, value in names] != [value for _, value in self.student.options[1:]]:
            self.student.options = [(_NONE, _NONE), *names]
        if list(self.module.options) != [_NONE, *cls.assigned]:
            self.module.options = [_NONE, *cls.assigned]
        if self._shown_changes != state.changes:
            self.job.start_quietly()

    # Everybody.

    def _read(self, told: Progress) -> dict[str, list[StudentResult]]:
        state = self.desk.state
        found: dict[str, list[StudentResult]] = {}
        for done, module in enumerate(state.cls.assigned):
            told(done, len(state.cls.assigned), module)
            found[module] = state.results(module)
        return found

    def _was_read(self, found: Any) -> None:
        cls, now = self.desk.state.cls, datetime.now(UTC)
        self._shown_changes = self.desk.state.changes
        self._needs = tuple(standing.needs(cls, found, now))
        self.overview.value = (
            standing.overview(cls, found, now) if found else "<p>Nothing was handed out yet.</p>"
        )
        self.needs.value = standing.needs_table(self._needs) if found else ""

    # One student.

    def _try(self, action: Any) -> None:
        with self.desk.trying():
            action()

    def _result(self) -> StudentResult | None:
        student, module = self.student.value, self.module.value
        if _NONE in (student, module):
            return None
        results = self.desk.state.results(module)
        found = next((one for one in results if one.record.student_id == student), None)
        if found is None:
            raise CourseError(f"{module} was not handed out to {student}; choose another module.")
        return found

    def show_student(self) -> None:
        """Show the chosen student's work in the chosen module."""
        for part in (self.story, self.drawings, self.answer, self.history):
            part.value = ""
        self.question.options = [_NONE]
        result = self._result()
        if result is None:
            return
        cls = self.desk.state.cls
        self.story.value = student_view.summary(result.record) + student_view.key_and_answers(cls, result)
        self.drawings.value = student_view.drawings(
            read_case(cls, result.record.module, result.record.student_id)
        )
        self.history.value = student_view.history(
            mark_history(cls, result.record.module, result.record.student_id), cls.settings.zone
        )
        waiting = [one for one in result.questions if one.waiting]
        others = [one for one in result.questions if not one.waiting]
        self.question.options = [
            (_NONE, _NONE),
            *(
                (f"{_named(one)}{', waits for you' if one.waiting else ''}", one.question.id)
                for one in waiting
            ),
            *((_named(one), one.question.id) for one in others),
        ]
        if waiting:
            self.question.value = waiting[0].question.id

    def show_question(self) -> None:
        """Show one answer, and what was given for it."""
        one = self._answer()
        self.answer.value = ""
        if one is None:
            return
        self.points.max = one.question.points
        self.points.value = one.points or 0.0
        self.points.description = f"Points, of {one.question.points:g}"
        self.comment.value = one.comment
        self.answer.value = student_view.written(one)

    def save_mark(self) -> None:
        """Give the points for the chosen answer."""
        result, one = self._result(), self._answer()
        if result is None or one is None:
            raise CourseError("A student, a module and a question are expected; choose all three first.")
        who, module, asked = result.record.student_id, result.record.module, one.question.id
        given = self.points.value
        engine.set_hand_mark(self.desk.state.cls, module, who, asked, given, comment=self.comment.value)
        self._changed(module)
        self.desk.say(f"{who}, question {asked}: {given:g} points are in the gradebook.")

    def take_back(self) -> None:
        """Take the mark back that was given by hand."""
        result, one = self._result(), self._answer()
        if result is None or one is None:
            raise CourseError("A student, a module and a question are expected; choose all three first.")
        engine.take_back_hand_mark(
            self.desk.state.cls, result.record.module, result.record.student_id, one.question.id
        )
        self._changed(result.record.module)
        self.desk.say(f"{result.record.student_id}, question {one.question.id}: your mark is taken back.")

    def excuse(self) -> None:
        """Excuse the chosen student from the chosen module."""
        record = self._chosen().record
        engine.excuse(self.desk.state.cls, record.module, record.student_id, self.why.value.strip())
        self._changed(record.module)
        self.desk.say(f"{record.student_id} is excused from {record.module}.")

    def end_excuse(self) -> None:
        """Let the chosen module count again for the chosen student."""
        record = self._chosen().record
        engine.end_excuse(self.desk.state.cls, record.module, record.student_id)
        self._changed(record.module)
        self.desk.say(f"{record.module} counts again for {record.student_id}; grade it once more.")

    def next_waiting(self) -> None:
        """Choose the next answer that waits."""
        modules = [self.module.value] if self.module.value != _NONE else list(self.desk.state.cls.assigned)
        for module in modules:
            for result in self.desk.state.results(module):
                if result.record.waiting_questions:
                    self.module.value, self.student.value = module, result.record.student_id
                    return
        self.desk.say("No answer waits for you here.")

    def grading_page(self) -> Steps:
        """Return where nbgrader's own page shows the chosen answer."""
        result, one = self._result(), self._answer()
        if result is None or one is None:
            raise CourseError("A student, a module and a question are expected; choose all three first.")
        page = grading_page(
            self.desk.state.cls, result.record.module, result.record.student_id, one.question.id
        )
        # What is marked there is read when the person comes back to this page.
        self.desk.state.forget(result.record.module)
        return Steps((page.choose_class, page.answer), _OTHER_CLASS)

    def _chosen(self) -> StudentResult:
        result = self._result()
        if result is None:
            raise CourseError("A student and a module are expected; choose both first.")
        return result

    def _answer(self) -> QuestionResult | None:
        result = self._result()
        if result is None or self.question.value in (_NONE, None):
            return None
        return next((one for one in result.questions if one.question.id == self.question.value), None)

    def _changed(self, module: str) -> None:
        self.desk.state.forget(module)
        self.show_student()
        self._was_read(self._read(lambda *_: None))


def _named(one: QuestionResult) -> str:
    return f"{one.question.id} {one.question.short}"
