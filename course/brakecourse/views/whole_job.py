"""A whole job on one vehicle: from the complaint to the signed record, which fills itself on the way."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.views.controls import AnswerBox, button, choice, row
from brakecourse.views.diagnosis_bench import NO_CAUSE
from brakecourse.views.diagnosis_words import cause_words, sheet
from brakecourse.views.printing import save_page, sheet_page
from brakecourse.views.quiz import DIFFICULTIES, NumberTask, Task
from brakecourse.views.units import asked_unit
from brakecourse.views.whole_job_case import COUNT, SHOWN, TITLE, WholeJobCase
from brakecourse.views.whole_job_finding import FindingTheCause

LESSON = "13_whole_job"
FIRST_SEED = 35
_ORDINALS = ("first", "second", "third", "fourth", "fifth")
SIGNED = "Signed for what was measured and done, nothing else."


class WholeJob(FindingTheCause):
    """One vehicle, one job, one record.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the first vehicle.
        session: fixes the vehicles after it, for tests; by default every session has others.
        folder: where a page to print is saved; by default beside the notebook.
    """

    title = "The whole job"
    task = (
        "Find the cause, measure, decide, put it right, and finish. Your answers fill the record below. "
        "At the end, sign it."
    )
    lesson = LESSON

    def __init__(
        self,
        name: str = "whole-job",
        seed: int = FIRST_SEED,
        session: int | None = None,
        folder: Path | None = None,
        **more: Any,
    ) -> None:
        self._folder = folder or Path()
        self.number = self.tries = 0
        self._session = Draw(secrets.randbits(64) if session is None else session)
        self.case = WholeJobCase.drawn(seed, "normal")
        super().__init__(name, **more)
        self._sheet = widgets.HTML()
        self.children = [*self.children[:-1], self._sheet, self.children[-1]]
        self._show_step()

    def controls(self) -> Sequence[widgets.Widget]:
        self.difficulty = choice("How hard?", tuple(DIFFICULTIES), "usual")
        self.difficulty.observe(self.new_vehicle, "value")
        self._asked = widgets.HTML()
        return row(self.difficulty, button("New vehicle", self.new_vehicle)), self._asked

    def answers(self) -> Sequence[widgets.Widget]:
        self.chosen = choice("Your answer", ())
        self._finding = self.finding_controls()
        self._place = widgets.VBox([])
        self._show = button("Show the answer", self.show_answer)
        self._sign = button("Sign the record", self.sign)
        return self._place, row(self._show, self._sign, button("Save to print", self.save))

    def picture(self) -> str:
        step = self.case.step
        if step and step.picture:
            return step.picture(self.uid)
        if not self.case.cause:
            return sheet(self.case.bench, self.case.findings, self.uid)
        return self.case.record(self.uid)

    def words(self) -> str:
        step = self.case.step
        if step:
            return step.task.question
        if not self.case.cause:
            return self.case.job.case.complaint
        return "Every step has its answer." if not self.case.signed else "The record is signed."

    def facts(self) -> Sequence[Sequence[str]]:
        step = self.case.step
        return step.task.evidence if step else ()

    def opening(self) -> str:
        return "First find the cause. Do a few checks that tell much, then name it."

    def found(self, cause: str, words: str, told: str) -> None:
        self.case.found(cause, self._how())
        also = "; ".join(self.case.others)
        self._go_on(words, f"And with the wheels off you find one more thing: {also}." if also else "", told)

    def check(self) -> None:
        """Reply to the chosen answer."""
        step = self.case.step
        if step is None or not isinstance(step.task, Task):
            return
        if self.chosen.value is None:
            self.say("Nothing is chosen yet: choose one answer, then press Check.")
            return
        right = self.chosen.value == step.task.right
        told = self.tried((step.id, self.chosen.value), step.task.topic, right=right)
        reason = step.task.reasons[self.chosen.value]
        if right:
            self.case.answered(self._how())
            self._go_on(f"Right. {reason}", told)
        else:
            self.say(f"Not yet. {reason}", told)

    def check_number(self, typed: str) -> None:
        """Reply to a typed number."""
        step = self.case.step
        if step is None or not isinstance(step.task, NumberTask):
            return
        read = self.read(typed, step.task.unit)
        if read is None:
            return
        reply = step.task.rule(read.number)
        told = self.tried((step.id, read.number), step.task.topic, right=reply.right)
        if reply.right:
            self.case.answered(self._how())
            self._go_on(read.note, reply.words, told)
        else:
            self.say(read.note, reply.words, told)

    def show_answer(self) -> None:
        """Tell the open step's answer, and go on. The record says that it was shown."""
        case = self.case
        if not case.cause:
            told = self.tried("shown", "find the cause", right=False)
            case.found(case.hidden[0], SHOWN)
            also = "; ".join(case.others)
            words = cause_words()[case.cause]
            self._go_on(f"The cause: {words}{f'; and one more thing: {also}' if also else ''}.", told)
            return
        step = case.step
        if step is None:
            self.say("Every step has its answer. Sign the record.")
            return
        task = step.task
        answer = f"{task.right}. {task.reasons[task.right]}" if isinstance(task, Task) else task.answer
        told = self.tried((step.id, "shown"), task.topic, right=False)
        case.answered(SHOWN)
        self._go_on(f"The answer: {answer}", told)

    def sign(self) -> None:
        """Sign the record when every line is filled."""
        if not self.case.finished:
            left = COUNT - len(self.case.notes)
            lines = "line is" if left == 1 else "lines are"
            self.say(f"Not yet: {left} {lines} still open. You sign only for what was checked.")
            return
        self.case.signed = SIGNED
        shown = self.case.notes.count(SHOWN)
        was = "was" if shown == 1 else "were"
        first = sum(one == _note(1) for one in self.case.notes)
        self.say(
            f"The record is signed. {first} of {COUNT} steps were right at the first answer"
            f"{f', {shown} {was} shown' if shown else ''}. Save to print makes a page of it."
        )
        self._show_step()
        self.refresh()

    def save(self) -> None:
        """Save the record as it stands as a page to print."""
        svg = self.case.record(f"{self.uid}-paper")
        self.say(save_page(self._folder, "my_job_record", sheet_page(TITLE, svg)))

    def new_vehicle(self, *_: object) -> None:
        """Bring in another vehicle."""
        self.number += 1
        seed = self._session.child(f"vehicle {self.number}").integer(0, 10**9)
        self.case = WholeJobCase.drawn(seed, DIFFICULTIES[self.difficulty.value])
        self.cause.value = NO_CAUSE
        self.tries = 0
        self._show_step()
        self.say(self.opening())
        self.refresh()

    def tried(self, answer: object, topic: str, *, right: bool) -> str:
        """Count the first answer to each step."""
        self.tries += 1
        key = (self.number, len(self.case.notes))
        return self.count(key, right=right, topic=topic)

    def _how(self) -> str:
        return _note(self.tries)

    def _go_on(self, *words: str) -> None:
        self.tries = 0
        self._show_step()
        left = f"Now step {len(self.case.notes) + 1} of {COUNT}."
        self.say(*words, left if self.case.step else "Now sign the record.")
        self.refresh()

    def _show_step(self) -> None:
        case = self.case
        step = case.step
        if not case.cause:
            self._place.children = self._finding
        elif step is None:
            self._place.children = ()
        elif isinstance(step.task, Task):
            with self.chosen.hold_sync():
                self.chosen.options = step.task.choices
                self.chosen.value = None
            self._place.children = (self.chosen, row(button("Check", self.check)))
        else:
            unit = asked_unit(step.task.unit).symbol
            label = f"{step.task.label}, in {unit}" if unit else step.task.label
            self._place.children = (AnswerBox(label, self.check_number, unit=step.task.unit),)
        what = f"{step.stage}, {step.label.lower()}" if step else "find the cause"
        heading = f"Step {len(case.notes) + 1} of {COUNT}: {what}"
        if case.finished:
            heading = "The record is complete"
        self._asked.value = f'<p class="bc-task"><b>{escape(heading)}</b></p>'
        self.show_sheet()

    def show_sheet(self) -> None:
        """Show the record below, unless it is the picture itself."""
        step = self.case.step
        own = self.case.cause and not (step and step.picture)
        self._sheet.value = "" if own else self.case.record(f"{self.uid}-record")


def _note(tries: int) -> str:
    many = f"the {_ORDINALS[tries - 1]}" if tries <= len(_ORDINALS) else "a later"
    return f"right at {many} answer"
