"""The checks of the job, what they showed on this vehicle, and which of them decide about each cause."""

from __future__ import annotations

from collections.abc import Mapping

from brakecourse.bench.draw import Draw
from brakecourse.bench.inspection import inspect
from brakecourse.bench.vehicle_cases import VehicleCase
from brakecourse.marking.papers.m13_whole_job.truth import Found, JobTruth
from brakecourse.views.diagnosis_cases import CHECK, FINDING, is_drive, may_be_driven

DONE = (
    *("pedal_feel", "pedal_hold", "drive_pulse", "drive_pull", "drive_heat"),
    *("fluid_level", "wet_wheels", "wet_master", "spin", "release", "boots", "caliper_slide"),
    *("pad_soil", "piston_push", "hub_face"),
)
"""What was checked for the work order, in its order."""

MEASURED = ("pad_lining", "thickness", "run_out")
"""What the learner finds with the gauges."""

NOT_DRIVEN = "Not done: nobody drives a vehicle whose pedal is soft, or does not stay up"

DECIDING: Mapping[str, tuple[str, ...]] = {
    "worn_pads": (),
    "thickness_variation": ("hub_face",),
    "dirty_hub": ("hub_face",),
    "thin_rotor": (),
    "seized_piston": ("spin", "release", "piston_push"),
    "seized_pin": ("caliper_slide", "piston_push"),
    "collapsed_hose": ("spin", "release"),
    "hose_leak": ("wet_wheels", "fluid_level"),
    "caliper_seal_leak": ("wet_wheels", "pad_soil"),
}
"""Which findings tell a cause from its likeliest neighbours. Common practice, no source."""

_SOUND: Mapping[str, frozenset[str]] = {
    "wet_wheels": frozenset({"dry"}),
    "wet_master": frozenset({"dry"}),
    "fluid_level": frozenset({"explained", "unclear"}),
    "spin": frozenset({"free"}),
    "release": frozenset({"nothing_held"}),
    "boots": frozenset({"sound"}),
    "caliper_slide": frozenset({"slides"}),
    "pad_soil": frozenset({"clean"}),
    "piston_push": frozenset({"easy"}),
    "hub_face": frozenset({"true"}),
}
"""What a check shows where all is well, for checks that a false alarm would make a riddle."""

_DRAGS = frozenset({"drags", "drags_hard"})
_OWN: Mapping[str, Mapping[str, frozenset[str]]] = {
    "dirty_hub": {"hub_face": frozenset({"dirty"})},
    "seized_piston": {
        "spin": _DRAGS,
        "release": frozenset({"still_drags"}),
        "piston_push": frozenset({"hard"}),
    },
    "seized_pin": {
        "caliper_slide": frozenset({"one_tight"}),
        "spin": frozenset({"free"}) | _DRAGS,
        "release": frozenset({"nothing_held", "still_drags"}),
    },
    "collapsed_hose": {"spin": _DRAGS, "release": frozenset({"freed_by_bleeder"})},
    "hose_leak": {"wet_wheels": frozenset({"hose"}), "fluid_level": frozenset({"missing"})},
    "caliper_seal_leak": {
        "wet_wheels": frozenset({"piston"}),
        "fluid_level": frozenset({"missing"}),
        "pad_soil": frozenset({"wet"}),
    },
}
"""What the checks of a cause show, where that is not what a sound vehicle shows."""


def is_plain(found: Mapping[str, str], cause: str) -> bool:
    """Tell whether the checks show the cause, and no false alarm beside it."""
    wanted = {**_SOUND, **_OWN.get(cause, {})}
    return all(found[check] in allowed for check, allowed in wanted.items())


def findings(case: VehicleCase, draw: Draw) -> dict[str, str]:
    """Do the checks, those of the gauges too, and return what each shows; drives only where it is safe."""
    found = inspect(case, draw, (*DONE, *MEASURED))
    driven = may_be_driven(found)
    return {check: shown for check, shown in found.items() if driven or not is_drive(check)}


def told(found: Mapping[str, str]) -> tuple[Found, ...]:
    """Return the checks as the work order tells them."""
    return tuple(
        Found(
            check=check,
            what=CHECK[check].words,
            shown=FINDING[check, found[check]] if check in found else NOT_DRIVEN,
        )
        for check in DONE
    )


def evidence(truth: JobTruth, cause: str) -> str:
    """Return the findings that decide about a cause, in sentences."""
    shown = {one.check: one.shown for one in truth.checks}
    return " ".join(f"{shown[check]}." for check in DECIDING.get(cause, ()) if check in shown)
