"""Pump the pedal stroke by stroke until it is firm; the vehicle does not move before."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.pushed_back import PushedBack
from brakecourse.views.activity import Activity
from brakecourse.views.burnish_pedal import drawn, running
from brakecourse.views.controls import AnswerBox, button, row
from brakecourse.views.drawings import pedal_svg
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import mm

LESSON = "12_pedal_and_burnish"
MOST_STROKES = 12


class PedalStrokes(Activity):
    """A pedal that falls through until the pads lie on the rotors.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the vehicles after the lesson's own.
    """

    title = "Pump the pedal until it is firm"
    task = (
        "Work out how many strokes it takes, and check. Then press the pedal. Let the vehicle move when you "
        "are sure of the pedal."
    )
    lesson = LESSON

    def __init__(self, name: str = "pedal-strokes", seed: int = 12, **more: Any) -> None:
        self.seed, self.number = seed, 0
        self.case: PushedBack = running()
        self.strokes = 0
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        return (
            row(
                button("Press the pedal once", self.press),
                button("Let the vehicle move", self.move),
                button("New vehicle", self.new_case),
            ),
        )

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("Strokes until firm", self.check, placeholder="a whole number")
        return (self.answer,)

    def picture(self) -> str:
        room = self.case.vehicle.hydraulics.pedal_room_mm
        travel = self.case.travel_mm(self.strokes)
        return pedal_svg(travel, room_mm=room, uid=self.uid, title=self.title, strokes=self.strokes)

    def words(self) -> str:
        if self.strokes == 0:
            return "New pads are in. The pistons stand pushed back, and the foot is off the pedal."
        travel = mm(self.case.travel_mm(self.strokes), 0)
        if not self.case.is_firm(self.strokes):
            return f"Stroke {self.strokes}: the pedal goes down {travel} and hardly pushes back."
        if self.case.is_firm(self.strokes - 1):
            return f"Stroke {self.strokes}: the pedal stops after {travel}. It is firm and stays up."
        return (
            f"Stroke {self.strokes}: the pedal goes down {travel}, soft at first, firm at the end. "
            "The pads lie on the rotors."
        )

    def facts(self) -> Sequence[Sequence[str]]:
        case = self.case
        return (
            ("Fact", "Value"),
            ("Vehicle", f"{case.vehicle.name}, {case.vehicle.fleet_number} (invented)"),
            ("Front calipers pushed back", "both"),
            ("Fluid that closes the gaps of one caliper", both(case.caliper_ml, "mL")),
            ("Fluid of one stroke, half the way to the floor", both(case.stroke_ml, "mL")),
        )

    def opening(self) -> str:
        return "How many strokes will it take? Type a whole number."

    def check(self, typed: str) -> None:
        """Reply to a typed number of strokes."""
        self.judge(typed, self.rule, ("strokes", self.number), "plain")

    def rule(self, answer: float) -> Reply:
        """Return the reply to a number of strokes."""
        case = self.case
        share = case.clearance_ml / case.stroke_ml
        if answer != round(answer) and abs(answer - share) < 0.06:
            return Reply(False, "Not yet. Round up: part of a stroke is one more stroke for the foot.")
        return number_reply(
            answer,
            case.strokes,
            _mistakes(case),
            unit="plain",
            tolerance=0.01,
            because=(
                f"2 × {case.caliper_ml:.1f} mL ÷ {case.stroke_ml:.1f} mL = {share:.1f}, rounded up. "
                "Whatever the number says: pump until you feel the pedal firm."
            ),
            hint="Add up both calipers, divide by what one stroke sends out, and round up.",
            places=0,
        )

    def press(self) -> None:
        """Press the pedal once more."""
        self.strokes = min(self.strokes + 1, MOST_STROKES)
        self.refresh()
        firm = self.case.is_firm(self.strokes)
        self.say("Feel where it stops now." if firm else "The foot met hardly anything.")

    def move(self) -> None:
        """Let the vehicle move: it does only when the pedal is firm."""
        case, strokes = self.case, self.strokes
        if case.is_firm(strokes - 1):
            told = self.count(("move", self.number), right=True)
            self.say(
                "It may move, at walking pace first, in a clear yard. The pedal stopped high and stayed up, "
                "and you proved it with one more press.",
                told,
            )
            return
        if case.is_firm(strokes):
            self.say(
                "It stays where it is. The last stroke closed the gaps; press once more to prove that the "
                "pedal now stops high and stays up."
            )
            return
        told = self.count(("move too early", self.number, strokes), right=False)
        self.say(
            f"It stays where it is. The front gaps still lack {both(case.left_ml(strokes), 'mL')}, so "
            "the first press on the road would not work the front brakes. Never drive off with a low pedal.",
            told,
        )

    def new_case(self) -> None:
        """Take another vehicle."""
        self.number += 1
        self.case = drawn(Draw(self.seed).child(f"strokes {self.number}"))
        self.strokes = 0
        self.answer.clear()
        self.say(self.opening())
        self.refresh()


def _mistakes(case: PushedBack) -> dict[str, float]:
    one = -(-case.caliper_ml // case.stroke_ml)
    return {
        "You rounded down. What is left of the gap still needs a stroke, and without it the pedal is low.": (
            case.clearance_ml // case.stroke_ml
        ),
        "You counted one caliper only. Both front calipers were pushed back.": one,
    }
