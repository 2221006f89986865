"""Which bottle goes into this vehicle?"""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings.fluid_bottles import fluid_bottles_svg
from brakecourse.views.fluid_samples import LESSON
from brakecourse.views.fluid_shelf import TOPICS, shelf_task
from brakecourse.views.quiz import Quiz, Task


class FluidChoice(Quiz):
    """Bottles on a shelf, and a vehicle whose fluid is to be renewed."""

    title = "Which bottle do you take?"
    task = "Read the labels, the caps, and what the maker's book allows. Choose, and press Check."
    lesson = LESSON
    topics = TOPICS
    first_difficulty = "easier"

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return shelf_task(topic, difficulty, draw)

    def picture(self) -> str:
        return fluid_bottles_svg(self.asked.case.bottles, uid=self.uid, title=self.title)
