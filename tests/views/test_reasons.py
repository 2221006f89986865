"""The quiz about a rotor: every wrong choice hears a reason from that rotor's own readings."""

from __future__ import annotations

from typing import get_args

import pytest
from brakecourse.bench.cases import RotorCase, draw_case
from brakecourse.bench.situations import Difficulty, Situation
from brakecourse.trade.rotor import Action
from brakecourse.views.reasons import decision_reply, evidence
from brakecourse.views.words import mm

CASES = [
    draw_case(seed, difficulty=difficulty)
    for difficulty in get_args(Difficulty)
    for seed in range(7000, 7040)
]
# Which check a choice must hear about, by what is the matter with the rotor.
HEARS: dict[Situation, dict[Action, str]] = {
    "keep": {"machine": "Nothing needs truing", "replace": "smallest thickness"},
    "machine for variation": {"keep": "thickness variation", "replace": "left after truing"},
    "machine for run-out": {"keep": "total run-out", "replace": "left after truing"},
    "replace below discard": {"keep": "discard thickness", "machine": "discard thickness"},
    "replace no metal left to true": {"keep": "cannot go back", "machine": "machine-to thickness"},
    "replace too close to call": {"keep": "proves nothing", "machine": "proves nothing"},
}


def test_the_cases_cover_every_situation() -> None:
    assert {case.situation for case in CASES} == set(get_args(Situation)) == set(HEARS)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.difficulty}-{case.seed}")
def test_one_action_is_right_and_the_others_hear_why_not(case: RotorCase) -> None:
    replies = {action: decision_reply(action, case.finding) for action in get_args(Action)}
    assert [action for action, reply in replies.items() if reply.right] == [case.finding.action]
    for action, reply in replies.items():
        if reply.right:
            assert reply.words.startswith(f"Right: {action} it.")
            assert case.finding.deciding.words in reply.words
        else:
            assert reply.words.startswith(f"Not {action}.")
            assert HEARS[case.situation][action] in reply.words, (case.situation, action, reply.words)
            assert "Right" not in reply.words


def test_evidence_gives_found_limit_and_guard_band_but_leaves_the_last_step_to_the_learner() -> None:
    case = CASES[0]
    rows = evidence(case.finding, case.spec)
    assert [len(row) for row in rows] == [4] * 5
    assert rows[1][1] == mm(case.finding.smallest_mm) and mm(case.spec.discard_mm) in rows[1][2]
    assert rows[4][1] == "work it out" and mm(case.spec.machine_to_mm) in rows[4][2]
    assert all("mm" in row[3] for row in rows[1:])
