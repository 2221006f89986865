"""How far is the fluid from boiling? The vapour margin."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings import boiling_tester_svg, curve_plot_svg
from brakecourse.views.fluid_margin_tasks import TOPICS, margin_task
from brakecourse.views.fluid_samples import LESSON, curve
from brakecourse.views.quiz import NumberTask, Quiz


class VapourMargin(Quiz):
    """A fluid, and the hottest place that it meets."""

    title = "How much margin is left?"
    task = "Read the picture and the table. Work out the margin on paper, type it, and press Check."
    lesson = LESSON
    topics = TOPICS
    first_difficulty = "easier"

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return margin_task(topic, difficulty, draw)

    def picture(self) -> str:
        margin = self.asked.case
        if not margin.from_water:
            return boiling_tester_svg(margin.sample.boiling_c, uid=self.uid, title=self.title)
        grade = margin.sample.grade
        return curve_plot_svg(
            [(grade, curve(grade, 4.0))],
            x_label="water in the fluid, %",
            y_label="boiling point, °C",
            uid=self.uid,
            title=self.title,
            limit=margin.sample.hottest_c,
            limit_words="hottest fluid",
        )
