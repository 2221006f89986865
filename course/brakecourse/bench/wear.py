"""How far a rotor must be worn for its thickness to tell the wanted story."""

from __future__ import annotations

import math

from brakecourse.bench.draw import Draw
from brakecourse.bench.gauges import GRADUATION_MM, Micrometer
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.bench.situations import (
    HARD_LARGEST_MARGIN,
    SWITCHING_ZONE,
    TRAP_MM,
    Difficulty,
    Situation,
    suits,
)
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.conformity import guard_band

PLACES_DEG = tuple(45.0 * place for place in range(8))
LEAST_WEAR_MM = 0.05
# How often a kept rotor is worn below the machine-to thickness, and how often down to the discard limit's
# guard band; how often a rotor to be thrown away is only just too thin, and how thin it can be.
WORN_SHARE = 0.4
NEARLY_WORN_OUT_SHARE = 0.2
JUST_TOO_THIN_SHARE = 0.5
BADLY_WORN_MM = 0.6
_MOST_TRIES = 30


def draw_wear_mm(
    draw: Draw,
    vehicle: Vehicle,
    shaped: RotorCondition,
    micrometer: Micrometer,
    situation: Situation,
    difficulty: Difficulty,
) -> float | None:
    """Draw the even wear that brings the smallest thickness where the situation wants it.

    Args:
        draw: where the chance comes from.
        vehicle: whose rotor it is.
        shaped: the rotor with every other fault, not yet worn.
        micrometer: what it will be read with; its scale's error is reckoned in.
        situation: what the readings should come to.
        difficulty: easy, normal or hard.

    Returns:
        The wear in mm, both faces together, or None when no wear can give the situation.
    """
    radius = vehicle.front.measuring_radius_mm
    shown = [micrometer.shown_mm(shaped.between_anvils_mm(angle, radius)) for angle in PLACES_DEG]
    offsets = [shaped.face_offset_mm(angle) for angle in PLACES_DEG]
    smallest, spread = min(shown), max(shown) - min(shown)
    cut_mm = spread + max(offsets) - min(offsets)
    low, high = _smallest_range_mm(draw, vehicle, micrometer, situation, difficulty, cut_mm)
    high = min(high, smallest - LEAST_WEAR_MM)
    for _ in range(_MOST_TRIES):
        if high < low:
            return None
        target = draw.between(low, high)
        if difficulty == "hard" and high - low > 0.5:  # a wide range holds sleeve lines: aim near one
            target = round(target * 2) / 2 + draw.between(-TRAP_MM, TRAP_MM)
        if low <= target <= high and suits([target, target + spread], difficulty):
            return smallest - target
    return None


def _smallest_range_mm(
    draw: Draw,
    vehicle: Vehicle,
    micrometer: Micrometer,
    situation: Situation,
    difficulty: Difficulty,
    cut_mm: float,
) -> tuple[float, float]:
    limits = vehicle.front.rotor
    guard = guard_band(micrometer.standard_uncertainty_mm)
    clear = guard + 2 * GRADUATION_MM if difficulty == "easy" else SWITCHING_ZONE[1] * guard
    undecided = SWITCHING_ZONE[0] * guard
    tight = HARD_LARGEST_MARGIN * guard if difficulty == "hard" else math.inf
    true_mm = limits.machine_to_mm + cut_mm
    if situation == "keep":
        most = {limits.machine_to_mm: WORN_SHARE, limits.discard_mm + 4 * guard: NEARLY_WORN_OUT_SHARE}
        return limits.discard_mm + clear, draw.weighted({**most, limits.nominal_mm: 1 - sum(most.values())})
    if situation == "replace below discard":
        least = 4 * guard if draw.uniform() < JUST_TOO_THIN_SHARE else BADLY_WORN_MM
        return limits.discard_mm - min(least, tight), limits.discard_mm - clear
    if situation == "replace too close to call":
        return limits.discard_mm - undecided, limits.discard_mm + undecided
    if situation == "replace no metal left to true":
        nearest = undecided if difficulty == "hard" else -clear
        return max(limits.discard_mm + clear, true_mm - tight), true_mm + nearest
    return true_mm + clear, limits.nominal_mm
