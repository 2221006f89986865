"""A wheel whose hose, boots and bore are looked at: what is seen and felt, and what may stay.

What a hose's skin looks like is drawn here; whether it leaks or holds pressure, whether a boot is torn and
how hard a piston is to push, follow from the vehicle's condition. All shares: assumptions, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from brakecourse.bench.condition import WheelCondition
from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import WHEELS, Wheel
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import (
    CaliperSealLeak,
    CollapsedHose,
    FittingLeak,
    HoseLeak,
    SeizedPiston,
    TornPinBoot,
    TornPistonBoot,
    VehicleFault,
)

Skin = Literal[
    "whole", "fine lines", "rubbed cover", "cracked to the cords", "rubbed to the cords", "blister"
]
SKINS: tuple[Skin, ...] = get_args(Skin)
GOOD_SKINS: tuple[Skin, ...] = ("whole", "fine lines", "rubbed cover")
Part = Literal["hose", "boots", "bore"]

# What may be the matter with each part; None is nothing. Each as likely as another.
KINDS: Mapping[Part, tuple[type[VehicleFault] | None, ...]] = {
    "hose": (None, None, HoseLeak, CollapsedHose),
    "boots": (None, TornPistonBoot, TornPinBoot),
    "bore": (None, SeizedPiston, CaliperSealLeak, FittingLeak),
}
# How many times as hard as its partner a piston pushes: below the one it is in order, above the other it
# sticks. Between them no case is drawn. Common practice, no source.
ALIKE, STICKS = 1.3, 1.6
HOLDS_NM = 4.0  # what a wheel must get easier by when the bleeder is opened, to call its hose collapsed
_TRIES = 200


@dataclass(frozen=True)
class HoseCase:
    """One wheel at which hose, boots and bore are looked at.

    Attributes:
        part: what is asked about.
        vehicle: the whole vehicle.
        wheel: which wheel.
        skin: what the hose's cover looks like.
        kind: what is the matter, hidden; None for nothing.
    """

    part: Part
    vehicle: VehicleCase
    wheel: Wheel
    skin: Skin
    kind: type[VehicleFault] | None

    @property
    def there(self) -> WheelCondition:
        """What is true at this wheel."""
        return self.vehicle.condition.wheel(self.wheel)

    @property
    def partner(self) -> WheelCondition:
        """What is true at the axle's other wheel."""
        axle, side = self.wheel.split()
        other = f"{axle} {'right' if side == 'left' else 'left'}"
        return next(one for one in self.vehicle.condition.wheels if one.wheel == other)

    @property
    def push_ratio(self) -> float:
        """How many times as hard as at the other wheel the pistons go back."""
        return self.there.caliper.piston_push_back_n / self.partner.caliper.piston_push_back_n

    @property
    def piston_sticks(self) -> bool:
        """The pistons take much more force than those of the other wheel."""
        return self.push_ratio >= STICKS

    @property
    def hose_may_stay(self) -> bool:
        """The hose is dry, lets the pressure go, and its cords are covered."""
        dry = "hose" not in self.there.wet_places
        return dry and self.skin in GOOD_SKINS and not self.hose_holds

    @property
    def hose_holds(self) -> bool:
        """The hose keeps pressure: the wheel comes free with the bleeder, not with the fitting above it."""
        drag = self.there.drag
        eased = drag.torque_nm - drag.bleeder_opened_nm
        return eased >= HOLDS_NM and drag.torque_nm - drag.fitting_opened_nm < eased / 4


def draw_hose_case(part: Part, difficulty: Difficulty, draw: Draw) -> HoseCase:
    """Draw a wheel to look at.

    Args:
        part: ``"hose"``, ``"boots"`` or ``"bore"``.
        difficulty: how far a fault has gone, and how plain a hose's skin speaks.
        draw: chance.

    Raises:
        ValueError: there is no such part or difficulty.
    """
    if part not in KINDS:
        raise ValueError(f"part must be one of {', '.join(KINDS)}, but it was {part!r}.")
    kind = draw.child("kind").choice(KINDS[part])
    for again in range(_TRIES):
        found = _try(part, difficulty, kind, draw.child(f"try {again}"))
        if found is not None:
            return found
    raise ValueError(f"No wheel was found for {part!r} with {kind!r}.")  # the pool always has one


def _try(part: Part, difficulty: Difficulty, kind: type[VehicleFault] | None, draw: Draw) -> HoseCase | None:
    kinds = () if kind is None else (kind,)
    seed = draw.child("vehicle").integer(0, 10**9)
    try:
        vehicle = draw_vehicle(seed, len(kinds), difficulty, kinds)
    except ValueError:  # a caliper without pins has no pin's boot
        return None
    fault = vehicle.faults[0] if vehicle.faults else None
    wheel = getattr(fault, "wheel", None) or draw.child("wheel").choice(WHEELS)
    case = HoseCase(part, vehicle, wheel, _skin(part, difficulty, kind, draw.child("skin")), kind)
    return case if _clear(case) else None


def _skin(part: Part, difficulty: Difficulty, kind: type[VehicleFault] | None, draw: Draw) -> Skin:
    """Draw a skin: a leak has its place, a collapsed hose looks sound, and age shows on any."""
    bad = [one for one in SKINS if one not in GOOD_SKINS]
    if kind is HoseLeak:
        return draw.choice(bad)
    plain: list[Skin] = ["whole"] if difficulty == "easy" else list(GOOD_SKINS)
    if part == "hose" and kind is None and draw.child("bad").uniform() < 0.5:
        return draw.choice(bad)
    return draw.choice(plain)


def _clear(case: HoseCase) -> bool:
    """Tell whether the evidence shows what is the matter, and nothing else."""
    there, kind = case.there, case.kind
    if kind is CollapsedHose:
        return case.hose_holds
    if kind not in (SeizedPiston, TornPistonBoot) and case.push_ratio > ALIKE:
        return False
    if kind is SeizedPiston:
        return case.piston_sticks
    wanted: dict[type[VehicleFault], str] = {
        HoseLeak: "hose",
        CaliperSealLeak: "caliper piston's boot",
        FittingLeak: "fitting at the caliper",
    }
    place = wanted.get(kind) if kind else None
    return there.wet_places == ((place,) if place else ())
