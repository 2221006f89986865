"""The sets of stands on the shelf: one that will do or none, and those that people take wrongly."""

from __future__ import annotations

import math
from typing import Literal

from brakecourse.bench.draw import Draw
from brakecourse.marking.sealed import Finite, Record
from brakecourse.trade.hydraulics import STANDARD_GRAVITY_MS2
from brakecourse.views.stand_loads import SIZES_KG, STANDS_OF_A_PAIR, smallest_size_kg
from brakecourse.views.units import both

LETTERS = "ABCDE"
Kind = Literal["each", "pair", "jack", "bent"]

CLEAR_SHARE = 0.02
"""No mark lies nearer to what is needed than this share of it: four times what rounding can move it by."""

KN_STEP = 0.5
_KN_ROOM = 0.03  # a mark in kilonewtons lies at least so far above or below


class StandSet(Record):
    """What lies on one place of the shelf.

    Attributes:
        kind: two sound stands with a mark each; the same with one mark for the pair; a jack; two stands of
            which one is bent.
        mark: what is marked on it.
        unit: ``"kg"`` or ``"kN"``.
    """

    kind: Kind
    mark: Finite
    unit: Literal["kg", "kN"] = "kg"

    @property
    def mark_kg(self) -> float:
        """The mark in kg."""
        return self.mark if self.unit == "kg" else 1000 * self.mark / STANDARD_GRAVITY_MS2

    @property
    def good_for_kg(self) -> float:
        """What each stand of it may carry, kg; 0 for what must not carry a vehicle at all."""
        if self.kind in ("jack", "bent"):
            return 0.0
        return self.mark_kg / (STANDS_OF_A_PAIR if self.kind == "pair" else 1)

    @property
    def words(self) -> str:
        """What is to be seen of it."""
        mark = both(self.mark, self.unit, 1 if self.unit == "kN" else 0)
        return {
            "each": f"two stands, each marked {mark}",
            "pair": f"two stands, marked {mark} the pair",
            "jack": f"a trolley jack, marked {mark}",
            "bent": f"two stands, each marked {mark}, one with a bent pin",
        }[self.kind]


def draw_sets(
    needed_kg: float, one_will_do: bool, draw: Draw
) -> tuple[StandSet, StandSet, StandSet, StandSet, StandSet]:
    """Return what is on the shelf, set A first.

    Args:
        needed_kg: what each stand must be rated for.
        one_will_do: one of the sets is strong enough.
        draw: chance.
    """
    size = smallest_size_kg(needed_kg)
    weak = max((one for one in SIZES_KG if one < needed_kg), default=size // 2)
    needed_kn = needed_kg * STANDARD_GRAVITY_MS2 / 1000
    if not one_will_do:
        steps = math.floor(needed_kn * (1 - _KN_ROOM) / KN_STEP)
        last = StandSet(kind="each", mark=KN_STEP * steps, unit="kN")
    elif draw.child("unit").uniform() < 0.5:
        steps = math.ceil(needed_kn * (1 + _KN_ROOM) / KN_STEP)
        last = StandSet(kind="each", mark=KN_STEP * steps, unit="kN")
    else:
        last = StandSet(kind="each", mark=size)
    found = [
        StandSet(kind="each", mark=weak),
        StandSet(kind="pair", mark=size),
        StandSet(kind="jack", mark=2 * size),
        StandSet(kind="bent", mark=2 * size),
        last,
    ]
    first, second, third, fourth, fifth = draw.child("order").shuffled(found)
    return first, second, third, fourth, fifth


def clear_of(one: StandSet, needed_kg: float) -> bool:
    """Tell whether a mark, whole or halved, lies clear of what is needed."""
    marks = (one.mark_kg, one.mark_kg / STANDS_OF_A_PAIR)
    return all(abs(mark - needed_kg) >= CLEAR_SHARE * needed_kg for mark in marks)
