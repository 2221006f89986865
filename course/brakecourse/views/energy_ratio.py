"""Compare the energy of two brakings: speed counts with its square."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.vehicles import motor_pool
from brakecourse.published import convert
from brakecourse.trade.burnish import stop_energy_j
from brakecourse.views.activity import Activity
from brakecourse.views.burnish_pedal import RUNNING
from brakecourse.views.controls import NumberPair, button, row
from brakecourse.views.drawings import energy_bars_svg
from brakecourse.views.pedal_strokes import LESSON
from brakecourse.views.units import both
from brakecourse.views.words import number

GOALS: tuple[tuple[float, str], ...] = (
    (4.0, "a second braking that ends at standstill and takes 4 times the energy of the first"),
    (1.0, "a second braking that does not end at standstill and takes just as much as the first"),
    (5.0, "a second braking that loses the same speed as the first and takes 5 times the energy"),
)
"""How many times the energy, and in words."""

_NEAR = 0.05  # of the wanted ratio


class EnergyRatio(Activity):
    """Two brakings of the lesson's vehicle, as bars.

    Args:
        name: a short name, one of its kind on the page.
    """

    title = "How many times the energy?"
    task = "Move the speeds and watch the bars. Then find what is asked below, and press Check."
    lesson = LESSON

    def __init__(self, name: str = "energy-ratio", **more: Any) -> None:
        self.vehicle = motor_pool()[RUNNING]
        self.goal = 0
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.first_from = NumberPair("First braking, from mph", 20, 5, 70, 1)
        self.first_to = NumberPair("First braking, down to mph", 0, 0, 65, 1)
        self.then_from = NumberPair("Second braking, from mph", 40, 5, 70, 1)
        self.then_to = NumberPair("Second braking, down to mph", 20, 0, 65, 1)
        pairs = (self.first_from, self.first_to, self.then_from, self.then_to)
        for pair in pairs:
            pair.on_change(self.changed)
        return pairs

    def answers(self) -> Sequence[widgets.Widget]:
        return (row(button("Check", self.check), button("Next task", self.next_goal)),)

    @property
    def speeds_mph(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """From and to of both brakings; an end that is not below its start counts as one mph below it."""
        pairs = ((self.first_from, self.first_to), (self.then_from, self.then_to))
        one, two = ((begin.value, min(end.value, begin.value - 1)) for begin, end in pairs)
        return one, two

    @property
    def energies_j(self) -> tuple[float, float]:
        """Energy of both brakings."""
        one, two = (
            stop_energy_j(self.vehicle.mass_kg, *(convert(mph, "mph", "km/h") for mph in pair))
            for pair in self.speeds_mph
        )
        return one, two

    @property
    def ratio(self) -> float:
        """How many times the first one's energy the second takes."""
        first, second = self.energies_j
        return second / first

    def picture(self) -> str:
        rows = [
            (
                f"{name}: {begin:.0f} to {end:.0f} mph",
                convert(begin, "mph", "km/h"),
                convert(end, "mph", "km/h"),
                joules,
                both(joules / 1000, "kJ", 0),
            )
            for name, (begin, end), joules in zip(
                ("First", "Second"), self.speeds_mph, self.energies_j, strict=True
            )
        ]
        return energy_bars_svg(rows, uid=self.uid, title=self.title)

    def words(self) -> str:
        return (
            f"The {self.vehicle.name}, {both(self.vehicle.mass_kg, 'kg')}. The second braking takes "
            f"{number(self.ratio, 2)} times the energy of the first."
        )

    def opening(self) -> str:
        return f"Task {self.goal + 1} of {len(GOALS)}: find {GOALS[self.goal][1]}."

    def changed(self, *_: object) -> None:
        """Draw again, and say so when a speed had to give way."""
        self.refresh()
        ends = ((self.first_from, self.first_to), (self.then_from, self.then_to))
        if any(end.value >= begin.value for begin, end in ends):
            self.say("A braking must end slower than it begins: the lower speed is taken as 1 mph less.")
        else:
            self.say(self.opening())

    def check(self) -> None:
        """Reply whether the two brakings fulfil the task."""
        wanted, _ = GOALS[self.goal]
        (first, second), key = self.speeds_mph, (self.goal, self.speeds_mph)
        kind = self._wrong_kind(first, second)
        right = not kind and abs(self.ratio - wanted) <= _NEAR * wanted
        told = self.count(key, right=right)
        if kind:
            self.say(f"Not yet. {kind}", told)
        elif right:
            self.say(f"Right: {number(self.ratio, 2)} times. {_BECAUSE[self.goal]}", told)
        else:
            side = "too much" if self.ratio > wanted else "too little"
            self.say(
                f"Not yet: {number(self.ratio, 2)} times is {side}; {wanted:.0f} times is asked.",
                "Square each speed, then subtract: that is what the bars follow.",
                told,
            )

    def _wrong_kind(self, first: tuple[float, float], second: tuple[float, float]) -> str:
        if self.goal == 0 and (second[1] or first[1]):
            return "Both brakings must end at standstill: set both lower speeds to 0."
        if self.goal == 1 and (not second[1] or second == first):
            return "The second braking must be another one, and must not end at standstill."
        if self.goal == 2 and first[0] - first[1] != second[0] - second[1]:
            return "Both brakings must lose the same speed, for example 20 mph each."
        return ""

    def next_goal(self) -> None:
        """Go to the next task."""
        self.goal = (self.goal + 1) % len(GOALS)
        self.say(self.opening())


_BECAUSE = (
    "Twice the speed, four times the energy: speed counts with its square.",
    "From high speed a small slowdown takes as much as a whole stop from low speed.",
    "The same speed lost takes more energy the faster the vehicle goes.",
)
