"""The quizzes about the rotor on its hub: off and clean, the sums, and what to do."""

from __future__ import annotations

from typing import ClassVar

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views import mating_decisions, mating_number_tasks, mating_off_tasks
from brakecourse.views.drawings.hub_face import hub_face_svg
from brakecourse.views.drawings.hub_section import hub_section_svg
from brakecourse.views.drawings.rotor_index import rotor_index_svg
from brakecourse.views.drawings.rotor_off import rotor_off_svg
from brakecourse.views.mating_fit import size_of
from brakecourse.views.quiz import NumberTask, Quiz, Task

LESSON = "10_hub_and_rotor_fit"


class OffAndClean(Quiz):
    """A rotor that sticks, or two faces that are not clean: what comes first?"""

    title = "Off and clean"
    task = "Look at the picture, choose, and press Check."
    lesson = LESSON
    topics = mating_off_tasks.TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return mating_off_tasks.off_task(topic, difficulty, draw)

    def picture(self) -> str:
        case = self.asked.case
        size = size_of(case.vehicle)
        if self.asked.topic == mating_off_tasks.OFF:
            return rotor_off_svg(size, uid=self.uid, screw=case.screw, holes=case.holes)
        return hub_face_svg(size, uid=self.uid, rusty=case.state == "rust", flake_deg=case.flake_deg)


class SeatToTrack(Quiz):
    """The sums with the two radii: from the seat to the track, and back."""

    title = "From the seat to the track"
    task = "Work it out on paper, type the number, and press Check."
    lesson = LESSON
    topics: ClassVar[tuple[str, ...]] = mating_number_tasks.RADII_TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return mating_number_tasks.number_task(topic, difficulty, draw)

    def picture(self) -> str:
        fit = self.asked.case
        if self.asked.topic == mating_number_tasks.TOGETHER:
            hub, rotor = fit.hub, fit.rotor
            return rotor_index_svg(
                size_of(fit.vehicle, fit.wheel),
                (hub.total_mm, hub.high_deg),
                (rotor.total_mm, rotor.high_deg),
                0,
                uid=self.uid,
                tell_together=False,
                title="Rotor on its studs, not turned on yet",
            )
        flake = fit.own.debris_mm if self.asked.topic == mating_number_tasks.FLAKE else 0.0
        return hub_section_svg(
            size_of(fit.vehicle, fit.wheel), flake, uid=self.uid, title="Rotor on its hub, cut through"
        )


class TwoArrows(SeatToTrack):
    """The sum of two arrows: hub and rotor together, in one position."""

    title = "Two arrows together"
    task = "Draw the two arrows to scale, or reckon. Type what the dial will show, and press Check."
    topics = (mating_number_tasks.TOGETHER,)


class FitDecision(Quiz):
    """A rotor that may run out too much: clean it, turn it on, or renew something?"""

    title = "Clean, index or replace?"
    task = "Read the evidence and the picture, choose what to do now, and press Check."
    lesson = LESSON
    topics = mating_decisions.TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return mating_decisions.fit_task(topic, difficulty, draw)

    def picture(self) -> str:
        fit = self.asked.case
        return hub_face_svg(
            size_of(fit.vehicle, fit.wheel),
            uid=self.uid,
            rusty=mating_decisions.dirty(fit),
            flake_deg=fit.own.debris_deg,
        )
