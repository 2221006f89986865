"""A rotor on its hub, from the bench's whole vehicle: what a dial finds, and what each part of it adds.

The flake, the hub and the rotor are rounded to what a gauge shows, so that a learner's sums come out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from brakecourse.bench.condition import RotorFit, rotor_of
from brakecourse.bench.gauges import dial_indicator
from brakecourse.bench.roots import Roots, RotorRoots
from brakecourse.bench.specification import AxleBrake, Wheel, axle_of
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.hub_fit import RunOut, at_radius, best_index, debris_run_out_mm
from brakecourse.trade.rotor import run_out_mm

PLACES_DEG = tuple(45.0 * place for place in range(8))
_DIAL = dial_indicator()


@dataclass(frozen=True)
class Fit:
    """One rotor as it sits on its hub.

    Attributes:
        vehicle, wheel: which one.
        roots, km: what is the matter with the vehicle, and how far it has gone.
    """

    vehicle: Vehicle
    wheel: Wheel
    roots: Roots
    km: float

    @property
    def brake(self) -> AxleBrake:
        """The axle's brake."""
        return self.vehicle.axle(axle_of(self.wheel))

    @property
    def own(self) -> RotorRoots:
        """What is the matter with the rotor and its seat."""
        return self.roots.wheel(self.wheel).rotor

    @cached_property
    def found(self) -> RotorFit:
        """What follows from it, as the bench says."""
        return rotor_of(self.vehicle, self.wheel, self.roots, self.km)

    @property
    def seat_mm(self) -> float:
        """Radius of the hub's seat."""
        return self.brake.seat_radius_mm

    @property
    def radius_mm(self) -> float:
        """Radius where the dial stands."""
        return self.brake.measuring_radius_mm

    @property
    def limit_mm(self) -> float:
        """Largest total run-out of the fitted rotor."""
        return self.brake.rotor.max_run_out_mm

    @property
    def studs(self) -> int:
        """How many wheel studs, so how many positions."""
        return self.vehicle.studs

    @property
    def flake_run_out_mm(self) -> float:
        """What the flake alone makes at the track."""
        return debris_run_out_mm(self.own.debris_mm, self.seat_mm, self.radius_mm)

    @property
    def hub(self) -> RunOut:
        """The bare flange's run-out, at the track."""
        return at_radius(
            RunOut(self.own.flange_run_out_mm, self.own.flange_high_deg), self.seat_mm, self.radius_mm
        )

    @property
    def rotor(self) -> RunOut:
        """The rotor's own run-out, as it is mounted."""
        return RunOut(self.own.rotor_run_out_mm, self.own.rotor_high_deg)

    @cached_property
    def dial_mm(self) -> tuple[float, ...]:
        """Eight dial readings round the rotor, the dial set to zero at the chalk mark."""
        start = self.found.rotor.face_offset_mm(0)
        return tuple(_DIAL.reading(self.found.rotor.face_offset_mm(angle) - start) for angle in PLACES_DEG)

    @property
    def total_mm(self) -> float:
        """The total run-out that the dial shows."""
        return run_out_mm(self.dial_mm)

    @cached_property
    def best(self) -> tuple[int, float, tuple[float, ...]]:
        """The best position of clean faces, its run-out, and the run-out at each."""
        return best_index(self.hub, self.rotor, self.studs)

    def cleaned(self) -> Fit:
        """The same, both faces cleaned to bare metal."""
        return self.with_rotor(debris_mm=0.0)

    def turned_on(self, index: int) -> Fit:
        """The same, the rotor turned on by some studs; what lies on the hub stays there."""
        turned = (self.own.rotor_high_deg + 360 * index / self.studs) % 360
        return self.with_rotor(rotor_high_deg=turned)

    def with_rotor(self, **changes: float) -> Fit:
        """The same with something else the matter with rotor or seat."""
        wheel = self.roots.wheel(self.wheel).with_rotor(**changes)
        return replace(self, roots=self.roots.with_wheel_roots(self.wheel, wheel))


def wheel_words(fit: Fit) -> str:
    """Say which wheel it is, for example ``"the front left wheel of the dog-warden's estate"``."""
    return f"the {fit.wheel} wheel of the {fit.vehicle.name}"
