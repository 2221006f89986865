"""Practice tasks: the same everywhere, of the kind that was asked for, and readable."""

from __future__ import annotations

from itertools import islice

import pytest
from brakecourse.bench.gauges import boxed_micrometer
from brakecourse.views.practice import (
    BEFORE,
    LINES,
    MIXED,
    PAST,
    dial_shown_mm,
    dial_turn_mm,
    practice_cases,
    practice_indication_mm,
    practice_setting_mm,
    shaped_cases,
)
from brakecourse.views.rotor_replies import curve_shape

GAUGES = [boxed_micrometer(0), boxed_micrometer(25)]
TASKS = range(200)


@pytest.mark.parametrize("gauge", GAUGES, ids=["0-25", "25-50"])
@pytest.mark.parametrize(("lines", "half"), [(BEFORE, {False}), (PAST, {True}), (MIXED, {False, True})])
def test_readings_are_of_the_asked_kind_clear_and_in_range(gauge, lines, half) -> None:  # type: ignore[no-untyped-def]
    shown = [practice_indication_mm(3, number, lines, gauge) for number in TASKS]
    assert {gauge.parts(one)[1] for one in shown} == half
    assert all(gauge.is_clear(one) for one in shown)
    assert all(gauge.low_mm + 2 < one < gauge.high_mm - 2 for one in shown)
    assert len({gauge.reading(one) for one in shown}) > 150  # not the same few again and again


def test_mixed_readings_often_stand_close_to_a_line_and_the_others_never() -> None:
    gauge = GAUGES[0]

    def near(lines: str) -> int:
        thimble = [gauge.parts(practice_indication_mm(3, number, lines, gauge))[2] for number in TASKS]  # type: ignore[arg-type]
        return sum(line <= 2 or line >= 47 for line in thimble)

    assert near(MIXED) > 60
    assert near(BEFORE) == near(PAST) == 0


def test_an_unknown_kind_of_reading_is_refused_with_the_known_ones() -> None:
    with pytest.raises(ValueError, match="mixed, also near a line"):
        practice_indication_mm(1, 0, "any", GAUGES[0])  # type: ignore[arg-type]


def test_the_same_seed_gives_the_same_practice_and_another_seed_another() -> None:
    # Golden values: they must not change between machines or versions.
    gauge = GAUGES[0]
    assert [practice_setting_mm(1, number, gauge) for number in range(3)] == [12.86, 17.34, 14.18]
    assert [round(practice_indication_mm(1, n, PAST, gauge), 6) for n in range(2)] == GOLDEN_PAST
    assert practice_setting_mm(1, 0, gauge) != practice_setting_mm(2, 0, gauge)


GOLDEN_PAST = [11.77929, 13.649094]


def test_rotors_come_in_the_asked_situations_and_never_run_out() -> None:
    wanted = ("machine for run-out", "replace no metal left to true")
    cases = list(islice(practice_cases(5, situations=wanted), 12))
    assert {case.situation for case in cases} == set(wanted)
    assert len({case.seed for case in cases}) == 12


def test_curves_come_in_both_shapes_and_each_is_clear() -> None:
    shaped = list(islice(shaped_cases(2), 10))
    assert {shape for _, shape in shaped} == {"one hill", "several hills"}
    assert all(curve_shape(case.dial_readings_mm) == shape for case, shape in shaped)


def test_the_needle_stands_at_zero_at_the_chalk_mark_and_a_loose_rotor_swings_more() -> None:
    for case in islice(practice_cases(1), 6):
        assert dial_shown_mm(case, 0, True) == dial_shown_mm(case, 0, False) == 0
        seated, loose = (dial_turn_mm(case, nuts) for nuts in (True, False))
        assert len(seated) == 360
        assert max(loose) - min(loose) > max(seated) - min(seated)
        # The dial turned by hand and the dial read at eight places tell the same rotor.
        eight = case.dial_readings_mm
        assert max(seated) - min(seated) >= max(eight) - min(eight) - 0.015


def test_the_kinds_are_three() -> None:
    assert len(LINES) == 3
