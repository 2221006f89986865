"""What the lesson on torque works out: pure functions over the trade, the bench and the table of units."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from brakecourse.bench.parts import Fastener
from brakecourse.bench.shop_gauges import TorqueWrench, torque_wrench
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.published import convert
from brakecourse.trade import fasteners
from brakecourse.trade._bolts import Finish, PropertyClass

WRENCH_LENGTHS_MM: dict[float, float] = {40.0: 300.0, 200.0: 450.0, 400.0: 650.0}
"""The shop's three wrenches by their largest torque: from the square drive to the middle of the grip."""

TESTER_U_SHARE = 0.004
"""Standard uncertainty of the shop's torque tester, a share of the torque. Assumption, no source."""

TURNS_OF_A_WRENCH = 16
LINES_OF_A_TURN = 10


@dataclass(frozen=True)
class Bolt:
    """A fastener, and the vehicle it belongs to.

    Attributes:
        vehicle: of the motor pool.
        where: ``"front"``, ``"rear"``, or empty for a wheel nut.
        fastener: thread, class, torque.
    """

    vehicle: Vehicle
    where: str
    fastener: Fastener

    @property
    def name(self) -> str:
        """What the shop calls it: ``front bracket bolt``."""
        return f"{self.where} {self.fastener.name}".strip()

    @property
    def owner(self) -> str:
        """The name with the vehicle: ``the front bracket bolts of the minibus``."""
        return f"the {self.name}s of the {self.vehicle.name}"


def bolts_of(vehicle: Vehicle) -> tuple[Bolt, ...]:
    """Return a vehicle's wheel nuts, caliper bolts and bracket bolts."""
    calipers = [(brake.axle, brake.caliper) for brake in (vehicle.front, vehicle.rear)]
    others = [Bolt(vehicle, axle, one) for axle, cal in calipers for one in (cal.bracket_bolt, cal.bolt)]
    return (Bolt(vehicle, "", vehicle.wheel_nut), *others)


@cache
def all_bolts() -> tuple[Bolt, ...]:
    """Return every fastener of the motor pool."""
    return tuple(bolt for vehicle in motor_pool().values() for bolt in bolts_of(vehicle))


def turn_nm(wrench: TorqueWrench) -> float:
    """Return what one turn of the grip is worth, N·m."""
    return wrench.scale.numbered


def setting_nm(wrench: TorqueWrench, turns: int, line: int) -> float:
    """Return the setting after some turns of the grip from the low end, and the line at the index mark."""
    one = turn_nm(wrench)
    return wrench.scale.held(wrench.scale.start + turns * one + line * one / LINES_OF_A_TURN)


def turns_and_line(wrench: TorqueWrench, set_nm: float) -> tuple[int, int]:
    """Return the full turns from the low end and the grip's line that make a setting."""
    lines = round((set_nm - wrench.scale.start) / wrench.scale.line)
    return divmod(lines, LINES_OF_A_TURN)


def wrenches() -> Iterator[TorqueWrench]:
    """Yield the shop's torque wrenches, the small one first."""
    return (torque_wrench(largest) for largest in WRENCH_LENGTHS_MM)


def length_mm(wrench: TorqueWrench) -> float:
    """Return a wrench's length from the square drive to the middle of its grip, mm."""
    return WRENCH_LENGTHS_MM[wrench.largest_nm]


def arm_share(wrench_mm: float, extension_mm: float, angle_deg: float) -> float:
    """Return how many times longer an extension makes the lever."""
    return 1 / fasteners.wrench_setting_nm(1.0, wrench_mm, extension_mm, angle_deg)


def applied_nm(set_nm: float, wrench_mm: float, extension_mm: float, angle_deg: float = 0.0) -> float:
    """Return the torque at the bolt when a wrench with an extension clicks, N·m.

    Source:
        :func:`brakecourse.trade.fasteners.wrench_setting_nm`, solved for the torque at the fastener.

    >>> round(applied_nm(100.0, 500.0, 150.0), 6)
    130.0
    """
    return set_nm * arm_share(wrench_mm, extension_mm, angle_deg)


def lbfft(torque_nm: float) -> float:
    """Return a torque in pounds-force times feet; it comes in N·m."""
    return convert(torque_nm, "N*m", "lbf*ft")


def lbfin(torque_nm: float) -> float:
    """Return a torque in pounds-force times inches; it comes in N·m."""
    return convert(torque_nm, "N*m", "lbf*in")


def proof_load_n(diameter_mm: float, pitch_mm: float, property_class: PropertyClass) -> float:
    """Return the proof load of a thread, N."""
    return 1 / fasteners.proof_fraction(1.0, diameter_mm, pitch_mm, property_class)


def preload_lbf(torque_lbfin: float, diameter_in: float, nut_factor: float) -> float:
    """Return a clamp load in pounds-force from US units: torque in lbf·in, thread in inches.

    Source:
        :func:`brakecourse.trade.fasteners.preload_n`.
    """
    torque_nm, diameter_mm = convert(torque_lbfin, "lbf*in", "N*m"), convert(diameter_in, "in", "mm")
    return convert(fasteners.preload_n(torque_nm, diameter_mm, nut_factor), "N", "lbf")


def clamp_range_n(
    one: Fastener, torque_nm: float, finish: Finish, tool_tolerance: float
) -> tuple[float, float, float]:
    """Return the least, the middle and the largest clamp load of a bolt, N.

    Args:
        one: the bolt.
        torque_nm: what is set.
        finish: how its threads are.
        tool_tolerance: how far the tool may miss, as a share.

    Source:
        :func:`brakecourse.trade.fasteners.preload_range_n`; the threads scatter as ten oiled bolts of a
        textbook did.
    """
    factor = fasteners.nut_factor(finish)
    low, high = fasteners.preload_range_n(
        torque_nm, one.diameter_mm, factor, tool_tolerance, fasteners.lubricated_scatter()
    )
    return low, fasteners.preload_n(torque_nm, one.diameter_mm, factor), high


def nuts_apart(one: int, other: int, studs: int) -> int:
    """Return how many places two studs stand apart, counted the shorter way round."""
    steps = abs(one - other)
    return min(steps, studs - steps)


def farthest_left(tight: tuple[int, ...], studs: int) -> tuple[int, ...]:
    """Return which studs may come next: of those left, the ones farthest from the last one.

    With 4, 5 and 6 studs this gives :func:`brakecourse.trade.fasteners.tightening_order` from any start,
    in either direction.

    >>> farthest_left((1, 4), 6)
    (2, 6)
    """
    left = [stud for stud in range(1, studs + 1) if stud not in tight]
    if not tight or not left:
        return tuple(left)
    most = max(nuts_apart(stud, tight[-1], studs) for stud in left)
    return tuple(stud for stud in left if nuts_apart(stud, tight[-1], studs) == most)
