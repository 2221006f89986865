"""Work out how far a piston goes back, how much fluid that is, and what a shut bleeder does to the level."""

from __future__ import annotations

import math
from typing import Any

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings.retraction import retraction_svg
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.retract_bench import LESSON
from brakecourse.views.retract_cases import PushBack, draw_push_back, wheel_words
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

TRAVEL, VOLUME, LEVEL = "how far it goes back", "how much fluid comes out", "what a shut bleeder does"
TOPICS = (TRAVEL, VOLUME, LEVEL)
_SHARE_RIGHT = 0.01  # of the right value: enough for π as 3.14


class RetractionSums(Quiz):
    """Number questions about wheels of the motor pool.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first case.
    """

    title = "How far, and how much?"
    task = "Work it out on paper or with a calculator. Type the number and press Check."
    lesson = LESSON
    topics = TOPICS

    def __init__(self, name: str = "retraction-sums", seed: int = 3, **more: Any) -> None:
        super().__init__(name, seed, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return sum_task(topic, draw_push_back(draw, difficulty), difficulty)

    def picture(self) -> str:
        case: PushBack = self.asked.case
        return retraction_svg(case.drawn(0.0, "not told"), uid=self.uid, title=self.title)


def sum_task(topic: str, case: PushBack, difficulty: Difficulty) -> NumberTask:
    """Return a question about a wheel.

    Args:
        topic: one of :data:`TOPICS`.
        case: the wheel.
        difficulty: the harder, the less is worked out beforehand.
    """
    return {TRAVEL: _travel, VOLUME: _volume, LEVEL: _level}[topic](case, difficulty)


def _pistons(case: PushBack) -> str:
    return "piston" if case.brake.caliper.pistons == 1 else "pistons"


def _linings(case: PushBack) -> tuple[tuple[str, str], ...]:
    return (
        ("Lining of a new pad", mm(case.new_mm, 1)),
        ("Lining of the old inner pad, mean", mm(case.inner_mm, 1)),
        ("Lining of the old outer pad, mean", mm(case.outer_mm, 1)),
    )


def _travel(case: PushBack, difficulty: Difficulty) -> NumberTask:
    return NumberTask(
        TRAVEL,
        f"At {wheel_words(case)}, new pads come in and the rotor stays. The caliper is floating. How "
        f"far must its {_pistons(case)} go back?",
        "Way back of the pistons",
        "mm travel",
        lambda typed: travel_reply(typed, case),
        f"{mm(case.travel_mm, 1)}. {travel_because(case)}",
        (("What", "Value"), *_linings(case), ("Least lining", mm(case.brake.pad.minimum_mm, 1))),
        case,
    )


def travel_because(case: PushBack) -> str:
    """Show how the way back comes about."""
    new, inner, outer = (number(one, 1) for one in (case.new_mm, case.inner_mm, case.outer_mm))
    return (
        f"Inner pad {new} − {inner}, outer pad {new} − {outer}. Both together: {number(case.travel_mm, 1)} "
        "mm, because the body slides and the pistons follow both pads."
    )


def travel_reply(typed: float, case: PushBack) -> Reply:
    """Judge a way back in mm."""
    worn_in, worn_out = case.new_mm - case.inner_mm, case.new_mm - case.outer_mm
    minimum = case.brake.pad.minimum_mm
    left = case.inner_mm + case.outer_mm
    both_pads = "In a floating caliper the pistons follow both pads."
    slips = {
        f"That is the wear of the inner pad alone. {both_pads}": worn_in,
        f"That is the wear of the outer pad alone. {both_pads}": worn_out,
        "That is the mean wear of one pad. The pistons have followed both.": case.travel_mm / 2,
        "That is the old lining that is left. Ask what has worn off: new minus old, for each pad.": left,
        "You went down to the least lining. Take the lining that was measured.": 2 * (case.new_mm - minimum),
        "That is the whole lining of both new pads. The old ones still have some: take it off.": 2
        * case.new_mm,
    }
    return number_reply(
        typed,
        case.travel_mm,
        slips,
        unit="mm",
        tolerance=0.051,
        because=travel_because(case),
        hint="For each pad take new minus old. Then add both.",
        places=1,
    )


def _volume(case: PushBack, difficulty: Difficulty) -> NumberTask:
    caliper = case.brake.caliper
    many = f"{caliper.pistons} pistons, each" if caliper.pistons > 1 else "1 piston,"
    size = (
        f"area {both(case.area_mm2, 'mm²')}"
        if difficulty == "easy"
        else f"bore {mm(caliper.piston_bore_mm, 1)}"
    )
    shown = _linings(case) if difficulty == "hard" else (("Way back", mm(case.travel_mm, 1)),)
    return NumberTask(
        VOLUME,
        f"At {wheel_words(case)}, you push the {_pistons(case)} home with the bleeder open. How much fluid "
        "comes into the bottle?",
        "Fluid into the bottle",
        "mL",
        lambda typed: volume_reply(typed, case),
        f"{both(case.volume_ml, 'mL')}. {volume_because(case)}",
        (("What", "Value"), ("Floating caliper", f"{many} {size}"), *shown),
        case,
    )


def volume_because(case: PushBack) -> str:
    """Show how the volume comes about."""
    pistons = case.brake.caliper.pistons
    times = f"{pistons} × " if pistons > 1 else ""
    return (
        f"{times}{number(case.area_mm2, 0)} mm² × {number(case.travel_mm, 1)} mm ÷ 1000 = "
        f"{number(case.volume_ml, 1)} mL."
    )


def volume_reply(typed: float, case: PushBack) -> Reply:
    """Judge a volume in mL."""
    right, pistons = case.volume_ml, case.brake.caliper.pistons
    slips = {
        "You put the diameter in the place of the radius. Halve the bore first, or use π ÷ 4 × bore².": 4
        * right,
        "You multiplied bore by bore. A circle has less than that: times π ÷ 4.": right * 4 / math.pi,
        "That is in mm³. 1000 mm³ are 1 mL.": 1000 * right,
        "You divided by too much: 1000 mm³ are 1 mL.": right / 10,
    }
    if pistons > 1:
        slips[f"That is one piston. This caliper has {pistons}, and all of them go back."] = right / pistons
    slips["That is half of it. The pistons go back by the wear of both pads."] = right / 2
    return number_reply(
        typed,
        right,
        slips,
        unit="mL",
        tolerance=max(0.05, _SHARE_RIGHT * right),
        because=volume_because(case),
        hint="Area of one piston, times the number of pistons, times the way back; then ÷ 1000.",
    )


def _level(case: PushBack, difficulty: Difficulty) -> NumberTask:
    wheels = 2 if difficulty == "hard" else 1
    axle = case.wheel.split()[0]
    where = f"both {axle} wheels" if wheels == 2 else f"the {case.wheel} wheel"
    vehicle = f"the {case.vehicle.name} ({case.vehicle.fleet_number})"
    return NumberTask(
        LEVEL,
        f"On {vehicle}, somebody pushes the {_pistons(case)} home at {where} with the bleeder shut. How "
        "far does the level in the reservoir rise?",
        "Rise of the level",
        "mm travel",
        lambda typed: level_reply(typed, case, wheels),
        f"{mm(case.rise_mm(wheels * case.volume_ml), 1)}. {level_because(case, wheels)}",
        (
            ("What", "Value"),
            ("Fluid that leaves one caliper", both(case.volume_ml, "mL")),
            ("Area of the fluid in the reservoir", both(case.vehicle.hydraulics.reservoir_area_mm2, "mm²")),
            ("Room from the level up to the lid", mm(case.height_mm - case.level_mm, 1)),
        ),
        case,
    )


def level_because(case: PushBack, wheels: int) -> str:
    """Show how the rise comes about, and whether the reservoir runs over."""
    area, rise = case.vehicle.hydraulics.reservoir_area_mm2, case.rise_mm(wheels * case.volume_ml)
    times = f"{wheels} × " if wheels > 1 else ""
    over = case.level_mm + rise > case.height_mm
    then = "It runs over, and fluid harms paint." if over else "And all of it went through the ABS unit."
    return f"{times}{number(case.volume_ml, 1)} × 1000 ÷ {number(area, 0)} = {number(rise, 1)} mm. {then}"


def level_reply(typed: float, case: PushBack, wheels: int) -> Reply:
    """Judge a rise in mm."""
    right = case.rise_mm(wheels * case.volume_ml)
    slips = {
        "You left out the thousand: 1 mL is 1000 mm³.": right / 1000,
        "You divided the wrong way round: volume ÷ area.": case.vehicle.hydraulics.reservoir_area_mm2
        / (wheels * case.volume_ml)
        / 1000,
        "That is the volume. Divide it by the reservoir's area.": wheels * case.volume_ml,
    }
    if wheels == 2:
        slips["That is one wheel. Both wheels of the axle send their fluid back."] = right / 2
    else:
        slips["That is two wheels. Only one is asked."] = 2 * right
    return number_reply(
        typed,
        right,
        slips,
        unit="mm",
        tolerance=max(0.06, _SHARE_RIGHT * right),
        because=level_because(case, wheels),
        hint="1 mL is 1000 mm³. Volume in mm³ ÷ area in mm².",
        places=1,
    )
