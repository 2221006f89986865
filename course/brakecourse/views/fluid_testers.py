"""Read the two testers for brake fluid."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings import boiling_tester_svg, moisture_tester_svg
from brakecourse.views.fluid_samples import LESSON
from brakecourse.views.fluid_tester_tasks import TOPICS, tester_task
from brakecourse.views.quiz import NumberTask, Quiz


class FluidTesters(Quiz):
    """A tester in a sample of fluid, to be read."""

    title = "Read the fluid testers"
    task = "Look at the tester. Work out what is asked, type it, and press Check."
    lesson = LESSON
    topics = TOPICS
    first_difficulty = "easier"

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return tester_task(topic, difficulty, draw)

    def picture(self) -> str:
        shown = self.asked.case
        if shown.water:
            return moisture_tester_svg(shown.sample.water_shown, uid=self.uid, title=self.title)
        return boiling_tester_svg(
            shown.sample.boiling_c, fahrenheit=shown.fahrenheit, uid=self.uid, title=self.title
        )
