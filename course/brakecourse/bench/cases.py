"""A rotor case: one vehicle, its hidden condition, and everything the gauges show of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import get_args

from brakecourse.bench.complaints import complaint
from brakecourse.bench.draw import Draw
from brakecourse.bench.faults import Fault
from brakecourse.bench.gauges import DialIndicator, Micrometer
from brakecourse.bench.recipes import Plan, draw_plan
from brakecourse.bench.rotor_condition import RotorCondition
from brakecourse.bench.situations import (
    SHARES,
    Difficulty,
    Situation,
    is_fair,
    is_telling,
    situation_of,
    suits,
)
from brakecourse.bench.vehicles import Vehicle
from brakecourse.bench.wear import PLACES_DEG
from brakecourse.trade.rotor import Instruments, RotorFinding, RotorSpec, run_out_mm, verdict

ROTOR_MODULE = "08_rotor_measurement"
LOOSE_SHOWS_MORE_MM = 0.05
_MOST_TRIES = 5000


@dataclass(frozen=True)
class RotorCase:
    """One rotor to measure and to decide about.

    Attributes:
        seed, difficulty: what it was drawn from.
        vehicle, faults, condition: the truth, hidden from the learner.
        situation: what the correct readings come to.
        complaint: what the customer says.
        micrometer, dial: the gauges.
        angles_deg: the eight places, from the chalk mark.
        thickness_mm: what the micrometer shows at each, in the middle of the track.
        ridge_mm: what it shows with the anvils on the rusty ridge at the outer edge.
        dial_seated_mm: what the dial, set to 0 at the first place, shows at each; all wheel nuts snug.
        dial_loose_mm: the same with the rotor hanging loose: larger, and false.
    """

    seed: int
    difficulty: Difficulty
    vehicle: Vehicle
    faults: tuple[Fault, ...]
    situation: Situation
    complaint: str
    condition: RotorCondition
    micrometer: Micrometer
    dial: DialIndicator
    angles_deg: tuple[float, ...]
    thickness_mm: tuple[float, ...]
    ridge_mm: float
    dial_seated_mm: tuple[float, ...]
    dial_loose_mm: tuple[float, ...]

    @property
    def spec(self) -> RotorSpec:
        """The rotor's thickness when new and its limits."""
        return self.vehicle.front.rotor

    @property
    def instruments(self) -> Instruments:
        """The gauges' standard uncertainties."""
        return _instruments(self.micrometer, self.dial)

    @property
    def readings_mm(self) -> tuple[float, ...]:
        """The correct micrometer readings, to the nearest line."""
        return tuple(self.micrometer.reading(indication) for indication in self.thickness_mm)

    @property
    def ridge_reading_mm(self) -> float:
        """The correct micrometer reading on the ridge, which says nothing about the track."""
        return self.micrometer.reading(self.ridge_mm)

    @property
    def dial_readings_mm(self) -> tuple[float, ...]:
        """The correct dial readings with the wheel nuts fitted, to the nearest line."""
        return tuple(self.dial.reading(indication) for indication in self.dial_seated_mm)

    @property
    def dial_loose_readings_mm(self) -> tuple[float, ...]:
        """The correct dial readings of the loose rotor, to the nearest line."""
        return tuple(self.dial.reading(indication) for indication in self.dial_loose_mm)

    @cached_property
    def finding(self) -> RotorFinding:
        """What the correct readings say about the rotor."""
        return verdict(self.readings_mm, self.dial_readings_mm, self.spec, self.instruments)


def draw_case(
    seed: int,
    module: str = ROTOR_MODULE,
    difficulty: Difficulty = "normal",
    situation: Situation | None = None,
) -> RotorCase:
    """Draw a case. The same arguments give the same case on every computer.

    The situation is drawn first, with the shares in `situations.SHARES`. Then rotors are drawn until the
    correct readings of one give that situation, and so do its indications before rounding.

    Args:
        seed: a whole number, 0 or more.
        module: the module that the case is for.
        difficulty: ``"easy"`` (a line misread changes nothing, one fault at most besides wear, no
            half-millimetre line), ``"normal"``, or ``"hard"`` (the deciding margin is tight, two faults
            besides wear, a reading beside a sleeve line).
        situation: what the readings shall come to; drawn when left out.

    Raises:
        ValueError: the seed, the module, the difficulty or the situation is not one of these.

    >>> draw_case(3) == draw_case(3)
    True
    """
    if module != ROTOR_MODULE:
        raise ValueError(f"module must be '{ROTOR_MODULE}', the one with rotor cases, but it was {module!r}.")
    if difficulty not in get_args(Difficulty):
        raise ValueError(f"difficulty must be 'easy', 'normal' or 'hard', but it was {difficulty!r}.")
    root = Draw(seed).child(f"{module}/{difficulty}")
    wanted = root.weighted(SHARES[difficulty]) if situation is None else situation
    if wanted not in SHARES[difficulty]:
        raise ValueError(f"situation must be one of {', '.join(SHARES[difficulty])}, but it was {wanted!r}.")
    for attempt in range(_MOST_TRIES):
        draw = root.child(f"try {attempt}")
        plan = draw_plan(draw, wanted, difficulty)
        case = None if plan is None else _measure(seed, difficulty, wanted, plan, draw)
        if case is not None:
            return case
    raise RuntimeError(f"No {difficulty} case '{wanted}' was found for seed {seed}; please report this.")


def _measure(
    seed: int, difficulty: Difficulty, situation: Situation, plan: Plan, draw: Draw
) -> RotorCase | None:
    """Read the gauges; None when the readings give another situation, or not a fair one."""
    condition, micrometer = plan.condition, plan.micrometer
    radius = plan.vehicle.front.measuring_radius_mm
    thickness = [
        micrometer.indicate_clear(condition.between_anvils_mm(angle, radius), draw) for angle in PLACES_DEG
    ]
    seated = _turn(plan.dial, condition.face_offset_mm, draw)
    if not suits([micrometer.reading(value) for value in thickness], difficulty):
        return None
    loose = _turn(plan.dial, lambda angle: condition.face_offset_mm(angle, nuts_fitted=False), draw)
    if run_out_mm(loose) < run_out_mm(seated) + LOOSE_SHOWS_MORE_MM:
        return None
    ridge = micrometer.indicate_clear(condition.between_anvils_mm(0, condition.ridge_radius_mm), draw)
    case = RotorCase(
        seed=seed,
        difficulty=difficulty,
        vehicle=plan.vehicle,
        faults=plan.faults,
        situation=situation,
        complaint=complaint(plan.vehicle, plan.faults, condition, draw.child("complaint")),
        condition=condition,
        micrometer=micrometer,
        dial=plan.dial,
        angles_deg=PLACES_DEG,
        thickness_mm=tuple(thickness),
        ridge_mm=ridge,
        dial_seated_mm=seated,
        dial_loose_mm=loose,
    )
    unrounded = verdict(case.thickness_mm, case.dial_seated_mm, case.spec, case.instruments)
    agrees = situation_of(case.finding) == situation == situation_of(unrounded)
    telling = is_telling(case.finding, case.readings_mm, difficulty)
    return case if agrees and telling and is_fair(case.finding, difficulty) else None


def _turn(dial: DialIndicator, offset_mm: Callable[[float], float], draw: Draw) -> tuple[float, ...]:
    """Turn the rotor once past the dial, which is set to 0 at the first place."""
    start, *others = (offset_mm(angle) for angle in PLACES_DEG)
    return (0.0, *(dial.indicate_clear(offset - start, draw) for offset in others))


def _instruments(micrometer: Micrometer, dial: DialIndicator) -> Instruments:
    return Instruments(
        thickness_u_mm=micrometer.standard_uncertainty_mm,
        thickness_difference_u_mm=micrometer.difference_uncertainty_mm,
        dial_difference_u_mm=dial.difference_uncertainty_mm,
    )
