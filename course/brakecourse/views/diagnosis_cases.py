"""A vehicle that has come in with something hidden: what each check shows on it, and a good order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.inspection import CHECKS, inspect
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import FAULTS
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.leaks import Check, NextCheck, RankedCause, diagnosis_table, next_checks, rank_causes

SURE = 0.9
"""From here a cause counts as found. Assumption, no source."""

NOTHING = "nothing_wrong"
CHECK: Mapping[str, Check] = {one.id: one for one in CHECKS}
FINDING: Mapping[tuple[str, str], str] = {
    (one.id, finding.id): finding.words for one in CHECKS for finding in one.findings
}

FIELDS: Mapping[str, tuple[str, ...]] = {
    "fluid that goes, a pedal that sinks": (
        *("hose_leak", "caliper_seal_leak", "fitting_leak", "primary_seal_leak", "internal_bypass"),
    ),
    "a low or soft pedal": ("air_in_circuit", "wrong_fluid", "dirty_hub", "bent_hub"),
    "pulling, dragging, heat": (
        *("seized_piston", "seized_pin", "dry_pins", "packed_pin_bore", "swapped_pins"),
        *("collapsed_hose", "rust_under_clips", "contaminated_pads"),
    ),
    "pulsing and noise": (
        *("thickness_variation", "heat_spotted_rotor", "grooved_rotor", "ridged_rotor"),
        *("worn_pads", "glazed_pads", "bedding_skipped", "under_torqued"),
    ),
    "nothing felt": (
        *("old_fluid", "thin_rotor", "torn_piston_boot", "torn_pin_boot", "over_torqued", NOTHING),
    ),
}
"""What a customer tells, roughly, and the causes that are drawn for it. Common practice, no source."""

PEDAL_FIELDS = tuple(FIELDS)[:2]

BEFORE_A_DRIVE: Mapping[str, str] = {"pedal_feel": "firm", "pedal_hold": "stays"}
"""Checks that come before a drive, and what they must show. Common practice, no source."""

_KINDS = {kind.id: kind for kind in FAULTS}


@dataclass(frozen=True)
class Job:
    """A vehicle, what is the matter with it, and where the chance of each check comes from.

    Attributes:
        case: the vehicle with its hidden condition.
        cause: id of what is the matter with it.
        draw: each check takes its own child of it, so the order of the checks changes no finding.
    """

    case: VehicleCase
    cause: str
    draw: Draw

    def finding(self, check: str) -> str:
        """Do a check and return the id of what it shows."""
        return inspect(self.case, self.draw, [check])[check]

    @cached_property
    def good_order(self) -> dict[str, str]:
        """The checks that tell most a minute, one after another, until the cause is found.

        Where it is never found surely, the order ends where most speaks for the cause.
        """
        findings: dict[str, str] = {}
        best: tuple[float, dict[str, str]] = (0.0, {})
        while open_checks := worth(findings):
            check = open_checks[0].check
            findings[check] = self.finding(check)
            share = shares(findings)[self.cause]
            if share >= SURE:
                return findings
            best = max(best, (share, dict(findings)), key=lambda one: one[0])
        return best[1]


def draw_job(
    draw: Draw, causes: Iterable[str], difficulty: Difficulty = "normal", vehicle: str | None = None
) -> Job:
    """Draw a vehicle with one of some causes, each as often as the table says it comes in.

    Args:
        draw: where the chance comes from.
        causes: ids of causes.
        difficulty: how far the fault has gone.
        vehicle: key of a vehicle of the motor pool; drawn when left out.

    Raises:
        ValueError: none of the motor pool's vehicles can have the cause.
    """
    usual = {one.id: one.prior for one in diagnosis_table().causes}
    cause = draw.child("cause").weighted({id: usual[id] for id in causes})
    seed = draw.child("seed").integer(0, 10**9)
    checks = draw.child("checks")
    pool = [motor_pool()[vehicle]] if vehicle else list(motor_pool().values())
    if cause == NOTHING:
        chosen = draw.child("vehicle").choice(pool)
        return Job(draw_vehicle(seed, 0, difficulty, vehicle=chosen), cause, checks)
    chosen = draw.child("vehicle").choice(_fitting(cause, pool))
    case = draw_vehicle(seed, 1, difficulty, (_KINDS[cause],), chosen)
    return Job(case, cause, checks)


def _fitting(cause: str, pool: list[Vehicle]) -> list[Vehicle]:
    fitting = [one for one in pool if _KINDS[cause].fits(one)]
    if not fitting:
        raise ValueError(f"A vehicle that can have '{cause}' was expected, but none of these can.")
    return fitting


def may_be_driven(findings: Mapping[str, str]) -> bool:
    """Tell whether the pedal has been felt and held, and was firm and stayed."""
    return all(findings.get(check) == wanted for check, wanted in BEFORE_A_DRIVE.items())


def is_drive(check: str) -> bool:
    """Tell whether a check needs a drive."""
    return check.startswith("drive_")


def worth(findings: Mapping[str, str]) -> tuple[NextCheck, ...]:
    """Return the checks that may be done now, the one that tells most a minute first.

    A check on the road is among them only once the pedal has proven firm and does not sink.
    """
    driven = may_be_driven(findings)
    return tuple(one for one in _worth(tuple(findings.items())) if driven or not is_drive(one.check))


def ranked(findings: Mapping[str, str]) -> tuple[RankedCause, ...]:
    """Return every cause with its evidence, the most probable first; kept for the next time."""
    return _ranked(tuple(findings.items()))


@lru_cache(maxsize=512)
def _worth(findings: tuple[tuple[str, str], ...]) -> tuple[NextCheck, ...]:
    return next_checks(dict(findings))


@lru_cache(maxsize=128)
def _ranked(findings: tuple[tuple[str, str], ...]) -> tuple[RankedCause, ...]:
    return rank_causes(dict(findings))


def shares(findings: Mapping[str, str]) -> dict[str, float]:
    """Return the probability of each cause after some findings, by its id."""
    table = diagnosis_table()
    probabilities, _ = table.odds.posterior(list(findings.items()))
    return dict(zip((one.id for one in table.causes), probabilities, strict=True))


def times_as_likely(finding: tuple[str, str], cause: str, other: str) -> float:
    """Return how many times as likely a finding is with one cause as with another.

    Source: Bayes' theorem: what the finding does to the odds of the two.
    """
    before, after = shares({}), shares(dict([finding]))
    return after[cause] / after[other] / (before[cause] / before[other])


def deciding(findings: Mapping[str, str], cause: str, other: str) -> tuple[tuple[str, str], float]:
    """Return the finding that speaks most for one cause and against another, and how many times as likely."""
    return max(((one, times_as_likely(one, cause, other)) for one in findings.items()), key=lambda it: it[1])


def minutes(checks: Iterable[str]) -> float:
    """Return what some checks cost together, min."""
    return sum(CHECK[one].minutes for one in checks)
