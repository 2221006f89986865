"""Fill in a table: clamp force, torque and load of both axles of one vehicle."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.specification import AXLES, Axle
from brakecourse.views import force_replies as rules
from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, button, row
from brakecourse.views.drawings.force_flow import force_flow_svg
from brakecourse.views.force_chain import ForceChain, follow
from brakecourse.views.force_tables import pistons_words
from brakecourse.views.replies import Reply
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

CLAMP, TORQUE, LOAD = "clamp force", "torque of one wheel", "load while braking"
_UNITS = {CLAMP: "N", TORQUE: "N·m", LOAD: "N"}


class FrontAndRear(Activity):
    """One push, both axles: three numbers for each.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the vehicles and pushes.
    """

    title = "Front and rear side by side"
    task = (
        "Work out both columns. A right number is written into the table for you. The front axle gains "
        "while braking what the rear axle loses."
    )
    lesson = "04_pedal_to_pad"

    def __init__(self, name: str = "front-and-rear", seed: int = 7, **more: Any) -> None:
        self.seed, self.number = seed, 0
        self.found: dict[tuple[str, Axle], str] = {}
        self._draw()
        super().__init__(name, **more)

    def answers(self) -> Sequence[widgets.Widget]:
        self.boxes = {
            (what, axle): AnswerBox(
                f"{axle.capitalize()} {what}, in {unit}", self._checker(what, axle), unit=unit
            )
            for what, unit in _UNITS.items()
            for axle in AXLES
        }
        return *self.boxes.values(), row(button("New vehicle", self.new_task))

    def picture(self) -> str:
        done = len(self.found) == len(self.boxes)
        return force_flow_svg(
            self.vehicle, self.chain, upto="road" if done else "pressure", part="lower", uid=self.uid
        )

    def words(self) -> str:
        left = 2 * len(_UNITS) - len(self.found)
        done = "All six numbers are found." if not left else f"{left} of 6 numbers are still to find."
        return f"The {self.vehicle.name}, {both(self.chain.foot_n, 'N')} on the pedal. {done}"

    def facts(self) -> Sequence[Sequence[str]]:
        brakes = [self.vehicle.axle(axle) for axle in AXLES]
        pairs = (self.chain.front, self.chain.rear)
        rows = [
            ("What", "Front", "Rear"),
            ("Caliper", *(pistons_words(self.vehicle, axle) for axle in AXLES)),
            ("Pressure in the caliper", *(both(one.pressure_mpa, "MPa") for one in pairs)),
            ("Friction", *(number(one.pad.friction) for one in brakes)),
            ("Effective radius", *(mm(one.effective_radius_mm, 1) for one in brakes)),
            ("Load when standing", *(both(one.standing_n, "N") for one in pairs)),
            ("Moved by braking", both(self.moved_n, "N"), "the same, away from it"),
        ]
        rows += [
            (what.capitalize(), *(self.found.get((what, axle), "?") for axle in AXLES)) for what in _UNITS
        ]
        return rows

    def opening(self) -> str:
        return "Begin with the front clamp force: pressure times piston area."

    @property
    def moved_n(self) -> float:
        """The load that braking moves from the rear axle to the front axle."""
        return self.chain.front.braking_n - self.chain.front.standing_n

    def rule(self, what: str, axle: Axle) -> Callable[[float], Reply]:
        """Return what judges one number of the table."""
        chain, vehicle = self.chain, self.vehicle
        one, other = (chain.front, chain.rear) if axle == "front" else (chain.rear, chain.front)
        if what == CLAMP:
            return lambda answer: rules.clamp_reply(answer, vehicle, axle, one.pressure_mpa)
        if what == TORQUE:
            return lambda answer: rules.torque_reply(answer, vehicle, axle, one.clamp_n)
        return lambda answer: rules.load_reply(answer, one, other)

    def right(self, what: str, axle: Axle) -> float:
        """Return a number of the table."""
        one = self.chain.front if axle == "front" else self.chain.rear
        return {CLAMP: one.clamp_n, TORQUE: one.torque_nm, LOAD: one.braking_n}[what]

    def new_task(self) -> None:
        """Take another vehicle and another push."""
        self.number += 1
        self._draw()
        self.found.clear()
        for box in self.boxes.values():
            box.clear()
        self.say(self.opening())
        self.refresh()

    def _checker(self, what: str, axle: Axle) -> Callable[[str], None]:
        def check(typed: str) -> None:
            key = (self.number, what, axle)
            if self.judge(typed, self.rule(what, axle), key, unit=_UNITS[what]):
                self.found[what, axle] = both(self.right(what, axle), _UNITS[what])
                self.refresh()

        return check

    def _draw(self) -> None:
        draw = Draw(self.seed).child(f"vehicle {self.number}")
        pool = tuple(motor_pool().values())
        self.vehicle = motor_pool()["dog_wardens_estate"] if self.number == 0 else draw.choice(pool)
        self.chain: ForceChain = follow(self.vehicle, 10.0 * draw.integer(12, 26))
