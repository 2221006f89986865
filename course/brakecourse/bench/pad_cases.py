"""A wheel's two pads taken out of a vehicle: what is drawn, what the depth gauge shows, what follows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import get_args

from brakecourse.bench.checks import whole
from brakecourse.bench.condition import WheelCondition, live
from brakecourse.bench.draw import Draw
from brakecourse.bench.pad_situations import CLOSE, SITUATIONS, marks_of
from brakecourse.bench.shop_gauges import DepthGauge, depth_gauge
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import WHEELS, AxleBrake, Wheel, axle_of
from brakecourse.bench.vehicle_cases import DrawnRoots, draw_roots
from brakecourse.bench.vehicle_faults import VehicleFault, act_all
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.pads import Evidence, PadLimits, PadReading, WearFinding, classify_wear

CORNERS = (
    "leading end, outer edge",
    "leading end, inner edge",
    "trailing end, outer edge",
    "trailing end, inner edge",
)
"""The four corners of a pad, in the order of ``PadReading``."""

# How far the deciding checks lie from their limits, in guard bands: from and to. A check nearer than one is
# too close to call.
MARGINS: dict[Difficulty, tuple[float, float]] = {
    "easy": (2.5, 1000.0),
    "normal": (1.5, 1000.0),
    "hard": (1.1, 6.0),
}
_MOST_TRIES = 400
_SAME_VEHICLE = 8  # tries with one vehicle before another comes: drawing its sound state takes the most time


@dataclass(frozen=True)
class PadCase:
    """The two pads of one wheel.

    Attributes:
        seed, difficulty: what it was drawn from.
        situation: which of ``SITUATIONS`` it is.
        vehicle, wheel: where the pads come from.
        km: distance that the pads have gone.
        faults: what has happened, hidden from the learner.
        condition: everything that is true at the wheel.
        other: the same of the axle's other wheel, to compare with.
        gauge: the depth gauge.
        inner_mm, outer_mm: what it shows at each pad's four corners, in the order of ``CORNERS``.
        step_mm: what it shows of the step at the edge, inner pad and outer pad.
    """

    seed: int
    difficulty: Difficulty
    situation: str
    vehicle: Vehicle
    wheel: Wheel
    km: float
    faults: tuple[VehicleFault, ...]
    condition: WheelCondition
    other: WheelCondition
    gauge: DepthGauge
    inner_mm: tuple[float, float, float, float]
    outer_mm: tuple[float, float, float, float]
    step_mm: tuple[float, float]

    @property
    def brake(self) -> AxleBrake:
        """The axle's brake with its limits."""
        return self.vehicle.axle(axle_of(self.wheel))

    @property
    def limits(self) -> PadLimits:
        """The pads' limits and the gauge's uncertainty."""
        pad = self.brake.pad
        return PadLimits(
            pad.minimum_mm,
            pad.max_taper_mm,
            pad.max_pair_difference_mm,
            pad.max_step_mm,
            self.gauge.standard_uncertainty,
            self.gauge.difference_uncertainty(pad.lining_new_mm, 0.0),
        )

    @cached_property
    def inner(self) -> PadReading:
        """The correct readings of the inner pad, to the nearest line."""
        return self._read(self.inner_mm, self.step_mm[0])

    @cached_property
    def outer(self) -> PadReading:
        """The correct readings of the outer pad, to the nearest line."""
        return self._read(self.outer_mm, self.step_mm[1])

    @cached_property
    def finding(self) -> WearFinding:
        """What the correct readings say about the pads."""
        return classify_wear(self.inner, self.outer, self.limits)

    @property
    def marks(self) -> frozenset[str]:
        """What the readings and the faces show, in short words."""
        return marks_of(self.finding, self.condition.pads)

    @property
    def pattern(self) -> str:
        """The pattern in a learner's words."""
        return SITUATIONS[self.situation].pattern

    @property
    def cause(self) -> str:
        """The part or the happening behind it, in a learner's words."""
        return SITUATIONS[self.situation].cause

    def _read(self, corners: Sequence[float], step: float) -> PadReading:
        leading_outer, leading_inner, trailing_outer, trailing_inner = map(self.gauge.reading, corners)
        return PadReading(
            leading_outer, leading_inner, trailing_outer, trailing_inner, self.gauge.reading(step)
        )


def draw_pad_case(
    seed: int, situation: str, difficulty: Difficulty = "normal", vehicle: str | None = None
) -> PadCase:
    """Draw the pads of one wheel. The same arguments give the same case on every computer.

    Vehicles, wheels and degrees are drawn until the correct readings show what the situation is to show and
    nothing else, as do the true corners without the gauge's error.

    Args:
        seed: a whole number, 0 or more.
        situation: one of :data:`brakecourse.bench.pad_situations.SITUATIONS`.
        difficulty: ``"easy"`` (far from every limit), ``"normal"`` or ``"hard"`` (near to a limit).
        vehicle: the key of a vehicle of the motor pool; drawn when left out.

    Raises:
        ValueError: an argument is not one of these, or the vehicle cannot have the situation.

    >>> case = draw_pad_case(1, "dry pins")
    >>> case.pattern, case == draw_pad_case(1, "dry pins")
    ('inner pad thin', True)
    """
    whole("seed", seed, 0)
    if situation not in SITUATIONS:
        raise ValueError(f"situation must be one of {', '.join(SITUATIONS)}, but it was {situation!r}.")
    if difficulty not in get_args(Difficulty):
        raise ValueError(f"difficulty must be 'easy', 'normal' or 'hard', but it was {difficulty!r}.")
    if vehicle is not None and vehicle not in motor_pool():
        raise ValueError(f"vehicle must be one of {', '.join(motor_pool())}, but it was {vehicle!r}.")
    root = Draw(seed).child(f"pads/{situation}/{difficulty}")
    chosen = None if vehicle is None else motor_pool()[vehicle]
    for attempt in range(_MOST_TRIES):
        draw = root.child(f"try {attempt}")
        if attempt % _SAME_VEHICLE == 0:
            sound = draw_roots(draw.child("vehicle").integer(0, 10**9), 0, difficulty, vehicle=chosen)
        case = _measure(seed, situation, difficulty, sound, draw)
        if case is not None:
            return case
    raise ValueError(
        f"The situation {situation!r} was not found for seed {seed}; take another vehicle or seed."
    )


def _measure(
    seed: int, situation: str, difficulty: Difficulty, sound: DrawnRoots, draw: Draw
) -> PadCase | None:
    """Let the faults act and read the gauge; None when that gives another situation, or not a fair one."""
    kind, vehicle = SITUATIONS[situation], sound.vehicle
    wheel = draw.child("wheel").choice(WHEELS)
    brake = vehicle.axle(axle_of(wheel))
    if kind.pinned and brake.caliper.pin is None:
        return None
    faults = kind.make(draw.child("faults"), vehicle, wheel, kind.severity)
    roots = act_all(sound.sound_roots, faults, vehicle, sound.km)
    condition = live(vehicle, roots, sound.km)
    here = condition.wheel(wheel)
    side = "right" if wheel.endswith("left") else "left"
    (facing,) = (one for one in WHEELS if axle_of(one) == axle_of(wheel) and one.endswith(side))
    gauge = depth_gauge()
    shown = draw.child("gauge")

    def read(corners: Sequence[float]) -> tuple[float, ...]:
        return tuple(gauge.indicate_clear(corner, shown) for corner in corners)

    pads = here.pads
    if max(*pads.inner.corners_mm, *pads.outer.corners_mm) > gauge.scale.end:
        return None
    case = PadCase(
        seed=seed,
        difficulty=difficulty,
        situation=situation,
        vehicle=vehicle,
        wheel=wheel,
        km=sound.km + roots.wheel(wheel).overdue_km,
        faults=faults,
        condition=here,
        other=condition.wheel(facing),
        gauge=gauge,
        inner_mm=read(pads.inner.corners_mm),  # type: ignore[arg-type]
        outer_mm=read(pads.outer.corners_mm),  # type: ignore[arg-type]
        step_mm=read((pads.inner.step_mm, pads.outer.step_mm)),  # type: ignore[arg-type]
    )
    return case if _is_fair(case, kind.marks) else None


def _is_fair(case: PadCase, wanted: frozenset[str]) -> bool:
    """Whether the readings show the situation alone, and no nearer to a limit than the difficulty says."""
    if case.marks != wanted:
        return False
    if CLOSE in wanted:
        return True
    pads = case.condition.pads
    if marks_of(classify_wear(pads.inner, pads.outer, case.limits), pads) != wanted:
        return False
    low, high = MARGINS[case.difficulty]
    outside = [_bands(one) for one in case.finding.evidence if one.decision.verdict == "outside"]
    nearest = min(map(_bands, case.finding.evidence))
    return nearest >= low and (not outside or min(outside) <= high)


def _bands(one: Evidence) -> float:
    """How far a check lies from its limit, in guard bands."""
    return abs(one.decision.margin) / one.decision.guard_band
