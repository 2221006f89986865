"""How a whole job is drawn: its cause is plain from the checks, and no gauge's error changes a decision."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import cast

from brakecourse.bench.draw import Draw
from brakecourse.bench.job_cases import JobCase, fits_one_micrometer, measure_wheel, worst_wheel
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import axle_of
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle, with_fault
from brakecourse.bench.vehicle_faults import FAULTS, OldFluid, VehicleFault, WornPads
from brakecourse.marking.papers.m13_whole_job.checks_done import findings, is_plain
from brakecourse.marking.papers.m13_whole_job.rotor_action import rotor_action
from brakecourse.marking.papers.m13_whole_job.seal_job import sealed
from brakecourse.marking.papers.m13_whole_job.stable import counts, is_stable
from brakecourse.marking.papers.m13_whole_job.truth import JobTruth
from brakecourse.trade.conformity import Verdict
from brakecourse.trade.fluid import MixingGrade, boiling_minima_c, boiling_point_c
from brakecourse.views.diagnosis_cases import SURE, shares

NEARLY_WORN = "uneven rotor, pads nearly worn"
_CAUSE_OF = {
    "worn pads": "worn_pads",
    "uneven rotor": "thickness_variation",
    NEARLY_WORN: "thickness_variation",
    "dirty hub, rotor true": "dirty_hub",
    "dirty hub, rotor uneven": "dirty_hub",
    "thin rotor": "thin_rotor",
    "seized piston": "seized_piston",
    "seized pin": "seized_pin",
    "collapsed hose": "collapsed_hose",
    "hose leak": "hose_leak",
    "caliper seal leak": "caliper_seal_leak",
}
SHARES: Mapping[str, float] = MappingProxyType(
    dict(zip(_CAUSE_OF, (0.13, 0.15, 0.08, 0.06, 0.08, 0.11, 0.11, 0.09, 0.07, 0.06, 0.06), strict=True))
)
"""How often each cause is drawn. Assumption, no source."""

FLUID: dict[Verdict, float] = {"within": 0.45, "outside": 0.30, "too close to call": 0.25}
"""How often the fluid is so. Assumption, no source."""

MOST_TRIES = 4000
"""One student in five hundred needs more than four hundred, for the rarest cause."""
_KINDS = {kind.id: kind for kind in FAULTS}
_JUST_WORN = (0.0, 0.04)  # so severe, and the pads are about at their minimum
_TOO_LOW = (0.55, 1.0)
_OFF_C = 1.0  # fluid too close to call boils this near to its limit
_HALVINGS = 12
_ROTOR_TRUE = "dirty hub, rotor true"
"""Rust that has just begun to lean the rotor: an old one has worn it uneven meanwhile."""


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> JobTruth:
    """Draw one vehicle with its hidden faults."""
    root = Draw(seed).child("whole job")
    wanted = situation if situation in SHARES else root.child("situation").weighted(SHARES)
    assert wanted is not None
    fluid = root.child("fluid").weighted(FLUID)
    for again in range(MOST_TRIES):
        chance = root.child(f"vehicle {again}")
        job = _job(wanted, fluid, difficulty, chance)
        if job is None:
            continue
        found = findings(job.case, chance.child("checks"))
        cause = _CAUSE_OF[wanted]
        if not is_plain(found, cause) or shares(found)[cause] < SURE:
            continue
        truth = sealed(job, wanted, cause, found, chance.child("gauges"))
        if truth is not None and _fits(truth, "within" if wanted == NEARLY_WORN else fluid):
            return truth
    raise RuntimeError(f"No vehicle for '{wanted}' was found for seed {seed}; please report this.")


def _job(wanted: str, fluid: Verdict, difficulty: Difficulty, chance: Draw) -> JobCase | None:
    """Return a vehicle with its cause, and the gauges at its wheel; None when it does not suit."""
    how_far: Difficulty = "hard" if wanted == _ROTOR_TRUE else difficulty
    kind = _KINDS[_CAUSE_OF[wanted]]
    case = draw_vehicle(chance.child("case").integer(0, 10**9), 1, how_far, (kind,))
    wheel = worst_wheel(case)
    if not fits_one_micrometer(case, wheel):
        return None
    if wanted == _ROTOR_TRUE and not _leans_only(measure_wheel(case, wheel, chance.child("first look"))):
        return None
    second = _second(case, wanted, fluid, chance.child("second"))
    if second is not None:
        case = with_fault(case, second, chance.child("told"))
    elif fluid != "within" and wanted != NEARLY_WORN:
        return None
    return measure_wheel(case, wheel, chance.child("measured"))


def _leans_only(job: JobCase) -> bool:
    """Tell whether the run-out alone asks for work on the rotor."""
    found = {one.check: one.decision.verdict for one in job.rotor.reasons}
    return found["variation"] == "within" != found["run-out"]


def _second(case: VehicleCase, wanted: str, fluid: Verdict, chance: Draw) -> VehicleFault | None:
    """Return the second fault: pads about at their minimum, or old fluid, or none."""
    if wanted == NEARLY_WORN:
        return WornPads(chance.between(*_JUST_WORN), axle_of(worst_wheel(case)))
    if fluid == "within":
        return None
    if fluid == "outside":
        return OldFluid(chance.between(*_TOO_LOW))
    return _close(case, chance.between(-_OFF_C, _OFF_C))


def _close(case: VehicleCase, off_c: float) -> OldFluid | None:
    """Return old fluid that boils so far above its limit; None where no age does that."""
    grade = cast(MixingGrade, case.vehicle.hydraulics.fluid_grade)
    target = max(boiling_minima_c(grade)[1], round(case.sound.fluid.hottest_c)) + off_c

    def boils(severity: float) -> float:
        roots = OldFluid(severity).act(case.roots, case.vehicle, case.km)
        return boiling_point_c(grade, roots.water_percent)

    low, high = 0.0, 1.0
    if not boils(high) < target < boils(low):
        return None
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if boils(middle) > target else (low, middle)
    return OldFluid((low + high) / 2)


def _fits(truth: JobTruth, fluid: Verdict) -> bool:
    if truth.fluid_decision(truth.boiling.reading).verdict != fluid:
        return False
    lining = truth.lining_decision(min(truth.lining_mm)).verdict
    worn = {"worn pads": "outside", NEARLY_WORN: "too close to call"}.get(truth.situation, "within")
    soaked = truth.situation == "caliper seal leak"
    if lining != worn or truth.soaked != soaked or not is_stable(truth):
        return False
    hub = rotor_action(truth, counts(truth), truth.cause).action == "hub"
    return hub == (truth.situation == _ROTOR_TRUE)
