"""13.1 to 13.6: what the gauges show, and what of it counts."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m13_whole_job.truth import JobTruth
from brakecourse.marking.readings import read_one, read_row
from brakecourse.marking.sealed import SealedMistake
from brakecourse.published import convert
from brakecourse.trade import rotor as trade
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

slip = slips.slip

ROUNDED_C = 0.5
"""Temperatures are asked in whole °C, so rounding moves them by half of one."""

LINING_REACH_MM = 6.0
"""How far an honest lining may lie from the right one: a backing plate, and a little more."""

ROTOR_REACH_MM = 1.0
"""How far an honest thickness or run-out may lie off: two turns of a thimble, or one of a needle."""

Slips = Sequence[tuple[str, float]]


def below_max(truth: JobTruth, _given: Given) -> Basis:
    """13.1: how far below MAX the fluid stands."""
    read = truth.level
    level, right, line = read.reading, truth.max_mm - read.reading, tolerances.rounded(read.division)
    return basis.number(
        right,
        tolerances.reading(read.division),
        (
            *(slip(name, truth.max_mm - value, line) for name, value in read.misreadings.items()),
            slip("fluid_left_for_missing", level, line),
            slip("from_the_minimum", level - truth.min_mm, line),
            slip("wrong_sign", -right, line),
            *slips.of_any_length(right, line),
        ),
        how=f"The flat of the fluid stands at {both(level, 'mm', 0)}. {number(truth.max_mm, 0)} − "
        f"{number(level, 0)} is {both(right, 'mm', 0)} below MAX.",
        places=0,
    )


def shown_f(truth: JobTruth) -> int:
    """Return the number on the boiling-point tester's display, which is set to °F."""
    return round(convert(truth.boiling.reading, "degC", "degF"))


def boiling(truth: JobTruth, _given: Given) -> Basis:
    """13.2: the boiling-point tester, its display set to °F."""
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


def lining(truth: JobTruth, _given: Given) -> Basis:
    """13.3: the depth gauge at the four ends."""
    how = (
        f"The depth gauge shows {_row(truth.lining_mm, 1)} mm: inner pad, then outer pad, the leading end "
        "first. It reads the lining alone."
    )
    return read_row(truth.lining, how=how, places=1, reach=LINING_REACH_MM)


def thickness(truth: JobTruth, _given: Given) -> Basis:
    """13.4: the micrometer at the eight places."""
    line = tolerances.rounded(truth.thickness[0].division)
    extra = [
        slip(name, value, line).model_copy(update={"place": place})
        for place, read in enumerate(truth.thickness, start=1)
        for name, value in (
            ("half_millimetre_line", read.reading + 0.5),
            ("half_millimetre_line", read.reading - 0.5),
            ("on_the_ridge", truth.ridge.reading),
        )
    ]
    how = (
        f"The micrometer shows {_row(truth.thickness_mm)} mm at places 1 to {len(truth.thickness)}. The "
        f"drawing on the ridge ({mm(truth.ridge.reading)}) is no place of the track and stays out."
    )
    return read_row(truth.thickness, extra, how=how, places=2, reach=ROTOR_REACH_MM)


def run_out(truth: JobTruth, _given: Given) -> Basis:
    """13.5: highest minus lowest dial reading."""
    dial = truth.dial_mm
    right, near = trade.run_out_mm(dial), tolerances.difference(truth.dial[0].division)
    unsigned = [abs(value) for value in dial]
    return basis.number(
        right,
        near,
        (
            slip("half_of_total", right / 2, near / 2),
            slip("wrong_sign", max(unsigned) - min(unsigned), near / 2),
            slip("wrong_sign", -right, near),
            *slips.of_any_length(right, near),
        ),
        how=f"The dial shows {_row(dial)} mm. Highest {number(max(dial))} mm minus lowest "
        f"{number(min(dial))} mm is {mm(right)}.",
        reach=ROTOR_REACH_MM,
    )


def what_counts(truth: JobTruth, given: Given) -> Basis:
    """13.6: thinnest lining, smallest thickness, thickness variation."""
    pads, row = given.row("13.3"), given.row("13.4")
    pad_line, line = (one[0].division for one in (truth.lining, truth.thickness))
    right = (min(pads), trade.smallest_mm(row), trade.thickness_variation_mm(row))
    mean = sum(row) / len(row)
    own: tuple[Slips, ...] = (
        (
            ("best_corner", max(pads)),
            ("mean_of_corners", sum(pads) / len(pads)),
            ("backing_plate_included", right[0] + truth.plate_mm),
        ),
        (
            ("mean_for_minimum", mean),
            ("largest_for_smallest", max(row)),
            ("on_the_ridge", truth.ridge.reading),
        ),
        (
            ("half_of_total", right[2] / 2),
            ("on_the_ridge", trade.thickness_variation_mm([*row, truth.ridge.reading])),
            ("wrong_sign", -right[2]),
        ),
    )
    return basis.table(
        right,
        (tolerances.reading(pad_line), tolerances.reading(line), tolerances.difference(line)),
        [one for place, named in enumerate(own, start=1) for one in _named(place, right[place - 1], named)],
        how=f"The thinnest lining is {mm(right[0], 1)}. The smallest of the eight thicknesses is "
        f"{mm(right[1])}. Largest minus smallest, {number(max(row))} − {number(min(row))}, is "
        f"{mm(right[2])}.",
        carried=(
            tolerances.carried(pad_line),
            tolerances.carried(line),
            tolerances.carried_difference(line),
        ),
        reach=LINING_REACH_MM,
    )


def _named(place: int, right: float, found: Slips) -> list[SealedMistake]:
    line = tolerances.rounded(0.01)  # asked to 0.01 mm, so a mean is rounded to it
    every = [*(slip(name, value, line) for name, value in found), *slips.of_any_length(right, line)]
    return [one.model_copy(update={"place": place}) for one in every]


def _row(values: Sequence[float], places: int = 2) -> str:
    return ", ".join(number(value, places) for value in values)


KEY: dict[str, Answer] = {
    "13.1": below_max,
    "13.2": boiling,
    "13.3": lining,
    "13.4": thickness,
    "13.5": run_out,
    "13.6": what_counts,
}
