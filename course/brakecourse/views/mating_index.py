"""Turn a rotor from stud to stud and see its arrow and the hub's add up, help or cancel each other."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.fit_cases import draw_fit
from brakecourse.trade.hub_fit import stack_run_out_mm
from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, NumberPair, button, row
from brakecourse.views.drawings.rotor_index import rotor_index_svg, studs_on
from brakecourse.views.mating_fit import size_of
from brakecourse.views.mating_replies import position_reply
from brakecourse.views.words import mm


class RotorIndexing(Activity):
    """A clean rotor on a clean hub, each a little out of true. Which position runs truest?

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the rotors.
    """

    title = "Turn the rotor from stud to stud"
    task = (
        "Both faces are clean. Turn the rotor on by one stud at a time; the table keeps what the dial shows. "
        "Type the best position and press Check."
    )
    lesson = "10_hub_and_rotor_fit"

    def __init__(self, name: str = "rotor-indexing", seed: int = 3, **more: Any) -> None:
        self.seed, self.number = seed, 0
        self._draw_rotor()
        super().__init__(name, **more)

    def _draw_rotor(self) -> None:
        self.fit = draw_fit("index", "normal", Draw(self.seed).child(f"rotor {self.number}"))
        self.tried: set[int] = {0}
        self.solved = False

    def controls(self) -> Sequence[widgets.Widget]:
        self.index = NumberPair("Turned on, in studs", 0, 0, self.fit.studs - 1, 1)
        self.index.on_change(self.move)
        return self.index, row(button("On by one stud", self.next_stud))

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("Best position, in studs turned on", self.check, placeholder="for example 1")
        return self.answer, row(button("New rotor", self.new_task))

    def picture(self) -> str:
        hub, rotor = self.fit.hub, self.fit.rotor
        return rotor_index_svg(
            size_of(self.fit.vehicle, self.fit.wheel),
            (hub.total_mm, hub.high_deg),
            (rotor.total_mm, rotor.high_deg),
            int(self.index.value),
            uid=self.uid,
            title="Rotor on its studs, with the arrows of hub and rotor",
        )

    def words(self) -> str:
        index = int(self.index.value)
        together = mm(self._run_out_mm(index))
        hub, rotor = self.fit.hub, self.fit.rotor
        name = self.fit.vehicle.name
        return (
            f"{name[0].upper()}{name[1:]}, rotor {studs_on(index)}: the dial shows a total of {together}. "
            f"The limit is {mm(self.fit.limit_mm)}. The hub's arrow is {mm(hub.total_mm)} long, the "
            f"rotor's {mm(rotor.total_mm)}."
        )

    def facts(self) -> Sequence[Sequence[str]]:
        hub, rotor, studs = self.fit.hub, self.fit.rotor, self.fit.studs
        rows = [("Studs on", "Between the arrows", "Total run-out")]
        for index in range(studs):
            points = rotor.high_deg + 360 * index / studs
            apart = abs((points - hub.high_deg + 180) % 360 - 180)
            seen = index in self.tried or self.solved
            best = self.solved and index == self.fit.best[0]
            total = mm(self._run_out_mm(index)) if seen else "not measured yet"
            rows.append((f"{index}{' (best)' if best else ''}", f"{apart:.0f}°", total))
        return rows

    def opening(self) -> str:
        return (
            "Guess first: in which position do the two arrows work against each other? "
            "Then turn the rotor there and see."
        )

    def move(self, *_: object) -> None:
        """Measure in the position that the rotor has been turned to."""
        self.tried.add(int(self.index.value))
        self.refresh()

    def next_stud(self) -> None:
        """Turn on by one stud; after the last comes the first again."""
        self.index.value = (int(self.index.value) + 1) % self.fit.studs

    def check(self, typed: str) -> None:
        """Reply to a typed position. Only then the table tells all."""
        fit = self.fit
        right = self.judge(
            typed, lambda answer: position_reply(answer, fit.hub, fit.rotor, fit.studs), self.number, unit=""
        )
        if right and not self.solved:
            self.solved = True
            self.refresh()

    def new_task(self) -> None:
        """Take another rotor, not turned yet."""
        self.number += 1
        self._draw_rotor()
        self.answer.clear()
        for part in (self.index.slider, self.index.box):
            part.value = 0
            part.max = self.fit.studs - 1
        self.tried = {0}
        self.say(self.opening())
        self.refresh()

    def _run_out_mm(self, index: int) -> float:
        return stack_run_out_mm(self.fit.hub, self.fit.rotor, index, self.fit.studs)
