"""Name the pattern that a pair of pads shows, then the part that caused it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.pad_cases import PadCase, draw_pad_case
from brakecourse.bench.pad_situations import CAUSES, CLOSE, PATTERNS, SITUATIONS
from brakecourse.bench.situations import Difficulty
from brakecourse.views.controls import button, row
from brakecourse.views.pad_causes import SYMPTOMS, cause_reason
from brakecourse.views.pad_discreet import DiscreetQuiz
from brakecourse.views.pad_reasons import pattern_reason
from brakecourse.views.pad_view import hands_table, sheet_table, wheel_picture, wheel_words
from brakecourse.views.quiz import Task

TOPICS: dict[str, tuple[str, ...]] = {
    "inner pad thin": ("dry pins", "sticking piston"),
    "outer pad thin": ("rusty clips",),
    "tapered lengthwise": ("leading pin", "trailing pin", "leading clip", "trailing clip"),
    "tapered in height": ("loose bracket",),
    "stepped edge": ("ridge",),
    "below the minimum": ("worn out",),
    "even wear": ("sound",),
    "too close to call": ("close to the minimum", "close in shape"),
    "glazed face": ("overheated",),
    "soaked face": ("greasy", "leaking seal"),
    "uneven deposits": ("not bedded in",),
    "two patterns at once": ("seized pin", "dry pins, too late", "overheated, too late"),
}
"""The quiz's topics, each with the situations of the bench that it draws from."""

CHOICES = 5
# Causes that lie near each other: one of them is always among the choices when another is right.
_NEAR = ((0, 1, 2), (3, 4, 5), (9, 10), (8, 11), (6, 7), (12, 13, 14))


class WearQuiz(DiscreetQuiz):
    """Both pads beside the rotor, with all readings: first the pattern, then the part.

    Args:
        name, seed, session: as for every quiz.
    """

    title = "Name the pattern, then the part"
    task = "Look at the pads and the numbers. Name the pattern. Then press the button below for the part."
    lesson = "07_pad_wear"
    topics = tuple(TOPICS)
    first_difficulty = "easier"

    def __init__(self, name: str = "wear-quiz", **more: Any) -> None:
        super().__init__(name, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        situation = draw.child("situation").choice(TOPICS[topic])
        case = draw_pad_case(draw.child("case").integer(0, 10**9), situation, difficulty)
        return pattern_task(topic, case, draw.child("choices"))

    def picture(self) -> str:
        return wheel_picture(self.asked.case, self.uid)

    def answers(self) -> Sequence[widgets.Widget]:
        own = list(super().answers())
        own[1] = row(
            button("Go on: which part?", self.go_on),
            button("New case", self.new_case),
            button("Show the answer", self.show_answer),
        )
        return own

    @property
    def at_the_part(self) -> bool:
        """Whether the part is asked now, not the pattern."""
        return isinstance(self.asked, Task) and self.asked.right in CAUSES

    def go_on(self) -> None:
        """Ask for the part that caused the pattern, once the pattern has been answered."""
        task = self.asked
        if self.at_the_part:
            self.say("This is the question for the part. Press New case for other pads.")
        elif self.number not in self._done:
            self.say("Name the pattern first.")
        elif isinstance(task, Task):
            self.number += 1
            self.asked = cause_task(task.topic, task.case, self._session.child(f"part {self.number}"))
            self._show_answer_controls()
            self.say("Now hands and eyes help: compare this wheel with the axle's other wheel.")
            self.refresh()


def pattern_task(topic: str, case: PadCase, draw: Draw) -> Task:
    """Return the question for the pattern of some pads."""
    others = [one for one in draw.shuffled(PATTERNS) if one != case.pattern]
    chosen = {case.pattern, *others[: CHOICES - 1]}
    choices = tuple(one for one in PATTERNS if one in chosen)
    return Task(
        topic,
        f"{wheel_words(case)} Which pattern do they show?",
        choices,
        case.pattern,
        {one: pattern_reason(case, one) for one in choices},
        sheet_table(case),
        case,
    )


def cause_task(topic: str, case: PadCase, draw: Draw) -> Task:
    """Return the question for the part behind the pattern of some pads."""
    place = CAUSES.index(case.cause)
    near = next(group for group in _NEAR if place in group)
    others = [CAUSES[one] for one in draw.shuffled(near) if one != place][:2]
    if CLOSE in case.marks and case.cause != CAUSES[14]:  # the pads alone do not tell; hands do
        others.insert(0, CAUSES[14])
    others += [one for one in draw.shuffled(CAUSES[:13]) if one != case.cause and one not in others]
    chosen = {case.cause, *others[: CHOICES - 2]}
    symptom = _symptom(case)
    choices = (*(one for one in CAUSES if one in chosen), symptom)
    question = (
        f"{wheel_words(case)} The pattern is: {case.pattern}. Which part, or which happening, is behind it?"
    )
    return Task(
        topic,
        question,
        tuple(draw.shuffled(choices)),
        case.cause,
        {one: cause_reason(case, one) for one in choices},
        hands_table(case),
        case,
    )


def _symptom(case: PadCase) -> str:
    marks = SITUATIONS[case.situation].marks
    if marks & {"glazed", "grease", "fluid", "deposits"}:
        return SYMPTOMS[1]
    return SYMPTOMS[2] if marks == {"below"} else SYMPTOMS[0]
