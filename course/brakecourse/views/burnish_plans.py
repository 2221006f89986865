"""Plan a bedding-in and judge it against the pad maker's band: pure functions over the trade."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from brakecourse.bench.reference import PAD_LIMIT_C, PAD_WORKING_C, burnish_vehicle
from brakecourse.bench.vehicles import Vehicle
from brakecourse.published import convert
from brakecourse.trade import burnish
from brakecourse.trade.hydraulics import stopping_distance_m
from brakecourse.views.units import both

LIMIT_C, WORKING_C = PAD_LIMIT_C, PAD_WORKING_C

ROAD, REGULATION, OWN = "road", "regulation", "own numbers"
Verdict = Literal["passes", "overheats", "stays too cool"]
_STEPS = 3  # parts of the curve in each pause
_MANY = 60  # brakings; of more, the picture shows every second, third … one


@dataclass(frozen=True)
class OwnNumbers:
    """A schedule of the learner's own.

    Attributes:
        count: how many stops, and as many slowdowns.
        low_mph: the stops begin here, and the slowdowns end here.
        high_mph: the slowdowns begin here.
        pause_s: driving without brakes between two brakings.
    """

    count: int
    low_mph: float
    high_mph: float
    pause_s: float


@dataclass(frozen=True)
class Outcome:
    """What a bedding-in comes to.

    Attributes:
        vehicle: for which vehicle.
        air_c: temperature of the air.
        schedule: its brakings.
        brakings: what happens in each.
    """

    vehicle: Vehicle
    air_c: float
    schedule: burnish.Schedule
    brakings: tuple[burnish.Braking, ...]

    @property
    def hottest(self) -> burnish.Braking:
        """The braking in which the rotor is hottest."""
        return max(self.brakings, key=lambda one: one.peak_c)

    @property
    def first_over(self) -> burnish.Braking | None:
        """The first braking that passes the limit."""
        return next((one for one in self.brakings if one.peak_c > LIMIT_C), None)

    @property
    def verdict(self) -> Verdict:
        """What the pad maker would say."""
        if self.first_over:
            return "overheats"
        return "passes" if self.hottest.peak_c >= WORKING_C else "stays too cool"

    @property
    def minutes(self) -> float:
        """From the first braking to the end of the last."""
        return self.brakings[-1].end_s / 60

    def with_waits(self) -> burnish.Plan | None:
        """Return the same schedule with as much waiting as keeps the limit; None when none is enough."""
        try:
            return burnish.plan(burnish_vehicle(self.vehicle, self.air_c), LIMIT_C, self.schedule)
        except ValueError:
            return None


def schedule_of(name: str, own: OwnNumbers) -> burnish.Schedule:
    """Return a schedule by the name that the learner chose.

    Raises:
        ValueError: the name is none of the three, or the own speeds do not fall.
    """
    if name in (ROAD, REGULATION):
        return burnish.burnish_schedule("road" if name == ROAD else "regulation")
    if name != OWN:
        raise ValueError(f"One of {ROAD}, {REGULATION}, {OWN} was expected, but got {name!r}.")
    hard = burnish.peak_deceleration_ms2(burnish.burnish_schedule("road"))
    low, high = (convert(mph, "mph", "km/h") for mph in (own.low_mph, own.high_mph))
    series = (
        burnish.Series(own.count, low, 0.0, hard, own.pause_s),
        burnish.Series(own.count, high, low, hard, own.pause_s),
    )
    return burnish.Schedule(OWN, series, "The learner's own; deceleration as in the road schedule.")


def outcome(vehicle: Vehicle, air_c: float, schedule: burnish.Schedule) -> Outcome:
    """Return what a schedule does to a front rotor of a vehicle."""
    return Outcome(vehicle, air_c, schedule, burnish.simulate(schedule, burnish_vehicle(vehicle, air_c)))


def curve(brakings: Sequence[burnish.Braking], vehicle: Vehicle, air_c: float) -> list[tuple[float, float]]:
    """Return the rotor's temperature over the minutes: up in each braking, down in each pause.

    Of very many brakings only some are drawn, the first and the last among them.
    """
    tau = vehicle.front.cooling_time_constant_s
    points: list[tuple[float, float]] = []
    every = -(-len(brakings) // _MANY)
    steps = _STEPS if every == 1 else 1  # else a pause is too short for its bend to show
    before: burnish.Braking | None = None
    for one in [*brakings[:-1:every], brakings[-1]]:
        if before and every == 1:
            pause = one.start_s - before.end_s
            points += [
                (
                    (before.end_s + pause * step / steps) / 60,
                    burnish.cool_c(before.end_c, air_c, pause * step / steps, tau),
                )
                for step in range(1, steps)
            ]
        points += [(one.start_s / 60, one.start_c), (one.end_s / 60, max(one.end_c, one.peak_c))]
        before = one
    return [point for place, point in enumerate(points) if not place or point[0] > points[place - 1][0]]


def braking_distance_m(series: burnish.Series) -> float:
    """Return how far the vehicle goes in one braking of a series, m."""
    whole = stopping_distance_m(series.from_kmh, series.deceleration_ms2)
    rest = stopping_distance_m(series.to_kmh, series.deceleration_ms2) if series.to_kmh else 0.0
    return whole - rest


def verdict_words(one: Outcome) -> str:
    """Say what the pad maker would say, and what to change."""
    hottest = one.hottest
    band = f"{both(WORKING_C, '°C')} to {both(LIMIT_C, '°C')}"
    if one.verdict == "passes":
        return (
            f"It passes: the rotor reaches {both(hottest.peak_c, '°C')}, inside the pad maker's {band}. "
            "It takes "
            f"{one.minutes:.0f} minutes. A plan is a guide: measure on the road."
        )
    if one.verdict == "stays too cool":
        return (
            f"It stays too cool: the rotor reaches only {both(hottest.peak_c, '°C')}, and the pads want "
            f"{both(WORKING_C, '°C')} once. Change: shorter pauses, more brakings, or a higher speed."
        )
    over = one.first_over
    assert over is not None  # that is what overheating means
    return (
        f"It overheats: braking {over.number} passes {both(LIMIT_C, '°C')}, and the rotor gets as hot as "
        f"{both(hottest.peak_c, '°C')}. {_change(one)}"
    )


def _change(one: Outcome) -> str:
    planned = one.with_waits()
    if planned is None:
        return "Change: a lower speed. One braking alone is too much, and no pause can help."
    return (
        f"Change: longer pauses ({_how_long(planned.waited_s)} more in all would do), "
        "fewer brakings, or a lower speed."
    )


def _how_long(seconds: float) -> str:
    """Write a wait: below a minute in whole seconds, rounded up so that it is enough."""
    return f"{math.ceil(seconds)} s" if seconds < 60 else f"{seconds / 60:.1f} minutes"
