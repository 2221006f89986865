"""How a wheel's two pads are drawn: so that the gauge's error changes no decision about them."""

from __future__ import annotations

from dataclasses import replace

from brakecourse.bench.condition import WheelCondition
from brakecourse.bench.draw import Draw
from brakecourse.bench.pad_cases import PadCase, draw_pad_case
from brakecourse.bench.situations import Difficulty
from brakecourse.marking.papers.m07_pad_wear.truth import CONFIDENCE, Hands, PadTruth, Two
from brakecourse.marking.readings import SealedReading, seal_reading
from brakecourse.trade.pads import Evidence, classify_wear

SHARES = {
    "dry pins": 0.08,
    "sticking piston": 0.07,
    "rusty clips": 0.07,
    "leading pin": 0.07,
    "trailing pin": 0.07,
    "leading clip": 0.05,
    "trailing clip": 0.05,
    "loose bracket": 0.06,
    "ridge": 0.05,
    "worn out": 0.09,
    "sound": 0.08,
    "close to the minimum": 0.08,
    "close in shape": 0.06,
    "seized pin": 0.03,
    "dry pins, too late": 0.09,
}
"""How often each situation of the bench is drawn. The faces of the pads are sound in all of them."""

MOST_TRIES = 400
LEAST_WORN_MM = 1.0
CLEARLY_CLOSE, CLEARLY_DECIDED = 0.4, 1.5
"""A check that is too close to call lies nearer to its limit than this share of the guard band, so that one
reading that moves by its standard uncertainty (0.6 of the band) leaves it inside. Every other check lies
farther away than the second share."""

U_PLACES = 3  # decimal places of an uncertainty on the work order, in mm
FORCE_STEP_N, TORQUE_STEP_NM, DISTANCE_STEP_KM = 5, 5, 100

_REASONS = ("for its yearly check", "for its winter check", "because the motor pool's plan says so")


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> PadTruth:
    """Draw the pads of one wheel."""
    root = Draw(seed)
    wanted = situation if situation in SHARES else root.child("situation").weighted(SHARES)
    reason = root.child("reason").choice(_REASONS)
    for again in range(MOST_TRIES):
        case = draw_pad_case(root.child(f"pads {again}").integer(0, 10**9), wanted, difficulty)
        truth = _truth(case, reason)
        if _is_fair(truth, case):
            return truth
    raise RuntimeError(
        f"No pads that show '{wanted}' clearly were found for seed {seed}; please report this."
    )


def _truth(case: PadCase, reason: str) -> PadTruth:
    pad, fit, limits = case.brake.pad, case.condition.rotor, case.limits
    return PadTruth(
        situation=case.situation,
        vehicle=case.vehicle.name,
        fleet_number=case.vehicle.fleet_number,
        complaint=(
            f"The {case.vehicle.name} ({case.vehicle.fleet_number}) has come in {reason}. Its driver asks "
            f"how far the pads of the {case.wheel} wheel will still go."
        ),
        wheel=case.wheel,
        km=DISTANCE_STEP_KM * round(case.km / DISTANCE_STEP_KM),
        lining_new_mm=pad.lining_new_mm,
        plate_mm=case.gauge.plate_mm,
        length_mm=pad.length_mm,
        height_mm=pad.height_mm,
        rotor_mm=fit.smallest_mm,
        ridge_mm=fit.ridge_mm,
        limits=replace(
            limits,
            thickness_u_mm=round(limits.thickness_u_mm, U_PLACES),
            difference_u_mm=round(limits.difference_u_mm, U_PLACES),
        ),
        confidence=CONFIDENCE,
        inner=_reads(case, case.inner_mm),
        outer=_reads(case, case.outer_mm),
        step_mm=(case.inner.step_mm, case.outer.step_mm),
        cause=case.cause,
        bolt_wanted_nm=case.condition.bracket_bolts.wanted_nm,
        here=_hands(case.condition),
        other=_hands(case.other),
    )


def _reads(case: PadCase, shown_mm: tuple[float, ...]) -> tuple[SealedReading, ...]:
    return tuple(seal_reading(case.gauge, one) for one in shown_mm)


def _hands(found: WheelCondition) -> Hands:
    slide = found.caliper.pin_slide_n
    return Hands(
        wheel=found.wheel,
        pin_slide_n=None if slide is None else _two(slide),
        pad_grip_n=_two(found.caliper.pad_grip_n),
        push_back_n=_to(found.caliper.piston_push_back_n, FORCE_STEP_N),
        bolt_nm=_to(min(found.bracket_bolts.torques_nm), TORQUE_STEP_NM),
        wet=found.wet_places,
        rotor=found.rotor.looks,
    )


def _two(forces_n: tuple[float, float]) -> Two:
    return _to(forces_n[0], FORCE_STEP_N), _to(forces_n[1], FORCE_STEP_N)


def _to(value: float, step: float) -> float:
    return float(step * round(value / step))


def _is_fair(truth: PadTruth, case: PadCase) -> bool:
    """Whether every check is clear, and enough has worn off to reckon with."""
    found = classify_wear(*truth.pads(truth.readings_mm), truth.limits, truth.confidence)
    worn = truth.lining_new_mm - min(truth.readings_mm)
    as_drawn = [one.decision.verdict for one in case.finding.evidence]
    return (
        worn >= LEAST_WORN_MM
        and [one.decision.verdict for one in found.evidence] == as_drawn
        and all(map(_is_clear, found.evidence))
    )


def _is_clear(one: Evidence) -> bool:
    bands = abs(one.decision.margin) / one.decision.guard_band
    return bands <= CLEARLY_CLOSE if one.decision.verdict == "too close to call" else bands >= CLEARLY_DECIDED
