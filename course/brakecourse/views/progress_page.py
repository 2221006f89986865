"""Show what the learner has practised so far, and let the record be copied or erased."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import ipywidgets as widgets

from brakecourse.views.activity import Activity
from brakecourse.views.controls import button, dropdown, row
from brakecourse.views.plan import lessons, plan
from brakecourse.views.progress import Progress, Tally
from brakecourse.views.progress_drawing import lesson_svg, lessons_svg, outcomes_svg

COPY_NAME = "my_progress.csv"
ALL_LESSONS, OUTCOMES = "all lessons", "what I can do"


def views() -> dict[str, str]:
    """Return what the page can show, each by its words: the two overviews, then each lesson with practice."""
    present = {practice.lesson for practice in plan()}
    return {ALL_LESSONS: "", OUTCOMES: ""} | {
        f"{lesson[:2]} {title}": lesson for lesson, title in lessons().items() if lesson in present
    }


class MyProgress(Activity):
    """A page of the learner's own: what was practised, and how often rightly."""

    title = "My progress"
    task = "Only you see this. It lies in the file progress.json beside the lessons, and it carries no mark."
    lesson = "00_start_here"

    def __init__(self, name: str = "my-progress", progress: Progress | None = None) -> None:
        self.progress = progress or Progress()
        self.erase_asked = False
        super().__init__(name, self.progress)

    @property
    def tallies(self) -> list[Tally]:
        """The record of the activities that the plan knows."""
        known = {(practice.lesson, practice.activity) for practice in plan()}
        return [tally for tally in self.progress.tallies() if (tally.lesson, tally.activity) in known]

    def controls(self) -> Sequence[widgets.Widget]:
        self.view = dropdown("Show", list(views()), ALL_LESSONS)
        self.view.observe(self.refresh, "value")
        return (self.view,)

    def answers(self) -> Sequence[widgets.Widget]:
        self.erase_button = button("Erase my progress", self.erase)
        return (
            row(
                button("Look again", self.look_again),
                button("Save a copy as a table", self.save_copy),
                self.erase_button,
            ),
        )

    def picture(self) -> str:
        if self.view.value == ALL_LESSONS:
            return lessons_svg(self.tallies, uid=self.uid)
        if self.view.value == OUTCOMES:
            return outcomes_svg(self.tallies, uid=self.uid)
        return lesson_svg(self.tallies, views()[self.view.value], uid=self.uid)

    def words(self) -> str:
        tallies = self.tallies
        right = sum(tally.right for tally in tallies)
        if not tallies:
            return "Nothing is recorded yet. Answer something in a lesson, then look again."
        answers = "1 right answer" if right == 1 else f"{right} right answers"
        return f"{answers} in {len(tallies)} of {len(plan())} activities."

    def opening(self) -> str:
        return self.progress.trouble()

    def look_again(self) -> None:
        """Read the file again."""
        self._ask_to_erase(False)
        self.say(self.progress.trouble())
        self.refresh()

    def save_copy(self) -> None:
        """Write the record as a table beside the progress file."""
        self._ask_to_erase(False)
        path: Path = self.progress.path.with_name(COPY_NAME)
        try:
            path.write_text(self.progress.as_csv(), encoding="utf-8")
        except OSError as error:
            self.say(f"The copy {COPY_NAME} could not be written ({error.strerror}); nothing else changed.")
            return
        self.say(f"A copy lies beside the lessons: {COPY_NAME}. Any spreadsheet program opens it.")

    def erase(self) -> None:
        """Ask first; erase the record when asked again."""
        if not self.erase_asked:
            self._ask_to_erase(True)
            self.say("This cannot be undone. Press the button again to erase, or “Look again” to keep it.")
            return
        self._ask_to_erase(False)
        self.say(self.progress.erase() or "Your progress is erased.")
        self.refresh()

    def _ask_to_erase(self, asked: bool) -> None:
        self.erase_asked = asked
        self.erase_button.description = "Yes, erase it" if asked else "Erase my progress"
