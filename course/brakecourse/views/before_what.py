"""What must come before what in the brake job, and why."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.before_what_tasks import TOPICS, before_what_task
from brakecourse.views.drawings.step_cards import StepCard, step_cards_svg
from brakecourse.views.quiz import Quiz, Task


class BeforeWhat(Quiz):
    """Two steps of the job: which one comes first, or why."""

    title = "What comes first?"
    task = "Choose an answer and press Check. Some steps may come in either order."
    lesson = "01_job_order"
    topics = TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return before_what_task(topic, difficulty, draw)

    def picture(self) -> str:
        cards = [StepCard(name, words) for name, words in self.asked.case]
        return step_cards_svg(cards, uid=self.uid, title="Two steps of the job", movable=False)
