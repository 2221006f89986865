"""Faults of rotors and hubs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Self

from brakecourse.bench._fault_base import AxleFault, WheelFault
from brakecourse.bench.checks import number, whole
from brakecourse.bench.draw import Draw
from brakecourse.bench.faults import Grooves, HeatSpots
from brakecourse.bench.roots import Roots
from brakecourse.bench.specification import axle_of
from brakecourse.bench.vehicles import Vehicle

# How far a rotor has run on a dirty or bent hub until somebody looks. Assumption, no source.
WOBBLING_KM = (2500.0, 12_000.0)


@dataclass(frozen=True)
class ThinRotor(AxleFault):
    """Both rotors of an axle are worn below their discard thickness, or nearly."""

    id = "thin_rotor"
    words = "the rotors of an axle are too thin"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with rotors that earlier pads have worn thin."""
        limits = vehicle.axle(self.axle).rotor
        thin_mm = limits.nominal_mm - limits.discard_mm + self.at(0.0, 0.8)
        for wheel in self.wheels_of():
            before = roots.wheel(wheel).rotor.worn_before_mm
            worn = roots.wheel(wheel).with_rotor(worn_before_mm=max(before, thin_mm))
            roots = roots.with_wheel_roots(wheel, worn)
        return roots


@dataclass(frozen=True)
class GroovedRotor(WheelFault):
    """Grit has cut rings into a rotor."""

    id = "grooved_rotor"
    words = "a rotor is grooved"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with grooves in the rotor."""
        now = roots.wheel(self.wheel)
        grooves = Grooves(self.at(0.2, 0.8), self.at(0.05, 0.2))
        faults = (*(one for one in now.rotor.faults if not isinstance(one, Grooves)), grooves)
        return roots.with_wheel_roots(self.wheel, now.with_rotor(faults=faults))


@dataclass(frozen=True)
class RidgedRotor(WheelFault):
    """A rusty ridge stands at a rotor's edge, and the pads reach onto it."""

    id = "ridged_rotor"
    words = "the pads ride on a ridge at the rotor's edge"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a worn track, a rusty edge and pads that reach onto it."""
        now = roots.wheel(self.wheel)
        limits = vehicle.axle(axle_of(self.wheel)).rotor
        worn_mm = self.at(0.35, 0.85) * (limits.nominal_mm - limits.discard_mm)
        ridged = now.with_rotor(
            worn_before_mm=max(now.rotor.worn_before_mm, worn_mm),
            rust_mm=max(now.rotor.rust_mm, self.at(0.5, 1.0)),
            rides_on_ridge=True,
        )
        return roots.with_wheel_roots(self.wheel, ridged)


@dataclass(frozen=True)
class ThicknessVariation(WheelFault):
    """A rotor has run for a long way with some run-out, and its high spots have rubbed thin."""

    id = "thickness_variation"
    words = "a rotor's thickness varies round the track"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a rotor that has wobbled a little for long."""
        now = roots.wheel(self.wheel)
        limits = vehicle.axle(axle_of(self.wheel)).rotor
        wobble_mm = limits.max_run_out_mm * self.at(0.7, 1.3)
        wobbling = now.with_rotor(
            rotor_run_out_mm=max(now.rotor.rotor_run_out_mm, wobble_mm),
            run_out_km=max(now.rotor.run_out_km, self.at(12_000, 24_000)),
        )
        return roots.with_wheel_roots(self.wheel, wobbling)


@dataclass(frozen=True)
class HeatSpottedRotor(WheelFault):
    """A rotor has been overheated. Hard spots stand up, and the pads have glazed.

    Args:
        severity, wheel: as for every fault at a wheel.
        count: how many spots.
        first_deg: where the first is, from the chalk mark.
    """

    count: int = 4
    first_deg: float = 0.0

    id = "heat_spotted_rotor"
    words = "a rotor has hard spots from heat"

    def __post_init__(self) -> None:
        super().__post_init__()
        whole("count", self.count, 2, 12)
        number("first_deg", self.first_deg)

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind with drawn spots."""
        wheel = draw.choice(cls.wheels(vehicle))
        return cls(severity, wheel, draw.integer(3, 6), draw.between(0, 360))

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with heat spots and some glaze."""
        now = roots.wheel(self.wheel)
        spots = HeatSpots(self.count, self.at(0.03, 0.09), self.first_deg)
        faults = (*(one for one in now.rotor.faults if not isinstance(one, HeatSpots)), spots)
        spotted = replace(now.with_rotor(faults=faults), glaze=max(now.glaze, self.at(0.12, 0.35)))
        return roots.with_wheel_roots(self.wheel, spotted)


@dataclass(frozen=True)
class DirtyHub(WheelFault):
    """A flake of rust or paint lies between hub and rotor.

    Args:
        severity, wheel: as for every fault at a wheel.
        at_deg: where it lies, from the chalk mark.
    """

    at_deg: float = 0.0

    id = "dirty_hub"
    words = "rust or dirt lies between hub and rotor"

    def __post_init__(self) -> None:
        super().__post_init__()
        number("at_deg", self.at_deg)

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind at a drawn wheel and angle."""
        return cls(severity, draw.choice(cls.wheels(vehicle)), draw.between(0, 360))

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a flake on the hub's seat."""
        now = roots.wheel(self.wheel)
        dirty = now.with_rotor(
            debris_mm=max(now.rotor.debris_mm, self.at(0.06, 0.16)),
            debris_deg=self.at_deg,
            run_out_km=max(now.rotor.run_out_km, self.at(*WOBBLING_KM)),
        )
        return roots.with_wheel_roots(self.wheel, dirty)


@dataclass(frozen=True)
class BentHub(WheelFault):
    """The hub's flange is bent: cleaning does not help.

    Args:
        severity, wheel: as for every fault at a wheel.
        high_deg: where it stands out most, from the chalk mark.
    """

    high_deg: float = 0.0

    id = "bent_hub"
    words = "the hub's flange is bent"

    def __post_init__(self) -> None:
        super().__post_init__()
        number("high_deg", self.high_deg)

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind at a drawn wheel and angle."""
        return cls(severity, draw.choice(cls.wheels(vehicle)), draw.between(0, 360))

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a flange that does not run true."""
        now = roots.wheel(self.wheel)
        bent = now.with_rotor(
            flange_run_out_mm=max(now.rotor.flange_run_out_mm, self.at(0.06, 0.16)),
            flange_high_deg=self.high_deg,
            run_out_km=max(now.rotor.run_out_km, self.at(*WOBBLING_KM)),
        )
        return roots.with_wheel_roots(self.wheel, bent)
