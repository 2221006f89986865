"""The part of the job that is put in order, and what must come before what."""

from __future__ import annotations

from functools import cache

from brakecourse.marking import basis
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m13_whole_job.truth import JobTruth
from brakecourse.marking.sealed import SealedRule
from brakecourse.trade.job_order import operations, precedence

STEPS = (
    "wet_dust",
    "open_bleeder",
    "push_piston",
    "close_bleeder",
    "caliper_on",
    "torque_bolts",
    "wheel_on",
    "lower_vehicle",
    "torque_nuts",
    "pump_pedal",
    "first_move",
)
"""The steps, by the names of the trade, in a right order."""

# The first of these that an order breaks is the one that is named.
_MISTAKES = {
    ("pump_pedal", "first_move"): "moved_before_firm",
    ("torque_nuts", "first_move"): "moved_on_loose_nuts",
    ("open_bleeder", "push_piston"): "dirt_through_abs",
    ("torque_bolts", "pump_pedal"): "pumped_on_loose_bolts",
    ("torque_bolts", "wheel_on"): "wheel_hides_loose_bolts",
    ("wheel_on", "lower_vehicle"): "lowered_without_wheel",
    ("lower_vehicle", "torque_nuts"): "torqued_on_the_stands",
}


def words(step: str) -> str:
    """Return the words of a step of the job."""
    return _words()[step]


@cache
def _words() -> dict[str, str]:
    return {one.id: one.words for one in operations()}


@cache
def rules() -> tuple[SealedRule, ...]:
    """Return what must come before what among the steps, the named ones first."""
    told = list(_MISTAKES)
    found = [one for one in precedence() if one.before in STEPS and one.after in STEPS]
    found.sort(
        key=lambda one: told.index((one.before, one.after)) if (one.before, one.after) in told else len(told)
    )
    return tuple(
        SealedRule(
            before=words(one.before),
            after=words(one.after),
            reason=one.reason,
            critical=one.safety_critical,
            mistake=_MISTAKES.get((one.before, one.after)),
        )
        for one in found
    )


def order(_truth: JobTruth, _given: Given) -> Basis:
    """13.14: the part of the job in a safe order."""
    how = "The rules, each with its reason: " + " ".join(dict.fromkeys(one.reason for one in rules()))
    return basis.by_rules([words(one) for one in STEPS], rules(), how=how)
