"""A pin that drags: choose pressure, drag and distance, and see which pad gets less and which wears."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.slide_pins import ForceSplit, pad_force_split_n
from brakecourse.views.activity import Activity
from brakecourse.views.bracket_case import EVERYDAY_MPA, cut_of, everyday_clamp_n
from brakecourse.views.bracket_replies import ratio_reply
from brakecourse.views.controls import AnswerBox, NumberPair, button, row
from brakecourse.views.drawings.slide_force import slide_force_svg
from brakecourse.views.units import both
from brakecourse.views.words import mm

FIRST_VEHICLE = "meals_delivery_van"
MOST_MPA, MOST_N, MOST_KM = 3.0, 3000, 40_000


class PinDrag(Activity):
    """A floating caliper cut through its pins, with the force on each pad and the linings wearing.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes which vehicles come after the first.
    """

    title = "A pin that drags"
    task = (
        "Set the drag of the pins and watch the arrows. Then let the vehicle run and watch the linings. Say "
        "how many times as fast the inner pad wears."
    )
    lesson = "09_bracket_and_pins"

    def __init__(self, name: str = "pin-drag", seed: int = 1, **more: Any) -> None:
        pool = {key: one for key, one in motor_pool().items() if one.front.caliper.pin is not None}
        others = [one for key, one in pool.items() if key != FIRST_VEHICLE]
        self.order = [pool[FIRST_VEHICLE], *Draw(seed).child("vehicles").shuffled(others)]
        self.number = 0
        super().__init__(name, **more)

    @property
    def vehicle(self) -> Vehicle:
        """Whose front caliper it is."""
        return self.order[self.number % len(self.order)]

    @property
    def clamp_n(self) -> float:
        """Force of the pistons."""
        return everyday_clamp_n(self.vehicle.front, self.pressure.value)

    @property
    def split(self) -> ForceSplit:
        """What presses each pad."""
        return pad_force_split_n(self.clamp_n, float(self.drag.value))

    @property
    def linings_mm(self) -> tuple[float, float]:
        """Lining left of the inner and the outer pad. The inner one wears as it always does."""
        pad, split = self.vehicle.front.pad, self.split
        worn = pad.wear_mm_per_1000km * self.distance.value / 1000
        outer = worn * split.outer_n / split.inner_n
        return max(0.0, pad.lining_new_mm - worn), max(0.0, pad.lining_new_mm - outer)

    def controls(self) -> Sequence[widgets.Widget]:
        self.pressure = NumberPair("Pressure in the caliper, in MPa", EVERYDAY_MPA, 0.5, MOST_MPA, 0.1)
        self.drag = NumberPair("Drag of both pins together, in N", 0, 0, MOST_N, 50)
        self.distance = NumberPair("Distance gone like that, in km", 0, 0, MOST_KM, 1000)
        for control in (self.pressure, self.drag, self.distance):
            control.on_change(self.refresh)
        return self.pressure, self.drag, self.distance

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("How many times as fast?", self.check, unit="")
        return self.answer, row(button("Another vehicle", self.new_task))

    def picture(self) -> str:
        inner, outer = self.linings_mm
        return slide_force_svg(
            cut_of(self.vehicle.front),
            self.clamp_n,
            float(self.drag.value),
            full_n=everyday_clamp_n(self.vehicle.front, MOST_MPA),
            inner_mm=inner,
            outer_mm=outer,
            uid=self.uid,
            title=f"Front caliper of the {self.vehicle.name}, cut through its pins",
        )

    def words(self) -> str:
        inner, outer = self.linings_mm
        worn = " The inner lining is used up." if not inner else ""
        same = "both pads are pressed alike" if not self.drag.value else "the outer pad is pressed less"
        if not self.split.outer_n:
            same = "the outer pad is not pressed at all"
        pins = f"pins dragging with {both(self.drag.value, 'N')}" if self.drag.value else "pins free"
        return (
            f"The {self.vehicle.name} at {both(self.pressure.value, 'MPa', 1)}, {pins}: {same}. "
            f"After {both(self.distance.value, 'km')} the linings are "
            f"{mm(inner, 1)} inside and {mm(outer, 1)} outside.{worn}"
        )

    def facts(self) -> Sequence[Sequence[str]]:
        split = self.split
        return (
            ("Pad", "Pressed with", "Lining left"),
            ("Inner pad", both(split.inner_n, "N"), mm(self.linings_mm[0], 1)),
            ("Outer pad", both(split.outer_n, "N"), mm(self.linings_mm[1], 1)),
        )

    def opening(self) -> str:
        return (
            "Begin with free pins. Then set a drag of 1000 N, and try it at low and at high pressure: where "
            "does it matter more?"
        )

    def check(self, typed: str) -> None:
        """Reply to a typed wear ratio."""
        clamp, drag = self.clamp_n, float(self.drag.value)
        if drag >= clamp:
            self.say("The outer pad gets nothing here and does not wear: there is no ratio. Set less drag.")
            return
        half = drag / 2
        key = (self.vehicle.key, round(self.pressure.value, 1), drag)
        self.judge(typed, lambda answer: ratio_reply(answer, clamp, (half, half)), key, unit="")

    def new_task(self) -> None:
        """Take the next vehicle, its pads new."""
        self.number += 1
        self.answer.clear()
        self.distance.value = 0
        self.say(self.opening())
        self.refresh()
