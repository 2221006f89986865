"""What the foot finds: travel, sponginess, sinking, pulsation, and the words for it."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench._condition_records import PedalCondition, PedalWord
from brakecourse.bench._fluid_state import leaks
from brakecourse.bench.complaints import FELT_VARIATION_MM
from brakecourse.bench.pedal import elastic_ml, pressure_mpa
from brakecourse.bench.roots import Roots
from brakecourse.bench.specification import AxleBrake, Hydraulics
from brakecourse.trade.fluid import wear_volume_ml
from brakecourse.trade.hydraulics import pedal_travel_mm
from brakecourse.trade.leaks import air_travel_mm, sink_rate_mm_per_min

REFERENCE_FORCE_N = 200.0
"""The force at which the pedal is judged. Assumption, no source."""

# Share of the run-out by which a tilted rotor knocks the pistons back. Assumption, no source.
KNOCK_BACK_SHARE = 0.4
# Share of the pads' clearance that three quick strokes take up. Assumption, no source.
PUMPING_TAKES_UP = 0.7
# How long one slow press takes; what leaks meanwhile, the foot follows. Assumption, no source.
SLOW_PRESS_S = 4.0
# From where a driver notices. Assumptions, no source.
FELT_SPONGY_SHARE, FELT_LOW_SHARE, FELT_SINK_MM_PER_MIN = 0.12, 0.55, 2.0


def pedal_condition(
    hydraulics: Hydraulics,
    roots: Roots,
    brakes: Sequence[AxleBrake],
    run_outs_mm: Sequence[float],
    variations_mm: Sequence[float],
) -> PedalCondition:
    """Return what the foot finds at the reference force.

    Args:
        hydraulics: pedal, booster and master cylinder.
        roots: what is the matter.
        brakes: the brake of each wheel.
        run_outs_mm, variations_mm: run-out and thickness variation of each rotor.

    Source:
        Conservation of volume, Boyle's law and the bulk modulus (:mod:`brakecourse.trade.leaks`).
    """
    pressure = pressure_mpa(hydraulics, REFERENCE_FORCE_N, engine_running=True)
    gaps_ml = sum(_gap_ml(brake, run_out) for brake, run_out in zip(brakes, run_outs_mm, strict=True))
    air_mm = _air_mm(hydraulics, roots, pressure)
    firm_mm = hydraulics.free_play_mm + air_mm + _travel_mm(hydraulics, elastic_ml(hydraulics, pressure))
    slipped_ml = leaks(hydraulics, roots).past_pedal * pressure * SLOW_PRESS_S / 60
    travel = min(hydraulics.pedal_room_mm, firm_mm + _travel_mm(hydraulics, gaps_ml + slipped_ml))
    left_ml = (1 - PUMPING_TAKES_UP) * gaps_ml
    pumped = min(hydraulics.pedal_room_mm, firm_mm + _travel_mm(hydraulics, left_ml))
    leak = leaks(hydraulics, roots).past_pedal
    sinks = [
        sink_rate_mm_per_min(leak * held, hydraulics.master_bore_mm, hydraulics.pedal_ratio)
        for held in (pressure_mpa(hydraulics, REFERENCE_FORCE_N, engine_running=False), pressure)
    ]
    pulse_ml = max(_pulse_ml(brake, mm) for brake, mm in zip(brakes, variations_mm, strict=True))
    pulsation = _travel_mm(hydraulics, pulse_ml)
    spongy = air_mm / (travel - hydraulics.free_play_mm)
    return PedalCondition(
        force_n=REFERENCE_FORCE_N,
        pressure_mpa=pressure,
        travel_mm=travel,
        pumped_mm=pumped,
        air_travel_mm=air_mm,
        spongy_share=spongy,
        sink_engine_off_mm_per_min=sinks[0],
        sink_engine_running_mm_per_min=sinks[1],
        pulsation_mm=pulsation,
        words=_words(travel / hydraulics.pedal_room_mm, spongy, sinks[1], max(variations_mm)),
    )


def _gap_ml(brake: AxleBrake, run_out_mm: float) -> float:
    """Fluid that brings both pads to the rotor, and the pistons back to where the rotor knocked them from."""
    caliper = brake.caliper
    knock_mm = KNOCK_BACK_SHARE * run_out_mm
    return wear_volume_ml(
        caliper.piston_bore_mm, caliper.pistons, caliper.clearance_mm, knock_mm, caliper.kind
    )


def _pulse_ml(brake: AxleBrake, variation_mm: float) -> float:
    """Fluid that a rotor of changing thickness pushes to and fro."""
    caliper = brake.caliper
    return wear_volume_ml(caliper.piston_bore_mm, caliper.pistons, 0.0, variation_mm, caliper.kind)


def _air_mm(hydraulics: Hydraulics, roots: Roots, pressure: float) -> float:
    pressures = (pressure, pressure * hydraulics.rear_pressure_share)
    bore, ratio = hydraulics.master_bore_mm, hydraulics.pedal_ratio
    return sum(air_travel_mm(air, at, bore, ratio) for air, at in zip(roots.air_ml, pressures, strict=True))


def _travel_mm(hydraulics: Hydraulics, volume_ml: float) -> float:
    return pedal_travel_mm(volume_ml, hydraulics.master_bore_mm, hydraulics.pedal_ratio)


def _words(room_share: float, spongy: float, sink: float, variation_mm: float) -> tuple[PedalWord, ...]:
    words: list[PedalWord] = []
    if room_share >= 1:
        words.append("goes to the floor")
    elif room_share >= FELT_LOW_SHARE:
        words.append("low")
    if spongy >= FELT_SPONGY_SHARE:
        words.append("spongy")
    if sink >= FELT_SINK_MM_PER_MIN:
        words.append("sinks")
    if variation_mm >= FELT_VARIATION_MM:
        words.append("pulses")
    return tuple(words) or ("firm",)
