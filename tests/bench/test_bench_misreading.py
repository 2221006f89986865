"""Simulated readers: the skilled are right, slips are as frequent as stated, habits strike where they can."""

from __future__ import annotations

from collections import Counter

import pytest
from brakecourse.bench.draw import Draw
from brakecourse.bench.gauges import boxed_micrometer, dial_indicator
from brakecourse.bench.misreading import HABIT_SHARE, MOST_SLIPS, Reader
from brakecourse.bench.shop_gauges import GAUGES
from hypothesis import given
from hypothesis import strategies as st

GAUGE, DIAL = boxed_micrometer(0), dial_indicator()
PLAIN, PAST_HALF, JUST_PAST_LINE = 22.271, 22.771, 22.019
TIMES = 4000


def readings(reader: Reader, indication: float) -> Counter[float]:
    draw = Draw(8)
    return Counter(reader.read_micrometer(indication, GAUGE, draw) for _ in range(TIMES))


@given(st.floats(1, 24), st.floats(-1, 1), st.integers(0, 10**9))
def test_a_master_without_habits_is_always_right(size: float, travel: float, seed: int) -> None:
    master = Reader(1.0)
    assert master.read_micrometer(size, GAUGE, Draw(seed)) == GAUGE.reading(size)
    assert master.read_dial(travel, DIAL, Draw(seed)) == DIAL.reading(travel)


@given(st.floats(1, 24), st.floats(0, 1), st.integers(0, 10**9))
def test_whatever_is_read_is_a_line_of_the_scale(size: float, skill: float, seed: int) -> None:
    reader = Reader(skill, frozenset({"half_millimetre_line", "ten_times"}))
    read = reader.read_micrometer(size, GAUGE, Draw(seed))
    assert read == round(read, 2)


@pytest.mark.parametrize("skill", [0.0, 0.5, 0.9])
def test_slips_are_as_frequent_as_stated(skill: float) -> None:
    wrong = 1 - readings(Reader(skill), PLAIN)[22.27] / TIMES
    assert wrong == pytest.approx(MOST_SLIPS * (1 - skill), abs=0.02)


def test_most_slips_are_one_line_and_some_a_numeral() -> None:
    found = readings(Reader(0.0), PLAIN)
    one_line = found[22.26] + found[22.28]
    numeral = found[22.22] + found[22.32] + found[22.17] + found[22.37]
    assert one_line > 2 * numeral > 0
    assert one_line + numeral + found[22.27] == TIMES


def test_beside_a_sleeve_line_a_slip_is_often_half_a_millimetre() -> None:
    found = readings(Reader(0.0), JUST_PAST_LINE)
    assert found[21.52] / TIMES == pytest.approx(MOST_SLIPS / 2, abs=0.02)


@pytest.mark.parametrize(
    ("indication", "misread"), [(PAST_HALF, 22.27), (JUST_PAST_LINE, 21.52), (22.479, 22.98)]
)
def test_the_half_millimetre_habit_strikes_where_the_sleeve_misleads(
    indication: float, misread: float
) -> None:
    found = readings(Reader(1.0, frozenset({"half_millimetre_line"})), indication)
    assert found[misread] / TIMES == pytest.approx(HABIT_SHARE, abs=0.02)
    assert found[misread] + found[GAUGE.reading(indication)] == TIMES


def test_the_half_millimetre_habit_does_nothing_where_no_line_misleads() -> None:
    assert readings(Reader(1.0, frozenset({"half_millimetre_line"})), PLAIN) == {22.27: TIMES}


def test_the_decimal_habit_strikes_only_where_the_thimble_has_one_digit() -> None:
    habit = Reader(1.0, frozenset({"ten_times"}))
    assert readings(habit, 22.041)[22.4] / TIMES == pytest.approx(HABIT_SHARE, abs=0.02)
    assert readings(habit, PLAIN) == {22.27: TIMES}


def test_the_sign_is_lost_left_of_zero_only() -> None:
    habit, draw = Reader(1.0, frozenset({"wrong_sign"})), Draw(3)
    left = Counter(habit.read_dial(-0.041, DIAL, draw) for _ in range(TIMES))
    assert left[0.04] / TIMES == pytest.approx(HABIT_SHARE, abs=0.02)
    assert {habit.read_dial(0.041, DIAL, draw) for _ in range(200)} == {0.04}


def test_a_habit_that_is_not_about_reading_changes_no_reading() -> None:
    assert readings(Reader(1.0, frozenset({"mean_for_minimum", "on_the_ridge"})), PLAIN) == {22.27: TIMES}


@given(st.floats(1, 24), st.floats(0, 1), st.integers(0, 10**9))
def test_the_same_chance_gives_the_same_reading(size: float, skill: float, seed: int) -> None:
    reader = Reader(skill, frozenset({"half_millimetre_line"}))
    assert reader.read_micrometer(size, GAUGE, Draw(seed)) == reader.read_micrometer(size, GAUGE, Draw(seed))


@pytest.mark.parametrize(
    "make",
    [
        lambda: Reader(-0.1),
        lambda: Reader(1.1),
        lambda: Reader(float("nan")),
        lambda: Reader("good"),  # type: ignore[arg-type]
        lambda: Reader(True),
        lambda: Reader(0.5, {"ten_times"}),  # type: ignore[arg-type]
        lambda: Reader(0.5, frozenset({1})),  # type: ignore[arg-type]
        lambda: Reader(0.5).read_micrometer(float("nan"), GAUGE, Draw(0)),
        lambda: Reader(0.5).read_dial("0.04", DIAL, Draw(0)),  # type: ignore[arg-type]
    ],
)
def test_nonsense_is_refused_in_a_sentence(make: object) -> None:
    with pytest.raises(ValueError, match="must be"):
        make()  # type: ignore[operator]


# --- every gauge, by the general way --------------------------------------------------------------------

EVERY_GAUGE = pytest.mark.parametrize("name", GAUGES)
MIDDLES = {name: (make().scale.start + make().scale.end) / 2 for name, make in GAUGES.items()}


@EVERY_GAUGE
def test_every_gauge_is_read_right_by_a_master(name: str) -> None:
    gauge, draw = GAUGES[name](), Draw(2)
    for _ in range(200):
        shown = gauge.indicate_clear(MIDDLES[name], draw)
        assert Reader(1.0).read(shown, gauge, draw) == gauge.reading(shown)


@EVERY_GAUGE
def test_every_gauge_is_misread_as_often_as_stated(name: str) -> None:
    gauge, draw = GAUGES[name](), Draw(9)
    # Past a number, so that a miscounted line shows; the stopwatch stands past a minute.
    shown = gauge.reading(MIDDLES[name]) + 0.7 * gauge.scale.numbered
    correct = gauge.reading(shown)
    found = Counter(Reader(0.0).read(shown, gauge, draw) for _ in range(TIMES))
    assert 1 - found[correct] / TIMES == pytest.approx(MOST_SLIPS, abs=0.025)
    assert all(gauge.scale.holds(value) for value in found)
    for habit, value in gauge.likely_misreadings(shown).items():
        struck = Counter(Reader(1.0, frozenset({habit})).read(shown, gauge, draw) for _ in range(TIMES))
        assert struck[value] / TIMES == pytest.approx(HABIT_SHARE, abs=0.02)
        assert struck[value] + struck[correct] == TIMES


def test_a_thimble_and_a_dial_are_read_as_they_always_were() -> None:
    # Stored simulated people depend on these very readings: they must not change.
    habits = frozenset({"half_millimetre_line", "ten_times", "wrong_sign"})
    draw = Draw(2024)
    read = [Reader(0.2, habits).read_micrometer(22.019 + step / 13, GAUGE, draw) for step in range(8)]
    read += [Reader(0.2, habits).read_dial(-0.041 + step / 70, DIAL, draw) for step in range(6)]
    assert read[:8] == [21.52, 22.1, 22.17, 22.25, 22.33, 22.4, 22.98, 22.06]
    assert read[8:] == [-0.4, -0.3, -0.1, 0.0, 0.02, 0.3]


def test_the_general_way_refuses_nonsense_too() -> None:
    for bad in (float("nan"), "7", True):
        with pytest.raises(ValueError, match="must be"):
            Reader(0.5).read(bad, GAUGES["pressure_gauge"](), Draw(0))  # type: ignore[arg-type]
