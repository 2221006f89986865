"""How a caliper that is off must be held, and what is wrong with the ways that people take."""

from __future__ import annotations

from typing import Any, NamedTuple

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import WHEELS, Wheel
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.views.drawings.caliper_hung import Held, caliper_hung_svg
from brakecourse.views.quiz import Quiz, Task
from brakecourse.views.retract_bench import LESSON

WEIGHT, RUN = "where its weight goes", "how its hose runs"
TOPICS = (WEIGHT, RUN)
GO_ON, OFF_HOSE, OFF_ARM = (
    "it hangs well: go on",
    "hang it up: its hose carries it",
    "hang it up: it can slide off",
)
UNTWIST, NEARER = "turn it back: its hose is twisted", "hang it nearer: its hose is taut"
CHOICES = (GO_ON, OFF_HOSE, OFF_ARM, UNTWIST, NEARER)
HELD: dict[str, tuple[Held, ...]] = {
    WEIGHT: ("hook", "strap", "hose", "arm"),
    RUN: ("hook", "strap", "twisted", "taut"),
}
RIGHT: dict[Held, str] = {
    "hook": GO_ON,
    "strap": GO_ON,
    "hose": OFF_HOSE,
    "arm": OFF_ARM,
    "twisted": UNTWIST,
    "taut": NEARER,
}
WHY: dict[Held, str] = {
    "hook": "The hook carries it, and the hose hangs in an easy bend, not twisted.",
    "strap": "The strap carries it, and the hose hangs in an easy bend, not twisted.",
    "hose": "Nothing but the hose carries it. Its tube can tear inside, where no one sees it.",
    "arm": "It only lies on the arm. One knock, and it falls into its hose.",
    "twisted": "The hook carries it, but the stripe winds round the hose: the caliper has been turned over.",
    "taut": "The hook carries it, but the hose is drawn straight and pulls at both its ends.",
}


class Hung(NamedTuple):
    """A caliper as it is held."""

    vehicle: Vehicle
    wheel: Wheel
    held: Held


class CaliperSupport(Quiz):
    """Calipers that have been taken off, held well or badly.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first case.
    """

    title = "Does it hang well?"
    task = "Look at what carries the caliper, and at how its hose runs. Choose what you do, and press Check."
    lesson = LESSON
    topics = TOPICS
    difficulties = ("usual",)

    def __init__(self, name: str = "caliper-support", seed: int = 5, **more: Any) -> None:
        super().__init__(name, seed, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return hung_task(topic, draw)

    def picture(self) -> str:
        hung = self.asked.case
        return caliper_hung_svg(
            hung.held, uid=self.uid, mirrored=hung.wheel.endswith("right"), title=self.title
        )


def hung_task(topic: str, draw: Draw) -> Task:
    """Return a caliper of the motor pool, held in a way of a topic.

    Args:
        topic: one of :data:`TOPICS`.
        draw: chance.
    """
    held = draw.child("held").choice(HELD[topic])
    vehicle = draw.child("vehicle").choice(list(motor_pool().values()))
    wheel = draw.child("wheel").choice(WHEELS)
    where = f"This is the {vehicle.name} ({vehicle.fleet_number}), {wheel} wheel."
    question = f"{where} The caliper is off. What do you do?"
    said = {one: _reason(one, held) for one in CHOICES}
    return Task(topic, question, CHOICES, RIGHT[held], said, (), Hung(vehicle, wheel, held))


def _reason(choice: str, held: Held) -> str:
    if choice == RIGHT[held]:
        return WHY[held]
    denied = {
        GO_ON: "It must not stay so.",
        OFF_HOSE: "The hose does not carry it here.",
        OFF_ARM: "It cannot slide off here.",
        UNTWIST: "The stripe runs straight along the hose.",
        NEARER: "The hose is not drawn straight by a hook here.",
    }[choice]
    return f"{denied} {WHY[held]}"
