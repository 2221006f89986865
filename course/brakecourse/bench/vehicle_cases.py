"""A vehicle with a hidden condition, drawn from a seed: its faults, and what the customer says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import get_args

from brakecourse.bench._sound import sound_km, sound_wheels
from brakecourse.bench.checks import whole
from brakecourse.bench.condition import VehicleCondition, live, road_of
from brakecourse.bench.draw import Draw
from brakecourse.bench.roots import Roots
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_complaints import complaint
from brakecourse.bench.vehicle_faults import FAULTS, VehicleFault, act_all
from brakecourse.bench.vehicles import Vehicle, motor_pool

MOST_FAULTS = 2
# How severe a fault is drawn, from and to. Assumption, no source.
SEVERITIES: dict[Difficulty, tuple[float, float]] = {
    "easy": (0.6, 1.0),
    "normal": (0.3, 1.0),
    "hard": (0.1, 0.5),
}


@dataclass(frozen=True)
class VehicleCase:
    """One vehicle to examine.

    Attributes:
        seed, difficulty: what it was drawn from.
        vehicle: which one.
        km: distance since its pads were new and its reservoir was filled.
        faults: what has happened to it, hidden from the learner; none, one or two.
        sound_roots: what it would be like without them: never perfect.
        roots: what is the matter with it.
        condition: everything that follows.
        complaint: what the customer says.
    """

    seed: int
    difficulty: Difficulty
    vehicle: Vehicle
    km: float
    faults: tuple[VehicleFault, ...]
    sound_roots: Roots
    roots: Roots
    condition: VehicleCondition
    complaint: str

    @cached_property
    def sound(self) -> VehicleCondition:
        """The same vehicle without its faults."""
        return live(self.vehicle, self.sound_roots, self.km)


@dataclass(frozen=True)
class DrawnRoots:
    """What is the matter with a vehicle, and nothing that follows from it; attributes as `VehicleCase`."""

    vehicle: Vehicle
    km: float
    faults: tuple[VehicleFault, ...]
    sound_roots: Roots
    roots: Roots


def draw_vehicle(
    seed: int,
    faults: int = 1,
    difficulty: Difficulty = "normal",
    kinds: Sequence[type[VehicleFault]] = FAULTS,
    vehicle: Vehicle | None = None,
) -> VehicleCase:
    """Draw a vehicle. The same arguments give the same vehicle on every computer.

    Args:
        seed: a whole number, 0 or more.
        faults: how many it has: 0, 1 or 2, each of another kind.
        difficulty: ``"easy"`` (severe faults), ``"normal"`` or ``"hard"`` (faults that have just begun).
        kinds: what the faults are drawn from, each kind as likely; all when left out.
        vehicle: which vehicle; drawn when left out.

    Raises:
        ValueError: an argument is not one of these, or the vehicle cannot have so many of the kinds.

    >>> draw_vehicle(3) == draw_vehicle(3)
    True
    """
    drawn = draw_roots(seed, faults, difficulty, kinds, vehicle)
    condition = live(drawn.vehicle, drawn.roots, drawn.km)
    usual_stop_m = road_of(drawn.vehicle, drawn.sound_roots).stopping_distance_m
    return VehicleCase(
        seed=seed,
        difficulty=difficulty,
        vehicle=drawn.vehicle,
        km=drawn.km,
        faults=drawn.faults,
        sound_roots=drawn.sound_roots,
        roots=drawn.roots,
        condition=condition,
        complaint=complaint(
            drawn.vehicle, condition, usual_stop_m, _chance(seed, difficulty).child("complaint")
        ),
    )


def draw_roots(
    seed: int,
    faults: int = 1,
    difficulty: Difficulty = "normal",
    kinds: Sequence[type[VehicleFault]] = FAULTS,
    vehicle: Vehicle | None = None,
) -> DrawnRoots:
    """Draw only what is the matter with the vehicle of `draw_vehicle`, which takes a fraction of the time.

    Args and raises: as `draw_vehicle`.

    >>> draw_roots(3).roots == draw_vehicle(3).roots
    True
    """
    count = whole("faults", faults, 0, MOST_FAULTS)
    if difficulty not in get_args(Difficulty):
        raise ValueError(f"difficulty must be 'easy', 'normal' or 'hard', but it was {difficulty!r}.")
    strange = [kind for kind in kinds if kind not in FAULTS]
    if strange:
        raise ValueError(f"kinds must hold faults of a vehicle only, but one was {strange[0]!r}.")
    if vehicle is not None and not isinstance(vehicle, Vehicle):
        raise ValueError(f"vehicle must be a Vehicle of the bench, but it was {vehicle!r}.")
    root = _chance(seed, difficulty)
    chosen = vehicle or root.child("which vehicle").choice(list(motor_pool().values()))
    km = sound_km(root.child("km"), chosen)
    sound_roots = sound_wheels(root.child("sound"), chosen)
    found = _draw_faults(root.child("faults"), chosen, count, difficulty, kinds)
    return DrawnRoots(chosen, km, found, sound_roots, act_all(sound_roots, found, chosen, km))


def with_fault(case: VehicleCase, fault: VehicleFault, draw: Draw) -> VehicleCase:
    """Return the same vehicle with one more fault.

    Args:
        case: the vehicle.
        fault: what has happened besides; of another kind than those it has.
        draw: how the customer tells of it.

    Raises:
        ValueError: it has such a fault already, or as many as a vehicle may have.

    >>> from brakecourse.bench.vehicle_faults import OldFluid, WornPads
    >>> van = draw_vehicle(3, kinds=(WornPads,))
    >>> [one.id for one in with_fault(van, OldFluid(0.5), Draw(1)).faults]
    ['worn_pads', 'old_fluid']
    """
    if len(case.faults) >= MOST_FAULTS or fault.id in (one.id for one in case.faults):
        known = ", ".join(one.id for one in case.faults)
        raise ValueError(
            f"fault must be the second one, of a new kind, but it was {fault.id} beside {known}."
        )
    # In the order of the list, as in every drawn vehicle.
    faults = tuple(sorted((*case.faults, fault), key=lambda one: FAULTS.index(type(one))))
    roots = act_all(case.sound_roots, faults, case.vehicle, case.km)
    condition = live(case.vehicle, roots, case.km)
    usual_stop_m = road_of(case.vehicle, case.sound_roots).stopping_distance_m
    told = complaint(case.vehicle, condition, usual_stop_m, draw)
    return replace(case, faults=faults, roots=roots, condition=condition, complaint=told)


def _chance(seed: int, difficulty: Difficulty) -> Draw:
    return Draw(seed).child(f"vehicle/{difficulty}")


def _draw_faults(
    draw: Draw, vehicle: Vehicle, count: int, difficulty: Difficulty, kinds: Sequence[type[VehicleFault]]
) -> tuple[VehicleFault, ...]:
    possible = [kind for kind in kinds if kind.fits(vehicle)]
    if len(possible) < count:
        raise ValueError(
            f"kinds must hold at least {count} that the {vehicle.name} can have, but {len(possible)} fitted."
        )
    chosen = draw.shuffled(possible)[:count]
    # In the order of the list, so that the same two faults always act in the same order.
    chosen.sort(key=lambda kind: FAULTS.index(kind))
    severity = SEVERITIES[difficulty]
    return tuple(
        kind.drawn(draw.child(kind.id), vehicle, draw.child(f"{kind.id} severity").between(*severity))
        for kind in chosen
    )
