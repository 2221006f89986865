"""A fluid's boiling point held against the limit of its grade."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings import boiling_tester_svg
from brakecourse.views.fluid_limit_tasks import TOPICS, limit_task
from brakecourse.views.fluid_samples import LESSON
from brakecourse.views.quiz import NumberTask, Quiz


class FluidLimits(Quiz):
    """A boiling-point tester in a fluid of a known grade."""

    title = "Does it keep the limit of its grade?"
    task = "Read the tester, find the limit in the table, and subtract. Type the difference, and press Check."
    lesson = LESSON
    topics = TOPICS
    first_difficulty = "easier"

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return limit_task(topic, difficulty, draw)

    def picture(self) -> str:
        held = self.asked.case
        return boiling_tester_svg(held.boiling_c, fahrenheit=held.fahrenheit, uid=self.uid, title=self.title)
