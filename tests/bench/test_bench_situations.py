"""The rules of a fair case, each on readings made for it."""

from __future__ import annotations

import pytest
from brakecourse.bench.situations import (
    Difficulty,
    has_half_line_trap,
    has_no_half_line,
    is_fair,
    is_telling,
    situation_of,
    suits,
)
from brakecourse.trade.rotor import Instruments, RotorFinding, RotorSpec, verdict

SPEC = RotorSpec(
    nominal_mm=24.0, machine_to_mm=22.8, discard_mm=22.0, max_variation_mm=0.04, max_run_out_mm=0.09
)
# Guard bands of 0.007, 0.008 and 0.009 mm: 1.645 times these.
GAUGES = Instruments(0.007 / 1.645, 0.008 / 1.645, 0.009 / 1.645)


def found(smallest: float, variation: float = 0.02, run_out: float = 0.05) -> RotorFinding:
    return verdict([smallest, smallest + variation], [0.0, run_out], SPEC, GAUGES)


@pytest.mark.parametrize(
    ("finding", "situation"),
    [
        (found(23.0), "keep"),
        (found(23.5, variation=0.07), "machine for variation"),
        (found(23.5, run_out=0.12), "machine for run-out"),
        (found(23.5, variation=0.07, run_out=0.12), "machine for variation"),
        (found(21.9), "replace below discard"),
        (found(22.005), "replace too close to call"),
        (found(21.995), "replace too close to call"),
        (found(22.9, variation=0.07), "replace no metal left to true"),
    ],
)
def test_a_finding_is_the_situation_that_its_deciding_check_makes(
    finding: RotorFinding, situation: str
) -> None:
    assert situation_of(finding) == situation


@pytest.mark.parametrize(
    ("finding", "difficulty", "fair"),
    [
        (found(23.0), "easy", True),
        (found(22.008), "normal", False),  # 1.14 guard bands: beside the switch
        (found(22.006), "normal", False),  # 0.86
        (found(22.005), "normal", True),  # 0.71
        (found(22.0005), "normal", False),  # on the limit
        (found(22.0095), "normal", True),  # 1.36
        (found(22.0095), "easy", False),  # a line less would be on the limit
        (found(22.018), "easy", True),  # a line less still decides
        (found(23.0, variation=0.025), "easy", False),
        (found(23.0, run_out=0.08), "normal", False),
        (found(23.0, run_out=0.075), "easy", False),
        # Trued, 0.12 mm comes off; the smallest reading counts twice, so two lines must be to spare.
        (found(22.975, variation=0.07, run_out=0.08), "normal", False),  # the run-out is beside the switch
        (found(22.940, variation=0.07), "easy", False),  # 0.020 left over: 1.3 lines beyond the guard band
        (found(22.948, variation=0.07), "easy", True),  # 0.028 left over: 2.1 lines
        (found(23.0), "hard", True),  # the variation decides: 2.5 guard bands
        (found(23.0, variation=0.012), "hard", False),  # 3.5 guard bands
    ],
)
def test_a_case_is_fair_by_its_margins(finding: RotorFinding, difficulty: Difficulty, fair: bool) -> None:
    assert is_fair(finding, difficulty) is fair


@pytest.mark.parametrize(
    ("readings", "run_out", "difficulty", "telling"),
    [
        ([23.0, 23.02, 23.01, 23.02], 0.05, "normal", True),
        ([23.0, 23.0, 23.0, 23.0], 0.05, "easy", False),  # smallest, mean and largest are the same
        ([23.0, 23.01, 23.01, 23.0], 0.05, "easy", True),
        ([23.0, 23.01, 23.01, 23.0], 0.05, "normal", False),
        ([23.0, 23.0, 23.0, 23.0, 23.0, 23.02], 0.05, "normal", False),  # the mean is as good as the smallest
        ([23.0, 23.02, 23.01, 23.02], 0.02, "normal", False),  # half of the run-out is as good as the whole
    ],
)
def test_a_case_tells_mistakes_apart(
    readings: list[float], run_out: float, difficulty: Difficulty, telling: bool
) -> None:
    finding = verdict(readings, [0.0, run_out], SPEC, GAUGES)
    assert is_telling(finding, readings, difficulty) is telling


def test_what_stands_beside_a_sleeve_line_is_a_trap() -> None:
    assert has_half_line_trap([22.31, 22.46]) and has_half_line_trap([22.96]) and has_half_line_trap([23.04])
    assert not has_half_line_trap([22.31, 22.44, 22.56, 22.94])
    assert has_no_half_line([22.10, 22.40])
    assert not any(has_no_half_line([22.10, other]) for other in (22.03, 22.47, 22.6, 22.98))


def test_easy_wants_no_trap_and_hard_wants_one() -> None:
    plain, trap = [22.10, 22.40], [22.10, 22.52]
    assert [suits(plain, level) for level in ("easy", "normal", "hard")] == [True, True, False]  # type: ignore[arg-type]
    assert [suits(trap, level) for level in ("easy", "normal", "hard")] == [False, True, True]  # type: ignore[arg-type]
