"""13.7 to 13.12: the cause, and what is done about pads, rotor, caliper and fluid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from brakecourse.marking import basis, slips, tolerances
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers.m13_whole_job.checks_done import evidence
from brakecourse.marking.papers.m13_whole_job.rotor_action import RotorAction, rotor_action
from brakecourse.marking.papers.m13_whole_job.truth import PARTS, JobTruth
from brakecourse.marking.sealed import SealedMistake
from brakecourse.trade.conformity import Decision
from brakecourse.trade.rotor import Instruments
from brakecourse.views.diagnosis_words import cause_words
from brakecourse.views.units import both
from brakecourse.views.words import mm, number

NEIGHBOURS: Mapping[str, tuple[tuple[str, str], ...]] = {
    "worn_pads": (("cause_overlooked", "nothing_wrong"),),
    "thickness_variation": (("hub_blamed", "dirty_hub"), ("cause_overlooked", "nothing_wrong")),
    "dirty_hub": (("hub_not_looked_at", "thickness_variation"), ("cause_overlooked", "nothing_wrong")),
    "thin_rotor": (("cause_overlooked", "nothing_wrong"),),
    "seized_piston": (
        ("hose_and_piston_mixed_up", "collapsed_hose"),
        ("pin_and_piston_mixed_up", "seized_pin"),
    ),
    "seized_pin": (
        ("pin_and_piston_mixed_up", "seized_piston"),
        ("hose_and_piston_mixed_up", "collapsed_hose"),
    ),
    "collapsed_hose": (
        ("hose_and_piston_mixed_up", "seized_piston"),
        ("hose_and_piston_mixed_up", "seized_pin"),
    ),
    "hose_leak": (
        ("leak_not_located", "caliper_seal_leak"),
        ("outside_leak_missed", "internal_bypass"),
        ("symptom_for_cause", "air_in_circuit"),
    ),
    "caliper_seal_leak": (
        ("leak_not_located", "hose_leak"),
        ("outside_leak_missed", "internal_bypass"),
        ("symptom_for_cause", "air_in_circuit"),
    ),
}
"""For each cause, the likely mistakes and the causes that they lead to."""

_GAUGED: Mapping[str, str] = {
    "worn_pads": "The gauge proves the thinnest lining to be below its minimum.",
    "thickness_variation": "The micrometer proves the rotor's thickness to vary by more than its limit.",
    "dirty_hub": "The dial shows a run-out beyond its limit.",
    "thin_rotor": "The micrometer proves the rotor to be thinner than its discard limit.",
}

CALIPER_OF: Mapping[str, str] = {
    "hose_leak": "hose-leaks",
    "collapsed_hose": "hose-shut",
    "seized_piston": "piston-sticks",
    "caliper_seal_leak": "seal-leaks",
    "seized_pin": "pin-sticks",
    "internal_bypass": "master",
    "air_in_circuit": "bleed",
}
"""What a cause asks for at caliper and hose, by the short names of the choices; for all others nothing."""

PADS_OF_A_WHEEL, PADS_OF_AN_AXLE, ROTORS_OF_AN_AXLE = 2, 4, 2


def choice_of(cause_id: str) -> str:
    """Return the short name that a cause has among the choices of 13.7."""
    return cause_id.replace("_", "-")


def named_cause(given: Given) -> str:
    """Return the cause that was named in 13.7, by its short name."""
    return given.picked("13.7").replace("-", "_")


def cause(truth: JobTruth, given: Given) -> Basis:
    """13.7: the cause of the complaint."""
    told = f"{_GAUGED.get(truth.cause, '')} {evidence(truth, truth.cause)}".strip()
    return given.choice(
        "13.7",
        (choice_of(truth.cause),),
        [(name, choice_of(other)) for name, other in NEIGHBOURS[truth.cause]],
        how=f"{told} So the cause is: {cause_words()[truth.cause]}.",
    )


def pads(truth: JobTruth, given: Given) -> Basis:
    """13.8: what to do with the pads."""
    thinnest = given.row("13.6")[0]
    found, bare = truth.lining_decision(thinnest), truth.lining_decision(thinnest, 0.0)
    right = [_reasoned(given, "13.8", "soaked")] if truth.soaked else []
    if not truth.soaked or found.verdict != "within":
        right.append(_reasoned(given, "13.8", found.verdict))
    soaked = "A pad is wet with brake fluid: it never holds again as it should. " if truth.soaked else ""
    return given.choice(
        "13.8",
        right,
        [("ignored_uncertainty", _reasoned(given, "13.8", bare.verdict))] if not truth.soaked else [],
        how=f"{soaked}The thinnest lining, {mm(thinnest, 1)}, lies {_signed(found.margin, 1)} mm from the "
        f"minimum of {mm(truth.pad_limits.minimum_mm, 1)}. The guard band is {_band(found)} wide on each "
        f"side: {found.verdict}.",
    )


def rotor(truth: JobTruth, given: Given) -> Basis:
    """13.9: what to do with the rotor."""
    _, smallest, variation = given.row("13.6")
    counts, named = (smallest, variation, given.number("13.5")), named_cause(given)
    # The trade's record wants machine-to above discard, so "cut down to the discard limit" is a hair above.
    deep = replace(truth.spec, machine_to_mm=truth.spec.discard_mm + tolerances.FUZZ)
    others = (
        ("ignored_uncertainty", rotor_action(truth, counts, named, None, Instruments(0.0, 0.0, 0.0))),
        ("hub_run_out_for_rotor", rotor_action(truth, counts, "")),
        ("discard_for_machine_to", rotor_action(truth, counts, named, deep)),
    )
    found = rotor_action(truth, counts, named)
    return given.choice(
        "13.9",
        _keys(found, given),
        [(name, key) for name, one in others for key in _keys(one, given)],
        how=found.words,
    )


def caliper(truth: JobTruth, given: Given) -> Basis:
    """13.10: what is done at the caliper and the hose."""
    named = named_cause(given)
    right = CALIPER_OF.get(named, "stays")
    sound = "Hose, boots, pins and piston show nothing that asks for work."
    told = sound if right == "stays" else evidence(truth, named)
    return given.choice(
        "13.10",
        (right,),
        [("cause_left", "stays")] if right != "stays" else [],
        how=f"{told} The cause is: {cause_words()[named]}.",
    )


def fluid(truth: JobTruth, given: Given) -> Basis:
    """13.11: what to do with the fluid."""
    boils = given.number("13.2")
    found = truth.fluid_decision(boils)
    wrong = {
        "ignored_uncertainty": truth.fluid_decision(boils, u_c=0.0),
        "lower_limit_taken": truth.fluid_decision(boils, min(truth.wet_c, truth.hottest_c)),
    }
    which = "the hottest fluid" if truth.hottest_c > truth.wet_c else f"the wet limit of {truth.grade}"
    side = "above" if found.margin >= 0 else "below"
    return given.choice(
        "13.11",
        (_reasoned(given, "13.11", found.verdict),),
        [(name, _reasoned(given, "13.11", one.verdict)) for name, one in wrong.items()],
        how=f"It boils at {both(boils, '°C')}. The higher of the two limits is {which}, "
        f"{both(truth.needed_c, '°C')}. It boils {both(abs(found.margin), '°C rise')} {side} that, and the "
        f"guard band is {both(found.guard_band, '°C rise', 1, 1)}: {found.verdict}.",
    )


def parts(_truth: JobTruth, given: Given) -> Basis:
    """13.12: which new parts, and how many."""
    pads_do, rotor_do, caliper_do = (_action(given, one) for one in ("13.8", "13.9", "13.10"))
    new_rotors = rotor_do == "replace"
    count = (
        PADS_OF_AN_AXLE if pads_do == "renew" or new_rotors else PADS_OF_A_WHEEL * (pads_do == "one wheel")
    )
    right = (
        count,
        ROTORS_OF_AN_AXLE * new_rotors,
        int(caliper_do == "hose"),
        int(caliper_do == "caliper"),
        int(caliper_do == "pins"),
    )
    found: list[tuple[str, int, int]] = []
    if right[0] == PADS_OF_AN_AXLE:
        found += [("one_side_only", 1, 2), ("sets_for_pieces", 1, 1), ("part_forgotten", 1, 0)]
        if pads_do != "renew":
            found.insert(0, ("old_pads_on_new_rotors", 1, 0))
    else:
        found += [("part_without_reason", 1, 4), ("part_without_reason", 1, 2)]
    if new_rotors:
        found += [("one_side_only", 2, 1), ("part_forgotten", 2, 0)]
    else:
        found += [("part_without_reason", 2, 2), ("part_without_reason", 2, 1)]
    for place in (3, 4, 5):
        if right[place - 1]:
            found += [("part_forgotten", place, 0), ("part_without_reason", place, 2)]
        else:
            found += [("part_without_reason", place, 1), ("part_without_reason", place, 2)]
    told = ", ".join(f"{name}: {value}" for value, name in zip(right, PARTS, strict=True) if value)
    both_wheels = " Pads and rotors go in at both wheels of the axle." if count == PADS_OF_AN_AXLE else ""
    why = " New rotors get new pads." if new_rotors and pads_do != "renew" else ""
    return basis.table(
        right,
        0.0,
        [_place(name, place, value) for name, place, value in found],
        how=f"What is done about pads, rotor and caliper asks for {told or 'no new part'}.{both_wheels}{why}",
        places=0,
    )


def _place(name: str, place: int, value: int) -> SealedMistake:
    return slips.slip(name, float(value), 0.0).model_copy(update={"place": place})


def _action(given: Given, question: str) -> str:
    picked = given.picked(question)
    return next(one.action for one in given.choices(question) if one.key == picked)


def _reasoned(given: Given, question: str, reason: str) -> str:
    return next(one.key for one in given.choices(question) if one.reason == reason)


def _keys(found: RotorAction, given: Given) -> list[str]:
    by_meaning = {(one.action, one.reason): one.key for one in given.choices("13.9")}
    return [by_meaning[found.action, reason] for reason in found.reasons]


def _band(found: Decision) -> str:
    return mm(found.guard_band, 2)


def _signed(value: float, places: int) -> str:
    return ("+" if value > 0 else "") + number(value, places)


KEY: dict[str, Answer] = {
    "13.7": cause,
    "13.8": pads,
    "13.9": rotor,
    "13.10": caliper,
    "13.11": fluid,
    "13.12": parts,
}
