"""The infrared thermometer, and why a bright face fools it.

It catches heat rays and works out the temperature for a surface that sends out nearly all it could. A
bright swept face sends out little and mirrors its cool surroundings, so it looks far too cold. A cold
reading is no licence to touch: treat a brake that has been driven as hot.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, get_args

from brakecourse.bench.checks import number
from brakecourse.bench.other_units import fahrenheit_from_celsius
from brakecourse.bench.scale import Scale
from brakecourse.bench.shop_gauge_base import ShopGauge

Surface = Literal["painted", "rusty", "bright"]

# How much of the full radiation a surface sends out. Assumption, no source.
EMISSIVITY: dict[Surface, float] = {"painted": 0.95, "rusty": 0.80, "bright": 0.30}
# What the thermometer reckons with. Assumption, no source.
SET_EMISSIVITY = 0.95
SURROUNDINGS_C = 20.0
KELVIN_AT_ZERO_C = 273.15  # exact by definition

START_C, END_C = -20.0, 600.0
# Error limit: so many °C and so large a share of the reading on top. Assumption, no source.
LIMIT_C = 2.0
LIMIT_SHARE = 0.01
REPEATABILITY_C = 1.0


@dataclass(frozen=True, kw_only=True)
class InfraredThermometer(ShopGauge):
    """An infrared thermometer aimed at one surface.

    Its stated uncertainty holds for a surface as the thermometer reckons with. What another surface does is
    no matter of chance: it is a bias, always the same way, which only a dull spot or a correction removes.

    ``fahrenheit_for_celsius``: the display switched to °F, and its number taken for °C.

    Args:
        set_emissivity: share of the full radiation that it reckons with, 0.05 to 1.
        surface_emissivity: share that the surface really sends out, 0.05 to 1.
        surroundings_c: temperature of what the surface mirrors, °C.
    """

    set_emissivity: float = SET_EMISSIVITY
    surface_emissivity: float = SET_EMISSIVITY
    surroundings_c: float = SURROUNDINGS_C

    def __post_init__(self) -> None:
        super().__post_init__()
        number("set_emissivity", self.set_emissivity, low=0.05, high=1)
        number("surface_emissivity", self.surface_emissivity, low=0.05, high=1)
        number("surroundings_c", self.surroundings_c, low=-60, high=80)

    def aimed_at(self, surface: Surface) -> InfraredThermometer:
        """Return the thermometer aimed at a painted, a rusty or a bright surface.

        Raises:
            ValueError: no such surface.
        """
        if surface not in get_args(Surface):
            raise ValueError(f"surface must be painted, rusty or bright, but it was {surface!r}.")
        return replace(self, surface_emissivity=EMISSIVITY[surface])

    def apparent_c(self, true_c: float) -> float:
        """Return the temperature that the surface seems to have, in °C, without the gauge's own error.

        Source: radiation law of Stefan and Boltzmann with mirrored surroundings (textbook); a real
        thermometer sees a part of the rays only, for which the law is a simplification.

        >>> round(infrared_thermometer().aimed_at("bright").apparent_c(200.0))
        107
        """
        return self._seen(true_c, self.surface_emissivity, self.set_emissivity)

    def corrected_c(self, shown_c: float) -> float:
        """Return the true temperature behind a shown one, in °C, when the surface's emissivity is known.

        Raises:
            ValueError: the surface cannot look that cold.

        >>> bright = infrared_thermometer().aimed_at("bright")
        >>> round(bright.corrected_c(bright.apparent_c(200.0)), 6)
        200.0
        """
        return self._seen(shown_c, self.set_emissivity, self.surface_emissivity)

    def _shown(self, true: float) -> float:
        return super()._shown(self.apparent_c(true))

    def _mistakes(self, indication: float, correct: float) -> dict[str, float]:
        return {"fahrenheit_for_celsius": float(round(fahrenheit_from_celsius(indication)))}

    def _seen(self, from_c: float, sends: float, reckons: float) -> float:
        """Return the °C at which a surface of one emissivity sends as much as another at ``from_c``."""
        seen = number("temperature in °C", from_c, low=-KELVIN_AT_ZERO_C) + KELVIN_AT_ZERO_C
        mirrored = (self.surroundings_c + KELVIN_AT_ZERO_C) ** 4
        fourth = (sends * seen**4 + (reckons - sends) * mirrored) / reckons
        if fourth < 0:
            raise ValueError(f"temperature in °C must be one the surface can show, but it was {from_c:g}.")
        return float(fourth**0.25) - KELVIN_AT_ZERO_C


def infrared_thermometer(surface: Surface = "painted", calibration_share: float = 0.0) -> InfraredThermometer:
    """Return the infrared thermometer: a display in whole °C, which can be switched to °F.

    Args:
        surface: what it is aimed at: painted, rusty or bright.
        calibration_share: how much of its error limit it really errs, -1 to 1.

    >>> infrared_thermometer().misreadings(120.2)
    {'fahrenheit_for_celsius': 248.0}
    """
    return InfraredThermometer(
        name="infrared thermometer",
        scale=Scale("°C", START_C, END_C, 1.0, 1.0, look="digits"),
        error_limit=LIMIT_C,
        error_share=LIMIT_SHARE,
        repeatability=REPEATABILITY_C,
        calibration_share=calibration_share,
        other_scale=Scale(
            "°F", fahrenheit_from_celsius(START_C), fahrenheit_from_celsius(END_C), 1.0, 1.0, look="digits"
        ),
    ).aimed_at(surface)
