"""Turn a rotor under a dial indicator, find its run-out, and see where it stands out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, NumberPair, button, choice, row, tick
from brakecourse.views.drawings import dial_on_rotor_svg, run_out_plot_svg
from brakecourse.views.practice import dial_shown_mm, dial_turn_mm, practice_cases, shaped_cases
from brakecourse.views.rotor_replies import Shape, run_out_reply, shape_reply
from brakecourse.views.words import mm

_SHAPES: dict[str, Shape] = {
    "one hill and one valley": "one hill",
    "several hills and valleys": "several hills",
}


class TurnRotor(Activity):
    """A dial indicator stands on the rotor's face. Turn the rotor and find the total run-out.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the rotors.
    """

    title = "Turn the rotor under the dial"
    task = (
        "Fit the wheel nuts. Turn the rotor once round and watch the needle for its lowest and its highest "
        "place. Type the total run-out and press Check."
    )

    def __init__(self, name: str = "turn-rotor", seed: int = 1, **more: Any) -> None:
        self.cases = practice_cases(seed)
        self.case = next(self.cases)
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.angle = NumberPair("Turn the rotor, in degrees", 0, 0, 359, 1)
        self.nuts = tick("All wheel nuts fitted and snug", value=False)
        self.angle.on_change(self.refresh)
        self.nuts.observe(self.refresh, "value")
        return self.nuts, self.angle, row(button("On to the next place", self.next_place))

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("Total run-out in mm", self.check, placeholder="for example 0.06")
        return self.answer, row(button("New rotor", self.new_task))

    def picture(self) -> str:
        angle, nuts = int(self.angle.value), self.nuts.value
        return dial_on_rotor_svg(
            dial_shown_mm(self.case, angle, nuts),
            angle,
            uid=self.uid,
            title="Rotor with a dial indicator on its face",
            studs=self.case.vehicle.studs,
            nuts_fitted=nuts,
        )

    def words(self) -> str:
        turned = f"The rotor is turned {int(self.angle.value)}°."
        if self.nuts.value:
            return f"{turned} All wheel nuts are fitted and snug, so the rotor sits on its hub."
        return f"{turned} The wheel nuts are off, so the rotor hangs loose on its studs."

    def opening(self) -> str:
        return f"This rotor is from the {self.case.vehicle.name}. Seat it first, then turn it."

    def next_place(self) -> None:
        """Turn on to the next of the eight places; after the eighth comes the first again."""
        self.angle.value = (int(self.angle.value) // 45 + 1) % 8 * 45

    def check(self, typed: str) -> None:
        """Reply to a typed run-out."""
        seated, loose = (dial_turn_mm(self.case, nuts) for nuts in (True, False))
        self.judge(typed, lambda answer: run_out_reply(answer, seated, loose), self.case.seed, "mm run-out")

    def new_task(self) -> None:
        """Put another rotor up: loose, with the chalk mark at the dial."""
        self.case = next(self.cases)
        self.answer.clear()
        self.nuts.value, self.angle.value = False, 0
        self.say(self.opening())
        self.refresh()


class RunOutPlot(Activity):
    """See the dial's readings of one turn as a curve, with the rotor seated and hanging loose.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the rotors.
    """

    title = "The run-out round the rotor"
    task = "Here the dial's eight readings stand side by side. Say what the curve tells about the rotor."

    def __init__(self, name: str = "run-out-plot", seed: int = 2, **more: Any) -> None:
        self.cases = shaped_cases(seed)
        self.case, _ = next(self.cases)
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.nuts = tick("All wheel nuts fitted and snug", value=True)
        self.nuts.observe(self.refresh, "value")
        return (self.nuts,)

    def answers(self) -> Sequence[widgets.Widget]:
        self.chosen = choice("With the nuts fitted, the curve has", list(_SHAPES))
        return self.chosen, row(button("Check", self.check), button("New rotor", self.new_task))

    def picture(self) -> str:
        case = self.case
        return run_out_plot_svg(
            case.angles_deg,
            case.dial_readings_mm if self.nuts.value else case.dial_loose_readings_mm,
            uid=self.uid,
            limit_mm=case.spec.max_run_out_mm,
            title="Dial readings round the rotor",
        )

    def words(self) -> str:
        nuts = "with all wheel nuts fitted" if self.nuts.value else "with the rotor hanging loose"
        limit = mm(self.case.spec.max_run_out_mm)
        return f"Dial readings at eight places, {nuts}. The limit for the total run-out is {limit}."

    def opening(self) -> str:
        return (
            "Take the wheel nuts off and fit them again: the curve shows what a loose rotor would tell you."
        )

    def check(self) -> None:
        """Reply to the chosen shape."""
        if self.chosen.value is None:
            self.say("Nothing is chosen yet: choose one of the two shapes, then press Check.")
            return
        chosen = _SHAPES[self.chosen.value]
        reply = shape_reply(chosen, self.case.dial_readings_mm)
        self.say(reply.words, self.count((self.case.seed, chosen), right=reply.right))

    def new_task(self) -> None:
        """Show another rotor, seated."""
        self.case, _ = next(self.cases)
        self.chosen.value = None
        self.nuts.value = True
        self.say(self.opening())
        self.refresh()
