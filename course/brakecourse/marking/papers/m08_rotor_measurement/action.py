"""The answer to 8.8: what to do with the rotor, and which of the listed reasons hold."""

from __future__ import annotations

import statistics
from dataclasses import replace

from brakecourse.marking import tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m08_rotor_measurement.truth import RotorTruth
from brakecourse.trade import rotor as trade
from brakecourse.trade.rotor import Instruments, RotorSpec


def action(rotor: RotorTruth, given: Given) -> Basis:
    """8.8: keep, machine or replace, each with its reason."""
    row = given.row("8.1")
    thinnest, varies, swing = given.number("8.2"), given.number("8.3"), given.number("8.4")
    mean = statistics.fmean(row)
    # The trade's record wants machine-to above discard, so "cut down to the discard limit" is a hair above.
    deep = rotor.spec.discard_mm + tolerances.FUZZ

    def sound(measured: float, spec: RotorSpec, gauges: Instruments) -> tuple[str, ...]:
        truth = rotor.model_copy(update={"spec": spec, "instruments": gauges})
        return _sound_choices(truth.finding(measured, varies, swing), given)

    sure = Instruments(0.0, 0.0, 0.0)
    others = (
        ("ignored_uncertainty", sound(thinnest, rotor.spec, sure)),
        ("discard_for_machine_to", sound(thinnest, _cut_to(rotor.spec, deep), rotor.instruments)),
        ("mean_for_minimum", sound(mean, rotor.spec, rotor.instruments)),
    )
    found = rotor.finding(thinnest, varies, swing)
    return given.choice(
        "8.8",
        _sound_choices(found, given),
        [(name, key) for name, keys in others for key in keys],
        how=" ".join(reason.words for reason in found.reasons),
    )


def _cut_to(spec: RotorSpec, machine_to_mm: float) -> RotorSpec:
    return replace(spec, machine_to_mm=machine_to_mm)


def _sound_choices(found: trade.RotorFinding, given: Given) -> tuple[str, ...]:
    by_meaning = {(one.action, one.reason): one.key for one in given.choices("8.8")}
    return tuple(by_meaning[found.action, reason] for reason in _sound_reasons(found))


def _sound_reasons(found: trade.RotorFinding) -> tuple[str, ...]:
    if found.action == "keep":
        return ("all",)
    if found.action == "machine":
        unproven = [one.check for one in found.reasons if one.decision.verdict != "within"]
        return tuple(sorted(unproven, key=lambda check: check != found.deciding.check))
    if found.deciding.check == "thickness":
        return (found.deciding.decision.verdict,)
    return (found.deciding.check,)
