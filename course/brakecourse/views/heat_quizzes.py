"""Two quizzes with numbers: the energy of a braking, and how warm a rotor gets."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.drawings import infrared_thermometer_svg, speed_line_svg
from brakecourse.views.energy_tasks import SLOWDOWN, STOP, TIMES, energy_task
from brakecourse.views.pedal_strokes import LESSON
from brakecourse.views.quiz import NumberTask, Quiz
from brakecourse.views.rotor_heat_tasks import PAUSE, RISE, WARM, rotor_task


class EnergyOfBraking(Quiz):
    """What the brakes must take up."""

    title = "The energy of a braking"
    task = "Read the speeds and the mass. Work out what is asked on paper, type it, and press Check."
    lesson = LESSON
    topics = (STOP, SLOWDOWN, TIMES)
    first_difficulty = "easier"

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return energy_task(topic, difficulty, draw)

    def picture(self) -> str:
        return speed_line_svg(self.asked.case, uid=self.uid, title=self.title)


class WarmthOfRotor(Quiz):
    """How warm one front rotor gets."""

    title = "How warm does one rotor get?"
    task = "Read the thermometer and the table. Work out what is asked on paper, type it, and press Check."
    lesson = LESSON
    topics = (RISE, WARM, PAUSE)
    first_difficulty = "easier"

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return rotor_task(topic, difficulty, draw)

    def picture(self) -> str:
        return infrared_thermometer_svg(self.asked.case, target="hat", uid=self.uid, title=self.title)
