"""What the shop's other gauges have in common: a scale, an error limit and a hand's chance.

The numbers of a gauge are in the unit of its scale: an indication of a pressure gauge is in MPa.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass

from brakecourse.bench.checks import number
from brakecourse.bench.draw import Draw
from brakecourse.bench.gauge_base import settle
from brakecourse.bench.scale import Scale
from brakecourse.trade.conformity import combine, rectangular

ASSUMPTION = "assumption, no source"


@dataclass(frozen=True, kw_only=True)
class ShopGauge(ABC):
    """A gauge with a scale in any unit.

    The error limit at a value is ``error_limit + error_share * value``.

    Args:
        name: what the shop calls it.
        scale: its lines.
        error_limit: how far its scale may err, either way, whatever the value.
        error_share: how far it may err on top, as a share of the value, 0 up to 1.
        error_source: where the limit comes from.
        repeatability: standard deviation of settings on the same spot.
        repeatability_source: where that comes from.
        calibration_share: how much of its error limit this one really errs, -1 to 1.
        other_scale: its second ring in another unit, when it has one.
        most_true: largest true value it may meet, where that is beyond the end of the scale.

    Raises:
        ValueError: a wrong sign, not a number, or an error beyond the limit.
    """

    name: str
    scale: Scale
    error_limit: float
    error_share: float = 0.0
    error_source: str = ASSUMPTION
    repeatability: float
    repeatability_source: str = ASSUMPTION
    calibration_share: float = 0.0
    other_scale: Scale | None = None
    most_true: float | None = None

    def __post_init__(self) -> None:
        span = self.scale.end - self.scale.start
        number("error_limit", self.error_limit, low=0, high=span)
        number("error_share", self.error_share, low=0, high=1)
        number("repeatability", self.repeatability, low=0, high=span)
        number("calibration_share", self.calibration_share, low=-1, high=1)
        if self.most_true is not None:
            number("most_true", self.most_true, low=self.scale.end)

    @property
    def unit(self) -> str:
        """Unit of every indication and reading."""
        return self.scale.unit

    def error_limit_at(self, value: float) -> float:
        """Return how far the scale may err at a value, either way."""
        return self.error_limit + self.error_share * abs(number(self._quantity("value"), value))

    def shown(self, true: float) -> float:
        """Return what the gauge would show if every setting came out the same.

        Raises:
            ValueError: the true value is not a number, or is beyond what the gauge may meet.
        """
        return self.scale.held(self._shown(self._true(true)))

    def indicate(self, true: float, draw: Draw) -> float:
        """Return one indication: the scale's error and one setting's chance included.

        At an end of the scale the pointer rests on its stop.

        Args:
            true: the true value.
            draw: where the chance comes from.

        Raises:
            ValueError: as ``shown``.
        """
        return self.scale.held(self._shown(self._true(true)) + draw.normal(0.0, self.repeatability))

    def indicate_clear(self, true: float, draw: Draw) -> float:
        """Return an indication that stands clear of the middle between two lines.

        Raises:
            ValueError: as ``shown``; or the gauge repeats too well ever to leave the middle.
        """
        return settle(self, true, draw)

    def is_clear(self, indication: float) -> bool:
        """Tell whether an indication stands a fifth of a line or more from the middle of two lines."""
        return self.scale.is_clear(number(self._quantity("indication"), indication))

    def reading(self, indication: float) -> float:
        """Return the nearest line of the scale.

        Raises:
            ValueError: the indication is not a number.
        """
        return self.scale.nearest(number(self._quantity("indication"), indication))

    @property
    def nearest_line_u(self) -> float:
        """Standard uncertainty that reading to the nearest line leaves."""
        return rectangular(self.scale.line / 2)

    @property
    def standard_uncertainty(self) -> float:
        """Standard uncertainty of one reading anywhere on the scale: that of the worst place."""
        return max(map(self.standard_uncertainty_at, (self.scale.start, self.scale.end)))

    def standard_uncertainty_at(self, value: float) -> float:
        """Return the standard uncertainty of one reading near a value: scale, setting and nearest line.

        Source: rectangular and combined uncertainties after JCGM 100 (`trade.conformity`).
        """
        return combine(rectangular(self.error_limit_at(value)), self.repeatability, self.nearest_line_u)

    def difference_uncertainty(self, first: float, second: float) -> float:
        """Return the standard uncertainty of the difference of two readings with this gauge.

        The fixed part of the scale's error is the same in both and cancels. Of the part that grows with
        the value only the difference is left. Setting and nearest line come in twice.
        """
        gap = abs(self.error_limit_at(first) - self.error_limit_at(second))
        return combine(rectangular(gap), math.sqrt(2) * combine(self.repeatability, self.nearest_line_u))

    def misreadings(self, indication: float) -> dict[str, float]:
        """Return what each usual mistake makes of an indication, by the mistake's id.

        A mistake that ends less than a line from the right reading is left out: nobody could tell it.

        Source: common practice, no source.
        """
        correct = self.reading(indication)
        found = {"line_step": self._small_steps(correct), **self._mistakes(indication, correct)}
        least = self.scale.line - 1e-9
        return {mistake: value for mistake, value in found.items() if abs(value - correct) >= least}

    def likely_misreadings(self, indication: float) -> dict[str, float]:
        """Return the misreadings that a person with that habit falls for at this indication."""
        return self.misreadings(indication)

    def near_miss(self, indication: float) -> float | None:
        """Return what a slip of the eye easily makes of this very indication, or None."""
        self.reading(indication)
        return None

    def slipped(self, reading: float, lines: int) -> float:
        """Return a reading some lines off: off the other way at an end, and never off the scale."""
        shift = lines * self.scale.line
        ends = sorted((self.scale.start, self.scale.end), key=lambda end: -abs(end - reading))
        fits = next(filter(self.scale.holds, (reading + shift, reading - shift)), ends[0])
        return round(fits, 9) + 0.0

    def _shown(self, true: float) -> float:
        return true + self.calibration_share * self.error_limit_at(true)

    @abstractmethod
    def _mistakes(self, indication: float, correct: float) -> dict[str, float]:
        """Return what this gauge's own mistakes make of an indication."""

    def _small_steps(self, correct: float) -> float:
        """Return a reading whose lines past the number were each taken for 1, 0.1 or 0.01."""
        if self.scale.look != "lines":
            return correct
        base, lines = self.scale.below(correct)
        return round(base + lines * 10.0 ** math.floor(math.log10(self.scale.line) + 1e-9), 9)

    def _true(self, true: float) -> float:
        most = self.scale.end if self.most_true is None else self.most_true
        return number(self._quantity("true value"), true, low=self.scale.start, high=most)

    def _quantity(self, what: str) -> str:
        return f"the {what} of the {self.name} in {self.scale.unit}"
