"""Read a reservoir: how high the fluid stands, and how much is missing."""

from __future__ import annotations

from itertools import count

from brakecourse.bench.draw import Draw
from brakecourse.bench.level_cases import LevelCase, look_at_level
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicle_faults import HoseLeak, OldFluid, WornPads
from brakecourse.views.drawings import reservoir_svg
from brakecourse.views.level_mistakes import LESSON, level_mistakes, missing_mistakes, mm_words, tidy
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both

LEVEL, MISSING = "the level", "the fluid that is missing"
# Fluid with that much water is drawn dark. Colour proves nothing: it is for practice in reading only.
_DARK_FROM_PERCENT = 2.2
# How far from a line the fluid may and must stand, mm.
_OFF_LINE_MM: dict[Difficulty, tuple[float, float]] = {
    "easy": (0, 0.12),
    "normal": (0, 0.4),
    "hard": (0.2, 0.4),
}


class ReadReservoir(Quiz):
    """Read the level to the millimetre, and turn it into a volume.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first case.
    """

    title = "Read the reservoir"
    task = "Read the flat of the fluid on the rule, to the nearest line. Type what is asked and press Check."
    lesson = LESSON
    topics = (LEVEL, MISSING)

    def __init__(self, name: str = "read-reservoir", seed: int = 2, **more: object) -> None:
        super().__init__(name, seed, **more)  # type: ignore[arg-type]

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        """Return a reservoir to read."""
        case = _case(draw, difficulty)
        return _level_task(case) if topic == LEVEL else _missing_task(case)

    def picture(self) -> str:
        return case_svg(self.asked.case, uid=self.uid)


def case_svg(case: LevelCase, *, uid: str) -> str:
    """Draw the reservoir of a case."""
    system = case.vehicle.hydraulics
    return reservoir_svg(
        case.indication_mm,
        min_mm=system.reservoir_min_mm,
        max_mm=system.reservoir_max_mm,
        height_mm=case.rule.scale.end,
        uid=uid,
        title=f"Reservoir of the {case.vehicle.name}",
        fluid="dark" if case.car.condition.fluid.water_percent >= _DARK_FROM_PERCENT else "clear",
    )


def _case(draw: Draw, difficulty: Difficulty) -> LevelCase:
    low, high = _OFF_LINE_MM[difficulty]
    for number in count():
        here = draw.child(f"look {number}")
        car = draw_vehicle(here.child("car").integer(0, 99), 1, difficulty, (WornPads, HoseLeak, OldFluid))
        case = look_at_level(car, here)
        if case.reading_mm >= 2 and low <= abs(case.indication_mm - case.reading_mm) <= high:
            return case
    raise AssertionError("never reached: the looks do not end")


def _level_task(case: LevelCase) -> NumberTask:
    level = case.reading_mm

    def rule(answer: float) -> Reply:
        return number_reply(
            answer,
            level,
            tidy(level_mistakes(case), level, 1.0),
            unit="mm",
            tolerance=0.5,
            places=0,
            because=how_level(case),
            hint="Count the lines from the last number below the flat of the fluid.",
        )

    return NumberTask(
        LEVEL,
        f"The reservoir of the {case.vehicle.name}. How high does the fluid stand above the floor?",
        "Level",
        "mm travel",
        rule,
        f"{both(level, 'mm', 0)}. {how_level(case)}",
        case=case,
    )


def how_level(case: LevelCase) -> str:
    """Say how the level is read."""
    ten = int(case.reading_mm // 10 * 10)
    more = round(case.reading_mm - ten)
    if not more:
        return f"The flat of the fluid stands at the line of number {ten}."
    lines = "line" if more == 1 else "lines"
    return f"The flat of the fluid stands nearest to {more} {lines} above the number {ten}."


def _missing_task(case: LevelCase) -> NumberTask:
    area_ml = case.vehicle.hydraulics.reservoir_area_mm2 / 1000

    def rule(answer: float) -> Reply:
        tolerance = 0.4 * area_ml
        return number_reply(
            answer,
            case.missing_ml,
            tidy(missing_mistakes(case), case.missing_ml, tolerance),
            unit="mL",
            tolerance=tolerance,
            because=how_missing(case),
            hint="Millimetres below MAX times the area of the surface, then divide by 1000.",
        )

    return NumberTask(
        MISSING,
        f"The reservoir of the {case.vehicle.name}. How much fluid is missing below MAX?",
        "Missing fluid",
        "mL",
        rule,
        f"{both(case.missing_ml, 'mL')}. {how_missing(case)}",
        evidence=(("Fact", "Value"), *reservoir_rows(case)),
        case=case,
    )


def how_missing(case: LevelCase) -> str:
    """Say how the missing fluid is worked out."""
    system = case.vehicle.hydraulics
    most, level = system.reservoir_max_mm, case.reading_mm
    return (
        f"{mm_words(most)} − {mm_words(level)} = {mm_words(most - level)} mm below MAX, "
        f"times {mm_words(system.reservoir_area_mm2)} mm², divided by 1000: {both(case.missing_ml, 'mL')}."
    )


def reservoir_rows(case: LevelCase) -> tuple[tuple[str, str], ...]:
    """Return what the maker says of the reservoir, as rows to show."""
    system = case.vehicle.hydraulics
    return (
        ("MAX above the floor", both(system.reservoir_max_mm, "mm", 0)),
        ("Area of the surface", both(system.reservoir_area_mm2, "mm²")),
    )
