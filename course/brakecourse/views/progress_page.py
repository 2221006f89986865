"""Show what the learner has practised so far, and let the record be copied or erased."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import ipywidgets as widgets

from brakecourse.views import palette, svg
from brakecourse.views.activity import Activity
from brakecourse.views.controls import button, row
from brakecourse.views.progress import Progress, Tally

COPY_NAME = "my_progress.csv"

# Which activities the lessons have: lesson, activity's name, where it stands, its title.
PLAN: tuple[tuple[str, str, str, str], ...] = (
    ("08_rotor_measurement", "set-micrometer", "Part 1", "Set a micrometer"),
    ("08_rotor_measurement", "read-micrometer", "Part 1", "Read a micrometer"),
    ("08_rotor_measurement", "read-half-lines", "Part 2", "Read past the half-millimetre line"),
    ("08_rotor_measurement", "where-to-measure", "Part 3", "Where the anvils go"),
    ("08_rotor_measurement", "eight-places", "Part 4", "Eight places round the rotor"),
    ("08_rotor_measurement", "turn-rotor", "Part 5", "Turn the rotor under the dial"),
    ("08_rotor_measurement", "run-out-plot", "Part 5", "The run-out round the rotor"),
    ("08_rotor_measurement", "limit-calculator", "Part 6", "The limit calculator"),
    ("08_rotor_measurement", "cut-to-true", "Part 7", "Is there metal enough to cut?"),
    ("08_rotor_measurement", "decide-rotor", "Part 8", "Keep, machine or replace?"),
)
_LESSON_NAMES = {"08_rotor_measurement": "Lesson 08, thickness and run-out"}
_WIDTH, _ROW, _TOP = 640, 30, 56


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
        known = {(lesson, activity) for lesson, activity, _, _ in PLAN}
        return [tally for tally in self.progress.tallies() if (tally.lesson, tally.activity) in known]

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
        return progress_svg(self.tallies, uid=self.uid)

    def words(self) -> str:
        tallies = self.tallies
        right = sum(tally.right for tally in tallies)
        if not tallies:
            return "Nothing is recorded yet. Answer something in a lesson, then look again."
        return f"{right} right answers in {len(tallies)} of {len(PLAN)} activities."

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


def progress_svg(tallies: Sequence[Tally], *, uid: str, title: str = "My progress") -> str:
    """Draw the record: one line an activity, a bar for the share of right answers, and the words for it.

    Args:
        tallies: the record; activities that the plan does not know are left out.
        uid: a word that no other drawing on the page has.
        title: the name that a screen reader says.

    >>> "not tried yet" in progress_svg([], uid="p")
    True
    """
    done = {(tally.lesson, tally.activity): tally for tally in tallies}
    body, y, told = "", _TOP, []
    for lesson in dict.fromkeys(entry[0] for entry in PLAN):
        body += svg.text(24, y - 22, _LESSON_NAMES[lesson], size=17, font_weight="bold")
        for _, activity, part, name in (entry for entry in PLAN if entry[0] == lesson):
            tally = done.get((lesson, activity))
            words = f"{tally.right} right of {tally.tries}" if tally else "not tried yet"
            share = tally.right / tally.tries if tally and tally.tries else 0.0
            body += svg.text(24, y + 14, part, fill=palette.INK_SOFT) + svg.text(80, y + 14, name)
            body += svg.rect(340, y + 3, 140, 13, fill=palette.PANEL, stroke=palette.STEEL_DARK)
            if share:
                body += svg.rect(340, y + 3, 140 * share, 13, fill=palette.BLUE)
            body += svg.text(494, y + 14, words)
            told.append(f"{part}, {name}: {words}.")
            y += _ROW
        y += _TOP - _ROW
    return svg.frame(_WIDTH, y - 12, body, uid=uid, title=title, desc=" ".join(told))
