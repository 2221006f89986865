"""A vehicle in good order: never perfect, a little of everything everywhere. All spreads: assumptions,
no source."""

from __future__ import annotations

from brakecourse.bench._fluid_state import pressure_share
from brakecourse.bench._forces import service_clamp_n
from brakecourse.bench.draw import Draw
from brakecourse.bench.roots import Pair, Roots, RotorRoots, WheelRoots
from brakecourse.bench.specification import WHEELS, AxleBrake, Fastener, Wheel, axle_of
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.slide_pins import grease_limit_ml

# Shares of the life of the pads that wear fastest.
LIFE_SHARE = (0.2, 0.75)
# Standard deviation of a torque by a good hand, as a share.
TORQUE_SD = 0.02
AIR_C = (5.0, 28.0)


def sound_km(draw: Draw, vehicle: Vehicle) -> float:
    """Return how far a vehicle has gone since its pads were new, in whole km.

    Args:
        draw: where the chance comes from.
        vehicle: which one.
    """
    lives = [
        1000 * (pad.lining_new_mm - pad.minimum_mm) / pad.wear_mm_per_1000km
        for pad in (vehicle.front.pad, vehicle.rear.pad)
    ]
    return float(round(min(*lives, vehicle.odometer_km) * draw.between(*LIFE_SHARE)))


def sound_wheels(draw: Draw, vehicle: Vehicle) -> Roots:
    """Return the roots of a vehicle in good order.

    Args:
        draw: where the chance comes from.
        vehicle: which one.
    """
    system_ml = vehicle.hydraulics.system_ml
    return Roots(
        wheels=tuple(_wheel(draw.child(wheel), vehicle, wheel) for wheel in WHEELS),
        fluid=vehicle.hydraulics.fluid_grade,
        water_percent=draw.between(0.2, 1.4),
        air_ml=(system_ml * draw.between(0, 0.0002), system_ml * draw.between(0, 0.0002)),
        short_ml=draw.between(0, 4),
        air_c=draw.between(*AIR_C),
    )


def _wheel(draw: Draw, vehicle: Vehicle, wheel: Wheel) -> WheelRoots:
    brake = vehicle.axle(axle_of(wheel))
    caliper = brake.caliper
    clamp_n = service_clamp_n(brake, pressure_share(vehicle.hydraulics, wheel))
    return WheelRoots(
        pin_drag_n=(clamp_n * draw.between(0.004, 0.02), clamp_n * draw.between(0.004, 0.02)),
        grease_ml=_grease(draw, brake),
        clip_rust_mm=(draw.between(0, 0.12), draw.between(0, 0.12)),
        piston_drag_n=clamp_n * draw.between(0.005, 0.03),
        lining_off_mm=(draw.between(-0.1, 0.1), draw.between(-0.1, 0.1)),
        glaze=draw.between(0, 0.03),
        bedding=draw.between(0.95, 1),
        deposit_mm=draw.between(0, 0.003),
        deposit_deg=draw.between(0, 360),
        nuts_nm=_torques(draw, vehicle.wheel_nut, vehicle.studs),
        bolts_nm=_torques(draw, caliper.bolt, 2),
        bracket_bolts_nm=_torques(draw, caliper.bracket_bolt, 2),
        rotor=_rotor(draw, brake),
    )


def _rotor(draw: Draw, brake: AxleBrake) -> RotorRoots:
    limits = brake.rotor
    most_mm = limits.max_run_out_mm
    return RotorRoots(
        worn_before_mm=draw.between(0, 0.45) * (limits.nominal_mm - limits.machine_to_mm),
        debris_mm=draw.between(0, 0.01),
        debris_deg=draw.between(0, 360),
        flange_run_out_mm=most_mm * draw.between(0.02, 0.15),
        flange_high_deg=draw.between(0, 360),
        rotor_run_out_mm=most_mm * draw.between(0.05, 0.25),
        rotor_high_deg=draw.between(0, 360),
        made_variation_mm=limits.max_variation_mm * draw.between(0.1, 0.3),
        made_thick_deg=draw.between(0, 360),
        ridge_width_mm=draw.between(2, 4),
        rust_mm=draw.between(0.02, 0.10),
        loose_rock_mm=draw.between(0.25, 0.60),
        loose_high_deg=draw.between(0, 360),
        run_out_km=draw.between(200, 2000),
    )


def _grease(draw: Draw, brake: AxleBrake) -> Pair:
    pin = brake.caliper.pin
    if pin is None:
        return (0.0, 0.0)
    limit = grease_limit_ml(pin.bore_mm, pin.depth_mm, pin.pin_mm, pin.seated_length_mm)
    return (limit * draw.between(0.3, 0.9), limit * draw.between(0.3, 0.9))


def _torques(draw: Draw, fastener: Fastener, count: int) -> tuple[float, ...]:
    return tuple(fastener.torque_nm * draw.normal(1, TORQUE_SD) for _ in range(count))
