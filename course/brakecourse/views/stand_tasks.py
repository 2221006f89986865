"""Draw questions about the load on axle stands and their rating, with the usual slips named."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import AXLES, Axle
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.hydraulics import STANDARD_GRAVITY_MS2
from brakecourse.views.quiz import NumberTask, Task
from brakecourse.views.replies import number_reply
from brakecourse.views.stand_loads import (
    SIZES_KG,
    STAND_MARGIN,
    axle_load_kg,
    rating_needed_kg,
    smallest_size_kg,
    stand_load_kg,
)
from brakecourse.views.units import both
from brakecourse.views.words import inches, number

LOAD, RATING, WHICH = "load on one stand", "rating to ask for", "which stands to take"
TOPICS = (LOAD, RATING, WHICH)


@dataclass(frozen=True)
class OnStands:
    """Which end of which vehicle is up."""

    vehicle: Vehicle
    axle: Axle


def stand_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task | NumberTask:
    """Return a question about two stands under one end of a vehicle of the motor pool.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: easier questions give the load of the axle, the others what it follows from.
        draw: chance.
    """
    case = OnStands(draw.choice(list(motor_pool().values())), draw.choice(AXLES))
    if topic == WHICH:
        return _which(case, difficulty, draw)
    return _load(case, difficulty) if topic == LOAD else _rating(case, difficulty)


def kg(value: float) -> str:
    """Write a mass with its pounds."""
    return both(value, "kg", 0)


def _load(case: OnStands, difficulty: Difficulty) -> NumberTask:
    one, axle = case.vehicle, case.axle
    right, whole = stand_load_kg(one, axle), axle_load_kg(one, axle)
    slips = {
        "That is the load of the whole axle. Two stands share it.": whole,
        "That is a stand under the other axle.": stand_load_kg(one, _other(axle)),
        "That is a quarter of the vehicle, but its two axles do not carry alike.": one.mass_kg / 4,
        "That is half of the whole vehicle. The wheels on the floor carry the other axle.": one.mass_kg / 2,
        "That is newtons. Divide by 9.81 for kilograms.": right * STANDARD_GRAVITY_MS2,
    }
    because = f"The {axle} axle carries {kg(whole)}, and two stands share it."
    return NumberTask(
        LOAD,
        f"The {axle} end of the {one.name} rests on two stands, right under the axle. What does each carry?",
        "Load on one stand",
        "kg",
        lambda typed: number_reply(
            typed,
            right,
            slips,
            unit="kg",
            tolerance=max(3.0, right / 100),
            because=because,
            hint=f"Find the load of the {axle} axle first, then halve it.",
        ),
        f"{kg(right)}. {because}",
        _evidence(case, difficulty),
        case,
    )


def _rating(case: OnStands, difficulty: Difficulty) -> NumberTask:
    one, axle = case.vehicle, case.axle
    load, right = stand_load_kg(one, axle), rating_needed_kg(one, axle)
    slips = {
        "That is the load itself. The margin is still missing.": load,
        "That is the margin on the whole axle. Two stands share it.": STAND_MARGIN * 2 * load,
        "That is the load divided by the margin. A margin makes the rating larger.": load / STAND_MARGIN,
        "That is the rating for the other axle.": rating_needed_kg(one, _other(axle)),
        "That is newtons. Divide by 9.81 for kilograms.": right * STANDARD_GRAVITY_MS2,
    }
    because = f"Each stand carries {kg(load)}, and {STAND_MARGIN} times that is {kg(right)}."
    return NumberTask(
        RATING,
        f"The {axle} end of the {one.name} rests on two stands, right under the axle. "
        f"What must each stand be rated for at least, with the margin of {STAND_MARGIN}?",
        "Rating of each stand",
        "kg",
        lambda typed: number_reply(
            typed,
            right,
            slips,
            unit="kg",
            tolerance=max(4.0, right / 100),
            because=because,
            hint="Halve the load of the axle, then multiply by the margin.",
        ),
        because,
        _evidence(case, difficulty),
        case,
    )


def _which(case: OnStands, difficulty: Difficulty, draw: Draw) -> Task:
    one, axle = case.vehicle, case.axle
    needed = rating_needed_kg(one, axle)
    size = smallest_size_kg(needed)
    small = max((mark for mark in SIZES_KG if mark < needed), default=size // 2)
    right = f"two stands, each marked {kg(size)}"
    must = f"Each must be rated for at least {kg(needed)}."
    reasons = {
        right: f"{must} These are.",
        f"two stands, each marked {kg(small)}": f"{must} These are not.",
        f"the trolley jack, marked {kg(2 * size)}": "A jack lifts, it does not hold, whatever its mark says.",
    }
    if difficulty != "easy":
        reasons[f"two stands, marked {kg(size)} the pair"] = (
            f"The mark is for both together: each is good for {kg(size / 2)} only. {must}"
        )
    if difficulty == "hard":
        reasons[f"two stands, each marked {kg(2 * size)}, one with a bent pin"] = (
            "A damaged stand carries nothing for sure. Take it out of use."
        )
    question = f"The {axle} end of the {one.name} must go on stands. Which do you take?"
    return Task(
        WHICH,
        question,
        tuple(draw.shuffled(list(reasons))),
        right,
        reasons,
        _evidence(case, difficulty),
        case,
    )


def _evidence(case: OnStands, difficulty: Difficulty) -> tuple[tuple[str, ...], ...]:
    one = case.vehicle
    head = ("What", "Value")
    if difficulty == "easy":
        loads = ((f"Load of the {axle} axle", kg(axle_load_kg(one, axle))) for axle in AXLES)
        return (head, *loads, ("Margin", f"{STAND_MARGIN} times the load"))
    weight = one.mass_kg * STANDARD_GRAVITY_MS2 / 1000
    whole = (
        ("Mass", kg(one.mass_kg))
        if difficulty == "normal"
        else ("Weight", both(weight, "kN", 2, us_places=0))
    )
    return (
        head,
        whole,
        ("Front axle to rear axle", length(one.wheelbase_mm)),
        ("Front axle to centre of gravity", length(one.cg_to_front_mm)),
        ("Margin", f"{STAND_MARGIN} times the load"),
    )


def length(value_mm: float) -> str:
    """Write a long length: whole millimetres, inches to a tenth."""
    return f"{number(value_mm, 0)} mm ({inches(value_mm, 1)})"


def _other(axle: Axle) -> Axle:
    return "rear" if axle == "front" else "front"
