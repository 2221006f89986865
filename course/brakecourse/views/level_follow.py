"""Let the pads wear, and see the piston follow them and the fluid follow the piston."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench import motor_pool
from brakecourse.bench.level_sums import piston_travel_mm, rotor_wear_mm, rule_of
from brakecourse.bench.specification import AxleBrake
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.fluid import level_drop_mm
from brakecourse.views.activity import Activity
from brakecourse.views.controls import AnswerBox, NumberPair, dropdown
from brakecourse.views.drawings import CaliperCut, caliper_follow_svg
from brakecourse.views.level_mistakes import LESSON, LEVEL_FALL, tidy, travel_mistakes
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both
from brakecourse.views.words import number

_CALIPERS: dict[str, tuple[str, str]] = {
    "meals-delivery van, front: floating": ("meals_delivery_van", "front"),
    "street-lighting platform truck, front: floating, two pistons": ("street_lighting_truck", "front"),
    "dog-warden's estate, rear: fixed": ("dog_wardens_estate", "rear"),
}
LEAST_WEAR_MM = 1.0
_MOST_WEAR_MM = 13.0


class PistonFollows(Activity):
    """Wear two pads down and watch piston, fluid and level; then say how far the piston has come out.

    Args:
        name: a short name, one of its kind on the page.
    """

    title = "The piston follows the pads"
    task = "Let the pads wear, and watch. Then work out how far each piston has come out, and press Check."
    lesson = LESSON

    def __init__(self, name: str = "piston-follows", **more: Any) -> None:
        super().__init__(name, **more)

    def controls(self) -> Sequence[widgets.Widget]:
        self.caliper = dropdown("Caliper", tuple(_CALIPERS), next(iter(_CALIPERS)))
        self.wear = NumberPair("Wear of each pad, in mm", 4.0, 0.0, _MOST_WEAR_MM, 0.1)
        self.caliper.observe(self._other_caliper, "value")
        self.wear.on_change(self.refresh)
        return self.caliper, self.wear

    def answers(self) -> Sequence[widgets.Widget]:
        self.travel = AnswerBox("Piston has come out, in mm", self.check, unit="mm wear")
        return (self.travel,)

    @property
    def vehicle(self) -> Vehicle:
        """Whose caliper it is."""
        return motor_pool()[_CALIPERS[self.caliper.value][0]]

    @property
    def brake(self) -> AxleBrake:
        """The brake of its axle."""
        return self.vehicle.front if _CALIPERS[self.caliper.value][1] == "front" else self.vehicle.rear

    @property
    def wear_mm(self) -> float:
        """Wear of each pad: never more than the lining may wear."""
        pad = self.brake.pad
        return min(float(self.wear.value), pad.lining_new_mm - pad.minimum_mm)

    @property
    def level_mm(self) -> float:
        """Level after both wheels of the axle have worn so far."""
        system = self.vehicle.hydraulics
        volume = 2 * self.brake.wear(self.wear_mm, rotor_wear_mm(self.wear_mm)).volume_ml
        return system.reservoir_max_mm - level_drop_mm(volume, system.reservoir_area_mm2)

    def picture(self) -> str:
        brake, system = self.brake, self.vehicle.hydraulics
        cut = CaliperCut(
            brake.caliper.kind,
            brake.caliper.piston_bore_mm,
            brake.pad.height_mm,
            brake.rotor.nominal_mm,
            brake.pad.lining_new_mm,
            self.wear_mm,
            rotor_wear_mm(self.wear_mm),
        )
        return caliper_follow_svg(
            cut,
            level_mm=self.level_mm,
            min_mm=system.reservoir_min_mm,
            max_mm=system.reservoir_max_mm,
            height_mm=rule_of(self.vehicle).scale.end,
            uid=self.uid,
        )

    def words(self) -> str:
        gone = self.vehicle.hydraulics.reservoir_max_mm - self.level_mm
        worn_out = self.wear_mm < float(self.wear.value)
        most = " That is as far as these pads may wear." if worn_out else ""
        return (
            f"At both wheels of this axle each pad has worn by {both(self.wear_mm, 'mm', 1)} "
            f"and each rotor by {both(rotor_wear_mm(self.wear_mm), 'mm', 1)}, both faces together. "
            f"The level has sunk by {both(gone, 'mm', 1)}.{most}"
        )

    def opening(self) -> str:
        return "No fluid has left the vehicle: what is gone from the reservoir stands behind the pistons."

    def check(self, typed: str) -> None:
        """Reply to the typed travel."""
        if self.wear_mm < LEAST_WEAR_MM:
            self.say(f"Let the pads wear by {both(LEAST_WEAR_MM, 'mm', 1)} or more first.")
            return
        self.judge(typed, self._rule, (self.caliper.value, self.wear_mm), "mm wear")

    def _rule(self, answer: float) -> Reply:
        worn, rotor = self.wear_mm, rotor_wear_mm(self.wear_mm)
        travel = piston_travel_mm(self.brake, worn, rotor)
        floating = self.brake.caliper.kind == "floating"
        sum_words = (
            f"{number(worn, 1)} + {number(worn, 1)} + {number(rotor, 1)}: both pads and both faces."
            if floating
            else f"{number(worn, 1)} + {number(rotor, 1)} ÷ 2: its own pad and its own face."
        )
        sunk = self.vehicle.hydraulics.reservoir_max_mm - self.level_mm
        slips = travel_mistakes(self.brake, worn, rotor) | {LEVEL_FALL: round(sunk, 1)}
        return number_reply(
            answer,
            travel,
            tidy(slips, travel, 0.06),
            unit="mm",
            tolerance=0.06,
            because=sum_words,
            hint=(
                "Add the wear of both pads and the rotor's."
                if floating
                else "Take the wear of one pad and half of the rotor's."
            ),
        )

    def _other_caliper(self, *_: object) -> None:
        self.travel.clear()
        self.say(self.opening())
        self.refresh()
