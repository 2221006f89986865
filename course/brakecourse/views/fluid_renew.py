"""Keep the fluid, renew it, or stop? Tested fluids drawn from the bench."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings import boiling_tester_svg
from brakecourse.views.fluid_renew_rule import TOPICS, renew_task
from brakecourse.views.fluid_samples import LESSON
from brakecourse.views.quiz import Quiz, Task


class RenewFluid(Quiz):
    """A tested fluid. What do you do with it?"""

    title = "Renew it or not?"
    task = (
        "Read the tester and every row. Hold the boiling point against both limits, choose, and press Check."
    )
    lesson = LESSON
    topics = TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return renew_task(topic, difficulty, draw)

    def picture(self) -> str:
        return boiling_tester_svg(self.asked.case.boiling_c, uid=self.uid, title=self.title)
