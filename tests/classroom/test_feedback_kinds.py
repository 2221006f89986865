"""The page that goes back, for orders of work and for tables: each is shown as a person reads it."""

from __future__ import annotations

from datetime import UTC, datetime
from types import SimpleNamespace
from typing import Any

import pytest
from brakecourse.classroom import feedback
from brakecourse.marking import SealedCase, basis, draw_sealed_case, judge
from brakecourse.marking.basis import Basis
from brakecourse.marking.sealed import SealedMistake, SealedQuestion, SealedRule
from bs4 import BeautifulSoup

MODULE = "08_rotor_measurement"
STEPS = ("Chock the wheels.", "Lift it.", "Set it on <stands>.")
RULE = SealedRule(before=STEPS[0], after=STEPS[1], reason="It may roll off the jack.", critical=True)


@pytest.fixture(scope="module")
def case() -> SealedCase:
    return draw_sealed_case(MODULE, "s01", bytes(range(32)))


def page_of(
    case: SealedCase, kind: str, right: Basis, answer: object, unit: str = "", labels: tuple[str, ...] = ()
) -> BeautifulSoup:
    """Return the page of somebody who was asked one thing more than module 08 asks: question 8.42."""
    asked = SealedQuestion(
        id="8.42", kind=kind, unit=unit, points=4, lesson="Lesson 08, part 1: the start",
        expected=right.expected, how=right.how, accepted=right.accepted, rules=right.rules,
        steps=right.steps, mistakes=right.mistakes, tolerance=right.tolerance, shown=right.shown,
        tolerance_carried=right.carried, places=right.places,
    )  # fmt: skip
    listed = {"id": "8.42", "drawings": [], "labels": list(labels)}
    case = case.model_copy(
        update={"questions": (asked,), "order": {**case.order, "questions": [listed]}},
    )
    mark = SimpleNamespace(**vars(judge(case, "8.42", answer, {})), answer=answer)
    question = SimpleNamespace(id="8.42", short="the thing", points=4, by_hand=False, task=False)
    result = SimpleNamespace(
        question=question, mark=mark, points=mark.points, hand_points=None, status=mark.status, comment=""
    )
    record = SimpleNamespace(
        student_id="s01", first_name="Amara", last_name="Quillstone", module=MODULE, status="graded",
        final_score=mark.points, raw_score=mark.points, max_score=4, late_penalty=0, days_late=0, why="",
        waiting_questions=(), healed=(), handed_in_at=datetime(2026, 3, 2, tzinfo=UTC),
    )  # fmt: skip
    settings = SimpleNamespace(
        name="Evening class", term="", zone=UTC, timezone="UTC", due_utc=lambda _module: None
    )
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(feedback, "read_case", lambda *_: SimpleNamespace(case=case))
        whole: Any = SimpleNamespace(record=record, questions=(result,))
        html = feedback.page(SimpleNamespace(settings=settings), whole)  # type: ignore[arg-type]
    return BeautifulSoup(html, "html.parser")


def words(soup: Any) -> str:
    return " ".join(soup.get_text(" ").split())


def test_an_order_of_work_is_two_numbered_lists(case: SealedCase) -> None:
    right = basis.by_rules(STEPS, (RULE,), how="Safe first.")
    soup = page_of(case, "sequence", right, [STEPS[1], STEPS[0], STEPS[2]])
    given, expected = soup.select(".orders > div")
    assert [item.get_text() for item in given.select("ol > li")] == [STEPS[1], STEPS[0], STEPS[2]]
    assert [item.get_text() for item in expected.select("ol > li")] == list(STEPS)
    assert words(given.h3) == "Your order" and words(expected.h3) == "One right order"
    assert "Right is any order that keeps the rules." in words(expected)
    assert "This order is dangerous, so it earns no marks." in words(soup.select_one(".said"))
    assert "→" not in words(soup.article) and soup.find("stands") is None


def test_the_only_sound_order_is_called_the_right_one(case: SealedCase) -> None:
    soup = page_of(case, "sequence", basis.by_orders((STEPS,), how="So."), list(STEPS))
    assert words(soup.select(".orders h3")[1]) == "The right order"
    assert "Right, 4 of 4 points" in words(soup.article)


def test_an_order_that_cannot_be_read_is_shown_as_it_came(case: SealedCase) -> None:
    soup = page_of(case, "sequence", basis.by_orders((STEPS,), how="So."), [1, 2])
    assert not soup.select(".orders")
    assert "You gave 1, 2" in words(soup.select_one(".pair"))


def test_a_table_without_drawings_has_labelled_columns_and_each_its_tolerance(case: SealedCase) -> None:
    half = SealedMistake(mistake="half_of_total", value=60.0, tolerance=1.0, place=2)
    right = basis.table((12.0, 120.0), (0.5, 3.0), (half,), how="So it is.", places=0)
    soup = page_of(case, "table", right, [12.4, 60], "kN", ("Front axle", "rear axle"))
    heads = [words(one) for one in soup.select("table.values thead th")]
    assert heads == ["Place", "You gave", "Expected", "It may be off by", "How it fared"]
    rows = [
        [words(one) for one in row.find_all(["th", "td"])] for row in soup.select("table.values tbody tr")
    ]
    front, rear = rows
    assert front[:3] == ["Front axle", "12.4 kN", "12 kN"] and front[4] == "right"
    assert rear[:3] == ["Rear axle", "60 kN", "120 kN"] and rear[4] == "wrong"
    assert front[3].startswith("0.5 kN (") and rear[3].startswith("3.0 kN (")
    assert "The gauge shows" not in words(soup.article)
    assert "At place 2: " in words(soup.select_one(".said"))


def test_one_tolerance_for_all_is_said_once(case: SealedCase) -> None:
    right = basis.table((12.0, 120.0), 0.5, how="So it is.", places=0)
    soup = page_of(case, "table", right, [12, None], "kN", ("front", "rear"))
    assert [words(one) for one in soup.select("table.values thead th")][3] == "How it fared"
    assert "Each value may be off by 0.5 kN (" in words(soup.select_one(".said"))
    assert "no number" in words(soup.select("table.values tbody tr")[1])
