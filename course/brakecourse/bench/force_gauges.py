"""The shop's torque wrench, pull gauge and stopwatch."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.bench.checks import number
from brakecourse.bench.draw import Draw
from brakecourse.bench.other_units import INCHES_PER_FOOT, lbf_from_n, lbfft_from_nm, nm_from_lbfft
from brakecourse.bench.scale import Scale, ring
from brakecourse.bench.shop_gauge_base import ShopGauge
from brakecourse.trade.fasteners import wrench_tolerance

# A wrench is set in this many lines up to its largest torque, every tenth numbered. Assumption, no source.
WRENCH_LINES = 200
# A wrench is tested from a fifth of its largest torque on, so its scale starts there. Source: ISO 6789-2:2017
# as stated by a metrology laboratory (row torque_wrench_test_point_20, how known: read).
WRENCH_START_SHARE = 0.2
# Standard deviation of its clicks, as a share of its largest torque. Assumption, no source.
WRENCH_REPEATABILITY_SHARE = 0.002
WRENCH_SOURCE = "ISO 6789-1:2017 as stated by a calibration service (trade.fasteners.wrench_tolerance)"

# Pull gauges by their largest force, and the distance of two lines. All assumption, no source.
PULL_LINES_N = {100.0: 1.0, 500.0: 5.0, 2500.0: 25.0}
PULL_LIMIT_SHARE = 0.01
PULL_REPEATABILITY_SHARE = 0.01
# The hook's own pull when the gauge was not set to zero, as a share of the largest force.
HOOK_SHARE = 0.03

STOPWATCH_END_S = 600.0
STOPWATCH_LINE_S = 0.1
# The clock itself hardly errs; the thumb does, at the start and at the end. Assumption, no source.
STOPWATCH_ERROR_SHARE = 1e-4
THUMB_S = 0.15
SECONDS_PER_MINUTE = 60


@dataclass(frozen=True, kw_only=True)
class TorqueWrench(ShopGauge):
    """A click torque wrench with an N·m and an lbf·ft scale.

    Its deviation is a share of the torque really applied, and no click exceeds it (the definition is from
    memory). An indication is the setting that clicks at a true torque.

    ``lbfft_for_nm``: the number on the lbf·ft scale taken for N·m.
    ``lbfin_for_lbfft``: the number on the lbf·ft scale taken for lbf·in.

    Args:
        lbfft: the other scale.
    """

    lbfft: Scale

    @property
    def largest_nm(self) -> float:
        """Largest torque it can be set to, in N·m."""
        return self.scale.end

    def indicate(self, true: float, draw: Draw) -> float:
        """Return the setting, in N·m, with which the wrench clicks at a true torque."""
        most = self.error_limit_at(true)
        off = self._shown(self._true(true)) - true + draw.normal(0.0, self.repeatability)
        return self.scale.held(true + min(max(off, -most), most))

    def applied_nm(self, set_nm: float, draw: Draw) -> float:
        """Return the torque really applied at one click, in N·m, within the wrench's tolerance.

        Args:
            set_nm: what the wrench is set to, on its scale.
            draw: where the chance comes from.

        Raises:
            ValueError: the setting is not a number or not on the scale.
        """
        setting = number("set_nm", set_nm, low=self.scale.start, high=self.scale.end)
        off = self.calibration_share * self.error_share + draw.normal(0.0, self.repeatability) / setting
        return setting / (1 + min(max(off, -self.error_share), self.error_share))

    def missettings_nm(self, target_nm: float) -> dict[str, float]:
        """Return what the wrench really gets set to, in N·m, when a target meets the wrong scale.

        A setting off the scale is left out: the wrench cannot be set to it, and the person notices.

        ``lbfft_for_nm``: the N·m number set on the lbf·ft scale.
        ``lbfin_for_lbfft``: the lbf·in number set on the lbf·ft scale, twelve times too much.

        >>> round(torque_wrench(200.0).missettings_nm(110.0)["lbfft_for_nm"], 1)
        149.1
        """
        target = number("target_nm", target_nm, low=0)
        wrong = {"lbfft_for_nm": nm_from_lbfft(target), "lbfin_for_lbfft": INCHES_PER_FOOT * target}
        return {mistake: value for mistake, value in wrong.items() if self.scale.holds(value)}

    def _mistakes(self, indication: float, correct: float) -> dict[str, float]:
        other = self.lbfft.nearest(lbfft_from_nm(indication))
        return {
            "lbfft_for_nm": other,
            "lbfin_for_lbfft": round(nm_from_lbfft(other / INCHES_PER_FOOT), 3),
        }


@dataclass(frozen=True, kw_only=True)
class PullGauge(ShopGauge):
    """A spring gauge with a hook: how hard a slide pin, a pad or a pedal must be pulled, N and lbf.

    ``lbf_for_newton``: the lbf ring read for the N ring.
    ``zero_not_set``: the hook's own pull counted in.

    Args:
        hook_n: what the gauge shows with nothing but its hook when it was not set to zero.
        lbf: the inner ring.
    """

    hook_n: float
    lbf: Scale

    def __post_init__(self) -> None:
        super().__post_init__()
        number("hook_n", self.hook_n, low=0, high=self.scale.end)

    def _mistakes(self, indication: float, correct: float) -> dict[str, float]:
        return {
            "lbf_for_newton": self.lbf.nearest(lbf_from_n(indication)),
            "zero_not_set": self.scale.nearest(indication + self.hook_n),
        }


class Stopwatch(ShopGauge):
    """A stopwatch started and stopped by hand; it shows minutes, seconds and tenths.

    ``minutes_as_hundreds``: 1:35.4 taken for 135.4 s.
    """

    def display(self, indication: float) -> str:
        """Return what the display shows.

        >>> stopwatch().display(95.42)
        '1:35.4'
        """
        minutes, seconds = divmod(round(self.reading(indication) / self.scale.line), 600)
        return f"{minutes}:{seconds / 10:04.1f}"

    def _mistakes(self, indication: float, correct: float) -> dict[str, float]:
        minutes = math.floor(correct / SECONDS_PER_MINUTE + 1e-9)
        return {"minutes_as_hundreds": round(correct + (100 - SECONDS_PER_MINUTE) * minutes, 9)}


def torque_wrench(largest_nm: float = 200.0, calibration_share: float = 0.0) -> TorqueWrench:
    """Return a torque wrench; its scale runs from a fifth of its largest torque.

    Args:
        largest_nm: its largest torque, 5 to 1000 N·m, a multiple of 5.
        calibration_share: how much of its permitted deviation it really errs, -1 to 1.

    Raises:
        ValueError: the shop has no such wrench.

    >>> torque_wrench().misreadings(110.2)
    {'lbfft_for_nm': 81.0, 'lbfin_for_lbfft': 9.152}
    """
    largest = number("largest_nm", largest_nm, low=5, high=1000)
    if largest % 5:
        raise ValueError(f"largest_nm must be a multiple of 5 N·m, but it was {largest:g}.")
    line = round(largest / WRENCH_LINES, 9)
    scale = Scale("N·m", round(WRENCH_START_SHARE * largest, 9), largest, line, round(10 * line, 9))
    lbfft = ring(scale, "lbf·ft", lbfft_from_nm)
    return TorqueWrench(
        name=f"torque wrench, {scale.start:g}–{largest:g} N·m",
        scale=scale,
        error_limit=0.0,
        error_share=wrench_tolerance(largest),
        error_source=WRENCH_SOURCE,
        repeatability=round(WRENCH_REPEATABILITY_SHARE * largest, 9),
        calibration_share=calibration_share,
        other_scale=lbfft,
        lbfft=lbfft,
    )


def force_gauge(largest_n: float = 500.0, calibration_share: float = 0.0) -> PullGauge:
    """Return a pull gauge.

    Args:
        largest_n: 100, 500 or 2500 N.
        calibration_share: how much of its error limit it really errs, -1 to 1.

    Raises:
        ValueError: the shop has no such gauge.

    >>> force_gauge().misreadings(163.0)
    {'line_step': 153.0, 'lbf_for_newton': 36.0, 'zero_not_set': 180.0}
    """
    if isinstance(largest_n, bool) or largest_n not in PULL_LINES_N:
        known = ", ".join(f"{one:g}" for one in PULL_LINES_N)
        raise ValueError(f"largest_n must be one of {known}, but it was {largest_n!r}.")
    largest = float(largest_n)
    line = PULL_LINES_N[largest]
    scale = Scale("N", 0.0, largest, line, 10 * line)
    lbf = ring(scale, "lbf", lbf_from_n)
    return PullGauge(
        name=f"pull gauge, 0–{largest:g} N",
        scale=scale,
        error_limit=PULL_LIMIT_SHARE * largest,
        repeatability=PULL_REPEATABILITY_SHARE * largest,
        calibration_share=calibration_share,
        other_scale=lbf,
        hook_n=HOOK_SHARE * largest,
        lbf=lbf,
    )


def stopwatch(calibration_share: float = 0.0) -> Stopwatch:
    """Return the stopwatch: tenths of a second up to ten minutes.

    >>> stopwatch().misreadings(95.42)
    {'minutes_as_hundreds': 135.4}
    """
    return Stopwatch(
        name="stopwatch",
        scale=Scale("s", 0.0, STOPWATCH_END_S, STOPWATCH_LINE_S, STOPWATCH_LINE_S, look="digits"),
        error_limit=0.0,
        error_share=STOPWATCH_ERROR_SHARE,
        repeatability=THUMB_S,
        calibration_share=calibration_share,
    )
