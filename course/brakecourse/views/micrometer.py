"""Set a micrometer to a size, and read one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.gauges import boxed_micrometer
from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, NumberPair, button, choice, row
from brakecourse.views.drawings import micrometer_svg
from brakecourse.views.micrometer_replies import how_read, opening_mm, reading_reply, setting_reply
from brakecourse.views.practice import LINES, Lines, practice_indication_mm, practice_setting_mm
from brakecourse.views.words import mm


class SetMicrometer(Activity):
    """Turn the thimble until the micrometer shows the wanted size.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the sizes that are asked for.
    """

    title = "Set a micrometer"
    task = "Turn the thimble until the micrometer shows the wanted size. Then press Check."

    def __init__(self, name: str = "set-micrometer", seed: int = 1, **more: Any) -> None:
        self.seed, self.number = seed, 0
        self.gauge = boxed_micrometer(0)
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.turns = NumberPair("Full turns of the thimble", 10, 0, 49, 1)
        self.line = NumberPair("Thimble line at the datum line", 0, 0, 49, 1)
        for pair in (self.turns, self.line):
            pair.on_change(self.refresh)
        return self.turns, self.line

    def answers(self) -> Sequence[widgets.Widget]:
        return (row(button("Check", self.check), button("New size", self.new_task)),)

    @property
    def wanted_mm(self) -> float:
        """The size to set."""
        return practice_setting_mm(self.seed, self.number, self.gauge)

    def picture(self) -> str:
        shown = opening_mm(int(self.turns.value), int(self.line.value), self.gauge)
        return micrometer_svg(shown, uid=self.uid, start_mm=self.gauge.low_mm, title="Micrometer to set")

    def words(self) -> str:
        return f"Wanted: {mm(self.wanted_mm)}."

    def opening(self) -> str:
        return f"Set {mm(self.wanted_mm)}. One full turn opens the gap by 0.50 mm (0.020 in)."

    def check(self) -> None:
        """Reply to what is set now."""
        turns, line = int(self.turns.value), int(self.line.value)
        reply = setting_reply(self.wanted_mm, turns, line, self.gauge)
        self.say(reply.words, self.count((self.number, turns, line), right=reply.right))

    def new_task(self) -> None:
        """Ask for another size."""
        self.number += 1
        self.say(self.opening())
        self.refresh()


class ReadMicrometer(Activity):
    """Read a micrometer and type the reading.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the readings.
        lines: the kind of reading to begin with.
    """

    title = "Read a micrometer"
    task = "Read the micrometer, type the reading in millimetres, and press Check."

    def __init__(
        self, name: str = "read-micrometer", seed: int = 1, lines: Lines = LINES[0], **more: Any
    ) -> None:
        self.seed, self.number = seed, 0
        self.first_lines = lines
        self.gauge = boxed_micrometer(0)
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.lines = choice("Which readings?", LINES, self.first_lines)
        self.lines.observe(self.new_task, "value")
        return (self.lines,)

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("Your reading in mm", self.check, placeholder="for example 7.32")
        return self.answer, row(
            button("New reading", self.new_task), button("Show how to read it", self.explain)
        )

    @property
    def indication_mm(self) -> float:
        """What the micrometer shows."""
        return practice_indication_mm(self.seed, self.number, self.lines.value, self.gauge)

    def picture(self) -> str:
        return micrometer_svg(
            self.indication_mm, uid=self.uid, start_mm=self.gauge.low_mm, title="Micrometer to read"
        )

    def words(self) -> str:
        return f"Reading {self.number + 1}. Whole millimetres stand above the datum line, halves below it."

    def opening(self) -> str:
        return "Type what you read."

    def check(self, typed: str) -> None:
        """Reply to a typed reading."""
        shown = self.indication_mm
        key = (self.lines.value, self.number)
        self.judge(typed, lambda answer: reading_reply(answer, shown, self.gauge), key)

    def explain(self) -> None:
        """Show how this reading is made up."""
        self.say(how_read(self.indication_mm, self.gauge))

    def new_task(self, *_: object) -> None:
        """Turn the thimble to another reading."""
        self.number += 1
        self.answer.clear()
        self.say(self.opening())
        self.refresh()
