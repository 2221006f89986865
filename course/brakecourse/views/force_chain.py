"""One push on the pedal followed from the foot to the road, number by number, by the trade's formulas.

The bench's own reference stop takes a vehicle as its maker built it. Here a bore may be another one, to see
what that does. Pure functions; nothing here is a vehicle fit for the road.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from brakecourse.bench.pedal import BULK_MODULUS_MPA
from brakecourse.bench.specification import AXLES, Axle
from brakecourse.bench.vehicles import FRONT_FIRST_UP_TO, Vehicle
from brakecourse.trade import fluid, hydraulics, leaks

DRY_ROAD_GRIP = FRONT_FIRST_UP_TO
"""Share of an axle's load that a dry road can hold, up to which the bench's vehicles lock their front wheels
first. Assumption, no source."""


@dataclass(frozen=True)
class Bores:
    """The three bores that set how a foot's force is shared out, all of them diameters in mm.

    Attributes:
        master_mm: the master cylinder.
        front_mm, rear_mm: one piston of a front and of a rear caliper.
    """

    master_mm: float
    front_mm: float
    rear_mm: float

    def axle_mm(self, axle: Axle) -> float:
        """Return the piston bore of an axle."""
        return self.front_mm if axle == "front" else self.rear_mm


@dataclass(frozen=True)
class AxleForces:
    """What one push does at one axle.

    Attributes:
        axle: which one.
        pressure_mpa: pressure in its calipers.
        clamp_n: force that presses one pad on the rotor.
        torque_nm: brake torque of one wheel.
        road_n: force with which the road holds the vehicle back, both wheels.
        standing_n, braking_n: what the axle carries, standing and while braking.
        share: its share of the braking.
    """

    axle: Axle
    pressure_mpa: float
    clamp_n: float
    torque_nm: float
    road_n: float
    standing_n: float
    braking_n: float
    share: float

    @property
    def grip(self) -> float:
        """The grip that the axle asks of the road: road force over load."""
        return self.road_n / self.braking_n if self.braking_n else math.inf


@dataclass(frozen=True)
class ForceChain:
    """One push on the pedal, from the foot to the road.

    Attributes:
        foot_n: force of the foot.
        lever_n: what the pedal's lever makes of it at the push-rod.
        booster_n: what the booster adds.
        line_mpa: pressure at the master cylinder.
        front, rear: what happens at each axle.
        slowing_ms2: deceleration, as long as the road gives the grip.
        travel_mm: how far the pedal goes down.
    """

    foot_n: float
    lever_n: float
    booster_n: float
    line_mpa: float
    front: AxleForces
    rear: AxleForces
    slowing_ms2: float
    travel_mm: float

    @property
    def rod_n(self) -> float:
        """The whole force on the master cylinder's piston."""
        return self.lever_n + self.booster_n

    @property
    def locks_at(self) -> dict[Axle, float]:
        """How many times this push each axle takes until it asks for all the grip of a dry road.

        Source: grip = road force over load, both growing in step with the push.
        """
        shift = self.front.braking_n - self.front.standing_n  # what braking moves from the rear to the front
        return {
            one.axle: DRY_ROAD_GRIP * one.standing_n / (one.road_n - sign * DRY_ROAD_GRIP * shift)
            for one, sign in ((self.front, 1), (self.rear, -1))
        }

    @property
    def locks_first(self) -> Axle:
        """The axle whose wheels lock first when the push grows."""
        return "front" if self.locks_at["front"] <= self.locks_at["rear"] else "rear"

    @property
    def too_much(self) -> bool:
        """Whether this push asks for more grip than a dry road gives."""
        return self.locks_at[self.locks_first] < 1


def bores_of(vehicle: Vehicle) -> Bores:
    """Return the bores as the maker chose them.

    >>> from brakecourse.bench import motor_pool
    >>> bores_of(motor_pool()["dog_wardens_estate"])
    Bores(master_mm=23.8, front_mm=54.0, rear_mm=38.0)
    """
    front, rear = vehicle.front.caliper, vehicle.rear.caliper
    return Bores(vehicle.hydraulics.master_bore_mm, front.piston_bore_mm, rear.piston_bore_mm)


def follow(vehicle: Vehicle, foot_n: float, bores: Bores | None = None) -> ForceChain:
    """Follow one push from the foot to the road.

    Args:
        vehicle: the vehicle, sound, with new pads and fluid free of air.
        foot_n: force of the foot, N, above 0.
        bores: other bores than the vehicle's own; by default its own.

    Raises:
        ValueError: a value is no number above 0, or the rear wheels would leave the road.

    Source:
        :mod:`brakecourse.trade.hydraulics`; pedal travel as in :mod:`brakecourse.bench.pedal`.

    >>> from brakecourse.bench import motor_pool
    >>> chain = follow(motor_pool()["dog_wardens_estate"], 250)
    >>> round(chain.line_mpa, 2), round(chain.front.clamp_n), round(chain.slowing_ms2, 2)
    (6.41, 14672, 7.12)
    """
    used = bores or bores_of(vehicle)
    system = vehicle.hydraulics
    booster = system.assist_n(foot_n)
    line = hydraulics.line_pressure_mpa(foot_n, system.pedal_ratio, used.master_mm, booster)
    pressures = {"front": line, "rear": line * system.rear_pressure_share}
    torques = {axle: _torque_nm(vehicle, axle, pressures[axle], used) for axle in AXLES}
    both = [*torques.values(), *torques.values()]
    slowing = hydraulics.deceleration_ms2(both, vehicle.tyre_radius_mm, vehicle.mass_kg)
    standing, braking = (_loads(vehicle, rate) for rate in (0.0, slowing))
    whole = math.fsum(torques.values())

    def at(axle: Axle) -> AxleForces:
        torque, caliper = torques[axle], vehicle.axle(axle).caliper
        return AxleForces(
            axle,
            pressures[axle],
            hydraulics.clamp_force_n(pressures[axle], used.axle_mm(axle), caliper.pushing_pistons),
            torque,
            2 * torque * 1000 / vehicle.tyre_radius_mm,
            standing.front_n if axle == "front" else standing.rear_n,
            braking.front_n if axle == "front" else braking.rear_n,
            torque / whole,
        )

    travel = _travel_mm(vehicle, line, used)
    return ForceChain(
        foot_n, foot_n * system.pedal_ratio, booster, line, at("front"), at("rear"), slowing, travel
    )


def foot_for(vehicle: Vehicle, slowing_ms2: float, most_n: int) -> int | None:
    """Return the whole newtons of push that come nearest to a deceleration; None when none does by 0.1 m/s².

    Args:
        vehicle: the vehicle.
        slowing_ms2: the wanted deceleration, m/s².
        most_n: the largest push to try, N.
    """
    near = min(range(10, most_n + 1), key=lambda foot: abs(follow(vehicle, foot).slowing_ms2 - slowing_ms2))
    return near if abs(follow(vehicle, near).slowing_ms2 - slowing_ms2) <= 0.1 else None


def with_bore(bores: Bores, which: str, change_mm: float) -> Bores:
    """Return the bores with one of them changed.

    Args:
        bores: the bores to begin with.
        which: ``"master"``, ``"front"`` or ``"rear"``.
        change_mm: by how much, mm.

    >>> with_bore(Bores(23.8, 54, 38), "master", 1.6).master_mm
    25.4
    """
    name = f"{which}_mm"
    return replace(bores, **{name: round(getattr(bores, name) + change_mm, 2)})


def _torque_nm(vehicle: Vehicle, axle: Axle, pressure_mpa: float, bores: Bores) -> float:
    brake = vehicle.axle(axle)
    clamp = hydraulics.clamp_force_n(pressure_mpa, bores.axle_mm(axle), brake.caliper.pushing_pistons)
    return hydraulics.brake_torque_nm(clamp, brake.pad.friction, brake.effective_radius_mm)


def _loads(vehicle: Vehicle, slowing_ms2: float) -> hydraulics.AxleLoads:
    return hydraulics.axle_loads_n(
        vehicle.mass_kg, vehicle.wheelbase_mm, vehicle.cg_height_mm, vehicle.cg_to_front_mm, slowing_ms2
    )


def _travel_mm(vehicle: Vehicle, line_mpa: float, bores: Bores) -> float:
    """Return the pedal's travel: the pads' gaps, the swelling of the hoses, the fluid's own shrinking."""
    system = vehicle.hydraulics
    gaps_ml = math.fsum(
        2 * fluid.WheelWear(bores.axle_mm(axle), one.pistons, one.clearance_mm, 0.0, one.kind).volume_ml
        for axle, one in ((axle, vehicle.axle(axle).caliper) for axle in AXLES)
    )
    shrinking = leaks.compressibility_ml(system.system_ml - system.reservoir_ml, line_mpa, BULK_MODULUS_MPA)
    sent_ml = math.fsum([gaps_ml, system.expansion_ml_per_mpa * line_mpa, shrinking])
    return system.free_play_mm + hydraulics.pedal_travel_mm(sent_ml, bores.master_mm, system.pedal_ratio)
