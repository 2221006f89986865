"""Work out what a right answer is, from one set of values, with the mistakes that could be made on them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from brakecourse.marking.right_answer import ARROW, Basis, Near, Value, sealed
from brakecourse.marking.sealed import SealedMistake, SealedRule

__all__ = ["ARROW", "Basis", "Near", "Value", "by_orders", "by_rules", "choice", "number", "sealed", "table"]

REACH_SHARE = 0.25
"""An own value is built on when it lies within this share of the right one, or is a named mistake's.

What lies farther off was made up, and earns nothing further down. Assumption, no source.
"""


def number(
    expected: float,
    tolerance: float,
    candidates: Iterable[SealedMistake] = (),
    *,
    how: str,
    places: int = 2,
    carried: float | None = None,
    reach: float | None = None,
    shown: float | None = None,
) -> Basis:
    """Return a basis for a number; a mistake that would give the right answer is left out.

    Rounded to the places that are asked for, the right answer is always right, however small the tolerance.

    Args:
        expected: the right answer.
        tolerance: how far off it may be, judged alone.
        candidates: named mistakes with the value each gives, the likeliest first.
        how: how the answer follows from this vehicle, in sentences with numbers and units.
        places: decimal places that the question asks for.
        carried: tolerance when it is worked from the learner's own values; left out: the same.
        reach: how far off it may be to be built on; left out: a quarter of the value.
        shown: for a reading, what the gauge shows between its lines.
    """
    rounded = _rounding(expected, places)
    return _kept(
        Basis(
            expected=float(expected),
            how=how,
            places=places,
            shown=() if shown is None else (shown,),
            tolerance=max(tolerance, rounded),
            carried=max(tolerance if carried is None else carried, rounded),
            reach=REACH_SHARE * abs(expected) if reach is None else reach,
        ),
        candidates,
    )


def table(
    expected: Sequence[float],
    tolerance: Near,
    candidates: Iterable[SealedMistake] = (),
    *,
    how: str,
    places: int = 2,
    carried: Near | None = None,
    reach: float | None = None,
    shown: Sequence[float] = (),
) -> Basis:
    """Return a basis for a row of numbers; each mistake says at which place it gives its value.

    Args:
        expected: the right values.
        tolerance: how far off each may be: one for all, or one for each.
        candidates: named mistakes; one without a place counts at every place.
        how, places, carried, reach: as for :func:`number`.
        shown: for readings, what the gauge shows at each place between its lines.
    """
    rounded = [_rounding(value, places) for value in expected]
    largest = max((abs(value) for value in expected), default=0.0)
    return _kept(
        Basis(
            expected=tuple(float(value) for value in expected),
            how=how,
            places=places,
            shown=tuple(shown),
            tolerance=_at_least(tolerance, rounded),
            carried=_at_least(tolerance if carried is None else carried, rounded),
            reach=REACH_SHARE * largest if reach is None else reach,
        ),
        candidates,
    )


def choice(accepted: Sequence[str], candidates: Iterable[tuple[str, str]] = (), *, how: str) -> Basis:
    """Return a basis for a choice from ``(mistake, words)`` pairs; a right choice is never a mistake."""
    found = (SealedMistake(mistake=name, value=words) for name, words in candidates if words not in accepted)
    return Basis(expected=accepted[0], how=how, accepted=tuple(accepted), mistakes=tuple(found))


def by_rules(right: Sequence[str], rules: Sequence[SealedRule], *, how: str) -> Basis:
    """Return a basis for a sequence that is scored by what must come first.

    Args:
        right: the words of the steps in one right order.
        rules: what must come first; the right order keeps all of them.
        how: why it is so, in sentences.

    Raises:
        ValueError: the right order breaks a rule, or names a step twice.
    """
    place = {step: number for number, step in enumerate(right)}
    if len(place) != len(right) or any(place[one.before] >= place[one.after] for one in rules):
        raise ValueError("A right order names each step once and keeps every rule.")
    text = ARROW.join(right)
    return Basis(expected=text, how=how, accepted=(text,), rules=tuple(rules), steps=tuple(right))


def by_orders(
    accepted: Sequence[Sequence[str]], candidates: Iterable[tuple[str, Sequence[str]]] = (), *, how: str
) -> Basis:
    """Return a basis for a sequence of which only certain orders are right.

    Args:
        accepted: the right orders; the first is shown to the learner.
        candidates: pairs of a named mistake and an order that it leads to.
        how: why it is so, in sentences.
    """
    texts = tuple(ARROW.join(order) for order in accepted)
    wrong = ((name, ARROW.join(order)) for name, order in candidates)
    found = tuple(SealedMistake(mistake=name, value=text) for name, text in wrong if text not in texts)
    return Basis(expected=texts[0], how=how, accepted=texts, steps=tuple(accepted[0]), mistakes=found)


def _rounding(value: float, places: int) -> float:
    """Return how far rounding as asked moves a value."""
    return abs(value - round(value, places))


def _at_least(tolerance: Near, rounded: Sequence[float]) -> Near:
    """Return the tolerance of a row, widened where rounding as asked needs it."""
    if not isinstance(tolerance, tuple):
        if all(one <= tolerance for one in rounded):
            return tolerance
        tolerance = (tolerance,) * len(rounded)
    return tuple(max(pair) for pair in zip(tolerance, rounded, strict=True))


def _kept(right: Basis, candidates: Iterable[SealedMistake]) -> Basis:
    """Return the basis with the mistakes that are not right on it."""
    if not isinstance(right.expected, tuple):
        return replace(right, mistakes=tuple(one for one in candidates if not right.is_right(one.value)))
    every = range(1, len(right.expected) + 1)
    found = (at for one in candidates for at in ([one] if one.place else _at_each(one, every)))
    return replace(
        right, mistakes=tuple(one for one in found if not right.is_right(one.value, place=one.place or 1))
    )


def _at_each(mistake: SealedMistake, places: Iterable[int]) -> list[SealedMistake]:
    return [mistake.model_copy(update={"place": place}) for place in places]
