"""Measure a rotor's thickness: where the anvils go, eight places, and what a cut would leave."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, NumberPair, button, choice, row
from brakecourse.views.drawings import micrometer_svg, rotor_section_svg, thickness_plot_svg
from brakecourse.views.micrometer_replies import reading_reply
from brakecourse.views.practice import practice_cases
from brakecourse.views.rotor_replies import (
    allowance_reply,
    left_reply,
    ridge_reply,
    smallest_reply,
    variation_reply,
)
from brakecourse.views.words import mm

_ANVILS = {"mid-track, where the pads rub": "mid-track", "on the rust ridge at the edge": "ridge"}


class WhereToMeasure(Activity):
    """Set the micrometer mid-track or on the rust ridge, and see what the ridge hides.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the rotors.
    """

    title = "Where the anvils go"
    task = "Move the anvils. Work out by how much the ridge would flatter this rotor, and press Check."

    def __init__(self, name: str = "where-to-measure", seed: int = 3, **more: Any) -> None:
        self.cases = practice_cases(seed)
        self.case = next(self.cases)
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.anvils = choice("The anvils touch", list(_ANVILS), next(iter(_ANVILS)))
        self.anvils.observe(self.refresh, "value")
        return (self.anvils,)

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("Ridge minus track, in mm", self.check)
        return self.answer, row(button("New rotor", self.new_task))

    @property
    def on_ridge(self) -> bool:
        """Whether the anvils touch the ridge."""
        return _ANVILS[self.anvils.value] == "ridge"

    def picture(self) -> str:
        condition = self.case.condition
        return rotor_section_svg(
            uid=self.uid,
            ridge_mm=condition.rust_mm / 2,
            groove_mm=condition.groove_depth_mm,
            worn_mm=condition.wear_mm / 2,
            anvils="ridge" if self.on_ridge else "mid-track",
        )

    def words(self) -> str:
        shown = self.case.ridge_reading_mm if self.on_ridge else self.case.readings_mm[0]
        return f"Anvils {self.anvils.value}: the micrometer reads {mm(shown)}."

    def opening(self) -> str:
        return f"The discard thickness of this rotor is {mm(self.case.spec.discard_mm)}."

    def check(self, typed: str) -> None:
        """Reply to the typed difference."""
        ridge, track = self.case.ridge_reading_mm, self.case.readings_mm[0]
        self.judge(typed, lambda answer: ridge_reply(answer, ridge, track), self.case.seed, "mm run-out")

    def new_task(self) -> None:
        """Take another rotor."""
        self.case = next(self.cases)
        self.answer.clear()
        self.say(self.opening())
        self.refresh()


class EightPlaces(Activity):
    """Read the micrometer at eight places, then give the smallest thickness and the variation.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the rotors.
    """

    title = "Eight places round the rotor"
    task = (
        "Read the micrometer at each place. A right reading is noted for you and the next place comes. "
        "Then type the smallest thickness and the variation."
    )

    def __init__(self, name: str = "eight-places", seed: int = 4, **more: Any) -> None:
        self.cases = practice_cases(seed)
        self.case = next(self.cases)
        self.noted: dict[int, float] = {}
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.place = NumberPair("Place round the rotor", 1, 1, 8, 1)
        self.place.on_change(self.refresh)
        return (self.place,)

    def answers(self) -> Sequence[widgets.Widget]:
        self.reading = AnswerBox("Reading at this place, in mm", self.check_reading)
        self.smallest = AnswerBox("Smallest thickness, in mm", self.check_smallest)
        self.variation = AnswerBox("Thickness variation, in mm", self.check_variation)
        return self.reading, self.smallest, self.variation, row(button("New rotor", self.new_task))

    @property
    def indication_mm(self) -> float:
        """What the micrometer shows at this place."""
        return self.case.thickness_mm[int(self.place.value) - 1]

    def picture(self) -> str:
        return micrometer_svg(
            self.indication_mm,
            uid=self.uid,
            start_mm=self.case.micrometer.low_mm,
            title=f"Micrometer at place {int(self.place.value)}",
        )

    def words(self) -> str:
        here = f"Place {int(self.place.value)} of 8, mid-track."
        if not self.noted:
            return f"{here} Nothing is noted yet."
        notes = ", ".join(f"place {place} {self.noted[place]:.2f}" for place in sorted(self.noted))
        return f"{here} Noted, in mm: {notes}."

    def opening(self) -> str:
        return f"This rotor is from the {self.case.vehicle.name}. Begin at place 1."

    def check_reading(self, typed: str) -> None:
        """Reply to the reading at this place, note it if it is right, and go on."""
        place, gauge = int(self.place.value), self.case.micrometer
        shown = self.indication_mm
        right = self.judge(typed, lambda answer: reading_reply(answer, shown, gauge), (self.case.seed, place))
        if right:
            self.noted[place] = gauge.reading(shown)
            self.reading.clear()
            self.place.value = next((other for other in range(1, 9) if other not in self.noted), place)
            self.refresh()

    def check_smallest(self, typed: str) -> None:
        """Reply to the typed smallest thickness."""
        case = self.case
        self.judge(
            typed,
            lambda answer: smallest_reply(answer, case.readings_mm, case.ridge_reading_mm),
            (case.seed, "smallest"),
        )

    def check_variation(self, typed: str) -> None:
        """Reply to the typed variation."""
        readings = self.case.readings_mm
        self.judge(
            typed,
            lambda answer: variation_reply(answer, readings),
            (self.case.seed, "variation"),
            "mm run-out",
        )

    def new_task(self) -> None:
        """Take another rotor, with nothing noted."""
        self.case = next(self.cases)
        self.noted.clear()
        for box in (self.reading, self.smallest, self.variation):
            box.clear()
        self.place.value = 1
        self.say(self.opening())
        self.refresh()


class CutToTrue(Activity):
    """A rotor has to be cut true. How much may come off, and what is left?

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the rotors.
    """

    title = "Is there metal enough to cut?"
    task = "Type how much may come off, and how thick the rotor would be after a cut that trues it."

    def __init__(self, name: str = "cut-to-true", seed: int = 5, **more: Any) -> None:
        self.cases = practice_cases(
            seed,
            situations=("machine for variation", "machine for run-out", "replace no metal left to true"),
        )
        self.case = next(self.cases)
        super().__init__(name, **more)

    def answers(self) -> Sequence[widgets.Widget]:
        self.allowance = AnswerBox("Metal that may come off, in mm", self.check_allowance)
        self.left = AnswerBox("Thickness left after truing, in mm", self.check_left)
        return self.allowance, self.left, row(button("New rotor", self.new_task))

    def picture(self) -> str:
        case = self.case
        return thickness_plot_svg(
            case.angles_deg,
            case.readings_mm,
            uid=self.uid,
            discard_mm=case.spec.discard_mm,
            machine_to_mm=case.spec.machine_to_mm,
            title="Thickness round the rotor, with both limits",
        )

    def words(self) -> str:
        found, spec = self.case.finding, self.case.spec
        return (
            f"Smallest thickness {mm(found.smallest_mm)}. Thickness variation {mm(found.variation_mm)}. "
            f"Total run-out {mm(found.run_out_mm)}. Machine-to thickness {mm(spec.machine_to_mm)}."
        )

    def opening(self) -> str:
        return (
            "The metal that may come off counts from the smallest thickness down to the machine-to thickness."
        )

    def check_allowance(self, typed: str) -> None:
        """Reply to the typed allowance."""
        case = self.case
        self.judge(
            typed,
            lambda answer: allowance_reply(answer, case.readings_mm, case.spec),
            (case.seed, "allowance"),
        )

    def check_left(self, typed: str) -> None:
        """Reply to the typed thickness after truing."""
        finding = self.case.finding
        self.judge(typed, lambda answer: left_reply(answer, finding), (self.case.seed, "left"))

    def new_task(self) -> None:
        """Take another rotor."""
        self.case = next(self.cases)
        for box in (self.allowance, self.left):
            box.clear()
        self.say(self.opening())
        self.refresh()
