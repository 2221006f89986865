"""What is true of the push behind a case, and how it is drawn."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from pydantic import Field

from brakecourse.bench.draw import Draw
from brakecourse.bench.fluid_gauges import pressure_gauge
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import AXLES, Axle
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.marking.readings import SealedReading, seal_reading
from brakecourse.marking.sealed import Finite, Record, Truth
from brakecourse.trade import hydraulics
from brakecourse.views.force_chain import bores_of, follow, with_bore

Part = Literal["master", "front", "rear"]

MODULE = "04_pedal_to_pad"
MOST_TRIES = 500

AS_IT_SHOULD, NO_BOOSTER, TOO_HIGH = "as it should be", "no booster", "too high"
SHARES: Mapping[str, float] = MappingProxyType({AS_IT_SHOULD: 0.4, NO_BOOSTER: 0.35, TOO_HIGH: 0.25})
"""As often as in the lesson. Assumption, no source."""

FULL_MPA = 16.0
LEAST_MPA = 1.0
"""Below that the gauge's lines are too coarse to tell anything. Assumption, no source."""

MOST_SLOWING_MS2, MOST_NOW_MS2 = 7.2, 8.0
"""No stop of the exercise asks for more than a dry road gives. Assumption, no source."""

CLOSE_PARTS = 0.5
"""A sound gauge may use up half of what it may be off by; the rest keeps the decision from tipping."""

COMPLAINTS = (
    "The driver says: “It does not brake as it used to.”",
    "The driver says: “My foot tells me that the brakes have changed. Please find out.”",
    "The driver asks for the brakes to be measured before a long trip with a full load.",
    "The motor pool asks for the brakes to be measured: two drivers say different things about them.",
)

_FEET: dict[Difficulty, tuple[int, int]] = {"easy": (15, 25), "normal": (12, 27), "hard": (10, 28)}
_HIGH: dict[Difficulty, tuple[float, float]] = {"easy": (1.5, 1.7), "normal": (1.3, 1.6), "hard": (1.2, 1.4)}
_BORE_STEPS: dict[Difficulty, tuple[int, int]] = {"easy": (4, 8), "normal": (3, 6), "hard": (2, 4)}
_OFFERS: dict[Part, float] = {"master": 0.5, "front": 0.25, "rear": 0.25}


class Brake(Record):
    """The brakes of one axle, as printed on the work order.

    Attributes:
        kind, pistons, pushing: the caliper; ``pushing`` of its pistons press one pad.
        bore_mm: diameter of one piston.
        friction, radius_mm: coefficient of friction, and effective radius.
        standing_n: load of the axle when the vehicle stands, whole newtons.
    """

    kind: Literal["floating", "fixed"]
    pistons: int
    pushing: int
    bore_mm: Finite
    friction: Finite
    radius_mm: Finite
    standing_n: Finite


class Offer(Record):
    """A part with another bore.

    Attributes:
        part: ``"master"``, or the axle of its calipers.
        old_mm, new_mm: the bore as the maker built it, and the offered one.
        line_mpa, travel_mm: pressure and pedal travel of the same push before, and with the part.
        clamp_n: clamp force at the part's axle before and after; front for the master cylinder.
    """

    part: Part
    old_mm: Finite
    new_mm: Finite
    line_mpa: tuple[Finite, Finite]
    travel_mm: tuple[Finite, Finite]
    clamp_n: tuple[Finite, Finite]


class ForceTruth(Truth):
    """One push on the pedal of one vehicle.

    Attributes:
        foot_n, pedal_ratio, booster_n, master_mm: what makes the pressure, the booster sound.
        rear_share: how much of the pressure the valve lets through to the rear.
        front, rear: the brakes of each axle.
        tyre_mm, mass_kg, wheelbase_mm: the vehicle.
        height_mm, back_mm: its centre of gravity, above the road and behind the front axle.
        gauge, off_mpa: the pressure gauge, pedal held, and how far it may be off, as printed.
        speed_kmh, reaction_s: the stop that is asked for.
        offer: the part with another bore.
    """

    foot_n: Finite
    pedal_ratio: Finite
    booster_n: Finite
    master_mm: Finite
    rear_share: Finite
    front: Brake
    rear: Brake
    tyre_mm: Finite
    mass_kg: Finite
    wheelbase_mm: Finite
    height_mm: Finite
    back_mm: Finite
    gauge: SealedReading
    off_mpa: Finite = Field(gt=0)
    speed_kmh: Finite
    reaction_s: Finite
    offer: Offer

    def axle(self, axle: Axle) -> Brake:
        """Return the brakes of one axle."""
        return self.front if axle == "front" else self.rear

    @property
    def should_mpa(self) -> float:
        """The pressure that this push should make."""
        return hydraulics.line_pressure_mpa(
            self.foot_n, self.pedal_ratio, self.master_mm, assist_force_n=self.booster_n
        )

    @property
    def bare_mpa(self) -> float:
        """The pressure that the lever alone makes."""
        return hydraulics.line_pressure_mpa(self.foot_n, self.pedal_ratio, self.master_mm)


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> ForceTruth:
    """Draw a push; again until the gauge tells the situation and no wheel would lock."""
    root = Draw(seed).child(f"{MODULE}/{difficulty}")
    known = next((one for one in SHARES if one == situation), None)
    wanted = known or root.child("situation").weighted(SHARES)
    for again in range(MOST_TRIES):
        found = _push(root.child(f"push {again}"), difficulty, wanted)
        if found is not None:
            return found
    raise RuntimeError(
        f"No push whose gauge tells what is wrong was found for seed {seed}; please report this."
    )


def _push(draw: Draw, difficulty: Difficulty, situation: str) -> ForceTruth | None:
    vehicle = draw.child("vehicle").choice(_vehicles(difficulty))
    low, high = _FEET[difficulty]
    foot = 10.0 * draw.child("foot").integer(low, high)
    chain = follow(vehicle, foot)
    bare = chain.line_mpa * chain.lever_n / chain.rod_n
    times = {
        AS_IT_SHOULD: 1.0,
        NO_BOOSTER: bare / chain.line_mpa,
        TOO_HIGH: draw.child("too high").between(*_HIGH[difficulty]),
    }[situation]
    true = chain.line_mpa * times
    fits = LEAST_MPA <= true < FULL_MPA - 1 and chain.slowing_ms2 <= MOST_SLOWING_MS2
    if not fits or chain.slowing_ms2 * times > MOST_NOW_MS2:
        return None
    found = _truth(vehicle, foot, true, difficulty, situation, draw)
    return found if _plain(found) else None


def _plain(push: ForceTruth) -> bool:
    """Tell whether the gauge's error, and a neighbouring line, leave the decision as it is."""
    read, room = push.gauge.reading, CLOSE_PARTS * push.off_mpa
    target = {AS_IT_SHOULD: push.should_mpa, NO_BOOSTER: push.bare_mpa}.get(push.situation, read)
    plain = push.situation == AS_IT_SHOULD or abs(read - push.should_mpa) > 2 * push.off_mpa
    return plain and abs(read - target) <= room


def _truth(
    vehicle: Vehicle, foot: float, true_mpa: float, difficulty: Difficulty, situation: str, draw: Draw
) -> ForceTruth:
    system, gauge = vehicle.hydraulics, pressure_gauge(FULL_MPA)
    sealed = seal_reading(gauge, gauge.indicate_clear(true_mpa, draw.child("gauge")))
    # The drawing prints whole psi on its inner ring, as the lesson's does: there is no number to confuse.
    seen = {name: value for name, value in sealed.misreadings.items() if name != "wrong_ring"}
    likely = tuple(name for name in sealed.likely if name in seen)
    return ForceTruth(
        situation=situation,
        vehicle=vehicle.name,
        fleet_number=vehicle.fleet_number,
        complaint=draw.child("complaint").choice(COMPLAINTS),
        foot_n=foot,
        pedal_ratio=system.pedal_ratio,
        booster_n=float(round(system.assist_n(foot))),
        master_mm=system.master_bore_mm,
        rear_share=system.rear_pressure_share,
        **{axle: _brake(vehicle, axle) for axle in AXLES},
        tyre_mm=vehicle.tyre_radius_mm,
        mass_kg=vehicle.mass_kg,
        wheelbase_mm=vehicle.wheelbase_mm,
        height_mm=vehicle.cg_height_mm,
        back_mm=vehicle.cg_to_front_mm,
        gauge=sealed.model_copy(update={"misreadings": seen, "likely": likely}),
        off_mpa=round(sealed.expanded_u, 2),
        speed_kmh=10.0 * draw.child("speed").integer(4, 9),
        reaction_s=draw.child("reaction").integer(8, 14) / 10,
        offer=_offer(vehicle, foot, difficulty, draw.child("offer")),
    )


def _brake(vehicle: Vehicle, axle: Axle) -> Brake:
    one, caliper = vehicle.axle(axle), vehicle.axle(axle).caliper
    loads = hydraulics.axle_loads_n(
        vehicle.mass_kg, vehicle.wheelbase_mm, vehicle.cg_height_mm, vehicle.cg_to_front_mm, 0
    )
    return Brake(
        kind=caliper.kind,
        pistons=caliper.pistons,
        pushing=caliper.pushing_pistons,
        bore_mm=caliper.piston_bore_mm,
        friction=one.pad.friction,
        radius_mm=one.effective_radius_mm,
        standing_n=float(round(loads.front_n if axle == "front" else loads.rear_n)),
    )


def _offer(vehicle: Vehicle, foot: float, difficulty: Difficulty, draw: Draw) -> Offer:
    part = draw.child("part").weighted(_OFFERS)
    low, high = _BORE_STEPS[difficulty]
    change = draw.child("sign").choice((-1, 1)) * draw.child("size").integer(low, high) / 2
    bores = bores_of(vehicle)
    changed = with_bore(bores, part, change)
    before, after = follow(vehicle, foot), follow(vehicle, foot, changed)
    axle: Axle = "rear" if part == "rear" else "front"
    clamps = [one.front.clamp_n if axle == "front" else one.rear.clamp_n for one in (before, after)]
    return Offer(
        part=part,
        old_mm=getattr(bores, f"{part}_mm"),
        new_mm=getattr(changed, f"{part}_mm"),
        line_mpa=(before.line_mpa, after.line_mpa),
        travel_mm=(before.travel_mm, after.travel_mm),
        clamp_n=(clamps[0], clamps[1]),
    )


def _vehicles(difficulty: Difficulty) -> tuple[Vehicle, ...]:
    pool = tuple(motor_pool().values())
    plain = tuple(one for one in pool if one.front.caliper.pistons == 1)
    return {"easy": plain, "normal": pool, "hard": tuple(one for one in pool if one not in plain)}[difficulty]
