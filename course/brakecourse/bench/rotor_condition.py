"""What a worn rotor really looks like, whether or not anybody measures it.

Angles run with the rotor's turning, from the chalk mark at place 1. The rotor's own face is the
outboard face, the one that the dial indicator touches.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brakecourse.bench.checks import number, whole

# Half the width of one heat spot, in degrees of the circle. Assumption, no source.
SPOT_HALF_WIDTH_DEG = 25.0

_DEPTHS = ("wear_mm", "rust_mm", "groove_depth_mm", "made_variation_mm", "grown_mm", "spot_height_mm")


@dataclass(frozen=True)
class RotorCondition:
    """The hidden truth of one rotor. The faults change it; the gauges read it.

    Args:
        nominal_mm: thickness when new.
        outer_radius_mm, inner_radius_mm: outer edge and inner end of the track.
        measuring_radius_mm: where the gauges are set.
        studs: wheel studs; a loose rotor rocks from one to the next.
        wear_mm: thickness worn off evenly, both faces together.
        ridge_width_mm: width of the strip at the outer edge that the pads do not reach.
        rust_mm: rust on that strip, both faces together.
        groove_depth_mm, groove_pitch_mm: rings cut into each face; depth of one, distance to the next.
        made_variation_mm, made_thick_deg: thickness variation as made, and where it is thickest.
        tilt_across, tilt_along: the seated rotor's slope (mm of height per mm of radius) at the chalk
            mark, and a quarter turn from it.
        grown_mm, grown_high_deg: thickness variation grown from run-out, and the high spot it grew from.
        spots, spot_height_mm, spot_deg: heat spots, how far each stands up (both faces together), and the
            angle of the first.
        loose_rock_mm, loose_high_deg: how far a rotor without wheel nuts rocks (total at the measuring
            radius), and where it first stands high.

    Raises:
        ValueError: a value is not a number or out of its range.
    """

    nominal_mm: float
    outer_radius_mm: float
    inner_radius_mm: float
    measuring_radius_mm: float
    studs: int
    wear_mm: float = 0.0
    ridge_width_mm: float = 3.0
    rust_mm: float = 0.0
    groove_depth_mm: float = 0.0
    groove_pitch_mm: float = 2.0
    made_variation_mm: float = 0.0
    made_thick_deg: float = 0.0
    tilt_across: float = 0.0
    tilt_along: float = 0.0
    grown_mm: float = 0.0
    grown_high_deg: float = 0.0
    spots: int = 0
    spot_height_mm: float = 0.0
    spot_deg: float = 0.0
    loose_rock_mm: float = 0.0
    loose_high_deg: float = 0.0

    def __post_init__(self) -> None:
        nominal = number("nominal_mm", self.nominal_mm, 1, 100)
        outer = number("outer_radius_mm", self.outer_radius_mm, 10, 500)
        inner = number("inner_radius_mm", self.inner_radius_mm, 1, outer)
        ridge = number("ridge_width_mm", self.ridge_width_mm, 0, outer - inner)
        number("measuring_radius_mm", self.measuring_radius_mm, inner, outer - ridge)
        whole("studs", self.studs, 3, 10)
        whole("spots", self.spots, 0, 12)
        for name in _DEPTHS:
            number(name, getattr(self, name), 0, nominal / 2)
        number("groove_pitch_mm", self.groove_pitch_mm, 0.2, 6)
        number("loose_rock_mm", self.loose_rock_mm, 0, 2)
        for name in ("tilt_across", "tilt_along"):
            number(name, getattr(self, name), -0.1, 0.1)
        for name in ("made_thick_deg", "grown_high_deg", "spot_deg", "loose_high_deg"):
            number(name, getattr(self, name))

    def thickness_mm(self, angle_deg: float, radius_mm: float) -> float:
        """Return the thickness at one point, in mm.

        Args:
            angle_deg: angle from the chalk mark.
            radius_mm: distance from the centre, from the track's inner end to the outer edge.

        Raises:
            ValueError: not a number, or the radius is off the rotor's face.
        """
        ridge_mm = self._ridge_mm(radius_mm)
        if ridge_mm is not None:
            return ridge_mm
        return self._crest_mm(angle_deg) - 2 * self.groove_mm(radius_mm)

    def between_anvils_mm(self, angle_deg: float, radius_mm: float) -> float:
        """Return the thickness that flat anvils find, in mm: they bridge grooves and rest on the crests.

        Args and raises: as ``thickness_mm``.
        """
        ridge_mm = self._ridge_mm(radius_mm)
        return self._crest_mm(angle_deg) if ridge_mm is None else ridge_mm

    def face_offset_mm(self, angle_deg: float, nuts_fitted: bool = True) -> float:
        """Return how far the outboard face stands out at the measuring radius, in mm.

        Args:
            angle_deg: angle from the chalk mark.
            nuts_fitted: all wheel nuts fitted and snug. Without them the rotor rocks on its studs.

        Raises:
            ValueError: the angle is not a number.
        """
        angle = math.radians(number("angle_deg", angle_deg))
        slope = self.tilt_across * math.cos(angle) + self.tilt_along * math.sin(angle)
        face = self._outboard_mm(angle_deg) + slope * self.measuring_radius_mm
        return face if nuts_fitted else face + self._rock_mm(angle_deg)

    def groove_mm(self, radius_mm: float) -> float:
        """Return how deep one face is cut at a radius, in mm; 0 on a crest, as at the measuring radius."""
        turns = (number("radius_mm", radius_mm) - self.measuring_radius_mm) / self.groove_pitch_mm
        return self.groove_depth_mm * math.sin(math.pi * turns) ** 2

    @property
    def tilt_run_out_mm(self) -> float:
        """Total run-out that the seated rotor's tilt makes at the measuring radius, in mm."""
        return 2 * self.measuring_radius_mm * math.hypot(self.tilt_across, self.tilt_along)

    @property
    def tilt_high_deg(self) -> float:
        """Angle at which the tilted rotor's outboard face stands out most, 0 to 360 degrees."""
        return math.degrees(math.atan2(self.tilt_along, self.tilt_across)) % 360

    @property
    def ridge_radius_mm(self) -> float:
        """Radius in the middle of the unswept strip at the outer edge, in mm."""
        return self.outer_radius_mm - self.ridge_width_mm / 2

    def _ridge_mm(self, radius_mm: float) -> float | None:
        radius = number("radius_mm", radius_mm, self.inner_radius_mm, self.outer_radius_mm)
        if radius <= self.outer_radius_mm - self.ridge_width_mm:
            return None
        return self.nominal_mm + self.rust_mm

    def _crest_mm(self, angle_deg: float) -> float:
        angle = number("angle_deg", angle_deg)
        made = self.made_variation_mm / 2 * _cos(angle - self.made_thick_deg)
        spot, off = self._spot_mm(angle) / 2, angle - self.grown_high_deg
        outboard = -self.grown_mm * _rub(off) + spot
        # The rotor's inboard face stands out where the outboard face lies back, half a turn away.
        inboard = -self.grown_mm * _rub(off - 180) + spot
        return self.nominal_mm - self.wear_mm + made + outboard + inboard

    def _outboard_mm(self, angle_deg: float) -> float:
        return -self.grown_mm * _rub(angle_deg - self.grown_high_deg) + self._spot_mm(angle_deg) / 2

    def _spot_mm(self, angle_deg: float) -> float:
        if self.spots == 0:
            return 0.0
        apart = 360 / self.spots
        off = (angle_deg - self.spot_deg + apart / 2) % apart - apart / 2
        half_width = min(SPOT_HALF_WIDTH_DEG, apart / 2)
        return self.spot_height_mm * (1 + _cos(180 * off / half_width)) / 2 if abs(off) < half_width else 0.0

    def _rock_mm(self, angle_deg: float) -> float:
        # It tips once in each turn, and drops from stud to stud as it goes round. The two shares add up
        # to half of the total. Assumption, no source.
        turn = angle_deg - self.loose_high_deg
        return self.loose_rock_mm * (0.4 * _cos(turn) + 0.1 * _cos(self.studs * turn))


def _cos(angle_deg: float) -> float:
    return math.cos(math.radians(angle_deg))


def _rub(angle_deg: float) -> float:
    """Share of the rubbing that a face gets, by the angle from its high spot: none beyond a quarter turn."""
    return max(0.0, _cos(angle_deg)) ** 2
