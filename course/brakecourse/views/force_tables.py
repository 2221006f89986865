"""The facts of a vehicle's brakes and the numbers of one push, as small tables in SI and US units."""

from __future__ import annotations

from brakecourse.bench.specification import AXLES, Axle
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.views.force_chain import ForceChain
from brakecourse.views.units import both
from brakecourse.views.words import mm, number, percent

Rows = tuple[tuple[str, ...], ...]


def pistons_words(vehicle: Vehicle, axle: Axle) -> str:
    """Say how many pistons press one pad, and how large they are.

    >>> from brakecourse.bench import motor_pool
    >>> pistons_words(motor_pool()["dog_wardens_estate"], "rear").replace(chr(160), " ")
    'fixed, 2 pistons of 38.0 mm (1.50 in), 1 on each side'
    """
    caliper = vehicle.axle(axle).caliper
    count = "1 piston" if caliper.pistons == 1 else f"{caliper.pistons} pistons"
    side = f", {caliper.pushing_pistons} on each side" if caliper.kind == "fixed" else ", on one side"
    return f"{caliper.kind}, {count} of {mm(caliper.piston_bore_mm, 1)}{side}"


def speed_words(speed_kmh: float) -> str:
    """Write a speed in whole km/h and whole mph.

    >>> speed_words(80).replace(chr(160), " ")
    '80 km/h (50 mph)'
    """
    return both(speed_kmh, "km/h", 0, us_places=0)


def pedal_facts(vehicle: Vehicle, foot_n: float) -> Rows:
    """Return what is known up to the master cylinder."""
    system = vehicle.hydraulics
    return (
        ("Fact", "Value"),
        ("Foot on the pedal", both(foot_n, "N")),
        ("Pedal ratio", number(system.pedal_ratio, 1)),
        ("Booster adds, at the rod", both(system.assist_n(foot_n), "N")),
        ("Master cylinder, bore", mm(system.master_bore_mm, 1)),
    )


def caliper_facts(vehicle: Vehicle, axle: Axle, pressure_mpa: float) -> Rows:
    """Return what is known of one caliper."""
    return (
        ("Fact", "Value"),
        (f"Pressure in the {axle} caliper", both(pressure_mpa, "MPa")),
        (f"{axle.capitalize()} caliper", pistons_words(vehicle, axle)),
    )


def pad_facts(vehicle: Vehicle, axle: Axle, clamp_n: float) -> Rows:
    """Return what is known of the pads of one wheel and of where they rub."""
    brake = vehicle.axle(axle)
    return (
        ("Fact", "Value"),
        (f"Clamp force of the {axle} caliper", both(clamp_n, "N")),
        ("Coefficient of friction", number(brake.pad.friction)),
        ("Effective radius", mm(brake.effective_radius_mm, 1)),
    )


def wheel_facts(vehicle: Vehicle, chain: ForceChain) -> Rows:
    """Return what is known of the wheels and of the vehicle."""
    return (
        ("Fact", "Value"),
        ("Torque of one front wheel", both(chain.front.torque_nm, "N·m")),
        ("Torque of one rear wheel", both(chain.rear.torque_nm, "N·m")),
        ("Tyre radius", mm(vehicle.tyre_radius_mm, 0)),
        ("Mass, loaded", both(vehicle.mass_kg, "kg")),
    )


def stop_facts(speed_kmh: float, slowing_ms2: float, reaction_s: float) -> Rows:
    """Return what is known of a stop."""
    return (
        ("Fact", "Value"),
        ("Speed", speed_words(speed_kmh)),
        ("Deceleration", both(slowing_ms2, "m/s²", 2)),
        ("Reaction time", f"{number(reaction_s, 1)} s"),
    )


def chain_table(chain: ForceChain) -> Rows:
    """Return the numbers of one push, front and rear side by side."""
    pairs = (chain.front, chain.rear)
    rows = (
        ("Pressure in the caliper", tuple(both(one.pressure_mpa, "MPa") for one in pairs)),
        ("Clamp force", tuple(both(one.clamp_n, "N") for one in pairs)),
        ("Torque of one wheel", tuple(both(one.torque_nm, "N·m") for one in pairs)),
        ("Force from the road, both wheels", tuple(both(one.road_n, "N") for one in pairs)),
        ("Load when standing", tuple(both(one.standing_n, "N") for one in pairs)),
        ("Load while braking", tuple(both(one.braking_n, "N") for one in pairs)),
        ("Grip asked of the road", tuple(percent(one.grip) for one in pairs)),
        ("Share of the braking", tuple(percent(one.share) for one in pairs)),
    )
    return (("One push", "Front", "Rear"), *((name, *cells) for name, cells in rows))


def before_after(before: ForceChain, after: ForceChain) -> Rows:
    """Return what a changed bore does, beside the vehicle as it was built."""
    rows = (
        ("Pressure in the lines", both(before.line_mpa, "MPa"), both(after.line_mpa, "MPa")),
        ("Front clamp force", both(before.front.clamp_n, "N"), both(after.front.clamp_n, "N")),
        ("Rear clamp force", both(before.rear.clamp_n, "N"), both(after.rear.clamp_n, "N")),
        ("Deceleration", both(before.slowing_ms2, "m/s²"), both(after.slowing_ms2, "m/s²")),
        ("Pedal travel", mm(before.travel_mm, 0), mm(after.travel_mm, 0)),
        ("Locks first", before.locks_first, after.locks_first),
    )
    return (("The same push", "As built", "Changed"), *rows)


def facts_of_vehicle(vehicle: Vehicle, foot_n: float) -> Rows:
    """Return everything that a worked stop begins with."""
    rows = [
        ("Vehicle", f"{vehicle.name}, {vehicle.fleet_number} (invented)"),
        *pedal_facts(vehicle, foot_n)[1:],
        (
            "Piston area of the master cylinder",
            both(piston_area_mm2(vehicle.hydraulics.master_bore_mm), "mm²", 1),
        ),
        ("Pressure let through to the rear", percent(vehicle.hydraulics.rear_pressure_share)),
    ]
    for axle in AXLES:
        brake = vehicle.axle(axle)
        rows += [
            (f"{axle.capitalize()} caliper", pistons_words(vehicle, axle)),
            (f"{axle.capitalize()} friction and effective radius",
             f"{number(brake.pad.friction)} and {mm(brake.effective_radius_mm, 1)}"),
        ]  # fmt: skip
    rows += [("Tyre radius", mm(vehicle.tyre_radius_mm, 0)), ("Mass, loaded", both(vehicle.mass_kg, "kg"))]
    return (("Fact", "Value"), *rows)
