"""A case is judged by what was sealed with it, also after the course has changed."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

import pytest
from brakecourse.bench import gauge_base, gauges, situations
from brakecourse.bench.draw import Draw
from brakecourse.marking import Mark, SealedCase, catalogue, judge, judge_all, tolerances
from brakecourse.marking.sealed import BY_HAND
from brakecourse.marking.simulated import Student

SECRET = bytes(range(32))


def all_marks(case: SealedCase) -> list[Mark]:
    """Judge the key, and what people of every ability with every habit hand in."""
    habits = sorted({one.mistake for question in case.questions for one in question.mistakes})
    people = [Student(0.2), *(Student(0.7, frozenset({habit})) for habit in habits[:8])]
    return [
        mark
        for number, person in enumerate(people)
        for mark in judge_all(case, person.answers(case, Draw(number))).values()
    ]


def test_the_bench_may_change(
    module: str, full_case: Callable[[str], SealedCase], monkeypatch: pytest.MonkeyPatch
) -> None:
    stored = full_case(module).model_dump_json()
    before = all_marks(SealedCase.model_validate_json(stored))

    monkeypatch.setattr(gauges, "SHOP_LIMIT_FACTOR", 9.0)
    monkeypatch.setattr(gauges, "MICROMETER_REPEATABILITY_MM", 0.02)
    monkeypatch.setattr(situations, "SHARES", {"normal": {"keep": 1.0}})
    monkeypatch.setattr(gauge_base.Gauge, "reading", lambda _self, value: 0.0)
    monkeypatch.setattr(gauges.Micrometer, "misreadings", lambda _self, value: {})

    assert all_marks(SealedCase.model_validate_json(stored)) == before


def test_points_tolerances_and_tables_may_change(
    module: str, full_case: Callable[[str], SealedCase], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was sealed decides, also for readings, whose tolerance is never worked out again."""
    case = full_case(module)
    stored = case.model_dump_json()
    alone = [one.id for one in case.questions if one.kind not in BY_HAND and not one.carries_from]
    answers = Student(0.3).answers(case, Draw(4))

    def marks() -> list[Mark]:
        read = SealedCase.model_validate_json(stored)
        return [*judge_all(read, {}).values(), *(judge(read, one, answers[one], {}) for one in alone)]

    before = marks()
    cheaper = tuple(dataclasses.replace(one, points=1.0) for one in catalogue.questions(module))
    monkeypatch.setattr(catalogue, "questions", lambda _module: cheaper)
    monkeypatch.setattr(tolerances, "reading", lambda _resolution: 5.0)
    monkeypatch.setattr(tolerances, "rounded", lambda _resolution: 5.0)
    monkeypatch.setattr(tolerances, "carried", lambda _resolution: 5.0)

    assert marks() == before


def test_a_mistake_that_is_no_longer_in_the_table_stops_nothing(case: SealedCase) -> None:
    text = case.model_dump_json().replace('"half_of_total"', '"an_older_name"')
    old = SealedCase.model_validate_json(text)
    expected = old.question("8.4").expected  # type: ignore[union-attr]
    mark = judge(old, "8.4", expected / 2, {})  # type: ignore[operator]
    assert (mark.mistake, mark.points, mark.status) == ("an_older_name", 0, "wrong")
    assert mark.words and mark.lesson


def test_the_version_that_drew_it_is_written_down(case: SealedCase) -> None:
    import brakecourse

    assert case.course_version == brakecourse.__version__
    assert case.work_order()["course_version"] == brakecourse.__version__
