"""Why a part is at fault at a wheel, and why another is not: from what was found there."""

from __future__ import annotations

from collections.abc import Callable

from brakecourse.bench.condition import CaliperCondition
from brakecourse.views import bracket_case as found
from brakecourse.views.bracket_case import TIGHT_SHARE, BracketCase
from brakecourse.views.bracket_words import ENDS, ml, pair_n, push_words
from brakecourse.views.pad_view import newtons
from brakecourse.views.words import mm


def fault_reason(case: BracketCase, chosen: str) -> str:
    """Return why a part is the one at fault, or is not.

    Args:
        case: the wheel.
        chosen: one of :data:`brakecourse.views.bracket_case.FAULTS`.
    """
    if chosen == case.fault:
        return BECAUSE[chosen](case)
    if chosen == found.SOUND:
        return f"Something is at fault. {BECAUSE[case.fault](case)}"
    return AGAINST[chosen](case)


def _slides(case: BracketCase) -> str:
    return f"The pins slide with {pair_n(case.slides_n())}"


def _tight(case: BracketCase) -> list[int]:
    return [place for place in (0, 1) if case.slides_n()[place] >= TIGHT_SHARE * case.clamp_n]


def _tighter(case: BracketCase) -> int:
    leading, trailing = case.slides_n()
    return 0 if leading > trailing else 1


def _caliper(case: BracketCase) -> CaliperCondition:
    return case.condition.wheel(case.wheel).caliper


# Why it is this.


def _dry(case: BracketCase) -> str:
    return (
        f"Both pins are short of grease: {ml(case.grease_ml[0])} and {ml(case.grease_ml[1])}. "
        f"{_slides(case)}; on the other wheel it takes {pair_n(case.slides_n(case.partner))}. "
        "Dry pins hold the body back, and the outer pad presses less."
    )


def _seized(case: BracketCase) -> str:
    tight = _tighter(case)
    return (
        f"{_slides(case)}: the {ENDS[tight]} one is fast, the other free. Grease is there and the boots are "
        "whole, but rust has taken hold. The body tips round that pin."
    )


def _packed(case: BracketCase) -> str:
    place = 0 if case.gaps_mm[0] else 1
    return (
        f"The {ENDS[place]} bore holds {ml(case.grease_ml[place])}, and at most {ml(case.sums.limit_ml)} may "
        f"go in. No air is left, so the pin stops {mm(case.gaps_mm[place], 1)} short of its seat."
    )


def _swapped(case: BracketCase) -> str:
    return (
        "The pin with the flat came out of the leading bore, and it belongs in the trailing one. "
        f"{_slides(case)}: neither fits where it is."
    )


def _rust(case: BracketCase) -> str:
    caliper = _caliper(case)
    place = 0 if caliper.clip_rust_mm[0] > caliper.clip_rust_mm[1] else 1
    return (
        f"Under the {ENDS[place]} clip is {mm(caliper.clip_rust_mm[place])} of rust. It lifts the clip "
        f"against the pad's ear, which needs {newtons(caliper.pad_grip_n[place])} to move. A new clip on "
        "that rust binds as well."
    )


def _piston(case: BracketCase) -> str:
    return (
        f"The piston needs {push_words(case, case.wheel)} to go back, on the other wheel "
        f"{push_words(case, case.partner)}. Its boot is whole, so look for rust or old fluid inside."
    )


def _pin_boot(case: BracketCase) -> str:
    place = _tighter(case)
    return (
        f"The boot of the {ENDS[place]} pin is torn. Water washed the grease out and rust came: it slides "
        f"with {newtons(case.slides_n()[place])}, the other with {newtons(case.slides_n()[1 - place])}."
    )


def _piston_boot(case: BracketCase) -> str:
    return (
        "The piston's boot is torn, and rust shows behind it. It goes back with "
        f"{push_words(case, case.wheel)}, on the other wheel with {push_words(case, case.partner)}. The boot "
        "let the water in."
    )


def _sound(case: BracketCase) -> str:
    return (
        f"{_slides(case)}, the pads' ears move with {pair_n(_caliper(case).pad_grip_n)}, the piston goes "
        f"back with {push_words(case, case.wheel)}: much like the other wheel. Boots are whole and each pin "
        "is in its own bore."
    )


BECAUSE: dict[str, Callable[[BracketCase], str]] = {
    found.DRY: _dry,
    found.SEIZED: _seized,
    found.PACKED: _packed,
    found.SWAPPED: _swapped,
    found.RUST: _rust,
    found.PISTON: _piston,
    found.PIN_BOOT: _pin_boot,
    found.PISTON_BOOT: _piston_boot,
    found.SOUND: _sound,
}
"""For each part: why it is at fault."""


# Why it is not this.


def _not_dry(case: BracketCase) -> str:
    if case.fault == found.SWAPPED:
        return "They drag, but not for want of grease. Look which bore the pin with the flat came out of."
    only = " Only one of them is tight, and dry pins both drag." if len(_tight(case)) == 1 else ""
    return f"{_slides(case)}.{only or ' Both slide freely.'}"


def _not_seized(case: BracketCase) -> str:
    if case.fault == found.PIN_BOOT:
        return (
            "One pin is fast, yes. But its boot is torn: that let the water in. Free the pin and leave the "
            "boot, and it seizes again."
        )
    if case.fault == found.PACKED:
        return "The pin that drags is not rusted. Look how much grease it carries, and where it stops."
    if case.fault == found.SWAPPED:
        return "A pin binds here, but it is clean. Look which bore the pin with the flat came out of."
    if case.fault == found.DRY:
        return f"{_slides(case)}. Both are tight, and a seized pin is one."
    return f"{_slides(case)}. Neither is fast."


def _not_packed(case: BracketCase) -> str:
    most = max(case.grease_ml)
    limit = ml(case.sums.limit_ml)
    return f"Both pins reach their seats. The fuller bore holds {ml(most)}, and {limit} may go in."


def _not_swapped(case: BracketCase) -> str:
    return "The pin with the flat came out of the trailing bore, where it belongs."


def _not_rust(case: BracketCase) -> str:
    caliper = _caliper(case)
    return (
        f"The pads' ears move with {pair_n(caliper.pad_grip_n)}, and under the clips is no more than "
        f"{mm(max(caliper.clip_rust_mm))} of rust. The clips' spring takes that up."
    )


def _not_piston(case: BracketCase) -> str:
    if case.fault == found.PISTON_BOOT:
        return (
            f"It does stick: {push_words(case, case.wheel)} against {push_words(case, case.partner)}. But "
            "its boot is not whole. Look at the ring round the piston."
        )
    return (
        f"The piston goes back with {push_words(case, case.wheel)}, on the other wheel with "
        f"{push_words(case, case.partner)}. That is no sticking."
    )


def _not_pin_boot(case: BracketCase) -> str:
    return "Look at the folded boots beside both collars: they are whole."


def _not_piston_boot(case: BracketCase) -> str:
    more = " The piston sticks all the same." if case.fault == found.PISTON else ""
    return f"Look at the ring round the piston: it is whole.{more}"


AGAINST: dict[str, Callable[[BracketCase], str]] = {
    found.DRY: _not_dry,
    found.SEIZED: _not_seized,
    found.PACKED: _not_packed,
    found.SWAPPED: _not_swapped,
    found.RUST: _not_rust,
    found.PISTON: _not_piston,
    found.PIN_BOOT: _not_pin_boot,
    found.PISTON_BOOT: _not_piston_boot,
}
"""For each part: why it is not the one at fault."""
