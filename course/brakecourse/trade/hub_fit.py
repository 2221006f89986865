"""What a flake of rust under the rotor does, and how to mount a rotor so that it runs true.

Clean both mating faces to bare metal first. Indexing is for two clean parts that each run a little out.
A rotor is tilted on its seat, so its face rises and falls once a turn: one wave, with a size and a
direction. Two such waves add like arrows.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse.trade import _checks
from brakecourse.trade._counts import studs_of, whole
from brakecourse.trade._waves import harmonics

__all__ = [
    "RunOut",
    "at_radius",
    "best_index",
    "debris_run_out_mm",
    "once_a_turn",
    "rotor_alone",
    "slope",
    "stack_run_out_mm",
    "tilt_deg",
]

_DUST_MM = 1e-12


@dataclass(frozen=True)
class RunOut:
    """The run-out that one tilted part makes: one wave a turn.

    Attributes:
        total_mm: total indicated run-out, the whole swing, at the measuring radius.
        high_deg: where the face stands out most, degrees in turning order from the chalk mark.

    Raises:
        ValueError: the total is no number of 0 or more, or the angle is no finite number.
    """

    total_mm: float
    high_deg: float = 0.0

    def __post_init__(self) -> None:
        _checks.not_negative(self.total_mm, "total run-out in mm")
        _checks.number(self.high_deg, "angle of the high spot in degrees")


def slope(run_out_mm: float, radius_mm: float) -> float:
    """Return how steeply a flat face stands that shows a run-out at a radius.

    Args:
        run_out_mm: total run-out at that radius, mm, 0 or more.
        radius_mm: the radius, mm, above 0.

    Returns:
        Height for each mm of radius, mm/mm: the tangent of the tilt.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        Plane geometry, exact: across the diameter ``2 r`` the face climbs by the total run-out.

    Example:
        >>> slope(0.06, 60.0)
        0.0005
    """
    total = _checks.not_negative(run_out_mm, "run-out in mm")
    return total / (2 * _checks.positive(radius_mm, "radius in mm"))


def at_radius(run_out: RunOut, measured_radius_mm: float, wanted_radius_mm: float) -> RunOut:
    """Return the same tilt as a dial at another radius sees it.

    Args:
        run_out: run-out at the radius where it was measured.
        measured_radius_mm: that radius, mm, above 0.
        wanted_radius_mm: the other radius, mm, above 0.

    Returns:
        The run-out there: larger in proportion to the radius, same direction.

    Raises:
        ValueError: a value is no number above 0, or ``run_out`` is no such record.

    Source:
        Plane geometry, exact.

    Example:
        A hub's flange runs out by 0.03 mm at 60 mm. The pads' track is at 120 mm.

        >>> at_radius(RunOut(0.03, 90.0), 60.0, 120.0)
        RunOut(total_mm=0.06, high_deg=90.0)
    """
    _checks.record(run_out, "run-out", RunOut)
    wanted = _checks.positive(wanted_radius_mm, "wanted radius in mm")
    steep = slope(run_out.total_mm, _checks.positive(measured_radius_mm, "measured radius in mm"))
    return RunOut(2 * wanted * steep, run_out.high_deg)


def tilt_deg(debris_mm: float, seat_radius_mm: float) -> float:
    """Return the angle at which a rotor stands with a flake at one edge of its seat.

    Args:
        debris_mm: thickness of the flake, mm, 0 or more.
        seat_radius_mm: outer radius of the hub's seat (not its diameter), mm, above 0.

    Returns:
        The tilt, degrees.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        Plane geometry, exact. Model: the flake lies at the seat's edge and is not crushed; the rotor rests
        on it and on the seat's far edge.

    Example:
        >>> round(tilt_deg(0.05, 70.0), 4)
        0.0205
    """
    flake = _checks.not_negative(debris_mm, "thickness of the debris in mm")
    return math.degrees(math.atan(flake / (2 * _checks.positive(seat_radius_mm, "radius of the seat in mm"))))


def debris_run_out_mm(debris_mm: float, seat_radius_mm: float, measuring_radius_mm: float) -> float:
    """Return the run-out that a flake between hub and rotor makes.

    Args:
        debris_mm: thickness of the flake, mm, 0 or more.
        seat_radius_mm: outer radius of the hub's seat (not its diameter), mm, above 0.
        measuring_radius_mm: radius where the dial indicator stands, mm, above 0.

    Returns:
        Total run-out, mm: ``2 r tan(tilt)`` = debris times measuring radius over seat radius.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        Plane geometry, exact, with the model of :func:`tilt_deg`. The dial moves along the hub's axis.

    Example:
        A flake of 0.05 mm (0.002 in) becomes 0.09 mm at the track, because the track lies further out.

        >>> round(debris_run_out_mm(0.05, 70.0, 126.0), 3)
        0.09
    """
    flake = _checks.not_negative(debris_mm, "thickness of the debris in mm")
    seat = _checks.positive(seat_radius_mm, "radius of the seat in mm")
    return flake * _checks.positive(measuring_radius_mm, "measuring radius in mm") / seat


def once_a_turn(dial_readings: Sequence[float]) -> RunOut:
    """Return the part of a run-out that comes from tilt: the wave that repeats once a turn.

    Args:
        dial_readings: at least three dial readings at equal angles of one turn, mm, the first at the mark.

    Returns:
        Twice the amplitude of the first wave, and the angle where it is highest.

    Raises:
        ValueError: fewer than three readings, or one that is no finite number.

    Source:
        Discrete Fourier transform, textbook definition.

    Example:
        >>> once_a_turn([0.00, 0.03, 0.00, -0.03])
        RunOut(total_mm=0.06, high_deg=90.0)
    """
    row = _checks.numbers(dial_readings, "dial reading in mm", at_least=3)
    first = harmonics(row)[0]
    return RunOut(2 * first.amplitude, first.phase_deg)


def rotor_alone(hub: RunOut, together: RunOut) -> RunOut:
    """Return the rotor's own run-out: what was measured together, less the hub's, as arrows.

    Args:
        hub: the hub's run-out, at the same radius as the other.
        together: run-out of rotor and hub as mounted (index 0).

    Returns:
        The rotor's own run-out and where it is high, 0 up to below 360 degrees.

    Raises:
        ValueError: an argument is no such record.

    Source:
        Subtraction of vectors; small tilts add, textbook mechanics.

    Example:
        Together they show 0.10 mm, the hub alone 0.06 mm a quarter turn on.

        >>> rotor = rotor_alone(RunOut(0.06, 90.0), RunOut(0.10, 0.0))
        >>> round(rotor.total_mm, 4), round(rotor.high_deg)
        (0.1166, 329)
    """
    left = _arrow(together, "run-out together") - _arrow(hub, "run-out of the hub")
    if abs(left) <= _DUST_MM:  # arrows that cancel leave rounding only, and that has no direction
        return RunOut(0.0, 0.0)
    angle = math.degrees(cmath.phase(left)) % 360.0
    return RunOut(abs(left), 0.0 if angle >= 360.0 else angle)


def stack_run_out_mm(hub: RunOut, rotor: RunOut, index: int, studs: int) -> float:
    """Return the run-out of a rotor on a hub, at one mounting position.

    Args:
        hub: the hub's own run-out, scaled to the measuring radius (:func:`at_radius`).
        rotor: the rotor's own run-out at the measuring radius, its angle as at index 0.
        index: how many studs the rotor is turned on, in turning order, 0 up to studs - 1.
        studs: number of wheel studs, 3 to 10.

    Returns:
        Total run-out of the two together, mm.

    Raises:
        ValueError: index or studs is no whole number in its range, or a run-out is no such record.

    Source:
        Addition of first-harmonic vectors; small tilts add, textbook mechanics.

    Example:
        >>> hub, rotor = RunOut(0.04, 0.0), RunOut(0.05, 0.0)
        >>> [round(stack_run_out_mm(hub, rotor, index, 4), 3) for index in (0, 1, 2)]
        [0.09, 0.064, 0.01]
    """
    count = studs_of(studs)
    turned = whole(index, "index", 0, count - 1)
    arrow = _arrow(rotor, "run-out of the rotor") * _turn(360.0 * turned / count)
    return abs(_arrow(hub, "run-out of the hub") + arrow)


def best_index(hub: RunOut, rotor: RunOut, studs: int) -> tuple[int, float, tuple[float, ...]]:
    """Return the mounting position with the least run-out, found by trying all.

    Args:
        hub: the hub's own run-out, scaled to the measuring radius (:func:`at_radius`).
        rotor: the rotor's own run-out at the measuring radius, its angle as at index 0.
        studs: number of wheel studs, 3 to 10.

    Returns:
        ``(index, run_out_mm, table_mm)``: how many studs to turn the rotor on, in turning order (the fewest
        when several are best); the total run-out there; and the run-out at each index from 0 on, all in mm.

    Raises:
        ValueError: studs is no whole number from 3 to 10, or a run-out is no such record.

    Source:
        As :func:`stack_run_out_mm`; trying all proves it the best.

    Example:
        >>> index, run_out_mm, table_mm = best_index(RunOut(0.04, 20.0), RunOut(0.05, 65.0), 5)
        >>> index, round(run_out_mm, 3), [round(each, 3) for each in table_mm]
        (2, 0.012, [0.083, 0.048, 0.012, 0.059, 0.088])
    """
    count = studs_of(studs)
    table = tuple(stack_run_out_mm(hub, rotor, index, count) for index in range(count))
    # Two positions that differ only by rounding are equally good: then the smaller turn is chosen.
    good = min(table) * (1 + _DUST_MM) + _DUST_MM
    index = next(place for place, run_out in enumerate(table) if run_out <= good)
    return index, table[index], table


def _turn(angle_deg: float) -> complex:
    return cmath.rect(1.0, math.radians(angle_deg % 360.0))


def _arrow(run_out: RunOut, quantity: str) -> complex:
    _checks.record(run_out, quantity, RunOut)
    return run_out.total_mm * _turn(run_out.high_deg)
