"""The right orders: the nuts of a wheel, and the brake and its wheel put together."""

from __future__ import annotations

from collections.abc import Iterator

from brakecourse.marking import basis
from brakecourse.marking.basis import Basis
from brakecourse.marking.given import Answer, Given
from brakecourse.marking.papers import job_steps
from brakecourse.marking.papers.m11_reassembly_and_torque.truth import TorqueTruth
from brakecourse.views.torque_sums import farthest_left


def nut(number: int) -> str:
    """Return what the list calls a nut."""
    return f"nut {number}"


def sound_orders(studs: int, first: int) -> tuple[tuple[int, ...], ...]:
    """Return every order across and across from a first nut: each next one as far from the last as can be.

    >>> sound_orders(4, 1)
    ((1, 3, 2, 4), (1, 3, 4, 2))
    """
    return tuple(_go_on((first,), studs))


def _go_on(tight: tuple[int, ...], studs: int) -> Iterator[tuple[int, ...]]:
    if len(tight) == studs:
        yield tight
        return
    for stud in farthest_left(tight, studs):
        yield from _go_on((*tight, stud), studs)


def nuts(case: TorqueTruth, _given: Given) -> Basis:
    """11.4: the order of the wheel nuts."""
    studs, first = case.wheel.studs, case.wheel.first
    orders = sound_orders(studs, first)

    def by(step: int) -> list[int]:
        return [(first - 1 + step * place) % studs + 1 for place in range(studs)]

    wrong = [("round_the_circle", by(1)), ("round_the_circle", by(-1)), *_other_starts(studs, first)]
    if studs == 6:
        half = [0, 2, 4, 1, 3, 5]
        for way in (1, -1):
            wrong.append(("every_second_nut", [(first - 1 + way * one) % studs + 1 for one in half]))
    right = ", ".join(str(one) for one in orders[0])
    return basis.by_orders(
        [[nut(one) for one in order] for order in orders],
        [(name, [nut(one) for one in order]) for name, order in wrong],
        how=(
            f"Nut {first} is tightened first. Of the nuts that are left, the next is always the one farthest "
            f"across from the last: {right}. Where two are as far, either may be next."
        ),
    )


def _other_starts(studs: int, first: int) -> list[tuple[str, list[int]]]:
    """Return the star from other nuts than the one that is tightened already."""
    starts = [start for start in range(1, studs + 1) if start != first]
    return [("another_nut_first", list(order)) for start in starts for order in sound_orders(studs, start)]


def together(case: TorqueTruth, _given: Given) -> Basis:
    """11.5: the brake and its wheel, step by step."""
    return job_steps.sequence(case.listed)


KEY: dict[str, Answer] = {"11.4": nuts, "11.5": together}
