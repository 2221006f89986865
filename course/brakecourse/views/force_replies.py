"""Replies to the numbers between foot and road: right, or which mistake gives exactly that number."""

from __future__ import annotations

from collections.abc import Mapping

from brakecourse.bench.specification import Axle
from brakecourse.bench.vehicles import Vehicle
from brakecourse.published import convert
from brakecourse.trade import hydraulics
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.views.force_chain import AxleForces, ForceChain
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

SHARE = 0.01
"""How far off an answer may be and still count as right, as a share of it."""

RADIUS = (
    "You took the bore for the radius. A bore is a diameter: square it, times π ÷ 4; "
    "or halve it first, square it, times π."
)
_PSI = "That number is in psi. The answer was asked in megapascals: 1 MPa is 145 psi."
_PSI_IN = "You put the pressure in as psi. Use megapascals: 1 MPa presses with 1 N on each mm²."
_TWICE_TORQUE = (
    "That is twice the torque. Two faces rub, each pressed by the clamp force: 2 × friction × clamp force × "
    "radius. Do not double the clamp force or the radius as well."
)
_FACE = "That is one pad only. Two faces rub, one on each side of the rotor: count both."


def snapped(answer: float, mistakes: Mapping[str, float], share: float = SHARE) -> dict[str, float]:
    """Return the mistakes, with one that nearly gives the answer set to it: rounding hides no mistake.

    Args:
        answer: what the learner typed.
        mistakes: for each mistake, the value that it gives.
        share: how near counts, as a share of that value.

    >>> snapped(929, {"psi": 929.15, "radius": 1.6})
    {'psi': 929, 'radius': 1.6}
    """
    return {
        words: answer if abs(answer - value) <= share * abs(value) else value
        for words, value in mistakes.items()
    }


def pressure_answer(vehicle: Vehicle, foot_n: float) -> str:
    """Say how the line pressure comes about."""
    system = vehicle.hydraulics
    lever, booster = foot_n * system.pedal_ratio, system.assist_n(foot_n)
    area = piston_area_mm2(system.master_bore_mm)
    return (
        f"({number(lever, 0)} + {number(booster, 0)}) N ÷ {number(area, 0)} mm² = "
        f"{both((lever + booster) / area, 'MPa')}."
    )


def pressure_reply(answer_mpa: float, vehicle: Vehicle, foot_n: float) -> Reply:
    """Judge the pressure in the lines, in MPa."""
    system = vehicle.hydraulics
    booster = system.assist_n(foot_n)

    def with_these(foot: float, ratio: float, help_n: float) -> float:
        return hydraulics.line_pressure_mpa(foot, ratio, system.master_bore_mm, help_n)

    right = with_these(foot_n, system.pedal_ratio, booster)
    return number_reply(
        answer_mpa,
        right,
        snapped(
            answer_mpa,
            {
                _PSI: convert(right, "MPa", "psi"),
                RADIUS: right / 4,
                "You left the booster out. It pushes on the same rod: add it to the lever.": with_these(
                    foot_n, system.pedal_ratio, 0
                ),
                "You left the lever out. Multiply the foot's force by the pedal ratio first.": with_these(
                    foot_n, 1, booster
                ),
                "You multiplied the booster's force as well. It already acts at the rod.": with_these(
                    foot_n + booster, system.pedal_ratio, 0
                ),
                "That is in kilopascals: 1 MPa is 1000 kPa.": 1000 * right,
                "Your decimal point slipped by one place.": 10 * right,
            },
        ),
        unit="MPa",
        tolerance=SHARE * right,
        because=pressure_answer(vehicle, foot_n),
        hint="Foot times pedal ratio, plus the booster, divided by the piston area of the master cylinder.",
    )


def clamp_answer(vehicle: Vehicle, axle: Axle, pressure_mpa: float) -> str:
    """Say how the clamp force comes about."""
    caliper = vehicle.axle(axle).caliper
    area = piston_area_mm2(caliper.piston_bore_mm)
    count = f"{caliper.pushing_pistons} × " if caliper.pushing_pistons > 1 else ""
    force = vehicle.axle(axle).clamp_force_n(pressure_mpa)
    return f"{number(pressure_mpa)} MPa × {count}{number(area, 0)} mm² = {both(force, 'N')}."


def clamp_reply(answer_n: float, vehicle: Vehicle, axle: Axle, pressure_mpa: float) -> Reply:
    """Judge the clamp force of one caliper, in N."""
    caliper = vehicle.axle(axle).caliper
    right = vehicle.axle(axle).clamp_force_n(pressure_mpa)
    if caliper.kind == "floating":
        twice = (
            "That is twice the clamp force. In a floating caliper the outer pad is pressed by reaction: "
            "the same force, not a second one to add."
        )
    else:
        twice = (
            "That is twice the clamp force. In a fixed caliper the pistons on the other side press the other "
            "pad: count one side only."
        )
    mistakes = {twice: 2 * right, RADIUS: 4 * right, _PSI_IN: convert(right, "MPa", "psi")}
    if caliper.pushing_pistons > 1:
        count = caliper.pushing_pistons
        mistakes[f"You counted one piston. {count} of them press each pad."] = right / count
    mistakes |= {
        "That number is in kilonewtons. The answer was asked in newtons.": right / 1000,
        "Your decimal point slipped by one place.": right / 10,
    }
    return number_reply(
        answer_n,
        right,
        snapped(answer_n, mistakes),
        unit="N",
        tolerance=SHARE * right,
        because=clamp_answer(vehicle, axle, pressure_mpa),
        hint="Pressure times piston area, and count the pistons that press one pad.",
    )


def torque_answer(vehicle: Vehicle, axle: Axle, clamp_n: float) -> str:
    """Say how the brake torque comes about."""
    brake = vehicle.axle(axle)
    torque = hydraulics.brake_torque_nm(clamp_n, brake.pad.friction, brake.effective_radius_mm)
    return (
        f"2 × {number(brake.pad.friction)} × {number(clamp_n, 0)} N × "
        f"{number(brake.effective_radius_mm / 1000, 4)} m = {both(torque, 'N·m')}."
    )


def torque_reply(answer_nm: float, vehicle: Vehicle, axle: Axle, clamp_n: float) -> Reply:
    """Judge the brake torque of one wheel, in N·m."""
    brake = vehicle.axle(axle)
    right = hydraulics.brake_torque_nm(clamp_n, brake.pad.friction, brake.effective_radius_mm)
    return number_reply(
        answer_nm,
        right,
        snapped(
            answer_nm,
            {
                _FACE: right / 2,
                _TWICE_TORQUE: 2 * right,
                "The radius was in millimetres. Divide it by 1000 first: a torque is newtons times metres.": (
                    1000 * right
                ),
                "You left the friction out. Only the rubbing share of the clamp force brakes.": (
                    right / brake.pad.friction
                ),
                "That is in pound-force feet. The answer was asked in newton metres.": convert(
                    right, "N*m", "lbf*ft"
                ),
            },
        ),
        unit="N·m",
        tolerance=SHARE * right,
        because=torque_answer(vehicle, axle, clamp_n),
        hint="Two faces, times friction, times clamp force, times effective radius in metres.",
    )


def slowing_answer(vehicle: Vehicle, chain: ForceChain) -> str:
    """Say how the deceleration comes about."""
    whole = 2 * (chain.front.torque_nm + chain.rear.torque_nm)
    return (
        f"{number(whole, 0)} N·m of four wheels ÷ {number(vehicle.tyre_radius_mm / 1000, 3)} m ÷ "
        f"{number(vehicle.mass_kg, 0)} kg = {both(chain.slowing_ms2, 'm/s²', 2)}."
    )


def slowing_reply(answer_ms2: float, vehicle: Vehicle, chain: ForceChain) -> Reply:
    """Judge the deceleration, in m/s²."""
    right, front = chain.slowing_ms2, 2 * chain.front.torque_nm
    gravity = hydraulics.STANDARD_GRAVITY_MS2
    return number_reply(
        answer_ms2,
        right,
        snapped(
            answer_ms2,
            {
                "That is half of it. Four wheels brake, two on each axle; and the tyre's radius counts, "
                "not its diameter.": right / 2,
                "You counted the front axle only. The rear wheels brake too.": hydraulics.deceleration_ms2(
                    [front], vehicle.tyre_radius_mm, vehicle.mass_kg
                ),
                "That is the share of gravity. Times 9.81 it becomes m/s².": right / gravity,
                "You divided by the weight in newtons. Divide by the mass in kilograms.": right / gravity**2,
                "The tyre's radius was in millimetres. Divide it by 1000 first.": right / 1000,
                "That is in feet per second squared. The answer was asked in m/s².": convert(
                    right, "m/s**2", "ft/s**2"
                ),
            },
        ),
        unit="m/s²",
        tolerance=max(0.05, SHARE * right),
        because=slowing_answer(vehicle, chain),
        hint="Add the torques of all four wheels, divide by the tyre radius in metres, then by the mass.",
        places=2,
    )


def load_reply(answer_n: float, forces: AxleForces, other: AxleForces) -> Reply:
    """Judge what an axle carries while braking, in N."""
    right, standing = forces.braking_n, forces.standing_n
    shift = abs(right - standing)
    sign = "plus" if forces.axle == "front" else "minus"
    return number_reply(
        answer_n,
        right,
        snapped(
            answer_n,
            {
                "That is the load when standing. Braking moves load to the front.": standing,
                "You moved the load the wrong way: braking takes it from the rear to the front.": (
                    2 * standing - right
                ),
                "That is the other axle.": other.braking_n,
                "That is what is moved, not what the axle carries.": shift,
            },
        ),
        unit="N",
        tolerance=SHARE * right,
        because=f"{both(standing, 'N')} when standing {sign} {both(shift, 'N')} moved by braking.",
        hint="Begin with the load when standing. The front gains what the rear loses.",
    )
