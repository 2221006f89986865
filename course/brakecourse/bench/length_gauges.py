"""The shop's length gauges with a pointer or an edge: depth gauge, reservoir rule, pedal rule."""

from __future__ import annotations

import math
from abc import abstractmethod
from dataclasses import dataclass

from brakecourse.bench.checks import number
from brakecourse.bench.scale import Scale
from brakecourse.bench.shop_gauge_base import ShopGauge

# How far from square a careless eye looks at a scale. Assumption, no source.
CARELESS_EYE_DEG = 30.0

DEPTH_LINE_MM = 0.1
HALF_LINE_MM = 0.5
DEPTH_END_MM = 30.0
# The depth gauge's error limit and repeatability. Assumption, no source.
DEPTH_LIMIT_MM = 0.1
DEPTH_REPEATABILITY_MM = 0.05
# The pointer stands this far in front of the lines. Assumption, no source.
DEPTH_GAP_MM = 0.4
# Thickness of a pad's backing plate where the vehicle does not say. Assumption, no source.
PLATE_MM = 5.5

RULE_LINE_MM = 1.0
RULE_NUMBERED_MM = 10.0
# A rule's error limit, and what a hand or an uneven liquid adds. Assumption, no source.
RULE_LIMIT_MM = 0.5
LEVEL_REPEATABILITY_MM = 0.5
PEDAL_REPEATABILITY_MM = 1.0
# The liquid's edge lies this far behind the lines, and a pedal's edge behind the rule. Assumption, no source.
LEVEL_GAP_MM = 5.0
PEDAL_GAP_MM = 10.0
# Marks of a reservoir, and a pedal's height above the floor, where the vehicle does not say. Assumption.
MIN_MM, MAX_MM = 20.0, 60.0
REST_HEIGHT_MM = 150.0


@dataclass(frozen=True, kw_only=True)
class LengthGauge(ShopGauge):
    """A length gauge that is read past an edge, so the eye must look square at it.

    Args:
        gap_mm: how far the edge or pointer stands from the lines.
        eye_deg: how far from square a careless eye looks.
    """

    gap_mm: float
    eye_deg: float = CARELESS_EYE_DEG

    def __post_init__(self) -> None:
        super().__post_init__()
        number("gap_mm", self.gap_mm, low=0)
        number("eye_deg", self.eye_deg, low=0, high=80)

    @property
    def parallax_mm(self) -> float:
        """How far a careless eye reads too much, in mm: gap times the tangent of its angle.

        Source: plane geometry.
        """
        return self.gap_mm * math.tan(math.radians(self.eye_deg))

    def _mistakes(self, indication: float, correct: float) -> dict[str, float]:
        aside = correct + self.parallax_mm
        if not self.scale.holds(aside):  # from the other side the eye reads too little
            aside = correct - self.parallax_mm
        return {"parallax": self.scale.nearest(aside), **self._own(correct)}

    @abstractmethod
    def _own(self, correct: float) -> dict[str, float]:
        """Return what the mistakes beside parallax make of a reading."""


@dataclass(frozen=True, kw_only=True)
class DepthGauge(LengthGauge):
    """A depth gauge for linings: its foot on the lining's face, its rod down to the backing plate.

    ``backing_plate_included``: the rod pushed past the plate, so the plate is measured too.
    ``half_millimetre_line``: the longer line at the half taken for the numbered one.

    Args:
        plate_mm: thickness of the backing plate.
    """

    plate_mm: float = PLATE_MM

    def __post_init__(self) -> None:
        super().__post_init__()
        number("plate_mm", self.plate_mm, low=0)

    @property
    def half_lines_mm(self) -> tuple[float, ...]:
        """Where the longer half-millimetre lines stand, for a drawing."""
        whole = range(int(self.scale.start), int(self.scale.end))
        return tuple(one + HALF_LINE_MM for one in whole)

    def _own(self, correct: float) -> dict[str, float]:
        found = {"backing_plate_included": round(correct + self.plate_mm, 9)}
        if correct - math.floor(correct) >= HALF_LINE_MM - 1e-9:
            found["half_millimetre_line"] = round(correct - HALF_LINE_MM, 9)
        return found


@dataclass(frozen=True, kw_only=True)
class LevelRule(LengthGauge):
    """The scale on the wall of the fluid reservoir, in mm above its bottom.

    ``from_the_minimum``: counted from the MIN mark and not from the bottom.

    Args:
        min_mm, max_mm: where the MIN and the MAX mark stand.
    """

    min_mm: float
    max_mm: float

    def __post_init__(self) -> None:
        super().__post_init__()
        low = number("min_mm", self.min_mm, low=0)
        number("max_mm", self.max_mm, low=low + self.scale.line, high=self.scale.end)

    def share_between_marks(self, level_mm: float) -> float:
        """Return where a level stands: 0 at MIN, 1 at MAX; below 0 it is under MIN.

        >>> level_rule(20, 60).share_between_marks(30)
        0.25
        """
        return (number("level_mm", level_mm) - self.min_mm) / (self.max_mm - self.min_mm)

    def _own(self, correct: float) -> dict[str, float]:
        return {"from_the_minimum": round(correct - self.min_mm, 9)}


@dataclass(frozen=True, kw_only=True)
class PedalRule(LengthGauge):
    """A rule beside the brake pedal: its zero at the pedal's rest, travel counted towards the floor.

    ``from_the_floor``: what is left above the floor taken for the travel.

    Args:
        rest_height_mm: height of the resting pedal above the floor, which is all the travel there is.
    """

    rest_height_mm: float

    def __post_init__(self) -> None:
        super().__post_init__()
        number("rest_height_mm", self.rest_height_mm, low=self.scale.end)

    def left_mm(self, travel_mm: float) -> float:
        """Return the height above the floor that is left, in mm.

        >>> pedal_rule(150).left_mm(60)
        90.0
        """
        return self.rest_height_mm - number("travel_mm", travel_mm, low=0, high=self.rest_height_mm)

    def _own(self, correct: float) -> dict[str, float]:
        return {"from_the_floor": round(self.rest_height_mm - correct, 9)}


def depth_gauge(plate_mm: float = PLATE_MM, calibration_share: float = 0.0) -> DepthGauge:
    """Return the depth gauge for linings, 0 to 30 mm in lines of 0.1 mm.

    Args:
        plate_mm: thickness of the pad's backing plate.
        calibration_share: how much of its error limit it really errs, -1 to 1.

    >>> depth_gauge().misreadings(6.71)
    {'parallax': 6.9, 'backing_plate_included': 12.2, 'half_millimetre_line': 6.2}
    """
    return DepthGauge(
        name="depth gauge",
        scale=Scale("mm", 0.0, DEPTH_END_MM, DEPTH_LINE_MM, 1.0),
        error_limit=DEPTH_LIMIT_MM,
        repeatability=DEPTH_REPEATABILITY_MM,
        calibration_share=calibration_share,
        gap_mm=DEPTH_GAP_MM,
        plate_mm=plate_mm,
    )


def level_rule(min_mm: float = MIN_MM, max_mm: float = MAX_MM, calibration_share: float = 0.0) -> LevelRule:
    """Return the scale on a reservoir's wall; it ends one number or more above the MAX mark.

    Args:
        min_mm, max_mm: where the marks stand above the bottom.
        calibration_share: how much of its error limit it really errs, -1 to 1.

    >>> level_rule(20, 60).misreadings(41.3)
    {'parallax': 44.0, 'from_the_minimum': 21.0}
    """
    numbers = math.ceil(number("max_mm", max_mm, low=1, high=1000) / RULE_NUMBERED_MM) + 1
    return LevelRule(
        name="reservoir rule",
        scale=Scale("mm", 0.0, numbers * RULE_NUMBERED_MM, RULE_LINE_MM, RULE_NUMBERED_MM),
        error_limit=RULE_LIMIT_MM,
        repeatability=LEVEL_REPEATABILITY_MM,
        calibration_share=calibration_share,
        gap_mm=LEVEL_GAP_MM,
        min_mm=min_mm,
        max_mm=max_mm,
    )


def pedal_rule(rest_height_mm: float = REST_HEIGHT_MM, calibration_share: float = 0.0) -> PedalRule:
    """Return the rule beside a pedal, from its rest down to the floor.

    Args:
        rest_height_mm: height of the resting pedal above the floor, 10 mm or more.
        calibration_share: how much of its error limit it really errs, -1 to 1.

    >>> pedal_rule(150).misreadings(58.2)
    {'parallax': 64.0, 'from_the_floor': 92.0}
    """
    height = number("rest_height_mm", rest_height_mm, low=RULE_NUMBERED_MM, high=1000)
    return PedalRule(
        name="pedal rule",
        scale=Scale("mm", 0.0, float(math.floor(height)), RULE_LINE_MM, RULE_NUMBERED_MM),
        error_limit=RULE_LIMIT_MM,
        repeatability=PEDAL_REPEATABILITY_MM,
        calibration_share=calibration_share,
        most_true=height,
        gap_mm=PEDAL_GAP_MM,
        rest_height_mm=rest_height_mm,
    )
