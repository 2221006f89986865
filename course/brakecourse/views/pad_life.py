"""The life calculator: wear so far, drawn on to the minimum, with the interval that the gauge leaves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.length_gauges import depth_gauge
from brakecourse.trade.pads import RemainingDistance, remaining_km, wear_rate_mm_per_1000km
from brakecourse.views.activity import Activity
from brakecourse.views.controls import NumberPair
from brakecourse.views.drawings import curve_plot_svg
from brakecourse.views.pad_replies import interval_words
from brakecourse.views.words import mm, number

_FARTHEST = 3.0  # an interval that reaches farther than so many likely distances is cut off in the drawing


class LifeCalculator(Activity):
    """Move what was measured and what the gauge is worth, and see how far the lining still goes.

    Args:
        name: a short name, one of its kind on the page.
        new_mm, now_mm, minimum_mm, distance_km: what the controls begin with.
    """

    title = "The life calculator"
    task = "Set the four numbers of your pads. Then see what a better or a worse gauge does to the promise."
    lesson = "07_pad_wear"

    def __init__(
        self,
        name: str = "life-calculator",
        new_mm: float = 12.0,
        now_mm: float = 6.5,
        minimum_mm: float = 3.0,
        distance_km: int = 30_000,
        **more: Any,
    ) -> None:
        self._begin = (new_mm, now_mm, minimum_mm, distance_km)
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        new, now, least, distance = self._begin
        self.new = NumberPair("Lining when new, in mm", new, 8.0, 20.0, 0.5)
        self.now = NumberPair("Thinnest corner now, in mm", now, 0.5, 18.0, 0.1)
        self.least = NumberPair("Least lining, in mm", least, 1.0, 6.0, 0.5)
        self.distance = NumberPair("Distance so far, in km", distance, 1000, 120_000, 500)
        u = round(depth_gauge().standard_uncertainty, 2)
        self.u = NumberPair("Standard uncertainty, in mm", u, 0.01, 0.5, 0.01)
        pairs = (self.new, self.now, self.least, self.distance, self.u)
        for pair in pairs:
            pair.on_change(self.refresh)
        return pairs

    @property
    def measured(self) -> tuple[float, float, float, float, float]:
        """New, now, minimum (mm), distance so far (km), uncertainty (mm); held where they make sense."""
        new = float(self.new.value)
        return (
            new,
            min(float(self.now.value), new - 0.1),
            min(float(self.least.value), new - 0.5),
            float(self.distance.value),
            float(self.u.value),
        )

    @property
    def life(self) -> RemainingDistance:
        """How far the lining still goes."""
        return remaining_km(*self.measured)

    def picture(self) -> str:
        new, now, least, distance, _ = self.measured
        life = self.life
        distance /= 1000
        worn_by = [(0.0, new), (distance, now)]
        series = [("measured so far", worn_by)]
        if life.likely_km > 0:
            series.append(("likely", [(distance, now), (distance + life.likely_km / 1000, least)]))
            farthest = min(life.high_km, _FARTHEST * life.likely_km)
            end = now - (now - least) * (farthest / life.high_km if math.isfinite(life.high_km) else 0.5)
            series.append(("at the longest", [(distance, now), (distance + farthest / 1000, end)]))
            if life.low_km > 0:
                series.append(("at the shortest", [(distance, now), (distance + life.low_km / 1000, least)]))
        return curve_plot_svg(
            series,
            x_label="distance, 1000 km",
            y_label="lining, mm",
            uid=self.uid,
            title="Lining against distance",
            limit=least,
            limit_words="least lining",
        )

    def words(self) -> str:
        new, now, least, distance, _ = self.measured
        rate = wear_rate_mm_per_1000km(new, now, distance)
        left = now - least
        if left <= 0:
            return (
                f"The thinnest corner, {mm(now, 1)}, is at its minimum or below: nothing is left. "
                "Both wheels of the axle get new pads."
            )
        return (
            f"Wear: {number(rate, 3)} mm for each 1000 km. Left: {mm(left, 1)}. {interval_words(self.life)} "
            "It holds if the driving stays the same."
        )

    def opening(self) -> str:
        return "The interval holds the true distance 95 times in 100. Promise the customer its short end."
