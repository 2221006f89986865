"""Look over the workshop before work: find the place that can hurt someone, and choose the control."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings.workshop import workshop_svg
from brakecourse.views.hazard_tasks import hazard_task
from brakecourse.views.hazards import TOPICS
from brakecourse.views.quiz import Quiz, Task
from brakecourse.views.vehicle_shapes import shape_of


class HazardSpotting(Quiz):
    """A corner of the workshop with numbered places. One of them can hurt someone."""

    title = "Look before you work"
    task = "Look at each place. Choose the one that can hurt someone and what you do about it. Press Check."
    lesson = "01_job_order"
    topics = TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return hazard_task(topic, difficulty, draw)

    def picture(self) -> str:
        shown = self.asked.case
        one = shown.vehicle
        return workshop_svg(
            (shape_of(one), one.wheelbase_mm, one.tyre_radius_mm, one.cg_height_mm),
            shown.spots,
            uid=self.uid,
            told=shown.told,
            heat_c=shown.heat_c,
        )
