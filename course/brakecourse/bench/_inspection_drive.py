"""Checks on a short drive, and with the foot on the pedal."""

from __future__ import annotations

from functools import cache

from brakecourse.bench._inspection_base import Seen, ShopCheck, band, first_noticed, judged, read, shop_check
from brakecourse.bench.complaints import FELT_VARIATION_MM
from brakecourse.bench.draw import Draw
from brakecourse.bench.heat_gauge import InfraredThermometer, infrared_thermometer
from brakecourse.bench.length_gauges import PedalRule, pedal_rule
from brakecourse.bench.specification import AXLES, WHEELS, axle_of

# How surely a person judges, and from where it counts. All assumptions, no source.
STOP_SPREAD, LONGER, MUCH_LONGER = 0.04, 1.10, 1.30
PULL_SD, PULLS, PULLS_HARD = 0.015, 0.05, 0.12
PULSE_SPREAD, PULSES_HARD_TIMES = 0.25, 2.5
WIND_C, WARMER_C, MUCH_HOTTER_C, ALL_HOT_C = 3.0, 14.0, 60.0, 30.0
LONG_PEDAL_TIMES = 1.08
SPRINGY_SPREAD, SPRINGY_SHARE = 0.35, 0.15
CREEPS_MM, SINKS_MM = 4.0, 20.0  # in one minute


def _stop(seen: Seen, draw: Draw) -> str:
    longer = seen.condition.road.stopping_distance_m / seen.usual.road.stopping_distance_m
    return band(judged(longer, STOP_SPREAD, draw), (LONGER, MUCH_LONGER), tuple(_STOP))


_STOP = {
    "usual": "It stops as such a vehicle should",
    "longer": "It needs a longer way to stop, or a harder push",
    "much_longer": "It needs a much longer way to stop",
}


def _pull(seen: Seen, draw: Draw) -> str:
    # The road's own slope pulls a little too, one way or the other.
    share = abs(seen.condition.road.pull_share + draw.normal(0.0, PULL_SD))
    return band(share, (PULLS, PULLS_HARD), tuple(_PULL))


_PULL = {
    "straight": "It stays straight when braking",
    "pulls": "It pulls a little to one side when braking",
    "pulls_hard": "It pulls hard to one side when braking",
}


def _pulse(seen: Seen, draw: Draw) -> str:
    variation = max(one.rotor.variation_mm for one in seen.condition.wheels)
    felt = judged(variation, PULSE_SPREAD, draw)
    return band(felt, (FELT_VARIATION_MM, PULSES_HARD_TIMES * FELT_VARIATION_MM), tuple(_PULSE))


_PULSE = {
    "smooth": "The pedal stays still at a gentle stop",
    "pulses": "The pedal pulses a little at a gentle stop",
    "pulses_hard": "The pedal pulses strongly, and the vehicle shakes",
}


def _noise(seen: Seen, draw: Draw) -> str:
    heard = seen.condition.noises
    grinds = "grinding when braking" in heard or "scraping when braking" in heard
    knocks = "clunk when braking starts" in heard or "rattle over bumps" in heard
    there = (
        ("grinds", grinds),
        ("rubs", "rubbing when rolling" in heard),
        ("knocks", knocks),
        ("squeals", "squeal when braking" in heard),
    )
    return first_noticed(there, draw, "quiet")


_NOISE = {
    "quiet": "Nothing is heard",
    "squeals": "The brakes squeal",
    "grinds": "The brakes grind or scrape",
    "knocks": "Something clunks when braking starts, or rattles over bumps",
    "rubs": "Something rubs while the vehicle rolls, foot off the pedal",
}


@cache
def _thermometer() -> InfraredThermometer:
    return infrared_thermometer("painted")


def _heat(seen: Seen, draw: Draw) -> str:
    shown = [
        read(_thermometer(), one.rotor_c + draw.normal(0.0, WIND_C), draw) for one in seen.condition.wheels
    ]
    if min(now - new.rotor_c for now, new in zip(shown, seen.usual.wheels, strict=True)) >= ALL_HOT_C:
        return "all_hot"
    by_wheel = dict(zip(WHEELS, shown, strict=True))
    pairs = [[by_wheel[wheel] for wheel in WHEELS if axle_of(wheel) == axle] for axle in AXLES]
    apart = max(abs(left - right) for left, right in pairs)
    return band(apart, (WARMER_C, MUCH_HOTTER_C), ("alike", "one_warmer", "one_much_hotter"))


_HEAT = {
    "alike": "Left and right rotor of each axle are about as warm",
    "one_warmer": "One rotor is clearly warmer than its partner",
    "one_much_hotter": "One rotor is very much hotter than its partner",
    "all_hot": "All rotors are much hotter than they should be",
}


@cache
def _rule() -> PedalRule:
    return pedal_rule()


def _travel(seen: Seen, draw: Draw) -> str:
    now, new = seen.condition.pedal, seen.usual.pedal
    once, pumped = read(_rule(), now.travel_mm, draw), read(_rule(), now.pumped_mm, draw)
    if once < LONG_PEDAL_TIMES * new.travel_mm:
        return "usual"
    return "long_pumps_up" if pumped < LONG_PEDAL_TIMES * new.pumped_mm else "long_stays"


_TRAVEL = {
    "usual": "The pedal goes down as far as it should",
    "long_pumps_up": "The pedal goes farther down, and quick strokes bring it up",
    "long_stays": "The pedal goes farther down, and quick strokes hardly bring it up",
}


def _feel(seen: Seen, draw: Draw) -> str:
    share = judged(seen.condition.pedal.spongy_share, SPRINGY_SPREAD, draw)
    return band(share, (SPRINGY_SHARE,), tuple(_FEEL))


_FEEL = {"firm": "The pedal is firm", "springy": "The pedal gives and springs back like a sponge"}


def _hold(seen: Seen, draw: Draw) -> str:
    # Two readings of the rule, a minute apart. The foot can sink no farther than to the floor.
    start = seen.condition.pedal.travel_mm
    room = seen.vehicle.hydraulics.pedal_room_mm
    end = min(room, start + seen.condition.pedal.sink_engine_running_mm_per_min)
    sunk = read(_rule(), end, draw) - read(_rule(), start, draw)
    return band(sunk, (CREEPS_MM, SINKS_MM), tuple(_HOLD))


_HOLD = {
    "stays": "The pedal stays where it is",
    "creeps": "The pedal creeps down while it is held",
    "sinks": "The pedal sinks fast while it is held",
}

DRIVE: tuple[ShopCheck, ...] = (
    shop_check("drive_stop", "Drive: stop with a set push on the pedal", 5, _STOP, _stop),
    shop_check("drive_pull", "Drive: take one hand off and brake on a level road", 3, _PULL, _pull),
    shop_check("drive_pulse", "Drive: brake gently from some speed, feel the pedal", 3, _PULSE, _pulse),
    shop_check("drive_noise", "Drive: listen, braking and rolling", 4, _NOISE, _noise),
    shop_check("drive_heat", "After a drive: compare the rotors' temperatures", 6, _HEAT, _heat),
    shop_check(
        "pedal_travel", "Measure the pedal's travel, then again after three strokes", 3, _TRAVEL, _travel
    ),
    shop_check("pedal_feel", "Press the pedal slowly and feel it", 1, _FEEL, _feel),
    shop_check("pedal_hold", "Hold the pedal down for a minute, engine running", 2, _HOLD, _hold),
)
"""Checks on a drive, and at the pedal."""
