"""How long must a rotor cool before the next braking? Guess by half-times, then let the minutes pass."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.burnish import wait_for_c
from brakecourse.views.activity import Activity
from brakecourse.views.burnish_pedal import RUNNING
from brakecourse.views.controls import AnswerBox, NumberPair, button, row
from brakecourse.views.drawings import curve_plot_svg
from brakecourse.views.pedal_strokes import LESSON
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.rotor_heat_tasks import after_wait_c, half_time_s
from brakecourse.views.units import both

MOST_MINUTES = 40
_NEAR_MINUTES = 1.0


class WaitCalculator(Activity):
    """A hot rotor, and minutes of driving without the brakes.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the cases after the lesson's own.
    """

    title = "How long must it cool?"
    task = (
        "Work out the minutes by halving the difference to the air, and check. "
        "Then move the minutes and watch the rotor cool."
    )
    lesson = LESSON

    def __init__(self, name: str = "wait-calculator", seed: int = 33, **more: Any) -> None:
        self.seed, self.number = seed, 0
        self.vehicle: Vehicle = motor_pool()[RUNNING]
        self.start_c, self.target_c, self.air_c = 260.0, 80.0, 20.0
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.minutes = NumberPair("Minutes without braking", 0, 0, MOST_MINUTES, 1)
        self.minutes.on_change(self.refresh)
        return (self.minutes,)

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("It must cool for, in minutes", self.check, unit="minutes")
        return self.answer, row(button("New case", self.new_case))

    @property
    def half_minutes(self) -> float:
        """This rotor's half-time, minutes."""
        return half_time_s(self.vehicle) / 60

    @property
    def wait_minutes(self) -> float:
        """The wait that is needed, minutes."""
        tau = self.vehicle.front.cooling_time_constant_s
        return wait_for_c(self.start_c, self.target_c, self.air_c, tau) / 60

    @property
    def now_c(self) -> float:
        """The rotor after the minutes that are set."""
        return self._at(self.minutes.value)

    def _at(self, minutes: float) -> float:
        return after_wait_c(self.vehicle, self.start_c, 60 * minutes, self.air_c)

    def picture(self) -> str:
        shown = self.minutes.value
        # The curve goes as far as the minutes do, so it does not tell the answer before they pass.
        points = [(0.0, self.start_c), (MOST_MINUTES / 400, self._at(MOST_MINUTES / 400))]
        points += [(minute / 2, self._at(minute / 2)) for minute in range(1, 2 * int(shown) + 1)]
        axis = [(0.0, self.air_c), (float(MOST_MINUTES), self.air_c)]
        return curve_plot_svg(
            [("front rotor", points), ("the air", axis)],
            x_label="minutes without braking",
            y_label="temperature, °C",
            uid=self.uid,
            title=self.title,
            limit=self.target_c,
            limit_words="ready below this",
            marks=[(*points[-1], "now")],
        )

    def words(self) -> str:
        if self.minutes.value == 0:
            return f"The rotor is at {both(self.start_c, '°C')}. No minute has passed."
        passed = "1 minute" if self.minutes.value == 1 else f"{self.minutes.value:.0f} minutes"
        return f"After {passed} without braking the rotor is at {both(self.now_c, '°C')}."

    def facts(self) -> Sequence[Sequence[str]]:
        return (
            ("Fact", "Value"),
            ("Vehicle", f"{self.vehicle.name}, {self.vehicle.fleet_number} (invented)"),
            ("The rotor now", both(self.start_c, "°C")),
            ("Ready for the next braking at", both(self.target_c, "°C")),
            ("Air", both(self.air_c, "°C")),
            ("Half-time while driving", both(self.half_minutes, "minutes", 1)),
        )

    def opening(self) -> str:
        return "How many half-times, and how many minutes are that?"

    def check(self, typed: str) -> None:
        """Reply to a typed number of minutes."""
        self.judge(typed, self.rule, ("wait", self.number), "minutes")

    def rule(self, answer: float) -> Reply:
        """Return the reply to a number of minutes."""
        half, wait = self.half_minutes, self.wait_minutes
        wrong = {
            "You halved the temperature. It is the difference to the air that halves.": (
                half * math.log2(self.start_c / self.target_c)
            ),
            "That is the number of half-times. Times the half-time gives minutes.": wait / half,
            "That is one half-time. Then half of the difference is still there.": half,
            "That is in seconds. 60 s are a minute.": 60 * wait,
            "That leaves out the cooling: without a wait the rotor is as hot as it was.": 0.0,
        }
        return number_reply(
            answer,
            wait,
            wrong,
            unit="minutes",
            tolerance=_NEAR_MINUTES,
            because=(
                f"The difference to the air falls from {self.start_c - self.air_c:.0f} to "
                f"{self.target_c - self.air_c:.0f} °C: {wait / half:.1f} half-times of {half:.1f} minutes."
            ),
            hint="Halve the difference to the air, again and again, and count until it is small enough.",
            places=1,
        )

    def new_case(self) -> None:
        """Take another vehicle and other temperatures."""
        self.number += 1
        draw = Draw(self.seed).child(f"wait {self.number}")
        fits = [one for one in motor_pool().values() if 2.5 * half_time_s(one) / 60 <= MOST_MINUTES]
        self.vehicle = draw.choice(fits)
        self.air_c = float(draw.choice((0, 10, 20, 30)))
        halvings = draw.choice((1, 1.5, 2, 2.5))
        self.start_c = float(10 * draw.integer(18, 32))
        self.target_c = round(self.air_c + (self.start_c - self.air_c) * 0.5**halvings)
        self.answer.clear()
        self.minutes.value = 0
        self.say(self.opening())
        self.refresh()
