"""Pairs of steps: which one comes first, or does no rule tie them?"""

from __future__ import annotations

from functools import cache

from brakecourse.bench.draw import Draw
from brakecourse.marking import basis
from brakecourse.marking.basis import Basis
from brakecourse.marking.papers.job_steps import MISTAKES, words
from brakecourse.marking.sealed import Record, SealedMistake
from brakecourse.trade.job_order import implied_pairs, operations, precedence

FIRST, SECOND, EITHER = 1, 2, 0
"""How an answer is written: the first-named step, the second-named one, or either."""

DEADLY, PLAIN, FREE = 3, 1, 2
"""How many pairs show a named mistake, how many another rule, and how many no rule."""

_NEAR = 8  # steps so near in the usual order are worth a thought when no rule ties them


class Pair(Record):
    """Two steps.

    Attributes:
        first, second: their ids, as they are named.
    """

    first: str
    second: str

    @property
    def right(self) -> int:
        """Which comes first."""
        fixed = implied_pairs(precedence())
        if (self.first, self.second) in fixed:
            return FIRST
        return SECOND if (self.second, self.first) in fixed else EITHER

    @property
    def label(self) -> str:
        """Both steps with their numbers."""
        return f"(1) {words(self.first)}; (2) {words(self.second)}"


@cache
def _plain() -> tuple[tuple[str, str], ...]:
    """The stated rules that show no named mistake."""
    stated = ((rule.before, rule.after) for rule in precedence())
    return tuple(one for one in stated if one not in MISTAKES)


@cache
def _free() -> tuple[tuple[str, str], ...]:
    """Pairs of near steps that no rule ties."""
    fixed, order = implied_pairs(precedence()), [step.id for step in operations()]
    return tuple(
        (one, other)
        for place, one in enumerate(order)
        for other in order[place + 1 : place + _NEAR]
        if (one, other) not in fixed and (other, one) not in fixed
    )


def draw_pairs(draw: Draw) -> tuple[Pair, Pair, Pair, Pair, Pair, Pair]:
    """Draw the pairs, the two steps of each in a drawn order."""
    found = draw.child("deadly").shuffled(list(MISTAKES))[:DEADLY]
    found += draw.child("plain").shuffled(_plain())[:PLAIN]
    found += draw.child("free").shuffled(_free())[:FREE]
    turned = [
        Pair(first=one, second=other)
        for place, pair in enumerate(draw.child("order").shuffled(found))
        for one, other in (draw.child(f"turn {place}").shuffled(pair),)
    ]
    first, second, third, fourth, fifth, sixth = turned
    return first, second, third, fourth, fifth, sixth


def pairs_basis(pairs: tuple[Pair, ...]) -> Basis:
    """Return the right answer: which of each two comes first."""
    slips = [slip for place, pair in enumerate(pairs, start=1) for slip in _slips(pair, place)]
    how = " ".join(f"Pair {place}: {_why(pair)}" for place, pair in enumerate(pairs, start=1))
    return basis.table([pair.right for pair in pairs], 0.0, slips, how=how, places=0)


def _slips(pair: Pair, place: int) -> list[SealedMistake]:
    def slip(mistake: str, value: int) -> SealedMistake:
        return SealedMistake(mistake=mistake, value=float(value), place=place)

    if pair.right == EITHER:
        return [slip("rule_invented", value) for value in (FIRST, SECOND)]
    turned = SECOND if pair.right == FIRST else FIRST
    return [slip(MISTAKES.get(_as_ruled(pair), "turned_round"), turned), slip("rule_not_seen", EITHER)]


def _as_ruled(pair: Pair) -> tuple[str, str]:
    return (pair.first, pair.second) if pair.right == FIRST else (pair.second, pair.first)


def _why(pair: Pair) -> str:
    if pair.right == EITHER:
        return "no rule ties these two, so either may come first (0)."
    before, after = _as_ruled(pair)
    reason = next(one.reason for one in precedence() if (one.before, one.after) == (before, after))
    return f"“{words(before)}” comes first ({pair.right}). {reason}"
