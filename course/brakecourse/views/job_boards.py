"""Boards of the brake job's own steps: cards, rules and reasons are those of the trade's job order."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.trade.job_order import (
    WHOLE_JOB,
    Operation,
    Violation,
    a_good_order,
    operations,
    precedence,
    sub_job,
    violations_of,
)
from brakecourse.views.board_rules import Board, Fault


def job_board(part: str, keep: Sequence[str] | None = None, topic: str = "", praise: str = "") -> Board:
    """Return a part of the brake job as a board.

    Args:
        part: one of :data:`brakecourse.trade.job_order.PART_NAMES`.
        keep: ids of the steps to put on the board; by default all of the part. Rules that run by way of a
            step left out hold all the same.
        topic: the activity's topic; by default the part's name.
        praise: what to say when the order is right.

    Raises:
        ValueError: there is no such part, or it has no such step.

    >>> board = job_board("lift the vehicle", ["loosen_nuts", "lift_vehicle"])
    >>> board.judge(("lift_vehicle", "loosen_nuts"))[0].dangerous
    True
    """
    job = sub_job(part)
    kept = job.ids if keep is None else tuple(keep)
    strangers = [one for one in kept if one not in job.ids]
    if strangers:
        raise ValueError(f"Steps of “{part}” were expected, but {strangers[0]!r} is none of them.")
    steps = {one.id: one for one in job.operations if one.id in kept}

    def judge(order: tuple[str, ...]) -> list[Fault]:
        broken = violations_of(order, job.rules)
        # What is told first: a danger, then a rule between two cards that both lie here.
        told = sorted(broken, key=lambda found: (not found.safety_critical, len(found.through)))
        return [_fault(found) for found in told]

    return Board(
        topic or part,
        {name: step.words for name, step in steps.items()},
        judge,
        praise,
        {name: f"Caution: {_low(step.caution)}" for name, step in steps.items()},
        tuple(one for one in a_good_order(part) if one in steps),
    )


def whole_job_board(keep: Sequence[str], topic: str = "", praise: str = "") -> Board:
    """Return some steps of the whole job as a board: see :func:`job_board`."""
    return job_board(WHOLE_JOB, keep, topic, praise)


def short(step: Operation) -> str:
    """Return the first sentence of a step's words, without its full stop, to be quoted."""
    return step.words.split(". ")[0].rstrip(".")


def _fault(found: Violation) -> Fault:
    early, first = _words(found.after), _words(found.before)
    between = f" Left out between them here: “{_words(_reasoned(found))}”." if found.through else ""
    words = f"“{early}” comes too early. First: “{first}”.{between} {found.reason}"
    return Fault(found.after, words, found.safety_critical, found.before)


def _reasoned(found: Violation) -> str:
    """Return the step between the two that the reason of a rule by way of others is about."""
    first_link = (found.before, found.through[0], found.reason)
    stated = {(rule.before, rule.after, rule.reason) for rule in precedence()}
    return found.through[0] if first_link in stated else found.through[-1]


def _words(step: str) -> str:
    return next(short(one) for one in operations() if one.id == step)


def _low(sentence: str) -> str:
    return sentence[0].lower() + sentence[1:]
