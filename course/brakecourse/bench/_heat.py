"""How hot each wheel gets on two stated drives, and how hot the fluid in its caliper."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.roots import Pair
from brakecourse.bench.specification import AxleBrake
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.burnish import cool_c, stop_energy_j, temperature_rise_c
from brakecourse.trade.hydraulics import STANDARD_GRAVITY_MS2

# The reference drive: through the town, with a stop now and then. Assumption, no source.
DRIVE_S, DRIVE_KMH, STOP_EVERY_S = 1200.0, 50.0, 120.0
# The reference descent: a long hill after that drive, where the engine holds back its part. Assumption,
# no source.
DESCENT_S, DESCENT_KMH, DESCENT_SLOPE, DESCENT_BRAKE_SHARE = 480.0, 40.0, 0.06, 0.4
# Specific heat of a rotor's iron, J/(kg K). Assumption, no source: a round figure for cast iron.
IRON_J_KGK = 460.0
# Share of the rotor's rise above the air that reaches the fluid in the caliper. Assumption, no source.
FLUID_SHARE = 0.45


def temperatures_c(
    vehicle: Vehicle,
    brakes: Sequence[AxleBrake],
    iron_kg: Sequence[float],
    torques_nm: Sequence[float],
    drags_nm: Sequence[float],
    air_c: float,
) -> list[Pair]:
    """Return each rotor's temperature after the reference drive, and its fluid's after the descent.

    Each rotor is one lump of iron, warmed steadily by its share of the braking and by its own drag. The
    steady state lies where cooling takes away what comes in; the rotor nears it with its time constant.

    Args:
        vehicle: whose wheels they are.
        brakes, iron_kg: each wheel's brake, and the mass that is left of its rotor.
        torques_nm, drags_nm: each wheel's brake torque, and the torque of its rubbing pads.
        air_c: temperature of the air.

    Source:
        Conservation of energy and Newton's law of cooling (:mod:`brakecourse.trade.burnish`).
    """
    whole_nm = sum(torques_nm)
    town_w = stop_energy_j(vehicle.mass_kg, DRIVE_KMH) / STOP_EVERY_S
    hill_w = vehicle.mass_kg * STANDARD_GRAVITY_MS2 * DESCENT_SLOPE * DESCENT_BRAKE_SHARE * DESCENT_KMH / 3.6
    found: list[Pair] = []
    for brake, iron, torque_nm, drag_nm in zip(brakes, iron_kg, torques_nm, drags_nm, strict=True):
        share = torque_nm / whole_nm if whole_nm else 0.0
        n_per_m = 1000 * drag_nm / vehicle.tyre_radius_mm
        town_c = _warmed_c(brake, iron, air_c, share * town_w + n_per_m * DRIVE_KMH / 3.6, DRIVE_S, air_c)
        hill_c = _warmed_c(
            brake, iron, town_c, share * hill_w + n_per_m * DESCENT_KMH / 3.6, DESCENT_S, air_c
        )
        found.append((town_c, air_c + FLUID_SHARE * (max(town_c, hill_c) - air_c)))
    return found


def _warmed_c(
    brake: AxleBrake, iron_kg: float, start_c: float, power_w: float, seconds: float, air_c: float
) -> float:
    tau = brake.cooling_time_constant_s
    steady_c = air_c + temperature_rise_c(power_w * tau, iron_kg, IRON_J_KGK)
    return cool_c(start_c, steady_c, seconds, tau)
