"""Where brake fluid boils, dry and with water in it.

Form of the curve: **Raoult's law**, the ideal-mixture law of physical chemistry. Water and fluid each
push with their own vapour pressure, in proportion to their share of the molecules; the mixture boils
where the two together reach one atmosphere. Both vapour pressures follow the Clausius-Clapeyron form.
One number is free, the fluid's effective molar mass, and it is set so that the curve passes through
the wet point. For triethylene glycol it comes out within 1 percent of that substance's true molar mass.
"""

from __future__ import annotations

import math
from functools import cache
from typing import Literal, get_args

from brakecourse import published
from brakecourse.trade import _checks
from brakecourse.trade._decimals import difference

MixingGrade = Literal["DOT 3", "DOT 4", "DOT 5.1"]
Grade = Literal["DOT 3", "DOT 4", "DOT 5", "DOT 5.1"]

MOST_WATER_PERCENT = 6.0
"""Largest water content that the curve answers for: assumption, no source. Beyond it, it was not checked."""

MOST_DRY_C = 350.0
"""Highest dry boiling point that is taken, below water's critical point: assumption, no source."""

_WATER_BOILS_C = 100.0  # at one atmosphere; general knowledge
_WATER_G_MOL = 18.015  # general knowledge
_ENTROPY_RATIO = 88.0 / 8.3145
"""Trouton's rule: boiling takes about 88 J/(mol K); here over the gas constant. From memory, and of little
weight: with anything from 75 to 130 J/(mol K) no grade's curve moves by more than 4 °C."""


def boiling_minima_c(grade: Grade) -> tuple[float, float]:
    """Return the lowest boiling points that a grade allows, dry and wet.

    Args:
        grade: ``"DOT 3"``, ``"DOT 4"``, ``"DOT 5"`` or ``"DOT 5.1"``.

    Returns:
        ``(dry, wet)``, °C: fresh fluid, and fluid wetted as the law prescribes (about 3.7 percent water).

    Raises:
        ValueError: the grade is another word.

    Source:
        49 CFR 571.116, S5.1.1 and S5.1.2, read in restatements (the law's own text was not at hand).

    Example:
        >>> boiling_minima_c("DOT 4")
        (230.0, 155.0)
    """
    _checks.one_of(grade, "fluid grade", get_args(Grade))
    stem = "fluid_" + grade.lower().replace(" ", "").replace(".", "_")
    return published.value(f"{stem}_dry_erbp_min").value, published.value(f"{stem}_wet_erbp_min").value


def wet_water_percent() -> float:
    """Return the water content at which a grade's wet boiling point is stated: about 3.7 percent.

    Returns:
        Percent. Sources differ on whether it is by volume or by mass, so say "about".

    Source:
        49 CFR 571.116, S6.2, as restated in secondary sources.

    Example:
        >>> wet_water_percent()
        3.7
    """
    return published.value("fluid_wet_reference_water_secondary").value


def moist_boiling_c(water_percent: float, dry_c: float, wet_c: float, wet_water_percent: float) -> float:
    """Return where a fluid boils with some water in it, from its dry and its wet boiling point.

    The curve is Raoult's law (see the head of this module). It falls steeply at first and then flattens:
    a straight line from dry to wet would promise tens of degrees too much in the middle. It takes a
    perfectly mixed fluid at one atmosphere, and it holds between dry and wet; beyond the wet point it is
    an extrapolation, refused above 6 percent.

    Args:
        water_percent: water in the fluid, percent by mass, 0 to 6.
        dry_c: boiling point without water, °C, above 100 and up to 350.
        wet_c: boiling point at ``wet_water_percent``, °C, above 100 and below ``dry_c``.
        wet_water_percent: water content of the wet point, percent by mass, above 0, up to 6.

    Returns:
        Boiling point, °C, at one atmosphere.

    Raises:
        ValueError: a value is no number in its range, or the wet point is not below the dry one.

    Source:
        Raoult's law and the Clausius-Clapeyron relation, general physical chemistry; water's line through
        100 °C at one atmosphere and the published point at 1 MPa.

    Example:
        A fluid that boils at 250 °C dry and at 145 °C with 3 percent water:

        >>> round(moist_boiling_c(1.0, 250, 145, 3.0))
        177
    """
    water = _water(water_percent, "water in the fluid in percent")
    dry = _checks.within(dry_c, "dry boiling point in °C", _WATER_BOILS_C, MOST_DRY_C)
    wet = _checks.number(wet_c, "wet boiling point in °C")
    if not _WATER_BOILS_C < wet < dry:
        raise ValueError(
            f"wet boiling point in °C must be above {_WATER_BOILS_C:g} and below the dry one of {dry:g}, "
            f"but it was {wet!r}."
        )
    at = _water(wet_water_percent, "water at the wet boiling point in percent")
    _checks.positive(at, "water at the wet boiling point in percent")
    molar_mass = _effective_g_mol(dry, wet, at)
    moles = water / _WATER_G_MOL
    share = moles / (moles + (100 - water) / molar_mass)
    low, high = _WATER_BOILS_C, dry
    while low < (middle := (low + high) / 2) < high:
        if share * _water_pressure(middle) + (1 - share) * _fluid_pressure(middle, dry) > 1:
            high = middle
        else:
            low = middle
    return high


def boiling_point_c(grade: MixingGrade, water_percent: float) -> float:
    """Return where a fluid that only just keeps its grade boils, with some water in it.

    Through the grade's dry and wet minima; the form and its limits are those of :func:`moist_boiling_c`.
    A fluid can be better than its grade; only a test of the fluid in the vehicle tells. Silicone fluid
    (DOT 5) is refused: water does not mix with it but lies in it as drops (common practice, no source).

    Args:
        grade: ``"DOT 3"``, ``"DOT 4"`` or ``"DOT 5.1"``.
        water_percent: water in the fluid, percent by mass, 0 to 6.

    Returns:
        Boiling point, °C, at one atmosphere.

    Raises:
        ValueError: the grade is another word, or the water is no number from 0 to 6.

    Source:
        The two ends: 49 CFR 571.116, S5.1.1 and S5.1.2, in restatements. Between them: Raoult's law.

    Example:
        >>> boiling_point_c("DOT 4", 0)
        230.0
        >>> round(boiling_point_c("DOT 4", 2.0))
        172
    """
    _checks.one_of(grade, "grade of a fluid that mixes with water", get_args(MixingGrade))
    dry, wet = boiling_minima_c(grade)
    return moist_boiling_c(water_percent, dry, wet, wet_water_percent())


def vapour_margin_c(grade: MixingGrade, water_percent: float, fluid_temperature_c: float) -> float:
    """Return how far a fluid that only just keeps its grade is from boiling.

    Args:
        grade: ``"DOT 3"``, ``"DOT 4"`` or ``"DOT 5.1"``.
        water_percent: water in the fluid, percent by mass, 0 to 6.
        fluid_temperature_c: how warm the fluid gets at its hottest place, °C.

    Returns:
        Boiling point minus temperature, °C. At 0 or below, vapour can form when the pedal is let go, and the
        next press may find no brake.

    Raises:
        ValueError: the grade is another word, the water is outside 0 to 6, or the temperature is no number.

    Source:
        As :func:`boiling_point_c`.

    Example:
        DOT 3 with 3 percent water, at 150 °C on a long descent:

        >>> round(vapour_margin_c("DOT 3", 3.0, 150))
        -5
    """
    warm = _checks.number(fluid_temperature_c, "fluid temperature in °C")
    return difference(boiling_point_c(grade, water_percent), warm)


def _water(value: object, quantity: str) -> float:
    return _checks.within(value, quantity, 0.0, MOST_WATER_PERCENT)


def _effective_g_mol(dry: float, wet: float, water_percent: float) -> float:
    """Return the molar mass, g/mol, with which the curve passes through the wet point."""
    fluid = _fluid_pressure(wet, dry)
    share = (1 - fluid) / (_water_pressure(wet) - fluid)
    return share / (1 - share) * (100 - water_percent) / (water_percent / _WATER_G_MOL)


def _water_pressure(at_c: float) -> float:
    """Return water's vapour pressure in atmospheres."""
    return math.exp(_water_slope_k() * (1 / _kelvin(_WATER_BOILS_C) - 1 / _kelvin(at_c)))


@cache
def _water_slope_k() -> float:
    boils_c = published.value("lib_coolprop_water_tsat_1mpa").value
    atmosphere_pa = published.value("standard_atmosphere_pa").value
    return math.log(1e6 / atmosphere_pa) / (1 / _kelvin(_WATER_BOILS_C) - 1 / _kelvin(boils_c))


def _fluid_pressure(at_c: float, dry_c: float) -> float:
    """Return the dry fluid's vapour pressure in atmospheres: 1 where it boils."""
    return math.exp(_ENTROPY_RATIO * (1 - _kelvin(dry_c) / _kelvin(at_c)))


def _kelvin(celsius: float) -> float:
    return celsius + 273.15
