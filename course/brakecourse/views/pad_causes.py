"""Which part let the pads wear like that, and why another did not: from what hands and eyes find."""

from __future__ import annotations

from brakecourse.bench.condition import WheelCondition
from brakecourse.bench.pad_cases import PadCase
from brakecourse.bench.pad_situations import CAUSES, CLOSE
from brakecourse.views.pad_view import bolts, faces_words, newtons
from brakecourse.views.units import both
from brakecourse.views.words import mm

SYMPTOMS = ("the linings wore unevenly", "the face of the lining went bad", "the lining got too thin")
"""Answers that only say again what is seen: they name no part."""

_WHY = {
    CAUSES[
        0
    ]: "Dry pins hold the caliper's body back, so it pulls the outer pad less: the inner one does more.",
    CAUSES[1]: "The caliper tips round the tight pin, so the two pads wear at opposite ends.",
    CAUSES[2]: "The piston does not draw back, so the inner pad goes on rubbing.",
    CAUSES[3]: "The outer pad cannot slide back at that end, so it rubs there all the way.",
    CAUSES[4]: "The outer pad cannot slide back at that end, so it rubs there all the way.",
    CAUSES[5]: "The outer pad cannot slide back at either end, so it rubs all the way.",
    CAUSES[
        6
    ]: "A loose bracket does not hold the pads square to the rotor, so they press more with their outer "
    "edge. Loose bolts can let go: the vehicle does not move before they are right.",
    CAUSES[7]: "The ridge has worn its own strip into the pads.",
    CAUSES[8]: "Heat drives the binder out of the lining and leaves a hard skin.",
    CAUSES[9]: "Grease has been put where it does not belong. It never comes out of a lining.",
    CAUSES[10]: "The fluid runs out of the caliper onto the pad in front of the piston.",
    CAUSES[11]: "New pads that are never bedded in lay their material down in patches.",
    CAUSES[12]: "Nothing made them wear unevenly: they have simply done their distance, and more.",
    CAUSES[13]: "Both pads wear alike and keep every limit: the parts do their work.",
    CAUSES[
        14
    ]: "They wore evenly, and the gauge cannot tell whether the minimum is kept. Measure again, or with "
    "a finer one. Until then it is not proven.",
}


def cause_reason(case: PadCase, chosen: str) -> str:
    """Return why a cause is right or wrong for these pads.

    Args:
        case: the pads.
        chosen: one of ``CAUSES`` or ``SYMPTOMS``.
    """
    if chosen in SYMPTOMS:
        return _only_a_symptom(case)
    if chosen == case.cause:
        close = " The pads alone do not prove it yet; your hands do." if _hands_tell(case) else ""
        return f"{_found(case, chosen)} {_WHY[chosen]}{close}".strip()
    return f"{_found(case, chosen)} {_against(case, chosen)}".strip()


def _only_a_symptom(case: PadCase) -> str:
    if _hands_tell(case):
        return "That is not proven, and if it were, it would only be the symptom. Name the part behind it."
    if case.marks <= {CLOSE}:
        return "They did not: both pads wore alike. And if they had, that would be the symptom, not the part."
    return (
        "That says again what you see on the pads: it is the symptom. A cause is a part that you can put "
        "right, or something that was done."
    )


def _hands_tell(case: PadCase) -> bool:
    """Whether the pads are too close to call, but a part at the wheel is not."""
    return CLOSE in case.marks and case.cause != CAUSES[14]


def _found(case: PadCase, cause: str) -> str:
    """Say what was found of the part in question."""
    here, other = case.condition, case.other
    place = CAUSES.index(cause)
    if place in (0, 1):
        return _pins(here, other)
    if place == 2:
        return (
            f"The pistons go back with {newtons(here.caliper.piston_push_back_n)}, on the other wheel with "
            f"{newtons(other.caliper.piston_push_back_n)}."
        )
    if place in (3, 4, 5):
        lead, trail = map(newtons, here.caliper.pad_grip_n)
        return f"The outer pad moves in its clips with {lead} at the leading, {trail} at the trailing end."
    if place == 6:
        wanted = both(case.condition.bracket_bolts.wanted_nm, "N·m")
        found = f"was found at {bolts(here)}; the maker asks {wanted}."
        if here.caliper.pin_slide_n is None:
            return f"This is a fixed caliper, bolted on without a bracket. The looser of its bolts {found}"
        return f"The looser bolt of the bracket {found}"
    if place == 7:
        step = max(case.inner.step_mm, case.outer.step_mm)
        return f"The step at the pads' outer edge is {mm(step, 1)}."
    if place in (8, 11):
        return f"The rotor shows: {', '.join(here.rotor.looks)}."
    if place in (9, 10):
        leaked = f"Where brake fluid has leaked: {', '.join(here.wet_places) or 'nowhere'}."
        return f"{faces_words(case)} {leaked}" if place == 9 else leaked
    if place == 12:
        least = min(*case.inner.corners_mm, *case.outer.corners_mm)
        return f"The thinnest corner is {mm(least, 1)}, the minimum {mm(case.limits.minimum_mm, 1)}."
    return ""


def _pins(here: WheelCondition, other: WheelCondition) -> str:
    mine, theirs = here.caliper.pin_slide_n, other.caliper.pin_slide_n
    if mine is None or theirs is None:
        return "This is a fixed caliper: it has no slide pins."
    return (
        f"The pins slide with {newtons(mine[0])} and {newtons(mine[1])}, on the other wheel with "
        f"{newtons(theirs[0])} and {newtons(theirs[1])}."
    )


def _against(case: PadCase, cause: str) -> str:
    """Say why the finding does not make this the cause."""
    place, right = CAUSES.index(cause), CAUSES.index(case.cause)
    if place in (0, 1) and case.condition.caliper.pin_slide_n is None:
        return "So look at another part."
    if place in (12, 13, 14):
        return _against_time(case, place)
    if {place, right} <= {0, 1}:
        return "One tight pin tips the caliper and tapers the pads; two tight ones hold it back straight."
    if place in (3, 4, 5) and right in (3, 4, 5):
        return "Look at which end is tight."
    if place in (8, 11) and right in (8, 11):
        return "Dark spots come from heat; patches of friction material come from bedding that was left out."
    signs = {
        6: "A loose bolt would be found far below that.",
        7: f"A ridge that matters would press it deeper than the limit, {mm(case.limits.max_step_mm, 1)}.",
        8: "Heat would leave dark spots there.",
        9: "Grease would leave a black smear on a face.",
        10: "A leaking seal would leave a wet trail at the caliper.",
        11: "Pads that were never bedded in would leave patches of friction material there.",
    }
    return signs.get(place, "That is as it should be, so look at another part.")


def _against_time(case: PadCase, place: int) -> str:
    """Say why it was not the time in service, or not normal use, or why it can be known."""
    if _hands_tell(case):
        told = _found(case, case.cause)
        return (
            f"The pads alone do not tell. But your hands do. {told}" if place == 14 else f"But look: {told}"
        )
    if place == 14:
        return "The readings do tell: no check here is too close to call."
    if CLOSE in case.marks:
        more = "they stayed in too long" if place == 12 else "every limit is kept"
        return f"The thinnest corner is too close to call, so it is not proven that {more}."
    if place == 13:
        if case.cause == CAUSES[12]:
            return (
                "The wear itself is normal. But a lining is below its minimum: that is more than normal use."
            )
        return "These pads show more than normal use leaves."
    if "below" in case.marks:
        return "They did. But that does not explain what else the pads show."
    return "The minimum is kept, so they did not stay in too long."
