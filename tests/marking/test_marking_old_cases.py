"""A case is judged by what was sealed with it, also after the course has changed."""

from __future__ import annotations

import dataclasses

import pytest
from brakecourse.bench import gauge_base, gauges, situations
from brakecourse.marking import Mark, SealedCase, catalogue, draw_sealed_case, judge, tolerances

MODULE = "08_rotor_measurement"
SECRET = bytes(range(32))


def all_marks(case: SealedCase) -> list[Mark]:
    key = {one.id: one.expected for one in case.questions}
    wrong: dict[str, object] = {
        "8.1": [value + 0.5 for value in case.rotor.readings_mm],
        "8.4": key["8.4"] / 2,  # type: ignore[operator]
        "8.7": 37.0,
    }
    return [
        judge(case, one.id, answers[one.id], answers)
        for answers in (key, {**key, **wrong})
        for one in case.questions
        if one.kind != "written"
    ]


def test_the_bench_may_change(monkeypatch: pytest.MonkeyPatch) -> None:
    stored = draw_sealed_case(MODULE, "s05", SECRET).model_dump_json()
    before = all_marks(SealedCase.model_validate_json(stored))

    monkeypatch.setattr(gauges, "SHOP_LIMIT_FACTOR", 9.0)
    monkeypatch.setattr(gauges, "MICROMETER_REPEATABILITY_MM", 0.02)
    monkeypatch.setattr(situations, "SHARES", {"normal": {"keep": 1.0}})
    monkeypatch.setattr(gauge_base.Gauge, "reading", lambda _self, value: 0.0)
    monkeypatch.setattr(gauges.Micrometer, "misreadings", lambda _self, value: {})

    assert all_marks(SealedCase.model_validate_json(stored)) == before


def test_points_tolerances_and_tables_may_change(monkeypatch: pytest.MonkeyPatch) -> None:
    stored = draw_sealed_case(MODULE, "s05", SECRET).model_dump_json()
    before = all_marks(SealedCase.model_validate_json(stored))

    cheaper = tuple(dataclasses.replace(one, points=1.0) for one in catalogue.questions(MODULE))
    monkeypatch.setattr(catalogue, "questions", lambda _module: cheaper)
    monkeypatch.setattr(tolerances, "reading", lambda _resolution: 5.0)
    monkeypatch.setattr(tolerances, "carried", lambda _resolution: 5.0)

    assert all_marks(SealedCase.model_validate_json(stored)) == before


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
