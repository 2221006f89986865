"""Quiz: a part with another bore is offered. What would it do?"""

from __future__ import annotations

from typing import Any, NamedTuple

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle
from brakecourse.trade.fluid import piston_area_mm2
from brakecourse.views.drawings.bore_pair import bore_pair_svg
from brakecourse.views.force_chain import Bores, ForceChain, bores_of, follow, with_bore
from brakecourse.views.quiz import Quiz, Task
from brakecourse.views.units import both
from brakecourse.views.words import mm, percent

MASTER, PISTON, LOCKS = "another master cylinder", "another caliper piston", "which wheels lock first"
FOOT_N = 250.0
_CHANGES = {"easy": (3.0, 4.0), "normal": (1.5, 3.0), "hard": (1.0, 2.0)}
_LOCK_CHANGES = {"easy": (4.0, 6.0), "normal": (2.0, 5.0), "hard": (1.0, 4.0)}
_NEAR_LOCK = 0.06  # the two axles' pushes must differ by this share, or nobody could say which locks first

LESS_SHORT = "less pressure everywhere, and the pedal goes down less"
MORE_LONG = "more pressure everywhere, and the pedal goes down further"
MORE_SHORT = "more pressure everywhere, and the pedal goes down less"
NO_CHANGE = "no change: the foot pushes as before"
FRONT_FIRST = "the front wheels, as the maker built it"
REAR_FIRST = "now the rear wheels"


class Offer(NamedTuple):
    """What the picture of a case needs."""

    old_mm: float
    new_mm: float
    what: str


class ChangedBore(Quiz):
    """Someone offers a part that fits in place but has another bore. The maker's bores belong together."""

    title = "What does a changed bore do?"
    task = f"The foot pushes as before, {both(FOOT_N, 'N')}. Choose what the new part would do."
    lesson = "04_pedal_to_pad"
    topics = (MASTER, PISTON, LOCKS)

    def __init__(self, name: str = "changed-bore", seed: int = 5, **more: Any) -> None:
        super().__init__(name, seed, **more)

    def draw_task(self, topic: str, difficulty: Difficulty, draw: Draw) -> Task:
        vehicle = draw.choice(tuple(motor_pool().values()))
        low, high = _CHANGES[difficulty]
        size = draw.integer(round(2 * low), round(2 * high)) / 2
        sign = draw.choice((-1, 1))
        if topic == MASTER:
            return _master(vehicle, sign * size)
        if topic == PISTON:
            return _piston(vehicle, draw.choice(("front", "rear")), sign * size)
        return _locks(difficulty, draw)

    def picture(self) -> str:
        offer = self.asked.case
        return bore_pair_svg(offer.old_mm, offer.new_mm, what=offer.what, uid=self.uid)


def _both_chains(vehicle: Vehicle, which: str, change_mm: float) -> tuple[ForceChain, ForceChain, Bores]:
    changed = with_bore(bores_of(vehicle), which, change_mm)
    return follow(vehicle, FOOT_N), follow(vehicle, FOOT_N, changed), changed


def _master(vehicle: Vehicle, change_mm: float) -> Task:
    before, after, changed = _both_chains(vehicle, "master", change_mm)
    old, new = bores_of(vehicle).master_mm, changed.master_mm
    areas = (
        f"The area goes from {_area(old)} to {_area(new)}. The push on it stays {both(before.rod_n, 'N')}."
    )
    found = (
        f"So the pressure goes from {both(before.line_mpa, 'MPa')} to {both(after.line_mpa, 'MPa')}, and the "
        f"pedal's travel from {mm(before.travel_mm, 0)} to {mm(after.travel_mm, 0)}."
    )
    right = LESS_SHORT if change_mm > 0 else MORE_LONG
    gain = (
        "Nothing is for nothing: the piston that makes more pressure must go further for the same fluid."
        if change_mm < 0
        else "The wide piston moves the fluid with less travel, but the same push is spread over more area."
    )
    reasons = dict.fromkeys((LESS_SHORT, MORE_LONG, MORE_SHORT, NO_CHANGE), f"{areas} {found}")
    reasons[right] = f"{areas} {found} {gain}"
    reasons[MORE_SHORT] += " More pressure and less travel together would be force for nothing."
    reasons[NO_CHANGE] = f"The foot does, but pressure is push over area. {areas} {found}"
    return Task(
        MASTER,
        f"For the {vehicle.name} a master cylinder with another bore is offered. What would it do?",
        (LESS_SHORT, MORE_LONG, MORE_SHORT, NO_CHANGE),
        right,
        reasons,
        (("Master cylinder", "Bore"), ("Old", mm(old, 1)), ("New", mm(new, 1))),
        Offer(old, new, "master cylinder"),
    )


def _piston(vehicle: Vehicle, axle: str, change_mm: float) -> Task:
    before, after, changed = _both_chains(vehicle, axle, change_mm)
    old = getattr(bores_of(vehicle), f"{axle}_mm")
    new = getattr(changed, f"{axle}_mm")
    clamps = [getattr(chain, axle).clamp_n for chain in (before, after)]
    larger, smaller = (
        f"the same pressure, and {word} clamp force at the {axle} wheels only" for word in ("more", "less")
    )
    pressure = f"more pressure in the lines, because the {axle} pistons changed"
    everywhere = "the same clamp force: the pressure is the same"
    right = larger if change_mm > 0 else smaller
    found = (
        f"The pressure is made at the master cylinder: it stays {both(before.line_mpa, 'MPa')}. Each {axle} "
        f"piston's area goes from {_area(old)} to {_area(new)}, and the clamp force there from "
        f"{both(clamps[0], 'N')} to {both(clamps[1], 'N')}."
    )
    more_fluid = (
        f" The larger pistons also take more fluid: pedal travel {mm(before.travel_mm, 1)} before, "
        f"{mm(after.travel_mm, 1)} after."
        if change_mm > 0
        else ""
    )
    return Task(
        PISTON,
        f"For the {axle} of the {vehicle.name} calipers with other pistons are offered. What would they do?",
        (larger, smaller, pressure, everywhere),
        right,
        {
            larger: found + more_fluid,
            smaller: found + more_fluid,
            pressure: f"A caliper makes no pressure, it uses it. {found}",
            everywhere: f"The pressure is the same, but force is pressure times area. {found}",
        },
        ((f"One {axle} piston", "Bore"), ("Old", mm(old, 1)), ("New", mm(new, 1))),
        Offer(old, new, f"{axle} piston"),
    )


def _locks(difficulty: Difficulty, draw: Draw) -> Task:
    """Draw a change of one axle's pistons until it is plain which axle locks first."""
    low, high = _LOCK_CHANGES[difficulty]
    wanted = draw.choice(("front", "rear"))
    while True:
        vehicle = draw.choice(tuple(motor_pool().values()))
        axle = draw.choice(("front", "rear"))
        change = draw.choice((-1, 1)) * draw.integer(round(2 * low), round(2 * high)) / 2
        before, after, changed = _both_chains(vehicle, axle, change)
        front, rear = after.locks_at["front"], after.locks_at["rear"]
        if after.locks_first == wanted and abs(front - rear) > _NEAR_LOCK * front:
            break
    old, new = (getattr(one, f"{axle}_mm") for one in (bores_of(vehicle), changed))
    pushes = (
        f"With the new pistons the front wheels lock at {both(after.line_mpa * front, 'MPa')} in the lines, "
        f"the rear wheels at {both(after.line_mpa * rear, 'MPa')}."
    )
    was = {name: both(before.line_mpa * times, "MPa") for name, times in before.locks_at.items()}
    built = f"As the maker built it: front at {was['front']}, rear at {was['rear']}."
    danger = (
        " A rear axle that locks first throws the vehicle round. Never fit these."
        if wanted == "rear"
        else " The front axle still locks first. Still, another bore than the maker's never goes on."
    )
    return Task(
        LOCKS,
        f"For the {axle} of the {vehicle.name} calipers with other pistons are offered. The driver pushes "
        "harder and harder on a dry road. Which wheels lock first?",
        (FRONT_FIRST, REAR_FIRST),
        FRONT_FIRST if wanted == "front" else REAR_FIRST,
        {FRONT_FIRST: f"{pushes} {built}{danger}", REAR_FIRST: f"{pushes} {built}{danger}"},
        (
            ("What", "Front", "Rear"),
            ("Share of the braking, old pistons", percent(before.front.share), percent(before.rear.share)),
            ("Share of the braking, new pistons", percent(after.front.share), percent(after.rear.share)),
            (
                "Share of the load in a hard stop",
                *(percent(share) for share in _load_shares(vehicle, before)),
            ),
        ),
        Offer(old, new, f"{axle} piston"),
    )


def _load_shares(vehicle: Vehicle, chain: ForceChain) -> tuple[float, float]:
    """Return each axle's share of the load at the deceleration that the road's whole grip gives."""
    hard = follow(vehicle, FOOT_N * min(chain.locks_at.values()))
    whole = hard.front.braking_n + hard.rear.braking_n
    return hard.front.braking_n / whole, hard.rear.braking_n / whole


def _area(bore_mm: float) -> str:
    return both(piston_area_mm2(bore_mm), "mm²")
