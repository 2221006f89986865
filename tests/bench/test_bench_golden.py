"""Golden cases: a seed gives today what it gave when it was first handed out.

Every case given to a class hangs on this. If a change of the bench is meant to change the cases, raise the
course's version and write the file anew, from the repository's top folder:

    python tests/bench/test_bench_golden.py
"""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench.cases import RotorCase, draw_case
from brakecourse.bench.situations import Difficulty

FILE = Path(__file__).with_name("golden_cases.json")
SEEDS = tuple(range(20))
DIFFICULTIES: tuple[Difficulty, ...] = ("easy", "normal", "hard")


def _rounded(value: Any) -> Any:
    """Numbers to a billionth, so that the last digit of a processor's arithmetic does not count."""
    if isinstance(value, float):
        return round(value, 9) + 0.0
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    return [_rounded(item) for item in value] if isinstance(value, (list, tuple)) else value


def told(case: RotorCase) -> dict[str, Any]:
    """Everything that a case tells, and the truth behind it, as plain data."""
    found = {
        "seed": case.seed,
        "difficulty": case.difficulty,
        "vehicle": case.vehicle.key,
        "situation": case.situation,
        "complaint": case.complaint,
        "faults": [{"fault": type(fault).__name__, **asdict(fault)} for fault in case.faults],
        "condition": asdict(case.condition),
        "micrometer": asdict(case.micrometer),
        "dial": asdict(case.dial),
        "thickness_mm": case.thickness_mm,
        "ridge_mm": case.ridge_mm,
        "dial_seated_mm": case.dial_seated_mm,
        "dial_loose_mm": case.dial_loose_mm,
        "readings_mm": case.readings_mm,
        "dial_readings_mm": case.dial_readings_mm,
        "action": case.finding.action,
        "deciding": case.finding.deciding.check,
        "margin_mm": case.finding.deciding.decision.margin,
    }
    plain: dict[str, Any] = _rounded(found)
    return plain


def _stored() -> dict[tuple[int, str], dict[str, Any]]:
    cases = json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else []
    return {(case["seed"], case["difficulty"]): case for case in cases}


@pytest.mark.parametrize("difficulty", DIFFICULTIES)
@pytest.mark.parametrize("seed", SEEDS)
def test_a_seed_gives_the_case_that_it_always_gave(seed: int, difficulty: Difficulty) -> None:
    assert told(draw_case(seed, difficulty=difficulty)) == _stored()[seed, difficulty]


def test_the_stored_cases_are_all_that_are_compared() -> None:
    assert set(_stored()) == {(seed, difficulty) for seed in SEEDS for difficulty in DIFFICULTIES}


def test_the_stored_cases_show_every_situation() -> None:
    assert len({case["situation"] for case in _stored().values()}) == 6


if __name__ == "__main__":
    cases = [told(draw_case(seed, difficulty=level)) for level in DIFFICULTIES for seed in SEEDS]
    text = "[\n" + ",\n".join(json.dumps(case, ensure_ascii=False) for case in cases) + "\n]\n"
    FILE.write_text(text, encoding="utf-8")
    print(f"Wrote {len(cases)} cases to {FILE.name}.")
