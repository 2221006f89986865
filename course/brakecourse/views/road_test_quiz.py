"""What do you do when it smokes, pulls, pulses or squeals? Road tests drawn from the bench."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.road_test_cases import TOPICS, road_test
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings import road_test_svg
from brakecourse.views.pedal_strokes import LESSON
from brakecourse.views.quiz import Quiz, Task
from brakecourse.views.road_test_advice import ACTIONS, advice, evidence, reasons


class RoadTestQuiz(Quiz):
    """A vehicle on its road test. What do you do?"""

    title = "On the road test"
    task = "Read every sign. Let the worst one decide: choose what to do, and press Check."
    lesson = LESSON
    topics = TOPICS
    first_difficulty = "easier"

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        test = road_test(topic, difficulty, draw)
        question = (
            f"The {test.vehicle.name} ({test.vehicle.fleet_number}) has made {test.brakings} slowdowns of "
            "its bedding-in. What do you do now?"
        )
        return Task(topic, question, ACTIONS, advice(test).action, reasons(test), evidence(test), test)

    def picture(self) -> str:
        test = self.asked.case
        return road_test_svg(
            test.shown_c,
            wheelbase_mm=test.vehicle.wheelbase_mm,
            tyre_radius_mm=test.vehicle.tyre_radius_mm,
            uid=self.uid,
            title=self.title,
            pull=test.condition.road.pull,
            smoke=test.signs.smoking,
            haze=test.signs.hazy,
            noise=bool(test.condition.noises),
        )
