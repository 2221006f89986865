"""Quiz: one number of the way from the foot to the road, from a vehicle of the motor pool."""

from __future__ import annotations

from typing import Any, ClassVar, NamedTuple

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import AXLES, Axle
from brakecourse.bench.vehicles import Vehicle
from brakecourse.views import force_replies as rules
from brakecourse.views import force_stop_replies as stops
from brakecourse.views import force_tables as tables
from brakecourse.views.drawings.force_flow import Part, Stage, force_flow_svg
from brakecourse.views.drawings.stopping_road import Strip, stopping_road_svg
from brakecourse.views.force_chain import ForceChain, follow
from brakecourse.views.quiz import NumberTask, Quiz

PRESSURE, CLAMP, TORQUE, SLOWING, DISTANCE = (
    "pressure in the lines",
    "clamp force",
    "brake torque",
    "deceleration",
    "stopping distance",
)


class Push(NamedTuple):
    """What the picture of a case needs: a push up to a stage, or the road of a stop."""

    vehicle: Vehicle
    chain: ForceChain
    upto: Stage
    speed_kmh: float = 0.0
    reaction_s: float = 0.0


class ForceNumbers(Quiz):
    """Work out pressure, clamp force, torque, deceleration or stopping distance.

    The easier vehicles have one piston in a floating front caliper; the harder cases bring fixed calipers,
    two pistons, the rear axle, and other reaction times.
    """

    title = "Work it out: all of it, mixed"
    task = "Work out the missing number from the facts in the table. A calculator or paper helps."
    lesson = "04_pedal_to_pad"
    topics: ClassVar[tuple[str, ...]] = (PRESSURE, CLAMP, TORQUE, SLOWING, DISTANCE)

    def __init__(self, name: str = "force-numbers", seed: int = 2, **more: Any) -> None:
        super().__init__(name, seed, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        vehicle = draw.choice(_vehicles(difficulty))
        foot = 10.0 * draw.integer(10, 30)
        axle: Axle = "front" if difficulty == "easy" else draw.choice(AXLES)
        chain = follow(vehicle, foot)
        if topic == PRESSURE:
            return _pressure(vehicle, chain)
        if topic == CLAMP:
            return _clamp(vehicle, chain, axle)
        if topic == TORQUE:
            return _torque(vehicle, chain, axle)
        if topic == SLOWING:
            return _slowing(vehicle, chain)
        return _distance(vehicle, chain, difficulty, draw)

    def picture(self) -> str:
        push = self.asked.case
        if push.speed_kmh:
            return stopping_road_svg(
                [Strip("How long is it?", 14, 36, told=False)], uid=self.uid, scaled=False
            )
        part: Part = "upper" if push.upto in ("foot", "pressure") else "lower"
        return force_flow_svg(push.vehicle, push.chain, upto=push.upto, part=part, uid=self.uid)


class ClampNumbers(ForceNumbers):
    """The first half: from the foot to the pads."""

    title = "Work it out: pressure and clamp force"
    topics = (PRESSURE, CLAMP)

    def __init__(self, name: str = "clamp-numbers", seed: int = 8, **more: Any) -> None:
        super().__init__(name, seed, **more)


class TorqueNumbers(ForceNumbers):
    """The second half: from the pads to the road."""

    title = "Work it out: torque and deceleration"
    topics = (TORQUE, SLOWING)

    def __init__(self, name: str = "torque-numbers", seed: int = 6, **more: Any) -> None:
        super().__init__(name, seed, **more)


def _vehicles(difficulty: Difficulty) -> tuple[Vehicle, ...]:
    """Return the vehicles of a difficulty; the easiest have single-piston floating calipers in front."""
    pool = tuple(motor_pool().values())
    plain = tuple(one for one in pool if one.front.caliper.pistons == 1)
    return {"easy": plain, "normal": pool, "hard": tuple(one for one in pool if one not in plain)}[difficulty]


def _pressure(vehicle: Vehicle, chain: ForceChain) -> NumberTask:
    foot = chain.foot_n
    return NumberTask(
        PRESSURE,
        f"The driver of the {vehicle.name} pushes the pedal. What pressure is in the lines?",
        "Pressure",
        "MPa",
        lambda answer: rules.pressure_reply(answer, vehicle, foot),
        rules.pressure_answer(vehicle, foot),
        tables.pedal_facts(vehicle, foot),
        Push(vehicle, chain, "foot"),
    )


def _clamp(vehicle: Vehicle, chain: ForceChain, axle: Axle) -> NumberTask:
    pressure = round((chain.front if axle == "front" else chain.rear).pressure_mpa, 2)
    return NumberTask(
        CLAMP,
        f"With what clamp force does one {axle} caliper of the {vehicle.name} press one pad?",
        "Clamp force",
        "N",
        lambda answer: rules.clamp_reply(answer, vehicle, axle, pressure),
        rules.clamp_answer(vehicle, axle, pressure),
        tables.caliper_facts(vehicle, axle, pressure),
        Push(vehicle, chain, "pressure"),
    )


def _torque(vehicle: Vehicle, chain: ForceChain, axle: Axle) -> NumberTask:
    clamp = (chain.front if axle == "front" else chain.rear).clamp_n
    return NumberTask(
        TORQUE,
        f"What brake torque holds one {axle} wheel of the {vehicle.name} back?",
        "Brake torque",
        "N·m",
        lambda answer: rules.torque_reply(answer, vehicle, axle, clamp),
        rules.torque_answer(vehicle, axle, clamp),
        tables.pad_facts(vehicle, axle, clamp),
        Push(vehicle, chain, "clamp"),
    )


def _slowing(vehicle: Vehicle, chain: ForceChain) -> NumberTask:
    return NumberTask(
        SLOWING,
        f"How hard does this push slow the {vehicle.name}? No wheel locks.",
        "Deceleration",
        "m/s²",
        lambda answer: rules.slowing_reply(answer, vehicle, chain),
        rules.slowing_answer(vehicle, chain),
        tables.wheel_facts(vehicle, chain),
        Push(vehicle, chain, "torque"),
    )


def _distance(vehicle: Vehicle, chain: ForceChain, difficulty: Difficulty, draw: Draw) -> NumberTask:
    speed = 10.0 * draw.integer(3, 10)
    reaction = {"easy": 1.0, "normal": draw.integer(8, 15) / 10, "hard": draw.integer(6, 20) / 10}[difficulty]
    slowing = round(min(chain.slowing_ms2, 7.5), 1)
    return NumberTask(
        DISTANCE,
        f"The {vehicle.name} must stop. How long is the whole way, from the danger seen to standstill?",
        "Stopping distance",
        "m",
        lambda answer: stops.distance_reply(answer, speed, slowing, reaction),
        stops.distance_answer(speed, slowing, reaction),
        tables.stop_facts(speed, slowing, reaction),
        Push(vehicle, chain, "road", speed, reaction),
    )
