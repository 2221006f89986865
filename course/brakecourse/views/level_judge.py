"""Explained by wear, a leak, or too close to call? The quiz on whole vehicles."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.level_cases import VERDICTS, LevelCase, draw_level_case
from brakecourse.bench.situations import Difficulty
from brakecourse.views.level_mistakes import LESSON
from brakecourse.views.level_reading import case_svg, reservoir_rows
from brakecourse.views.level_reasons import ACTIONS, TOP_UP, action_reasons, verdict_reasons
from brakecourse.views.quiz import Quiz, Task
from brakecourse.views.units import both

TELLS, NEXT = "what the level tells", "what to do next"


class JudgeLevel(Quiz):
    """Read the level, compare it with the wear, decide.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first case.
    """

    title = "Wear, or a leak?"
    task = (
        "Read the level. Work out what is missing, and compare it with what the wear asks for. "
        "Then choose and press Check."
    )
    lesson = LESSON
    topics = (TELLS, NEXT)

    def __init__(self, name: str = "judge-level", seed: int = 7, **more: object) -> None:
        super().__init__(name, seed, **more)  # type: ignore[arg-type]

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        """Return a vehicle whose level has to be judged."""
        case = draw_level_case(draw, difficulty)
        whose = f"The {case.vehicle.name} ({case.vehicle.fleet_number})"
        evidence = evidence_rows(case, helped=difficulty == "easy")
        if topic == TELLS:
            return Task(
                TELLS,
                f"{whose}. What does the level tell?",
                VERDICTS,
                case.finding.verdict,
                verdict_reasons(case),
                evidence,
                case,
            )
        return Task(
            NEXT,
            f"{whose}. You have written the level down. What do you do next?",
            (TOP_UP, *ACTIONS.values()),
            ACTIONS[case.finding.verdict],
            action_reasons(case),
            evidence,
            case,
        )

    def picture(self) -> str:
        return case_svg(self.asked.case, uid=self.uid)


def evidence_rows(case: LevelCase, *, helped: bool) -> tuple[tuple[str, str], ...]:
    """Return what is known beside the picture, the heads first.

    Args:
        case: the vehicle.
        helped: whether the volumes of the wheels are added up already.
    """
    found = case.finding
    wheels = [(f"Wear, {one.wheel}, asks for", both(one.wear.volume_ml, "mL")) for one in case.wheels]
    total = [("Wear, all four wheels, asks for", both(found.expected_ml, "mL"))]
    return (
        ("Fact", "Value"),
        *reservoir_rows(case),
        *(total if helped else wheels),
        ("Guard band", both(case.guard_ml, "mL")),
    )
