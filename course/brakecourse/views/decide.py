"""Decide about a rotor: keep it, machine it, or replace it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, get_args

import ipywidgets as widgets

from brakecourse.bench.situations import Difficulty
from brakecourse.trade.rotor import Action
from brakecourse.views.activity import Activity
from brakecourse.views.controls import button, choice, row
from brakecourse.views.drawings import run_out_plot_svg, thickness_plot_svg
from brakecourse.views.practice import practice_cases
from brakecourse.views.reasons import decision_reply, evidence

_CHOICES: dict[str, Action] = {
    "keep it as it is": "keep",
    "machine it true": "machine",
    "replace it": "replace",
}

_VIEWS = ("thickness readings", "dial readings")


class DecideRotor(Activity):
    """A rotor with its readings and limits. What would you do with it?

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the rotors.
        difficulty: which rotors come first.
    """

    title = "Keep, machine or replace?"
    task = "Read the evidence, choose what to do with the rotor, and press Check."

    def __init__(
        self, name: str = "decide-rotor", seed: int = 6, difficulty: Difficulty = "easy", **more: Any
    ) -> None:
        self.seed, self.first = seed, difficulty
        self.cases = practice_cases(seed, difficulty)
        self.case = next(self.cases)
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.difficulty = choice("Which rotors?", get_args(Difficulty), self.first)
        self.view = choice("Show the", _VIEWS, _VIEWS[0])
        self.difficulty.observe(self.change_difficulty, "value")
        self.view.observe(self.refresh, "value")
        return (row(self.difficulty, self.view),)

    def answers(self) -> Sequence[widgets.Widget]:
        self.chosen = choice("I would", list(_CHOICES))
        return self.chosen, row(button("Check", self.check), button("New rotor", self.new_task))

    def picture(self) -> str:
        case, spec = self.case, self.case.spec
        if self.view.value == _VIEWS[1]:
            return run_out_plot_svg(
                case.angles_deg, case.dial_readings_mm, uid=self.uid, limit_mm=spec.max_run_out_mm
            )
        return thickness_plot_svg(
            case.angles_deg,
            case.readings_mm,
            uid=self.uid,
            discard_mm=spec.discard_mm,
            machine_to_mm=spec.machine_to_mm,
        )

    def words(self) -> str:
        return self.case.complaint

    def facts(self) -> Sequence[Sequence[str]]:
        return evidence(self.case.finding, self.case.spec)

    def opening(self) -> str:
        return "Choose one of the three."

    def check(self) -> None:
        """Reply to the chosen action, with the reason from this rotor's readings."""
        if self.chosen.value is None:
            self.say("Nothing is chosen yet: choose keep, machine or replace, then press Check.")
            return
        action = _CHOICES[self.chosen.value]
        reply = decision_reply(action, self.case.finding)
        key = (self.difficulty.value, self.case.seed, action)
        self.say(reply.words, self.count(key, right=reply.right))

    def change_difficulty(self, *_: object) -> None:
        """Begin with rotors of the chosen difficulty."""
        self.cases = practice_cases(self.seed, self.difficulty.value)
        self.new_task()

    def new_task(self) -> None:
        """Take another rotor."""
        self.case = next(self.cases)
        self.chosen.value = None
        self.say(self.opening())
        self.refresh()
