"""The gauges of the bench: what they show, how sure it is, and how it is misread."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.bench.checks import number
from brakecourse.bench.gauge_base import CLEAR_OF_MIDPOINT_MM, Gauge
from brakecourse.bench.scale import Scale
from brakecourse.trade.conformity import combine, rectangular

__all__ = [
    "CLEAR_OF_MIDPOINT_MM",
    "GRADUATION_MM",
    "SLEEVE_LINE_MM",
    "DialIndicator",
    "Gauge",
    "Micrometer",
    "boxed_micrometer",
    "dial_indicator",
    "shop_micrometer",
]

GRADUATION_MM = 0.01
SLEEVE_LINE_MM = 0.5
NEAR_THIMBLE_ZERO_MM = 0.03

# Error limit of a new micrometer, by the lower end of its range. Source: ISO 3611:1978, 4 + L/50 in
# micrometres (row mic_mpe_iso_old_0_25, how known: memory); the half micrometre at L = 25 is rounded up.
NEW_MICROMETER_LIMIT_MM = {0: 0.004, 25: 0.005}
# The motor pool lets a micrometer in daily use err three times as far as a new one. Assumption, no source.
SHOP_LIMIT_FACTOR = 3.0
# Standard deviation of a micrometer set again at one place by a practised hand. Assumption, no source.
MICROMETER_REPEATABILITY_MM = 0.002

# Error over any tenth of a turn. Source: JIS B 7503:2011 extract (row dial_jis_10mm_tenth_rev, how known:
# read).
DIAL_TENTH_TURN_LIMIT_MM = 0.005
# Half of the repeatability limit of the same table (row dial_jis_10mm_repeat, how known: read): the limit
# is taken for two standard deviations, which is an assumption.
DIAL_REPEATABILITY_MM = 0.0015
# The error of the dial's gear train comes round again after this travel. Assumption, no source.
DIAL_ERROR_PERIOD_MM = 0.2
DIAL_TRAVEL_MM = 5.0


@dataclass(frozen=True)
class Micrometer(Gauge):
    """An outside micrometer with a 0.5 mm thread and fifty lines round the thimble.

    Args:
        low_mm, high_mm: lower and upper end of its range; the rest as for every gauge.
    """

    low_mm: float = 0.0
    high_mm: float = 25.0

    def __post_init__(self) -> None:
        super().__post_init__()
        low = number("low_mm", self.low_mm, low=0)
        number("high_mm", self.high_mm, low=low + 1)

    @property
    def scale(self) -> Scale:
        """Its lines on sleeve and thimble together; a number stands at each whole millimetre."""
        return Scale("mm", self.low_mm, self.high_mm, self.resolution_mm, 1.0)

    def shown_mm(self, true_mm: float) -> float:
        """Return the thickness with the scale's error, which is the same over the whole range, in mm."""
        return number("true_mm", true_mm, low=self.low_mm, high=self.high_mm) + self.calibration_error_mm

    @property
    def difference_uncertainty_mm(self) -> float:
        """Standard uncertainty of the difference of two readings, in mm.

        The scale's error is the same in both and cancels; setting and nearest line come in twice.
        """
        return math.sqrt(2) * combine(self.repeatability_mm, self.nearest_line_u_mm)

    def parts(self, indication_mm: float) -> tuple[int, bool, int]:
        """Return whole millimetres, whether the half-millimetre line shows, and the thimble's line.

        >>> boxed_micrometer(0).parts(22.87)
        (22, True, 37)
        """
        lines = round(self.reading(indication_mm) / self.resolution_mm)
        per_half = round(SLEEVE_LINE_MM / self.resolution_mm)
        halves, thimble = divmod(lines, per_half)
        return halves // 2, halves % 2 == 1, thimble

    def misreadings(self, indication_mm: float) -> dict[str, float]:
        """Return what each usual mistake makes of an indication, in mm, by the mistake's id.

        ``half_millimetre_line``: a sleeve line miscounted, so half a millimetre out. Which way depends
        on what the eye meets: just past a line (thimble at 0 to 3) the line looks not yet there, so
        0.5 less; just before a line (thimble at 47 to 49) it looks already there, so 0.5 more; elsewhere
        the half-millimetre line is missed where it shows, and imagined where it does not.
        ``ten_times``: a thimble line of 1 to 9 taken for tenths, not hundredths.

        Source: common practice, no source.

        >>> boxed_micrometer(0).misreadings(22.87)
        {'half_millimetre_line': 22.37}
        >>> boxed_micrometer(0).misreadings(22.04)
        {'half_millimetre_line': 22.54, 'ten_times': 22.4}
        """
        correct = self.reading(indication_mm)
        _, half_shows, thimble = self.parts(indication_mm)
        from_line_mm = thimble * self.resolution_mm
        if from_line_mm <= NEAR_THIMBLE_ZERO_MM:
            shift = -SLEEVE_LINE_MM
        elif from_line_mm >= SLEEVE_LINE_MM - NEAR_THIMBLE_ZERO_MM:
            shift = SLEEVE_LINE_MM
        else:
            shift = -SLEEVE_LINE_MM if half_shows else SLEEVE_LINE_MM
        if not self.low_mm <= correct + shift <= self.high_mm:  # the sleeve has no such line
            shift = -shift
        found = {"half_millimetre_line": round(correct + shift, 9)}
        if 1 <= thimble <= 9:
            found["ten_times"] = round(correct + 9 * from_line_mm, 9)
        return found

    def likely_misreadings(self, indication_mm: float) -> dict[str, float]:
        """Return the misreadings that a person with that habit falls for here, in mm.

        The half-millimetre line misleads where it shows, and beside the thimble's edge; elsewhere
        there is nothing to mislead.

        >>> boxed_micrometer(0).likely_misreadings(22.27)
        {}
        """
        mistakes = self.misreadings(indication_mm)
        _, half_shows, _ = self.parts(indication_mm)
        if not (half_shows or self._beside_a_sleeve_line(indication_mm)):
            del mistakes["half_millimetre_line"]
        return mistakes

    def near_miss(self, indication_mm: float) -> float | None:
        """Return the reading half a millimetre along when a sleeve line is just beside the thimble's edge.

        >>> boxed_micrometer(0).near_miss(22.019)
        21.52
        """
        if not self._beside_a_sleeve_line(indication_mm):
            return None
        return self.misreadings(indication_mm)["half_millimetre_line"]

    def _beside_a_sleeve_line(self, indication_mm: float) -> bool:
        off_mm = self.parts(indication_mm)[2] * self.resolution_mm
        return min(off_mm, SLEEVE_LINE_MM - off_mm) <= NEAR_THIMBLE_ZERO_MM + 1e-9


@dataclass(frozen=True)
class DialIndicator(Gauge):
    """A dial indicator with a plunger: one turn of the needle is 1 mm, a hundred lines."""

    @property
    def scale(self) -> Scale:
        """Its lines over the whole travel; a number stands at every tenth line."""
        return Scale("mm", -DIAL_TRAVEL_MM, DIAL_TRAVEL_MM, self.resolution_mm, 10 * self.resolution_mm)

    def shown_mm(self, true_mm: float) -> float:
        """Return the travel with the gear train's error, in mm.

        The error swings to and fro with the travel and never differs between two places by more
        than ``calibration_error_mm``. It is nothing at zero travel, where the dial was set.
        """
        travel = number("true_mm", true_mm, low=-DIAL_TRAVEL_MM, high=DIAL_TRAVEL_MM)
        swing = math.sin(2 * math.pi * travel / DIAL_ERROR_PERIOD_MM)
        return travel + self.calibration_error_mm / 2 * swing

    @property
    def difference_uncertainty_mm(self) -> float:
        """Standard uncertainty of the difference of two readings, in mm.

        The error limit is itself a limit for a difference (over a tenth of a turn, which is about the
        travel of a run-out near its limit), so it counts once; setting and nearest line count twice.
        """
        each = combine(self.repeatability_mm, self.nearest_line_u_mm)
        return combine(rectangular(self.error_limit_mm), math.sqrt(2) * each)

    def misreadings(self, indication_mm: float) -> dict[str, float]:
        """Return what each usual mistake makes of an indication, in mm, by the mistake's id.

        ``wrong_sign``: the needle left of zero taken for right of it, or the other way round.
        ``ten_times``: lines of 0.01 mm taken for 0.1 mm.

        Source: common practice, no source.

        >>> dial_indicator().misreadings(-0.031)
        {'wrong_sign': 0.03, 'ten_times': -0.3}
        """
        correct = self.reading(indication_mm)
        if correct == 0:
            return {}
        return {"wrong_sign": -correct, "ten_times": round(10 * correct, 9)}

    def likely_misreadings(self, indication_mm: float) -> dict[str, float]:
        """Return the misreadings that a person with that habit falls for here, in mm.

        To take the needle left of zero for right of it is the mistake; nobody does the opposite.

        >>> dial_indicator().likely_misreadings(0.031)
        {'ten_times': 0.3}
        """
        mistakes = self.misreadings(indication_mm)
        if indication_mm > 0:
            mistakes.pop("wrong_sign", None)
        return mistakes

    def near_miss(self, indication_mm: float) -> float | None:
        """Return None: no place on a dial misleads the eye more than another."""
        self.reading(indication_mm)
        return None


def boxed_micrometer(low_mm: int, calibration_error_mm: float = 0.0) -> Micrometer:
    """Return a micrometer as good as new, kept in its box.

    Args:
        low_mm: lower end of the range: 0 (for 0–25 mm) or 25 (for 25–50 mm).
        calibration_error_mm: how far this one errs.

    Raises:
        ValueError: no such range, or an error beyond the limit.
    """
    return _micrometer("boxed micrometer", low_mm, 1.0, calibration_error_mm)


def shop_micrometer(low_mm: int, calibration_error_mm: float = 0.0) -> Micrometer:
    """Return a micrometer in daily use: the same lines, three times the error limit.

    Args and raises: as `boxed_micrometer`.
    """
    return _micrometer("shop micrometer", low_mm, SHOP_LIMIT_FACTOR, calibration_error_mm)


def dial_indicator(calibration_error_mm: float = 0.0) -> DialIndicator:
    """Return the bench's dial indicator."""
    return DialIndicator(
        "dial indicator", GRADUATION_MM, DIAL_TENTH_TURN_LIMIT_MM, DIAL_REPEATABILITY_MM, calibration_error_mm
    )


def _micrometer(name: str, low_mm: int, limit_factor: float, calibration_error_mm: float) -> Micrometer:
    if low_mm not in NEW_MICROMETER_LIMIT_MM:
        raise ValueError(f"low_mm must be 0 or 25, but {low_mm!r} was given.")
    return Micrometer(
        f"{name}, {low_mm}–{low_mm + 25} mm",
        GRADUATION_MM,
        round(limit_factor * NEW_MICROMETER_LIMIT_MM[low_mm], 9),
        MICROMETER_REPEATABILITY_MM,
        calibration_error_mm,
        float(low_mm),
        float(low_mm + 25),
    )
