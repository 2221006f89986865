"""The right answers from the pads to the wheels: how they follow, and the mistakes that they invite."""

from __future__ import annotations

from brakecourse.bench.specification import AXLES, Axle
from brakecourse.marking import basis
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m04_pedal_to_pad.key import own_mpa, pressure_near
from brakecourse.marking.papers.m04_pedal_to_pad.near import area_shares, half_place, named, near
from brakecourse.marking.papers.m04_pedal_to_pad.truth import Brake, ForceTruth
from brakecourse.marking.sealed import SealedMistake
from brakecourse.published import convert
from brakecourse.trade import hydraulics
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.views.units import both
from brakecourse.views.words import number, percent


def clamps(push: ForceTruth, given: Given) -> Basis:
    """4.4: the clamp force of a front and of a rear caliper."""
    line = own_mpa(given, "4.1")
    right = tuple(_clamp_n(push, axle, line) for axle in AXLES)
    found: list[SealedMistake] = []
    for place, (axle, one) in enumerate(zip(AXLES, right, strict=True), start=1):
        wide = _clamp_near(push, axle, one, line, pressure_near(push))
        own = named(one, wide, 0, _clamp_mistakes(push, axle, one, right[2 - place]))
        found += [slip.model_copy(update={"place": place}) for slip in own]
    return basis.table(
        right,
        tuple(
            _clamp_near(push, axle, one, line, pressure_near(push))
            for axle, one in zip(AXLES, right, strict=True)
        ),
        found,
        how=" ".join(_clamp_how(push, axle, line) for axle in AXLES),
        places=0,
        # The pressure may have been carried on with all its digits while two were handed in.
        carried=tuple(
            _clamp_near(push, axle, one, line, half_place(2)) for axle, one in zip(AXLES, right, strict=True)
        ),
    )


def _clamp_n(push: ForceTruth, axle: Axle, line_mpa: float) -> float:
    brake = push.axle(axle)
    return hydraulics.clamp_force_n(_axle_mpa(push, axle, line_mpa), brake.bore_mm, brake.pushing)


def _axle_mpa(push: ForceTruth, axle: Axle, line_mpa: float) -> float:
    return line_mpa * (push.rear_share if axle == "rear" else 1.0)


def _clamp_near(push: ForceTruth, axle: Axle, clamp: float, line_mpa: float, line_off: float) -> float:
    # The rear pressure is rounded once more, to two places, before it is used.
    shares = [*area_shares(push.axle(axle).bore_mm), line_off / line_mpa]
    if axle == "rear":
        shares.append(half_place(2) / _axle_mpa(push, axle, line_mpa))
    return near(0, *(clamp * share for share in shares))


def _clamp_mistakes(push: ForceTruth, axle: Axle, right: float, other: float) -> list[tuple[str, float]]:
    brake = push.axle(axle)
    twice = "floating_clamp_doubled" if brake.kind == "floating" else "both_sides_counted"
    found = [("bore_as_radius", 4 * right), (twice, 2 * right)]
    if axle == "rear":
        found.append(("valve_left_out", right / push.rear_share))
    if brake.pushing > 1:
        found.append(("one_piston_counted", right / brake.pushing))
    return [
        *found,
        ("axles_swapped", other),
        ("psi_for_mpa", convert(right, "MPa", "psi")),
        ("ten_times", 10 * right),
        ("ten_times", right / 10),
    ]


def _clamp_how(push: ForceTruth, axle: Axle, line_mpa: float) -> str:
    brake = push.axle(axle)
    mpa = _axle_mpa(push, axle, line_mpa)
    valve = (
        f"{percent(push.rear_share)} of {number(line_mpa)} MPa is {both(mpa, 'MPa')}. "
        if axle == "rear"
        else ""
    )
    count = f"{brake.pushing} × " if brake.pushing > 1 else ""
    area = piston_area_mm2(brake.bore_mm)
    return (
        f"{axle.capitalize()}: {valve}{number(mpa, 3)} MPa × {count}{number(area, 1)} mm² = "
        f"{both(_clamp_n(push, axle, line_mpa), 'N')}."
    )


def torque(push: ForceTruth, given: Given) -> Basis:
    """4.5: the brake torque of one front wheel."""
    brake, clamp = push.front, given.row("4.4")[0]
    right = _torque_nm(brake, clamp)
    share = alone_share(push, "front")
    tolerance = near(0, right * share)
    found = (
        ("one_pad_face", right / 2),
        ("torque_doubled", 2 * right),
        ("millimetres_for_metres", 1000 * right),
        ("friction_left_out", right / brake.friction),
        ("lbfft_for_nm", convert(right, "N*m", "lbf*ft")),
        ("ten_times", 10 * right),
        ("ten_times", right / 10),
    )
    how = (
        f"2 × {number(brake.friction)} × {number(clamp, 0)} N × {number(brake.radius_mm / 1000, 4)} m = "
        f"{both(right, 'N·m')}."
    )
    return basis.number(
        right,
        tolerance,
        named(right, tolerance, 0, found),
        how=how,
        places=0,
        carried=near(0, right * half_place(0) / clamp),
    )


def _torque_nm(brake: Brake, clamp_n: float) -> float:
    return hydraulics.brake_torque_nm(clamp_n, brake.friction, brake.radius_mm)


def alone_share(push: ForceTruth, axle: Axle) -> float:
    """Return how far off a clamp force may be, judged alone, as a share of it."""
    line = push.should_mpa
    clamp = _clamp_n(push, axle, line)
    return _clamp_near(push, axle, clamp, line, pressure_near(push)) / clamp


def slowing(push: ForceTruth, given: Given) -> Basis:
    """4.6: the deceleration, as the maker built the vehicle."""
    front = given.number("4.5")
    rear = _torque_nm(push.rear, given.row("4.4")[1])
    right = _slowing_ms2(push, [front, front, rear, rear])
    share = alone_share(push, "front")
    tolerance = near(2, right * share)
    found = (
        ("front_axle_only", _slowing_ms2(push, [front, front])),
        ("two_wheels_counted", _slowing_ms2(push, [front, rear])),
        ("front_for_all_wheels", _slowing_ms2(push, [front] * 4)),
        ("share_of_gravity", right / hydraulics.STANDARD_GRAVITY_MS2),
        ("millimetres_for_metres", right / 1000),
        ("feet_for_metres", convert(right, "m", "ft")),
        ("ten_times", 10 * right),
        ("ten_times", right / 10),
    )
    whole = 2 * (front + rear)
    how = (
        f"Torque of one rear wheel: 2 × {number(push.rear.friction)} × {number(given.row('4.4')[1], 0)} N × "
        f"{number(push.rear.radius_mm / 1000, 4)} m = {both(rear, 'N·m')}. All four wheels: "
        f"2 × {number(front, 0)} + 2 × {number(rear, 0)} = {both(whole, 'N·m')}. "
        f"{number(whole, 0)} N·m ÷ {number(push.tyre_mm / 1000, 3)} m ÷ {number(push.mass_kg, 0)} kg = "
        f"{both(right, 'm/s²', 2)}."
    )
    # Front and rear torque are whole newton metres, and the force from the road is a whole newton.
    rounded = right * 2 * half_place(0) / whole
    road = half_place(0) / push.mass_kg
    return basis.number(
        right, tolerance, named(right, tolerance, 2, found), how=how, carried=near(2, rounded, rounded, road)
    )


def _slowing_ms2(push: ForceTruth, torques_nm: list[float]) -> float:
    return hydraulics.deceleration_ms2(torques_nm, push.tyre_mm, push.mass_kg)


KEY: dict[str, Answer] = {"4.4": clamps, "4.5": torque, "4.6": slowing}
