"""The level-against-wear calculator: move level, wear and uncertainty, and watch the verdict."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench import motor_pool
from brakecourse.bench.level_sums import first_telling_mm, level_uncertainty_ml, missing_ml, rotor_wear_mm
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.conformity import guard_band
from brakecourse.trade.fluid import LevelFinding, WheelWear, explain_level
from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, NumberPair, dropdown
from brakecourse.views.drawings import level_band_svg
from brakecourse.views.level_mistakes import LESSON, mm_words, tidy
from brakecourse.views.level_reasons import MEANING
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both

_FIRST = "meals-delivery van"
TOO_EARLY = "That is where the sum first comes out above the wear. It leaves no room for the uncertainty."
AT_MIN = "That is the MIN mark. It says when to look. It does not say whether fluid has leaked."
ONE_HIGH = "One line lower. At that level the missing fluid is still nearer to the wear than the guard band."
ONE_LOW = "The line above it proves it already. Asked is the highest one."


class LevelAgainstWear(Activity):
    """See how level, wear and uncertainty make the verdict, and find the level that proves a leak.

    Args:
        name: a short name, one of its kind on the page.
    """

    title = "The level against the wear"
    task = (
        "Move the level and the wear, and watch the diamond. Then find the highest level, in whole "
        "millimetres, that says: suspect a leak."
    )
    lesson = LESSON

    def __init__(self, name: str = "level-against-wear", **more: Any) -> None:
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        names = tuple(one.name for one in motor_pool().values())
        self.which = dropdown("Vehicle", names, _FIRST)
        self.level = NumberPair("Level above the floor, in mm", 26, 0, 46, 1)
        self.front = NumberPair("Wear of each front pad, in mm", 4.0, 0.0, 13.0, 0.1)
        self.rear = NumberPair("Wear of each rear pad, in mm", 2.0, 0.0, 11.0, 0.1)
        self.u = NumberPair("Uncertainty of the level, in mm", 0.65, 0.1, 2.0, 0.05)
        self.which.observe(self._changed, "value")
        for pair in (self.level, self.front, self.rear, self.u):
            pair.on_change(self._changed)
        return self.which, self.level, self.front, self.rear, self.u

    def answers(self) -> Sequence[widgets.Widget]:
        self.telling = AnswerBox("Highest such level, in mm", self.check, unit="mm travel")
        return (self.telling,)

    @property
    def vehicle(self) -> Vehicle:
        """Which vehicle is chosen."""
        return next(one for one in motor_pool().values() if one.name == self.which.value)

    @property
    def wear(self) -> tuple[WheelWear, ...]:
        """The wear of the four wheels, both wheels of an axle alike."""
        front, rear = float(self.front.value), float(self.rear.value)
        one = self.vehicle.front.wear(front, rotor_wear_mm(front))
        other = self.vehicle.rear.wear(rear, rotor_wear_mm(rear))
        return one, one, other, other

    @property
    def missing_ml(self) -> float:
        """What is missing below MAX at the chosen level."""
        return missing_ml(self.vehicle.hydraulics, float(self.level.value))

    @property
    def u_ml(self) -> float:
        """Standard uncertainty of missing fluid and wear together."""
        return level_uncertainty_ml(self.vehicle, float(self.u.value))

    @property
    def finding(self) -> LevelFinding:
        """What the numbers lead to."""
        return explain_level(self.missing_ml, self.wear, self.u_ml)

    def picture(self) -> str:
        return level_band_svg(self.finding.expected_ml, self.missing_ml, guard_band(self.u_ml), uid=self.uid)

    def words(self) -> str:
        found, system = self.finding, self.vehicle.hydraulics
        most, level = system.reservoir_max_mm, float(self.level.value)
        gap = found.unexplained_ml
        side = "more" if gap >= 0 else "less"
        return (
            f"{mm_words(most)} − {mm_words(level)} = {mm_words(most - level)} mm on "
            f"{both(system.reservoir_area_mm2, 'mm²')}: {both(self.missing_ml, 'mL')} missing, "
            f"{both(abs(gap), 'mL')} {side} than the wear asks for. Guard band "
            f"{both(guard_band(self.u_ml), 'mL')}. {found.verdict.capitalize()}: {MEANING[found.verdict]}"
        )

    def opening(self) -> str:
        return "A wide reservoir, or a poor look at the rule, widens the zones."

    def check(self, typed: str) -> None:
        """Reply to the typed level."""
        key = (self.which.value, self.front.value, self.rear.value, self.u.value)
        self.judge(typed, self._rule, key, "mm travel")

    def _rule(self, answer: float) -> Reply:
        level_u = float(self.u.value)
        telling = first_telling_mm(self.vehicle, self.wear, level_u)
        if telling is None:
            return Reply(
                False,
                "With these numbers no level proves a leak: the reservoir would be empty before. "
                "Choose less wear, or a smaller uncertainty.",
            )
        system = self.vehicle.hydraulics
        bare = first_telling_mm(self.vehicle, self.wear, 0.0)
        slips = {TOO_EARLY: bare if bare is not None else telling, AT_MIN: system.reservoir_min_mm}
        slips |= {ONE_HIGH: telling + 1, ONE_LOW: telling - 1}
        above = missing_ml(system, telling) - self.finding.expected_ml
        return number_reply(
            answer,
            telling,
            tidy(slips, telling, 0.5),
            unit="mm",
            tolerance=0.1,
            places=0,
            because=(
                f"At {both(telling, 'mm', 0)} the gap is {both(above, 'mL')}, and the "
                f"guard band is {both(guard_band(self.u_ml), 'mL')}."
            ),
            hint="Move the level one line at a time until the verdict changes to: suspect a leak.",
        )

    def _changed(self, *_: object) -> None:
        if self.telling.box.value:
            self.telling.clear()
            self.say(self.opening())
        self.refresh()
