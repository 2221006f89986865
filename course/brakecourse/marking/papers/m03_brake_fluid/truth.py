"""What is true of the fluid behind a case, and how it is drawn."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import cast

from pydantic import Field

from brakecourse.bench.draw import Draw
from brakecourse.bench.fluid_gauges import boiling_tester, moisture_tester
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import OldFluid, VehicleFault, WrongFluid
from brakecourse.marking.papers.m03_brake_fluid.shelf import draw_book, draw_bottles
from brakecourse.marking.papers.m03_brake_fluid.steps import STEPS
from brakecourse.marking.readings import SealedReading, seal_reading
from brakecourse.marking.sealed import Finite, Truth
from brakecourse.trade.conformity import Decision, decide, guard_band
from brakecourse.trade.fluid import MixingGrade, boiling_minima_c
from brakecourse.views.drawings import Bottle

MODULE = "03_brake_fluid"
CONFIDENCE = 0.95
U_PLACES = 2
"""Decimal places of an uncertainty on the work order, in °C."""

SHARES: Mapping[str, float] = {"keep": 0.3, "too low": 0.25, "too close to call": 0.25, "wrong fluid": 0.2}
"""How often each is drawn. Assumption, no source."""

SWOLLEN_SHARE = 0.15
"""From here on the rubber is seen to be swollen, as in the lesson. Assumption, no source."""

ON_SCALE_PERCENT = (0.3, 3.85)
"""The needle of the water tester stands between the ends of its scale."""

CLOSE_C = 2.0
"""A reading too close to call lies no farther from the limit than this: one degree more stays so."""

_MOST_TRIES = 3000
_APART = ("DOT 5", "mineral oil")


class FluidTruth(Truth):
    """The fluid behind a case.

    Attributes:
        grade: the grade that the maker asks for.
        allowed: what the maker's book allows, the maker's own grade first.
        water: the water tester.
        boiling: the boiling-point tester, in °C; its display is set to °F.
        water_limit_percent, boiling_limit_c: how far each tester may be off, either way.
        boiling_u_c: standard uncertainty of the boiling-point reading, as printed on the work order.
        confidence: probability of a right decision that the guard band is made for.
        hottest_c: how hot the fluid gets on the long hill.
        stays_apart: a drop of the fluid stays apart from water.
        swollen: the rubber of the reservoir's cap is swollen.
        bottles: on the shelf, from the left.
        listed: the steps of the renewal in the order in which they are listed, by their short names.
    """

    grade: MixingGrade
    allowed: tuple[str, ...]
    water: SealedReading
    boiling: SealedReading
    water_limit_percent: Finite
    boiling_limit_c: Finite
    boiling_u_c: Finite
    confidence: Finite = Field(ge=0.5, lt=1)
    hottest_c: Finite
    stays_apart: bool
    swollen: bool
    bottles: tuple[Bottle, ...]
    listed: tuple[str, ...]

    @property
    def dry_c(self) -> float:
        """The dry limit of the maker's grade."""
        return boiling_minima_c(self.grade)[0]

    @property
    def wet_c(self) -> float:
        """The wet limit of the maker's grade."""
        return boiling_minima_c(self.grade)[1]

    @property
    def needed_c(self) -> float:
        """What the boiling point must be proven above: the higher of wet limit and hottest fluid."""
        return max(self.wet_c, self.hottest_c)

    @property
    def guard_c(self) -> float:
        """How far from a limit a boiling-point reading must be to decide."""
        return guard_band(self.boiling_u_c, self.confidence)

    def decision(self, boiling_c: float, limit_c: float | None = None, *, sure: bool = False) -> Decision:
        """Return what a boiling point proves about a limit.

        Args:
            boiling_c: the boiling point, °C.
            limit_c: the limit, °C; left out: the higher of the two.
            sure: as if the tester could not err.
        """
        limit = self.needed_c if limit_c is None else limit_c
        return decide(boiling_c, limit, "minimum", 0.0 if sure else self.boiling_u_c, self.confidence)


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> FluidTruth:
    """Draw a fluid that asks for what the situation says, whatever one reading's uncertainty does."""
    root = Draw(seed)
    drawn = root.child("situation").weighted(SHARES)
    wanted = next((one for one in SHARES if one == situation), drawn)
    for again in range(_MOST_TRIES):
        here = root.child(f"fluid {again}")
        kinds: tuple[type[VehicleFault], ...] = (WrongFluid,) if wanted == "wrong fluid" else (OldFluid,)
        faults = here.child("old or not").integer(0, 1) if wanted == "keep" else 1
        case = draw_vehicle(here.child("vehicle").integer(0, 10**9), faults, difficulty, kinds)
        truth = _truth(case, wanted, here)
        if _fits(truth):
            return truth
    raise RuntimeError(f"No fluid for {wanted!r} was found for seed {seed}; please report this.")


def _fits(truth: FluidTruth) -> bool:
    low, high = ON_SCALE_PERCENT
    wrong = truth.stays_apart or truth.swollen
    if not low <= truth.water.indication <= high or wrong != (truth.situation == "wrong fluid"):
        return False
    found = truth.decision(truth.boiling.reading)
    verdicts = {"keep": "within", "too low": "outside"}
    wanted = verdicts.get(truth.situation, found.verdict if wrong else "too close to call")
    return found.verdict == wanted and is_stable(truth)


def is_stable(truth: FluidTruth) -> bool:
    """Tell whether the decision stays when the reading moves by its own standard uncertainty.

    "Too close to call" need not: there the uncertainty is the answer, and the reading lies well inside.
    """
    found = truth.decision(truth.boiling.reading)
    if found.verdict == "too close to call":
        return abs(found.margin) <= CLOSE_C
    return abs(found.margin) >= math.ceil(truth.guard_c + truth.boiling_u_c)


def _truth(case: VehicleCase, situation: str, chance: Draw) -> FluidTruth:
    vehicle, fluid = case.vehicle, case.condition.fluid
    water, heat = moisture_tester(), boiling_tester()
    boiling = seal_reading(heat, heat.indicate_clear(fluid.boiling_c, chance.child("boiling")))
    grade = cast(MixingGrade, vehicle.hydraulics.fluid_grade)
    allowed = draw_book(grade, chance.child("book"))
    return FluidTruth(
        situation=situation,
        vehicle=vehicle.name,
        fleet_number=vehicle.fleet_number,
        complaint=case.complaint,
        grade=grade,
        allowed=allowed,
        water=seal_reading(water, water.indicate_clear(fluid.water_percent, chance.child("water"))),
        boiling=boiling,
        water_limit_percent=water.error_limit,
        boiling_limit_c=heat.error_limit,
        boiling_u_c=round(boiling.u, U_PLACES),
        confidence=CONFIDENCE,
        hottest_c=float(round(fluid.hottest_c)),
        stays_apart=fluid.present in _APART,
        swollen=fluid.seals_swollen >= SWOLLEN_SHARE,
        bottles=draw_bottles(allowed, chance.child("shelf")),
        listed=tuple(chance.child("steps").shuffled(list(STEPS))),
    )
