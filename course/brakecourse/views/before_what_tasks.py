"""Draw questions about what must come before what: pure functions over the trade's job order."""

from __future__ import annotations

from collections.abc import Sequence

from brakecourse.bench.draw import Draw
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.job_order import (
    Operation,
    Precedence,
    implied_pairs,
    operations,
    precedence,
    violations_of,
)
from brakecourse.views.board_rules import DANGER
from brakecourse.views.job_boards import short
from brakecourse.views.quiz import Task

LIFT, APART, MEASURE, LEAVE = (
    "before the lift",
    "taking it apart",
    "cleaning and measuring",
    "before it leaves",
)
TOPICS = (LIFT, APART, MEASURE, LEAVE)
_PHASES = {
    LIFT: ("before the lift",),
    APART: ("wheel off", "taking apart"),
    MEASURE: ("cleaning and measuring", "putting together"),
    LEAVE: ("before it moves", "road and record"),
}
EITHER = "either one: no rule ties them"
# How often a question has no rule between its two steps, and how often it asks for the reason.
_FREE: dict[Difficulty, float] = {"easy": 0.0, "normal": 0.2, "hard": 0.35}
_WHY: dict[Difficulty, float] = {"easy": 0.0, "normal": 0.35, "hard": 0.35}


def before_what_task(topic: str, difficulty: Difficulty, draw: Draw) -> Task:
    """Return a question about two steps of the brake job.

    Args:
        topic: one of :data:`TOPICS`: the part of the job that the later step belongs to.
        difficulty: easier questions are about dangerous slips; harder ones mix in steps that no rule ties.
        draw: chance.
    """
    steps = {step.id: step for step in operations()}
    later = [step for step in steps.values() if step.phase in _PHASES[topic]]
    kind = draw.uniform()
    if kind < _FREE[difficulty]:
        return _free(topic, later, draw)
    rules = [rule for rule in precedence() if steps[rule.after] in later]
    rule = draw.choice([one for one in rules if one.safety_critical] if difficulty == "easy" else rules)
    if kind < _FREE[difficulty] + _WHY[difficulty]:
        return _why(topic, rule, steps, draw)
    return _which(topic, rule, steps, draw)


def _which(topic: str, rule: Precedence, steps: dict[str, Operation], draw: Draw) -> Task:
    first, last = short(steps[rule.before]), short(steps[rule.after])
    found = violations_of([rule.after, rule.before], precedence())[0]
    wrong = f"“{first}” comes first. {found.reason}{f' {DANGER}' if found.safety_critical else ''}"
    reasons = {
        first: rule.reason,
        last: wrong,
        EITHER: f"There is a rule. {wrong}",
    }
    shown = tuple(draw.shuffled([first, last]))
    return Task(
        topic, "Which of the two comes first?", (*shown, EITHER), first, reasons, case=_cards(rule, draw)
    )


def _why(topic: str, rule: Precedence, steps: dict[str, Operation], draw: Draw) -> Task:
    first, last = short(steps[rule.before]), short(steps[rule.after])
    # A rule about one of the same steps may give a reason that would do here too.
    asked = {rule.before, rule.after}
    others = [
        one for one in precedence() if not asked & {one.before, one.after} and one.reason != rule.reason
    ]
    wrong = {one.reason: one for one in draw.shuffled(others)}
    reasons = {rule.reason: "That is why."}
    for reason, one in list(wrong.items())[:2]:
        reasons[reason] = (
            f"That is why “{short(steps[one.before])}” comes before “{short(steps[one.after])}”. "
            f"Here: {rule.reason[0].lower()}{rule.reason[1:]}"
        )
    question = f"“{first}” comes before “{last}”. Why?"
    return Task(
        topic, question, tuple(draw.shuffled(list(reasons))), rule.reason, reasons, case=_cards(rule, draw)
    )


def _free(topic: str, later: Sequence[Operation], draw: Draw) -> Task:
    tied = implied_pairs(precedence())
    pairs = [
        (one, other)
        for place, one in enumerate(later)
        for other in later[place + 1 :]
        if (one.id, other.id) not in tied and (other.id, one.id) not in tied
    ]
    if not pairs:  # every step of this part is tied to every other
        steps = {step.id: step for step in operations()}
        rules = [rule for rule in precedence() if steps[rule.after] in later]
        return _which(topic, draw.choice(rules), steps, draw)
    one, other = draw.choice(pairs)
    no_rule = "No rule ties these two: you may begin with either."
    reasons = {short(one): no_rule, short(other): no_rule, EITHER: no_rule}
    shown = tuple(draw.shuffled([one, other]))
    choices = (*(short(step) for step in shown), EITHER)
    cards = tuple((step.id, step.words) for step in shown)
    return Task(topic, "Which of the two comes first?", choices, EITHER, reasons, case=cards)


def _cards(rule: Precedence, draw: Draw) -> tuple[tuple[str, str], ...]:
    both = [(step.id, step.words) for step in operations() if step.id in (rule.before, rule.after)]
    return tuple(draw.shuffled(both))
