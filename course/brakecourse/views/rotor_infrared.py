"""Read a rotor's temperature where the thermometer can be trusted, and say whether to brake again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from brakecourse.bench.draw import Draw
from brakecourse.bench.reference import SPECIFIC_HEAT_J_KGK
from brakecourse.bench.shop_gauges import InfraredThermometer, infrared_thermometer
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.published import convert
from brakecourse.trade.burnish import rotor_share, stop_energy_j, temperature_rise_c
from brakecourse.trade.conformity import decide
from brakecourse.views.activity import Activity
from brakecourse.views.burnish_pedal import RUNNING
from brakecourse.views.burnish_plans import LIMIT_C
from brakecourse.views.controls import AnswerBox, button, choice, row, tick
from brakecourse.views.drawings import infrared_thermometer_svg
from brakecourse.views.drawings.infrared_thermometer import Target
from brakecourse.views.pedal_strokes import LESSON
from brakecourse.views.replies import Reply, number_reply
from brakecourse.views.units import both

CALIPER_SHARE = 0.3
"""Share of the rotor's heat above the air that the outside of the caliper has. Assumption, no source."""
AIR_C = 20.0
_TARGETS: dict[str, Target] = {
    "the bright face, where the pads rub": "rotor",
    "the dull hat": "hat",
    "the caliper": "caliper",
}
_READY, _WAIT = "brake again now", "drive on without braking first"
_MORE_MPH = (40, 20)  # the next braking
_NEAR_C = 5.0  # two settings on one spot, and the number read off


class RotorInfrared(Activity):
    """A hot brake, and a thermometer that can be aimed at three places.

    Args:
        name: a short name, one of its kind on the page.
        seed: fixes the brakes.
    """

    title = "Read the rotor's temperature"
    task = "Aim, read the display, and type the rotor's temperature. Then say whether to brake again."
    lesson = LESSON

    def __init__(self, name: str = "rotor-infrared", seed: int = 44, **more: Any) -> None:
        self.seed, self.number = seed, 0
        self.vehicle: Vehicle = motor_pool()[RUNNING]
        self._draw_case()
        super().__init__(name, **more)

    def _draw_case(self) -> None:
        draw = Draw(self.seed).child(f"brake {self.number}")
        if self.number:
            self.vehicle = draw.choice(list(motor_pool().values()))
        self.true_c = draw.between(190.0, 299.0)
        caliper_c = AIR_C + CALIPER_SHARE * (self.true_c - AIR_C)
        self.shown_c = {
            "rotor": _shown(infrared_thermometer("bright"), self.true_c, draw.child("face")),
            "hat": _shown(infrared_thermometer("painted"), self.true_c, draw.child("hat")),
            "caliper": _shown(infrared_thermometer("painted"), caliper_c, draw.child("caliper")),
        }

    @property
    def rise_c(self) -> float:
        """How much the next braking warms the rotor."""
        high, low = (convert(mph, "mph", "km/h") for mph in _MORE_MPH)
        joules = stop_energy_j(self.vehicle.mass_kg, high, low) * rotor_share(self.vehicle.front_share)
        return temperature_rise_c(joules, self.vehicle.front.rotor_mass_kg, SPECIFIC_HEAT_J_KGK)

    def controls(self) -> Sequence[widgets.Widget]:
        self.aim = choice("Aim at", list(_TARGETS), next(iter(_TARGETS)))
        self.fahrenheit = tick("The display shows °F", value=False)
        self.aim.observe(self.refresh, "value")
        self.fahrenheit.observe(self.refresh, "value")
        return (row(self.aim, self.fahrenheit),)

    def answers(self) -> Sequence[widgets.Widget]:
        self.answer = AnswerBox("Rotor, in °C", self.check, unit="°C")
        self.next = choice("I would", (_READY, _WAIT))
        return (
            self.answer,
            self.next,
            row(button("Check what I would do", self.check_choice), button("New brake", self.new_case)),
        )

    def picture(self) -> str:
        target = _TARGETS[self.aim.value]
        return infrared_thermometer_svg(
            self.shown_c[target],
            target=target,
            fahrenheit=self.fahrenheit.value,
            uid=self.uid,
            title=self.title,
        )

    def words(self) -> str:
        return f"The thermometer is aimed at {self.aim.value}. Do not touch: treat the brake as hot."

    def facts(self) -> Sequence[Sequence[str]]:
        return (
            ("Fact", "Value"),
            ("Vehicle", f"{self.vehicle.name}, {self.vehicle.fleet_number} (invented)"),
            ("The pad maker's limit", both(LIMIT_C, "°C")),
            ("Next braking", _next_words()),
            ("It warms the rotor by", both(self.rise_c, "°C rise")),
        )

    def opening(self) -> str:
        return "Which of the three places tells the rotor's temperature?"

    def check(self, typed: str) -> None:
        """Reply to a typed temperature."""
        self.judge(typed, self.rule, ("read", self.number), "°C")

    def rule(self, answer: float) -> Reply:
        """Return the reply to a temperature in °C."""
        hat = self.shown_c["hat"]
        return number_reply(
            answer,
            hat,
            {
                "That was read on the bright face. It mirrors cool surroundings and looks far too cold.": (
                    self.shown_c["rotor"]
                ),
                "That is the caliper. It stays cooler than the rotor.": self.shown_c["caliper"],
                "That number is in degrees Fahrenheit. Set the display to °C, or type °F after it.": round(
                    convert(hat, "degC", "degF")
                ),
            },
            unit="°C",
            tolerance=_NEAR_C,
            because="The dull hat sends out nearly all its heat rays, so there the display can be trusted.",
            hint="Aim at the dull hat and read the display.",
        )

    def check_choice(self) -> None:
        """Reply to what the learner would do."""
        if self.next.value is None:
            self.say("Nothing is chosen yet: choose what you would do, then press Check what I would do.")
            return
        after_c = self.shown_c["hat"] + self.rise_c
        u_c = infrared_thermometer("painted").standard_uncertainty_at(self.shown_c["hat"])
        verdict = decide(after_c, LIMIT_C, "maximum", u_c).verdict
        right = (self.next.value == _READY) is (verdict == "within")
        told = self.count(("decide", self.number, self.next.value), right=right)
        sums = (
            f"{self.shown_c['hat']:.0f} + {self.rise_c:.0f} = {both(after_c, '°C')}; "
            f"the limit is {both(LIMIT_C, '°C')}."
        )
        why = {
            "within": "It keeps the limit, and the thermometer is good enough to say so.",
            "outside": "It would pass the limit, so let it cool first.",
            "too close to call": "That is too close to call with this thermometer, so let it cool first.",
        }[verdict]
        self.say(f"{'Right' if right else 'Not yet'}. {sums} {why}", told)

    def new_case(self) -> None:
        """Take another brake."""
        self.number += 1
        self._draw_case()
        self.answer.clear()
        self.next.value = None
        self.aim.index = 0
        self.fahrenheit.value = False
        self.say(self.opening())
        self.refresh()


def _next_words() -> str:
    high, low = _MORE_MPH
    return (
        f"from {high} to {low} mph "
        f"({convert(high, 'mph', 'km/h'):.0f} to {convert(low, 'mph', 'km/h'):.0f} km/h)"
    )


def _shown(gauge: InfraredThermometer, true_c: float, draw: Draw) -> float:
    return gauge.reading(gauge.indicate(true_c, draw))
