"""Checks with wrench, micrometer and dial indicator, and those for which calipers and rotors come off."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

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
from brakecourse.bench._wheel_records import CaliperCondition, FastenerSet
from brakecourse.bench.draw import Draw
from brakecourse.bench.gauges import dial_indicator, shop_micrometer

# How far the torque that turns a fastener on is from the one that it holds, as a share. Assumption,
# no source: threads stick.
HELD_TORQUE_SD = 0.05
LOOSE_SHARE, TIGHT_SHARE = 0.8, 1.2
FAR_ABOVE_TIMES = 1.7  # of the run-out's limit
PULL_SPREAD, TIGHT_PIN_SHARE = 0.08, 0.05  # of the clamp force of everyday braking
PUSH_SPREAD, HARD_TIMES = 0.15, 2.3  # of what a new caliper's pistons need
GRIP_SPREAD, GRIPS_N = 0.2, 60.0
FLAKE_SPREAD, FLAKE_MM = 0.25, 0.03
FLANGE_MM = 0.04
# How often a flake falls off unseen as the rotor comes off, and a tight pad is freed as it is knocked out.
FLAKE_LOST, PAD_FREED = 0.08, 0.05
# How often what lies open on the bench is overlooked. All of these: assumptions, no source.
OPEN_TO_VIEW = 0.02


def _torque(sets: Iterable[FastenerSet], draw: Draw) -> str:
    lows, highs = [], []
    for one in sets:
        lows.append(one.least_share + draw.normal(0.0, HELD_TORQUE_SD))
        highs.append(one.most_share + draw.normal(0.0, HELD_TORQUE_SD))
    # A loose fastener is told first: it is the one that comes off.
    if min(lows) < LOOSE_SHARE:
        return "loose"
    return "tight" if max(highs) >= TIGHT_SHARE else "as_asked"


def _nuts(seen: Seen, draw: Draw) -> str:
    return _torque([one.nuts for one in seen.condition.wheels], draw)


_NUTS = {
    "as_asked": "Every wheel nut holds about the maker's torque",
    "loose": "Wheel nuts are loose",
    "tight": "Wheel nuts are much too tight",
}


def _bolts(seen: Seen, draw: Draw) -> str:
    return _torque(
        [one for wheel in seen.condition.wheels for one in (wheel.bolts, wheel.bracket_bolts)], draw
    )


_BOLTS = {
    "as_asked": "Every caliper bolt and bracket bolt holds about the maker's torque",
    "loose": "Bolts of a caliper or bracket are loose",
    "tight": "Bolts of a caliper or bracket are much too tight",
}


@cache
def _gauges_u_mm() -> tuple[float, float, float]:
    """Standard uncertainty of a thickness, of a difference of two, and of a run-out."""
    micrometer, dial = shop_micrometer(0), dial_indicator()
    return (
        micrometer.standard_uncertainty_mm,
        micrometer.difference_uncertainty_mm,
        dial.difference_uncertainty_mm,
    )


def _thickness(seen: Seen, draw: Draw) -> str:
    thickness_u, difference_u, _ = _gauges_u_mm()
    above, over = [], []
    for brake, one in zip(seen.brakes, seen.condition.wheels, strict=True):
        above.append(one.rotor.smallest_mm + draw.normal(0.0, thickness_u) - brake.rotor.discard_mm)
        over.append(one.rotor.variation_mm + draw.normal(0.0, difference_u) - brake.rotor.max_variation_mm)
    if min(above) < 0:
        return "too_thin"
    return "varies" if max(over) > 0 else "within"


_THICKNESS = {
    "within": "Every rotor is thick enough, and even round the track",
    "varies": "The thickness of a rotor varies by more than its limit",
    "too_thin": "A rotor is thinner than its discard thickness",
}


def _run_out(seen: Seen, draw: Draw) -> str:
    over = [
        (one.rotor.run_out_mm + draw.normal(0.0, _gauges_u_mm()[2])) / brake.rotor.max_run_out_mm
        for brake, one in zip(seen.brakes, seen.condition.wheels, strict=True)
    ]
    return band(max(over), (1.0, FAR_ABOVE_TIMES), tuple(_RUN_OUT))


_RUN_OUT = {
    "within": "Every rotor runs true within its limit",
    "above": "The run-out of a rotor is above its limit",
    "far_above": "The run-out of a rotor is far above its limit",
}


def _pins(seen: Seen, draw: Draw) -> str:
    found = []
    for brake, one in zip(seen.brakes, seen.condition.wheels, strict=True):
        usual_n = service_clamp_n(brake, pressure_share(seen.vehicle.hydraulics, one.wheel))
        found.append(_drawn_pins(one.caliper, usual_n, draw))
    return next((word for word in ("swapped", "packed", "both_tight", "one_tight") if word in found), "free")


def _drawn_pins(caliper: CaliperCondition, usual_n: float, draw: Draw) -> str:
    swapped = noticed(caliper.pins_swapped, draw, OPEN_TO_VIEW, 0.0)
    packed = noticed(max(caliper.pin_gap_mm or (0.0,)) > 0, draw, OPEN_TO_VIEW, 0.0)
    pulls = [judged(pull_n, PULL_SPREAD, draw) for pull_n in caliper.pin_slide_n or (0.0, 0.0)]
    tight = sum(pull_n >= TIGHT_PIN_SHARE * usual_n for pull_n in pulls)
    if swapped:
        return "swapped"
    return "packed" if packed else ("free", "one_tight", "both_tight")[tight]


_PINS = {
    "free": "Every slide pin moves freely and is thinly greased",
    "one_tight": "One slide pin is tight in its bore",
    "both_tight": "Both slide pins of a caliper are tight",
    "packed": "A pin's bore is packed with grease, and the pin does not reach its seat",
    "swapped": "The two slide pins of a caliper sit in each other's bores",
}


def _faces(seen: Seen, draw: Draw) -> str:
    faces = {
        look for one in seen.condition.wheels for look in (*one.pads.inner_surface, *one.pads.outer_surface)
    }
    there = (
        ("greasy", "contaminated with grease" in faces),
        ("wet", "contaminated with brake fluid" in faces),
        ("patchy", "uneven transfer" in faces),
        ("glazed", "glazed" in faces),
    )
    return first_noticed(there, draw, "sound")


_FACES = {
    "sound": "The faces of all pads are sound",
    "glazed": "The faces of some pads are glazed: hard and shiny",
    "patchy": "The faces of some pads have never worn in evenly",
    "greasy": "There is grease on the face of a pad",
    "wet": "There is brake fluid on the face of a pad",
}


def _push_back(seen: Seen, draw: Draw) -> str:
    times = [
        judged(now.caliper.piston_push_back_n, PUSH_SPREAD, draw) / new.caliper.piston_push_back_n
        for now, new in zip(seen.condition.wheels, seen.usual.wheels, strict=True)
    ]
    return "hard" if max(times) >= HARD_TIMES else "easy"


_PUSH_BACK = {
    "easy": "Every piston goes back with an even, moderate push",
    "hard": "A piston goes back only with great force, or by jerks",
}


def _fit(seen: Seen, draw: Draw) -> str:
    grips = [
        judged(grip, GRIP_SPREAD, draw) for one in seen.condition.wheels for grip in one.caliper.pad_grip_n
    ]
    return "tight" if noticed(max(grips) >= GRIPS_N, draw, PAD_FREED) else "free"


_FIT = {
    "free": "Every pad moves in its bracket by hand",
    "tight": "A pad is tight in its bracket",
}


def _hub(seen: Seen, draw: Draw) -> str:
    flakes = [judged(one.rotor.debris_mm, FLAKE_SPREAD, draw) for one in seen.condition.wheels]
    dial_u = _gauges_u_mm()[2]
    bare = [one.rotor.flange_run_out_mm + draw.normal(0.0, dial_u) for one in seen.condition.wheels]
    if noticed(max(flakes) >= FLAKE_MM, draw, FLAKE_LOST):
        return "dirty"
    return "bent" if max(bare) >= FLANGE_MM else "true"


_HUB = {
    "true": "Every hub is clean, and its bare flange runs true",
    "dirty": "Rust or dirt lies between a hub and its rotor",
    "bent": "The clean, bare flange of a hub does not run true",
}

GAUGED: tuple[ShopCheck, ...] = (
    shop_check("wheel_nuts", "Check the torque of the wheel nuts before they come off", 8, _NUTS, _nuts),
    shop_check("bolts", "Check the torque of caliper bolts and bracket bolts", 10, _BOLTS, _bolts),
    shop_check(
        "thickness", "Micrometer: each rotor at eight places beside its caliper", 10, _THICKNESS, _thickness
    ),
    shop_check(
        "run_out", "Dial indicator: each rotor, all wheel nuts fitted and snug", 10, _RUN_OUT, _run_out
    ),
)
"""Checks with wrench and gauges, the calipers on."""

APART: tuple[ShopCheck, ...] = (
    shop_check(
        "pins_drawn", "Calipers off: draw the slide pins, one at a time", 30, _PINS, _pins, cheap=False
    ),
    shop_check("pad_faces", "Pads out: look at their faces", 25, _FACES, _faces, cheap=False),
    shop_check(
        "piston_push",
        "Calipers off: push the pistons back, bleeder open",
        20,
        _PUSH_BACK,
        _push_back,
        cheap=False,
    ),
    shop_check("pad_fit", "Calipers off: move the pads in their brackets", 20, _FIT, _fit, cheap=False),
    shop_check(
        "hub_face", "Rotors off: look at the hubs, dial on the bare flange", 35, _HUB, _hub, cheap=False
    ),
)
"""Checks for which calipers or rotors come off."""
