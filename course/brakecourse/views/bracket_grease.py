"""A pin's bore to be filled: more and more grease, until no air is left and the pin stops short."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.parts import SlidePin
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.slide_pins import free_volume_ml, seated_gap_mm
from brakecourse.views.activity import Activity
from brakecourse.views.bracket_drag import FIRST_VEHICLE
from brakecourse.views.bracket_replies import limit_reply
from brakecourse.views.bracket_sums import bore_rows, measures
from brakecourse.views.bracket_words import ml
from brakecourse.views.controls import AnswerBox, NumberPair, button, row
from brakecourse.views.drawings.pin_bore import pin_bore_svg
from brakecourse.views.words import mm

STEP_ML = 0.05


class GreaseFill(Activity):
    """A slide pin in its bore, cut lengthwise, and a slider for the grease.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes which vehicles come after the first.
    """

    title = "Fill the bore"
    task = (
        "Put grease in, a little at a time, and watch the air and the pin. Then work out the most grease for "
        "this bore."
    )
    lesson = "09_bracket_and_pins"

    def __init__(self, name: str = "grease-fill", seed: int = 1, **more: Any) -> None:
        pool = {key: one for key, one in motor_pool().items() if one.front.caliper.pin is not None}
        others = [one for key, one in pool.items() if key != FIRST_VEHICLE]
        self.order = [pool[FIRST_VEHICLE], *Draw(seed).child("vehicles").shuffled(others)]
        self.number = 0
        super().__init__(name, **more)

    @property
    def vehicle(self) -> Vehicle:
        """Whose front bracket it is."""
        return self.order[self.number % len(self.order)]

    @property
    def pin(self) -> SlidePin:
        """The pin and its bore."""
        pin = self.vehicle.front.caliper.pin
        if pin is None:
            raise ValueError(f"The {self.vehicle.name} has no slide pins in front.")
        return pin

    @property
    def grease_ml(self) -> float:
        """Grease in the bore."""
        return round(self.grease.value, 4)

    def controls(self) -> Sequence[widgets.Widget]:
        self.grease = NumberPair("Grease in the bore, in mL", 0.0, 0.0, self._most(), STEP_ML)
        self.grease.on_change(self.refresh)
        return self.grease, row(button("A little more", self.more))

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("Most grease for this bore, in mL", self.check, unit="mL")
        return self.answer, row(button("Another vehicle", self.new_task))

    def _most(self) -> float:
        """Return twice the free volume, in whole steps."""
        return round(2 * free_volume_ml(*measures(self.pin)) / STEP_ML) * STEP_ML

    def picture(self) -> str:
        bore, depth, shank, seated = measures(self.pin)
        return pin_bore_svg(
            self.grease_ml,
            bore_mm=bore,
            depth_mm=depth,
            pin_mm=shank,
            seated_mm=seated,
            uid=self.uid,
            title=f"Slide pin of the {self.vehicle.name} in its bore, cut lengthwise",
        )

    def words(self) -> str:
        held = f"The {self.vehicle.name}: {ml(self.grease_ml)} of grease in the bore."
        if not self.grease_ml:
            return f"The {self.vehicle.name}: the bore is dry, and the pin is at its seat."
        if self.grease_ml < free_volume_ml(*measures(self.pin)):
            return f"{held} The pin reaches its seat, and some air is left."
        return f"{held} No air is left, and the pin stops short of its seat. Read the rule."

    def facts(self) -> Sequence[Sequence[str]]:
        return bore_rows(self.pin, areas=False)

    def opening(self) -> str:
        return "Half of the free volume must stay air. Work out the free volume first: bore less pin."

    def more(self) -> None:
        """Put one step more grease in, as far as the slider goes."""
        self.grease.value = min(self.grease.slider.max, self.grease.value + STEP_ML)

    def check(self, typed: str) -> None:
        """Reply to a typed most grease; after the right answer, say how this filling compares."""
        pin, grease = self.pin, self.grease_ml
        if self.judge(typed, lambda answer: limit_reply(answer, pin), self.vehicle.key, unit="mL"):
            gap = seated_gap_mm(grease, *measures(pin))
            more = f" With your {ml(grease)} the pin stops {mm(gap, 1)} short." if gap else ""
            self.say(f"{self.reply()}{more}")

    def new_task(self) -> None:
        """Take the next vehicle, its bore dry."""
        self.number += 1
        self.answer.clear()
        self.grease.value = 0.0
        for control in (self.grease.slider, self.grease.box):
            control.max = self._most()
        self.say(self.opening())
        self.refresh()
