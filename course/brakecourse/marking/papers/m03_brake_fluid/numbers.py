"""The numbers: both testers, the distance from the limit, the curve and the margin (3.1 to 3.5)."""

from __future__ import annotations

from typing import get_args

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m03_brake_fluid.truth import FluidTruth
from brakecourse.marking.readings import read_one
from brakecourse.published import convert
from brakecourse.trade.conformity import combine
from brakecourse.trade.fluid import (
    MOST_WATER_PERCENT,
    MixingGrade,
    boiling_minima_c,
    boiling_point_c,
    wet_water_percent,
)
from brakecourse.views.units import both
from brakecourse.views.words import number

slip = slips.slip

ROUNDED_C = 0.5
"""Temperatures are asked in whole °C, so rounding moves them by half of one."""

NEAR_C = 20.0
"""An own difference is built on when it lies within so many °C of the right one. Assumption, no source."""


def shown_f(truth: FluidTruth) -> int:
    """Return the number on the display, which is set to °F."""
    return round(convert(truth.boiling.reading, "degC", "degF"))


def water(truth: FluidTruth, _given: Given) -> Basis:
    """3.1: the water tester."""
    read = truth.water
    line = tolerances.rounded(read.division)
    whole = int(read.reading + tolerances.FUZZ)
    lines = round((read.reading - whole) / read.division)
    where = f"{lines} {'line' if lines == 1 else 'lines'} past {whole}" if lines else f"at {whole}"
    return read_one(
        read,
        (
            slip("line_worth_wrong", whole + 2 * lines * read.division, line),
            slip("line_worth_wrong", whole + lines * read.division / 10, read.division / 10),
            slip("counted_backwards", whole + 1 - lines * read.division, line),
        ),
        how=f"The needle stands {where}, to the nearest line. A line is {number(read.division, 1)} %, so it "
        f"shows {number(read.reading, 1)} % of water.",
        places=1,
    )


def boiling(truth: FluidTruth, _given: Given) -> Basis:
    """3.2: the boiling-point tester, its display set to °F."""
    shown = shown_f(truth)
    return read_one(
        truth.boiling,
        (
            slip("fahrenheit_for_celsius", shown, ROUNDED_C),
            slip("fahrenheit_half_converted", shown - 32, ROUNDED_C),
            slip("fahrenheit_half_converted", shown / 1.8, ROUNDED_C),
            slip("converted_wrong_way", 1.8 * shown + 32, 2 * ROUNDED_C),
        ),
        how=f"The display is set to °F and shows {shown} °F. ({shown} − 32) ÷ 1.8 is "
        f"{both(truth.boiling.reading, '°C')}.",
        places=0,
    )


def from_limit(truth: FluidTruth, given: Given) -> Basis:
    """3.3: how far above the limit of its grade it boils."""
    boils, limit = given.number("3.2"), truth.wet_c
    right = boils - limit
    other = [one for one in get_args(MixingGrade) if one != truth.grade]
    return basis.number(
        right,
        tolerances.reading(truth.boiling.division),
        (
            slip("wet_dry_swapped", boils - truth.dry_c, ROUNDED_C),
            slip("sign_turned", -right, ROUNDED_C),
            slip("fahrenheit_difference", convert(right, "delta_degC", "delta_degF"), 2 * ROUNDED_C),
            slip("nothing_subtracted", boils, ROUNDED_C),
            *(slip("wrong_grade_row", boils - boiling_minima_c(one)[1], ROUNDED_C) for one in other),
            *(slip("wrong_grade_row", boils - boiling_minima_c(one)[0], ROUNDED_C) for one in other),
        ),
        how=f"Fluid from a vehicle is held against the wet limit. {number(boils, 0)} − {number(limit, 0)} is "
        f"{both(right, '°C rise')}.{' Below 0: it misses the limit.' if right < 0 else ''}",
        places=0,
        carried=ROUNDED_C,
        reach=NEAR_C,
    )


def curve_water(truth: FluidTruth, given: Given) -> float:
    """Return the water that the curve is asked at: the learner's own where the curve answers for it."""
    own = given.number("3.1")
    return own if 0 <= own <= MOST_WATER_PERCENT else truth.water.reading


def by_curve(truth: FluidTruth, given: Given) -> Basis:
    """3.4: where a fluid that just keeps its grade boils with that much water."""
    at, division = curve_water(truth, given), truth.water.division
    right = boiling_point_c(truth.grade, at)
    steep = abs(right - boiling_point_c(truth.grade, at - division)) / division if at >= division else 0.0
    dry, wet = boiling_minima_c(truth.grade)
    other = [one for one in get_args(MixingGrade) if one != truth.grade]
    return basis.number(
        right,
        # One line of the water tester, as the curve falls there, and the rounding to a whole degree.
        combine(ROUNDED_C, steep * tolerances.reading(division)),
        (
            slip("straight_line", dry + (wet - dry) * at / wet_water_percent(), ROUNDED_C),
            slip("limit_for_boiling_point", wet, ROUNDED_C),
            slip("limit_for_boiling_point", dry, ROUNDED_C),
            *(slip("wrong_grade_row", boiling_point_c(one, at), ROUNDED_C) for one in other),
            slip("fahrenheit_for_celsius", convert(right, "degC", "degF"), 2 * ROUNDED_C),
        ),
        how=f"The curve of {truth.grade} goes through its dry and its wet limit. With {number(at, 1)} % of "
        f"water it stands at {both(right, '°C')}.",
        places=0,
        carried=ROUNDED_C,
    )


def worst_margin(truth: FluidTruth, given: Given) -> Basis:
    """3.5: the margin on the long hill if the tester errs to the bad side."""
    boils, off, hot = given.number("3.2"), truth.boiling_limit_c, truth.hottest_c
    right = boils - off - hot
    dry, wet = boiling_minima_c(truth.grade)
    curve = round(boiling_point_c(truth.grade, truth.water.reading))
    none = " There is no margin left: vapour can form." if right <= 0 else ""
    return basis.number(
        right,
        tolerances.reading(truth.boiling.division),
        (
            slip("error_limit_left_out", right + off, ROUNDED_C),
            slip("error_limit_wrong_way", right + 2 * off, ROUNDED_C),
            slip("sign_turned", -right, ROUNDED_C),
            slip("fahrenheit_difference", convert(right, "delta_degC", "delta_degF"), 2 * ROUNDED_C),
            slip("nothing_subtracted", boils - off, ROUNDED_C),
            slip("nothing_subtracted", boils, ROUNDED_C),
            slip("limit_for_boiling_point", wet - off - hot, ROUNDED_C),
            slip("limit_for_boiling_point", wet - hot, ROUNDED_C),
            slip("limit_for_boiling_point", dry - off - hot, ROUNDED_C),
            slip("limit_for_boiling_point", dry - hot, ROUNDED_C),
            slip("curve_for_test", curve - off - hot, ROUNDED_C),
            slip("curve_for_test", curve - hot, ROUNDED_C),
        ),
        how=f"At its worst it boils {number(off, 0)} °C lower than the tester says. {number(boils, 0)} − "
        f"{number(off, 0)} − {number(hot, 0)} is {both(right, '°C rise')}.{none}",
        places=0,
        carried=ROUNDED_C,
        reach=NEAR_C,
    )
