"""How a wheel's bracket is drawn: so that what is at fault can be told for sure."""

from __future__ import annotations

from dataclasses import asdict

from brakecourse.bench.bracket_cases import (
    EVERYDAY_MPA,
    TIGHT_SHARE,
    BracketCase,
    draw_bracket,
    seen_pins,
)
from brakecourse.bench.draw import Draw
from brakecourse.bench.shop_gauges import force_gauge
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import Wheel
from brakecourse.marking.papers.m09_bracket_and_pins.truth import (
    FAULT_OF,
    Bore,
    BracketTruth,
    Found,
    Seen,
    Two,
)
from brakecourse.marking.readings import SealedReading, seal_reading
from brakecourse.trade import slide_pins
from brakecourse.trade.job_order import sub_job

SHARES = {
    "dry": 0.16,
    "seized": 0.13,
    "packed": 0.15,
    "swapped": 0.12,
    "rust": 0.12,
    "piston": 0.07,
    "pin-boot": 0.12,
    "piston-boot": 0.06,
    "sound": 0.07,
}
"""How often each part is at fault."""

PART = "service the bracket"
MOST_TRIES = 300
GAUGES_N = (100.0, 500.0, 2500.0)
FULL_SHARE = 0.92  # a pull stays below this share of the gauge's scale
CLEAR_SHARE = 0.25
"""A pin's force lies farther than this share from where it begins to count as tight. Its gauge errs by less:
its standard uncertainty is at most 0.013 of the scale's end."""
CLEAR_TIMES = 2.0  # so many times the other wheel's force is no chance
GAPS_MM = (2.0, 6.0)
FORCE_STEP_N = 5


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> BracketTruth:
    """Draw one wheel with slide pins."""
    root = Draw(seed)
    wanted = situation if situation in SHARES else root.child("situation").weighted(SHARES)
    for again in range(MOST_TRIES):
        own = root.child(f"bracket {again}")
        case = draw_bracket(FAULT_OF[wanted], difficulty, own)
        if _is_clear(case, wanted):
            return _truth(case, wanted, own)
    raise RuntimeError(f"No wheel that clearly shows '{wanted}' was found for seed {seed}; please report it.")


def _truth(case: BracketCase, situation: str, draw: Draw) -> BracketTruth:
    pin, caliper = case.pin, case.brake.caliper
    bore = Bore(bore_mm=pin.bore_mm, depth_mm=pin.depth_mm, pin_mm=pin.pin_mm, seated_mm=pin.seated_length_mm)
    leading, trailing = seen_pins(case)
    return BracketTruth(
        situation=situation,
        vehicle=case.vehicle.name,
        fleet_number=case.vehicle.fleet_number,
        complaint=(
            f"The {case.vehicle.name} ({case.vehicle.fleet_number}) has come in for new pads. Its driver has "
            "noticed nothing, and asks whether the new ones will last."
        ),
        pressure_mpa=EVERYDAY_MPA,
        clamp_n=float(round(case.clamp_n)),
        pistons=caliper.pushing_pistons,
        piston_mm=caliper.piston_bore_mm,
        bore=bore,
        pulls=(_pull(case, 0, draw), _pull(case, 1, draw)),
        pins=(Seen(**asdict(leading)), Seen(**asdict(trailing))),
        piston_boot_torn=case.condition.wheel(case.wheel).caliper.piston_boot_torn,
        here=_found(case, case.wheel),
        other=_found(case, case.partner),
        pressed_in_ml=_pressed_in_ml(bore, draw),
        step_order=tuple(draw.child("steps").shuffled(sub_job(PART).ids)),
    )


def _pull(case: BracketCase, place: int, draw: Draw) -> SealedReading:
    """Pull one pin with the finest gauge that can."""
    true = (case.condition.wheel(case.wheel).caliper.pin_slide_n or (0.0, 0.0))[place]
    gauge = force_gauge(next(one for one in GAUGES_N if true <= FULL_SHARE * one))
    return seal_reading(gauge, gauge.indicate_clear(true, draw.child(f"pull {place}")))


def _found(case: BracketCase, wheel: Wheel) -> Found:
    caliper = case.condition.wheel(wheel).caliper
    return Found(
        wheel=wheel,
        slide_n=case.slides_n(wheel),
        grip_n=(_to_5(caliper.pad_grip_n[0]), _to_5(caliper.pad_grip_n[1])),
        push_back_n=_to_5(caliper.piston_push_back_n),
        gap_mm=_rounded(caliper.pin_gap_mm, 1),
        grease_ml=_rounded(caliper.grease_ml, 2),
        rust_mm=_rounded(caliper.clip_rust_mm, 1),
    )


def _rounded(values: tuple[float, float] | None, places: int) -> Two:
    one, two = values or (0.0, 0.0)
    return round(one, places), round(two, places)


def _to_5(force_n: float) -> float:
    return float(FORCE_STEP_N * round(force_n / FORCE_STEP_N))


def _pressed_in_ml(bore: Bore, draw: Draw) -> float:
    """Return grease, to 0.01 mL, that holds the pin a few millimetres off its seat."""
    area_ml = slide_pins.free_volume_ml(
        bore.bore_mm, bore.depth_mm, bore.pin_mm, bore.seated_mm - 1
    ) - slide_pins.free_volume_ml(*bore.measures)  # what one millimetre of the pin takes up
    gap_mm = draw.child("gap").between(*GAPS_MM)
    return round(slide_pins.free_volume_ml(*bore.measures) + gap_mm * area_ml, 2)


def _is_clear(case: BracketCase, situation: str) -> bool:
    slides, here = case.slides_n(), case.condition.wheel(case.wheel).caliper
    other = case.condition.wheel(case.partner).caliper
    if max(slides) > FULL_SHARE * GAUGES_N[-1]:
        return False
    tight = TIGHT_SHARE * case.clamp_n
    # The pins in each other's bores are told by the flat, not by their forces.
    if situation != "swapped" and any(abs(one - tight) < CLEAR_SHARE * tight for one in slides):
        return False
    if situation == "rust":
        return max(here.pad_grip_n) >= CLEAR_TIMES * max(other.pad_grip_n)
    if situation in ("piston", "piston-boot"):
        return here.piston_push_back_n >= CLEAR_TIMES * other.piston_push_back_n
    return True
