"""The records of a pair of pads: what was measured, the limits, and what was found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from brakecourse import published
from brakecourse.trade import _checks
from brakecourse.trade._rotor_records import _both as both
from brakecourse.trade.conformity import Decision, Side

Pattern = Literal[
    "even",
    "tapered lengthwise",
    "tapered in height",
    "stepped edge",
    "uneven inner and outer",
    "too close to call",
    "below minimum",
]
PadCheck = Literal["thickness", "taper in length", "taper in height", "step", "pair"]
PadAction = Literal["keep", "measure again", "find the cause", "replace"]
Place = Literal["inner pad", "outer pad", "both pads"]

_NAMES: dict[PadCheck, tuple[str, str]] = {
    "thickness": ("smallest lining thickness", "least permitted thickness"),
    "taper in length": ("taper lengthwise", "largest permitted taper"),
    "taper in height": ("taper in height", "largest permitted taper"),
    "step": ("step at the edge", "largest permitted step"),
    "pair": ("difference between inner and outer pad", "largest permitted difference"),
}


@dataclass(frozen=True)
class PadReading:
    """Lining thickness of one pad at its four corners, in mm, without the backing plate.

    Leading is the end that the turning rotor meets first. The outer edge lies nearer the rotor's rim,
    the inner edge nearer the hub.

    Attributes:
        leading_outer_mm: leading end, outer edge.
        leading_inner_mm: leading end, inner edge.
        trailing_outer_mm: trailing end, outer edge.
        trailing_inner_mm: trailing end, inner edge.
        step_mm: height of the step at an edge, where a strip was not worn with the rest, or deeper by a
            ridge; 0 when there is none.

    Raises:
        ValueError: a value is no number of 0 or more.
    """

    leading_outer_mm: float
    leading_inner_mm: float
    trailing_outer_mm: float
    trailing_inner_mm: float
    step_mm: float = 0.0

    def __post_init__(self) -> None:
        for end in ("leading", "trailing"):
            for edge in ("outer", "inner"):
                value = getattr(self, f"{end}_{edge}_mm")
                _checks.not_negative(value, f"lining thickness in mm, {end} end, {edge} edge,")
        _checks.not_negative(self.step_mm, "step in mm")

    @property
    def corners_mm(self) -> tuple[float, float, float, float]:
        """The four corners: leading outer, leading inner, trailing outer, trailing inner, in mm."""
        return (
            self.leading_outer_mm,
            self.leading_inner_mm,
            self.trailing_outer_mm,
            self.trailing_inner_mm,
        )


@dataclass(frozen=True)
class PadLimits:
    """The limits of a pair of pads and the gauge's uncertainty, all in mm.

    The maker's service information gives the limits.

    Attributes:
        minimum_mm: least permitted lining thickness.
        max_taper_mm: largest permitted taper, lengthwise or in height.
        max_pair_difference_mm: largest permitted difference between inner and outer pad.
        max_step_mm: largest permitted step at an edge.
        thickness_u_mm: standard uncertainty of one thickness reading.
        difference_u_mm: standard uncertainty of the difference of two readings of the same gauge.

    Raises:
        ValueError: a limit is no number above 0, or an uncertainty no number of 0 or more.
    """

    minimum_mm: float
    max_taper_mm: float
    max_pair_difference_mm: float
    max_step_mm: float
    thickness_u_mm: float
    difference_u_mm: float

    def __post_init__(self) -> None:
        _checks.positive(self.minimum_mm, "least lining thickness in mm")
        _checks.positive(self.max_taper_mm, "largest taper in mm")
        _checks.positive(self.max_pair_difference_mm, "largest difference between the pads in mm")
        _checks.positive(self.max_step_mm, "largest step in mm")
        _checks.not_negative(self.thickness_u_mm, "standard uncertainty of a thickness in mm")
        _checks.not_negative(self.difference_u_mm, "standard uncertainty of a difference in mm")


@dataclass(frozen=True)
class Evidence:
    """One check of a pad, or of the pair, against one limit.

    Attributes:
        check: ``"thickness"``, ``"taper in length"``, ``"taper in height"``, ``"step"`` or ``"pair"``.
        place: ``"inner pad"``, ``"outer pad"`` or ``"both pads"``.
        measured_mm: the value that was compared.
        limit_mm: the limit that it was compared with.
        side: which side of the limit is the good one: ``"minimum"`` or ``"maximum"``.
        decision: verdict, margin, guard band and probability.
        thin: the thin side of a proven or possible taper or difference (``"leading"``, ``"trailing"``,
            ``"outer"`` or ``"inner"``); empty when there is none.
    """

    check: PadCheck
    place: Place
    measured_mm: float
    limit_mm: float
    side: Side
    decision: Decision
    thin: str = ""

    @property
    def words(self) -> str:
        """The check in short sentences, in mm and inches."""
        what, against = _NAMES[self.check]
        says = {
            "within": "It is within the limit.",
            "outside": "It is outside the limit.",
            "too close to call": "It is too close to call.",
        }[self.decision.verdict]
        return (
            f"{self.place[0].upper()}{self.place[1:]}: the {what} is {_written(self.measured_mm)}. "
            f"The {against} is {_written(self.limit_mm)}. {says}"
        )


def _written(value_mm: float) -> str:
    """Write a length as the depth gauge reads it, to a tenth; a mean keeps the places that it has."""
    if abs(10 * value_mm - round(10 * value_mm)) > 1e-6:
        return both(value_mm)
    inches = published.convert(value_mm, "mm", "in")
    return f"{value_mm:.1f} mm ({inches:.{2 if abs(value_mm) >= 1 else 3}f} in)"


@dataclass(frozen=True)
class WearFinding:
    """How a pair of pads has worn, what may have caused it, and what to do.

    Attributes:
        patterns: one or more words. "even" when every check of the shape is within its limit; "too close
            to call" when none is outside but one is not proven within; "below minimum" stands last.
        causes: what may have caused it, the likeliest first. A cause is a part, never the pattern itself.
        evidence: every check made.
        action: "replace" when a lining is not proven to keep its minimum (always both wheels of the axle);
            "find the cause" when a pattern is uneven; "measure again" when it is too close to call; "keep".
    """

    patterns: tuple[Pattern, ...]
    causes: tuple[str, ...]
    evidence: tuple[Evidence, ...]
    action: PadAction

    @property
    def pattern(self) -> str:
        """All patterns in one line, e.g. ``"tapered lengthwise and below minimum"``."""
        *first, last = self.patterns
        return f"{', '.join(first)} and {last}" if first else last
