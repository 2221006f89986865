"""What has happened to a rotor: causes, never pictures drawn by hand.

Each fault takes a condition and returns the changed one. Order matters where it does in life:
run-out comes before the thickness variation that grows from it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from brakecourse.bench.checks import number, whole
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.trade.hub_fit import slope

# Thickness variation that grows for each mm of run-out in each 1000 km, in mm. Assumption, no source.
# That it grows at all is common practice, no source; that it grows in proportion to both is assumed too.
GROWTH_PER_RUN_OUT_AND_1000_KM = 0.04


@dataclass(frozen=True)
class EvenWear:
    """The pads have worn the track evenly; a strip at the outer edge stays as it was.

    Args:
        wear_mm: thickness worn off, both faces together.
    """

    wear_mm: float

    def __post_init__(self) -> None:
        number("wear_mm", self.wear_mm, 0, 20)

    def act(self, condition: RotorCondition) -> RotorCondition:
        """Return the condition with the track thinner everywhere."""
        return replace(condition, wear_mm=condition.wear_mm + self.wear_mm)


@dataclass(frozen=True)
class Grooves:
    """Grit has cut rings into the faces, and rust has built up on the ridge at the outer edge.

    A micrometer's flat anvils rest on the crests, so its readings do not show the grooves.

    Args:
        depth_mm: depth of one groove in one face.
        rust_mm: rust on the ridge, both faces together.
        pitch_mm: distance from one groove to the next.
    """

    depth_mm: float
    rust_mm: float
    pitch_mm: float = 2.0

    def __post_init__(self) -> None:
        number("depth_mm", self.depth_mm, 0, 3)
        number("rust_mm", self.rust_mm, 0, 1)
        number("pitch_mm", self.pitch_mm, 0.2, 6)

    def act(self, condition: RotorCondition) -> RotorCondition:
        """Return the condition with grooves in the track and more rust on the ridge."""
        return replace(
            condition,
            groove_depth_mm=condition.groove_depth_mm + self.depth_mm,
            groove_pitch_mm=self.pitch_mm,
            rust_mm=condition.rust_mm + self.rust_mm,
        )


@dataclass(frozen=True)
class HubRunOut:
    """The hub's seat does not run true, so the rotor stands tilted on it.

    Args:
        seat_run_out_mm: total run-out of the seat at its outer radius.
        seat_radius_mm: that radius.
        high_deg: where the seat stands out most, from the chalk mark.
    """

    seat_run_out_mm: float
    seat_radius_mm: float
    high_deg: float

    def __post_init__(self) -> None:
        number("seat_run_out_mm", self.seat_run_out_mm, 0, 2)
        number("seat_radius_mm", self.seat_radius_mm, 10, 300)
        number("high_deg", self.high_deg)

    def act(self, condition: RotorCondition) -> RotorCondition:
        """Return the condition tilted further; tilts add as vectors."""
        across, along = tilt((self,), condition.tilt_across, condition.tilt_along)
        return replace(condition, tilt_across=across, tilt_along=along)


def tilt(seats: Iterable[HubRunOut], across: float = 0.0, along: float = 0.0) -> tuple[float, float]:
    """Return the slope across and along that everything that does not run true adds up to, as vectors.

    A flat seat with a total of ``h`` at radius ``R`` slopes ``h / (2 R)``: geometry, exact.
    """
    for seat in seats:
        steep, angle = slope(seat.seat_run_out_mm, seat.seat_radius_mm), math.radians(seat.high_deg)
        across += steep * math.cos(angle)
        along += steep * math.sin(angle)
    return across, along


@dataclass(frozen=True)
class VariationFromRunOut:
    """The rotor has run for a long way with the run-out it has, and the high spots have rubbed thin.

    With the brake off, each turn wipes the outboard face's high spot along one pad and, half a turn
    later, the inboard face's along the other. So two thin places grow, half a turn apart.

    Args:
        distance_km: how far it has run like that.
    """

    distance_km: float

    def __post_init__(self) -> None:
        number("distance_km", self.distance_km, 0, 1_000_000)

    def act(self, condition: RotorCondition) -> RotorCondition:
        """Return the condition with the variation that grew from its run-out."""
        return replace(
            condition,
            grown_mm=grown_variation_mm(condition.tilt_run_out_mm, self.distance_km),
            grown_high_deg=condition.tilt_high_deg,
        )


@dataclass(frozen=True)
class HeatSpots:
    """Overheated places that have turned hard, wear less and stand up, evenly spaced round the track.

    Args:
        count: how many.
        height_mm: how far each stands up, both faces together.
        first_deg: angle of the first, from the chalk mark.
    """

    count: int
    height_mm: float
    first_deg: float

    def __post_init__(self) -> None:
        whole("count", self.count, 2, 12)
        number("height_mm", self.height_mm, 0, 1)
        number("first_deg", self.first_deg)

    def act(self, condition: RotorCondition) -> RotorCondition:
        """Return the condition with the spots standing up."""
        return replace(condition, spots=self.count, spot_height_mm=self.height_mm, spot_deg=self.first_deg)


Fault = EvenWear | Grooves | HubRunOut | VariationFromRunOut | HeatSpots


def grown_variation_mm(run_out_mm: float, distance_km: float) -> float:
    """Return the thickness variation that grows from run-out over a distance, in mm.

    It grows in proportion to both, and stops when it equals the run-out: then the high spot has been
    rubbed as low as the lowest spot, and nothing stands out any more.

    Args:
        run_out_mm: total run-out at the track.
        distance_km: how far the rotor has run with it.

    Raises:
        ValueError: a value is not a number of 0 or more.

    Source: assumption, no source (`GROWTH_PER_RUN_OUT_AND_1000_KM`, and where it stops).

    >>> round(grown_variation_mm(0.10, 10_000), 3)
    0.04
    """
    run_out = number("run_out_mm", run_out_mm, low=0)
    grown = GROWTH_PER_RUN_OUT_AND_1000_KM * run_out * number("distance_km", distance_km, low=0) / 1000
    return min(grown, run_out)


def apply(condition: RotorCondition, faults: Iterable[Fault]) -> RotorCondition:
    """Return the condition after all faults, in the order given."""
    for fault in faults:
        condition = fault.act(condition)
    return condition
