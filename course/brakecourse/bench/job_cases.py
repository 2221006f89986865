"""A whole job: a vehicle with one or two hidden faults, and the gauges' readings at one of its wheels."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import get_args

from brakecourse.bench.condition import WheelCondition
from brakecourse.bench.draw import Draw
from brakecourse.bench.gauges import DialIndicator, Micrometer, dial_indicator, shop_micrometer
from brakecourse.bench.pad_cases import CORNERS, PadCase
from brakecourse.bench.shop_gauges import depth_gauge
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import WHEELS, Axle, AxleBrake, Wheel, axle_of
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import AxleFault, VehicleFault, WheelFault
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.pads import WearFinding
from brakecourse.trade.rotor import Instruments, RotorFinding, verdict

__all__ = ["CORNERS", "PLACES_DEG", "JobCase", "draw_whole_job", "measure", "measure_wheel"]

PLACES_DEG = tuple(45.0 * place for place in range(8))
FAULTS_OF: dict[Difficulty, int] = {"easy": 1, "normal": 1, "hard": 2}
"""How many faults a job hides."""
_CLEAR_MM = 0.05  # so far from the end of a micrometer's range
_TRIES = 5  # so often a job is looked for in which pads or rotor need something


@dataclass(frozen=True)
class JobCase:
    """One vehicle, and what the gauges show at the wheel that the job is about.

    Attributes:
        case: the vehicle with its hidden faults.
        wheel: the wheel that is measured.
        pads: its two pads and what the depth gauge shows.
        micrometer, dial: the gauges for the rotor.
        thickness_mm: what the micrometer shows at ``PLACES_DEG``.
        dial_mm: what the dial shows there, set to 0 at the first place, all wheel nuts fitted.
    """

    case: VehicleCase
    wheel: Wheel
    pads: PadCase
    micrometer: Micrometer
    dial: DialIndicator
    thickness_mm: tuple[float, ...]
    dial_mm: tuple[float, ...]

    @property
    def vehicle(self) -> Vehicle:
        """Which vehicle it is."""
        return self.case.vehicle

    @property
    def axle(self) -> Axle:
        """The axle of the measured wheel."""
        return axle_of(self.wheel)

    @property
    def brake(self) -> AxleBrake:
        """The axle's brake with the maker's limits."""
        return self.vehicle.axle(self.axle)

    @property
    def condition(self) -> WheelCondition:
        """What is true at the wheel."""
        return self.case.condition.wheel(self.wheel)

    @property
    def faults(self) -> tuple[VehicleFault, ...]:
        """What has happened to the vehicle, hidden from the learner."""
        return self.case.faults

    @property
    def lining(self) -> WearFinding:
        """What the correct readings say about the pads."""
        return self.pads.finding

    @property
    def readings_mm(self) -> tuple[float, ...]:
        """The eight thicknesses, read to the nearest line."""
        return tuple(map(self.micrometer.reading, self.thickness_mm))

    @property
    def dial_readings_mm(self) -> tuple[float, ...]:
        """The eight dial readings, to the nearest line."""
        return tuple(map(self.dial.reading, self.dial_mm))

    @property
    def instruments(self) -> Instruments:
        """The gauges' uncertainties."""
        return Instruments(
            self.micrometer.standard_uncertainty_mm,
            self.micrometer.difference_uncertainty_mm,
            self.dial.difference_uncertainty_mm,
        )

    @cached_property
    def rotor(self) -> RotorFinding:
        """What the correct readings say about the rotor."""
        return verdict(self.readings_mm, self.dial_readings_mm, self.brake.rotor, self.instruments)

    @property
    def is_plain(self) -> bool:
        """Whether pads and rotor may stay as they are."""
        return self.lining.action == "keep" and self.rotor.action == "keep"


def draw_whole_job(seed: int, difficulty: Difficulty = "normal", vehicle: str | None = None) -> JobCase:
    """Draw a whole job. The same arguments give the same job on every computer.

    Most vehicles have pads and rotors that may stay, so a few are drawn, and the first that needs something
    is taken; when none does, the last one.

    Args:
        seed: a whole number, 0 or more.
        difficulty: ``"easy"`` and ``"normal"`` hide one fault, ``"hard"`` two that have just begun.
        vehicle: the key of a vehicle of the motor pool; drawn when left out.

    Raises:
        ValueError: an argument is not one of these.

    >>> job = draw_whole_job(4)
    >>> job == draw_whole_job(4), len(job.faults)
    (True, 1)
    """
    if difficulty not in get_args(Difficulty):
        raise ValueError(f"difficulty must be 'easy', 'normal' or 'hard', but it was {difficulty!r}.")
    if vehicle is not None and vehicle not in motor_pool():
        raise ValueError(f"vehicle must be one of {', '.join(motor_pool())}, but it was {vehicle!r}.")
    root = Draw(seed).child(f"whole job/{difficulty}")
    chosen = None if vehicle is None else motor_pool()[vehicle]
    last: JobCase | None = None
    for again in range(_TRIES):
        draw = root.child(f"vehicle {again}")
        case = draw_vehicle(
            draw.child("seed").integer(0, 10**9), FAULTS_OF[difficulty], difficulty, vehicle=chosen
        )
        if not fits_one_micrometer(case, worst_wheel(case)):
            continue
        last = measure(case, draw)
        if not last.is_plain:
            break
    if last is None:
        raise ValueError(f"No {difficulty} job was found for seed {seed}; take another seed.")
    return last


def measure(case: VehicleCase, draw: Draw) -> JobCase:
    """Take the gauges to the wheel that a vehicle's faults show at.

    Args:
        case: the vehicle.
        draw: where the chance of hand and gauge comes from.
    """
    return measure_wheel(case, worst_wheel(case), draw)


def measure_wheel(case: VehicleCase, wheel: Wheel, draw: Draw) -> JobCase:
    """Take the gauges to one wheel of a vehicle.

    Args:
        case: the vehicle.
        wheel: which one.
        draw: where the chance of hand and gauge comes from.

    Raises:
        ValueError: its rotor reaches over both micrometers' ranges.
    """
    if not fits_one_micrometer(case, wheel):
        raise ValueError(
            f"No one micrometer reaches round the rotor of the {wheel} wheel; take another case."
        )
    rotor, dial = case.condition.wheel(wheel).rotor.rotor, dial_indicator()
    thickness = _thickness_mm(case, wheel)
    micrometer = shop_micrometer(25 if min(thickness) > 25 else 0)
    hand = draw.child("micrometer")
    shown = tuple(micrometer.indicate_clear(value, hand) for value in thickness)
    hand = draw.child("dial")
    start, *others = (rotor.face_offset_mm(angle) for angle in PLACES_DEG)
    turned = (0.0, *(dial.indicate_clear(offset - start, hand) for offset in others))
    return JobCase(case, wheel, _pads(case, wheel, draw), micrometer, dial, shown, turned)


def fits_one_micrometer(case: VehicleCase, wheel: Wheel) -> bool:
    """Tell whether one micrometer, 0-25 or 25-50 mm, reaches all places of a wheel's rotor."""
    thickness = _thickness_mm(case, wheel)
    return max(thickness) < 25 - _CLEAR_MM or min(thickness) > 25 + _CLEAR_MM


def _thickness_mm(case: VehicleCase, wheel: Wheel) -> tuple[float, ...]:
    """What is true between the anvils at each place, mid-track."""
    rotor, brake = case.condition.wheel(wheel).rotor.rotor, case.vehicle.axle(axle_of(wheel))
    return tuple(rotor.between_anvils_mm(angle, brake.measuring_radius_mm) for angle in PLACES_DEG)


def _pads(case: VehicleCase, wheel: Wheel, draw: Draw) -> PadCase:
    gauge, hand = depth_gauge(), draw.child("depth gauge")
    here = case.condition.wheel(wheel)
    facing = next(one for one in WHEELS if axle_of(one) == axle_of(wheel) and one != wheel)
    inner, outer, step = (
        tuple(gauge.indicate_clear(value, hand) for value in values)
        for values in (
            here.pads.inner.corners_mm,
            here.pads.outer.corners_mm,
            (here.pads.inner.step_mm, here.pads.outer.step_mm),
        )
    )
    return PadCase(
        seed=case.seed,
        difficulty=case.difficulty,
        situation="whole job",
        vehicle=case.vehicle,
        wheel=wheel,
        km=case.km + case.roots.wheel(wheel).overdue_km,
        faults=case.faults,
        condition=here,
        other=case.condition.wheel(facing),
        gauge=gauge,
        inner_mm=inner,  # type: ignore[arg-type]
        outer_mm=outer,  # type: ignore[arg-type]
        step_mm=step,  # type: ignore[arg-type]
    )


def worst_wheel(case: VehicleCase) -> Wheel:
    """Return the wheel that a job is about: the first with a fault, else the one with the thinnest lining."""
    for fault in case.faults:
        if isinstance(fault, WheelFault):
            return fault.wheel
        if isinstance(fault, AxleFault):
            return "front left" if fault.axle == "front" else "rear left"
    pads = {one.wheel: one.pads for one in case.condition.wheels}
    return min(WHEELS, key=lambda wheel: min(*pads[wheel].inner.corners_mm, *pads[wheel].outer.corners_mm))
