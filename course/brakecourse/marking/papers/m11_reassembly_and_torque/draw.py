"""How the vehicle, the bolt and the wrench of a case are drawn."""

from __future__ import annotations

from brakecourse.bench.draw import Draw
from brakecourse.bench.shop_gauges import TorqueWrench, torque_wrench
from brakecourse.bench.situations import Difficulty
from brakecourse.bench.vehicles import Vehicle
from brakecourse.marking.papers import job_steps
from brakecourse.marking.papers.m11_reassembly_and_torque import truth as records
from brakecourse.marking.papers.m11_reassembly_and_torque.truth import ONCE, OVER, SHARES, SPOILT, TorqueTruth
from brakecourse.marking.readings import seal_reading
from brakecourse.trade import fasteners
from brakecourse.trade.conformity import Verdict
from brakecourse.views.torque_sums import (
    TESTER_U_SHARE,
    Bolt,
    all_bolts,
    bolts_of,
    lbfft,
    lbfin,
    length_mm,
    proof_load_n,
    turn_nm,
    turns_and_line,
    wrenches,
)
from brakecourse.views.torque_words import FINISH_WORDS, LONGER, NECKED, RUSTED
from brakecourse.views.torque_words import SOUND as LOOKS_SOUND

CONFIDENCE = 0.95
MOST_TRIES = 2000

CARRIED_PERCENT = {OVER: (110.0, 140.0), "else": (40.0, 79.0)}
"""What the bolt carried. At 79 % even the spread of textbook threads and a wrench at the end of its 4 % stay
below the proof load; from 110 % on no rounding brings it below. Assumption, no source."""

LEAST_APART = 0.04
"""As a share: one and a half per cent or more between the two answers. Assumption, no source."""

COMPLAINTS = (
    "The last shift left a note: “Brake is back together. Please look over my bolts before it goes.”",
    "The workshop's foreman asks: “Check what was tightened here before the wheel goes on.”",
    "The driver waits for the vehicle, and whoever put the brake together has gone home.",
)

_ANGLES: dict[Difficulty, tuple[int, ...]] = {
    "easy": (0, 0, 60),
    "normal": (0, 30, 45, 60, 120),
    "hard": (30, 45, 60, 120, 135),
}
_EXTENSIONS = (50, 60, 75, 100, 120, 150, 175)
_OFF: dict[Difficulty, dict[Verdict, tuple[float, float]]] = {
    "easy": {"within": (0.0, 0.02), "outside": (0.07, 0.12), "too close to call": (0.038, 0.042)},
    "normal": {"within": (0.008, 0.028), "outside": (0.053, 0.08), "too close to call": (0.038, 0.042)},
    "hard": {"within": (0.022, 0.028), "outside": (0.053, 0.06), "too close to call": (0.037, 0.043)},
}
_VERDICTS: dict[Verdict, float] = {"within": 0.4, "outside": 0.4, "too close to call": 0.2}


def draw(seed: int, difficulty: Difficulty, situation: str | None) -> TorqueTruth:
    """Draw a case; the bolt, its extension and the wrench's setting again until they fit the situation."""
    root = Draw(seed).child(f"{records.MODULE}/{difficulty}")
    wanted = next((one for one in SHARES if one == situation), None) or root.child("situation").weighted(
        SHARES
    )
    bolt, wrench = _bolt_and_wrench(root.child("bolt"), difficulty, wanted)
    vehicle = bolt.vehicle
    return TorqueTruth(
        situation=wanted,
        vehicle=vehicle.name,
        fleet_number=vehicle.fleet_number,
        complaint=root.child("complaint").choice(COMPLAINTS),
        old=_sheet(vehicle, root.child("sheet")),
        wheel=_wheel(vehicle, root.child("wheel")),
        bolt=_sealed(bolt, wanted, root.child("state")),
        wrench=wrench,
        tested=_tested(difficulty, root.child("tested")),
        listed=job_steps.listed(records.STEPS, root.child("steps")),
    )


def _bolt_and_wrench(draw: Draw, difficulty: Difficulty, situation: str) -> tuple[Bolt, records.Extended]:
    pool = [one for one in all_bolts() if one.where and one.fastener.reusable == (situation != ONCE)]
    low, high = CARRIED_PERCENT.get(situation, CARRIED_PERCENT["else"])
    for again in range(MOST_TRIES):
        chance = draw.child(f"try {again}")
        bolt = chance.choice(pool)
        tool = _wrench_for(bolt.fastener.torque_nm)
        extension, angle = float(chance.choice(_EXTENSIONS)), float(chance.choice(_ANGLES[difficulty]))
        setting = fasteners.wrench_setting_nm(bolt.fastener.torque_nm, length_mm(tool), extension, angle)
        turns, line = chance.integer(1, 15), chance.integer(1, 9)
        left = round(tool.scale.start + turns * turn_nm(tool) + line * tool.scale.line, 6)
        got = left * bolt.fastener.torque_nm / setting
        percent = 100 * fasteners.proof_fraction(
            fasteners.preload_n(got, bolt.fastener.diameter_mm, fasteners.nut_factor("lubricated")),
            bolt.fastener.diameter_mm,
            bolt.fastener.pitch_mm,
            bolt.fastener.property_class,
        )
        if tool.scale.holds(setting) and low <= percent <= high and _apart(bolt, setting):
            sealed = seal_reading(tool, left)
            return bolt, records.Extended(
                largest_nm=tool.largest_nm,
                length_mm=length_mm(tool),
                extension_mm=extension,
                angle_deg=angle,
                left=sealed,
            )
    raise RuntimeError(f"No bolt that is {situation} was found; please report this.")


def _apart(bolt: Bolt, setting_nm: float) -> bool:
    """Tell whether the extension and the oil change the pull by different shares: else nobody could tell
    from the answer which of the two was forgotten."""
    lever = bolt.fastener.torque_nm / setting_nm
    oil = fasteners.nut_factor(bolt.fastener.finish) / fasteners.nut_factor("lubricated")
    return abs(lever / oil - 1) > LEAST_APART


def _wrench_for(torque_nm: float) -> TorqueWrench:
    """Return the wrench whose scale the torque lies well inside."""
    largest = 40.0 if torque_nm < 36 else 200.0 if torque_nm <= 160 else 400.0
    return torque_wrench(largest)


def _sealed(bolt: Bolt, situation: str, draw: Draw) -> records.SealedBolt:
    one = bolt.fastener
    state = draw.choice((NECKED, RUSTED, LONGER)) if situation == SPOILT else LOOKS_SOUND
    return records.SealedBolt(
        name=bolt.name,
        torque_nm=one.torque_nm,
        diameter_mm=one.diameter_mm,
        pitch_mm=one.pitch_mm,
        property_class=one.property_class,
        finish=FINISH_WORDS[one.finish],
        dry=fasteners.nut_factor(one.finish),
        oiled=fasteners.nut_factor("lubricated"),
        proof_kn=round(proof_load_n(one.diameter_mm, one.pitch_mm, one.property_class) / 1000, 1),
        reusable=one.reusable,
        state=state,
        spoilt=situation == SPOILT,
    )


def _sheet(vehicle: Vehicle, draw: Draw) -> records.Sheet:
    """Return the old sheet: of the fastener that it gives in lbf·in, the smallest that the vehicle has."""
    small = min(bolts_of(vehicle)[1:], key=lambda one: one.fastener.torque_nm)
    # An old sheet's number differs a little from the new one's: nobody can take the answer from the facts.
    off = draw.child("off").choice((0.9, 0.95, 1.05, 1.1))
    return records.Sheet(
        nut_lbfft=float(round(lbfft(vehicle.wheel_nut.torque_nm) * off)),
        small=small.name,
        small_lbfin=float(round(lbfin(small.fastener.torque_nm) * off, -1)),
    )


def _wheel(vehicle: Vehicle, draw: Draw) -> records.Wheel:
    return records.Wheel(
        studs=vehicle.studs,
        first=draw.integer(2, vehicle.studs),
        circle_mm=vehicle.stud_circle_mm,
        thread_mm=vehicle.wheel_nut.diameter_mm,
        rim_mm=vehicle.rim_radius_mm,
        tyre_mm=vehicle.tyre_radius_mm,
    )


def _tested(difficulty: Difficulty, draw: Draw) -> records.OnTester:
    tool = draw.child("wrench").choice(list(wrenches()))
    set_nm = tool.scale.start + draw.child("setting").integer(2, 15) * turn_nm(tool)
    verdict = draw.child("verdict").weighted(_VERDICTS)
    off = draw.child("off").between(*_OFF[difficulty][verdict]) * draw.child("side").choice((-1, 1))
    return records.OnTester(
        set_nm=set_nm,
        shown_nm=round(set_nm * (1 + off), 2),
        largest_nm=tool.largest_nm,
        share=fasteners.wrench_tolerance(tool.largest_nm),
        u_nm=round(TESTER_U_SHARE * set_nm, 3),
        confidence=CONFIDENCE,
    )


def grip_nm(wrench: records.Extended) -> tuple[float, float, int]:
    """Return what the grip adds to the line of the scale, what one turn is worth, and the grip's line."""
    tool = torque_wrench(wrench.largest_nm)
    _, line = turns_and_line(tool, wrench.left.reading)
    return line * tool.scale.line, turn_nm(tool), line
