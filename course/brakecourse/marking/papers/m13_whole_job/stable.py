"""Whether every decision about a vehicle stays when a reading moves by its own standard uncertainty."""

from __future__ import annotations

from itertools import product

from brakecourse.marking.papers.m13_whole_job.rotor_action import rotor_action
from brakecourse.marking.papers.m13_whole_job.truth import JobTruth
from brakecourse.trade import rotor as trade

CLEARLY_CLOSE = 0.6
"""A reading too close to call lies nearer to its limit than this share of the guard band."""


def counts(truth: JobTruth) -> tuple[float, float, float]:
    """Return the rotor's smallest thickness, variation and run-out, mm."""
    return (
        trade.smallest_mm(truth.thickness_mm),
        trade.thickness_variation_mm(truth.thickness_mm),
        trade.run_out_mm(truth.dial_mm),
    )


def is_stable(truth: JobTruth) -> bool:
    """Tell whether no decision hangs on one reading's error; "too close to call" is well inside its band."""
    lining, boils = min(truth.lining_mm), truth.boiling.reading
    return (
        _clear(truth, lining)
        and rotor_moves(truth) == {rotor_action(truth, counts(truth), truth.cause)[:2]}
        and _fluid_clear(truth, boils)
    )


def rotor_moves(truth: JobTruth) -> set[tuple[str, tuple[str, ...]]]:
    """Return what to do with the rotor when each value moves by its standard uncertainty, either way."""
    smallest, variation, swing = counts(truth)
    gauges = truth.instruments
    moved = {
        (
            smallest + one * gauges.thickness_u_mm,
            max(0.0, variation + two * gauges.thickness_difference_u_mm),
            max(0.0, swing + three * gauges.dial_difference_u_mm),
        )
        for one, two, three in product((-1, 0, 1), repeat=3)
        if abs(one) + abs(two) + abs(three) == 1
    }
    return {rotor_action(truth, values, truth.cause)[:2] for values in moved}


def _clear(truth: JobTruth, lining_mm: float) -> bool:
    found, u = truth.lining_decision(lining_mm), truth.pad_limits.thickness_u_mm
    if found.verdict == "too close to call":
        return abs(found.margin) <= CLEARLY_CLOSE * found.guard_band
    return {truth.lining_decision(lining_mm + off).verdict for off in (-u, u)} == {found.verdict}


def _fluid_clear(truth: JobTruth, boils_c: float) -> bool:
    found, u = truth.fluid_decision(boils_c), truth.boiling_u_c
    if found.verdict == "too close to call":
        return abs(found.margin) <= CLEARLY_CLOSE * found.guard_band
    return {truth.fluid_decision(boils_c + off).verdict for off in (-u, u)} == {found.verdict}
