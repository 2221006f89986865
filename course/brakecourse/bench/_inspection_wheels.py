"""Checks with the vehicle raised and the wheels off, the calipers still on."""

from __future__ import annotations

from brakecourse.bench._fluid_state import pressure_share
from brakecourse.bench._forces import service_clamp_n
from brakecourse.bench._inspection_base import (
    Seen,
    ShopCheck,
    band,
    first_noticed,
    judged,
    noticed,
    shop_check,
)
from brakecourse.bench._wheel_records import WheelCondition
from brakecourse.bench.draw import Draw

# How surely a hand or an eye judges, and from where it counts. All assumptions, no source.
HAND_SPREAD = 0.2
DRAGS_NM, DRAGS_HARD_NM = 3.2, 15.0
FREED_SHARE = 0.5  # of the drag that is left when "it has come free" is said
STEP_SPREAD, STEP_MM, RIDGE_MM = 0.2, 0.5, 0.9
STIFF_SHARE, SAME_TIMES = 0.10, 2.5  # of the clamp force of everyday braking; one pin over the other
SPRINGS_MM = 0.5


def _spin(seen: Seen, draw: Draw) -> str:
    felt = [judged(one.drag.torque_nm, HAND_SPREAD, draw) for one in seen.condition.wheels]
    if min(felt) >= DRAGS_NM:
        return "all_drag"
    return band(max(felt), (DRAGS_NM, DRAGS_HARD_NM), ("free", "drags", "drags_hard"))


_SPIN = {
    "free": "Every wheel turns freely by hand",
    "drags": "One wheel drags when it is turned by hand",
    "drags_hard": "One wheel can hardly be turned by hand",
    "all_drag": "All wheels drag when they are turned by hand",
}


def _release(seen: Seen, draw: Draw) -> str:
    drag = max((one.drag for one in seen.condition.wheels), key=lambda one: one.torque_nm)
    states = (drag.torque_nm, drag.fitting_opened_nm, drag.bleeder_opened_nm)
    found, fitting, bleeder = (judged(nm, HAND_SPREAD, draw) for nm in states)
    if found < DRAGS_NM:
        return "nothing_held"
    if fitting < FREED_SHARE * found:
        return "freed_by_fitting"
    return "freed_by_bleeder" if bleeder < FREED_SHARE * found else "still_drags"


_RELEASE = {
    "nothing_held": "No wheel is held, so there is nothing to let go",
    "freed_by_fitting": "The wheel comes free when the fitting between pipe and hose is opened",
    "freed_by_bleeder": "The wheel comes free only when the bleeder is opened",
    "still_drags": "The wheel drags although the bleeder is open",
}


def _track(seen: Seen, draw: Draw) -> str:
    looks = {look for one in seen.condition.wheels for look in one.rotor.looks}
    there = (
        ("grooved", "grooved" in looks),
        ("dark_spots", "dark spots" in looks),
        ("patches", "patches of friction material" in looks),
    )
    return first_noticed(there, draw, "smooth")


_TRACK = {
    "smooth": "Every rotor is smooth and of one colour round the track",
    "grooved": "A rotor is grooved: a fingernail catches",
    "dark_spots": "A rotor has dark spots round the track",
    "patches": "A rotor carries patches of friction material",
}


def _ridge(seen: Seen, draw: Draw) -> str:
    steps = [judged(one.pads.inner.step_mm, STEP_SPREAD, draw) for one in seen.condition.wheels]
    ridges = [judged(one.rotor.ridge_mm, STEP_SPREAD, draw) for one in seen.condition.wheels]
    if max(steps) >= STEP_MM:
        return "pads_on_ridge"
    return band(max(ridges), (RIDGE_MM,), ("low", "high"))


_RIDGE = {
    "low": "The ridges at the rotors' edges are low",
    "high": "A high ridge stands at a rotor's edge, clear of the pads",
    "pads_on_ridge": "A ridge has pressed a step into the edge of the pads",
}


def _boots(seen: Seen, draw: Draw) -> str:
    calipers = [one.caliper for one in seen.condition.wheels]
    there = (
        ("piston_boot", any(one.piston_boot_torn for one in calipers)),
        ("pin_boot", any(one.pin_boot_torn for one in calipers)),
    )
    return first_noticed(there, draw, "sound")


_BOOTS = {
    "sound": "Every rubber boot is sound",
    "piston_boot": "The boot of a piston is torn",
    "pin_boot": "The boot of a slide pin is torn",
}


def _slide(seen: Seen, draw: Draw) -> str:
    felt = [_slid(seen, place, one, draw) for place, one in enumerate(seen.condition.wheels)]
    return next(
        (word for word in ("springs_back", "loose", "both_tight", "one_tight") if word in felt), "slides"
    )


def _slid(seen: Seen, place: int, one: WheelCondition, draw: Draw) -> str:
    """What pushing and rocking one caliper tells; it is held back by its pins, or has none."""
    gap_mm = judged(max(one.caliper.pin_gap_mm or (0.0,)), HAND_SPREAD, draw)
    rattles = noticed(one.caliper.pins_swapped, draw, imagined=0.0)
    leading_n, trailing_n = one.caliper.pin_slide_n or (0.0, 0.0)
    ends = sorted((judged(leading_n, HAND_SPREAD, draw), judged(trailing_n, HAND_SPREAD, draw)))
    if gap_mm >= SPRINGS_MM:
        return "springs_back"
    usual_n = service_clamp_n(seen.brakes[place], pressure_share(seen.vehicle.hydraulics, one.wheel))
    if sum(ends) < STIFF_SHARE * usual_n:
        return "slides"
    if rattles:
        return "loose"
    return "one_tight" if ends[1] > SAME_TIMES * ends[0] else "both_tight"


_SLIDE = {
    "slides": "Every caliper that has slide pins slides by hand",
    "one_tight": "One caliper turns about one pin: that pin is tight",
    "both_tight": "One caliper hardly slides: both pins are tight",
    "springs_back": "One caliper comes back by itself when it has been pushed in",
    "loose": "One caliper is tight at one pin and rattles at the other",
}


WHEELS_OFF: tuple[ShopCheck, ...] = (
    shop_check("spin", "Raise the vehicle and turn each wheel by hand", 5, _SPIN, _spin),
    shop_check("release", "Where a wheel drags: open the fitting, then the bleeder", 8, _RELEASE, _release),
    shop_check("rotor_track", "Look at the rotors' tracks, both faces, with a lamp", 5, _TRACK, _track),
    shop_check(
        "rotor_ridge", "Feel the rotors' outer edges, look at the pads beside them", 4, _RIDGE, _ridge
    ),
    shop_check("boots", "Look at every rubber boot with lamp and mirror", 6, _BOOTS, _boots),
    shop_check("caliper_slide", "Push and rock each caliper by hand", 8, _SLIDE, _slide),
)
"""Checks with the wheels off and the calipers on."""
