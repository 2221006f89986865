"""What the student gets to see: the two testers, the shelf, the limits of the grades, and the other tests."""

from __future__ import annotations

from typing import get_args

from brakecourse.marking.paper import Drawn, Sheet
from brakecourse.marking.papers.m03_brake_fluid.steps import STEPS
from brakecourse.marking.papers.m03_brake_fluid.truth import FluidTruth
from brakecourse.trade.conformity import guard_band
from brakecourse.trade.fluid import Grade, boiling_minima_c
from brakecourse.views.drawings import boiling_tester_svg, fluid_bottles_svg, moisture_tester_svg
from brakecourse.views.units import both
from brakecourse.views.words import number

NOTES = (
    "The limits of the grades are not invented: they are those of 49 CFR 571.116.",
    "Both testers stood in a sample from the reservoir, drawn where the maker's book says. The brakes were "
    "cold. The testers were clean and dry before use.",
    "The hottest fluid was worked out for the job sheet: the whole way down the long hill, with the usual "
    "load.",
)
WATER, BOILING, SHELF = "The water tester in the sample", "The boiling-point tester", "The shelf in the store"


def sheet(truth: FluidTruth) -> Sheet:
    """Return what the student gets to see."""
    return Sheet(
        facts=_facts(truth),
        notes=NOTES,
        drawings={
            "w1": Drawn(moisture_tester_svg(truth.water.indication, uid="w1"), WATER),
            "b1": Drawn(boiling_tester_svg(truth.boiling.reading, fahrenheit=True, uid="b1"), BOILING),
            "s1": Drawn(fluid_bottles_svg(truth.bottles, uid="s1"), SHELF),
        },
        shown={"3.1": ["w1"], "3.2": ["b1"], "3.7": ["s1"]},
        steps={"3.9": [STEPS[name] for name in truth.listed]},
    )


def _facts(truth: FluidTruth) -> tuple[tuple[str, str], ...]:
    factor = guard_band(1.0, truth.confidence)
    return (
        ("The maker's grade", f"{truth.grade}, in a system for glycol-based fluid"),
        ("The maker's book allows", " or ".join(truth.allowed)),
        *((f"Limits of {grade}", _limits(grade)) for grade in get_args(Grade)),
        ("Hottest fluid on the long hill", both(truth.hottest_c, "°C")),
        (
            "Water tester",
            f"lines of {number(truth.water.division, 1)} %; it may be off by "
            f"{number(truth.water_limit_percent, 1)} % either way",
        ),
        ("Boiling-point tester", f"may be off by {both(truth.boiling_limit_c, '°C rise')} either way"),
        (
            "A boiling-point reading: standard uncertainty",
            both(truth.boiling_u_c, "°C rise", 2, 2),
        ),
        (
            "Guard band",
            f"{number(factor, 3)} times the standard uncertainty, for "
            f"{number(100 * truth.confidence, 0)} % confidence",
        ),
        ("A drop of the fluid in a glass of water", "stays apart" if truth.stays_apart else "mixes"),
        ("Rubber of the reservoir's cap", "swollen and soft" if truth.swollen else "sound"),
    )


def _limits(grade: Grade) -> str:
    dry, wet = boiling_minima_c(grade)
    return f"dry at least {both(dry, '°C')}, wet at least {both(wet, '°C')}"
