"""How a case is drawn: the pedal, the fluid and the plan of one vehicle. Its road test: the next module."""

from __future__ import annotations

import math

from brakecourse.bench.draw import Draw
from brakecourse.bench.pushed_back import PushedBack
from brakecourse.bench.reference import PAD_LIMIT_C, PAD_WORKING_C, SPECIFIC_HEAT_J_KGK
from brakecourse.bench.shop_gauges import infrared_thermometer, level_rule, pedal_rule
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle, motor_pool
from brakecourse.marking.papers.m12_pedal_and_burnish.road import SHARES, draw_road
from brakecourse.marking.papers.m12_pedal_and_burnish.truth import (
    BurnishTruth,
    Fluid,
    Heat,
    Pedal,
    PedalState,
)
from brakecourse.marking.readings import seal_reading
from brakecourse.trade.burnish import wait_for_c

PEDAL_SHARES: dict[PedalState, float] = {"firm": 0.4, "low": 0.35, "sinks": 0.25}
CLEAR_MM = 3.0
"""A pedal stops so far from the most that it may go: nearly three standard uncertainties of the rule."""
SINKS_MM = (8.0, 20.0)
HELD_S = 30.0
GAP_MM = (1.6, 4.0)
BETWEEN_STROKES = (0.15, 0.85)
"""The quotient lies so far from a whole number that no honest rounding changes the strokes."""
LEAST_FALL_MM = 4.0
"""The level falls by more than any slip of the eye, so that a forgotten fall is told from one."""
LOW_MPH, MORE_MPH = (15, 20, 25), (15, 20, 25)
AIR_C = (10, 15, 20, 25)
TRIAL_C = (170.0, 280.0)
HALVES = (1, 2, 3)
START_C = (35, 70)
ROUND_C = (80.0, 190.0)
CLEAR_C = 8.0
"""The plan's hottest lies so far from the pad maker's two temperatures, more than rounding moves it."""
MOST_TRIES = 300

_COMPLAINTS = (
    "The front pads and rotors are new, and the pistons were pushed back. The {name} is wanted again this "
    "afternoon.",
    "New pads and rotors are in at the front. The driver of the {name} asks how soon it can be on the road.",
    "The front brakes of the {name} are done but for the pedal, the fluid and the bedding-in. Its last pads "
    "were glazed by a hasty bedding-in.",
)


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> BurnishTruth:
    """Draw a vehicle with new front pads, and its road test."""
    root = Draw(seed)
    wanted = situation if situation in SHARES else root.child("situation").weighted(SHARES)
    for again in range(MOST_TRIES):
        chance = root.child(f"vehicle {again}")
        vehicle = chance.child("which").choice(list(motor_pool().values()))
        parked = PushedBack(vehicle, round(chance.child("gap").between(*GAP_MM), 1), 0.0)
        pedal = _pedal(parked, chance.child("pedal"), root.child("state").weighted(PEDAL_SHARES))
        fluid = _fluid(parked, chance.child("fluid"))
        if pedal is None or fluid is None:
            continue
        try:
            return _with_plan(vehicle, pedal, fluid, wanted, difficulty, chance)
        except ValueError:
            continue  # two of a thousand stop so hot that the thermometer does not show it
    raise RuntimeError(f"No vehicle for '{wanted}' was found for seed {seed}; please report this.")


def _pedal(parked: PushedBack, draw: Draw, state: PedalState) -> Pedal | None:
    """Return the pedal as it was proven; None when it would be too near to what is allowed."""
    needed, room = parked.strokes, parked.vehicle.hydraulics.pedal_room_mm
    firm = parked.travel_mm(needed + 1)
    most = round((firm + parked.stroke_mm) / 2)
    press = draw.integer(1, max(1, needed - 1)) if state == "low" else needed + 1
    travel = parked.travel_mm(press)
    if min(abs(firm - most), abs(travel - most)) < CLEAR_MM or (travel > most) != (state == "low"):
        return None
    rule = pedal_rule(room)
    sunk = travel + draw.between(*SINKS_MM) if state == "sinks" else travel
    pressed = rule.indicate_clear(travel, draw.child("pressed"))
    held = rule.indicate_clear(sunk, draw.child("held")) if state == "sinks" else pressed
    return Pedal(
        state=state,
        room_mm=room,
        most_mm=float(most),
        press=press,
        pressed=seal_reading(rule, pressed),
        held=seal_reading(rule, held),
        held_s=HELD_S,
    )


def _fluid(parked: PushedBack, draw: Draw) -> Fluid | None:
    """Return the fluid; None when the strokes, the fall or the level would be a matter of rounding."""
    system = parked.vehicle.hydraulics
    over = parked.clearance_ml / parked.stroke_ml % 1
    low, high = system.reservoir_min_mm + parked.drop_mm + 2, system.reservoir_max_mm - 3
    if not BETWEEN_STROKES[0] <= over <= BETWEEN_STROKES[1] or parked.drop_mm < LEAST_FALL_MM or low > high:
        return None
    rule = level_rule(system.reservoir_min_mm, system.reservoir_max_mm)
    level = rule.indicate_clear(draw.between(low, high), draw.child("level"))
    return Fluid(
        caliper_ml=parked.caliper_ml,
        stroke_ml=parked.stroke_ml,
        area_mm2=system.reservoir_area_mm2,
        min_mm=system.reservoir_min_mm,
        max_mm=system.reservoir_max_mm,
        height_mm=parked.height_mm,
        level=seal_reading(rule, level),
    )


def _with_plan(
    vehicle: Vehicle, pedal: Pedal, fluid: Fluid, wanted: str, difficulty: Difficulty, draw: Draw
) -> BurnishTruth:
    heat = _heat(vehicle, draw.child("heat"))
    trial = draw.child("trial")
    true_c = trial.between(*TRIAL_C)
    dull, bright = infrared_thermometer("painted"), infrared_thermometer("bright")
    hat = seal_reading(dull, dull.indicate_clear(true_c, trial.child("hat")))
    face = seal_reading(bright, bright.indicate_clear(true_c, trial.child("face")))
    low = draw.child("low").choice(LOW_MPH)
    truth = BurnishTruth(
        situation=wanted,
        vehicle=vehicle.name,
        fleet_number=vehicle.fleet_number,
        complaint=draw.child("complaint").choice(_COMPLAINTS).format(name=vehicle.name),
        pedal=pedal,
        fluid=fluid,
        heat=heat,
        low_mph=low,
        high_mph=low + draw.child("more").choice(MORE_MPH),
        hat=hat,
        face=face,
        next_c=float(round(heat.air_c + (hat.reading - heat.air_c) / 2 ** trial.choice(HALVES))),
        start_c=float(draw.child("start").integer(*START_C)),
        round_count=1,
        road=draw_road(wanted, difficulty, vehicle, draw.child("road")),
    )
    return truth.model_copy(update={"round_count": _round_count(truth, draw.child("round"))})


def _round_count(truth: BurnishTruth, draw: Draw) -> int:
    """Return how many slowdowns make a round: so many that the plan is clear."""
    rise, heat = truth.rise_c(truth.stop_kj * truth.ratio), truth.heat
    for again in range(MOST_TRIES):
        count = max(2, math.floor(draw.child(f"try {again}").between(*ROUND_C) / rise))
        hottest = max(truth.model_copy(update={"round_count": count}).plan_c(rise))
        if min(abs(hottest - heat.limit_c), abs(hottest - heat.working_c)) >= CLEAR_C:
            break
    return count


def _heat(vehicle: Vehicle, draw: Draw) -> Heat:
    """Return the heat's numbers as they are printed: nothing is reckoned with more decimals than that."""
    brake = vehicle.front
    half_s = wait_for_c(2.0, 1.0, 0.0, brake.cooling_time_constant_s)
    return Heat(
        mass_kg=vehicle.mass_kg,
        front_share=round(vehicle.front_share, 2),
        rotor_kg=round(brake.rotor_mass_kg, 1),
        iron_kj=SPECIFIC_HEAT_J_KGK / 1000,
        half_min=round(half_s / 60, 1),
        air_c=float(draw.choice(AIR_C)),
        limit_c=PAD_LIMIT_C,
        working_c=PAD_WORKING_C,
    )
