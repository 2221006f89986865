"""Plan a bedding-in: choose the brakings, see the rotor's temperature, and keep the pad maker's limit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.published import convert
from brakecourse.trade import burnish
from brakecourse.views.activity import Activity
from brakecourse.views.burnish_pedal import RUNNING
from brakecourse.views.burnish_plans import (
    LIMIT_C,
    OWN,
    REGULATION,
    ROAD,
    WORKING_C,
    Outcome,
    OwnNumbers,
    braking_distance_m,
    curve,
    outcome,
    schedule_of,
    verdict_words,
)
from brakecourse.views.controls import NumberPair, button, choice, dropdown, row
from brakecourse.views.drawings import curve_plot_svg
from brakecourse.views.pedal_strokes import LESSON
from brakecourse.views.units import both

_SCHEDULES = {
    "the road schedule": ROAD,
    "a regulation's schedule, for a test track": REGULATION,
    "my own numbers": OWN,
}


class BurnishPlanner(Activity):
    """A schedule of brakings, and the temperature curve that it makes.

    Args:
        name: a short name, one of its kind on the page.
    """

    title = "Plan the bedding-in"
    task = (
        "Choose a schedule and look at the curve. Then make a plan with your own numbers that passes, and "
        "press Check."
    )
    lesson = LESSON

    def __init__(self, name: str = "burnish-planner", **more: Any) -> None:
        self.waits: burnish.Plan | None = None
        self.outcome: Outcome
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        pool = motor_pool()
        self.names = {f"{one.name}, {one.fleet_number}": one for one in pool.values()}
        mine = pool[RUNNING]
        self.which = dropdown("Vehicle", list(self.names), f"{mine.name}, {mine.fleet_number}")
        self.schedule = choice("Schedule", list(_SCHEDULES), next(iter(_SCHEDULES)))
        self.air = NumberPair("Air, in °C", 20, -10, 40, 1)
        self.count_of = NumberPair("Brakings of each kind", 10, 1, 30, 1)
        self.low = NumberPair("Stops from, in mph", 20, 10, 30, 1)
        self.high = NumberPair("Slowdowns from, in mph", 40, 35, 70, 1)
        self.pause = NumberPair("Pause between brakings, in s", 30, 10, 180, 5)
        self.own = widgets.VBox([])
        self.outcome = self._outcome()
        for control in (self.which, self.schedule):
            control.observe(self.changed, "value")
        for pair in (self.air, *self._pairs()):
            pair.on_change(self.changed)
        return row(self.which, self.schedule), self.air, self.own

    def answers(self) -> Sequence[widgets.Widget]:
        return (row(button("Check", self.check), button("Show the waits it needs", self.show_waits)),)

    def _pairs(self) -> tuple[NumberPair, ...]:
        return self.count_of, self.low, self.high, self.pause

    @property
    def vehicle(self) -> Vehicle:
        """The chosen vehicle."""
        return self.names[self.which.value]

    def picture(self) -> str:
        one = self.outcome
        series = [("as planned", curve(one.brakings, one.vehicle, one.air_c))]
        if self.waits:
            series.append(("with the waits", curve(self.waits.brakings, one.vehicle, one.air_c)))
        return curve_plot_svg(
            series,
            x_label="minutes from the first braking",
            y_label="front rotor, °C",
            uid=self.uid,
            title=self.title,
            limit=LIMIT_C,
            limit_words="the pad maker's limit",
            band=(WORKING_C, LIMIT_C, "reach this once"),
        )

    def words(self) -> str:
        one = self.outcome
        return (
            f"The {one.vehicle.name} in air of {both(one.air_c, '°C')}: {len(one.brakings)} brakings in "
            f"{one.minutes:.0f} minutes and {both(burnish.distance_km(one.brakings), 'km')}. "
            f"The rotor reaches {both(one.hottest.peak_c, '°C')}."
        )

    def facts(self) -> Sequence[Sequence[str]]:
        rows = [("Brakings", "Each of them")]
        for series in self.outcome.schedule.series:
            end = _speed(series.to_kmh) if series.to_kmh else "standstill"
            ready = series.ready_below_c
            until = f"until {both(ready, '°C')}, or " if ready is not None else ""
            rows.append(
                (
                    f"{series.count} times from {_speed(series.from_kmh)} to {end}",
                    f"{both(braking_distance_m(series), 'm')} of road, "
                    f"then drive on {until}for {both(series.gap_s, 's')}",
                )
            )
        return rows

    def opening(self) -> str:
        return "Look where the curve ends, and press Check."

    def changed(self, *_: object) -> None:
        """Work out the plan anew."""
        self.own.children = self._pairs() if _SCHEDULES[self.schedule.value] == OWN else ()
        self.waits = None
        self.outcome = self._outcome()
        self.refresh()
        self.say(self.opening())

    def check(self) -> None:
        """Say what the pad maker would say of the plan."""
        one = self.outcome
        right = one.verdict == "passes"
        told = self.count((self.which.value, self.air.value, one.schedule), right=right)
        source = one.schedule.source if self.schedule.value == list(_SCHEDULES)[1] else ""
        self.say(verdict_words(one), source, told)

    def show_waits(self) -> None:
        """Add the curve with as much waiting as keeps the limit."""
        self.waits = self.outcome.with_waits()
        self.refresh()
        if self.waits is None:
            self.say("No wait can help: one braking alone, from cold, passes the limit. Lower the speed.")
        elif not self.waits.waited_s:
            self.say("It needs no wait: the limit is kept as it is.")
        else:
            self.say(self.waits.words)

    def _outcome(self) -> Outcome:
        numbers = OwnNumbers(int(self.count_of.value), self.low.value, self.high.value, self.pause.value)
        schedule = schedule_of(_SCHEDULES[self.schedule.value], numbers)
        return outcome(self.vehicle, self.air.value, schedule)


def _speed(kmh: float) -> str:
    return f"{convert(kmh, 'km/h', 'mph'):.0f} mph ({kmh:.0f} km/h)"
