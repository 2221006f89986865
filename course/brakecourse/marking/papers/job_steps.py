"""Steps of the brake job to be put in order, marked by the trade's own rules of what comes first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from brakecourse.bench.draw import Draw
from brakecourse.marking import basis
from brakecourse.marking.basis import Basis
from brakecourse.marking.sealed import SealedRule
from brakecourse.trade.job_order import (
    Precedence,
    a_good_order,
    operations,
    precedence,
    rules_among,
    violations_of,
)
from brakecourse.views.job_boards import short

MISTAKES: Mapping[tuple[str, str], str] = {
    ("chock_wheels", "loosen_nuts"): "not_chocked",
    ("loosen_nuts", "lift_vehicle"): "nuts_after_lift",
    ("set_stands", "wheel_off"): "jack_as_stand",
    ("look_for_leaks", "wet_dust"): "traces_washed_away",
    ("wet_dust", "open_bleeder"): "dirt_at_the_bleeder",
    ("wet_dust", "caliper_off"): "dust_moved_dry",
    ("open_bleeder", "push_piston"): "pushed_before_opening",
    ("push_piston", "close_bleeder"): "shut_before_the_push",
    ("support_caliper", "pads_out"): "caliper_on_the_hose",
    ("check_fluid", "set_level"): "topped_up_first",
    ("torque_bolts", "wheel_on"): "wheel_hides_loose_bolts",
    ("wheel_on", "lower_vehicle"): "lowered_without_wheel",
    ("torque_bolts", "pump_pedal"): "pumped_on_loose_bolts",
    ("lower_vehicle", "torque_nuts"): "torqued_on_the_stands",
    ("torque_nuts", "first_move"): "moved_on_loose_nuts",
    ("pump_pedal", "first_move"): "moved_before_firm",
}
"""The named mistake that breaking one of the trade's rules shows."""

_WORDS = {step.id: short(step) for step in operations()}
_BY_REASON = {
    rule.reason: MISTAKES[rule.before, rule.after]
    for rule in precedence()
    if (rule.before, rule.after) in MISTAKES
}
_MOST_TRIES = 50


def words(step: str) -> str:
    """Return what a step is called in a list: the first sentence of its words.

    >>> words("wheel_off")
    'Take off the nuts and the wheel'
    """
    return _WORDS[step]


def in_order(steps: Sequence[str]) -> tuple[str, ...]:
    """Return some steps of the job in one right order, the same each time.

    >>> in_order(["first_move", "loosen_nuts", "pump_pedal"])
    ('loosen_nuts', 'pump_pedal', 'first_move')
    """
    return tuple(step for step in a_good_order() if step in steps)


def listed(steps: Sequence[str], draw: Draw) -> tuple[str, ...]:
    """Return some steps in a drawn order that breaks a rule, as a work order lists them."""
    order = draw.shuffled(steps)
    for again in range(_MOST_TRIES):
        if violations_of(order, precedence()):
            break
        order = draw.child(f"again {again}").shuffled(steps)
    return tuple(order)


def sequence(steps: Sequence[str]) -> Basis:
    """Return the basis of a sequence of some steps of the job, by the rules among them.

    A rule that runs by way of steps left out holds all the same, and shows the mistake of its telling link.
    """
    right = in_order(steps)
    place = {step: number for number, step in enumerate(right)}
    needed = _needed(rules_among(right))
    # A rule between two listed steps is told first. Who does a step far too early breaks the rules on the way
    # as well: the widest one tells what happened.
    rules = sorted(needed, key=lambda rule: (rule.through != (), place[rule.before] - place[rule.after]))
    sealed = [
        SealedRule(
            before=words(rule.before),
            after=words(rule.after),
            reason=_reason(rule),
            critical=rule.safety_critical,
            mistake=_BY_REASON.get(rule.reason),
        )
        for rule in rules
    ]
    reasons = dict.fromkeys(rule.reason for rule in needed if rule.safety_critical and not rule.through)
    how = f"Every order that keeps the rules is right. What guards people here: {' '.join(reasons)}"
    return basis.by_rules([words(step) for step in right], sealed, how=how)


def _needed(rules: Sequence[Precedence]) -> tuple[Precedence, ...]:
    """Return the rules without those that run by way of steps left out and follow from two dangerous ones."""
    deadly = {(rule.before, rule.after) for rule in rules if rule.safety_critical}
    between = {step for pair in deadly for step in pair}
    return tuple(
        rule
        for rule in rules
        if not rule.through
        or not any((rule.before, step) in deadly and (step, rule.after) in deadly for step in between)
    )


def _reason(rule: Precedence) -> str:
    """Return a rule's reason; where it is about a step that is left out, that step comes first."""
    if not rule.through:
        return rule.reason
    stated = {(one.before, one.after): one.reason for one in precedence()}
    of_the_first = stated.get((rule.before, rule.through[0])) == rule.reason
    left_out = rule.through[0] if of_the_first else rule.through[-1]
    return f"Left out between them here: '{words(left_out)}'. {rule.reason}"
