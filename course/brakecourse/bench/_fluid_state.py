"""Fluid and reservoir: how much is missing and why, where it boils."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from brakecourse.bench._condition_records import FluidCondition
from brakecourse.bench._forces import SERVICE_PRESSURE_MPA
from brakecourse.bench._pads_worn import BRAKED_SHARE
from brakecourse.bench.roots import Roots
from brakecourse.bench.specification import WHEELS, Hydraulics
from brakecourse.trade.fluid import WheelWear, boiling_minima_c, boiling_point_c, level_drop_mm

# Mean speed of everyday driving. Assumption, no source.
MEAN_KMH = 40.0
# Water that silicone fluid holds without drops. Assumption, no source.
DROPS_FROM_PERCENT = 0.1
# Where drops of water boil: general knowledge, at one atmosphere.
WATER_BOILS_C = 100.0
# Where a mineral oil that was poured in by mistake boils. Assumption, no source: it is no brake fluid,
# and no grade speaks for it.
MINERAL_OIL_BOILS_C = 210.0


class Leaks(NamedTuple):
    """What leaves, mL a minute for each MPa of front line pressure.

    Attributes:
        outside: to the outside, at the wheels.
        booster: into the booster.
        bypass: back into the reservoir, inside the master cylinder.
    """

    outside: float
    booster: float
    bypass: float

    @property
    def past_pedal(self) -> float:
        """All that lets the pedal sink."""
        return self.outside + self.booster + self.bypass


def leaks(hydraulics: Hydraulics, roots: Roots) -> Leaks:
    """Return what leaves. The rear circuit's leaks see the rear pressure.

    Source:
        Slow flow through a narrow gap goes with the pressure (Hagen and Poiseuille, textbook).
    """
    shares = (pressure_share(hydraulics, wheel) for wheel in WHEELS)
    outside = sum(one.leak * share for one, share in zip(roots.wheels, shares, strict=True))
    return Leaks(outside, roots.booster_leak, roots.bypass)


def pressure_share(hydraulics: Hydraulics, wheel: str) -> float:
    """Return the pressure at a wheel over that in the front lines."""
    return 1.0 if wheel.startswith("front") else hydraulics.rear_pressure_share


def boiling_c(roots: Roots) -> float:
    """Return where the fluid boils, °C.

    Source:
        :func:`brakecourse.trade.fluid.boiling_point_c`; silicone fluid: its drops of water boil alone, common
        practice, no source; mineral oil: assumption, no source.
    """
    if roots.fluid == "mineral oil":
        return MINERAL_OIL_BOILS_C
    if roots.fluid == "DOT 5":
        return boiling_minima_c("DOT 5")[0] if roots.water_percent < DROPS_FROM_PERCENT else WATER_BOILS_C
    return boiling_point_c(roots.fluid, roots.water_percent)


def fluid_condition(
    hydraulics: Hydraulics, roots: Roots, km: float, wear: Sequence[WheelWear], hottest_c: float
) -> FluidCondition:
    """Return what fluid and reservoir show.

    Args:
        hydraulics: the system.
        roots: what is the matter.
        km: distance since the reservoir was filled.
        wear: what has worn at each wheel since then.
        hottest_c: how hot the fluid gets at the hottest wheel.

    Source:
        Conservation of volume. Leaks run while the brakes are on, at everyday pressure; ``BRAKED_SHARE``
        and ``MEAN_KMH``: assumptions, no source.
    """
    leak = leaks(hydraulics, roots)
    braked_min = BRAKED_SHARE * min(roots.leaking_km, km) / MEAN_KMH * 60
    outside_ml = leak.outside * SERVICE_PRESSURE_MPA * braked_min
    booster_ml = leak.booster * SERVICE_PRESSURE_MPA * braked_min
    wear_ml = sum(one.volume_ml for one in wear)
    drop_ml = roots.short_ml + wear_ml + outside_ml + booster_ml
    level_mm = hydraulics.reservoir_max_mm - level_drop_mm(drop_ml, hydraulics.reservoir_area_mm2)
    boils_c = boiling_c(roots)
    return FluidCondition(
        present=roots.fluid,
        water_percent=roots.water_percent,
        boiling_c=boils_c,
        hottest_c=hottest_c,
        vapour_margin_c=boils_c - hottest_c,
        seals_swollen=roots.seals_swollen,
        level_mm=max(0.0, level_mm),
        drop_ml=drop_ml,
        wear_explains_ml=wear_ml,
        lost_ml=outside_ml + booster_ml,
        booster_ml=booster_ml,
    )
