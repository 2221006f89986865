"""Split a profile of one turn into waves."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

from brakecourse.trade import _checks


@dataclass(frozen=True)
class Harmonic:
    """One wave of a profile: ``amplitude * cos(order * angle - phase)``.

    Attributes:
        order: how many times the wave repeats in one turn.
        amplitude: half the height from trough to crest, in the unit of the readings.
        phase_deg: 0 up to below 360. For order 1 it is the angle of the highest place.
    """

    order: int
    amplitude: float
    phase_deg: float


def harmonics(readings: Sequence[float]) -> list[Harmonic]:
    """Split readings taken at equal angles of one turn into waves.

    A tilted rotor gives order 1. A rotor with two thick places gives order 2.

    Args:
        readings: at least three readings in turning order, any unit, the first at 0 degrees.

    Returns:
        One :class:`Harmonic` for each order from 1 to half the number of readings. With the mean they
        give the readings back.

    Raises:
        ValueError: fewer than three readings, or one that is no finite number.

    Source:
        Discrete Fourier transform, textbook definition.

    Example:
        >>> first = harmonics([0.04, 0.00, -0.04, 0.00])[0]
        >>> first.order, round(first.amplitude, 4), round(first.phase_deg)
        (1, 0.04, 0)
    """
    row = _checks.numbers(readings, "reading", at_least=3)
    mean = math.fsum(row) / len(row)
    waves = [value - mean for value in row]
    dust = 1e-12 * max(abs(value) for value in row)
    return [_harmonic(waves, order, dust) for order in range(1, len(row) // 2 + 1)]


def _harmonic(waves: list[float], order: int, dust: float) -> Harmonic:
    count = len(waves)
    turns = [2 * math.pi * ((order * place) % count) / count for place in range(count)]
    along = math.fsum(wave * math.cos(turn) for wave, turn in zip(waves, turns, strict=True))
    across = math.fsum(wave * math.sin(turn) for wave, turn in zip(waves, turns, strict=True))
    # At the highest order of an even count there are two readings a wave: they see it once, not twice.
    share = 1 if 2 * order == count else 2
    amplitude = share * math.hypot(along, across) / count
    if amplitude <= dust:  # a wave that is only rounding has no direction
        return Harmonic(order, 0.0, 0.0)
    phase = math.degrees(cmath.phase(complex(along, across))) % 360.0
    return Harmonic(order, amplitude, 0.0 if phase >= 360.0 else phase)
