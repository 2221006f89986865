"""The work of a whole job: what puts it right, the torque, before it moves, the bedding-in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import get_args

from brakecourse.bench.draw import Draw
from brakecourse.bench.job_cases import JobCase
from brakecourse.bench.shop_gauges import torque_wrench
from brakecourse.trade import job_order
from brakecourse.trade.leaks import diagnosis_table
from brakecourse.views.burnish_plans import (
    LIMIT_C,
    OWN,
    WORKING_C,
    Outcome,
    OwnNumbers,
    Verdict,
    outcome,
    schedule_of,
    verdict_words,
)
from brakecourse.views.quiz import Task
from brakecourse.views.torque_extension_tasks import STRAIGHT, Extended, set_task
from brakecourse.views.torque_sums import Bolt
from brakecourse.views.torque_words import nm
from brakecourse.views.torque_wrench_use import wrench_picture
from brakecourse.views.units import both
from brakecourse.views.whole_job_measure import Step
from brakecourse.views.whole_job_remedies import REMEDIES

PUT_RIGHT, FINISH = "Put it right", "Finish"
REMEDY, MOVES, BED_IN = "what puts it right", "before it moves", "the bedding-in"
TILTED = frozenset({"dirty_hub", "bent_hub", "under_torqued", "over_torqued"})
"""Causes that lean a rotor which is itself true: put right first, measured again, and not cut."""

NEW_PADS = "put in new pads at both wheels of the axle"
NEW_ROTORS = "fit new rotors at both wheels of the axle, with new pads"
CUT = "have the rotor machined true"
NO_BED_IN = "no bedding-in, because nothing that rubs is new: a road test from walking pace up"
WATCH = "measure the rotor again at the next service: its readings keep their limits"
FACES = frozenset({"grooved_rotor", "ridged_rotor"})
"""Causes that are on the rotor's face, whatever its thickness and run-out say."""
LEAST_CUT_MM = 0.5
"""Metal, both faces together, that a cut over grooves or a ridge asks for. Assumption, no source."""
NOTHING_AT_ALL = "nothing: the vehicle goes straight back to its driver"
_EXTENSIONS_MM = (50, 60, 75, 100, 120)
_PLANS = (*tuple((count, pause) for count in (3, 6, 10, 15, 20) for pause in (15, 30, 60)), (10, 120))
_AIR_C = 20.0
_WRENCH = "Torque wrench with an extension"


def causes(job: JobCase) -> tuple[str, ...]:
    """Return what is the matter, in words."""
    words = {one.id: one.words for one in diagnosis_table().causes}
    return tuple(words[fault.id] for fault in job.faults)


def works(job: JobCase) -> tuple[str, ...]:
    """Return all that has to be done about the vehicle, each a line of the record."""
    remedies = [REMEDIES[fault.id] for fault in job.faults]
    face = _new_face(job)
    done = [one.work.format(rotor=face or WATCH) for one in remedies]
    told = any("{rotor}" in one.work for one in remedies)
    rotors, pads = any(one.rotors for one in remedies), any(one.pads for one in remedies)
    if face and not rotors and not told:
        done.append(face)
    if job.lining.action == "replace" and not pads and NEW_ROTORS not in " ".join(done):
        done.append(NEW_PADS)
    return tuple(done)


def rubs_anew(job: JobCase) -> bool:
    """Tell whether a pad or a rotor's face is new, so that it must be bedded in."""
    remedies = [REMEDIES[fault.id] for fault in job.faults]
    fresh = any(one.pads or one.rotors for one in remedies)
    return fresh or job.lining.action == "replace" or bool(_new_face(job))


def _new_face(job: JobCase) -> str:
    """Return how the rotor gets a new face, once the cause is put right; empty when it may stay."""
    tilted = any(fault.id in TILTED for fault in job.faults)
    action = job.rotor.action
    if tilted and job.rotor.deciding.check == "run-out":
        action = "keep"
    if action == "keep" and any(fault.id in FACES for fault in job.faults):
        action = "machine" if job.rotor.allowance_mm >= LEAST_CUT_MM else "replace"
    return {"keep": "", "machine": CUT, "replace": NEW_ROTORS}[action]


def working(job: JobCase, draw: Draw) -> tuple[Step, ...]:
    """Return the steps that put the vehicle right."""
    return _remedy(job, draw.child("remedy")), _torque(job, draw.child("torque"))


def finishing(job: JobCase, draw: Draw) -> tuple[Step, ...]:
    """Return the steps before the first movement and on the road."""
    return _moves(job, draw.child("moves")), _bed_in(job, draw.child("bed in"))


def _remedy(job: JobCase, draw: Draw) -> Step:
    done, found = works(job), causes(job)
    right = _listed(done)
    reasons = {right: f"It goes to the cause ({_listed(found)}), and to every reading."}
    rest = done[len(job.faults) :]
    only = f"{_listed(rest)}, and nothing else" if rest else "top up the fluid, clean all parts, and wait"
    reasons[only] = f"The cause stays: {_listed(found)}. What it did to the brake, it will do again."
    reasons["new pads, rotors, calipers and hoses at all four wheels"] = (
        "No reading asks for all that. The customer would pay for parts that were good."
    )
    if any("both wheels" in one for one in done):
        reasons[right.replace("at both wheels of the axle", f"at the {job.wheel} wheel only")] = (
            "Pads, and new rotors, are an axle set. New on one side and old on the other hold differently, "
            "and the vehicle pulls."
        )
    elif job.rotor.action == "machine" and not _new_face(job):
        reasons[f"{CUT}, as it sits now"] = (
            f"{job.rotor.deciding.words} But it is not the rotor that leans: {_listed(found)}. "
            "Put that right, and measure again."
        )
    else:
        reasons[f"{right}; then new pads at the {job.wheel} wheel"] = (
            "No reading asks for new pads here. And pads are an axle set: never one wheel alone."
        )
    task = Task(
        REMEDY,
        f"Found: {_listed(found)}. Pads: {job.lining.action}. Rotor as it sits: {job.rotor.action}. "
        "What do you do about it?",
        tuple(draw.shuffled(tuple(reasons))),
        right,
        reasons,
        case=job,
    )
    return Step("remedy", PUT_RIGHT, "Work done", task, _sentence(right))


def _torque(job: JobCase, draw: Draw) -> Step:
    bolt = Bolt(job.vehicle, job.axle, job.brake.caliper.bracket_bolt)
    target, nut = bolt.fastener.torque_nm, job.vehicle.wheel_nut.torque_nm
    wrench = torque_wrench(next(one for one in (40.0, 200.0, 400.0) if target <= one))
    case = Extended(bolt, wrench, draw.choice(_EXTENSIONS_MM), 0, wrench.scale.start)
    task = set_task(STRAIGHT, case)
    return Step(
        "torque",
        PUT_RIGHT,
        "Torque",
        task,
        f"{bolt.name}s {nm(target)}, wrench set to {nm(target / case.share)} with the extension; "
        f"wheel nuts {nm(nut)}, across and across",
        lambda uid: wrench_picture(
            wrench, case.set_nm, extension_mm=case.extension_mm, angle_deg=0, uid=uid, title=_WRENCH
        ),
    )


def _moves(job: JobCase, draw: Draw) -> Step:
    steps = ("pump_pedal", "set_level", "check_leaks", "first_move")
    order = tuple(one for one in job_order.a_good_order("bed in") if one in steps)
    pump, level, leaks, move = order
    wrong = (
        (level, pump, leaks, move),
        (move, pump, level, leaks),
        (pump, level, move, leaks),
    )
    reasons = {_in_order(order): "Firm pedal, right level, no leak: all of it before a wheel turns."}
    for one in wrong:
        broken = job_order.check_order(one, "bed in")
        reasons[_in_order(one)] = " ".join(dict.fromkeys(found.reason for found in broken))
    task = Task(
        MOVES,
        "The wheels are on and torqued, and the vehicle stands on the floor. In which order do you go on?",
        tuple(draw.shuffled(tuple(reasons))),
        _in_order(order),
        reasons,
        case=job,
    )
    return Step("moves", FINISH, "Before it moves", task, _sentence(_in_order(order)))


_SHORT = {
    "pump_pedal": "pump the pedal firm",
    "set_level": "set the fluid level",
    "check_leaks": "press hard and look for leaks",
    "first_move": "move at walking pace",
}


def _in_order(steps: Sequence[str]) -> str:
    return ", then ".join(_SHORT[one] for one in steps)


def _bed_in(job: JobCase, draw: Draw) -> Step:
    needed = rubs_anew(job)
    made = _one_of_each(job, draw)
    reasons = {_plan_words(*one): _plan_reason(found, needed=needed) for one, found in made.items()}
    reasons[NO_BED_IN] = (
        "What rubs is new here. Without a bedding-in it holds less than its driver expects."
        if needed
        else "Pads and rotors are the old ones, and fit each other already. The road test proves the work."
    )
    if not needed:
        reasons[NOTHING_AT_ALL] = "Work on a brake is proven on the road before its driver gets it back."
    passing = next(one for one, found in made.items() if found.verdict == "passes")
    right = _plan_words(*passing) if needed else NO_BED_IN
    new = "Pads or rotors are new" if needed else "No pad and no rotor is new"
    task = Task(
        BED_IN,
        f"{new}. Which plan is right? Stops from 20 mph (32 km/h), slowdowns from 40 to 20 mph (64 to "
        "32 km/h); the front rotors get hotter than the rear ones. The pad maker wants "
        f"{both(WORKING_C, '°C')} once, and never more than {both(LIMIT_C, '°C')}.",
        tuple(draw.child("order").shuffled(tuple(reasons))),
        right,
        reasons,
        case=job,
    )
    return Step("bed-in", FINISH, "On the road", task, _sentence(right))


def _one_of_each(job: JobCase, draw: Draw) -> dict[tuple[int, int], Outcome]:
    """Return a plan that passes, one that overheats, and one that stays too cool, with what each comes to."""
    found: dict[str, tuple[tuple[int, int], Outcome]] = {}
    for one in draw.shuffled(_PLANS):
        if len(found) == len(get_args(Verdict)):
            break
        made = _outcome(job, *one)
        found.setdefault(made.verdict, (one, made))
    return dict(found.values())


def _outcome(job: JobCase, count: int, pause_s: int) -> Outcome:
    return outcome(job.vehicle, _AIR_C, schedule_of(OWN, OwnNumbers(count, 20, 40, pause_s)))


def _plan_words(count: int, pause_s: int) -> str:
    return f"{count} stops, then {count} slowdowns, {pause_s} s of driving between them"


def _plan_reason(found: Outcome, *, needed: bool) -> str:
    if not needed:
        return "Nothing that rubs is new. Hard brakings in a row only heat old pads for nothing."
    return verdict_words(found)


def _listed(words: Sequence[str]) -> str:
    return "; and ".join(words)


def _sentence(words: str) -> str:
    return words[0].upper() + words[1:]
