"""The order of the whole disc-brake job: what must come first, why, and what must not be left out.

The job is a set of steps and of rules; many orders keep the rules, and each of them is right. The steps are
those of a common disc brake with a floating caliper. The maker's procedure for the vehicle comes first, and
so does local law.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from brakecourse.trade._job_graph import (
    contracted,
    implied_pairs,
    known,
    share_in_order,
    unknown,
    violations_of,
)
from brakecourse.trade._job_parts import PART_NAMES, PARTS, WHOLE_JOB
from brakecourse.trade._job_records import (
    COMMON_PRACTICE,
    PHASES,
    Omission,
    Operation,
    Precedence,
    SubJob,
    Violation,
)
from brakecourse.trade._job_rules import rules as _rules
from brakecourse.trade._job_steps_apart import APART_STEPS
from brakecourse.trade._job_steps_together import TOGETHER_STEPS

__all__ = [
    "COMMON_PRACTICE",
    "PART_NAMES",
    "PHASES",
    "WHOLE_JOB",
    "Omission",
    "Operation",
    "Precedence",
    "SubJob",
    "Violation",
    "a_good_order",
    "can_follow",
    "check_order",
    "critical",
    "implied_pairs",
    "missing",
    "operations",
    "order_score",
    "precedence",
    "rules_among",
    "share_in_order",
    "sub_job",
    "violations_of",
]


_STEPS = APART_STEPS + TOGETHER_STEPS


def operations() -> tuple[Operation, ...]:
    """Return every step of the job, in one usual order.

    Returns:
        The steps, each with its words, tools, caution and phase.

    Source:
        Common practice, no source.

    Example:
        >>> operations()[4].id, operations()[4].phase
        ('loosen_nuts', 'before the lift')
    """
    return _STEPS


@cache
def precedence() -> tuple[Precedence, ...]:
    """Return every stated rule of what must come first, each with its reason.

    Returns:
        The rules. What follows from them is found by :func:`implied_pairs`.

    Source:
        Each rule's own ``source``: mostly common practice, no source.

    Example:
        >>> rule = next(rule for rule in precedence() if rule.before == "loosen_nuts")
        >>> rule.after, rule.reason
        ('lift_vehicle', 'A hard pull can bring a raised vehicle down.')
    """
    return tuple(_rules())


def sub_job(name: str) -> SubJob:
    """Return a part of the job: its steps and the rules among them.

    Args:
        name: one of :data:`PART_NAMES`, e.g. ``"retract the piston"``.

    Returns:
        The part. A rule that runs by way of steps outside the part names them in ``through``; it is left
        out when it follows from the part's other rules and is not safety-critical.

    Raises:
        ValueError: there is no such part.

    Source:
        The rules of :func:`precedence`.

    Example:
        >>> sub_job("bed in").ids[:3]
        ('pump_pedal', 'set_level', 'check_leaks')
    """
    if not isinstance(name, str) or name not in PART_NAMES:
        raise unknown(name, "part of the job", PART_NAMES, "parts")
    return _part(name)


@cache
def _part(name: str) -> SubJob:
    if name == WHOLE_JOB:
        return SubJob(name, _STEPS, precedence())
    steps = tuple(step for step in _STEPS if step.id in PARTS[name])
    return SubJob(name, steps, rules_among([step.id for step in steps]))


def rules_among(steps: Sequence[str]) -> tuple[Precedence, ...]:
    """Return the rules among some steps of the job only.

    Args:
        steps: ids of steps in any order, each once.

    Returns:
        The rules. One that runs by way of steps left out names them in ``through``; it is left out when it
        follows from the others and is not safety-critical.

    Raises:
        ValueError: the steps are no row, or one is unknown or given twice.

    Source:
        The rules of :func:`precedence`.

    Example:
        >>> [(rule.before, rule.through) for rule in rules_among(["first_move", "pump_pedal"])]
        [('pump_pedal', ())]
    """
    kept = known(steps, "steps", tuple(step.id for step in _STEPS))
    among = contracted(precedence(), kept)
    if not among:
        return ()
    pairs = implied_pairs(among)
    return tuple(
        rule
        for rule in among
        if not rule.through
        or rule.safety_critical
        or not any((rule.before, step) in pairs and (step, rule.after) in pairs for step in kept)
    )


def check_order(sequence: Sequence[str], part: str = WHOLE_JOB) -> tuple[Violation, ...]:
    """Return every rule that a sequence of steps breaks, each with its reason.

    A step that is left out hides nothing: see :func:`violations_of`. What is left out, :func:`missing` tells.

    Args:
        sequence: ids of the steps in the order of work, each once; may be short or empty.
        part: one of :data:`PART_NAMES`; the sequence may hold its steps only.

    Returns:
        The broken rules in the order of the sequence; empty when no rule is broken.

    Raises:
        ValueError: the sequence is no row, names an unknown step or one twice; there is no such part.

    Source:
        The rules of :func:`precedence`.

    Example:
        >>> [(found.before, found.after) for found in check_order(["lift_vehicle", "loosen_nuts"])]
        [('loosen_nuts', 'lift_vehicle')]
    """
    job = sub_job(part)
    return violations_of(known(sequence, "sequence", job.ids), job.rules)


def missing(sequence: Sequence[str], part: str = WHOLE_JOB) -> tuple[str, ...]:
    """Return the steps that a sequence leaves out.

    Args:
        sequence: ids of the steps in the order of work, each once; may be empty.
        part: one of :data:`PART_NAMES`.

    Returns:
        Ids in the job's usual order. Which of them is dangerous to leave out, :func:`critical` tells.

    Raises:
        ValueError: as for :func:`check_order`.

    Source:
        The steps of :func:`operations`.

    Example:
        >>> missing(["open_bleeder", "push_piston"], "retract the piston")[:2]
        ('look_for_leaks', 'wet_dust')
    """
    job = sub_job(part)
    found = set(known(sequence, "sequence", job.ids))
    return tuple(step for step in job.ids if step not in found)


def critical(operations: Sequence[str]) -> tuple[Omission, ...]:
    """Return which of some steps are dangerous to leave out, and the danger in words.

    Args:
        operations: ids of steps, each once; may be empty.

    Returns:
        One record for each dangerous one, in the order given.

    Raises:
        ValueError: the steps are no row, or one is unknown or given twice.

    Source:
        Common practice, no source.

    Example:
        >>> critical(["pads_out", "torque_nuts"])
        (Omission(operation='torque_nuts', consequence='The wheel could come off.'),)
    """
    danger = {step.id: step.if_left_out for step in _STEPS}
    asked = known(operations, "operations", tuple(danger))
    return tuple(Omission(step, danger[step]) for step in asked if danger[step])


def order_score(sequence: Sequence[str], part: str = WHOLE_JOB) -> float:
    """Return how good a sequence of steps is: 0 to 1.

    The score is the share of all pairs of steps with a fixed order, stated or following, that the sequence
    keeps: a pair is kept when both steps are there and in order. But it is 0 when a safety-critical rule is
    broken, or a step is left out that must not be.

    Args:
        sequence: ids of the steps in the order of work, each once; may be empty.
        part: one of :data:`PART_NAMES`.

    Returns:
        1 only for a complete sequence that breaks no rule.

    Raises:
        ValueError: as for :func:`check_order`.

    Source:
        The rules of :func:`precedence`. The score is the course's own choice.

    Example:
        >>> order_score(a_good_order()), order_score(["first_move", "pump_pedal"])
        (1.0, 0.0)
    """
    broken = check_order(sequence, part)
    if any(found.safety_critical for found in broken) or critical(missing(sequence, part)):
        return 0.0
    return share_in_order(sequence, sub_job(part).rules)


def can_follow(done: Sequence[str], part: str = WHOLE_JOB) -> tuple[str, ...]:
    """Return the steps that may be done next.

    Args:
        done: ids of the steps that are done, in any order, each once; empty at the start.
        part: one of :data:`PART_NAMES`.

    Returns:
        Ids in the job's usual order: those not yet done of which every step that must come sooner is done.
        Empty when the work is done. A step skipped opens nothing that lies behind it.

    Raises:
        ValueError: as for :func:`check_order`.

    Source:
        The rules of :func:`precedence`.

    Example:
        >>> can_follow([])
        ('hear_complaint',)
        >>> can_follow(["hear_complaint"])
        ('look_up_data', 'check_fluid', 'chock_wheels')
    """
    job = sub_job(part)
    ready = set(known(done, "done", job.ids))
    waiting = {after for before, after in _pairs(part) if before not in ready}
    return tuple(step for step in job.ids if step not in ready and step not in waiting)


def a_good_order(part: str = WHOLE_JOB) -> tuple[str, ...]:
    """Return one right order of the steps, the same each time.

    Args:
        part: one of :data:`PART_NAMES`.

    Returns:
        Ids: at each place the first step, in the usual order, that may be done next.

    Raises:
        ValueError: there is no such part.

    Source:
        The rules of :func:`precedence`.

    Example:
        >>> a_good_order("torque the wheel")[-3:]
        ('torque_nuts', 'pump_pedal', 'first_move')
    """
    return _good_order(sub_job(part).name)


@cache
def _good_order(part: str) -> tuple[str, ...]:
    order: list[str] = []
    while following := can_follow(order, part):
        order.append(following[0])
    return tuple(order)


@cache
def _pairs(part: str) -> frozenset[tuple[str, str]]:
    """The pairs of a part, which never change; checking its rules again would take most of the time."""
    return implied_pairs(sub_job(part).rules)
