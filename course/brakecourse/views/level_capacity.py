"""How much a reservoir must hold by regulation, and whether one holds it."""

from __future__ import annotations

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import AxleBrake
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.fluid import CaliperTravel, required_reservoir_ml
from brakecourse.views.level_mistakes import LESSON, total_mistakes, volume_mistakes
from brakecourse.views.level_volumes import WornAxle, axle_svg, caliper_words
from brakecourse.views.quiz import NumberTask, Quiz, Task
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

CALIPER, RESERVOIR, ENOUGH = "one caliper's travel", "what the reservoir must hold", "does it hold enough?"
_SHARE_RIGHT = 0.006
YES, NO = "It holds enough.", "It holds too little."
# How far from what is asked the offered reservoir lies, as a share. Assumption, no source.
_OFFERED: dict[Difficulty, tuple[float, float]] = {
    "easy": (0.25, 0.45),
    "normal": (0.1, 0.3),
    "hard": (0.02, 0.08),
}


class ReservoirCapacity(Quiz):
    """Work out what the regulation asks of a reservoir.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first case.
    """

    title = "What must the reservoir hold?"
    task = "Take every caliper from new pads, drawn back, to worn ones, applied. Answer and press Check."
    lesson = LESSON
    topics = (CALIPER, RESERVOIR, ENOUGH)

    def __init__(self, name: str = "reservoir-capacity", seed: int = 5, **more: object) -> None:
        super().__init__(name, seed, **more)  # type: ignore[arg-type]

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task | NumberTask:
        """Return a vehicle's calipers, all of them worn out."""
        pool = list(motor_pool().values())
        simple = [one for one in pool if one.front.caliper.kind == one.rear.caliper.kind == "floating"]
        vehicle = draw.child("which").choice(simple if difficulty == "easy" else pool)
        if topic == CALIPER:
            front = draw.child("axle").uniform() < 0.5
            return _caliper_task(vehicle, vehicle.front if front else vehicle.rear)
        if topic == RESERVOIR:
            return _reservoir_task(vehicle)
        return _enough_task(vehicle, difficulty, draw.child("offered"))

    def picture(self) -> str:
        return axle_svg(self.asked.case, uid=self.uid)


def required_ml(vehicle: Vehicle) -> float:
    """Return what the regulation asks of a vehicle's reservoir, mL."""
    front, rear = vehicle.front.travel, vehicle.rear.travel
    return required_reservoir_ml([front, front, rear, rear])


def _worn_out(vehicle: Vehicle, brake: AxleBrake) -> WornAxle:
    return WornAxle(vehicle, brake, round(brake.pad.lining_new_mm - brake.pad.minimum_mm, 1))


def _caliper_task(vehicle: Vehicle, brake: AxleBrake) -> NumberTask:
    travel = brake.travel

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            travel.volume_ml,
            volume_mistakes(travel),
            unit="mL",
            tolerance=_SHARE_RIGHT * travel.volume_ml,
            because=travel_words(travel),
            hint="Lining from new to its minimum, plus the clearance, for each pad; plus the rotor's wear.",
        )

    return NumberTask(
        CALIPER,
        f"The {vehicle.name}, {brake.axle} axle. How much fluid does the whole travel of one caliper take?",
        "Fluid for one caliper",
        "mL",
        rule,
        f"{both(travel.volume_ml, 'mL')}. {travel_words(travel)}",
        evidence=(("What", "At each wheel"), *_rows(brake)),
        case=_worn_out(vehicle, brake),
    )


def travel_words(travel: CaliperTravel) -> str:
    """Say how the fluid for one caliper's whole travel comes about."""
    per_pad = travel.lining_new_mm - travel.lining_worn_mm + travel.clearance_mm
    lining = f"{number(travel.lining_new_mm, 1)} − {number(travel.lining_worn_mm, 1)}"
    half = " A fixed caliper: half of the pistons stand on each side." if travel.caliper == "fixed" else ""
    return (
        f"Each pad moves by {lining} + {number(travel.clearance_mm, 2)} = {number(per_pad, 2)} mm. "
        f"Both pads, and {number(travel.rotor_wear_mm, 1)} mm of the rotor, times the pistons' area.{half}"
    )


def _reservoir_task(vehicle: Vehicle) -> NumberTask:
    needed = required_ml(vehicle)
    travels = [vehicle.front.travel, vehicle.rear.travel]

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            needed,
            total_mistakes(travels),
            unit="mL",
            tolerance=_SHARE_RIGHT * needed,
            because=_sum_words(vehicle),
            hint="The fluid for one front and one rear caliper, each counted twice.",
        )

    rows = tuple((*a, b[1]) for a, b in zip(_rows(vehicle.front), _rows(vehicle.rear), strict=True))
    return NumberTask(
        RESERVOIR,
        f"The {vehicle.name}. How much must its reservoir hold at least?",
        "The reservoir must hold",
        "mL",
        rule,
        f"{both(needed, 'mL')}. {_sum_words(vehicle)}",
        evidence=(("What", "Front axle", "Rear axle"), *rows),
        case=_worn_out(vehicle, vehicle.front),
    )


def _enough_task(vehicle: Vehicle, difficulty: Difficulty, draw: Draw) -> Task:
    needed, travels = required_ml(vehicle), (vehicle.front.travel, vehicle.rear.travel)
    share = draw.between(*_OFFERED[difficulty])
    offered = round(needed * (1 + share if draw.uniform() < 0.5 else 1 - share))
    enough = offered >= needed
    gap = f"{both(abs(offered - needed), 'mL')} {'more' if enough else 'less'} than that"
    sums = f"{_sum_words(vehicle)} Together {both(needed, 'mL')}. It holds {both(offered, 'mL', 0)}: {gap}."
    return Task(
        ENOUGH,
        f"The {vehicle.name} needs another reservoir. The one in the store holds "
        f"{both(offered, 'mL', 0)} at MAX. Does it hold enough?",
        (YES, NO),
        YES if enough else NO,
        {YES: sums, NO: sums},
        (
            ("What", "Front axle", "Rear axle"),
            ("Fluid for one caliper", *(both(one.volume_ml, "mL") for one in travels)),
        ),
        case=_worn_out(vehicle, vehicle.front),
    )


def _sum_words(vehicle: Vehicle) -> str:
    front, rear = (one.travel.volume_ml for one in (vehicle.front, vehicle.rear))
    return f"2 × {number(front, 1)} mL at the front and 2 × {number(rear, 1)} mL at the rear."


def _rows(brake: AxleBrake) -> tuple[tuple[str, str], ...]:
    travel = brake.travel
    return (
        ("Caliper", caliper_words(brake)),
        ("Bore", both(travel.piston_bore_mm, "mm", 0)),
        ("Lining, new", both(travel.lining_new_mm, "mm", 1)),
        ("Lining, minimum", both(travel.lining_worn_mm, "mm", 1)),
        ("Rotor may lose, both faces", both(travel.rotor_wear_mm, "mm", 1)),
        ("Clearance, drawn back, each pad", both(travel.clearance_mm, "mm", 2)),
    )
