"""The wear reader: turn a pad, set the depth gauge at its corners, and say what the eight readings tell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.pad_cases import CORNERS, PadCase, draw_pad_case
from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, button, choice, dropdown, row
from brakecourse.views.pad_replies import corner_reply, how_measured, pair_reply, smallest_reply
from brakecourse.views.pad_view import WHICH, Which, gauge_picture, readings_table, wheel_words

_SIDES = {
    "from its outer edge": "outer edge",
    "from its trailing end": "trailing end",
    "from its inner edge": "inner edge",
    "from its leading end": "leading end",
    "on its face": "face",
}
# Pads that are worth measuring: a shape to find, or none.
_SITUATIONS = (
    "dry pins",
    "leading pin",
    "rusty clips",
    "loose bracket",
    "trailing clip",
    "sound",
    "worn out",
    "trailing pin",
)
OWN_READINGS = 3
"""So many readings a learner takes before the rest may be noted for him."""


def reader_cases(seed: int) -> Iterator[PadCase]:
    """Yield pads to measure, without end; the first is always of the same kind."""
    draw, number = Draw(seed), 0
    while True:
        situation = _SITUATIONS[0] if number == 0 else draw.child(f"kind {number}").choice(_SITUATIONS)
        yield draw_pad_case(seed * 1000 + number, situation, "easy" if number == 0 else "normal")
        number += 1


class WearReader(Activity):
    """Measure both pads of a wheel at their corners.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the pads.
    """

    title = "The wear reader"
    task = (
        "Turn the pad and look at it. Read the gauge at each corner; a right reading is noted and the next "
        "corner comes. Then type the smallest lining, and how far the two pads differ."
    )
    lesson = "07_pad_wear"

    def __init__(self, name: str = "wear-reader", seed: int = 7, **more: Any) -> None:
        self.cases = reader_cases(seed)
        self.case = next(self.cases)
        self.noted: dict[tuple[Which, int], float] = {}
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.which = choice("Pad", WHICH, WHICH[0])
        self.side = dropdown("See it", list(_SIDES), next(iter(_SIDES)))
        self.corner = dropdown("Gauge at", CORNERS, CORNERS[0])
        for control in (self.which, self.side, self.corner):
            control.observe(self.refresh, "value")
        return (row(self.which, self.side, self.corner),)

    def answers(self) -> Sequence[widgets.Widget]:
        self.reading = AnswerBox("Reading at this corner, in mm", self.check_reading, unit="mm wear")
        self.reading.box.placeholder = "for example 7.3"
        self.smallest = AnswerBox("Smallest lining of both, in mm", self.check_smallest)
        self.pair = AnswerBox("Difference of the means, in mm", self.check_pair)
        return (
            self.reading,
            row(button("Show how to read it", self.explain), button("Note the rest for me", self.note_rest)),
            self.smallest,
            self.pair,
            row(button("New pads", self.new_task)),
        )

    @property
    def place(self) -> tuple[Which, int]:
        """Where the gauge stands: which pad, and which corner of it."""
        return self.which.value, CORNERS.index(self.corner.value)

    @property
    def indication_mm(self) -> float:
        """What the gauge shows there."""
        which, corner = self.place
        return (self.case.inner_mm if which == "inner pad" else self.case.outer_mm)[corner]

    def picture(self) -> str:
        which, corner = self.place
        return gauge_picture(self.case, which, _SIDES[self.side.value], corner, self.uid)

    def words(self) -> str:
        return f"{wheel_words(self.case)} The gauge stands on the {self.which.value}, {self.corner.value}."

    def facts(self) -> Sequence[Sequence[str]]:
        return readings_table(self.case, self.noted)

    def opening(self) -> str:
        return "Eight corners, eight readings. The gauge measures the lining alone, down to the steel plate."

    def check_reading(self, typed: str) -> None:
        """Reply to a reading; note a right one and go on to the next corner."""
        place, shown = self.place, self.indication_mm
        if self.judge(
            typed, lambda answer: corner_reply(answer, shown, self.case), (self.case.seed, place), "mm wear"
        ):
            self.noted[place] = self.case.gauge.reading(shown)
            self._go_on()
            self.reading.clear()

    def check_smallest(self, typed: str) -> None:
        """Reply to the smallest lining."""
        self.judge(
            typed, lambda answer: smallest_reply(answer, self.case), (self.case.seed, "smallest"), "mm wear"
        )

    def check_pair(self, typed: str) -> None:
        """Reply to the difference of the two pads."""
        self.judge(typed, lambda answer: pair_reply(answer, self.case), (self.case.seed, "pair"), "mm wear")

    def explain(self) -> None:
        """Say how this reading is made up."""
        self.say(how_measured(self.indication_mm, self.case))

    def note_rest(self) -> None:
        """Fill in the readings that are missing, once some have been taken."""
        left = OWN_READINGS - len(self.noted)
        if left > 0:
            corners = "corner" if left == 1 else "corners"
            self.say(f"Read {left} more {corners} yourself first. Then the rest is noted for you.")
            return
        for which, pad in zip(WHICH, (self.case.inner, self.case.outer), strict=True):
            for corner, reading in enumerate(pad.corners_mm):
                self.noted[which, corner] = reading
        self.say("All eight readings stand in the table. Now find the smallest lining, and the difference.")
        self.refresh()

    def new_task(self) -> None:
        """Take the pads of another wheel."""
        self.case = next(self.cases)
        self.noted = {}
        for box in (self.reading, self.smallest, self.pair):
            box.clear()
        with self.hold_trait_notifications():
            self.which.value, self.corner.value = WHICH[0], CORNERS[0]
        self.say(self.opening())
        self.refresh()

    def _go_on(self) -> None:
        """Set the gauge at the next corner that is not noted."""
        places: list[tuple[Which, int]] = [
            (which, corner) for which in WHICH for corner in range(len(CORNERS))
        ]
        begin = places.index(self.place)
        for which, corner in places[begin + 1 :] + places[:begin]:
            if (which, corner) not in self.noted:
                self.which.value, self.corner.value = which, CORNERS[corner]
                break
        self.refresh()
