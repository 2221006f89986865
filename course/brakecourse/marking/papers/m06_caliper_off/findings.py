"""Whether the hose and the caliper may stay: the right decisions, their reasons, and the usual mistakes.

Common practice, no source, as in the lesson. The maker's data and local law come first.
"""

from __future__ import annotations

from brakecourse.bench.hose_cases import HOLDS_NM, STICKS
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m06_caliper_off.truth import CaliperTruth
from brakecourse.views.hose_reasons import torque_words
from brakecourse.views.units import both
from brakecourse.views.words import number

FINE = "fine"
_SKIN = {
    "whole": "The cover is smooth.",
    "fine lines": "The lines are fine and do not open, and no cords show.",
    "rubbed cover": "The rubbed patch is in the cover only, and no cords show.",
    "cracked to the cords": "Cords show at the bottom of the cracks.",
    "rubbed to the cords": "Cords show in the rubbed place.",
    "blister": "A lump tells that fluid gets under the cover.",
}


def hose_holds(truth: CaliperTruth) -> bool:
    """Tell whether the hose keeps pressure: the bleeder frees the wheel, the fitting above does not."""
    eased = truth.drag_nm.here - truth.bleeder_nm.here
    return eased >= HOLDS_NM and truth.drag_nm.here - truth.fitting_nm.here < eased / 4


def hose_reasons(truth: CaliperTruth) -> tuple[str, ...]:
    """Return why the hose must go, the plainest first; that it is fine when nothing asks for it."""
    found = {
        "cords": truth.skin in ("cracked to the cords", "rubbed to the cords"),
        "lump": truth.skin == "blister",
        "wet": truth.wet_hose,
        "collapsed": hose_holds(truth),
    }
    return tuple(reason for reason, here in found.items() if here) or (FINE,)


def caliper_reasons(truth: CaliperTruth) -> tuple[str, ...]:
    """Return what the caliper needs, the plainest first; that it is fine when nothing is the matter."""
    found = {
        "torn": truth.piston_torn,
        "seal": truth.wet_boot,
        "sticks": truth.push_ratio >= STICKS,
        "pin": truth.pin_torn,
        "fitting": truth.wet_fitting,
    }
    return tuple(reason for reason, here in found.items() if here) or (FINE,)


def hose(truth: CaliperTruth, given: Given) -> Basis:
    """6.7: what to do with the hose, and why."""
    reasons = hose_reasons(truth)
    wrong = (
        "sound_hose_renewed" if reasons == (FINE,) else "other_sign",
        "hose_fault_overlooked",
    )
    return _decided("6.7", reasons, wrong, given, _hose_how(truth))


def caliper(truth: CaliperTruth, given: Given) -> Basis:
    """6.8: what to do with the caliper, and why."""
    reasons = caliper_reasons(truth)
    wrong = (
        "sound_caliper_condemned" if reasons == (FINE,) else "other_part_blamed",
        "caliper_fault_overlooked",
    )
    return _decided("6.8", reasons, wrong, given, _caliper_how(truth))


def _decided(
    question: str, reasons: tuple[str, ...], wrong: tuple[str, str], given: Given, how: str
) -> Basis:
    by_reason = {one.reason: one.key for one in given.choices(question) if one.reason}
    blamed, overlooked = wrong
    mistakes = [
        (overlooked if reason == FINE else blamed, key)
        for reason, key in by_reason.items()
        if reason not in reasons
    ]
    return given.choice(question, [by_reason[reason] for reason in reasons], mistakes, how=how)


def _hose_how(truth: CaliperTruth) -> str:
    wet = "Drops of fluid stand there." if truth.wet_hose else "It is dry."
    drag = (
        f"The wheel turns with {torque_words(truth.drag_nm.here)} as found, with "
        f"{torque_words(truth.fitting_nm.here)} when the fitting above the hose is open, and with "
        f"{torque_words(truth.bleeder_nm.here)} when the bleeder is open."
    )
    if hose_holds(truth):
        return f"{_SKIN[truth.skin]} {wet} {drag} So the hose has collapsed inside and holds the pressure."
    freed = "So the hose lets the pressure go." if truth.drag_nm.here >= HOLDS_NM else "It turns freely."
    return f"{_SKIN[truth.skin]} {wet} {drag} {freed}"


def _caliper_how(truth: CaliperTruth) -> str:
    push, partner, ratio = truth.push_n.here, truth.push_n.other, number(truth.push_ratio, 1)
    told = [
        "The piston's boot is torn." if truth.piston_torn else "The piston's boot is whole.",
        "Drops hang at it, so the seal in the bore leaks." if truth.wet_boot else "It is dry.",
        "One pin's boot is torn." if truth.pin_torn else "The pins' boots are whole.",
        "Drops stand at the banjo bolt." if truth.wet_fitting else "The banjo bolt is dry.",
        f"The piston takes {both(push, 'N')} to push back, {ratio} times what its partner takes "
        f"({both(partner, 'N')}).",
    ]
    return " ".join(told)
