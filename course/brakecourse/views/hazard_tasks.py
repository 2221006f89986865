"""Draw a workshop in which one place can hurt someone: pure functions over the table of hazards."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.views.hazards import MOVING, SPOTS, Hazard
from brakecourse.views.quiz import Task
from brakecourse.views.units import both

_PLACES: dict[Difficulty, int] = {"easy": 3, "normal": 5, "hard": 8}
_QUESTION = "One place here can hurt someone. Which one is it, and what do you do?"
_ON_ITS_WHEELS = ("sheet", "fluid", "cleaner")
_RAISED = ("support", "chock", "dust", "caliper", "heat", "spring", "fluid", "cleaner")


@dataclass(frozen=True)
class Workshop:
    """What a hazard task's picture shows.

    Attributes:
        vehicle: which one is in the bay.
        spots: each place and its state, in the order of their numbers.
        told: what is to be seen at each place.
        heat_c: what the thermometer shows.
        place: the number of the place that can hurt someone.
    """

    vehicle: Vehicle
    spots: dict[str, str]
    told: tuple[str, ...]
    heat_c: float
    place: int


def hazard_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return a workshop with one hazard of a topic; all its other places are in order.

    Args:
        topic: one of :data:`brakecourse.views.hazards.TOPICS`.
        difficulty: the harder, the more places.
        draw: chance.
    """
    bad = draw.choice([name for name, spot in SPOTS.items() if spot.topic == topic])
    hazard = draw.choice(SPOTS[bad].hazards)
    names = _names(bad, topic, difficulty, draw)
    place = names.index(bad) + 1
    heat_c = float(draw.integer(120, 260) if hazard.state == "hot" else draw.integer(18, 24))
    seen = (hazard.seen if name == bad else SPOTS[name].seen for name in names)
    workshop = Workshop(
        draw.choice(list(motor_pool().values())),
        {name: hazard.state if name == bad else SPOTS[name].state for name in names},
        tuple(words.format(heat=both(heat_c, "°C", 0)) for words in seen),
        heat_c,
        place,
    )
    choices, reasons = _choices(names, bad, hazard, difficulty, draw)
    evidence = (("Place", "What you see"), *((str(n), words) for n, words in enumerate(workshop.told, 1)))
    return Task(topic, _QUESTION, choices, f"place {place}: {hazard.control}", reasons, evidence, workshop)


def _names(bad: str, topic: str, difficulty: Difficulty, draw: Draw) -> list[str]:
    """Return the places to show: the one that hurts and others, in the drawing's own order."""
    pool = _ON_ITS_WHEELS if topic == MOVING else _RAISED
    others = draw.shuffled([name for name in pool if name != bad])
    kept = {bad, *others[: _PLACES[difficulty] - 1]}
    return [name for name in pool if name in kept]


def _choices(
    names: list[str], bad: str, hazard: Hazard, difficulty: Difficulty, draw: Draw
) -> tuple[tuple[str, ...], dict[str, str]]:
    """Return the answers to choose from, each with its reason."""
    here = f"place {names.index(bad) + 1}"
    reasons = {f"{here}: {hazard.control}": hazard.why}
    for wrong, reason in hazard.wrong.items():
        reasons[f"{here}: {wrong}"] = f"The place is right, but that does not help. {reason}"
    for name in draw.shuffled([name for name in names if name != bad])[: 1 if difficulty == "easy" else 2]:
        number, spot = names.index(name) + 1, SPOTS[name]
        control = draw.choice(spot.hazards).control
        reasons[f"place {number}: {control}"] = f"Place {number} is in order. {spot.fine}"
    return tuple(draw.shuffled(list(reasons))), reasons
