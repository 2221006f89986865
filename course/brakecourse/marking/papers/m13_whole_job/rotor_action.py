"""What to do with the rotor: which of the listed actions and reasons hold."""

from __future__ import annotations

from typing import NamedTuple

from brakecourse.marking.papers.m13_whole_job.truth import HUB, JobTruth
from brakecourse.trade.rotor import Instruments, RotorFinding, RotorSpec


class RotorAction(NamedTuple):
    """What to do, every reason for it that holds, and the verdict that it rests on."""

    action: str
    reasons: tuple[str, ...]
    found: RotorFinding

    @property
    def words(self) -> str:
        """Why, in sentences."""
        if self.action != "hub":
            return " ".join(one.words for one in self.found.reasons)
        told = " ".join(one.words for one in self.found.reasons if one.check == "run-out")
        return f"{told} But rust on the hub leans the rotor."


def rotor_action(
    truth: JobTruth,
    counts: tuple[float, float, float],
    cause: str,
    spec: RotorSpec | None = None,
    instruments: Instruments | None = None,
) -> RotorAction:
    """Return what to do with a rotor.

    Rust on the hub leans a rotor that is itself true. So where that is the cause, the run-out on the dial is
    the hub's: it is measured again on the clean hub before anybody decides about it.

    Args:
        truth: the vehicle.
        counts: smallest thickness, variation and run-out, mm; they need not be the true ones.
        cause: short name of the cause.
        spec, instruments: limits and uncertainties to count; left out: the vehicle's own.

    Source:
        :func:`brakecourse.trade.rotor.verdict`; the hub first: common practice, no source.
    """
    smallest, variation, run_out = counts
    as_it_sits = truth.rotor_finding(smallest, variation, run_out, spec, instruments)
    if cause != HUB:
        return _of(as_it_sits)
    own = truth.rotor_finding(smallest, variation, 0.0, spec, instruments)
    if own.action == "keep" and as_it_sits.action != "keep":
        return RotorAction("hub", ("hub",), as_it_sits)
    return _of(own)


def _of(found: RotorFinding) -> RotorAction:
    return RotorAction(found.action, _reasons(found), found)


def _reasons(found: RotorFinding) -> tuple[str, ...]:
    if found.action == "keep":
        return ("all",)
    if found.action == "machine":
        unproven = [one.check for one in found.reasons if one.decision.verdict != "within"]
        return tuple(sorted(unproven, key=lambda check: check != found.deciding.check))
    if found.deciding.check == "thickness":
        return (found.deciding.decision.verdict,)
    return (found.deciding.check,)
