"""Draw questions about getting a rotor off and cleaning the faces. Common practice, no source."""

from __future__ import annotations

from dataclasses import dataclass

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.trade.hub_fit import debris_run_out_mm
from brakecourse.views.quiz import Task
from brakecourse.views.words import mm

OFF, FACES = "getting the rotor off", "cleaning the two faces"
TOPICS = (OFF, FACES)

HAMMER = "strike the friction face with a hammer"
SCREW = "undo the countersunk screw first"
PRESS = "turn two bolts into the threaded holes, evenly by turns"
TAP = "soak the pilot, then tap the hat between the studs with a soft hammer"
PRY = "lever behind the disc with a long bar"

BRUSH = "wire-brush both by hand, damp, down to bare metal"
CLOTH = "wipe both with brake cleaner and a clean cloth"
BLOW = "blow them off with compressed air"
GRIND = "take the grinder to the hub"
GREASE = "spread grease over both faces"
CRUSH = "fit the rotor; the wheel nuts will press it flat"

_STATES = ("rust", "oil")


@dataclass(frozen=True)
class OffCase:
    """A rotor that is to come off, or faces that are to be cleaned.

    Attributes:
        vehicle: whose front rotor.
        screw, holes: what is in the hat.
        state: what is on the faces: rust, or the oil of a new rotor.
        flake_mm: how thick what lies there is.
        flake_deg: where the thickest of it lies.
    """

    vehicle: Vehicle
    screw: bool
    holes: bool
    state: str
    flake_mm: float
    flake_deg: float


def off_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return a question about the stuck rotor, or about its faces.

    Args:
        topic: one of :data:`TOPICS`.
        difficulty: harder questions offer more ways that look good.
        draw: chance.
    """
    case = OffCase(
        draw.choice(list(motor_pool().values())),
        draw.uniform() < 0.4,
        draw.uniform() < 0.5,
        draw.choice(_STATES),
        round(draw.between(0.04, 0.14), 2),
        5.0 * draw.integer(0, 71),
    )
    return _off(case, difficulty, draw) if topic == OFF else _faces(case, difficulty, draw)


def _off(case: OffCase, difficulty: Difficulty, draw: Draw) -> Task:
    right = SCREW if case.screw else PRESS if case.holes else TAP
    limit = case.vehicle.front.rotor.max_run_out_mm
    screw_first = "The screw still holds the hat. Whatever you do now pulls against it."
    reasons = {
        HAMMER: (
            "A blow bends the disc or cracks it, and the dent lies where the pads rub. You cannot see a "
            f"bend of {mm(limit)}, but that is all that this rotor may run out."
        ),
        SCREW: (
            "The screw holds the hat to the hub. With it out, the rotor may come off by hand."
            if case.screw
            else "There is no screw in this hat."
        ),
        PRESS: (
            screw_first
            if case.screw
            else "The bolts push against the hub and lift the rotor straight off, with no blow at all."
            if case.holes
            else "This hat has no threaded holes."
        ),
        TAP: (
            screw_first
            if case.screw
            else "The threaded holes are there for this. They push straight and need no blow. Use them first."
            if case.holes
            else "Oil loosens the rust. The hat is stiff, and light blows all round free it without "
            "bending it."
        ),
    }
    if difficulty != "easy":
        reasons[PRY] = "A lever on one side bends the thin disc, and it slips. Your hand is in its way."
    return Task(
        OFF,
        f"The front rotor of the {case.vehicle.name} is stuck. You have eye protection on. What do you "
        "do first?",
        tuple(draw.shuffled(list(reasons))),
        right,
        reasons,
        (),
        case,
    )


def _faces(case: OffCase, difficulty: Difficulty, draw: Draw) -> Task:
    brake = case.vehicle.front
    makes = debris_run_out_mm(case.flake_mm, brake.seat_radius_mm, brake.measuring_radius_mm)
    rusty = case.state == "rust"
    thick = f"What is {mm(case.flake_mm)} thick here makes {mm(makes)} at the track."
    reasons = {
        BRUSH: (
            f"Down to bare metal, and damp so that no dust flies. {thick}"
            if rusty
            else "There is no rust on these faces. A wire brush scratches them and leaves the oil where "
            "it is."
        ),
        CLOTH: (
            "A cloth takes oil, not rust. The flake would stay where it is."
            if rusty
            else "New rotors come oiled. Take the oil off the hat and off both friction faces, with "
            "fresh air."
        ),
        BLOW: "Never blow a brake off: the dust is treated as hazardous. And air moves neither rust nor oil.",
        CRUSH: (
            f"Some of it stays and tilts the rotor. {thick}"
            if rusty
            else "Oil creeps outwards as the hub warms, on to the friction face and the pads."
        ),
    }
    if difficulty != "easy":
        reasons[GRIND] = (
            f"A grinder takes metal off unevenly. A hollow of {mm(case.flake_mm)} tilts the rotor just as "
            "much as a flake of that thickness."
        )
    if difficulty == "hard":
        reasons[GREASE] = (
            "A film is never even, it changes how the nuts hold, and it creeps on to the pads. Use a "
            "thin smear on the pilot only, where the maker allows it."
        )
    what = (
        "The picture shows both faces as found."
        if rusty
        else "The rotor is new and oily; the hub is bare metal."
    )
    return Task(
        FACES,
        f"The front rotor of the {case.vehicle.name} is off. {what} What do you do with them?",
        tuple(draw.shuffled(list(reasons))),
        BRUSH if rusty else CLOTH,
        reasons,
        (),
        case,
    )
