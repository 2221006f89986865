"""What may be the matter at the wheel behind a case, and how often."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from brakecourse.bench.hose_cases import Part
from brakecourse.bench.vehicle_faults import (
    CaliperSealLeak,
    CollapsedHose,
    FittingLeak,
    HoseLeak,
    SeizedPiston,
    TornPinBoot,
    TornPistonBoot,
    VehicleFault,
)


class Look(NamedTuple):
    """Which part is looked at, what is the matter with it, and whether its hose's cover is whole."""

    part: Part
    kind: type[VehicleFault] | None
    good_skin: bool = True


LOOKS: Mapping[str, Look] = {
    "all sound": Look("boots", None),
    "cover worn through": Look("hose", None, good_skin=False),
    "hose leaking": Look("hose", HoseLeak, good_skin=False),
    "hose collapsed": Look("hose", CollapsedHose),
    "piston boot torn": Look("boots", TornPistonBoot),
    "pin boot torn": Look("boots", TornPinBoot),
    "piston sticking": Look("bore", SeizedPiston),
    "piston seal leaking": Look("bore", CaliperSealLeak),
    "washers leaking": Look("bore", FittingLeak),
}
SHARES: Mapping[str, float] = {
    "all sound": 0.16,
    "cover worn through": 0.1,
    "hose leaking": 0.12,
    "hose collapsed": 0.12,
    "piston boot torn": 0.12,
    "pin boot torn": 0.1,
    "piston sticking": 0.1,
    "piston seal leaking": 0.09,
    "washers leaking": 0.09,
}
"""How often each is drawn. Assumption, no source."""
