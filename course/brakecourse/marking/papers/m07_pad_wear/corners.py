"""7.1 to 7.4: the corners, and what they say."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Sequence

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m07_pad_wear.truth import PADS, PadTruth, corners_of
from brakecourse.marking.readings import read_row
from brakecourse.marking.sealed import SealedMistake
from brakecourse.trade.conformity import combine
from brakecourse.trade.pads import (
    PadReading,
    mean_lining_mm,
    pair_difference_mm,
    smallest_lining_mm,
    taper_mm,
)
from brakecourse.views.words import mm, number

slip = slips.slip

REACH_MM = 6.0
"""How far an honest thickness may lie from the right one: a backing plate, and a little more."""

EXACT_MM = 0.02
"""A slip that must give a tenth of a millimetre is recognised within a fifth of one."""

MEAN_ROUNDING_MM = 0.005
"""A mean is written to 0.01 mm, so rounding moves it by up to half of that."""


def readings(truth: PadTruth, _given: Given) -> Basis:
    """7.1: the depth gauge at the eight corners."""
    extra = [
        slip("half_millimetre_line", read.reading + off, EXACT_MM).model_copy(update={"place": place})
        for place, read in enumerate(truth.reads, start=1)
        for off in (-0.5, 0.5)
    ]
    inner, outer = corners_of(truth.readings_mm)
    how = (
        f"The gauge shows {_row(inner)} mm at the inner pad and {_row(outer)} mm at the outer pad: at each "
        "leading end outer and inner edge, then trailing end outer and inner edge. It reads the lining alone."
    )
    return read_row(truth.reads, extra, how=how, places=1)


def smallest(truth: PadTruth, given: Given) -> Basis:
    """7.2: the thinnest of the eight corners."""
    row = given.row("7.1")
    inner, outer = truth.pads(row)
    thin, thick = sorted((inner, outer), key=smallest_lining_mm)
    right, division = smallest_lining_mm(thin), truth.inner[0].division
    line = tolerances.rounded(division)
    return basis.number(
        right,
        tolerances.reading(division),
        told_apart(
            slip("best_corner", max(row), line),
            slip("best_corner", max(thin.corners_mm), line),
            slip("mean_of_corners", mean_lining_mm(thin), line),
            slip("other_pad", smallest_lining_mm(thick), line),
            slip("mean_of_corners", statistics.fmean(row), line),
            slip("backing_plate_included", right + truth.plate_mm, line),
            slip("half_millimetre_line", right - 0.5, line),
            slip("half_millimetre_line", right + 0.5, line),
            *slips.of_any_length(right, line),
        ),
        how=f"The thinnest of {_row(row)} mm is {mm(right, 1)}, on the {_which(thin is inner)}.",
        places=1,
        carried=tolerances.carried(division),
        reach=REACH_MM,
    )


def tapers(truth: PadTruth, given: Given) -> Basis:
    """7.3: taper lengthwise and in height of each pad."""
    pads, division = truth.pads(given.row("7.1")), truth.inner[0].division
    right = [taper_mm(pad, along) for pad in pads for along in ("length", "height")]
    places = [(pad, lengthwise) for pad in pads for lengthwise in (True, False)]
    found = [
        one.model_copy(update={"place": place})
        for place, (pad, lengthwise) in enumerate(places, start=1)
        for one in told_apart(*_taper_slips(pad, lengthwise))
    ]
    told = " ".join(
        f"{which.capitalize()}, lengthwise: {_worked(pad, True)}; in height: {_worked(pad, False)}."
        for which, pad in zip(PADS, pads, strict=True)
    )
    return basis.table(
        right,
        tolerances.difference(division),
        found,
        how=f"{told} The larger of the two differences counts each time.",
        places=1,
        carried=tolerances.carried_difference(division),
        reach=REACH_MM,
    )


def difference(truth: PadTruth, given: Given) -> Basis:
    """7.4: mean of the one pad less mean of the other."""
    row, division = given.row("7.1"), truth.inner[0].division
    inner, outer = truth.pads(row)
    means = (mean_lining_mm(inner), mean_lining_mm(outer))
    right = pair_difference_mm(inner, outer)
    rounding = combine(MEAN_ROUNDING_MM, MEAN_ROUNDING_MM, MEAN_ROUNDING_MM)  # both means, and the answer
    # A mean of four has a quarter of each reading's error, and there are eight of them.
    eighth = tolerances.reading(division) / 4
    near = combine(*[eighth] * 8, rounding)
    thinnest = abs(smallest_lining_mm(inner) - smallest_lining_mm(outer))
    best = abs(max(inner.corners_mm) - max(outer.corners_mm))
    return basis.number(
        right,
        near,
        told_apart(
            slip("thinnest_corners_compared", thinnest, near),
            slip("best_corner", best, near),
            slip("not_divided_by_four", 4 * right, near),
            slip("added_not_subtracted", sum(means), near),
            slip("one_mean_only", means[0], near),
            slip("one_mean_only", means[1], near),
            slip("wrong_sign", -right, near),
            *slips.of_any_length(right, rounding),
        ),
        how=(
            f"The means are {number(means[0], 3)} mm (inner pad) and {number(means[1], 3)} mm (outer pad). "
            f"They differ by {mm(right, 3)}."
        ),
        carried=rounding,
        reach=REACH_MM,
    )


def told_apart(*candidates: SealedMistake) -> list[SealedMistake]:
    """Return the candidates without those that give the number of a likelier one: nobody could tell them."""
    kept: list[SealedMistake] = []
    for one in candidates:
        if all(abs(float(one.value) - float(other.value)) > EXACT_MM for other in kept):
            kept.append(one)
    return kept


def _taper_slips(pad: PadReading, lengthwise: bool) -> Iterable[SealedMistake]:
    one, two = (abs(value) for value in _differences(pad, lengthwise))
    other = taper_mm(pad, "height" if lengthwise else "length")
    corners = pad.corners_mm
    right = max(one, two)
    yield slip("taper_other_way", other, EXACT_MM)
    yield slip("smaller_difference", min(one, two), EXACT_MM)
    yield slip("corner_to_corner", max(corners) - min(corners), EXACT_MM)
    yield slip("added_not_subtracted", one + two, EXACT_MM)
    yield slip("thickness_for_taper", min(corners), EXACT_MM)
    yield slip("thickness_for_taper", max(corners), EXACT_MM)
    yield slip("wrong_sign", -right, EXACT_MM)
    yield from slips.of_any_length(right, EXACT_MM)


def _differences(pad: PadReading, lengthwise: bool) -> tuple[float, float]:
    leading_outer, leading_inner, trailing_outer, trailing_inner = pad.corners_mm
    if lengthwise:
        return leading_outer - trailing_outer, leading_inner - trailing_inner
    return leading_outer - leading_inner, trailing_outer - trailing_inner


def _worked(pad: PadReading, lengthwise: bool) -> str:
    one, two = (abs(value) for value in _differences(pad, lengthwise))
    return f"{number(one, 1)} and {number(two, 1)} mm, so {mm(max(one, two), 1)}"


def _which(inner: bool) -> str:
    return PADS[0] if inner else PADS[1]


def _row(values: Sequence[float]) -> str:
    return ", ".join(number(value, 1) for value in values)
