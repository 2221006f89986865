"""Vehicles with a hidden cause and the checks done on them, drawn until the findings are clear."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.inspection import CHECKS, inspect
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import FAULTS
from brakecourse.bench.vehicles import Vehicle
from brakecourse.marking.sealed import Record
from brakecourse.trade.leaks import Check, diagnosis_table

CHECK: Mapping[str, Check] = {one.id: one for one in CHECKS}
WORDS = {(one.id, finding.id): finding.words for one in CHECKS for finding in one.findings}

CLEAR, WELL_ABOVE = 0.85, 6.0
"""So probable a cause must be before it is asked, and so many times as probable as the next one.
Assumption, no source. The lesson asks from 0.85 on as well."""

SPEAKS_AGAINST = math.log(3.0)
"""From here a finding counts as speaking for or against a cause, as the lesson's lists take it. Assumption,
no source."""

AT_THE_PEDAL = ("pedal_feel", "pedal_hold")
LEAKS = ("hose_leak", "fitting_leak", "caliper_seal_leak", "primary_seal_leak", "internal_bypass")
IN_THE_MASTER = LEAKS[3:]
WET_OUTSIDE = LEAKS[:3]
SOFT = ("air_in_circuit", "wrong_fluid", "dirty_hub", "bent_hub")
DRAGS = ("seized_piston", "collapsed_hose", "contaminated_pads", "rust_under_clips")
PULSES = ("thickness_variation", "heat_spotted_rotor")

_KINDS = {kind.id: kind for kind in FAULTS}
_MOST_TRIES = 400
_NOTICED_NOTHING = "noticed nothing"


class Job(Record):
    """One vehicle's sheet: what its driver says, and what each check showed.

    Attributes:
        vehicle, fleet_number, complaint: as on the work order.
        cause: id of what is the matter with it.
        findings: check and what it showed, in the order in which they were done.
    """

    vehicle: str
    fleet_number: str
    complaint: str
    cause: str
    findings: tuple[tuple[str, str], ...]

    @property
    def found(self) -> dict[str, str]:
        """What each check showed, by the check."""
        return dict(self.findings)

    def words(self) -> list[str]:
        """Return the findings as a learner reads them."""
        return [WORDS[one] for one in self.findings]


@dataclass(frozen=True)
class Drawn:
    """A job and the vehicle behind it."""

    job: Job
    case: VehicleCase


def shares(findings: Iterable[tuple[str, str]]) -> dict[str, float]:
    """Return how probable each cause is after some findings, by the diagnosis table."""
    table = diagnosis_table()
    probable, _ = table.odds.posterior(list(findings))
    return dict(zip((one.id for one in table.causes), probable, strict=True))


def log_ratio(finding: tuple[str, str], cause: str) -> float:
    """Return the logarithm of how many times as likely a finding is with a cause as without it."""
    table = diagnosis_table()
    place = [one.id for one in table.causes].index(cause)
    return table.odds.log_ratios[finding][place]


def speaks_against(findings: Iterable[tuple[str, str]], cause: str) -> bool:
    """Tell whether one of the findings speaks clearly against a cause."""
    return any(log_ratio(one, cause) <= -SPEAKS_AGAINST for one in findings)


def is_in_order(finding: tuple[str, str]) -> bool:
    """Tell whether a check showed what it shows on a sound vehicle: that one stands first."""
    check, shown = finding
    return CHECK[check].findings[0].id == shown


def first_fault(findings: Sequence[tuple[str, str]]) -> tuple[str, str]:
    """Return the first finding that is not in order."""
    return next(one for one in findings if not is_in_order(one))


def is_clear(job: Job) -> bool:
    """Tell whether the findings lead to the job's cause, and nothing found speaks clearly against it."""
    wrong = [one for one in job.findings if not is_in_order(one)]
    return len(wrong) > 0 and is_found(job) and not speaks_against(wrong, job.cause)


def is_found(job: Job) -> bool:
    """Tell whether the job's cause stands well above every other one."""
    stands = shares(job.findings)
    own = stands.pop(job.cause)
    return own >= CLEAR and own >= WELL_ABOVE * max(stands.values())


def programme(cause: str) -> tuple[str, ...]:
    """Return the checks that are done on a vehicle with such a complaint. It is one for a whole field."""
    if cause in LEAKS:
        return (*AT_THE_PEDAL, "wet_wheels", "fluid_level", "pad_soil", "wet_master")
    if cause in SOFT:
        return (*AT_THE_PEDAL, "pedal_travel", "wet_wheels", "fluid_kind", "run_out", "hub_face")
    if cause in DRAGS:
        return (*AT_THE_PEDAL, "drive_pull", "spin", "boots", "pad_soil", "pad_seats", "release")
    pulses = ("drive_pulse", "drive_noise", "rotor_track", "pad_lining", "thickness", "hub_face")
    return (*AT_THE_PEDAL, *pulses)


def _done(case: VehicleCase, draw: Draw, checks: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Do the checks; leave out the last one where an earlier one has told already what it would show."""
    found = inspect(case, draw, checks)
    if found.get("spin") == "free":
        found.pop("release", None)
    if found.get("run_out") == "within":
        found.pop("hub_face", None)
    return tuple((check, found[check]) for check in checks if check in found)


def draw_job(
    draw: Draw,
    causes: Sequence[str],
    difficulty: Difficulty,
    pool: Sequence[Vehicle],
    checks: Sequence[str] | None = None,
) -> Drawn:
    """Draw a vehicle of the pool with one of the causes, each as likely, until its findings are clear.

    Args:
        draw: where the chance comes from.
        causes: ids of causes.
        difficulty: how far the fault has gone.
        pool: the vehicles that it may be.
        checks: what was done; left out: the whole programme, until the cause is clear.
    """
    cause = draw.child("cause").choice(causes)
    fitting = [one for one in pool if _KINDS[cause].fits(one)]
    for again in range(_MOST_TRIES):
        turn = draw.child(f"vehicle {again}")
        vehicle = turn.child("which").choice(fitting)
        case = draw_vehicle(turn.child("seed").integer(0, 10**9), 1, difficulty, (_KINDS[cause],), vehicle)
        if _NOTICED_NOTHING in case.complaint:
            continue
        found = _done(case, turn.child("checks"), checks or programme(cause))
        job = Job(
            vehicle=vehicle.name,
            fleet_number=vehicle.fleet_number,
            complaint=case.complaint,
            cause=cause,
            findings=found,
        )
        if is_fit(job, whole=checks is None):
            return Drawn(job, case)
    raise RuntimeError(f"No vehicle whose findings lead to '{cause}' was found; please report this.")


def is_fit(job: Job, *, whole: bool) -> bool:
    """Tell whether a job's sheet may be shown: the pedal's findings fit the programme, and the rest is clear.

    A vehicle whose pedal sinks is not driven; a leak is asked where the pedal does sink.
    """
    found = job.found
    sinks = found["pedal_hold"] != "stays"
    if sinks != (job.cause in LEAKS):
        return False
    if not sinks and job.cause not in SOFT and found["pedal_feel"] != "firm":
        return False
    return is_clear(job) if whole else True
