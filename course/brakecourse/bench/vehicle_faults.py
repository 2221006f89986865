"""Everything that can be the matter with a vehicle: causes, each acting on the roots alone."""

from __future__ import annotations

from collections.abc import Iterable

from brakecourse.bench._fault_base import AxleFault, EndFault, PinFault, VehicleFault, WheelFault
from brakecourse.bench._faults_caliper import (
    CollapsedHose,
    DryPins,
    PackedPinBore,
    RustUnderClips,
    SeizedPin,
    SeizedPiston,
    SwappedPins,
    TornPinBoot,
    TornPistonBoot,
)
from brakecourse.bench._faults_hydraulic import (
    AirInCircuit,
    CaliperSealLeak,
    FittingLeak,
    HoseLeak,
    InternalBypass,
    OldFluid,
    PrimarySealLeak,
    WrongFluid,
)
from brakecourse.bench._faults_pads import (
    BeddingSkipped,
    ContaminatedPads,
    GlazedPads,
    OverTorqued,
    TorqueFault,
    UnderTorqued,
    WornPads,
)
from brakecourse.bench._faults_rotor import (
    BentHub,
    DirtyHub,
    GroovedRotor,
    HeatSpottedRotor,
    RidgedRotor,
    ThicknessVariation,
    ThinRotor,
)
from brakecourse.bench.roots import Roots
from brakecourse.bench.vehicles import Vehicle

FAULTS: tuple[type[VehicleFault], ...] = (
    WornPads,
    HoseLeak,
    CaliperSealLeak,
    FittingLeak,
    PrimarySealLeak,
    InternalBypass,
    AirInCircuit,
    OldFluid,
    WrongFluid,
    SeizedPiston,
    SeizedPin,
    DryPins,
    PackedPinBore,
    SwappedPins,
    RustUnderClips,
    CollapsedHose,
    TornPistonBoot,
    TornPinBoot,
    ThinRotor,
    GroovedRotor,
    RidgedRotor,
    ThicknessVariation,
    HeatSpottedRotor,
    DirtyHub,
    BentHub,
    UnderTorqued,
    OverTorqued,
    GlazedPads,
    ContaminatedPads,
    BeddingSkipped,
)
"""Every kind of fault, each once."""


def act_all(roots: Roots, faults: Iterable[VehicleFault], vehicle: Vehicle, km: float) -> Roots:
    """Return the roots after all faults, in the order given.

    Args:
        roots: what is the matter without them.
        faults: what has happened.
        vehicle: which vehicle.
        km: distance since its pads were new.

    >>> from brakecourse.bench import motor_pool
    >>> from brakecourse.bench.roots import sound_roots
    >>> van = motor_pool()["library_van"]
    >>> act_all(sound_roots("DOT 4"), [OldFluid(1.0)], van, 20_000).water_percent
    4.0
    """
    for fault in faults:
        roots = fault.act(roots, vehicle, km)
    return roots


__all__ = [
    "FAULTS",
    "AirInCircuit",
    "AxleFault",
    "BeddingSkipped",
    "BentHub",
    "CaliperSealLeak",
    "CollapsedHose",
    "ContaminatedPads",
    "DirtyHub",
    "DryPins",
    "EndFault",
    "FittingLeak",
    "GlazedPads",
    "GroovedRotor",
    "HeatSpottedRotor",
    "HoseLeak",
    "InternalBypass",
    "OldFluid",
    "OverTorqued",
    "PackedPinBore",
    "PinFault",
    "PrimarySealLeak",
    "RidgedRotor",
    "RustUnderClips",
    "SeizedPin",
    "SeizedPiston",
    "SwappedPins",
    "ThicknessVariation",
    "ThinRotor",
    "TornPinBoot",
    "TornPistonBoot",
    "TorqueFault",
    "UnderTorqued",
    "VehicleFault",
    "WheelFault",
    "WornPads",
    "WrongFluid",
    "act_all",
]
