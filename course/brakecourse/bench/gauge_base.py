"""What every gauge has in common: an indication, a reading, and how sure it is.

A gauge shows an *indication*, which is continuous: the needle or the thimble may stand between
two lines. The *reading* is the nearest line. Half-way between two lines nobody can say which is
nearer, so the bench sets a gauge again until it stands clear of the middle.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import Protocol

from brakecourse.bench.checks import number
from brakecourse.bench.draw import Draw
from brakecourse.bench.scale import Scale, from_middle, nearest_line
from brakecourse.trade.conformity import combine, rectangular

CLEAR_OF_MIDPOINT_MM = 0.002
_MOST_SETTINGS = 1000


class Readable(Protocol):
    """Any gauge that can be set and read, in the unit of its scale."""

    @property
    def name(self) -> str:
        """What the shop calls it."""

    @property
    def scale(self) -> Scale:
        """Its lines, for whoever draws or reads it."""

    def indicate(self, true: float, draw: Draw, /) -> float:
        """Return one indication."""

    def indicate_clear(self, true: float, draw: Draw, /) -> float:
        """Return an indication clear of the middle between two lines."""

    def is_clear(self, indication: float, /) -> bool:
        """Tell whether an indication is clear of the middle between two lines."""

    def reading(self, indication: float, /) -> float:
        """Return the nearest line."""

    def standard_uncertainty_at(self, value: float, /) -> float:
        """Return the standard uncertainty of one reading near a value."""

    def misreadings(self, indication: float, /) -> dict[str, float]:
        """Return what each usual mistake makes of an indication, by the mistake's id."""

    def likely_misreadings(self, indication: float, /) -> dict[str, float]:
        """Return the misreadings that a person with that habit falls for at this indication."""

    def near_miss(self, indication: float, /) -> float | None:
        """Return what a slip of the eye easily makes of this very indication, or None."""

    def slipped(self, reading: float, lines: int, /) -> float:
        """Return a reading some lines off."""


def settle(gauge: Readable, true: float, draw: Draw) -> float:
    """Set a gauge again until it stands clear of the middle between two lines, and return the indication.

    Raises:
        ValueError: the true value is not the gauge's, or the gauge repeats too well ever to leave the middle.
    """
    for _ in range(_MOST_SETTINGS):
        indication = gauge.indicate(true, draw)
        if gauge.is_clear(indication):
            return indication
    raise ValueError(
        f"The {gauge.name} should settle clear of the middle between two lines, but at {true!r} "
        f"{gauge.scale.unit} it never did in {_MOST_SETTINGS} settings; move to another spot."
    )


@dataclass(frozen=True)
class Gauge(ABC):
    """A gauge with a scale of lines.

    Args:
        name: what the shop calls it.
        resolution_mm: distance between two lines.
        error_limit_mm: how far its scale may err, either way.
        repeatability_mm: standard deviation of settings on the same spot.
        calibration_error_mm: how far this one really errs; within the limit.

    Raises:
        ValueError: a wrong sign, not a number, or an error beyond the limit.
    """

    name: str
    resolution_mm: float
    error_limit_mm: float
    repeatability_mm: float
    calibration_error_mm: float = 0.0

    def __post_init__(self) -> None:
        if number("resolution_mm", self.resolution_mm, low=0, high=1) == 0:
            raise ValueError("resolution_mm must be above 0, but 0 was given.")
        limit = number("error_limit_mm", self.error_limit_mm, low=0, high=1)
        number("repeatability_mm", self.repeatability_mm, low=0, high=1)
        number("calibration_error_mm", self.calibration_error_mm, low=-limit, high=limit)

    @property
    @abstractmethod
    def scale(self) -> Scale:
        """Its lines, for whoever draws or reads it."""

    @abstractmethod
    def misreadings(self, indication_mm: float) -> dict[str, float]:
        """Return what each usual mistake makes of an indication, in mm, by the mistake's id."""

    @abstractmethod
    def likely_misreadings(self, indication_mm: float) -> dict[str, float]:
        """Return the misreadings that a person with that habit falls for here, in mm."""

    @abstractmethod
    def near_miss(self, indication_mm: float) -> float | None:
        """Return what a slip of the eye easily makes of this very indication, in mm, or None."""

    @abstractmethod
    def shown_mm(self, true_mm: float) -> float:
        """Return what the gauge would show if every setting came out the same, in mm."""

    def indicate(self, true_mm: float, draw: Draw) -> float:
        """Return one indication in mm: the scale's error and one setting's chance included.

        Args:
            true_mm: the true value.
            draw: where the chance comes from.

        Raises:
            ValueError: the true value is not a number or out of the gauge's range.
        """
        return self.shown_mm(true_mm) + draw.normal(0.0, self.repeatability_mm)

    def indicate_clear(self, true_mm: float, draw: Draw) -> float:
        """Return an indication that stands clear of the middle between two lines.

        The gauge is set again until it does, as a person does who cannot say which line is nearer.

        Raises:
            ValueError: as ``indicate``; or the gauge repeats too well ever to leave the middle.
        """
        return settle(self, true_mm, draw)

    def is_clear(self, indication_mm: float) -> bool:
        """Tell whether an indication stands at least 0.002 mm from the middle between two lines.

        With lines of 0.01 mm, 9.123 mm is clear and 9.124 mm is not.
        """
        shown_mm = number("indication_mm", indication_mm)
        # A billionth of a millimetre is let pass: it is only the last digit of the arithmetic.
        return from_middle(shown_mm, self.resolution_mm) >= CLEAR_OF_MIDPOINT_MM - 1e-9

    def reading(self, indication_mm: float) -> float:
        """Return the nearest line, in mm: 9.1228 mm is read as 9.12 mm.

        Raises:
            ValueError: the indication is not a number.
        """
        return nearest_line(number("indication_mm", indication_mm), self.resolution_mm)

    def slipped(self, reading_mm: float, lines: int) -> float:
        """Return a reading some lines off, in mm."""
        return round(reading_mm + lines * self.resolution_mm, 9) + 0.0

    def standard_uncertainty_at(self, value_mm: float) -> float:
        """Return the standard uncertainty of one reading, in mm: the same at every value."""
        number("value_mm", value_mm)
        return self.standard_uncertainty_mm

    @property
    def standard_uncertainty_mm(self) -> float:
        """Standard uncertainty of one reading, in mm: scale, setting and nearest line.

        Source: rectangular and combined uncertainties after JCGM 100 (`trade.conformity`).
        """
        return combine(rectangular(self.error_limit_mm), self.repeatability_mm, self.nearest_line_u_mm)

    @property
    def nearest_line_u_mm(self) -> float:
        """Standard uncertainty that reading to the nearest line leaves, in mm."""
        return rectangular(self.resolution_mm / 2)
