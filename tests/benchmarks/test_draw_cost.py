"""What drawing a case takes, against reading a JSON file of one megabyte."""

from __future__ import annotations

import importlib.util
import json
import statistics
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from brakecourse.bench import cases


def records() -> list[dict[str, object]]:
    """Readings as a workshop might store them: about 200 bytes each."""
    return [
        {
            "id": number,
            "wheel": ("front left", "front right", "rear left", "rear right")[number % 4],
            "thickness_mm": [round(24 - (number * place) % 97 / 100, 2) for place in range(1, 9)],
            "run_out_mm": round(number % 13 / 100, 2),
            "kept": number % 3 == 0,
            "note": "mid-track, all nuts seated" if number % 2 else None,
        }
        for number in range(5860)
    ]


@pytest.fixture
def megabyte(tmp_path: Path) -> Path:
    path = tmp_path / "records.json"
    path.write_text(json.dumps(records()), encoding="utf-8")
    assert 0.95e6 < path.stat().st_size < 1.05e6
    return path


def load(path: Path) -> object:
    with path.open(encoding="utf-8") as file:
        return json.load(file)


def draws() -> list[Any]:
    """What there is to draw: a rotor's case, and a whole vehicle once the course has one."""
    found = [pytest.param(cases.draw_case, id="draw_case")]
    if importlib.util.find_spec("brakecourse.bench.vehicle_cases"):
        from brakecourse.bench import vehicle_cases

        found.append(pytest.param(vehicle_cases.draw_vehicle, id="draw_vehicle"))
    return found


@pytest.mark.parametrize("draw", draws())
def test_the_cost_of_drawing_a_case(
    draw: Callable[[int], Any], megabyte: Path, timed: Any, tell: Callable[[str], None]
) -> None:
    rounds, theirs, seeds = 60, [], iter(range(1000))
    draw(1000)
    load(megabyte)  # tables and files are read once, before the clock starts

    def between() -> tuple[tuple[int], dict[str, Any]]:
        begun = time.perf_counter()
        load(megabyte)
        theirs.append(time.perf_counter() - begun)
        return (next(seeds),), {}

    timed.pedantic(draw, setup=between, rounds=rounds)
    ours, reading = timed.stats.stats.median, statistics.median(theirs)
    assert ours > 0 and reading > 0 and len(theirs) == rounds
    timed.extra_info["ratio"] = ours / reading
    tell(
        f"{draw.__name__}: {1000 * ours:.2f} ms; reading 1 MB of JSON: {1000 * reading:.2f} ms; "
        f"ratio {ours / reading:.2f} (wished: below 1)"
    )
