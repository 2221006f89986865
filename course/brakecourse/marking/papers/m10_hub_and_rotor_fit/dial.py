"""10.1 to 10.3 and 10.6: what the dial shows, before and after cleaning."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m10_hub_and_rotor_fit.truth import FitTruth
from brakecourse.marking.readings import read_row
from brakecourse.marking.sealed import SealedMistake
from brakecourse.trade.rotor import run_out_mm
from brakecourse.views.words import mm, number

slip = slips.slip

CARRY_MM = 1.0
"""How far an honest value may lie from what the dial shows: one turn of its needle."""


def readings(truth: FitTruth, _given: Given) -> Basis:
    """10.1: the dial at the eight places, as the vehicle came in."""
    how = f"The dial shows {row_words(truth.found_mm)} mm at places 1 to {len(truth.found)}."
    return read_row(truth.found, how=how, places=2)


def total_found(truth: FitTruth, given: Given) -> Basis:
    """10.2: highest minus lowest reading, as the vehicle came in."""
    row, division = given.row("10.1"), truth.found[0].division
    right, near = run_out_mm(row), tolerances.difference(division)
    return basis.number(
        right,
        near,
        _total_slips(row, right, tolerances.rounded(division)),
        how=total_words(row),
        carried=tolerances.carried_difference(division),
        reach=CARRY_MM,
    )


def high_place(truth: FitTruth, given: Given) -> Basis:
    """10.3: the place that stands out most. Places that the dial cannot tell from it are right as well."""
    row = given.row("10.1")
    near = tolerances.difference(truth.found[0].division)
    order = sorted(range(len(row)), key=lambda place: -row[place])
    right = [place for place in order if row[order[0]] - row[place] <= near + tolerances.FUZZ]
    lowest = [place for place in order if row[place] - row[order[-1]] <= near + tolerances.FUZZ]
    unsigned = max(range(len(row)), key=lambda place: abs(row[place]))
    others = (
        *(("lowest_for_highest", place) for place in reversed(lowest)),
        ("wrong_sign", unsigned),
        ("place_of_the_mark", 0),
    )
    told = (
        f"Place {order[0] + 1} has the highest reading, {mm(row[order[0]])}. There the face stands out most."
    )
    also = [str(place + 1) for place in sorted(right[1:])]
    if also:
        told += f" Place {' and place '.join(also)} lies so near to it that it counts as well."
    return given.choice(
        "10.3",
        [_place_key(place) for place in right],
        [(name, _place_key(place)) for name, place in others],
        how=told,
    )


def total_clean(truth: FitTruth, _given: Given) -> Basis:
    """10.6: highest minus lowest reading with clean faces, on the track alone."""
    row, near = truth.clean_mm, tolerances.difference(truth.clean[0].division)
    right = run_out_mm(row)
    how = (
        f"{total_words(row)} The drawing at the outer edge, {mm(truth.edge.reading)}, stands on rust, where "
        "no pad rubs, and stays out."
    )
    # These readings are never handed in, so the total is always judged alone.
    return basis.number(
        right,
        near,
        (
            slip("on_the_ridge", run_out_mm([*row, truth.edge.reading]), near),
            *_total_slips(row, right, near / 2),
            slip("found_for_clean", run_out_mm(truth.found_mm), tolerances.rounded(truth.clean[0].division)),
        ),
        how=how,
        reach=CARRY_MM,
    )


def _total_slips(row: Sequence[float], right: float, near: float) -> tuple[SealedMistake, ...]:
    unsigned = [abs(value) for value in row]
    return (
        slip("half_of_total", right / 2, near / 2),
        slip("wrong_sign", max(unsigned) - min(unsigned), near),
        slip("wrong_sign", -right, near),
        *slips.of_any_length(right, near),
    )


def total_words(row: Sequence[float]) -> str:
    """Say how a total follows from a row of dial readings."""
    return (
        f"Of {row_words(row)} mm the highest is {number(max(row))} mm and the lowest {number(min(row))} mm. "
        f"Highest minus lowest is {mm(run_out_mm(row))}."
    )


def row_words(row: Sequence[float]) -> str:
    """Write a row of lengths, the unit left out."""
    return ", ".join(number(value) for value in row)


def _place_key(place: int) -> str:
    return f"place-{place + 1}"
