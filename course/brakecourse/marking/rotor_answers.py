"""The right answers of `08_rotor_measurement`, and the mistakes that each question invites.

Every function takes the values to work from, so that the same lines seal a case and follow a learner's own
earlier answers.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable, Sequence
from dataclasses import replace

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.rotor_values import Measured
from brakecourse.marking.sealed import SealedChoice, SealedMistake, SealedRotor
from brakecourse.trade import rotor as trade
from brakecourse.trade.conformity import decide, expanded

slip = slips.slip

Answer = Callable[[SealedRotor, Measured, float], Basis]


def smallest(rotor: SealedRotor, values: Measured, tolerance: float) -> Basis:
    """8.2: the smallest of the eight readings."""
    right, line = values.smallest, tolerances.rounded(rotor.micrometer.resolution_mm)
    return basis.number(
        right,
        tolerance,
        (
            slip("on_the_ridge", rotor.ridge_reading_mm, line),
            slip("mean_for_minimum", statistics.fmean(values.readings), line),
            slip("largest_for_smallest", max(values.readings), line),
            slip("half_millimetre_line", right + 0.5, line),
            slip("half_millimetre_line", right - 0.5, line),
            *slips.of_any_length(right, line),
        ),
    )


def variation(rotor: SealedRotor, values: Measured, tolerance: float) -> Basis:
    """8.3: largest minus smallest reading."""
    right, line = values.variation, tolerances.rounded(rotor.micrometer.resolution_mm)
    with_ridge = trade.thickness_variation_mm([*values.readings, rotor.ridge_reading_mm])
    return basis.number(
        right,
        tolerance,
        (
            slip("on_the_ridge", with_ridge, line),
            slip("half_of_total", right / 2, line / 2),
            # One reading out by half a millimetre: the answer lands anywhere from 0.5 to 0.5 + variation.
            slip("half_millimetre_line", 0.5 + right / 2, right / 2 + line),
            slip("wrong_sign", -right, line),
            *slips.of_any_length(right, line),
        ),
    )


def run_out(rotor: SealedRotor, values: Measured, tolerance: float) -> Basis:
    """8.4: highest minus lowest dial reading, all wheel nuts fitted and snug."""
    right, dial = values.run_out, rotor.dial_readings_mm
    loose = trade.run_out_mm(rotor.loose_readings_mm)
    unsigned = [abs(value) for value in dial]
    return basis.number(
        right,
        tolerance,
        (
            slip("nuts_not_seated", loose, tolerance),
            slip("half_of_total", right / 2, tolerance / 2),
            slip("wrong_sign", max(unsigned) - min(unsigned), tolerance / 2),
            slip("wrong_sign", -right, tolerance),
            slip("nuts_not_seated", loose / 2, tolerance / 2),
            *slips.of_any_length(right, tolerance),
        ),
    )


def allowance(rotor: SealedRotor, values: Measured, tolerance: float) -> Basis:
    """8.6: smallest reading minus machine-to thickness, never below 0."""
    limit = rotor.spec.machine_to_mm
    right = trade.machining_allowance_mm([values.smallest], limit)
    line = tolerances.rounded(rotor.micrometer.resolution_mm)
    room = values.smallest - limit
    return basis.number(
        right,
        tolerance,
        (
            slip("discard_for_machine_to", values.smallest - rotor.spec.discard_mm, line),
            slip("one_face_only", right / 2, line / 2),
            slip("mean_for_minimum", statistics.fmean(values.readings) - limit, line),
            slip("largest_for_smallest", max(values.readings) - limit, line),
            slip("on_the_ridge", rotor.ridge_reading_mm - limit, line),
            slip("wrong_sign", -abs(room), line),
            slip("wrong_sign", abs(room), line),
            slip("half_millimetre_line", right + 0.5, line),
            slip("half_millimetre_line", right - 0.5, line),
            *slips.of_any_length(right, line),
        ),
    )


def probability(rotor: SealedRotor, values: Measured, tolerance: float) -> Basis:
    """8.7: how probable it is that the rotor keeps its discard limit, in percent.

    The tolerance follows from the margin (:func:`brakecourse.marking.tolerances.percent`), so the one handed
    in is not used.
    """
    u, limit = rotor.instruments.thickness_u_mm, rotor.spec.discard_mm
    mean = statistics.fmean(values.readings)

    def percent(measured: float, bound: float, uncertainty: float) -> tuple[float, float]:
        decision = decide(measured, bound, "minimum", uncertainty)
        return 100 * decision.probability_conforming, tolerances.percent(measured - bound, uncertainty)

    right, near = percent(values.smallest, limit, u)
    return basis.number(
        right,
        near,
        (
            slip("probability_of_failing", 100 - right, near),
            slip("machine_to_for_discard", *percent(values.smallest, rotor.spec.machine_to_mm, u)),
            slip("expanded_for_standard", *percent(values.smallest, limit, expanded(u))),
            slip("mean_for_minimum", *percent(mean, limit, u)),
            slip("fraction_for_percent", right / 100, near / 100),
        ),
    )


def against_limit(rotor: SealedRotor, values: Measured, _tolerance: float) -> Basis:
    """8.5: within, outside or too close to call."""
    u, limit = rotor.instruments.thickness_u_mm, rotor.spec.discard_mm

    def words(measured: float, bound: float, uncertainty: float) -> str:
        return decide(measured, bound, "minimum", uncertainty, rotor.confidence).verdict

    mean = statistics.fmean(values.readings)
    return basis.choice(
        (words(values.smallest, limit, u),),
        (
            ("ignored_uncertainty", words(values.smallest, limit, 0.0)),
            ("expanded_for_standard", words(values.smallest, limit, expanded(u))),
            ("machine_to_for_discard", words(values.smallest, rotor.spec.machine_to_mm, u)),
            ("mean_for_minimum", words(mean, limit, u)),
        ),
    )


def action(rotor: SealedRotor, values: Measured, choices: Sequence[SealedChoice]) -> Basis:
    """8.8: keep, machine or replace, each with its reason."""
    spec, gauges = rotor.spec, rotor.instruments
    mean = replace(values, smallest=statistics.fmean(values.readings))
    # The trade's record wants machine-to above discard, so "cut down to the discard limit" is a hair above.
    deep = replace(spec, machine_to_mm=spec.discard_mm + tolerances.FUZZ)
    sure = trade.Instruments(0.0, 0.0, 0.0)

    def sound(values: Measured, spec: trade.RotorSpec, gauges: trade.Instruments) -> tuple[str, ...]:
        return _sound_choices(finding(values, spec, gauges, rotor.confidence), choices)

    others = (
        ("ignored_uncertainty", sound(values, spec, sure)),
        ("discard_for_machine_to", sound(values, deep, gauges)),
        ("mean_for_minimum", sound(mean, spec, gauges)),
    )
    own_words = tuple((one.mistake, one.text) for one in choices if one.mistake is not None)
    found = tuple((name, text) for name, texts in others for text in texts)
    return basis.choice(sound(values, spec, gauges), own_words + found)


def finding(
    values: Measured, spec: trade.RotorSpec, gauges: trade.Instruments, confidence: float
) -> trade.RotorFinding:
    """Return the trade's verdict on values that need not come from readings."""
    readings = (values.smallest, values.smallest + values.variation)
    return trade.verdict(readings, (0.0, values.run_out), spec, gauges, confidence)


def _sound_choices(found: trade.RotorFinding, choices: Sequence[SealedChoice]) -> tuple[str, ...]:
    sound = _sound_reasons(found)
    by_meaning = {(one.action, one.reason): one.text for one in choices}
    return tuple(by_meaning[found.action, reason] for reason in sound)


def _sound_reasons(found: trade.RotorFinding) -> tuple[str, ...]:
    if found.action == "keep":
        return ("all",)
    if found.action == "machine":
        unproven = [one.check for one in found.reasons if one.decision.verdict != "within"]
        return tuple(sorted(unproven, key=lambda check: check != found.deciding.check))
    if found.deciding.check == "thickness":
        return (found.deciding.decision.verdict,)
    return (found.deciding.check,)


def place_mistakes(
    rotor: SealedRotor, place: int, others: dict[str, float], tolerance: float
) -> list[SealedMistake]:
    """8.1: what the usual mistakes make of one reading of the table.

    Args:
        rotor: the rotor behind the case.
        place: 1 is the first.
        others: misreadings of this place that the gauge itself knows, by the mistake's name.
        tolerance: of one reading, mm.
    """
    right = rotor.readings_mm[place - 1]
    found = [slip(name, value, tolerance) for name, value in others.items()]
    found += [
        slip("half_millimetre_line", right + 0.5, tolerance),
        slip("half_millimetre_line", right - 0.5, tolerance),
        slip("on_the_ridge", rotor.ridge_reading_mm, tolerance),
        *slips.of_any_length(right, tolerance),
    ]
    named = basis.number(right, tolerance, found).mistakes
    return [one.model_copy(update={"place": place}) for one in named]


ANSWERS: dict[str, Answer] = {
    "8.2": smallest,
    "8.3": variation,
    "8.4": run_out,
    "8.5": against_limit,
    "8.6": allowance,
    "8.7": probability,
}
