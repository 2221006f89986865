"""Slide pins: how much grease a bore takes, and what a pin that drags does to the pads.

Use the grease that the maker names. Petroleum grease swells the rubber boots. Never swap pins: each
belongs to its bore.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from brakecourse.trade import _checks

__all__ = [
    "AIR_SHARE",
    "ForceSplit",
    "free_volume_ml",
    "grease_limit_ml",
    "pad_force_split_n",
    "seated_gap_mm",
    "wear_ratio",
]

AIR_SHARE = 0.5
"""Share of the free volume that stays air. That an air space must be left is common practice, no source;
its size is an assumption, no source."""

_MM3_IN_ML = 1000.0


class ForceSplit(NamedTuple):
    """What presses each pad of a floating caliper, in N.

    Attributes:
        inner_n: force on the inner pad, the one that the piston pushes.
        outer_n: force on the outer pad, the one that the caliper's body pulls.
    """

    inner_n: float
    outer_n: float


def free_volume_ml(bore_mm: float, depth_mm: float, pin_mm: float, seated_length_mm: float) -> float:
    """Return the room for grease and air in a bore when its pin is fully seated.

    Args:
        bore_mm: diameter of the bore, mm, above 0.
        depth_mm: depth of the bore, mm, above 0.
        pin_mm: diameter of the pin, mm, above 0, less than the bore's.
        seated_length_mm: length of pin inside the bore when seated, mm, above 0, at most the depth.

    Returns:
        The bore's volume less the pin's, mL (cubic centimetres).

    Raises:
        ValueError: a value is no number above 0, the pin is too thick for the bore, or too long.

    Source:
        Geometry of two cylinders.

    Example:
        >>> round(free_volume_ml(10.5, 60.0, 10.0, 50.0), 3)
        1.268
    """
    bore, pin = _areas_mm2(bore_mm, pin_mm)
    depth, seated = _lengths_mm(depth_mm, seated_length_mm)
    return (bore * depth - pin * seated) / _MM3_IN_ML


def grease_limit_ml(bore_mm: float, depth_mm: float, pin_mm: float, seated_length_mm: float) -> float:
    """Return the most grease that may go into a bore.

    A film on the pin and in the bore is enough. The rest stays air, which gives way when the pin slides in.

    Args:
        bore_mm: diameter of the bore, mm, above 0.
        depth_mm: depth of the bore, mm, above 0.
        pin_mm: diameter of the pin, mm, above 0, less than the bore's.
        seated_length_mm: length of pin inside the bore when seated, mm, above 0, at most the depth.

    Returns:
        The free volume less the air space of :data:`AIR_SHARE`, mL.

    Raises:
        ValueError: as for :func:`free_volume_ml`.

    Source:
        Common practice, no source; the size of the air space is an assumption, no source.

    Example:
        >>> round(grease_limit_ml(10.5, 60.0, 10.0, 50.0), 2)
        0.63
    """
    return (1 - AIR_SHARE) * free_volume_ml(bore_mm, depth_mm, pin_mm, seated_length_mm)


def seated_gap_mm(
    grease_ml: float, bore_mm: float, depth_mm: float, pin_mm: float, seated_length_mm: float
) -> float:
    """Return how far short of its seat a pin stops when there is too much grease in the bore.

    Args:
        grease_ml: grease in the bore, mL, 0 up to the bore's volume.
        bore_mm: diameter of the bore, mm, above 0.
        depth_mm: depth of the bore, mm, above 0.
        pin_mm: diameter of the pin, mm, above 0, less than the bore's.
        seated_length_mm: length of pin inside the bore when seated, mm, above 0, at most the depth.

    Returns:
        The gap, mm; 0 when the grease finds room beside and below the pin.

    Raises:
        ValueError: as for :func:`free_volume_ml`, or there is more grease than the whole bore holds.

    Source:
        Geometry. Model (assumption, no source): all air gets out, no grease does, and grease does not
        shrink.

    Example:
        A bore packed with 2.0 mL holds its pin 9.3 mm short.

        >>> round(seated_gap_mm(2.0, 10.5, 60.0, 10.0, 50.0), 1)
        9.3
    """
    grease = _checks.not_negative(grease_ml, "grease in mL")
    free = free_volume_ml(bore_mm, depth_mm, pin_mm, seated_length_mm)
    bore, pin = _areas_mm2(bore_mm, pin_mm)
    whole_bore = bore * depth_mm / _MM3_IN_ML
    if grease > whole_bore:
        raise ValueError(
            f"grease in mL must be at most the {whole_bore:.3g} that the bore holds, but it was {grease:g}."
        )
    return min(max(0.0, grease - free) * _MM3_IN_ML / pin, float(seated_length_mm))


def pad_force_split_n(clamp_force_n: float, drag_n: float) -> ForceSplit:
    """Return what presses each pad when the slide pins of a floating caliper drag.

    The piston pushes the inner pad. The same force pushes the caliper's body back. The pins' drag takes
    its share of it, and the body pulls the outer pad with the rest. A drag larger than the clamp force
    holds the body still: then the outer pad gets nothing.

    Args:
        clamp_force_n: force of the piston or pistons, N, 0 or more.
        drag_n: friction of both pins together against sliding, N, 0 or more.

    Returns:
        ``(inner_n, outer_n)``, N.

    Raises:
        ValueError: a value is no number of 0 or more.

    Source:
        Textbook statics: balance of the forces on the caliper's body. Model: the drag acts in full, along
        the pins; the piston's own seal takes nothing.

    Example:
        >>> pad_force_split_n(8000.0, 2000.0)
        ForceSplit(inner_n=8000.0, outer_n=6000.0)
    """
    clamp = _checks.not_negative(clamp_force_n, "clamp force in N")
    return ForceSplit(clamp, max(0.0, clamp - _checks.not_negative(drag_n, "drag of the pins in N")))


def wear_ratio(clamp_force_n: float, drag_n: float) -> float:
    """Return how many times faster the inner pad wears than the outer one.

    Args:
        clamp_force_n: force of the piston or pistons, N, above 0.
        drag_n: friction of both pins together against sliding, N, 0 up to below the clamp force.

    Returns:
        Wear of the inner pad over wear of the outer pad; 1 when the pins are free.

    Raises:
        ValueError: a value is no number or out of its range.

    Source:
        Archard's wear law: both pads slide the same distance, so wear goes with force. Forces as in
        :func:`pad_force_split_n`.

    Example:
        >>> round(wear_ratio(8000.0, 2000.0), 3)
        1.333
    """
    clamp = _checks.positive(clamp_force_n, "clamp force in N")
    drag = _checks.between(drag_n, "drag of the pins in N", 0.0, clamp)
    inner, outer = pad_force_split_n(clamp, drag)
    return inner / outer


def _areas_mm2(bore_mm: float, pin_mm: float) -> tuple[float, float]:
    bore = _checks.positive(bore_mm, "diameter of the bore in mm")
    pin = _checks.positive(pin_mm, "diameter of the pin in mm")
    if pin >= bore:
        raise ValueError(
            f"diameter of the pin in mm must be below the bore's {bore:g}, but it was {pin:g}; "
            "give diameters for both."
        )
    return math.pi / 4 * bore * bore, math.pi / 4 * pin * pin


def _lengths_mm(depth_mm: float, seated_length_mm: float) -> tuple[float, float]:
    depth = _checks.positive(depth_mm, "depth of the bore in mm")
    seated = _checks.positive(seated_length_mm, "seated length of the pin in mm")
    if seated > depth:
        raise ValueError(
            f"seated length of the pin in mm must be at most the bore's depth of {depth:g}, "
            f"but it was {seated:g}."
        )
    return depth, seated
