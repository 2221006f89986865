"""What is found on a wheel's pins, clips and piston, in words and as a table."""

from __future__ import annotations

from brakecourse.bench.roots import Pair
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import Wheel
from brakecourse.views.bracket_case import BracketCase
from brakecourse.views.pad_view import newtons
from brakecourse.views.units import both
from brakecourse.views.words import mm

Rows = tuple[tuple[str, ...], ...]
ENDS = ("leading", "trailing")
TRACE_MM = 0.05  # less rust than this is called a trace


def wheel_words(case: BracketCase) -> str:
    """Say which wheel it is: "the front left wheel of the minibus"."""
    return f"the {case.wheel} wheel of the {case.vehicle.name}"


def ml(volume_ml: float) -> str:
    """Write a volume of grease.

    >>> ml(0.487).replace(chr(160), " ")
    '0.49 mL (0.030 in³)'
    """
    return both(volume_ml, "mL", 2, 3)


def pair_n(forces: Pair) -> str:
    """Write two forces, leading and trailing.

    >>> pair_n((20, 20)).replace(chr(160), " ")
    '20 N (4.5 lbf) each'
    """
    if newtons(forces[0]) == newtons(forces[1]):
        return f"{newtons(forces[0])} each"
    return f"{newtons(forces[0])} and {newtons(forces[1])}"


def found_table(case: BracketCase, difficulty: Difficulty = "normal") -> Rows:
    """Return what hands and gauges found, as rows to show, the heads first.

    Args:
        case: the wheel.
        difficulty: ``"hard"`` leaves to the eye what the eye can find in the picture.
    """
    rows: list[tuple[str, ...]] = [
        ("Found (leading and trailing)", "This wheel", "The axle's other wheel"),
        ("Force that slides each pin", pair_n(case.slides_n()), pair_n(case.slides_n(case.partner))),
        ("Force that moves a pad's ear", _grips(case, case.wheel), _grips(case, case.partner)),
        ("Force that pushes the pistons back", push_words(case, case.wheel), push_words(case, case.partner)),
    ]
    if difficulty != "hard":
        rows += [
            ("Pin short of its seat", _short(case, case.wheel), _short(case, case.partner)),
            ("Grease in each bore", _grease(case, case.wheel), _grease(case, case.partner)),
            ("Most grease for each bore", ml(case.sums.limit_ml), ml(case.sums.limit_ml)),
            ("Rust under each clip", _rust(case, case.wheel), _rust(case, case.partner)),
        ]
    return (*rows, ("The pin with the flat belongs in the", "trailing bore", "trailing bore"))


def push_words(case: BracketCase, wheel: Wheel) -> str:
    """Write the force that pushes the pistons of a wheel back."""
    return newtons(case.condition.wheel(wheel).caliper.piston_push_back_n)


def _grips(case: BracketCase, wheel: Wheel) -> str:
    return pair_n(case.condition.wheel(wheel).caliper.pad_grip_n)


def _short(case: BracketCase, wheel: Wheel) -> str:
    gaps = case.condition.wheel(wheel).caliper.pin_gap_mm or (0.0, 0.0)
    if not any(gaps):
        return "both seated"
    return " and ".join(mm(gap, 1) if gap else "seated" for gap in gaps)


def _grease(case: BracketCase, wheel: Wheel) -> str:
    one, two = case.condition.wheel(wheel).caliper.grease_ml or (0.0, 0.0)
    return f"{ml(one)} and {ml(two)}"


def _rust(case: BracketCase, wheel: Wheel) -> str:
    words = [
        "a trace" if rust < TRACE_MM else mm(rust)
        for rust in case.condition.wheel(wheel).caliper.clip_rust_mm
    ]
    return "a trace each" if words == ["a trace", "a trace"] else " and ".join(words)
