"""10.4 and 10.9: how the rotor comes off, and what is to be done with it."""

from __future__ import annotations

from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Given
from brakecourse.marking.papers.m10_hub_and_rotor_fit.sums import least_at
from brakecourse.marking.papers.m10_hub_and_rotor_fit.truth import FitTruth
from brakecourse.views.words import mm

_SIZED = {
    "leave": "leave-within",
    "index": "index-position",
    "hub": "hub-flange",
    "rotor": "rotor-own",
}


def way_off(truth: FitTruth, given: Given) -> Basis:
    """10.4: what comes first to get the rotor off."""
    right = "screw" if truth.screw else "holes" if truth.holes else "tap"
    pairs = []
    if truth.screw:
        pairs += [("screw_overlooked", "holes"), ("screw_overlooked", "tap")]
    elif truth.holes:
        pairs += [("not_in_this_hat", "screw"), ("holes_overlooked", "tap")]
    else:
        pairs += [("not_in_this_hat", "screw"), ("not_in_this_hat", "holes")]
    seen = [
        "there is a countersunk screw in the hat" if truth.screw else "there is no screw in the hat",
        "there are two threaded holes" if truth.holes else "there are no threaded holes",
    ]
    why = {
        "screw": "The screw comes out first: it still holds the hat.",
        "holes": "So two bolts, turned in evenly, push the rotor straight off.",
        "tap": "So oil loosens the rust, and light blows on the stiff hat free it.",
    }
    return given.choice("10.4", (right,), pairs, how=f"In the drawing {' and '.join(seen)}. {why[right]}")


def action(truth: FitTruth, given: Given) -> Basis:
    """10.9: leave, index, or renew the hub or the rotor, with the reason."""
    clean = given.number("10.6")
    table = truth.positions_mm(clean, given.row("10.7"))
    right = verdict(truth, clean, min(table))
    pairs = {
        "leave": (("index_without_need", "index-position"), ("part_before_index", "hub-flange"),
                  ("part_before_index", "rotor-own")),
        "index": (("over_limit_left", "leave-within"), ("part_before_index", "hub-flange"),
                  ("part_before_index", "rotor-own")),
        "hub": (("over_limit_left", "leave-within"), ("best_still_over", "index-position"),
                ("wrong_part_renewed", "rotor-own")),
        "rotor": (("over_limit_left", "leave-within"), ("best_still_over", "index-position"),
                  ("wrong_part_renewed", "hub-flange")),
    }  # fmt: skip
    return given.choice("10.9", (_SIZED[right],), pairs[right], how=_why(truth, clean, table, right))


def verdict(truth: FitTruth, clean_mm: float, least_mm: float) -> str:
    """Return what is to be done with clean faces: leave, index, hub or rotor.

    Args:
        truth: the hub's and the rotor's own run-out, and the limit.
        clean_mm: what the dial shows before the rotor is turned on.
        least_mm: what the best position leaves.
    """
    if clean_mm <= truth.limit_mm:
        return "leave"
    if least_mm <= truth.limit_mm:
        return "index"
    return "hub" if truth.hub.total_mm > truth.rotor_mm else "rotor"


def _why(truth: FitTruth, clean: float, table: tuple[float, ...], right: str) -> str:
    limit, index = truth.limit_mm, least_at(table)
    shown = f"With clean faces the dial shows {mm(clean)}, and the limit is {mm(limit)}."
    if right == "leave":
        return f"{shown} It is within, so the rotor stays as it stands."
    turned = f"The best position, turned on by {index}, leaves {mm(table[index])}."
    own = f"The hub alone makes {mm(truth.hub.total_mm)} at the track, the rotor alone {mm(truth.rotor_mm)}."
    if right == "index":
        return f"{shown} {turned} That is within, and it costs nothing."
    part = "hub" if right == "hub" else "rotor"
    return f"{shown} {turned} That is over, too. {own} So the {part} is at fault."
