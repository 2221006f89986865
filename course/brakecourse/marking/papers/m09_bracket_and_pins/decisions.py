"""9.7 to 9.9: which part is at fault, what it needs, and the service in order."""

from __future__ import annotations

from brakecourse.marking import basis
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers import units_text as both
from brakecourse.marking.papers.m09_bracket_and_pins.draw import PART
from brakecourse.marking.papers.m09_bracket_and_pins.truth import FAULT_OF, BracketTruth, Two
from brakecourse.marking.sealed import SealedRule
from brakecourse.trade.job_order import a_good_order, sub_job
from brakecourse.trade.slide_pins import grease_limit_ml
from brakecourse.views.words import mm

ENDS = ("leading", "trailing")

TAKEN_FOR = {
    "dry": (("one_pin_for_two", "seized"),),
    "seized": (("one_pin_for_two", "dry"), ("boot_not_looked_at", "pin-boot")),
    "packed": (("pins_not_looked_at", "seized"), ("pins_not_looked_at", "dry")),
    "swapped": (("pins_not_looked_at", "seized"), ("pins_not_looked_at", "dry")),
    "rust": (("clips_not_looked_at", "piston"),),
    "piston": (("boot_not_looked_at", "piston-boot"), ("clips_not_looked_at", "rust")),
    "pin-boot": (("consequence_for_cause", "seized"), ("one_pin_for_two", "dry")),
    "piston-boot": (("consequence_for_cause", "piston"),),
    "sound": (("nothing_at_fault", "dry"), ("nothing_at_fault", "rust"), ("nothing_at_fault", "piston")),
}
"""For each part at fault, what it is easily taken for, and the named mistake that this is."""

REMEDY = {
    "dry": "film",
    "seized": "free-pin",
    "packed": "wash-out",
    "swapped": "own-bores",
    "rust": "bare-metal",
    "piston": "piston",
    "pin-boot": "pin-boot",
    "piston-boot": "piston-boot",
    "sound": "service",
}
"""What each part at fault needs, by the short name of the choice."""

STEP_MISTAKES = {
    ("support_caliper", "pads_out"): "caliper_on_the_hose",
    ("pads_out", "bracket_off"): "places_not_noted",
    ("measure_pads", "clean_bracket"): "signs_cleaned_away",
    ("measure_pads", "clean_pins"): "signs_cleaned_away",
    ("clean_bracket", "renew_clips"): "clips_over_rust",
    ("renew_clips", "pads_in"): "fitted_too_early",
    ("clean_pins", "pins_back"): "grease_over_rust",
    ("pins_back", "caliper_on"): "fitted_too_early",
    ("pads_in", "caliper_on"): "fitted_too_early",
}
"""The named mistake that breaking a rule of the service shows."""


def fault(truth: BracketTruth, given: Given) -> Basis:
    """9.7: which part is at fault."""
    pairs = list(TAKEN_FOR[truth.situation])
    if truth.situation != "sound":
        pairs.append(("fault_overlooked", "sound"))
    return given.choice(
        "9.7",
        (truth.situation,),
        pairs,
        how=f"{because(truth)} So it is: {FAULT_OF[truth.situation]}.",
    )


def remedy(truth: BracketTruth, given: Given) -> Basis:
    """9.8: what that part needs before the wheel goes together."""
    part = given.picked("9.7")
    pairs = [
        ("boot_left", REMEDY[taken]) for name, taken in TAKEN_FOR[part] if name == "consequence_for_cause"
    ]
    text = next(one.text for one in given.choices("9.8") if one.key == REMEDY[part])
    return given.choice("9.8", (REMEDY[part],), pairs, how=f"At fault: {FAULT_OF[part]}. So: {text}")


def order(_truth: BracketTruth, _given: Given) -> Basis:
    """9.9: the service of the bracket in order."""
    job = sub_job(PART)
    words = {step.id: step.words for step in job.operations}
    rules = [
        SealedRule(
            before=words[rule.before],
            after=words[rule.after],
            reason=rule.reason,
            critical=rule.safety_critical,
            mistake=STEP_MISTAKES.get((rule.before, rule.after)),
        )
        for rule in job.rules
    ]
    return basis.by_rules(
        [words[step] for step in a_good_order(PART)],
        rules,
        how="Other orders are right as well, as long as what must come first comes first.",
    )


def because(truth: BracketTruth) -> str:
    """Say what was found that decides."""
    here, other = truth.here, truth.other
    pins = f"The pins slide with {pair_n((truth.pulls_n[0], truth.pulls_n[1]))}"
    if truth.situation in ("dry", "seized", "pin-boot", "swapped", "packed"):
        return f"{pins}; on the other wheel with {pair_n(other.slide_n)}. {_of_the_pins(truth)}"
    if truth.situation == "rust":
        place = 0 if here.rust_mm[0] > here.rust_mm[1] else 1
        return (
            f"Under the {ENDS[place]} clip is {mm(here.rust_mm[place], 1)} of rust, and a pad's ear needs "
            f"{both.newtons(here.grip_n[place])} to move there."
        )
    pushed = (
        f"The pistons go back with {both.newtons(here.push_back_n)}; on the other wheel with "
        f"{both.newtons(other.push_back_n)}."
    )
    ends = {
        "piston": "The piston's boot is whole.",
        "piston-boot": "The piston's boot is torn: it let the water in.",
        "sound": f"{pins}. The ears of the pads move easily, and every boot is whole.",
    }
    return f"{pushed} {ends[truth.situation]}"


def _of_the_pins(truth: BracketTruth) -> str:
    most = both.millilitres(grease_limit_ml(*truth.bore.measures))
    fuller = both.millilitres(max(truth.here.grease_ml))
    return {
        "dry": f"Both drag, and the bores hold next to nothing of the {most} that may go in.",
        "seized": "One is fast and rusty, the other free, and its boot is whole.",
        "pin-boot": "The tight one has a torn boot: it let the water in.",
        "swapped": "The pin with the flat came out of the leading bore, and it belongs in the trailing one.",
        "packed": f"The fuller bore holds {fuller}, at most {most} may go in, and its pin stops short.",
    }[truth.situation]


def pair_n(forces_n: Two) -> str:
    """Write two forces, leading and trailing."""
    one, two = forces_n
    return f"{both.newtons(one)} each" if one == two else f"{both.newtons(one)} and {both.newtons(two)}"
