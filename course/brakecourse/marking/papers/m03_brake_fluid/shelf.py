"""The bottles on the shelf, and which of them may go in.

The rule, as in the lesson: a grade that the maker's book allows, from a bottle that is still sealed. Common
practice, no source; the maker's book for the vehicle comes first.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import get_args

from brakecourse.bench.draw import Draw
from brakecourse.trade.fluid import MixingGrade
from brakecourse.views.drawings import Bottle

NONE_FITS_SHARE = 0.25
"""So often no bottle on the shelf fits. Assumption, no source."""

NEXT_UP_SHARE = 0.5
"""So often the maker's book allows the next grade up as well. Assumption, no source."""

SILICONE, OIL = "DOT 5", "mineral oil"
OPENED_MONTHS = (2, 18)

_MIXING: tuple[str, ...] = get_args(MixingGrade)


def fits(bottle: Bottle, allowed: Sequence[str]) -> bool:
    """Tell whether a bottle may be used."""
    return bottle.grade in allowed and bottle.sealed


def slip_of(bottle: Bottle, allowed: Sequence[str]) -> str:
    """Return the named mistake of taking a bottle that does not fit."""
    if bottle.grade == SILICONE:
        return "silicone_in_glycol"
    if bottle.grade == OIL:
        return "mineral_oil_in_system"
    return "opened_bottle" if bottle.grade in allowed else "grade_not_allowed"


def why(bottle: Bottle, allowed: Sequence[str]) -> str:
    """Say in a few words why a bottle may or may not be used."""
    return {
        "silicone_in_glycol": "is silicone-based, and this system is made for glycol-based fluid",
        "mineral_oil_in_system": "is no brake fluid",
        "opened_bottle": f"has stood open for {bottle.open_months} months",
        "grade_not_allowed": "is a grade that the maker's book does not allow",
    }[slip_of(bottle, allowed)]


def draw_book(grade: MixingGrade, draw: Draw) -> tuple[str, ...]:
    """Return what the maker's book allows: the maker's own grade, perhaps the next one up."""
    higher = _MIXING[_MIXING.index(grade) + 1 :]
    return (grade, higher[0]) if higher and draw.uniform() < NEXT_UP_SHARE else (grade,)


def draw_bottles(allowed: Sequence[str], draw: Draw) -> tuple[Bottle, ...]:
    """Return four bottles: silicone fluid, an opened one, one or two strangers, and perhaps one that fits."""
    opened = Bottle(draw.child("opened").choice(list(allowed)), draw.child("months").integer(*OPENED_MONTHS))
    other = [grade for grade in _MIXING if grade not in allowed]
    strangers = draw.child("strangers").shuffled([OIL, draw.child("grade").choice(other)])
    bottles = [Bottle(SILICONE), opened, Bottle(strangers[0])]
    if draw.child("none").uniform() < NONE_FITS_SHARE:
        bottles.append(Bottle(strangers[1]))
    else:
        bottles.append(Bottle(draw.child("good").choice(list(allowed))))
    return tuple(draw.child("places").shuffled(bottles))
