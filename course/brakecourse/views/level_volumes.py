"""Areas and volumes: from a bore to the fluid that the wear of a whole vehicle asks for."""

from __future__ import annotations

from typing import NamedTuple

from brakecourse.bench.draw import Draw
from brakecourse.bench.level_sums import rotor_wear_mm
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import AxleBrake
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import WornPads
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.fluid import WheelWear, level_drop_mm, piston_area_mm2
from brakecourse.views.drawings import CaliperCut, caliper_follow_svg
from brakecourse.views.level_mistakes import (
    LESSON,
    area_mistakes,
    mm_words,
    total_mistakes,
    volume_mistakes,
)
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

AREA, WHEEL, VEHICLE = "the area of a piston", "the fluid at one wheel", "the fluid at all four wheels"
_SHARE_RIGHT = 0.01  # of the right value: enough for π as 3.14


class WornAxle(NamedTuple):
    """Both wheels of an axle, worn alike.

    Attributes:
        vehicle: whose axle it is.
        brake: its brake.
        wear_mm: wear of each pad, mm, to a tenth.
    """

    vehicle: Vehicle
    brake: AxleBrake
    wear_mm: float

    @property
    def wear(self) -> WheelWear:
        """The wear of one of its wheels."""
        return self.brake.wear(self.wear_mm, rotor_wear_mm(self.wear_mm))


class WearVolumes(Quiz):
    """Work out a piston's area, one wheel's fluid, and the fluid of the whole vehicle.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first case.
    """

    title = "How much fluid does the wear ask for?"
    task = "Work it out on paper or with a calculator. Type the number and press Check."
    lesson = LESSON
    topics = (AREA, WHEEL, VEHICLE)

    def __init__(self, name: str = "wear-volumes", seed: int = 4, **more: object) -> None:
        super().__init__(name, seed, **more)  # type: ignore[arg-type]

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        """Return an axle, or a vehicle, whose wear is known."""
        car = _car(draw, difficulty)
        front, rear = (_axle(car, axle) for axle in ("front", "rear"))
        either = [one for one in (front, rear) if one.brake.caliper.kind == "fixed"] or [front, rear]
        one = draw.child("axle").choice(either if difficulty == "hard" else [front, rear])
        if topic == AREA:
            return _area_task(one)
        return _wheel_task(one) if topic == WHEEL else _vehicle_task(front, rear)

    def picture(self) -> str:
        return axle_svg(self.asked.case, uid=self.uid)


def axle_svg(one: WornAxle, *, uid: str) -> str:
    """Draw one caliper of a worn axle, with the reservoir as that axle alone would leave it."""
    system, brake = one.vehicle.hydraulics, one.brake
    gone_mm = level_drop_mm(2 * one.wear.volume_ml, system.reservoir_area_mm2)
    cut = CaliperCut(
        brake.caliper.kind,
        brake.caliper.piston_bore_mm,
        brake.pad.height_mm,
        brake.rotor.nominal_mm,
        brake.pad.lining_new_mm,
        one.wear_mm,
        one.wear.rotor_wear_mm,
    )
    return caliper_follow_svg(
        cut,
        level_mm=max(0.0, system.reservoir_max_mm - gone_mm),
        min_mm=system.reservoir_min_mm,
        max_mm=system.reservoir_max_mm,
        height_mm=system.reservoir_max_mm + 12,
        uid=uid,
        title=f"{brake.axle.capitalize()} caliper of the {one.vehicle.name}, cut through",
    )


def _car(draw: Draw, difficulty: Difficulty) -> VehicleCase:
    pool = motor_pool().values()
    simple = [one for one in pool if one.front.caliper.pistons == one.rear.caliper.pistons == 1]
    fixed = [one for one in pool if "fixed" in (one.front.caliper.kind, one.rear.caliper.kind)]
    other = [one for one in pool if one not in simple and one not in fixed]
    pools = {"easy": simple, "normal": simple + other, "hard": fixed + other}
    vehicle = draw.child("which").choice(pools[difficulty])
    seed, faults = draw.child("car").integer(0, 999), draw.integer(0, 1)
    return draw_vehicle(seed, faults, difficulty, (WornPads,), vehicle)


def _axle(car: VehicleCase, axle: str) -> WornAxle:
    wheels = [one for one in car.condition.wheels if one.wheel.startswith(axle)]
    pads = [depth for one in wheels for depth in (one.pads.inner_worn_mm, one.pads.outer_worn_mm)]
    brake = car.vehicle.front if axle == "front" else car.vehicle.rear
    return WornAxle(car.vehicle, brake, round(sum(pads) / len(pads), 1))


def _area_task(one: WornAxle) -> NumberTask:
    bore = one.brake.caliper.piston_bore_mm
    area = piston_area_mm2(bore)

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            area,
            area_mistakes(bore),
            unit="mm²",
            tolerance=_SHARE_RIGHT * area,
            because=area_words(bore),
            hint="π ÷ 4 times the bore, times the bore again.",
        )

    question = f"{_whose(one)}: the bore is {both(bore, 'mm', 0)}. What is the area of one piston?"
    return NumberTask(
        AREA, question, "Area", "mm²", rule, f"{both(area, 'mm²')}. {area_words(bore)}", case=one
    )


def area_words(bore_mm: float) -> str:
    """Say how a piston's area comes about."""
    return f"π ÷ 4 × {mm_words(bore_mm)} × {mm_words(bore_mm)}: the bore is the diameter."


def _wheel_task(one: WornAxle) -> NumberTask:
    wear = one.wear

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            wear.volume_ml,
            volume_mistakes(wear),
            unit="mL",
            tolerance=_SHARE_RIGHT * wear.volume_ml,
            because=wheel_words(wear),
            hint="Area of the pistons times how far they have come out, then divide by 1000.",
        )

    return NumberTask(
        WHEEL,
        f"{_whose(one)}. How much fluid has followed the pistons at one wheel?",
        "Fluid at one wheel",
        "mL",
        rule,
        f"{both(wear.volume_ml, 'mL')}. {wheel_words(wear)}",
        evidence=_rows(one),
        case=one,
    )


def wheel_words(wear: WheelWear) -> str:
    """Say how the fluid at one wheel comes about."""
    area = piston_area_mm2(wear.piston_bore_mm)
    if wear.caliper == "floating":
        travel = f"({number(wear.lining_wear_mm, 1)} + {number(wear.lining_wear_mm, 1)} + "
        travel += f"{number(wear.rotor_wear_mm, 1)}) mm"
        many = wear.pistons
    else:
        travel = f"(2 × {number(wear.lining_wear_mm, 1)} + {number(wear.rotor_wear_mm, 1)}) mm"
        many = wear.pistons // 2
    times = "" if many == 1 else f"{many} pistons × "
    side = "" if wear.caliper == "floating" else " Half of the pistons stand on each side."
    return f"{times}{area:.0f} mm² × {travel} ÷ 1000.{side}"


def _vehicle_task(front: WornAxle, rear: WornAxle) -> NumberTask:
    axles = [front.wear, rear.wear]
    total = 2 * (front.wear.volume_ml + rear.wear.volume_ml)
    how = (
        f"2 × {number(front.wear.volume_ml, 1)} mL at the front and "
        f"2 × {number(rear.wear.volume_ml, 1)} mL at the rear."
    )

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            total,
            total_mistakes(axles),
            unit="mL",
            tolerance=_SHARE_RIGHT * total,
            because=how,
            hint="Work out one front wheel and one rear wheel. Count each twice.",
        )

    rows = tuple((*a, b[1]) for a, b in zip(_rows(front), _rows(rear), strict=True))
    return NumberTask(
        VEHICLE,
        f"The {front.vehicle.name}: both wheels of an axle have worn alike. "
        "How much fluid does the wear of all four wheels ask for?",
        "Fluid at all four wheels",
        "mL",
        rule,
        f"{both(total, 'mL')}. {how}",
        evidence=(("What", "Front axle", "Rear axle"), *rows[1:]),
        case=front,
    )


def _whose(one: WornAxle) -> str:
    return f"The {one.vehicle.name}, {one.brake.axle} axle"


def _rows(one: WornAxle) -> tuple[tuple[str, str], ...]:
    return (
        ("What", "At each wheel"),
        ("Caliper", caliper_words(one.brake)),
        ("Bore", both(one.brake.caliper.piston_bore_mm, "mm", 0)),
        ("Wear of each pad", both(one.wear_mm, "mm", 1)),
        ("Wear of the rotor, both faces", both(one.wear.rotor_wear_mm, "mm", 1)),
    )


def caliper_words(brake: AxleBrake) -> str:
    """Say what kind of caliper it is, and with how many pistons.

    >>> caliper_words(motor_pool()["meals_delivery_van"].front)
    'floating, 1 piston'
    """
    caliper = brake.caliper
    pistons = "1 piston" if caliper.pistons == 1 else f"{caliper.pistons} pistons"
    return f"{caliper.kind}, {pistons}"
