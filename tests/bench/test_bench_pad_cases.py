"""Pads of one wheel: every situation can be drawn, shows what it is to show, and nothing else."""

from __future__ import annotations

import pytest
from brakecourse.bench.pad_cases import CORNERS, MARGINS, draw_pad_case
from brakecourse.bench.pad_situations import CAUSES, CLOSE, PATTERNS, SITUATIONS, marks_of
from brakecourse.bench.situations import Difficulty
from brakecourse.trade.pads import classify_wear

pytestmark = pytest.mark.slow

each = pytest.mark.parametrize("situation", SITUATIONS)
DIFFICULTIES: tuple[Difficulty, ...] = ("easy", "normal", "hard")


@each
@pytest.mark.parametrize("difficulty", DIFFICULTIES)
def test_a_situation_shows_its_own_marks_and_no_others(situation: str, difficulty: Difficulty) -> None:
    for seed in range(6):
        case = draw_pad_case(seed, situation, difficulty)
        assert case.marks == SITUATIONS[situation].marks
        if CLOSE not in case.marks:
            pads = case.condition.pads
            truth = classify_wear(pads.inner, pads.outer, case.limits)
            assert marks_of(truth, pads) == case.marks  # the gauge's error changes no verdict
            low, _ = MARGINS[difficulty]
            assert all(
                abs(one.decision.margin) >= low * one.decision.guard_band for one in case.finding.evidence
            )


@each
def test_the_same_arguments_give_the_same_pads(situation: str) -> None:
    one, again = draw_pad_case(5, situation), draw_pad_case(5, situation)
    assert (one.inner, one.outer, one.vehicle.key, one.wheel) == (
        again.inner,
        again.outer,
        again.vehicle.key,
        again.wheel,
    )
    other = draw_pad_case(6, situation)
    assert (one.inner, one.outer) != (other.inner, other.outer)


def test_degrees_differ_and_every_vehicle_comes() -> None:
    cases = [draw_pad_case(seed, "leading pin") for seed in range(40)]
    tapers = {round(case.inner.trailing_outer_mm - case.inner.leading_outer_mm, 1) for case in cases}
    assert len(tapers) >= 8
    assert len({case.vehicle.key for case in cases}) >= 6


@each
def test_readings_are_lines_of_the_gauge_near_the_true_corners(situation: str) -> None:
    case = draw_pad_case(2, situation)
    for reading, true in ((case.inner, case.condition.pads.inner), (case.outer, case.condition.pads.outer)):
        for shown, corner in zip(reading.corners_mm, true.corners_mm, strict=True):
            assert round(shown * 10) == pytest.approx(shown * 10)
            assert abs(shown - corner) < 0.35


def test_a_part_writes_on_the_pads_as_the_trade_says() -> None:
    """Common practice, no source: dry pins spare the outer pad, a tight clip wears its own end."""
    dry = draw_pad_case(1, "dry pins")
    assert max(dry.inner.corners_mm) < min(dry.outer.corners_mm)
    clip = draw_pad_case(1, "trailing clip").outer
    assert clip.trailing_outer_mm < clip.leading_outer_mm
    loose = draw_pad_case(1, "loose bracket").inner
    assert loose.leading_outer_mm < loose.leading_inner_mm
    pin = draw_pad_case(1, "leading pin")
    assert pin.inner.leading_outer_mm < pin.inner.trailing_outer_mm
    assert pin.outer.trailing_outer_mm < pin.outer.leading_outer_mm


def test_each_pattern_and_cause_has_a_situation() -> None:
    assert {one.pattern for one in SITUATIONS.values()} == set(PATTERNS)
    assert {one.cause for one in SITUATIONS.values()} == set(CAUSES)
    assert len(CORNERS) == 4


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((-1, "sound"), "seed"),
        ((1, "nonsense"), "situation must be one of"),
        ((1, "sound", "severe"), "difficulty must be"),
        ((1, "sound", "easy", "tank"), "vehicle must be one of"),
    ],
)
def test_what_is_no_case_is_refused(arguments: tuple[object, ...], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        draw_pad_case(*arguments)  # type: ignore[arg-type]
