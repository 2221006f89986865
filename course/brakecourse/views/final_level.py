"""Read the reservoir, and say where the level ends when the pedal is firm, and what to pour in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.pushed_back import PushedBack
from brakecourse.views.activity import Activity
from brakecourse.views.burnish_pedal import drawn, running
from brakecourse.views.controls import AnswerBox, button, row, tick
from brakecourse.views.drawings import reservoir_svg
from brakecourse.views.pedal_strokes import LESSON
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import mm

_READ_TO_MM = 0.7  # half a line of the rule, and what rounding adds
_ON_SCREEN = "before the pedal is pumped"


class FinalLevel(Activity):
    """A reservoir before the pedal is pumped.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the vehicles after the lesson's own.
    """

    title = "Where does the level end?"
    task = (
        "Read the level on the rule. Work out where it stands once the pedal is firm, and what you then "
        "pour in."
    )
    lesson = LESSON

    def __init__(self, name: str = "final-level", seed: int = 21, **more: Any) -> None:
        self.seed, self.number = seed, 0
        self.case: PushedBack = running()
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.pumped = tick("Show the reservoir with the pedal pumped firm", value=False)
        self.pumped.observe(self.refresh, "value")
        return (row(self.pumped, button("New vehicle", self.new_case)),)

    def answers(self) -> Sequence[widgets.Widget]:
        self.level = AnswerBox("Level when firm, in mm", self.check_level, unit="mm travel")
        self.pour = AnswerBox("Then pour in, up to MAX, in mL", self.check_pour, unit="mL")
        return self.level, self.pour

    def picture(self) -> str:
        case, system = self.case, self.case.vehicle.hydraulics
        return reservoir_svg(
            case.final_level_mm if self.pumped.value else case.level_mm,
            min_mm=system.reservoir_min_mm,
            max_mm=system.reservoir_max_mm,
            height_mm=case.height_mm,
            uid=self.uid,
            title=self.title,
        )

    def words(self) -> str:
        when = "with the pedal pumped firm" if self.pumped.value else _ON_SCREEN
        return f"The reservoir of the {self.case.vehicle.name}, {when}."

    def facts(self) -> Sequence[Sequence[str]]:
        case = self.case
        area = both(case.vehicle.hydraulics.reservoir_area_mm2, "mm²")
        return (
            ("Fact", "Value"),
            ("Fluid that closes the gaps of both calipers", both(case.clearance_ml, "mL")),
            ("Area of the fluid's surface", area),
            ("Upper mark, MAX", mm(case.vehicle.hydraulics.reservoir_max_mm, 0)),
        )

    def opening(self) -> str:
        return "Read the level, subtract what it falls, and type where it ends."

    def check_level(self, typed: str) -> None:
        """Reply to a typed level."""
        self.judge(typed, self.level_rule, ("level", self.number), "mm travel")

    def check_pour(self, typed: str) -> None:
        """Reply to a typed volume."""
        self.judge(typed, self.pour_rule, ("pour", self.number), "mL")

    def level_rule(self, answer: float) -> Reply:
        """Return the reply to a level in mm."""
        case = self.case
        low = ""
        if case.final_level_mm < case.vehicle.hydraulics.reservoir_min_mm:
            low = "That is below MIN: top up before you pump, or the pump draws in air."
        return number_reply(
            answer,
            case.final_level_mm,
            {
                "That is how far it falls. Subtract it from the level that you read.": case.drop_mm,
                "The fluid leaves the reservoir to fill the gaps, so the level falls. You let it rise.": (
                    case.level_mm + case.drop_mm
                ),
                "That is the level before pumping. The gaps still have to be filled from it.": case.level_mm,
                "You counted half the fluid. The volume in the table is for both calipers.": (
                    case.level_mm - case.drop_mm / 2
                ),
            },
            unit="mm",
            tolerance=_READ_TO_MM,
            because=(
                f"It falls by {1000 * case.clearance_ml:.0f} mm³ ÷ "
                f"{case.vehicle.hydraulics.reservoir_area_mm2:.0f} mm² = {case.drop_mm:.1f} mm. {low}"
            ),
            hint="1 mL is 1000 mm³. Divide by the area to get how far the level falls.",
            places=1,
        )

    def pour_rule(self, answer: float) -> Reply:
        """Return the reply to a volume in mL."""
        case, system = self.case, self.case.vehicle.hydraulics
        per_mm = system.reservoir_area_mm2 / 1000
        return number_reply(
            answer,
            case.to_pour_ml,
            {
                "That is what the gaps took. The level did not stand at MAX before, so more is missing.": (
                    case.clearance_ml
                ),
                "You filled up from the level before pumping. The gaps have taken more since.": (
                    case.to_pour_ml - case.clearance_ml
                ),
                "You have cubic millimetres. 1000 mm³ are 1 mL.": case.to_pour_ml * 1000,
            },
            unit="mL",
            tolerance=_READ_TO_MM * per_mm,
            because=(
                f"From {case.final_level_mm:.1f} mm to MAX are "
                f"{system.reservoir_max_mm - case.final_level_mm:.1f} mm, and each is {per_mm:.1f} mL. "
                "Use fresh fluid of the right grade, and close the cap."
            ),
            hint="Take the height from the final level up to MAX, times the area, and turn mm³ into mL.",
            places=0,
        )

    def new_case(self) -> None:
        """Take another vehicle."""
        self.number += 1
        self.case = drawn(Draw(self.seed).child(f"level {self.number}"))
        self.level.clear()
        self.pour.clear()
        self.pumped.value = False
        self.say(self.opening())
        self.refresh()
