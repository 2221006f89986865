"""Each module's cases are fair, and the marking finds the habits of simulated students: a seeded sample."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable

import pytest
from brakecourse.marking import SealedCase
from brakecourse.marking.paper import paper
from scipy import stats

from tests.marking import study

pytestmark = pytest.mark.slow

COUNT, SAT_AT, SITTINGS = 50, 10, 10
CasesOf = Callable[[str, int], list[SealedCase]]


def test_situations_come_with_their_stated_shares(module: str, cases_of: CasesOf) -> None:
    """Exact binomial test (scipy), each situation on its own, at one in a thousand."""
    seen = Counter(case.truth["situation"] for case in cases_of(module, COUNT))
    for situation, share in paper(module).shares.items():
        assert stats.binomtest(seen[situation], COUNT, share).pvalue > 0.001, (situation, seen)


def test_no_two_students_share_all_answers(module: str, cases_of: CasesOf) -> None:
    some = cases_of(module, COUNT)
    assert len({json.dumps([one.expected for one in case.questions]) for case in some}) == COUNT


def test_habits_are_named_and_right_answers_are_right(module: str, cases_of: CasesOf) -> None:
    """At least 95 % of the mistakes that made an answer wrong, and under 1 % of right answers refused."""
    some = cases_of(module, COUNT)
    found = study.recovery(some, study.usual_habits(some))
    assert found.committed >= 20 and found.right >= 100
    assert found.named >= 0.95 * found.committed, found.confusion
    assert found.refused < 0.01 * found.right, found.confusion


def test_no_case_is_much_harder_than_another(module: str, cases_of: CasesOf) -> None:
    some = cases_of(module, COUNT)
    assert study.spread(some[:SAT_AT], study.usual_habits(some), SITTINGS) < study.MOST_SPREAD
