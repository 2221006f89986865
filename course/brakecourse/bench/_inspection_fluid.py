"""Checks of the fluid, its level, and of wet places."""

from __future__ import annotations

import math
from functools import cache

from brakecourse.bench._inspection_base import (
    Seen,
    ShopCheck,
    band,
    first_noticed,
    judged,
    noticed,
    read,
    shop_check,
)
from brakecourse.bench._rotor_fitted import ROTOR_WEAR_SHARE
from brakecourse.bench.draw import Draw
from brakecourse.bench.fluid_gauges import BoilingTester, MoistureTester, boiling_tester, moisture_tester
from brakecourse.bench.length_gauges import LevelRule, level_rule
from brakecourse.bench.specification import AxleBrake
from brakecourse.trade.fluid import WheelWear, boiling_minima_c, boiling_point_c, explain_level

# How surely wear is told through the caliper's window, mm. Assumption, no source.
WEAR_U_MM = 0.15
# How far below the upper mark a reservoir is usually filled, and how surely that is known, mL. Assumption,
# no source.
FILLED_SHORT_ML, FILLED_U_ML = 2.0, 1.5
# From how much water on. Assumption, no source.
SOME_WATER_PERCENT, MUCH_WATER_PERCENT = 1.8, 2.8
# The boiling point is low when fluid with that much water would have it; below what the tester for water
# explains by that many degrees, water is not all. Assumptions, no source.
LOW_AS_WITH_PERCENT, UNEXPLAINED_C = 1.9, 18.0
# How often a test that can hardly be misread is. Assumption, no source.
RARELY = 0.02
SWOLLEN_SPREAD, SWOLLEN_SHARE = 0.3, 0.15
# How often fluid that ran along the hose is taken to come from the next part. Assumption, no source.
RAN_ALONG = 0.08
# How often soil on a pad is taken for a leak of the piston's seal. Assumption, no source.
TAKEN_FOR_LEAK = 0.15


@cache
def _level_rule(least_mm: float, most_mm: float) -> LevelRule:
    return level_rule(least_mm, most_mm)


def _level(seen: Seen, draw: Draw) -> str:
    system, condition = seen.vehicle.hydraulics, seen.condition
    rule = _level_rule(system.reservoir_min_mm, system.reservoir_max_mm)
    drop_mm = system.reservoir_max_mm - read(rule, condition.fluid.level_mm, draw)
    wear, unsure = [], []
    for brake, one in zip(seen.brakes, condition.wheels, strict=True):
        worn_mm = (one.pads.inner_worn_mm + one.pads.outer_worn_mm) / 2 + draw.normal(0.0, WEAR_U_MM)
        wear.append(_wear(brake, max(0.0, worn_mm)))
        unsure.append(_wear(brake, WEAR_U_MM).volume_ml)
    level_u_mm = rule.standard_uncertainty_at(condition.fluid.level_mm)
    ml_per_mm = system.reservoir_area_mm2 / 1000
    uncertainty = math.hypot(level_u_mm * ml_per_mm, FILLED_U_ML, *unsure)
    verdict = explain_level(drop_mm * ml_per_mm - FILLED_SHORT_ML, wear, uncertainty).verdict
    return {"wear explains it": "explained", "suspect a leak": "missing"}.get(verdict, "unclear")


def _wear(brake: AxleBrake, lining_mm: float) -> WheelWear:
    caliper = brake.caliper
    rotor_mm = ROTOR_WEAR_SHARE * 2 * lining_mm  # what a rotor usually loses beside its two pads
    return WheelWear(caliper.piston_bore_mm, caliper.pistons, lining_mm, rotor_mm, caliper.kind)


_LEVEL = {
    "explained": "The level has fallen no more than the pads' wear explains",
    "unclear": "The level does not tell whether fluid is missing",
    "missing": "More fluid is missing than the pads' wear explains",
}


@cache
def _moisture() -> MoistureTester:
    return moisture_tester()


@cache
def _boiler() -> BoilingTester:
    return boiling_tester()


def _water(seen: Seen, draw: Draw) -> str:
    shown = read(_moisture(), seen.condition.fluid.water_percent, draw)
    return band(shown, (SOME_WATER_PERCENT, MUCH_WATER_PERCENT), tuple(_WATER))


_WATER = {
    "little": "The tester shows little water in the fluid",
    "some": "The tester shows some water in the fluid",
    "much": "The tester shows much water in the fluid",
}


def _boiling(seen: Seen, draw: Draw) -> str:
    grade = seen.vehicle.hydraulics.fluid_grade
    boils_c = read(_boiler(), seen.condition.fluid.boiling_c, draw)
    water = read(_moisture(), seen.condition.fluid.water_percent, draw)
    if grade == "DOT 5":  # it takes up no water, so water explains nothing
        return "high" if boils_c >= boiling_minima_c(grade)[0] - UNEXPLAINED_C else "too_low"
    if boils_c >= boiling_point_c(grade, LOW_AS_WITH_PERCENT):
        return "high"
    return "low" if boils_c >= boiling_point_c(grade, water) - UNEXPLAINED_C else "too_low"


_BOILING = {
    "high": "The fluid boils where good fluid of its grade does",
    "low": "The fluid boils early, as the water in it explains",
    "too_low": "The fluid boils earlier than the water in it explains",
}


def _kind(seen: Seen, draw: Draw) -> str:
    fluid = seen.condition.fluid
    apart = noticed(fluid.present in ("DOT 5", "mineral oil"), draw, RARELY, RARELY)
    swollen = judged(fluid.seals_swollen, SWOLLEN_SPREAD, draw) >= SWOLLEN_SHARE
    if swollen:
        return "swollen"
    return "apart" if apart else "mixes"


_KIND = {
    "mixes": "A drop of the fluid mixes with water, and the cap's rubber is sound",
    "apart": "A drop of the fluid stays apart from water",
    "swollen": "The rubber of the reservoir's cap is swollen and soft",
}

_PLACES = {"hose": "hose", "fitting at the caliper": "fitting", "caliper piston's boot": "piston"}


def _wet(seen: Seen, draw: Draw) -> str:
    wheels = seen.condition.wheels
    wet = {_PLACES[place] for one in wheels for place in one.wet_places if place in _PLACES}
    soiled = any("contaminated with brake fluid" in one.pads.inner_surface for one in wheels)
    mistaken = draw.uniform() < TAKEN_FOR_LEAK
    ran_along = draw.uniform() < RAN_ALONG
    there = [(name, name in wet) for name in ("hose", "fitting")]
    there.append(("piston", "piston" in wet or (soiled and mistaken)))
    found = first_noticed(there, draw, "dry")
    return {"hose": "fitting", "fitting": "hose"}.get(found, found) if ran_along else found


_WET = {
    "dry": "Hoses, fittings and calipers are dry",
    "hose": "A hose is wet with fluid",
    "fitting": "The fitting between hose and caliper is wet with fluid",
    "piston": "The caliper is wet with fluid at its piston",
}


def _behind(seen: Seen, draw: Draw) -> str:
    return "wet" if noticed(bool(seen.condition.master_wet_places), draw) else "dry"


_BEHIND = {
    "dry": "It is dry behind the master cylinder",
    "wet": "It is wet behind the master cylinder, at the booster",
}

FLUID: tuple[ShopCheck, ...] = (
    shop_check("fluid_level", "Compare the fluid's level with the pads' wear", 8, _LEVEL, _level),
    shop_check("fluid_water", "Dip the moisture tester into the fluid", 2, _WATER, _water),
    shop_check("fluid_boiling", "Boil a sample of the fluid, compare with its water", 6, _BOILING, _boiling),
    shop_check("fluid_kind", "Put a drop of the fluid in water, feel the cap's rubber", 4, _KIND, _kind),
    shop_check("wet_wheels", "Look for fluid at hoses, fittings and calipers", 6, _WET, _wet),
    shop_check("wet_master", "Loosen the master cylinder and look behind it", 10, _BEHIND, _behind),
)
"""Checks of the fluid and of wet places."""
