"""Replies to a stopping distance: right, or which mistake gives exactly that number."""

from __future__ import annotations

from brakecourse.published import convert
from brakecourse.trade import hydraulics
from brakecourse.views.force_replies import SHARE, snapped
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

FASTEST_KMH = 130


def distance_answer(speed_kmh: float, slowing_ms2: float, reaction_s: float) -> str:
    """Say how the way to a stop comes about."""
    speed = convert(speed_kmh, "km/hour", "m/s")
    whole = hydraulics.stopping_distance_m(speed_kmh, slowing_ms2, reaction_s)
    return (
        f"{number(speed, 2)} m/s × {number(reaction_s, 1)} s = {number(speed * reaction_s, 1)} m, plus "
        f"{number(speed, 2)}² ÷ (2 × {number(slowing_ms2)}) = {number(whole - speed * reaction_s, 1)} m: "
        f"together {both(whole, 'm')}."
    )


def distance_reply(answer_m: float, speed_kmh: float, slowing_ms2: float, reaction_s: float) -> Reply:
    """Judge the whole way to a stop, in m."""
    right = hydraulics.stopping_distance_m(speed_kmh, slowing_ms2, reaction_s)
    braking = hydraulics.stopping_distance_m(speed_kmh, slowing_ms2)
    unconverted = convert(speed_kmh, "m/s", "km/hour")  # the number of km/h taken for m/s
    mistakes = {
        "You left the reaction out. During it the vehicle runs on at full speed.": braking,
        "You put in the speed as km/h. Divide it by 3.6 first: the formula needs metres per second.": (
            hydraulics.stopping_distance_m(unconverted, slowing_ms2, reaction_s)
        ),
        "You forgot the 2 under the line: the braking way is v² ÷ (2 a).": right + braking,
        "That is the reaction alone. The braking way comes on top.": right - braking,
        "That is in feet. The answer was asked in metres.": convert(right, "m", "ft"),
    }
    if not reaction_s:
        mistakes = {words: value for words, value in mistakes.items() if "reaction" not in words}
    return number_reply(
        answer_m,
        right,
        snapped(answer_m, mistakes),
        unit="m",
        tolerance=max(0.2, SHARE * right),
        because=distance_answer(speed_kmh, slowing_ms2, reaction_s),
        hint="Speed in m/s times the reaction time, plus speed squared divided by twice the deceleration.",
    )


def fastest_kmh(gap_m: float, slowing_ms2: float, reaction_s: float) -> int:
    """Return the highest whole speed, in km/h, from which a vehicle stops within a distance.

    >>> fastest_kmh(42, 7.0, 1.0)
    65
    """
    return max(
        (
            speed
            for speed in range(1, FASTEST_KMH + 1)
            if hydraulics.stopping_distance_m(speed, slowing_ms2, reaction_s) <= gap_m + 1e-9
        ),
        default=0,
    )
