"""The boiling-point curve: put water into the fluid, and see where it boils and how hot it gets."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicles import motor_pool
from brakecourse.published import value
from brakecourse.trade.fluid import boiling_minima_c, boiling_point_c, wet_water_percent
from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, NumberPair, dropdown, row
from brakecourse.views.drawings import curve_plot_svg
from brakecourse.views.fluid_samples import (
    LESSON,
    MIXING,
    RUNNING_SEED,
    curve,
    running,
    straight_c,
    water_tester,
    water_without_margin,
)
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

MOST_PERCENT = 6.0
_NEAR_PERCENT = 0.15
_POOL_SEED = RUNNING_SEED


@cache
def days() -> dict[str, float]:
    """Return how hot the fluid gets, in °C: each vehicle's on the long hill, and a measured descent."""
    truck = running()
    found = {f"{truck.vehicle.name}, long hill": truck.hottest_c}
    for one in motor_pool().values():
        if one != truck.vehicle:
            case = draw_vehicle(_POOL_SEED, 0, vehicle=one)
            found[f"{one.name}, long hill"] = float(round(case.condition.fluid.hottest_c))
    found["a very severe descent, as published"] = value("fluid_temp_descent_high").value
    return found


class BoilingCurve(Activity):
    """A grade's boiling point against its water, and the hottest fluid of a day.

    Args:
        name: a short name, one of its kind on the page.
    """

    title = "The boiling-point curve"
    task = (
        "Put water into the fluid and watch the ring. Then find how much water takes the whole margin away: "
        "type it, and press Check."
    )
    lesson = LESSON

    def __init__(self, name: str = "boiling-curve", **more: Any) -> None:
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.grade = dropdown("Grade", MIXING, "DOT 4")
        self.day = dropdown("Hottest fluid of", list(days()), next(iter(days())))
        self.water = NumberPair("Water in the fluid, in %", 0.0, 0.0, MOST_PERCENT, 0.1)
        for one in (self.grade, self.day):
            one.observe(self.changed, "value")
        self.water.on_change(self.refresh)
        return row(self.grade, self.day), self.water

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("No margin is left at, in %", self.check, unit="%")
        return (self.answer,)

    @property
    def hottest_c(self) -> float:
        """How hot the fluid gets."""
        return days()[self.day.value]

    @property
    def boils_c(self) -> float:
        """Where it boils with the water that is set."""
        return boiling_point_c(self.grade.value, self.water.value)

    def picture(self) -> str:
        grade = self.grade.value
        dry, wet = boiling_minima_c(grade)
        at = self.water.value
        marks = [(at, self.boils_c, "now")]
        marks += [
            (x, y, words)
            for x, y, words in ((0.0, dry, "dry limit"), (wet_water_percent(), wet, "wet limit"))
            if abs(x - at) > 0.55
        ]
        return curve_plot_svg(
            [(grade, curve(grade))],
            x_label="water in the fluid, %",
            y_label="boiling point, °C",
            uid=self.uid,
            title=self.title,
            limit=self.hottest_c,
            limit_words="hottest fluid",
            marks=marks,
        )

    def words(self) -> str:
        water = f"{number(self.water.value, 1)}\N{NO-BREAK SPACE}%"
        # To the degree, like the two temperatures beside it.
        margin = round(self.boils_c) - self.hottest_c
        boils = f"With {water} of water, fluid that just keeps {self.grade.value} boils at"
        return f"{boils} {both(round(self.boils_c), '°C')}. {margin_words(margin)}"

    def facts(self) -> Sequence[Sequence[str]]:
        dry, wet = boiling_minima_c(self.grade.value)
        return (
            ("Fact", "Value"),
            ("Dry limit of the grade", both(dry, "°C")),
            (f"Wet limit, at about {wet_water_percent():g} % of water", both(wet, "°C")),
            ("The hottest fluid", both(self.hottest_c, "°C")),
            ("The water tester may be off by", f"{number(water_tester().error_limit, 1)} % either way"),
        )

    def opening(self) -> str:
        return "Where does the curve fall fastest: in dry fluid, or in wet?"

    def changed(self, *_: object) -> None:
        """Show another grade or another day."""
        self.say(self.opening())
        self.refresh()

    def check(self, typed: str) -> None:
        """Reply to a typed water content."""
        if water_without_margin(self.grade.value, self.hottest_c) is None:
            if self.read(typed, "%") is not None:
                self.say(
                    f"Here a margin is left as far as the curve goes, to {MOST_PERCENT:.0f} % of water. "
                    "Choose a hotter day or a lower grade to try."
                )
            return
        self.judge(typed, self.rule, (self.grade.value, self.day.value), "%")

    def rule(self, answer: float) -> Reply:
        """Return the reply to a water content in %."""
        grade, hot = self.grade.value, self.hottest_c
        right = water_without_margin(grade, hot)
        if right is None:
            raise ValueError("A day on which the margin can be lost was expected.")
        dry = boiling_minima_c(grade)[0]
        line = (dry - hot) / (dry - straight_c(grade, 1.0))
        wrong = {
            "That is where a straight line would cross. The curve falls steeply first.": line,
            "That is the water of the wet limit. Look where the curve crosses the dashed line.": (
                wet_water_percent()
            ),
            "Dry fluid still has its whole margin.": 0.0,
        }
        return number_reply(
            answer,
            right,
            wrong,
            unit="%",
            tolerance=_NEAR_PERCENT,
            because=f"There the fluid boils at {both(hot, '°C')}, as hot as it gets. Vapour can form.",
            hint="Move the water until the ring lies on the dashed line.",
            places=1,
        )


def margin_words(margin_c: float) -> str:
    """Say what a margin means.

    >>> margin_words(-4).split(":")[0]
    'No margin'
    """
    size = both(abs(round(margin_c)), "°C rise")
    if abs(margin_c) < 0.5:
        return "It boils just where the hottest fluid gets to: no margin is left, and vapour can form."
    if margin_c < 0:
        return (
            f"No margin: it boils {size} below the hottest fluid. Vapour can form, and the pedal may sink "
            "without braking."
        )
    return f"The margin is {size}."
