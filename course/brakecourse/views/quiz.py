"""The base of every quiz: cases drawn afresh, an answer, and the reason from the case's own evidence.

A quiz never runs out. Its first case is fixed, so that a stored page can be compared; every case after it
is drawn anew in each session. Which topic comes next follows :mod:`brakecourse.views.adapt`, unless the
learner chooses the topic.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any, ClassVar

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.views.activity import Activity
from brakecourse.views.adapt import LET_THE_COURSE_CHOOSE, RULE, next_topic, why
from brakecourse.views.controls import AnswerBox, button, choice, dropdown, row
from brakecourse.views.progress import Progress
from brakecourse.views.replies import Reply
from brakecourse.views.units import asked_unit

DIFFICULTIES: dict[str, Difficulty] = {"easier": "easy", "usual": "normal", "harder": "hard"}
"""What a learner chooses, and what the bench calls it."""

_FRESH_TRIES = 20


@dataclass(frozen=True)
class Task:
    """One case of a quiz with a choice of answers in words.

    Attributes:
        topic: which of the quiz's topics it is about.
        question: what is asked, one or two sentences. It must not give the answer away.
        choices: the answers to choose from.
        right: the right one of them.
        reasons: for each choice, why it is right or wrong *here*, from this case's evidence.
        evidence: a small table to show with the picture, its first row the heads; empty for none.
        case: whatever the quiz needs to draw its picture.
    """

    topic: str
    question: str
    choices: tuple[str, ...]
    right: str
    reasons: Mapping[str, str]
    evidence: tuple[tuple[str, ...], ...] = ()
    case: Any = None

    def __post_init__(self) -> None:
        if len(self.choices) < 2 or len(set(self.choices)) < len(self.choices):
            raise ValueError(f"At least two different choices were expected, but they are {self.choices}.")
        if self.right not in self.choices:
            raise ValueError(f"The right answer {self.right!r} was expected among {self.choices}.")
        unreasoned = [one for one in self.choices if not self.reasons.get(one, "").strip()]
        if unreasoned:
            raise ValueError(f"Each choice needs a reason, but there is none for {unreasoned}.")


@dataclass(frozen=True)
class NumberTask:
    """One case of a quiz with a number to type.

    Attributes:
        topic, question, evidence, case: as for :class:`Task`.
        label: what to type, for the box, without the unit: ``"Expelled volume"``.
        unit: the symbol of the asked unit, one of :data:`brakecourse.views.units.UNITS`.
        rule: gives the reply to a number in that unit; :func:`brakecourse.views.replies.number_reply`
            names mistakes.
        answer: the right value in words, with how it comes about, for who asks to see it.
    """

    topic: str
    question: str
    label: str
    unit: str
    rule: Callable[[float], Reply]
    answer: str
    evidence: tuple[tuple[str, ...], ...] = ()
    case: Any = None

    def __post_init__(self) -> None:
        asked_unit(self.unit)  # refuses an unknown one in words


class Quiz(Activity):
    """Cases without end. A subclass draws them and their picture; it never keeps score.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first case.
        session: fixes the cases after it, for tests; by default every session has others.
        progress, lesson: as for :class:`Activity`.

    A subclass sets ``title``, ``task``, ``lesson`` and ``topics`` (one or more, in the learner's words) and
    gives ``draw_task`` and ``picture`` (which draws ``self.asked``). ``difficulties`` may be shortened,
    to one for a quiz without levels.
    """

    topics: ClassVar[tuple[str, ...]] = ()
    difficulties: ClassVar[tuple[str, ...]] = tuple(DIFFICULTIES)
    first_difficulty: ClassVar[str] = "usual"

    def __init__(
        self,
        name: str | None = None,
        seed: int = 1,
        session: int | None = None,
        progress: Progress | None = None,
        lesson: str | None = None,
    ) -> None:
        if not self.topics:
            raise ValueError(f"{type(self).__name__} needs at least one topic.")
        self.number = self.streak = 0
        self._done: set[int] = set()  # the cases that have been answered
        self._session = Draw(secrets.randbits(64) if session is None else session)
        usual = self.first_difficulty in self.difficulties
        self.begins = self.first_difficulty if usual else self.difficulties[0]
        first = Draw(seed).child("first case")
        self.asked: Task | NumberTask = self.draw_task(self.topics[0], DIFFICULTIES[self.begins], first)
        super().__init__(name, progress, lesson)
        self._show_answer_controls()

    # What a subclass gives.

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task | NumberTask:
        """Return a case about a topic, drawn with ``draw`` and nothing else of chance."""
        raise NotImplementedError

    def words(self) -> str:
        return self.asked.question

    def facts(self) -> Sequence[Sequence[str]]:
        return self.asked.evidence

    def opening(self) -> str:
        return "Your first answer to each case counts. After it you may try again."

    # What every quiz can do.

    def controls(self) -> Sequence[widgets.Widget]:
        self.difficulty = choice("How hard?", self.difficulties, self.begins)
        self.difficulty.observe(self.new_case, "value")
        topics = (LET_THE_COURSE_CHOOSE, *self.topics)
        self.topic = dropdown("Topic", topics, LET_THE_COURSE_CHOOSE)
        self.topic.observe(self.new_case, "value")
        offered = [self.difficulty] if len(self.difficulties) > 1 else []
        return (row(*offered, self.topic),) if len(self.topics) > 1 else offered

    def answers(self) -> Sequence[widgets.Widget]:
        self.chosen = choice("Your answer", ())
        self.check_button = button("Check", self.check)
        self._place = widgets.VBox([])
        self._next = widgets.HTML()
        self._next.add_class("bc-next")
        return (
            self._place,
            row(button("New case", self.new_case), button("Show the answer", self.show_answer)),
            self._next,
        )

    def check(self) -> None:
        """Reply to the chosen answer, with the reason from this case's evidence."""
        task = self.asked
        if not isinstance(task, Task):
            return
        if self.chosen.value is None:
            self.say("Nothing is chosen yet: choose one answer, then press Check.")
            return
        right = self.chosen.value == task.right
        self.answer_given(
            Reply(right, f"{'Right' if right else 'Not yet'}. {task.reasons[self.chosen.value]}")
        )

    def check_number(self, typed: str) -> None:
        """Reply to a typed number."""
        task = self.asked
        if isinstance(task, NumberTask):
            read = self.read(typed, task.unit)
            if read is not None:
                reply = task.rule(read.number)
                self.answer_given(Reply(reply.right, f"{read.note} {reply.words}".strip()))

    def answer_given(self, reply: Reply) -> None:
        """Say the reply. The first answer to a case counts, for the record and for the streak."""
        if self.number in self._done:
            self.say(reply.words)
            return
        self.streak = self.streak + 1 if reply.right else 0
        told = self._count(right=reply.right)
        self.say(reply.words, streak_words(self.streak), told)

    def show_answer(self) -> None:
        """Tell the right answer and its reason. A case that was not answered before counts as not right."""
        told = ""
        if self.number not in self._done:
            self.streak = 0
            told = self._count(right=False)
        task = self.asked
        answer = (
            f"{_sentence(task.right)} {task.reasons[task.right]}" if isinstance(task, Task) else task.answer
        )
        self.say(f"The answer: {answer}", told)

    def new_case(self, *_: object) -> None:
        """Draw another case: of the chosen topic, or of the one that the record asks for."""
        self.number += 1
        draw = self._session.child(f"case {self.number}")
        chosen = self.topic.value
        topic = next_topic(self.results, draw) if chosen == LET_THE_COURSE_CHOOSE else chosen
        difficulty = DIFFICULTIES[self.difficulty.value]
        before = (self.asked.question, self.asked.evidence)
        for again in range(_FRESH_TRIES):
            self.asked = self.draw_task(topic, difficulty, draw.child(f"try {again}"))
            if (self.asked.question, self.asked.evidence) != before:
                break  # not the same case twice running
        self._show_answer_controls()
        self.say(self.opening())
        self.refresh()

    @property
    def results(self) -> dict[str, tuple[bool, ...]]:
        """The latest results of each topic, empty for one not tried yet."""
        kept = self._record.topics(self.counts_for)
        return {topic: kept.get(topic, ()) for topic in self.topics}

    def _count(self, *, right: bool) -> str:
        self._done.add(self.number)
        told = self.count(self.number, right=right, topic=self.asked.topic)
        self._tell_next()
        return told

    def _show_answer_controls(self) -> None:
        task = self.asked
        if isinstance(task, Task):
            with self.chosen.hold_sync():
                self.chosen.options = task.choices
                self.chosen.value = None
            self._place.children = [self.chosen, row(self.check_button)]
        else:
            unit = asked_unit(task.unit)
            label = f"{task.label}, in {unit.symbol}" if unit.symbol else task.label
            self._place.children = [AnswerBox(label, self.check_number, unit=task.unit)]
        self._tell_next()

    def _tell_next(self) -> None:
        if len(self.topics) > 1:
            chosen = self.topic.value
            if chosen == LET_THE_COURSE_CHOOSE:
                words = f"{why(self.results)} {RULE}"
            else:
                words = f"Next: {chosen}, as you chose."
            self._next.value = f'<p class="bc-caption">{escape(words)}</p>'


def streak_words(streak: int) -> str:
    """Say how many cases in a row were right at the first answer; nothing below two.

    >>> streak_words(1), streak_words(3)
    ('', 'That is 3 right in a row.')
    """
    return f"That is {streak} right in a row." if streak >= 2 else ""


def _sentence(words: str) -> str:
    return words if words.endswith((".", "?", "!")) else f"{words}."
