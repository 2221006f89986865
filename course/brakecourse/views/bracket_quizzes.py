"""The quizzes about the bracket: the sums, the part at fault, and what to do at the bench."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views import bracket_bench_tasks, bracket_case, bracket_sum_tasks
from brakecourse.views.bracket_case import BracketCase, cut_of, draw_bracket, look_of
from brakecourse.views.bracket_reasons import fault_reason
from brakecourse.views.bracket_sums import measures
from brakecourse.views.bracket_words import found_table, wheel_words
from brakecourse.views.drawings.bracket_parts import bracket_parts_svg
from brakecourse.views.drawings.pin_bore import pin_bore_svg
from brakecourse.views.drawings.slide_force import slide_force_svg
from brakecourse.views.pad_discreet import DiscreetQuiz
from brakecourse.views.quiz import NumberTask, Quiz, Task

LESSON = "09_bracket_and_pins"
TOPICS: dict[str, tuple[str, ...]] = {
    "slide pins": (bracket_case.DRY, bracket_case.SEIZED),
    "too much grease": (bracket_case.PACKED,),
    "pins in the wrong bores": (bracket_case.SWAPPED,),
    "clips": (bracket_case.RUST,),
    "piston": (bracket_case.PISTON, bracket_case.PISTON_BOOT),
    "pin boots": (bracket_case.PIN_BOOT,),
    "nothing at fault": (bracket_case.SOUND,),
}
"""The topics of the quiz for the part at fault, each with what it draws from."""
CHOICES = 5
# What is easily taken for each other: one of them is always among the choices.
_NEAR = {
    bracket_case.DRY: (bracket_case.SEIZED, bracket_case.SWAPPED),
    bracket_case.SEIZED: (bracket_case.DRY, bracket_case.PIN_BOOT),
    bracket_case.PACKED: (bracket_case.SEIZED, bracket_case.DRY),
    bracket_case.SWAPPED: (bracket_case.SEIZED, bracket_case.DRY),
    bracket_case.RUST: (bracket_case.PISTON, bracket_case.SOUND),
    bracket_case.PISTON: (bracket_case.PISTON_BOOT, bracket_case.RUST),
    bracket_case.PIN_BOOT: (bracket_case.SEIZED, bracket_case.DRY),
    bracket_case.PISTON_BOOT: (bracket_case.PISTON, bracket_case.PIN_BOOT),
    bracket_case.SOUND: (bracket_case.DRY, bracket_case.RUST),
}


class SplitSums(Quiz):
    """The outer pad's force and the wear ratio."""

    title = "What do the pads get?"
    task = "Work it out on paper, type the number, and press Check."
    lesson = LESSON
    topics = bracket_sum_tasks.SPLIT_TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return bracket_sum_tasks.split_task(topic, difficulty, draw)

    def picture(self) -> str:
        case, _ = self.asked.case
        new = case.brake.pad.lining_new_mm
        # Without pressure: the arrows would give the answer away.
        return slide_force_svg(
            cut_of(case.brake),
            0.0,
            0.0,
            full_n=case.clamp_n,
            inner_mm=new,
            outer_mm=new,
            uid=self.uid,
            title="The caliper, pads new, before the stop",
        )


class BoreSums(Quiz):
    """The free volume, the most grease, and the gap."""

    title = "Room, grease and gap"
    task = "Work it out on paper, type the number, and press Check."
    lesson = LESSON
    topics = bracket_sum_tasks.BORE_TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> NumberTask:
        return bracket_sum_tasks.bore_task(topic, difficulty, draw)

    def picture(self) -> str:
        case, _ = self.asked.case
        bore, depth, shank, seated = measures(case.pin)
        # Always dry: a filled bore would give the gap away.
        return pin_bore_svg(
            0.0, bore_mm=bore, depth_mm=depth, pin_mm=shank, seated_mm=seated, uid=self.uid,
            title="The pin seated in its dry bore",
        )  # fmt: skip


class WhichPart(DiscreetQuiz):
    """The parts of one wheel on the bench, and what hands and gauges found."""

    title = "Which part is at fault?"
    task = "Look at the parts and the forces. Choose what is at fault, and press Check."
    lesson = LESSON
    topics = tuple(TOPICS)
    first_difficulty = "easier"

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        fault = draw.child("fault").choice(TOPICS[topic])
        case = draw_bracket(fault, difficulty, draw.child("case"))
        return fault_task(topic, case, difficulty, draw.child("choices"))

    def picture(self) -> str:
        return parts_picture(self.asked.case, self.uid)


class BenchChoice(Quiz):
    """One moment at the bench: what do you do?"""

    title = "What do you do at the bench?"
    task = "Read the case, look at the picture, choose, and press Check."
    lesson = LESSON
    topics = bracket_bench_tasks.TOPICS

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        return bracket_bench_tasks.bench_task(topic, difficulty, draw)

    def picture(self) -> str:
        return parts_picture(self.asked.case, self.uid)


def fault_task(topic: str, case: BracketCase, difficulty: Difficulty, draw: Draw) -> Task:
    """Return the question which part is at fault.

    Args:
        topic: the quiz's topic.
        case: the wheel.
        difficulty: how much stands in the table.
        draw: chance, for the other choices.
    """
    near = _NEAR[case.fault]
    others = [one for one in draw.shuffled(bracket_case.FAULTS) if one != case.fault and one not in near]
    chosen = {case.fault, *near, *others[: CHOICES - 1 - len(near)]}
    choices = tuple(one for one in bracket_case.FAULTS if one in chosen)
    return Task(
        topic,
        f"Here are the parts of {wheel_words(case)}. What is at fault?",
        choices,
        case.fault,
        {one: fault_reason(case, one) for one in choices},
        found_table(case, difficulty),
        case,
    )


def parts_picture(case: BracketCase, uid: str) -> str:
    """Draw the parts of a wheel on the bench."""
    return bracket_parts_svg(look_of(case), uid=uid, title=f"Parts of {wheel_words(case)}")
