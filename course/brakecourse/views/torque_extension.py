"""A torque wrench made longer or shorter by an extension: what to set, and what reaches the bolt."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.shop_gauges import torque_wrench
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.fasteners import wrench_setting_nm
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.torque_extension_tasks import (
    ANGLED,
    GOT,
    STRAIGHT,
    Extended,
    extended_case,
    got_task,
    set_task,
)
from brakecourse.views.torque_sums import applied_nm, arm_share, length_mm
from brakecourse.views.torque_words import mm_of, nm
from brakecourse.views.torque_wrench_use import wrench_picture

LONGEST_MM, LARGEST_ANGLE_DEG = 250, 135
_EXPLORED_NM = 200.0


class TryExtension(Activity):
    """Move an extension and see what to set.

    Args:
        name: a short name, one of its kind on the page.
    """

    title = "Try an extension"
    task = "Change length and angle. Find the angle at which the extension changes nothing."
    lesson = "11_reassembly_and_torque"

    def __init__(self, name: str = "try-extension", **more: Any) -> None:
        self.wrench = torque_wrench(_EXPLORED_NM)
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.target = NumberPair("Wanted torque at the bolt, in N·m", 100, 70, 115, 5)
        self.extension = NumberPair("Length of the extension, in mm", 100, 0, LONGEST_MM, 10)
        self.angle = NumberPair("Angle to the wrench, in degrees", 0, 0, LARGEST_ANGLE_DEG, 15)
        for pair in (self.target, self.extension, self.angle):
            pair.on_change(self.changed)
        return self.target, self.extension, self.angle

    @property
    def setting(self) -> float:
        """What to set, N·m."""
        return wrench_setting_nm(
            self.target.value, length_mm(self.wrench), self.extension.value, self.angle.value
        )

    def picture(self) -> str:
        shown = self.wrench.scale.held(self.setting)
        return wrench_picture(
            self.wrench,
            shown,
            extension_mm=self.extension.value,
            angle_deg=self.angle.value,
            uid=self.uid,
            title="Torque wrench with an extension",
        )

    def words(self) -> str:
        if not self.extension.value:
            return f"Without an extension, set what you want: {nm(self.target.value)}."
        side = self.direction
        sense = {
            "less": "longer, so set less",
            "more": "shorter, so set more",
            "the same": "as long as before",
        }
        return f"The extension makes the lever {sense[side]}: {nm(self.setting)}."

    @property
    def direction(self) -> str:
        """Whether to set less or more than wanted, or the same."""
        off = self.setting - self.target.value
        return "the same" if abs(off) < 0.05 else "less" if off < 0 else "more"

    def facts(self) -> Sequence[Sequence[str]]:
        wrench_mm, wanted = length_mm(self.wrench), self.target.value
        arm = wrench_mm * arm_share(wrench_mm, self.extension.value, self.angle.value)
        forgot = applied_nm(wanted, wrench_mm, self.extension.value, self.angle.value)
        return (
            ("What", "Value"),
            ("Lever of the wrench", mm_of(wrench_mm)),
            ("Lever from the hand to the bolt", mm_of(arm)),
            ("Set on the wrench", nm(self.setting)),
            ("If you forget the extension, the bolt gets", nm(forgot)),
        )

    def opening(self) -> str:
        return "Straight on, the extension makes the wrench longer. Now turn it."

    def changed(self, *_: object) -> None:
        """Draw again, and count it when the learner has found the angle that changes nothing."""
        self.refresh()
        if self.extension.value and self.direction == "the same":
            self.say(
                "Found: square to the wrench, the extension makes the lever neither longer nor shorter.",
                self.count("square", right=True),
            )
        elif self.extension.value and self.direction == "more":
            self.say("Folded back, the extension shortens the lever: you must set more than you want.")
        else:
            self.say(self.opening())


class SetWithExtension(Quiz):
    """What to set when an extension is on, and what the bolt got when somebody forgot it."""

    title = "What do you set with the extension?"
    task = "Take the lengths from the picture. Work out the torque, type it, and press Check."
    lesson = "11_reassembly_and_torque"
    topics = (STRAIGHT, ANGLED, GOT)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        case = extended_case(topic, difficulty, draw)
        return got_task(case) if topic == GOT else set_task(topic, case)

    def picture(self) -> str:
        case: Extended = self.asked.case
        return wrench_picture(
            case.wrench,
            case.set_nm,
            extension_mm=case.extension_mm,
            angle_deg=case.angle_deg,
            uid=self.uid,
            title="Torque wrench with an extension",
        )
