"""A task on a real vehicle, and a list of plain counts, as the notebook takes them."""

from __future__ import annotations

from brakecourse.workorder import page
from brakecourse.workorder.answers import look_at
from brakecourse.workorder.order import parse

from tests.workorder.conftest import plain_order

ORDER = plain_order()
ORDER["questions"] += [
    {**ORDER["questions"][5], "id": "0.8", "kind": "task", "short": "raise it"},
    {
        **ORDER["questions"][0],
        "id": "0.9",
        "short": "parts",
        "unit": "",
        "low": 0,
        "high": 20,
        "drawings": [],
    },
]
SHEET = parse(ORDER)


def test_a_task_is_shown_and_not_handed_in() -> None:
    problem = look_at(SHEET.questions["0.8"], "done").problem
    assert problem == (
        "0.8 asks for work on a real vehicle, before your instructor's eyes; "
        "show it on a real vehicle; it is not handed in here."
    )


def test_the_page_says_who_marks_a_task() -> None:
    assert "Work on a real vehicle. Your instructor watches and marks it." in page.question(
        SHEET, SHEET.questions["0.8"]
    )


def test_a_list_of_counts_needs_no_unit() -> None:
    assert look_at(SHEET.questions["0.9"], [4, 2, 0]).words == (
        "0.9 is handed in: 4, 2, 0. You may change it and run both cells again."
    )
    problem = look_at(SHEET.questions["0.9"], [4, 2]).problem
    assert problem == "0.9 asks for a list of 3 numbers, each from 0 to 20 (parts); you gave two values."
