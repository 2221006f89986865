"""The way to a stop: speed, deceleration and reaction time, on a road drawn to scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.trade.hydraulics import regulation_distance_m, stopping_distance_m
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair, button, row
from brakecourse.views.drawings.stopping_road import Strip, stopping_road_svg
from brakecourse.views.force_stop_replies import FASTEST_KMH, fastest_kmh
from brakecourse.views.force_tables import speed_words
from brakecourse.views.units import both
from brakecourse.views.words import number

ROADS = (("dry road", 7.0), ("wet road", 5.0), ("dry road, tired brakes", 4.0), ("icy road", 1.5))
"""Roads to practise on, and how hard a vehicle slows there, m/s². Assumptions, no source."""


class Danger(NamedTuple):
    """What a practice task asks: something lies ahead on a road."""

    gap_m: float
    road: str
    slowing_ms2: float
    reaction_s: float


class StoppingDistance(Activity):
    """Set speed, deceleration and reaction time, and see the way to a stop.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the tasks.
    """

    title = "How far until it stands?"
    task = (
        "Move the numbers and watch the road. Then set the highest speed from which the vehicle still stops "
        "in time, and press Check."
    )
    lesson = "04_pedal_to_pad"

    def __init__(self, name: str = "stopping-distance", seed: int = 4, **more: Any) -> None:
        self.seed, self.number = seed, 0
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.speed = NumberPair("Speed, in km/h", 80, 5, FASTEST_KMH, 1)
        self.slowing = NumberPair("Deceleration, in m/s²", 7.0, 1.0, 9.0, 0.1)
        self.reaction = NumberPair("Reaction time, in s", 1.0, 0.0, 2.5, 0.1)
        for pair in (self.speed, self.slowing, self.reaction):
            pair.on_change(self.refresh)
        return self.speed, self.slowing, self.reaction

    def answers(self) -> Sequence[widgets.Widget]:
        return (row(button("Check", self.check), button("New danger", self.new_task)),)

    @property
    def danger(self) -> Danger:
        """What lies ahead."""
        draw = Draw(self.seed).child(f"danger {self.number}")
        road, slowing = ROADS[0] if self.number == 0 else draw.choice(ROADS)
        gap = 5.0 * draw.integer(6, 16)
        return Danger(gap, road, slowing, draw.integer(8, 15) / 10)

    def strips(self) -> list[Strip]:
        """Return the stop that is set, one from half the speed, and what a test of vehicles allows."""
        speed, slowing, reaction = self.speed.value, self.slowing.value, self.reaction.value

        def strip(name: str, kmh: float) -> Strip:
            braking = stopping_distance_m(kmh, slowing)
            return Strip(name, stopping_distance_m(kmh, slowing, reaction) - braking, braking)

        rule = Strip(
            f"a test of light vehicles allows, from {speed:g} km/h", 0.0, regulation_distance_m(speed)
        )
        return [
            strip(f"your stop, from {speed:g} km/h", speed),
            strip("from half that speed", speed / 2),
            rule,
        ]

    def picture(self) -> str:
        return stopping_road_svg(self.strips(), gap_m=self.danger.gap_m, uid=self.uid)

    def words(self) -> str:
        yours, half, rule = self.strips()
        return (
            f"From {speed_words(self.speed.value)}: {both(yours.reaction_m, 'm')} reaction and "
            f"{both(yours.braking_m, 'm')} braking, together {both(yours.whole_m, 'm')}. "
            f"From half that speed: {both(half.whole_m, 'm')}. The test's formula gives "
            f"{both(rule.whole_m, 'm')}; it is from memory, counts from the touch of the pedal, and judges "
            "no vehicle."
        )

    def opening(self) -> str:
        ahead = self.danger
        return (
            f"Something lies in the way {both(ahead.gap_m, 'm', 0)} ahead. {ahead.road.capitalize()}: set "
            f"the deceleration to {number(ahead.slowing_ms2, 1)} m/s² and the reaction time to "
            f"{number(ahead.reaction_s, 1)} s, then find the speed."
        )

    def check(self) -> None:
        """Reply to the speed that is set."""
        ahead, speed = self.danger, self.speed.value
        if (
            abs(self.slowing.value - ahead.slowing_ms2) > 0.01
            or abs(self.reaction.value - ahead.reaction_s) > 0.01
        ):
            self.say(
                f"First set the deceleration to {number(ahead.slowing_ms2, 1)} m/s² and the reaction time to "
                f"{number(ahead.reaction_s, 1)} s: they belong to this road and this driver."
            )
            return
        most = fastest_kmh(ahead.gap_m, ahead.slowing_ms2, ahead.reaction_s)
        way = stopping_distance_m(speed, ahead.slowing_ms2, ahead.reaction_s)
        told = self.count((self.number, speed), right=speed == most)
        if speed == most:
            next_way = stopping_distance_m(speed + 1, ahead.slowing_ms2, ahead.reaction_s)
            self.say(
                f"Right: from {speed_words(speed)} it stands after {both(way, 'm')}. One km/h more would "
                f"need {both(next_way, 'm')}.",
                told,
            )
        elif speed > most:
            self.say(
                f"Not yet: from {speed_words(speed)} it needs {both(way, 'm')}, and only "
                f"{both(ahead.gap_m, 'm', 0)} are free. Go slower.",
                told,
            )
        else:
            self.say(
                f"Not yet: from {speed_words(speed)} it stands after {both(way, 'm')}. That is safe, but a "
                "higher speed still stops in time.",
                told,
            )

    def new_task(self) -> None:
        """Put something else in the way."""
        self.number += 1
        self.say(self.opening())
        self.refresh()
