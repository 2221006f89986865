"""Orders of work: scored by what must come first, or by the orders that are sound."""

from __future__ import annotations

import itertools

import pytest
from brakecourse.marking import Mark, SealedCase, basis, judge
from brakecourse.marking.basis import ARROW, Basis
from brakecourse.marking.sealed import SealedQuestion, SealedRule

STEPS = ("Chock the wheels.", "Lift it.", "Set it on stands.", "Take the wheel off.", "Measure.")
CHOCK, LIFT, STANDS, WHEEL, MEASURE = STEPS
RULES = (
    SealedRule(before=CHOCK, after=LIFT, reason="It may roll off the jack.", critical=True),
    SealedRule(before=LIFT, after=STANDS, reason="Stands go under what is lifted."),
    SealedRule(before=STANDS, after=WHEEL, reason="A jack alone can sink.", critical=True),
    SealedRule(before=WHEEL, after=MEASURE, reason="It hides the rotor.", mistake="nuts_not_seated"),
)
HOW = "Safe first, then the work."


def asking(case: SealedCase, right: Basis) -> SealedCase:
    """Return the case with one more question, 8.42, an order of work for 4 marks."""
    asked = SealedQuestion(
        id="8.42", kind="sequence", unit="", points=4, lesson="Lesson 08, part 1: the start",
        expected=right.expected, how=right.how, accepted=right.accepted, rules=right.rules,
        steps=right.steps, mistakes=right.mistakes,
    )  # fmt: skip
    return case.model_copy(update={"questions": (*case.questions, asked)})


@pytest.fixture
def by_rules(case: SealedCase) -> SealedCase:
    return asking(case, basis.by_rules(STEPS, RULES, how=HOW))


@pytest.fixture
def by_orders(case: SealedCase) -> SealedCase:
    other = (CHOCK, LIFT, STANDS, MEASURE, WHEEL)
    wrong = ("half_of_total", (LIFT, CHOCK, STANDS, WHEEL, MEASURE))
    return asking(case, basis.by_orders((STEPS, other), [wrong], how=HOW))


def mark_of(case: SealedCase, *steps: str) -> Mark:
    return judge(case, "8.42", list(steps), {})


def test_every_order_is_scored_by_the_rules_it_breaks(by_rules: SealedCase) -> None:
    """All 120 orders, counted here: a dangerous one earns nothing, each other broken rule costs a quarter."""
    for steps in itertools.permutations(STEPS):
        broken = [one for one in RULES if steps.index(one.before) > steps.index(one.after)]
        lost = 4 if any(one.critical for one in broken) else len(broken)
        mark = mark_of(by_rules, *steps)
        assert mark.points == 4 - lost
        assert mark.status == ("right" if lost == 0 else "wrong" if lost == 4 else "partly right")
        assert mark.given == ARROW.join(steps)


def test_a_dangerous_order_is_told_first_and_why(by_rules: SealedCase) -> None:
    mark = mark_of(by_rules, LIFT, CHOCK, MEASURE, STANDS, WHEEL)
    assert (mark.points, mark.status) == (0, "wrong")
    assert mark.words.startswith(
        "This order is dangerous, so it earns no marks. 'Chock the wheels' must come before 'Lift it'. "
        "It may roll off the jack. 'Take the wheel off' must come before 'Measure'. It hides the rotor."
    )


def test_a_rule_that_hurts_nobody_costs_a_part_and_names_its_mistake(by_rules: SealedCase) -> None:
    mark = mark_of(by_rules, CHOCK, LIFT, STANDS, MEASURE, WHEEL)
    assert (mark.points, mark.status, mark.mistake) == (3, "partly right", "nuts_not_seated")
    assert mark.words.startswith("'Take the wheel off' must come before 'Measure'. It hides the rotor.")
    assert "dangerous" not in mark.words and mark.words.endswith("It earns a part of the marks.")
    assert mark.how == HOW and mark.lesson and mark.tolerance == "any order that keeps the rules"


def test_many_broken_rules_are_not_all_told(case: SealedCase) -> None:
    rules = tuple(
        SealedRule(before=a, after=b, reason=f"Reason {a}") for a, b in itertools.combinations(STEPS, 2)
    )
    mark = mark_of(asking(case, basis.by_rules(STEPS, rules, how=HOW)), *reversed(STEPS))
    assert mark.words.count("must come before") == 3 and "It breaks 7 more rules." in mark.words
    assert (mark.points, mark.status) == (0, "wrong")


def test_each_sound_order_is_right_and_others_are_not(by_orders: SealedCase) -> None:
    assert mark_of(by_orders, *STEPS).status == "right"
    assert mark_of(by_orders, CHOCK, LIFT, STANDS, MEASURE, WHEEL).points == 4
    named = mark_of(by_orders, LIFT, CHOCK, STANDS, WHEEL, MEASURE)
    assert (named.points, named.mistake, named.status) == (2, "half_of_total", "partly right")
    other = mark_of(by_orders, *reversed(STEPS))
    assert (other.points, other.mistake, other.status) == (0, None, "wrong")
    assert other.tolerance == "one of 2 sound orders" and other.expected == ARROW.join(STEPS)


def test_what_is_no_order_of_the_steps_is_told(by_rules: SealedCase) -> None:
    for strange in ([1, 2, 3, 4, 5], list(STEPS[:4]), [*STEPS[:4], CHOCK], "Lift it.", {"a": 1}, [[]] * 5):
        mark = judge(by_rules, "8.42", strange, {})
        assert (mark.points, mark.status) == (0, "not readable")
        assert "the question asks for the numbers of the 5 listed steps, each once." in mark.words
    assert judge(by_rules, "8.42", [None] * 5, {}).status == "no answer"


def test_a_right_order_that_breaks_its_own_rule_is_refused() -> None:
    with pytest.raises(ValueError, match="keeps every rule"):
        basis.by_rules((LIFT, CHOCK), RULES[:1], how=HOW)
    with pytest.raises(ValueError, match="names each step once"):
        basis.by_rules((LIFT, LIFT), (), how=HOW)
