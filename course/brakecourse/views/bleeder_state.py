"""Open or shut? The bleeder at each moment of the work."""

from __future__ import annotations

from typing import Any, NamedTuple

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.bleeder_table import CHOICES, MOMENTS, TOPICS, Moment
from brakecourse.views.drawings.retraction import retraction_svg
from brakecourse.views.quiz import Quiz, Task
from brakecourse.views.retract_bench import LESSON
from brakecourse.views.retract_cases import PushBack, draw_push_back, wheel_words

_NEARLY_FULL_ML = 195.0


class AtWheel(NamedTuple):
    """A moment at a wheel."""

    moment: Moment
    push: PushBack


class BleederState(Quiz):
    """Moments of the work, each at a wheel of the motor pool.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first case.
    """

    title = "Open or shut?"
    task = "Read what is going on. Choose what the bleeder must be at this moment, and press Check."
    lesson = LESSON
    topics = TOPICS

    def __init__(self, name: str = "bleeder-state", seed: int = 2, **more: Any) -> None:
        super().__init__(name, seed, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return moment_task(topic, difficulty, draw)

    def picture(self) -> str:
        moment, push = self.asked.case
        pushed = moment.share * push.travel_mm
        drawn = push.drawn(
            pushed,
            "not told",
            press=moment.press,
            hose=moment.hose,
            new_pads=moment.new_pads,
            bottle_ml=_NEARLY_FULL_ML if moment.full else min(push.fluid_ml(pushed), _NEARLY_FULL_ML),
        )
        return retraction_svg(drawn, uid=self.uid, title=self.title)


def moment_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return a moment of a topic.

    Args:
        topic: one of :data:`brakecourse.views.bleeder_table.TOPICS`.
        difficulty: the harder, the less usual the moment.
        draw: chance.
    """
    there = [one for one in MOMENTS if one.topic == topic and difficulty in one.levels]
    moment = draw.child("moment").choice(there)
    push = draw_push_back(draw.child("wheel"))
    question = f"At {wheel_words(push)}. {moment.seen} What must the bleeder be?"
    reasons = {moment.right: moment.why, **dict(moment.wrong)}
    return Task(topic, question, CHOICES, moment.right, reasons, (), AtWheel(moment, push))
