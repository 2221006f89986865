"""Faults of the hydraulic system: leaks, air, fluid."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, Self, get_args

from brakecourse.bench._fault_base import AxleFault, VehicleFault, WheelFault
from brakecourse.bench.draw import Draw
from brakecourse.bench.roots import Pair, Roots
from brakecourse.bench.specification import WHEELS
from brakecourse.bench.vehicles import Vehicle

# mL a minute for each MPa, slight to severe, and how far the vehicle has gone with it. Assumptions,
# no source.
LEAK = (0.12, 0.9)
LEAKING_KM = (150.0, 350.0)
# How far it has gone with swollen seals. Assumption, no source.
SWOLLEN_KM = (200.0, 800.0)
# Most water that a fault puts into the fluid, percent by mass. Assumption, no source.
MOST_WATER_PERCENT = 5.5

Wrong = Literal["DOT 3", "DOT 5", "mineral oil"]


@dataclass(frozen=True)
class HoseLeak(WheelFault):
    """The hose leaks to the outside."""

    id = "hose_leak"
    words = "a brake hose leaks"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a leak at the hose."""
        more = roots.wheel(self.wheel).hose_leak + self.at(*LEAK)
        return _leaking(roots, self).with_wheel(self.wheel, hose_leak=more)


@dataclass(frozen=True)
class CaliperSealLeak(WheelFault):
    """The seal of a caliper's piston leaks, onto the inner pad."""

    id = "caliper_seal_leak"
    words = "the seal of a caliper's piston leaks"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a leak at the seal, and fluid on the pad."""
        now = roots.wheel(self.wheel)
        soiled = max(now.soil_share, self.at(0.12, 0.45))
        leaking = replace(
            now,
            caliper_seal_leak=now.caliper_seal_leak + self.at(*LEAK),
            soil="brake fluid",
            soil_share=soiled,
        )
        return _leaking(roots, self).with_wheel_roots(self.wheel, leaking)


@dataclass(frozen=True)
class FittingLeak(WheelFault):
    """The fitting between hose and caliper leaks."""

    id = "fitting_leak"
    words = "the fitting at a caliper leaks"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a leak at the fitting."""
        more = roots.wheel(self.wheel).fitting_leak + self.at(*LEAK)
        return _leaking(roots, self).with_wheel(self.wheel, fitting_leak=more)


@dataclass(frozen=True)
class PrimarySealLeak(VehicleFault):
    """Fluid passes the master cylinder's primary seal, into the booster. Nothing drips on the floor."""

    id = "primary_seal_leak"
    words = "the master cylinder leaks past its primary seal into the booster"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a leak into the booster."""
        return replace(_leaking(roots, self), booster_leak=roots.booster_leak + self.at(*LEAK))


@dataclass(frozen=True)
class InternalBypass(VehicleFault):
    """Fluid slips back past the seals inside the master cylinder. The level does not fall."""

    id = "internal_bypass"
    words = "the master cylinder lets fluid slip past inside"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with fluid slipping past."""
        return replace(roots, bypass=roots.bypass + self.at(*LEAK))


@dataclass(frozen=True)
class AirInCircuit(AxleFault):
    """There is air in one circuit."""

    id = "air_in_circuit"
    words = "there is air in a circuit"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with more air in one circuit; a larger system holds more."""
        more = self.at(0.002, 0.008) * vehicle.hydraulics.system_ml
        front, rear = roots.air_ml
        air: Pair = (front + more, rear) if self.axle == "front" else (front, rear + more)
        return replace(roots, air_ml=air)


@dataclass(frozen=True)
class OldFluid(VehicleFault):
    """The fluid is old and has taken up water."""

    id = "old_fluid"
    words = "the fluid is old and holds water"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with more water in the fluid."""
        return _wetter(roots, self.at(1.2, 4.0))


@dataclass(frozen=True)
class WrongFluid(VehicleFault):
    """Another fluid than the maker's has been poured in.

    A lower grade boils earlier. Silicone fluid holds fine air, and water lies in it as drops. Mineral oil
    swells the rubber. All but the boiling points: common practice, no source.

    Args:
        severity: how far it has gone, 0 to 1.
        fluid: what was poured in.
    """

    fluid: Wrong = "DOT 3"

    id = "wrong_fluid"
    words = "a wrong fluid has been poured in"

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.fluid not in get_args(Wrong):
            raise ValueError(
                f"fluid poured in must be one of {', '.join(get_args(Wrong))}, but it was {self.fluid!r}."
            )

    @classmethod
    def drawn(cls, draw: Draw, vehicle: Vehicle, severity: float) -> Self:
        """Return one of its kind with a drawn fluid that is wrong for this vehicle."""
        asked = vehicle.hydraulics.fluid_grade
        return cls(severity, draw.choice([fluid for fluid in get_args(Wrong) if fluid != asked]))

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with the wrong fluid and what it does at once."""
        poured = _wetter(replace(roots, fluid=self.fluid), self.at(0.1, 1.5))
        if self.fluid == "mineral oil":
            for wheel in WHEELS:
                acting_km = min(roots.wheel(wheel).acting_km, self.at(*SWOLLEN_KM))
                poured = poured.with_wheel(wheel, acting_km=acting_km)
            return replace(poured, seals_swollen=max(roots.seals_swollen, self.at(0.3, 1.0)))
        if self.fluid == "DOT 5":
            air = self.at(0.001, 0.003) * vehicle.hydraulics.system_ml
            return replace(poured, air_ml=(roots.air_ml[0] + air, roots.air_ml[1] + air))
        return poured


def _leaking(roots: Roots, fault: VehicleFault) -> Roots:
    return replace(roots, leaking_km=min(roots.leaking_km, fault.at(*LEAKING_KM)))


def _wetter(roots: Roots, more_percent: float) -> Roots:
    return replace(roots, water_percent=min(MOST_WATER_PERCENT, roots.water_percent + more_percent))
