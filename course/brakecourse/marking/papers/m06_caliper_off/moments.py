"""Moments of the work at which the bleeder must be open or shut: drawn from the lesson's own."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.draw import Draw
from brakecourse.marking import basis
from brakecourse.marking.basis import Basis
from brakecourse.marking.sealed import SealedMistake
from brakecourse.views.bleeder_table import AFTER, BEFORE, MOMENTS, OPEN, SHUT, Moment

IN_BOTTLE, CLOSED, BARE = 1, 2, 3
"""How an answer is written: open with its hose in the bottle, shut, open with nothing on it."""

HOW_MANY_OPEN, HOW_MANY_SHUT = 2, 2
"""Besides the one moment that everybody gets: the piston is home, and the press still holds it."""

_OPEN = tuple(place for place, one in enumerate(MOMENTS) if one.right == OPEN)
_HOME = next(place for place, one in enumerate(MOMENTS) if (one.topic, one.share) == (AFTER, 1.0))
_SHUT = tuple(place for place, one in enumerate(MOMENTS) if one.right == SHUT and place != _HOME)
_TOO_LONG = {BEFORE: "opened_too_soon", AFTER: "closed_late"}


def draw_moments(draw: Draw) -> tuple[int, int, int, int, int]:
    """Return the places of five moments in the lesson's table, in the order of work."""
    found = [_HOME, *draw.child("open").shuffled(_OPEN)[:HOW_MANY_OPEN]]
    found += draw.child("shut").shuffled(_SHUT)[:HOW_MANY_SHUT]
    first, second, third, fourth, fifth = sorted(found)
    return first, second, third, fourth, fifth


def labels(moments: Sequence[int]) -> list[str]:
    """Return what goes on at each moment."""
    return [f"moment {number}: {MOMENTS[one].seen}" for number, one in enumerate(moments, start=1)]


def moments_basis(moments: Sequence[int]) -> Basis:
    """Return what the bleeder must be at each moment."""
    asked = [MOMENTS[one] for one in moments]
    slips = [
        SealedMistake(mistake=name, value=float(value), place=place)
        for place, one in enumerate(asked, start=1)
        for value, name in _slips(one)
    ]
    how = " ".join(
        f"Moment {number}: {'shut' if one.right == SHUT else 'open, its hose in the bottle'} "
        f"({_value(one)}). {one.why}"
        for number, one in enumerate(asked, start=1)
    )
    return basis.table([_value(one) for one in asked], 0.0, slips, how=how, places=0)


def _value(one: Moment) -> int:
    return IN_BOTTLE if one.right == OPEN else CLOSED


def _slips(one: Moment) -> tuple[tuple[int, str], ...]:
    if one.right == OPEN:
        return (CLOSED, "bleeder_left_shut"), (BARE, "bleeder_bare")
    return (IN_BOTTLE, _TOO_LONG.get(one.topic, "left_open_half_way")), (BARE, "bleeder_bare")
