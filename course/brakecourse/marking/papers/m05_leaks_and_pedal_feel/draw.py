"""How the vehicles are drawn: so that every finding is clear and every reading tells its mistakes apart."""

from __future__ import annotations

from brakecourse.bench import motor_pool
from brakecourse.bench.draw import Draw
from brakecourse.bench.length_gauges import PedalRule, pedal_rule
from brakecourse.bench.pedal import fluid_sent_ml, pedal_travel_mm
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicle_cases import VehicleCase, draw_vehicle
from brakecourse.bench.vehicle_faults import AirInCircuit
from brakecourse.bench.vehicles import Vehicle
from brakecourse.marking.papers.m05_leaks_and_pedal_feel import order
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.halfway import draw_halfway
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.jobs import (
    DRAGS,
    PULSES,
    SOFT,
    Drawn,
    draw_job,
)
from brakecourse.marking.papers.m05_leaks_and_pedal_feel.truth import DiagnosisTruth
from brakecourse.marking.readings import SealedReading, seal_reading
from brakecourse.trade.leaks import air_travel_mm

SHARES = {
    "primary_seal_leak": 0.28,
    "internal_bypass": 0.24,
    "hose_leak": 0.16,
    "fitting_leak": 0.16,
    "caliper_seal_leak": 0.16,
}
"""How often each cause makes the first vehicle's pedal sink."""

HOLDS_S = (30, 40)
LIGHT_MPA = (0.3, 0.4, 0.5, 0.6)
"""Line pressures of a light push: there the air that is lost and the air at rest are clearly two numbers."""

LEAST_SUNK_MM, LEAST_EXTRA_MM = 8.0, 10.0
"""So far the pedal sinks, and goes further with air, at least: many lines, so that one line hardly counts."""

CLEAR_OF_FLOOR_MM = 6.0
"""The pedal stops so far above the floor: on the floor it tells nothing."""

CLEAR_OF_FOUR = 0.1
"""At a pedal ratio of 4, the ratio left out and the bore taken as radius give the same; no such vehicle."""

_MOST_TRIES = 400


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> DiagnosisTruth:
    """Draw the vehicles of one case."""
    root = Draw(seed)
    cause = situation if situation in SHARES else root.child("situation").weighted(SHARES)
    first, held, hold_s = _held_pedal(root.child("first"), cause, difficulty)
    vehicle, system = first.case.vehicle, first.case.vehicle.hydraulics
    soft, usual_mm, pressure_mpa = _soft_pedal(root.child("after the repair"), vehicle, difficulty)
    others = [one for one in motor_pool().values() if one != vehicle]
    second = draw_job(root.child("second"), SOFT, difficulty, others).job
    others = [one for one in others if one.name != second.vehicle]
    third = draw_job(root.child("third"), (*DRAGS, *PULSES), difficulty, others).job
    others = [one for one in others if one.name != third.vehicle]
    state, half = draw_halfway(root.child("half way"), difficulty, others)
    checks = order.chosen(root.child("order"))
    return DiagnosisTruth(
        situation=cause,
        vehicle=vehicle.name,
        fleet_number=vehicle.fleet_number,
        complaint=first.case.complaint,
        pedal_ratio=system.pedal_ratio,
        master_bore_mm=system.master_bore_mm,
        room_mm=system.pedal_room_mm,
        force_n=first.case.condition.pedal.force_n,
        hold_s=hold_s,
        held=held,
        soft=soft,
        usual_mm=usual_mm,
        pressure_mpa=pressure_mpa,
        jobs=(first.job, second, third),
        half=half,
        half_state=state,
        checks=checks,
        listed=order.listed(checks, root.child("listed")),
    )


def _held_pedal(
    root: Draw, cause: str, difficulty: Difficulty
) -> tuple[Drawn, tuple[SealedReading, SealedReading], int]:
    pool = [one for one in motor_pool().values() if abs(one.hydraulics.pedal_ratio - 4) > CLEAR_OF_FOUR]
    for again in range(_MOST_TRIES):
        turn = root.child(f"again {again}")
        drawn = draw_job(turn.child("job"), (cause,), difficulty, pool)
        hold_s = turn.child("hold").choice(HOLDS_S)
        held = _held(drawn.case, hold_s, turn.child("rule"))
        if held is not None:
            return drawn, held, hold_s
    raise RuntimeError(f"No pedal that sinks far enough with '{cause}' was found; please report this.")


def _held(case: VehicleCase, hold_s: int, chance: Draw) -> tuple[SealedReading, SealedReading] | None:
    pedal, room_mm = case.condition.pedal, case.vehicle.hydraulics.pedal_room_mm
    last_mm = pedal.travel_mm + pedal.sink_engine_running_mm_per_min * hold_s / 60
    if last_mm > room_mm - CLEAR_OF_FLOOR_MM:
        return None
    rule = pedal_rule(room_mm)
    start, end = (
        _read(rule, mm, chance.child(name)) for name, mm in (("start", pedal.travel_mm), ("end", last_mm))
    )
    return (start, end) if end.reading - start.reading >= LEAST_SUNK_MM else None


def _soft_pedal(root: Draw, vehicle: Vehicle, difficulty: Difficulty) -> tuple[SealedReading, float, float]:
    """Draw the pedal after the repair, with air: the rule, what it shows without air, the pressure."""
    system = vehicle.hydraulics
    for again in range(_MOST_TRIES):
        turn = root.child(f"again {again}")
        pressure_mpa = turn.child("push").choice(LIGHT_MPA)
        case = draw_vehicle(turn.child("seed").integer(0, 10**9), 1, difficulty, (AirInCircuit,), vehicle)
        usual_mm = pedal_travel_mm(vehicle, fluid_sent_ml(vehicle, pressure_mpa))
        air_mm = air_travel_mm(
            sum(case.roots.air_ml), pressure_mpa, system.master_bore_mm, system.pedal_ratio
        )
        if usual_mm + air_mm > system.pedal_room_mm - CLEAR_OF_FLOOR_MM:
            continue
        soft = _read(pedal_rule(system.pedal_room_mm), usual_mm + air_mm, turn.child("rule"))
        printed_mm = float(round(usual_mm))
        if soft.reading - printed_mm >= LEAST_EXTRA_MM:
            return soft, printed_mm, pressure_mpa
    raise RuntimeError(f"No soft pedal of the {vehicle.name} was found; please report this.")


def _read(rule: PedalRule, true_mm: float, chance: Draw) -> SealedReading:
    return seal_reading(rule, rule.indicate_clear(true_mm, chance))
