"""The hidden truth of a whole vehicle: everything that follows from its roots, worked out once.

Nothing here is drawn by chance. The roots say what is the matter; the trade's functions say what follows.
"""

from __future__ import annotations

from brakecourse.bench._condition_records import (
    FluidCondition,
    PedalCondition,
    RoadCondition,
    Side,
    VehicleCondition,
)
from brakecourse.bench._felt import REFERENCE_SPEED_KMH, SEEN_LEAK, noises, road_condition, wet_places
from brakecourse.bench._fluid_state import fluid_condition, pressure_share
from brakecourse.bench._forces import (
    FREE_WHEEL_NM,
    braking,
    drag_torque_nm,
    pad_grip_n,
    pin_gaps_mm,
    pin_slide_n,
    piston_friction_n,
    released,
    residual_mpa,
    seal_pull_n,
)
from brakecourse.bench._heat import temperatures_c
from brakecourse.bench._pads_worn import Worn, friction, pads_condition, worn
from brakecourse.bench._pedal import REFERENCE_FORCE_N, pedal_condition
from brakecourse.bench._rotor_fitted import ROTOR_WEAR_SHARE, fastener_set, looseness, rotor_fit
from brakecourse.bench._wheel_records import (
    CaliperCondition,
    DragCondition,
    FastenerSet,
    PadsCondition,
    RotorFit,
    Surface,
    WheelCondition,
)
from brakecourse.bench.checks import number
from brakecourse.bench.pedal import pressure_mpa
from brakecourse.bench.roots import Pair, Roots, WheelRoots
from brakecourse.bench.specification import WHEELS, AxleBrake, Wheel, axle_of
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.fluid import WheelWear
from brakecourse.trade.hydraulics import brake_torque_nm

__all__ = [
    "REFERENCE_FORCE_N",
    "REFERENCE_SPEED_KMH",
    "CaliperCondition",
    "DragCondition",
    "FastenerSet",
    "FluidCondition",
    "PadsCondition",
    "PedalCondition",
    "RoadCondition",
    "RotorFit",
    "Side",
    "Surface",
    "VehicleCondition",
    "WheelCondition",
    "live",
    "road_of",
    "rotor_of",
]

_BOLTS = 2  # caliper bolts, and bracket bolts, of one wheel


def live(vehicle: Vehicle, roots: Roots, km: float) -> VehicleCondition:
    """Return what a vehicle is like after it has gone a distance with these roots.

    Args:
        vehicle: which one.
        roots: what is the matter with it.
        km: distance since its pads were new and its reservoir was filled to the upper mark.

    Raises:
        ValueError: the distance is no number of 0 or more, or an argument is another thing.

    >>> from brakecourse.bench import motor_pool
    >>> from brakecourse.bench.roots import sound_roots
    >>> van = motor_pool()["library_van"]
    >>> perfect = live(van, sound_roots(van.hydraulics.fluid_grade), 20_000)
    >>> perfect.pedal.words, perfect.wet_places
    (('firm',), ())
    """
    for name, value, kind in (("vehicle", vehicle, Vehicle), ("roots", roots, Roots)):
        if not isinstance(value, kind):
            raise ValueError(f"{name} must be a {kind.__name__} of the bench, but it was {value!r}.")
    distance_km = number("km", km, 0)
    brakes = [vehicle.axle(axle_of(wheel)) for wheel in WHEELS]
    torques = [_torque_nm(vehicle, wheel, roots) for wheel in WHEELS]
    drags = _drags(vehicle, roots)
    drags_nm = [drag.torque_nm for drag in drags]
    rubbing_nm = [drag_nm - FREE_WHEEL_NM for drag_nm in drags_nm]
    iron = [_iron_kg(brake, one) for brake, one in zip(brakes, roots.wheels, strict=True)]
    heats = temperatures_c(vehicle, brakes, iron, torques, rubbing_nm, roots.air_c)
    wheels = tuple(
        _wheel(vehicle, wheel, roots, distance_km, drag, torque, heat)
        for wheel, drag, torque, heat in zip(WHEELS, drags, torques, heats, strict=True)
    )
    wear = [_wear(brake, one.pads) for brake, one in zip(brakes, wheels, strict=True)]
    run_outs = [one.rotor.run_out_mm for one in wheels]
    variations = [one.rotor.variation_mm for one in wheels]
    hottest_c = max(one.fluid_c for one in wheels)
    at_booster = ("behind the master cylinder, at the booster",) if roots.booster_leak >= SEEN_LEAK else ()
    return VehicleCondition(
        km=distance_km,
        wheels=wheels,
        pedal=pedal_condition(vehicle.hydraulics, roots, brakes, run_outs, variations),
        fluid=fluid_condition(vehicle.hydraulics, roots, distance_km, wear, hottest_c),
        road=road_condition(vehicle, torques, drags_nm),
        master_wet_places=at_booster,
    )


def road_of(vehicle: Vehicle, roots: Roots) -> RoadCondition:
    """Return only what the vehicle does on the road, which takes a fraction of the time.

    Args:
        vehicle: which one.
        roots: what is the matter with it.
    """
    torques = [_torque_nm(vehicle, wheel, roots) for wheel in WHEELS]
    return road_condition(vehicle, torques, [drag.torque_nm for drag in _drags(vehicle, roots)])


def rotor_of(vehicle: Vehicle, wheel: Wheel, roots: Roots, km: float) -> RotorFit:
    """Return only the rotor of one wheel, which takes a fraction of the time.

    Args:
        vehicle: which one.
        wheel: which of its wheels.
        roots: what is the matter with it.
        km: as for `live`.
    """
    brake, one = vehicle.axle(axle_of(wheel)), roots.wheel(wheel)
    inner, outer = _depths(vehicle, wheel, roots, number("km", km, 0))
    return rotor_fit(brake, one, inner.mean_mm + outer.mean_mm, _nuts(vehicle, one))


def _drags(vehicle: Vehicle, roots: Roots) -> list[DragCondition]:
    pairs = zip(WHEELS, roots.wheels, strict=True)
    return [_drag(vehicle.axle(axle_of(wheel)), one, roots.seals_swollen) for wheel, one in pairs]


def _torque_nm(vehicle: Vehicle, wheel: Wheel, roots: Roots) -> float:
    """Brake torque of one wheel at the reference force, engine running."""
    brake, one = vehicle.axle(axle_of(wheel)), roots.wheel(wheel)
    pressure = pressure_mpa(vehicle.hydraulics, REFERENCE_FORCE_N, engine_running=True)
    forces = braking(brake, one, pressure * pressure_share(vehicle.hydraulics, wheel), roots.seals_swollen)
    return brake_torque_nm(forces.mean_n, friction(brake, one), brake.effective_radius_mm)


def _iron_kg(brake: AxleBrake, one: WheelRoots) -> float:
    """A worn rotor has less iron to take up the heat: the mass goes with the thickness (a plain disc)."""
    worn_mm = one.rotor.worn_before_mm
    return brake.rotor_mass_kg * max(0.1, 1 - worn_mm / brake.rotor.nominal_mm)


def _drag(brake: AxleBrake, one: WheelRoots, swollen: float) -> DragCondition:
    """What holds the wheel, as found and after each of the two openings that tell a hose from a piston."""
    now = released(brake, one, swollen, residual_mpa(one, swollen))
    bled = released(brake, one, swollen, 0.0)
    upstream = released(brake, one, swollen, one.hose_holds_mpa)
    return DragCondition(
        inner_n=now.inner_n,
        outer_n=now.outer_n,
        torque_nm=drag_torque_nm(brake, now),
        bleeder_opened_nm=drag_torque_nm(brake, bled),
        fitting_opened_nm=drag_torque_nm(brake, upstream),
    )


def _wheel(
    vehicle: Vehicle,
    wheel: Wheel,
    roots: Roots,
    km: float,
    drag: DragCondition,
    torque_nm: float,
    heat_c: Pair,
) -> WheelCondition:
    brake, one = vehicle.axle(axle_of(wheel)), roots.wheel(wheel)
    inner, outer = _depths(vehicle, wheel, roots, km)
    nuts = _nuts(vehicle, one)
    bolts = fastener_set(brake.caliper.bolt, one.bolts_nm, _BOLTS)
    bracket = fastener_set(brake.caliper.bracket_bolt, one.bracket_bolts_nm, _BOLTS)
    rotor = rotor_fit(brake, one, inner.mean_mm + outer.mean_mm, nuts)
    pads = pads_condition(brake, one, (inner, outer), looseness(bracket), rotor.ridge_mm)
    return WheelCondition(
        wheel=wheel,
        pads=pads,
        caliper=_caliper(brake, one, roots.seals_swollen),
        drag=drag,
        rotor=rotor,
        nuts=nuts,
        bolts=bolts,
        bracket_bolts=bracket,
        brake_torque_nm=torque_nm,
        rotor_c=heat_c[0],
        fluid_c=heat_c[1],
        wet_places=wet_places(one),
        noises=noises(one, pads, drag, rotor, (nuts, bolts, bracket)),
    )


def _depths(vehicle: Vehicle, wheel: Wheel, roots: Roots, km: float) -> tuple[Worn, Worn]:
    """How deep the inner and the outer pad have worn."""
    brake, share = vehicle.axle(axle_of(wheel)), pressure_share(vehicle.hydraulics, wheel)
    return worn(brake, roots.wheel(wheel), km, vehicle.tyre_radius_mm, roots.seals_swollen, share)


def _nuts(vehicle: Vehicle, one: WheelRoots) -> FastenerSet:
    return fastener_set(vehicle.wheel_nut, one.nuts_nm, vehicle.studs)


def _caliper(brake: AxleBrake, one: WheelRoots, swollen: float) -> CaliperCondition:
    pinned = brake.caliper.pin is not None
    return CaliperCondition(
        pin_slide_n=pin_slide_n(brake, one) if pinned else None,
        grease_ml=one.grease_ml if pinned else None,
        pin_gap_mm=pin_gaps_mm(brake, one) if pinned else None,
        pins_swapped=pinned and one.pins_swapped,
        pin_boot_torn=pinned and one.pin_boot_torn,
        piston_boot_torn=one.piston_boot_torn,
        clip_rust_mm=one.clip_rust_mm,
        pad_grip_n=pad_grip_n(one),
        piston_push_back_n=seal_pull_n(brake.caliper)
        + piston_friction_n(brake.caliper, one.piston_drag_n, swollen),
        residual_mpa=residual_mpa(one, swollen),
    )


def _wear(brake: AxleBrake, pads: PadsCondition) -> WheelWear:
    """What wear has drawn from the reservoir since the pads were new."""
    caliper = brake.caliper
    both_mm = pads.inner_worn_mm + pads.outer_worn_mm
    return WheelWear(
        caliper.piston_bore_mm, caliper.pistons, both_mm / 2, ROTOR_WEAR_SHARE * both_mm, caliper.kind
    )
