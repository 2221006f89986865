"""The vehicles of the lesson whose front pistons were pushed back: its own, and drawn ones."""

from __future__ import annotations

import math

from brakecourse.bench.draw import Draw
from brakecourse.bench.pushed_back import PushedBack
from brakecourse.bench.vehicles import motor_pool

RUNNING = "minibus"
"""The vehicle that the lesson follows."""
RUNNING_GAP_MM = 2.4
RUNNING_LEVEL_MM = 34.0
_GAPS_MM = (1.2, 4.0)


def running() -> PushedBack:
    """Return the lesson's own vehicle.

    >>> running().strokes, round(running().final_level_mm, 1)
    (4, 29.3)
    """
    return PushedBack(motor_pool()[RUNNING], RUNNING_GAP_MM, RUNNING_LEVEL_MM)


def drawn(draw: Draw) -> PushedBack:
    """Return another vehicle, another gap and another level."""
    vehicle = draw.choice(list(motor_pool().values()))
    system = vehicle.hydraulics
    gap_mm = round(draw.between(*_GAPS_MM), 1)
    low = math.ceil(system.reservoir_min_mm)
    # Whole millimetres: the rule beside the reservoir can then be read without a doubt.
    return PushedBack(vehicle, gap_mm, float(draw.integer(low + 4, math.floor(system.reservoir_max_mm))))
