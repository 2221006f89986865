"""The rotor of one wheel on its hub: tilt, thickness, what is seen of it; and what its fasteners hold."""

from __future__ import annotations

import math
from collections.abc import Sequence

from brakecourse.bench._wheel_records import (
    FastenerSet,
    RotorFit,
)
from brakecourse.bench.faults import HeatSpots, HubRunOut, VariationFromRunOut, apply, tilt
from brakecourse.bench.roots import RotorRoots, WheelRoots
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.bench.specification import AxleBrake, Fastener
from brakecourse.trade.fasteners import nut_factor, preload_n, proof_fraction
from brakecourse.trade.hub_fit import debris_run_out_mm

# Thickness that a rotor loses for each mm worn off its two pads together. Assumption, no source.
ROTOR_WEAR_SHARE = 0.03
# Run-out at the seat that unevenly tightened nuts make, for a spread as large as the maker's torque.
# That they make some is common practice, no source; how much, an assumption, no source.
NUTS_RUN_OUT_MM = 0.08
# The same for nuts tightened alike to twice the maker's torque. Assumption, no source.
OVERTIGHT_RUN_OUT_MM = 0.05
# From where it is seen. Assumption, no source.
SEEN_SPOT_MM, SEEN_GROOVE_MM, SEEN_RIDGE_MM = 0.015, 0.1, 0.6

_GRID_DEG = tuple(30.0 * place for place in range(12))


def rotor_fit(brake: AxleBrake, roots: WheelRoots, pads_worn_mm: float, nuts: FastenerSet) -> RotorFit:
    """Return the rotor as it sits on its hub.

    Args:
        brake: the axle's brake.
        roots: what is the matter at the wheel.
        pads_worn_mm: depth worn off both pads together, which took its share of the rotor along.
        nuts: the wheel nuts, which press the rotor on its seat.

    Source:
        Tilts add as vectors (:mod:`brakecourse.trade.hub_fit`); how variation grows from run-out:
        :mod:`brakecourse.bench.faults`.
    """
    own = roots.rotor
    seated = _seated(brake, own, own.worn_before_mm + ROTOR_WEAR_SHARE * pads_worn_mm, nuts)
    grown = VariationFromRunOut(own.run_out_km).act(seated)
    rotor = _deposit(apply(grown, own.faults), roots)
    radius = brake.measuring_radius_mm
    thickness = [rotor.between_anvils_mm(angle, radius) for angle in _places_deg(rotor)]
    ridge_mm = (rotor.wear_mm + rotor.rust_mm) / 2
    return RotorFit(
        rotor=rotor,
        run_out_mm=rotor.tilt_run_out_mm,
        debris_mm=own.debris_mm,
        debris_run_out_mm=debris_run_out_mm(own.debris_mm, brake.seat_radius_mm, radius),
        flange_run_out_mm=own.flange_run_out_mm,
        variation_mm=max(thickness) - min(thickness),
        smallest_mm=min(thickness),
        ridge_mm=ridge_mm,
        looks=_looks(rotor, ridge_mm, roots),
    )


def _places_deg(rotor: RotorCondition) -> list[float]:
    """A grid round the track, and the places where each cause makes it thickest or thinnest."""
    spots = [rotor.spot_deg + 360 * spot / rotor.spots for spot in range(rotor.spots)]
    ends = [angle + half for angle in (rotor.made_thick_deg, rotor.grown_high_deg) for half in (0, 180)]
    return [*_GRID_DEG, *spots, *ends]


def _seated(brake: AxleBrake, own: RotorRoots, worn_mm: float, nuts: FastenerSet) -> RotorCondition:
    """The rotor as it was made, worn off evenly, and tilted on its hub."""
    across, along = tilt(_tilts(brake, own, nuts))
    return RotorCondition(
        nominal_mm=brake.rotor.nominal_mm,
        outer_radius_mm=brake.rotor_outer_radius_mm,
        inner_radius_mm=brake.rotor_inner_radius_mm,
        measuring_radius_mm=brake.measuring_radius_mm,
        studs=len(nuts.torques_nm),
        wear_mm=worn_mm,
        ridge_width_mm=own.ridge_width_mm,
        rust_mm=own.rust_mm,
        made_variation_mm=own.made_variation_mm,
        made_thick_deg=own.made_thick_deg,
        tilt_across=across,
        tilt_along=along,
        loose_rock_mm=own.loose_rock_mm,
        loose_high_deg=own.loose_high_deg,
    )


def _tilts(brake: AxleBrake, own: RotorRoots, nuts: FastenerSet) -> tuple[HubRunOut, ...]:
    """Everything that tilts the rotor: its own making, the flange, a flake on it, and its nuts."""
    seat = brake.seat_radius_mm
    loosest = min(range(len(nuts.torques_nm)), key=lambda nut: nuts.torques_nm[nut])
    nuts_mm = NUTS_RUN_OUT_MM * (nuts.most_share - nuts.least_share)
    nuts_mm += OVERTIGHT_RUN_OUT_MM * max(0.0, nuts.least_share - 1)
    return (
        HubRunOut(own.rotor_run_out_mm, brake.measuring_radius_mm, own.rotor_high_deg),
        HubRunOut(own.flange_run_out_mm, seat, own.flange_high_deg),
        HubRunOut(own.debris_mm, seat, own.debris_deg),  # a flake lifts the seat's edge by its thickness
        HubRunOut(nuts_mm, seat, 360 * loosest / len(nuts.torques_nm)),
    )


def _deposit(rotor: RotorCondition, roots: WheelRoots) -> RotorCondition:
    """Uneven deposits stand up like heat spots; where both are, the higher ones count."""
    if roots.deposit_mm <= rotor.spot_height_mm:
        return rotor
    return HeatSpots(roots.deposit_count, roots.deposit_mm, roots.deposit_deg).act(rotor)


def _looks(rotor: RotorCondition, ridge_mm: float, roots: WheelRoots) -> tuple[str, ...]:
    spots = [fault for fault in roots.rotor.faults if isinstance(fault, HeatSpots)]
    seen = {
        "grooved": rotor.groove_depth_mm >= SEEN_GROOVE_MM,
        "ridge at the outer edge": ridge_mm >= SEEN_RIDGE_MM,
        "dark spots": any(spot.height_mm >= SEEN_SPOT_MM for spot in spots),
        "patches of friction material": roots.deposit_mm >= SEEN_SPOT_MM,
    }
    return tuple(look for look, there in seen.items() if there) or ("smooth",)


def fastener_set(fastener: Fastener, found_nm: Sequence[float], count: int) -> FastenerSet:
    """Return fasteners as found.

    Args:
        fastener: the thread, and the maker's torque.
        found_nm: torque found at each; empty means the maker's at all.
        count: how many there are when none is given.
    """
    torques = tuple(found_nm) or (fastener.torque_nm,) * count
    factor = nut_factor(fastener.finish)
    preloads = tuple(preload_n(torque, fastener.diameter_mm, factor) for torque in torques)
    share = proof_fraction(max(preloads), fastener.diameter_mm, fastener.pitch_mm, fastener.property_class)
    return FastenerSet(fastener.name, fastener.torque_nm, torques, preloads, share)


def looseness(bolts: FastenerSet) -> float:
    """Return the share of a set's pull that is missing, 0 to 1."""
    return max(0.0, 1 - math.fsum(bolts.torques_nm) / len(bolts.torques_nm) / bolts.wanted_nm)
