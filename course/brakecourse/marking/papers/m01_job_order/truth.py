"""What is true of the vehicle, the shelf, the bay next door and the steps behind a case, and its draw."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.specification import AXLES, Axle
from brakecourse.bench.vehicle_cases import draw_vehicle
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.marking.papers.job_steps import listed
from brakecourse.marking.papers.m01_job_order.bay import Bay, draw_bay
from brakecourse.marking.papers.m01_job_order.pairs import Pair, draw_pairs
from brakecourse.marking.papers.m01_job_order.stands import StandSet, clear_of, draw_sets
from brakecourse.marking.sealed import Finite, Truth
from brakecourse.trade.hydraulics import STANDARD_GRAVITY_MS2, axle_loads_n
from brakecourse.views.stand_loads import STAND_MARGIN, STANDS_OF_A_PAIR
from brakecourse.views.vehicle_shapes import shape_of

MODULE = "01_job_order"

WILL_DO, NONE_WILL_DO = "one set of stands will do", "no set of stands will do"
SHARES = {WILL_DO: 0.75, NONE_WILL_DO: 0.25}
"""How often a set on the shelf is strong enough. Assumption, no source."""

# What lies in the vehicle today: share of its mass, and where behind the front axle, as a share of the
# wheelbase. Assumption, no source.
LOAD_SHARE, LOAD_PLACE = (0.0, 0.12), (0.4, 1.1)
MASS_STEP_KG, LENGTH_STEP_MM = 10, 5

ALWAYS = (
    *("loosen_nuts", "lift_vehicle", "set_stands", "wet_dust"),
    *("open_bleeder", "push_piston", "pump_pedal", "first_move"),
)
"""The steps that everybody's list holds: the deadliest slips of the job lie among them."""

SOME = (
    *("chock_wheels", "check_fluid", "look_for_leaks", "close_bleeder", "caliper_off", "support_caliper"),
    *("pads_out", "clean_bracket", "measure_thickness", "rotor_on", "pads_in", "torque_bolts", "wheel_on"),
    *("lower_vehicle", "torque_nuts", "set_level", "bed_in", "sign_record"),
)
HOW_MANY_OF_SOME = 4

_MOST_TRIES = 500


class OrderTruth(Truth):
    """The vehicle on stands, the bay next door and the steps behind a case.

    Attributes:
        axle: which end goes on stands.
        shape: what the vehicle looks like.
        mass_kg: its mass as it stands, with its load.
        wheelbase_mm: front axle to rear axle.
        gravity_mm, gravity_height_mm: its centre of gravity behind the front axle and above the road.
        tyre_mm: radius of its tyres.
        sets: what is on the shelf, set A first.
        bay: the bay next door.
        pairs: pairs of steps.
        steps: the steps to be ordered, as they are listed.
    """

    axle: Axle
    shape: Literal["hatchback", "saloon", "estate", "van", "pickup", "bus", "truck"]
    mass_kg: Finite
    wheelbase_mm: Finite
    gravity_mm: Finite
    gravity_height_mm: Finite
    tyre_mm: Finite
    sets: tuple[StandSet, StandSet, StandSet, StandSet, StandSet]
    bay: Bay
    pairs: tuple[Pair, Pair, Pair, Pair, Pair, Pair]
    steps: tuple[str, ...]

    def axle_kg(self, axle: Axle) -> float:
        """What an axle carries at rest on level ground, kg."""
        loads = axle_loads_n(self.mass_kg, self.wheelbase_mm, self.gravity_height_mm, self.gravity_mm, 0)
        return (loads.front_n if axle == "front" else loads.rear_n) / STANDARD_GRAVITY_MS2

    @property
    def other(self) -> Axle:
        """The axle that stays on its wheels."""
        return "rear" if self.axle == "front" else "front"

    @property
    def rating_kg(self) -> float:
        """What each stand must be rated for at least, kg."""
        return STAND_MARGIN * self.axle_kg(self.axle) / STANDS_OF_A_PAIR


def draw(seed: int, _difficulty: Difficulty, situation: str | None) -> OrderTruth:
    """Draw a vehicle, stands whose marks lie clear of what is needed, a bay, pairs and steps."""
    root = Draw(seed)
    wanted = situation or root.child("situation").weighted(SHARES)
    for again in range(_MOST_TRIES):
        truth = _try(root, root.child(f"vehicle {again}"), wanted)
        if truth is not None and all(clear_of(one, truth.rating_kg) for one in truth.sets):
            return truth
    raise RuntimeError(f"No stands clear of what is needed were found for seed {seed}; please report this.")


def _try(root: Draw, draw: Draw, wanted: str) -> OrderTruth | None:
    case = draw_vehicle(draw.child("case").seed)
    vehicle = _loaded(case.vehicle, draw.child("load"))
    if vehicle is None:
        return None
    bare = OrderTruth.model_construct(
        axle=draw.child("axle").choice(AXLES),
        mass_kg=vehicle.mass_kg,
        wheelbase_mm=vehicle.wheelbase_mm,
        gravity_mm=vehicle.cg_to_front_mm,
        gravity_height_mm=vehicle.cg_height_mm,
    )
    others = [one for one in motor_pool().values() if one.key != vehicle.key]
    some = root.child("some").shuffled(SOME)[:HOW_MANY_OF_SOME]
    return OrderTruth(
        situation=wanted,
        vehicle=vehicle.name,
        fleet_number=vehicle.fleet_number,
        complaint=case.complaint,
        axle=bare.axle,
        shape=shape_of(vehicle),
        mass_kg=vehicle.mass_kg,
        wheelbase_mm=vehicle.wheelbase_mm,
        gravity_mm=vehicle.cg_to_front_mm,
        gravity_height_mm=vehicle.cg_height_mm,
        tyre_mm=vehicle.tyre_radius_mm,
        sets=draw_sets(bare.rating_kg, wanted == WILL_DO, draw.child("sets")),
        bay=draw_bay(draw.child("whose").choice(others), root.child("bay")),
        pairs=draw_pairs(root.child("pairs")),
        steps=listed([*ALWAYS, *some], root.child("list")),
    )


def _loaded(vehicle: Vehicle, draw: Draw) -> Vehicle | None:
    """Return the vehicle with what lies in it today; its centre of gravity moves by the law of the lever.

    None where the bench refuses it, because loaded so far back its rear wheels would lock first.
    """
    load_kg = vehicle.mass_kg * draw.between(*LOAD_SHARE)
    at_mm = vehicle.wheelbase_mm * draw.between(*LOAD_PLACE)
    mass_kg = vehicle.mass_kg + load_kg
    gravity_mm = (vehicle.mass_kg * vehicle.cg_to_front_mm + load_kg * at_mm) / mass_kg
    try:
        return replace(
            vehicle, mass_kg=_to(mass_kg, MASS_STEP_KG), cg_to_front_mm=_to(gravity_mm, LENGTH_STEP_MM)
        )
    except ValueError:
        return None


def _to(value: float, step: int) -> float:
    return float(step * round(value / step))
