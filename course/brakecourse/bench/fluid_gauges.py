"""The shop's gauges for brake fluid: moisture tester, boiling-point tester, pressure gauge.

Moisture and boiling-point readings say something about the drop of fluid that was tested, no more. A
pressure gauge goes on only with the pedal released, and fluid under pressure hurts: eye protection on.
"""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.other_units import fahrenheit_from_celsius, psi_from_mpa
from brakecourse.bench.scale import Scale, ring
from brakecourse.bench.shop_gauge_base import ShopGauge

# The moisture tester has a needle over lines a tenth of a percent apart. All assumption, no source.
MOISTURE_STEP_PERCENT = 0.1
MOISTURE_END_PERCENT = 4.0
MOISTURE_LIMIT_PERCENT = 0.5
MOISTURE_REPEATABILITY_PERCENT = 0.1
# Fluid may hold more water than the last line says.
MOST_WATER_PERCENT = 20.0

# The boiling-point tester heats a sample and shows when it bubbles. All assumption, no source.
BOILING_START_C, BOILING_END_C = 100.0, 320.0
BOILING_LIMIT_C = 3.0
BOILING_REPEATABILITY_C = 1.5

# Pressure gauges by their largest pressure: distance of two lines and of two numbers. Assumption, no source.
PRESSURE_LINES_MPA = {1.6: (0.02, 0.2), 16.0: (0.2, 2.0), 25.0: (0.5, 5.0)}
# Error limit and repeatability as shares of the largest pressure. Assumption, no source.
PRESSURE_LIMIT_SHARE = 0.016
PRESSURE_REPEATABILITY_SHARE = 0.004
# Numbers printed on the psi ring stand for hundreds, on a small gauge for tens.
PSI_NUMERAL = {1.6: 10.0, 16.0: 100.0, 25.0: 100.0}


class MoistureTester(ShopGauge):
    """A tester that dips into the fluid; its needle shows percent of water by mass.

    ``marks_counted``: the lines from 0 to the needle counted, and their number taken for percent.
    """

    def _mistakes(self, indication: float, correct: float) -> dict[str, float]:
        return {"marks_counted": float(round(correct / self.scale.line))}


class BoilingTester(ShopGauge):
    """A tester that boils a sample of the fluid and shows the temperature at which it bubbles.

    ``fahrenheit_for_celsius``: the display switched to °F, and its number taken for °C.
    """

    def _mistakes(self, indication: float, correct: float) -> dict[str, float]:
        return {"fahrenheit_for_celsius": float(round(fahrenheit_from_celsius(indication)))}


@dataclass(frozen=True, kw_only=True)
class PressureGauge(ShopGauge):
    """A pressure gauge with two rings: MPa outside, psi inside.

    ``psi_for_mpa``: the pressure in psi taken for MPa.
    ``wrong_ring``: the number as it is printed on the psi ring taken for MPa.

    Args:
        psi: the inner ring.
    """

    psi: Scale

    def _mistakes(self, indication: float, correct: float) -> dict[str, float]:
        shown = self.psi.nearest(psi_from_mpa(indication))
        return {"psi_for_mpa": shown, "wrong_ring": round(shown / self.psi.numeral, 9)}


def moisture_tester(calibration_share: float = 0.0) -> MoistureTester:
    """Return the moisture tester: a needle over lines from 0 to 4 percent, a tenth of a percent apart.

    >>> moisture_tester().reading(2.63), moisture_tester().misreadings(2.63)
    (2.6, {'marks_counted': 26.0})
    """
    return MoistureTester(
        name="moisture tester",
        scale=Scale("%", 0.0, MOISTURE_END_PERCENT, MOISTURE_STEP_PERCENT, 1.0),
        error_limit=MOISTURE_LIMIT_PERCENT,
        repeatability=MOISTURE_REPEATABILITY_PERCENT,
        calibration_share=calibration_share,
        most_true=MOST_WATER_PERCENT,
    )


def boiling_tester(calibration_share: float = 0.0) -> BoilingTester:
    """Return the boiling-point tester: a display in whole °C, which can be switched to °F.

    >>> boiling_tester().misreadings(180.2)
    {'fahrenheit_for_celsius': 356.0}
    """
    start, end = fahrenheit_from_celsius(BOILING_START_C), fahrenheit_from_celsius(BOILING_END_C)
    return BoilingTester(
        name="boiling-point tester",
        scale=Scale("°C", BOILING_START_C, BOILING_END_C, 1.0, 1.0, look="digits"),
        error_limit=BOILING_LIMIT_C,
        repeatability=BOILING_REPEATABILITY_C,
        calibration_share=calibration_share,
        other_scale=Scale("°F", start, end, 1.0, 1.0, look="digits"),
    )


def pressure_gauge(largest_mpa: float = 16.0, calibration_share: float = 0.0) -> PressureGauge:
    """Return a pressure gauge.

    Args:
        largest_mpa: 1.6 (for the pressure that stays after braking), 16 or 25 (for braking).
        calibration_share: how much of its error limit it really errs, -1 to 1.

    Raises:
        ValueError: the shop has no such gauge.

    >>> pressure_gauge().misreadings(8.57)
    {'line_step': 8.3, 'psi_for_mpa': 1250.0, 'wrong_ring': 12.5}
    """
    if isinstance(largest_mpa, bool) or largest_mpa not in PRESSURE_LINES_MPA:
        known = ", ".join(f"{one:g}" for one in PRESSURE_LINES_MPA)
        raise ValueError(f"largest_mpa must be one of {known}, but it was {largest_mpa!r}.")
    largest = float(largest_mpa)
    line, numbered = PRESSURE_LINES_MPA[largest]
    scale = Scale("MPa", 0.0, largest, line, numbered)
    psi = ring(scale, "psi", psi_from_mpa, PSI_NUMERAL[largest])
    return PressureGauge(
        name=f"pressure gauge, 0–{largest:g} MPa",
        scale=scale,
        error_limit=round(PRESSURE_LIMIT_SHARE * largest, 9),
        repeatability=round(PRESSURE_REPEATABILITY_SHARE * largest, 9),
        calibration_share=calibration_share,
        other_scale=psi,
        psi=psi,
    )
