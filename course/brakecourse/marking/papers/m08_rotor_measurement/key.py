"""The right answers, how they follow, and the mistakes that each question invites."""

from __future__ import annotations

import statistics
from collections.abc import Sequence

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m08_rotor_measurement.action import action
from brakecourse.marking.papers.m08_rotor_measurement.truth import RotorTruth
from brakecourse.marking.readings import read_row
from brakecourse.marking.sealed import SealedMistake
from brakecourse.trade import rotor as trade
from brakecourse.trade.conformity import Decision, decide, expanded
from brakecourse.views.words import mm, number

slip = slips.slip

CARRY_MM = 1.0
"""How far an honest value may lie from what the gauge shows: two turns of a thimble, or one of a needle."""


def readings(rotor: RotorTruth, _given: Given) -> Basis:
    """8.1: the micrometer at the eight places."""
    line = tolerances.rounded(rotor.thickness[0].division)
    extra: list[SealedMistake] = []
    for place, read in enumerate(rotor.thickness, start=1):
        named = (
            slip("half_millimetre_line", read.reading + 0.5, line),
            slip("half_millimetre_line", read.reading - 0.5, line),
            slip("on_the_ridge", rotor.ridge.reading, line),
        )
        extra += [one.model_copy(update={"place": place}) for one in named]
    how = (
        f"The micrometer shows {_row(rotor.readings_mm)} mm at places 1 to {len(rotor.thickness)}. "
        f"The drawing on the ridge ({mm(rotor.ridge.reading)}) is no place of the track and stays out."
    )
    return read_row(rotor.thickness, extra, how=how, places=2, reach=CARRY_MM)


def smallest(rotor: RotorTruth, given: Given) -> Basis:
    """8.2: the smallest of the eight readings."""
    row, division = given.row("8.1"), rotor.thickness[0].division
    right, line = trade.smallest_mm(row), tolerances.rounded(division)
    return basis.number(
        right,
        tolerances.reading(division),
        (
            slip("on_the_ridge", rotor.ridge.reading, line),
            slip("mean_for_minimum", statistics.fmean(row), line),
            slip("largest_for_smallest", max(row), line),
            slip("half_millimetre_line", right + 0.5, line),
            slip("half_millimetre_line", right - 0.5, line),
            *slips.of_any_length(right, line),
        ),
        how=f"The smallest of {_row(row)} mm is {mm(right)}.",
        carried=tolerances.carried(division),
        reach=CARRY_MM,
    )


def variation(rotor: RotorTruth, given: Given) -> Basis:
    """8.3: largest minus smallest reading."""
    row, division = given.row("8.1"), rotor.thickness[0].division
    right, line = trade.thickness_variation_mm(row), tolerances.rounded(division)
    return basis.number(
        right,
        tolerances.difference(division),
        (
            slip("on_the_ridge", trade.thickness_variation_mm([*row, rotor.ridge.reading]), line),
            slip("half_of_total", right / 2, line / 2),
            # One reading out by half a millimetre: the answer lands anywhere from 0.5 to 0.5 + variation.
            slip("half_millimetre_line", 0.5 + right / 2, right / 2 + line),
            slip("wrong_sign", -right, line),
            *slips.of_any_length(right, line),
        ),
        how=f"Largest {number(max(row))} mm minus smallest {number(min(row))} mm is {mm(right)}.",
        carried=tolerances.carried_difference(division),
        reach=CARRY_MM,
    )


def run_out(rotor: RotorTruth, _given: Given) -> Basis:
    """8.4: highest minus lowest dial reading, all wheel nuts fitted and snug."""
    dial, loose = rotor.dial_readings_mm, trade.run_out_mm(rotor.loose_readings_mm)
    right, near = trade.run_out_mm(dial), tolerances.difference(rotor.dial_seated[0].division)
    unsigned = [abs(value) for value in dial]
    how = (
        f"With all wheel nuts snug the dial shows {_row(dial)} mm. Highest {number(max(dial))} mm minus "
        f"lowest {number(min(dial))} mm is {mm(right)}. With the nuts off it showed a swing of {mm(loose)}, "
        "which is not the rotor's own."
    )
    # The dial readings are never handed in, so the run-out is always judged alone.
    return basis.number(
        right,
        near,
        (
            slip("nuts_not_seated", loose, near),
            slip("half_of_total", right / 2, near / 2),
            slip("wrong_sign", max(unsigned) - min(unsigned), near / 2),
            slip("wrong_sign", -right, near),
            slip("nuts_not_seated", loose / 2, near / 2),
            *slips.of_any_length(right, near),
        ),
        how=how,
        reach=CARRY_MM,
    )


def against_limit(rotor: RotorTruth, given: Given) -> Basis:
    """8.5: within, outside or too close to call."""
    u, limit = rotor.instruments.thickness_u_mm, rotor.spec.discard_mm
    thinnest, mean = given.number("8.2"), statistics.fmean(given.row("8.1"))
    key = {"within": "within", "outside": "outside", "too close to call": "too-close"}

    def words(measured: float, bound: float, uncertainty: float) -> str:
        return key[decide(measured, bound, "minimum", uncertainty, rotor.confidence).verdict]

    decision = decide(thinnest, limit, "minimum", u, rotor.confidence)
    return given.choice(
        "8.5",
        (key[decision.verdict],),
        (
            ("ignored_uncertainty", words(thinnest, limit, 0.0)),
            ("expanded_for_standard", words(thinnest, limit, expanded(u))),
            ("machine_to_for_discard", words(thinnest, rotor.spec.machine_to_mm, u)),
            ("mean_for_minimum", words(mean, limit, u)),
        ),
        how=f"{_margin(rotor, thinnest, decision)} So the answer is '{decision.verdict}'.",
    )


def allowance(rotor: RotorTruth, given: Given) -> Basis:
    """8.6: smallest reading minus machine-to thickness, never below 0."""
    limit, thinnest, row = rotor.spec.machine_to_mm, given.number("8.2"), given.row("8.1")
    right, room = trade.machining_allowance_mm([thinnest], limit), thinnest - limit
    division = rotor.thickness[0].division
    line = tolerances.rounded(division)
    told = f"Smallest thickness {number(thinnest)} mm minus machine-to limit {number(limit)} mm"
    left = f"is {mm(right)}, both faces together."
    none = f"leaves nothing to cut, so the allowance is {mm(0.0)}."
    return basis.number(
        right,
        tolerances.reading(division),
        (
            slip("discard_for_machine_to", thinnest - rotor.spec.discard_mm, line),
            slip("one_face_only", right / 2, line / 2),
            slip("mean_for_minimum", statistics.fmean(row) - limit, line),
            slip("largest_for_smallest", max(row) - limit, line),
            slip("on_the_ridge", rotor.ridge.reading - limit, line),
            slip("wrong_sign", -abs(room), line),
            slip("wrong_sign", abs(room), line),
            slip("half_millimetre_line", right + 0.5, line),
            slip("half_millimetre_line", right - 0.5, line),
            *slips.of_any_length(right, line),
        ),
        how=f"{told} {left if right > 0 else none}",
        carried=tolerances.carried(division),
    )


def probability(rotor: RotorTruth, given: Given) -> Basis:
    """8.7: how probable it is that the rotor keeps its discard limit, in percent."""
    u, limit = rotor.instruments.thickness_u_mm, rotor.spec.discard_mm
    thinnest, mean = given.number("8.2"), statistics.fmean(given.row("8.1"))

    def percent(measured: float, bound: float, uncertainty: float) -> tuple[float, float]:
        decision = decide(measured, bound, "minimum", uncertainty)
        return 100 * decision.probability_conforming, tolerances.percent(measured - bound, uncertainty)

    right, near = percent(thinnest, limit, u)
    margin = thinnest - limit
    z = "" if u == 0 else f", so z = margin / u = {_signed(margin / u)}. The normal distribution gives"
    return basis.number(
        right,
        near,
        (
            slip("probability_of_failing", 100 - right, near),
            slip("machine_to_for_discard", *percent(thinnest, rotor.spec.machine_to_mm, u)),
            slip("expanded_for_standard", *percent(thinnest, limit, expanded(u))),
            slip("mean_for_minimum", *percent(mean, limit, u)),
            slip("fraction_for_percent", right / 100, near / 100),
        ),
        how=f"The margin is {_signed(margin)} mm and u is {number(u, 4)} mm{z} {number(right, 1)} %.",
        places=1,
    )


def _margin(rotor: RotorTruth, thinnest: float, decision: Decision) -> str:
    return (
        f"The smallest thickness {number(thinnest)} mm lies {_signed(decision.margin)} mm from the "
        f"discard limit {number(rotor.spec.discard_mm)} mm, and the guard band is "
        f"{number(decision.guard_band, 3)} mm wide on each side."
    )


def _row(values: Sequence[float]) -> str:
    return ", ".join(number(value) for value in values)


def _signed(value: float) -> str:
    return ("+" if value > 0 else "") + number(value)


KEY: dict[str, Answer] = {
    "8.1": readings,
    "8.2": smallest,
    "8.3": variation,
    "8.4": run_out,
    "8.5": against_limit,
    "8.6": allowance,
    "8.7": probability,
    "8.8": action,
}
