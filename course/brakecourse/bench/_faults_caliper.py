"""Faults of calipers, brackets, hoses and boots."""

from __future__ import annotations

from dataclasses import dataclass, replace

from brakecourse.bench._fault_base import EndFault, PinFault, WheelFault
from brakecourse.bench._forces import seal_pull_n
from brakecourse.bench.roots import Pair, Roots
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.slide_pins import free_volume_ml, grease_limit_ml

# How far a vehicle goes with each of these until somebody looks, slight to severe. Assumptions, no source.
STUCK_KM = (2500.0, 9000.0)
HOSE_KM = (800.0, 3500.0)
CLIPS_KM = (3000.0, 12_000.0)


@dataclass(frozen=True)
class SeizedPiston(WheelFault):
    """The piston sticks in its bore. It takes force when braking, and does not draw back."""

    id = "seized_piston"
    words = "the caliper's piston sticks in its bore"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with more friction on the piston."""
        now = roots.wheel(self.wheel)
        drag_n = seal_pull_n(self.brake(vehicle).caliper) + self.at(0.12, 0.55) * self.clamp_n(vehicle)
        acting_km = min(now.acting_km, self.at(*STUCK_KM))
        return roots.with_wheel(self.wheel, piston_drag_n=now.piston_drag_n + drag_n, acting_km=acting_km)


@dataclass(frozen=True)
class SeizedPin(PinFault):
    """One slide pin is seized. The caliper's body tips round it."""

    id = "seized_pin"
    words = "one slide pin is seized in its bore"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with one tight pin."""
        drag_n = self.at(0.12, 0.46) * self.clamp_n(vehicle)
        return roots.with_wheel(self.wheel, pin_drag_n=self.one(roots.wheel(self.wheel).pin_drag_n, drag_n))


@dataclass(frozen=True)
class DryPins(PinFault):
    """Both slide pins are dry. The caliper's body no longer pulls the outer pad as hard."""

    id = "dry_pins"
    words = "both slide pins are dry"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with two tight pins, and little grease left."""
        now = roots.wheel(self.wheel)
        drag_n = self.at(0.07, 0.28) * self.clamp_n(vehicle)
        both: Pair = (now.pin_drag_n[0] + drag_n, now.pin_drag_n[1] + drag_n)
        left = 1 - self.at(0.4, 0.95)
        grease: Pair = (now.grease_ml[0] * left, now.grease_ml[1] * left)
        return roots.with_wheel(self.wheel, pin_drag_n=both, grease_ml=grease)


@dataclass(frozen=True)
class PackedPinBore(PinFault):
    """One pin's bore is packed with grease. The pin stops short of its seat and works like a pump."""

    id = "packed_pin_bore"
    words = "a slide pin's bore is packed with grease"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with more grease in one bore than finds room in it."""
        pin = self.brake(vehicle).caliper.pin
        if pin is None:
            return roots
        now = roots.wheel(self.wheel)
        measures = (pin.bore_mm, pin.depth_mm, pin.pin_mm, pin.seated_length_mm)
        limit, free = grease_limit_ml(*measures), free_volume_ml(*measures)
        grease_ml = free + self.at(0.1, 1.0) * (free - limit)
        grease = (grease_ml, now.grease_ml[1]) if self.leading else (now.grease_ml[0], grease_ml)
        return roots.with_wheel(self.wheel, grease_ml=grease)


@dataclass(frozen=True)
class SwappedPins(PinFault):
    """The two pins sit in each other's bores. Neither fits: one rattles, one binds."""

    id = "swapped_pins"
    words = "the two slide pins have been swapped"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with swapped pins; the one in the tighter bore binds, the other a little."""
        now = roots.wheel(self.wheel)
        binds_n = self.at(0.08, 0.3) * self.clamp_n(vehicle)
        drags = self.one((now.pin_drag_n[0] + binds_n / 4, now.pin_drag_n[1] + binds_n / 4), binds_n)
        return roots.with_wheel(self.wheel, pin_drag_n=drags, pins_swapped=not now.pins_swapped)


@dataclass(frozen=True)
class RustUnderClips(EndFault):
    """Rust has grown under an abutment clip. The pad is tight in its bracket at that end."""

    id = "rust_under_clips"
    words = "rust under an abutment clip holds the pad tight"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with rust at one end."""
        now = roots.wheel(self.wheel)
        rust = self.one(now.clip_rust_mm, self.at(0.25, 0.8))
        acting_km = min(now.acting_km, self.at(*CLIPS_KM))
        return roots.with_wheel(self.wheel, clip_rust_mm=rust, acting_km=acting_km)


@dataclass(frozen=True)
class CollapsedHose(WheelFault):
    """The hose has collapsed inside. Fluid gets in under pressure, and hardly back."""

    id = "collapsed_hose"
    words = "the hose has collapsed inside and holds pressure"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a hose that holds pressure."""
        now = roots.wheel(self.wheel)
        holds = max(now.hose_holds_mpa, self.at(0.04, 0.20))
        acting_km = min(now.acting_km, self.at(*HOSE_KM))
        return roots.with_wheel(self.wheel, hose_holds_mpa=holds, acting_km=acting_km)


@dataclass(frozen=True)
class TornPistonBoot(WheelFault):
    """The piston's boot is torn. Water and dirt got in, and the piston has begun to stick."""

    id = "torn_piston_boot"
    words = "the caliper piston's boot is torn"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a torn boot and some friction on the piston."""
        now = roots.wheel(self.wheel)
        drag_n = seal_pull_n(self.brake(vehicle).caliper) + self.at(0.03, 0.25) * self.clamp_n(vehicle)
        torn = replace(
            now,
            piston_boot_torn=True,
            piston_drag_n=now.piston_drag_n + drag_n,
            acting_km=min(now.acting_km, self.at(*STUCK_KM)),
        )
        return roots.with_wheel_roots(self.wheel, torn)


@dataclass(frozen=True)
class TornPinBoot(PinFault):
    """A pin's boot is torn. Its grease has washed out, and the pin has begun to rust."""

    id = "torn_pin_boot"
    words = "a slide pin's boot is torn"

    def act(self, roots: Roots, vehicle: Vehicle, km: float) -> Roots:
        """Return the roots with a torn boot, one tight pin, and little grease at it."""
        now = roots.wheel(self.wheel)
        drag_n = self.at(0.06, 0.30) * self.clamp_n(vehicle)
        left = 1 - self.at(0.4, 0.95)
        grease = now.grease_ml
        grease = (grease[0] * left, grease[1]) if self.leading else (grease[0], grease[1] * left)
        return roots.with_wheel(
            self.wheel,
            pin_boot_torn=True,
            pin_drag_n=self.one(now.pin_drag_n, drag_n),
            grease_ml=grease,
        )
