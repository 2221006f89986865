"""Set a torque wrench to what the sheet asks, and read one that is set."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.shop_gauges import TorqueWrench
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import motor_pool
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair, button, choice, dropdown, row
from brakecourse.views.drawings import torque_wrench_svg
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.torque_sums import (
    LINES_OF_A_TURN,
    TURNS_OF_A_WRENCH,
    all_bolts,
    bolts_of,
    length_mm,
    setting_nm,
    turn_nm,
    wrenches,
)
from brakecourse.views.torque_units import FEET, INCHES, NM
from brakecourse.views.torque_words import grip_words, wrench_name
from brakecourse.views.torque_wrench_replies import (
    Wanted,
    reading_task,
    setting_reply,
    setting_shown,
)

WRENCHES: dict[str, TorqueWrench] = {wrench_name(one): one for one in wrenches()}
"""The shop's wrenches by what a learner chooses them by."""

_FIRST_VEHICLE = "dog_wardens_estate"


def wrench_picture(wrench: TorqueWrench, set_nm: float, **more: Any) -> str:
    """Draw a wrench of the shop at a setting."""
    return torque_wrench_svg(
        set_nm,
        low_nm=wrench.scale.start,
        high_nm=wrench.scale.end,
        turn_nm=turn_nm(wrench),
        wrench_mm=length_mm(wrench),
        **more,
    )


class SetTorqueWrench(Activity):
    """Take the right wrench and turn its grip to the wanted torque.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the torques that are asked for.
    """

    title = "Set a torque wrench"
    task = "Choose a wrench, turn its grip until it is set to the wanted torque, then press Check."
    lesson = "11_reassembly_and_torque"

    def __init__(self, name: str = "set-torque-wrench", seed: int = 1, **more: Any) -> None:
        self.seed, self.number = seed, 0
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.unit = choice("The sheet gives it in", (NM, FEET, INCHES), NM)
        self.wrench_list = dropdown("Which wrench?", tuple(WRENCHES), tuple(WRENCHES)[1])
        self.turns = NumberPair("Full turns from the low end", 0, 0, TURNS_OF_A_WRENCH, 1)
        self.line = NumberPair("Line of the grip at the mark", 0, 0, LINES_OF_A_TURN - 1, 1)
        self.unit.observe(self.new_task, "value")
        self.wrench_list.observe(self.refresh, "value")
        for pair in (self.turns, self.line):
            pair.on_change(self.refresh)
        return row(self.unit, self.wrench_list), self.turns, self.line

    def answers(self) -> Sequence[widgets.Widget]:
        return (row(button("Check", self.check), button("New torque", self.new_task)),)

    @property
    def wrench(self) -> TorqueWrench:
        """The wrench that is chosen."""
        return WRENCHES[self.wrench_list.value]

    @property
    def set_nm(self) -> float:
        """What it is set to now."""
        return setting_nm(self.wrench, int(self.turns.value), int(self.line.value))

    @property
    def wanted(self) -> Wanted:
        """What the sheet asks for. The first one is a wheel nut of the lesson's own vehicle."""
        if self.number == 0:
            return Wanted(bolts_of(motor_pool()[_FIRST_VEHICLE])[0], self.unit.value)
        draw = Draw(self.seed).child(f"torque {self.number}")
        small = [one for one in all_bolts() if one.fastener.torque_nm <= 60]
        return Wanted(draw.choice(small if self.unit.value == INCHES else all_bolts()), self.unit.value)

    def picture(self) -> str:
        return wrench_picture(self.wrench, self.set_nm, uid=self.uid, title="Torque wrench to set")

    def words(self) -> str:
        return f"Wanted: {self.wanted.words} for {self.wanted.bolt.owner}. {grip_words(self.wrench)}"

    def opening(self) -> str:
        return f"Set {self.wanted.words}. The scale of this wrench begins at {self.wrench.scale.start:g} N·m."

    def check(self) -> None:
        """Reply to what is set now."""
        reply = setting_reply(self.wanted, self.wrench, self.set_nm)
        key = (self.number, self.unit.value, self.wrench.largest_nm, self.set_nm)
        self.say(reply.words, self.count(key, right=reply.right))

    def new_task(self, *_: object) -> None:
        """Ask for another torque."""
        self.number += 1
        self.say(f"Set {self.wanted.words}. Is this the wrench for it?")
        self.refresh()


class ReadTorqueWrench(Quiz):
    """A wrench that somebody has set: to what?"""

    title = "Read a torque wrench"
    task = "Read the hairline on the upper scale, then the grip. Type the sum, and press Check."
    lesson = "11_reassembly_and_torque"
    topics = tuple(f"the wrench up to {one.largest_nm:g} N·m" for one in wrenches())

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        wrench = list(wrenches())[self.topics.index(topic)]
        return reading_task(topic, wrench, setting_shown(wrench, difficulty, draw))

    def picture(self) -> str:
        wrench, set_nm = self.asked.case
        return wrench_picture(wrench, set_nm, uid=self.uid, title="Torque wrench to read")
