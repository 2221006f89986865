"""What each axle stand carries, and what it must be rated for: pure functions over the trade's axle loads."""

from __future__ import annotations

from brakecourse.bench.specification import Axle
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.hydraulics import STANDARD_GRAVITY_MS2, axle_loads_n

STAND_MARGIN = 1.5
"""How many times its load a stand must be rated for. The course's own rule, no source."""

STANDS_OF_A_PAIR = 2
SIZES_KG = (500, 750, 1000, 1500, 2000, 3000, 4000, 6000)
"""What the stands of the Larkmoor workshop are marked with. Invented."""


def axle_load_kg(vehicle: Vehicle, axle: Axle) -> float:
    """Return what an axle carries at rest on level ground, in kg.

    Source:
        :func:`brakecourse.trade.hydraulics.axle_loads_n` at rest; standard gravity.

    >>> from brakecourse.bench.vehicles import motor_pool
    >>> round(axle_load_kg(motor_pool()["meals_delivery_van"], "front"))
    961
    """
    loads = axle_loads_n(
        vehicle.mass_kg, vehicle.wheelbase_mm, vehicle.cg_height_mm, vehicle.cg_to_front_mm, 0
    )
    return (loads.front_n if axle == "front" else loads.rear_n) / STANDARD_GRAVITY_MS2


def stand_load_kg(vehicle: Vehicle, axle: Axle) -> float:
    """Return what each of two stands under an axle carries when they share evenly, in kg.

    >>> from brakecourse.bench.vehicles import motor_pool
    >>> round(stand_load_kg(motor_pool()["meals_delivery_van"], "front"))
    481
    """
    return axle_load_kg(vehicle, axle) / STANDS_OF_A_PAIR


def rating_needed_kg(vehicle: Vehicle, axle: Axle) -> float:
    """Return what each stand must be rated for at least, in kg: its load times :data:`STAND_MARGIN`.

    >>> from brakecourse.bench.vehicles import motor_pool
    >>> round(rating_needed_kg(motor_pool()["meals_delivery_van"], "front"))
    721
    """
    return STAND_MARGIN * stand_load_kg(vehicle, axle)


def smallest_size_kg(needed_kg: float) -> int:
    """Return the smallest mark of :data:`SIZES_KG` that reaches a rating.

    Raises:
        ValueError: no stand of the workshop is strong enough.

    >>> smallest_size_kg(721)
    750
    """
    for size in SIZES_KG:
        if size >= needed_kg:
            return size
    raise ValueError(f"A rating of at most {SIZES_KG[-1]} kg was expected, but {needed_kg:.0f} kg is needed.")
