"""What an axle stand carries, and which stands to take."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings.on_stands import on_stands_svg
from brakecourse.views.quiz import NumberTask, Quiz, Task
from brakecourse.views.stand_tasks import TOPICS, stand_task
from brakecourse.views.vehicle_shapes import shape_of


class StandRating(Quiz):
    """One end of a vehicle on two stands: the load, the rating, the stands to take."""

    title = "Are these stands strong enough?"
    task = "Work out the load from the picture and the table. Type a number, or choose, and press Check."
    lesson = "01_job_order"
    topics = TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task | NumberTask:
        return stand_task(topic, difficulty, draw)

    def picture(self) -> str:
        one = self.asked.case.vehicle
        return on_stands_svg(
            kind=shape_of(one),
            wheelbase_mm=one.wheelbase_mm,
            gravity_to_front_mm=one.cg_to_front_mm,
            gravity_height_mm=one.cg_height_mm,
            tyre_radius_mm=one.tyre_radius_mm,
            end=self.asked.case.axle,
            uid=self.uid,
            title=f"The {one.name}, its {self.asked.case.axle} end on stands",
        )
