"""A flake of rust under the hat: choose its thickness and its place, turn the rotor, and watch the dial."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicles import motor_pool
from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, NumberPair, button, choice, row
from brakecourse.views.drawings.hub_section import hub_section_svg
from brakecourse.views.mating_fit import flake_dial_mm, size_of
from brakecourse.views.mating_replies import flake_reply
from brakecourse.views.words import mm

FIRST_VEHICLE = "dog_wardens_estate"
PLACES = {"at the chalk mark": 0, "a quarter turn on": 90, "half a turn on": 180, "three quarters on": 270}


class FlakeUnderHat(Activity):
    """A rotor with a flake of rust between hub and hat, and a dial on its track.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes which vehicles come after the first.
    """

    title = "A flake under the hat"
    task = (
        "Choose a flake and turn the rotor once round. Note the lowest and the highest reading. "
        "Type the total run-out and press Check."
    )
    lesson = "10_hub_and_rotor_fit"

    def __init__(self, name: str = "flake-under-hat", seed: int = 1, **more: Any) -> None:
        pool = motor_pool()
        others = [vehicle for key, vehicle in pool.items() if key != FIRST_VEHICLE]
        self.order = [pool[FIRST_VEHICLE], *Draw(seed).child("vehicles").shuffled(others)]
        self.number = 0
        super().__init__(name, **more)

    @property
    def vehicle(self) -> Any:
        """Whose front rotor it is."""
        return self.order[self.number % len(self.order)]

    def controls(self) -> Sequence[widgets.Widget]:
        self.flake = NumberPair("Thickness of the flake, in mm", 0.05, 0.0, 0.15, 0.01)
        self.place = choice("It lies at the edge of the seat,", list(PLACES), "at the chalk mark")
        self.angle = NumberPair("Turn the rotor, in degrees", 0, 0, 359, 1)
        for control in (self.flake, self.angle):
            control.on_change(self.refresh)
        self.place.observe(self.refresh, "value")
        return self.flake, self.place, self.angle, row(button("On by an eighth of a turn", self.next_place))

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("Total run-out in mm", self.check, unit="mm run-out")
        return self.answer, row(button("Another vehicle", self.new_task))

    def picture(self) -> str:
        flake, place, turned = self.flake.value, PLACES[self.place.value], int(self.angle.value)
        return hub_section_svg(
            size_of(self.vehicle),
            flake,
            uid=self.uid,
            flake_deg=place,
            turned_deg=turned,
            reading_mm=flake_dial_mm(self.vehicle, flake, place, turned),
            title="Rotor on its hub, cut through, with a dial on the track",
        )

    def words(self) -> str:
        turned = f"The rotor is turned {int(self.angle.value)}°."
        if not self.flake.value:
            return f"Nothing lies between hub and rotor. {turned}"
        return f"A flake of {mm(self.flake.value)} lies under the hat, {self.place.value}. {turned}"

    def facts(self) -> Sequence[Sequence[str]]:
        brake = self.vehicle.front
        return (
            ("What", "Value"),
            ("Seat radius s", mm(brake.seat_radius_mm, 1)),
            ("Measuring radius r", mm(brake.measuring_radius_mm, 1)),
            ("Largest total run-out allowed", mm(brake.rotor.max_run_out_mm)),
        )

    def opening(self) -> str:
        return (
            f"This is the {self.vehicle.name}. The dial stands at zero at the chalk mark. "
            "Say the run-out before you turn; then turn and see."
        )

    def next_place(self) -> None:
        """Turn on to the next of the eight places; after the eighth comes the first again."""
        self.angle.value = (int(self.angle.value) // 45 + 1) % 8 * 45

    def check(self, typed: str) -> None:
        """Reply to a typed run-out."""
        brake, flake = self.vehicle.front, round(self.flake.value, 4)
        self.judge(
            typed,
            lambda answer: flake_reply(answer, flake, brake.seat_radius_mm, brake.measuring_radius_mm),
            (self.vehicle.key, flake),
            "mm run-out",
        )

    def new_task(self) -> None:
        """Take the next vehicle; its sizes are others."""
        self.number += 1
        self.answer.clear()
        self.angle.value = 0
        self.say(self.opening())
        self.refresh()
